"""Gravity against time with its doubt, the expected end as a dashed rule, events as ticks above, temperature below on its own axis."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from generator.charts import lane
from generator.charts.chart import Chart, Drawing
from generator.charts.drawing import BLUE, HAIR, INK, LINE, QUIET, Pen, decimals, finished, sheet, ticks
from generator.charts.views import Curves, Mark
from generator.science import series

WIDE, NARROW = 612.0, 328.0
SMALL = 13.0
_DOT, _SMALL_DOT = 3.6, 2.6  # the small one leaves its whisker in sight
_LABEL_ROOM = 26.0
"""Free above and below all that is drawn of the gravity, so that a label finds its place, px."""
COLUMNS, _SPIKE_COLUMNS = 90, 15
"""Of a whole chart; of each the extremes are kept. More of them only make the file large: four points in 3 to 7 px."""
Scale = Callable[[float], float]


class Box(NamedTuple):
    """Where the gravity is drawn, px."""

    left: float
    right: float
    top: float
    foot: float


def thinned(marks: Sequence[Mark], most: int) -> list[Mark]:
    """At most four marks a column: the first, the lowest, the highest and the last, so no extreme is lost."""
    if not marks:
        return []
    return [marks[index] for index in series.thinned(np.array([m.days for m in marks]), np.array([m.value for m in marks]), max(most, 1))]


def segments(marks: Sequence[Mark], gaps: Sequence[tuple[float, float]]) -> list[list[Mark]]:
    """Marks parted at the gaps, so that no line is drawn over what nobody knows."""
    found: list[list[Mark]] = [[]]
    for before, mark in zip((None, *marks), marks, strict=False):
        if before is not None and any(before.days < (start + end) / 2.0 <= mark.days for start, end in gaps):
            found.append([])
        found[-1].append(mark)
    return [part for part in found if part]


def columns(part: Sequence[Mark], span: tuple[float, float]) -> int:
    """How many columns a stretch of the chart takes."""
    return max(round(COLUMNS * (part[-1].days - part[0].days) / (span[1] - span[0])), 1)


def draw(curves: Curves, description: str) -> Chart:
    """The fermentation chart of one batch."""
    return Chart("fermentation", "Gravity and temperature over time", description, _drawing(curves, narrow=False), _drawing(curves, narrow=True))


def ends_of(*, narrow: bool) -> tuple[float, float]:
    """Left and right end of the time axis, px."""
    return 46.0, (NARROW if narrow else WIDE) - (10.0 if narrow else 16.0)


def days_to_x(span: tuple[float, float], ends: tuple[float, float]) -> Scale:
    """From days to px."""
    return lambda days: ends[0] + (ends[1] - ends[0]) * (days - span[0]) / (span[1] - span[0])


def time_axis(pen: Pen, x: Scale, span: tuple[float, float], ends: tuple[float, float], foot: float) -> None:
    """Days under a rule."""
    for day in ticks(*span, 7):
        pen.line([x(day)] * 2, [foot, foot + 4.0], QUIET, HAIR)
        pen.write(x(day), foot + 18.0, f"{day:g}", QUIET, size=SMALL, anchor="center")
    pen.rule(foot, *ends, QUIET)
    pen.write(ends[1], foot + 36.0, "days after pitching", QUIET, size=SMALL, anchor="right")


def _drawing(curves: Curves, *, narrow: bool) -> Drawing:
    gravity_height, temperature_height = (164.0, 62.0) if narrow else (220.0, 84.0)
    ends = ends_of(narrow=narrow)
    x = days_to_x(curves.span, ends)
    events = lane.placed(curves.events, x, ends, *((5, 24) if narrow else (4, 34)))
    top = max(38.0, 25.0 + lane.height(events))
    box = Box(*ends, top, top + gravity_height)
    foot = box.foot + (50.0 + temperature_height if curves.temperature else 0.0)
    pen = sheet(NARROW if narrow else WIDE, foot + 42.0)
    lane.draw(pen, events, box.top, foot)
    _gravity(pen, curves, x, box, narrow=narrow)
    if curves.temperature:
        _temperature(pen, curves, x, (foot - temperature_height, foot), ends)
    time_axis(pen, x, curves.span, ends, foot)
    return finished(pen)


def scale(values: list[float], top: float, foot: float, least: float, room: float) -> Scale:
    """From values to heights: the span of the values, at least so much, with so many pixels of room above and below."""
    low, high = min(values), max(values)
    if high - low < least:
        middle = (high + low) / 2.0
        low, high = middle - least / 2.0, middle + least / 2.0
    return lambda value: foot - room - (foot - top - 2.0 * room) * (value - low) / (high - low)


def grid(pen: Pen, y: Scale, values: list[float], ends: tuple[float, float], places: int) -> None:
    """Horizontal rules with their values."""
    for value in values:
        pen.rule(y(value), *ends)
        pen.write(ends[0] - 8.0, y(value) + 4.0, f"{value:.{places}f}".replace("-", "\N{MINUS SIGN}"), QUIET, size=SMALL, anchor="right")


def _gravity(pen: Pen, curves: Curves, x: Scale, box: Box, *, narrow: bool) -> None:
    values = [mark.value + side * mark.half_width for mark in (*curves.by_hand, *curves.logged) for side in (-1, 1)]
    values += [] if curves.planned_final is None else [curves.planned_final]
    y = scale(values, box.top, box.foot, 0.010, _LABEL_ROOM)
    pen.write(0.0, 14.0, "Gravity, SG 20/20", QUIET, size=SMALL)
    grid(pen, y, ticks(min(values), max(values), 5), (box.left, box.right), 3)
    if curves.planned_final is not None:
        pen.line([box.left, box.right], [y(curves.planned_final)] * 2, INK, 1.1, dashed=True)
    hand = list(curves.by_hand)
    if curves.logged:
        _logger(pen, curves, x, y)
        for mark in hand:
            pen.standing_whisker(x(mark.days), y(mark.value - mark.half_width), y(mark.value + mark.half_width))
    elif len(hand) > 1:
        _doubtful(pen, hand, x, y)
    spikes = _spikes(curves, x, y, box)
    for place in spikes:
        pen.spike_mark(*place)
    for mark in hand:
        pen.dot(x(mark.days), y(mark.value), _SMALL_DOT if curves.logged else _DOT, hollow=mark.estimate)
    _labels(pen, curves, x, y, box, spikes, narrow=narrow)


def _doubtful(pen: Pen, marks: Sequence[Mark], x: Scale, y: Scale) -> None:
    """A line within the band of its doubt."""
    xs = [x(mark.days) for mark in marks]
    pen.band(xs, [y(m.value + m.half_width) for m in marks], [y(m.value - m.half_width) for m in marks])
    pen.line(xs, [y(mark.value) for mark in marks], BLUE, LINE)


def _logger(pen: Pen, curves: Curves, x: Scale, y: Scale) -> None:
    for part in segments(curves.logged, curves.gaps):
        _doubtful(pen, thinned(part, columns(part, curves.span)), x, y)


def _spikes(curves: Curves, x: Scale, y: Scale, box: Box) -> list[tuple[float, float]]:
    """Where the spikes are drawn: beyond the drawing at its edge."""
    marks = thinned(curves.spikes, _SPIKE_COLUMNS)
    return [(x(mark.days), min(max(y(mark.value), box.top + 4.0), box.foot)) for mark in marks]


def _labels(pen: Pen, curves: Curves, x: Scale, y: Scale, box: Box, spikes: list[tuple[float, float]], *, narrow: bool) -> None:
    hand, plan = curves.by_hand or curves.logged, curves.planned_final
    last = max((*curves.by_hand[-1:], *curves.logged[-1:]), key=lambda mark: mark.days) if len(curves.by_hand) + len(curves.logged) > 1 else None
    end = "" if last is None else f"{last.value:.3f} at the end"
    meant = "" if plan is None else f"{curves.meant} {plan:.3f}"
    start = box.right - lane.LETTER * max(len(end), len(meant))
    top, foot = _clear_of(curves, x, y, (start, box.right))
    top, foot = _beside(spikes, top, -1.0, (start, box.right), box), _beside(spikes, foot, 1.0, (start, box.right), box)
    end_on_top = last is not None and (plan is None or last.value >= plan)
    if end:
        pen.write(box.right, top if end_on_top else foot, end, BLUE, size=SMALL, anchor="right")
    if meant:
        pen.write(box.right, foot if end_on_top else top, meant, INK, size=SMALL, anchor="right")
    if hand:
        first = f"{hand[0].value:.3f}" + ("" if narrow else " into the fermenter")
        left = x(hand[0].days) + 8.0
        window = (left - 8.0, left + lane.LETTER * len(first))
        if window[1] < start:
            pen.write(left, _beside(spikes, _clear_of(curves, x, y, window)[0], -1.0, window, box), first, BLUE, size=SMALL)


def _beside(spikes: list[tuple[float, float]], baseline: float, side: float, window: tuple[float, float], box: Box) -> float:
    """A baseline moved up or down until no spike lies on the label; as it was where that would leave the drawing."""
    near = [y for x, y in spikes if window[0] - 5.0 <= x <= window[1] + 5.0]
    moved = baseline
    while any(moved - 13.0 < y < moved + 6.0 for y in near):
        moved += side
    return moved if box.top + 9.0 <= moved <= box.foot - 3.0 else baseline


def _clear_of(curves: Curves, x: Scale, y: Scale, window: tuple[float, float]) -> tuple[float, float]:
    """Baselines for one label above and one below all that is drawn between two x."""
    heights = [] if curves.planned_final is None else [y(curves.planned_final)]
    for marks in (curves.by_hand, curves.logged):
        for before, mark in zip((None, *marks), marks, strict=False):
            if window[0] - 5.0 <= x(mark.days) <= window[1] + 5.0:
                heights += [y(mark.value + mark.half_width) - 4.0, y(mark.value - mark.half_width) + 4.0]
            if before is not None and x(mark.days) > x(before.days):
                heights += [_height(before, mark, x, y, edge) for edge in window if x(before.days) < edge < x(mark.days)]
    return (min(heights) - 7.0, max(heights) + 16.0) if heights else (14.0, 14.0)


def _height(before: Mark, mark: Mark, x: Scale, y: Scale, edge: float) -> float:
    """Where the line between two marks crosses an x."""
    share = (edge - x(before.days)) / (x(mark.days) - x(before.days))
    return y(before.value + share * (mark.value - before.value))


def _temperature(pen: Pen, curves: Curves, x: Scale, box: tuple[float, float], ends: tuple[float, float]) -> None:
    marks = list(curves.temperature)
    values = [mark.value for mark in marks]
    y = scale(values, *box, 4.0, 5.0)
    middle = (min(values) + max(values)) / 2.0
    span = max(max(values) - min(values), 4.0)
    marked = ticks(middle - span / 2.0, middle + span / 2.0, 3)
    pen.write(0.0, box[0] - 14.0, "Temperature of the beer, °C", QUIET, size=SMALL)
    grid(pen, y, marked, ends, decimals(marked))
    for part in segments(marks, curves.gaps):
        thin = thinned(part, columns(part, curves.span))
        pen.line([x(m.days) for m in thin], [y(m.value) for m in thin], BLUE, LINE)
    if not curves.temperature_is_logged:
        for mark in marks:
            pen.dot(x(mark.days), y(mark.value))
