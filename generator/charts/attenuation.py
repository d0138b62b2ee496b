"""How fast the gravity dropped: points a day, as steps between readings or as the curve of a logger, under the same days as the gravity."""

from generator.charts import lane
from generator.charts.chart import Chart, Drawing
from generator.charts.drawing import BLUE, LINE, QUIET, Pen, decimals, finished, sheet, ticks
from generator.charts.fermentation import NARROW, WIDE, Scale, columns, days_to_x, ends_of, grid, scale, segments, thinned, time_axis
from generator.charts.views import Pace

SMALL = 13.0
_LEAST = 2.0
"""Points a day that the axis spans at least."""


def draw(pace: Pace, description: str) -> Chart:
    """The chart of the rate of one fermentation."""
    return Chart("rate", "Drop of gravity over time", description, _drawing(pace, narrow=False), _drawing(pace, narrow=True))


def _drawing(pace: Pace, *, narrow: bool) -> Drawing:
    ends = ends_of(narrow=narrow)
    x = days_to_x(pace.span, ends)
    events = lane.placed(pace.reached, x, ends, 4, 20)
    top = max(26.0, 25.0 + lane.height(events))
    foot = top + (88.0 if narrow else 110.0)
    pen = sheet(NARROW if narrow else WIDE, foot + 42.0)
    pen.write(0.0, 14.0, "Drop of gravity, points a day", QUIET, size=SMALL)
    values = [0.0, *(drop.rate + side * drop.half_width for drop in pace.drops for side in (-1, 1)), *(mark.value for mark in pace.logged)]
    y = scale(values, top, foot, _LEAST, 5.0)
    lane.draw(pen, events, top, foot)
    marked = ticks(min(values), max(*values, _LEAST / 2.0), 4)
    grid(pen, y, marked, ends, decimals(marked))
    _steps(pen, pace, x, y)
    for part in segments(pace.logged, pace.gaps):
        thin = thinned(part, columns(part, pace.span))
        pen.line([x(mark.days) for mark in thin], [y(mark.value) for mark in thin], BLUE, LINE)
    time_axis(pen, x, pace.span, ends, foot)
    return finished(pen)


def _steps(pen: Pen, pace: Pace, x: Scale, y: Scale) -> None:
    """One level from each reading to the next: more isn't known."""
    for drop in pace.drops:
        across = [x(drop.first), x(drop.last)]
        pen.band(across, [y(drop.rate + drop.half_width)] * 2, [y(drop.rate - drop.half_width)] * 2)
    points = [(day, drop.rate) for drop in pace.drops for day in (drop.first, drop.last)]
    if points:
        pen.line([x(day) for day, _ in points], [y(rate) for _, rate in points], BLUE, LINE)
