"""One figure of a recipe, batch after batch: planned as an open mark, read as a dot with its doubt."""

from generator.charts.chart import Chart, Drawing
from generator.charts.drawing import INK, QUIET, decimals, finished, sheet, ticks
from generator.charts.views import Dot

WIDE, NARROW = 612.0, 328.0
SMALL = 13.0


def draw(dots: list[Dot], axis: str, description: str) -> Chart:
    """The history chart of one recipe: at least one dot has a value."""
    return Chart("history", f"{axis}, batch after batch", description, _drawing(dots, axis, narrow=False), _drawing(dots, axis, narrow=True))


def _drawing(dots: list[Dot], axis: str, *, narrow: bool) -> Drawing:
    width, height = (NARROW, 250.0) if narrow else (WIDE, 250.0)
    pen = sheet(width, height)
    left, right, top, foot = 46.0, width - 12.0, 36.0, height - 44.0
    values = [value for dot in dots for value in (dot.low, dot.high, dot.plan) if value is not None]
    low, high = min(values), max(values)
    low, high = low - 0.05 * (high - low) - 1e-9, high + 0.05 * (high - low) + 1e-9

    def x(index: int) -> float:
        return left + (right - left) * (index + 0.5) / len(dots)

    def y(value: float) -> float:
        return foot - (foot - top) * (value - low) / (high - low)

    pen.write(0.0, 14.0, axis, QUIET, size=SMALL)
    marked = ticks(low, high, 5)
    for value in marked:
        pen.rule(y(value), left, right)
        pen.write(left - 8.0, y(value) + 4.0, f"{value:.{decimals(marked)}f}", QUIET, size=SMALL, anchor="right")
    every = max(1, round(len(dots) / ((right - left) / 76.0) + 0.49))
    beside = min(11.0, 0.35 * (right - left) / len(dots))
    for index, dot in enumerate(dots):
        if dot.plan is not None:
            pen.plan_mark(x(index) - beside, y(dot.plan), 4.5)
        if dot.value is not None and dot.low is not None and dot.high is not None:
            pen.standing_whisker(x(index), y(dot.low), y(dot.high))
            pen.dot(x(index), y(dot.value), 4.0)
        if index % every == 0 or len(dots) <= 3:
            month, _, year = dot.label.partition(" ")
            pen.write(x(index), foot + 20.0, month, INK if dot.value is not None else QUIET, size=SMALL, anchor="center")
            pen.write(x(index), foot + 36.0, year, QUIET, size=SMALL, anchor="center")
    pen.rule(foot, left, right, QUIET)
    return finished(pen)
