"""Gravity against time with the planned end as a dashed rule, temperature below on its own axis."""

from collections.abc import Callable, Sequence

from generator.charts.chart import Chart, Drawing
from generator.charts.drawing import BLUE, HAIR, INK, LINE, QUIET, Pen, decimals, finished, sheet, ticks
from generator.charts.views import Curves, Mark

WIDE, NARROW = 612.0, 328.0
SMALL = 13.0
_LETTER = 7.0
"""More than a letter of a label is wide on the average, px."""
_DOT, _SMALL_DOT = 3.6, 2.4  # the small one leaves its whisker in sight
_LABEL_ROOM = 26.0
"""Free above and below all that is drawn of the gravity, so that a label finds its place, px."""


def thinned(marks: Sequence[Mark], columns: int) -> list[Mark]:
    """At most four marks a pixel column: the first, the lowest, the highest and the last, so no extreme is lost.

    The min-max decimation of plotting practice (Jugel, Jerzak, Hackenbroich and Markl, VLDB 7 (2014) 797: M4; from memory).
    """
    if len(marks) <= 4 * columns:
        return list(marks)
    start, span = marks[0].days, (marks[-1].days - marks[0].days) or 1.0
    kept: dict[int, list[Mark]] = {}
    for mark in marks:
        column = kept.setdefault(min(int((mark.days - start) / span * columns), columns - 1), [])
        column.append(mark)
    thin: list[Mark] = []
    for column in kept.values():
        some = {id(mark): mark for mark in (column[0], min(column, key=lambda m: m.value), max(column, key=lambda m: m.value), column[-1])}
        thin += sorted(some.values(), key=lambda mark: mark.days)
    return thin


def draw(curves: Curves, description: str) -> Chart:
    """The fermentation chart of one batch."""
    return Chart("fermentation", "Gravity and temperature over time", description, _drawing(curves, narrow=False), _drawing(curves, narrow=True))


def _drawing(curves: Curves, *, narrow: bool) -> Drawing:
    width = NARROW if narrow else WIDE
    gravity_height, temperature_height = (184.0, 74.0) if narrow else (226.0, 96.0)
    with_temperature = bool(curves.temperature)
    foot = 38.0 + gravity_height + (52.0 + temperature_height if with_temperature else 0.0)
    pen = sheet(width, foot + 42.0)
    left, right = 46.0, width - (10.0 if narrow else 16.0)
    everything = [*curves.by_hand, *curves.logged, *curves.temperature]
    first, last = min(0.0, *(mark.days for mark in everything)), max(1.0, *(mark.days for mark in everything))

    def x(days: float) -> float:
        return left + (right - left) * (days - first) / (last - first)

    _gravity(pen, curves, x, (38.0, 38.0 + gravity_height), (left, right), narrow=narrow)
    if with_temperature:
        _temperature(pen, curves, x, (foot - temperature_height, foot), (left, right))
    for day in ticks(first, last, 7):
        pen.line([x(day)] * 2, [foot, foot + 4.0], QUIET, HAIR)
        pen.write(x(day), foot + 18.0, f"{day:g}", QUIET, size=SMALL, anchor="center")
    pen.rule(foot, left, right, QUIET)
    pen.write(right, foot + 36.0, "days after pitching", QUIET, size=SMALL, anchor="right")
    return finished(pen)


def _scale(values: list[float], top: float, foot: float, least: float, room: float) -> Callable[[float], float]:
    """From values to heights: the span of the values, at least so much, with so many pixels of room above and below."""
    low, high = min(values), max(values)
    if high - low < least:
        middle = (high + low) / 2.0
        low, high = middle - least / 2.0, middle + least / 2.0
    return lambda value: foot - room - (foot - top - 2.0 * room) * (value - low) / (high - low)


def _grid(pen: Pen, y: Callable[[float], float], values: list[float], ends: tuple[float, float], places: int) -> None:
    for value in values:
        pen.rule(y(value), *ends)
        pen.write(ends[0] - 8.0, y(value) + 4.0, f"{value:.{places}f}", QUIET, size=SMALL, anchor="right")


def _gravity(pen: Pen, curves: Curves, x: Callable[[float], float], box: tuple[float, float], ends: tuple[float, float], *, narrow: bool) -> None:
    values = [mark.value + side * mark.half_width for mark in (*curves.by_hand, *curves.logged) for side in (-1, 1)]
    values += [] if curves.planned_final is None else [curves.planned_final]
    y = _scale(values, *box, 0.010, _LABEL_ROOM)
    low, high = min(values), max(values)
    pen.write(0.0, 14.0, "Gravity, SG 20/20", QUIET, size=SMALL)
    _grid(pen, y, ticks(low, high, 5), ends, 3)
    if curves.planned_final is not None:
        pen.line(list(ends), [y(curves.planned_final)] * 2, INK, 1.1, dashed=True)
    hand = list(curves.by_hand)
    if curves.logged:
        for mark in hand:
            pen.standing_whisker(x(mark.days), y(mark.value - mark.half_width), y(mark.value + mark.half_width))
    elif len(hand) > 1:
        pen.band([x(m.days) for m in hand], [y(m.value + m.half_width) for m in hand], [y(m.value - m.half_width) for m in hand])
    if curves.logged:
        thin = thinned(curves.logged, int(ends[1] - ends[0]))
        pen.line([x(m.days) for m in thin], [y(m.value) for m in thin], QUIET, 1.0)
    else:
        pen.line([x(m.days) for m in hand], [y(m.value) for m in hand], BLUE, LINE)
    for mark in hand:
        pen.dot(x(mark.days), y(mark.value), _SMALL_DOT if curves.logged else _DOT, hollow=mark.estimate)
    _labels(pen, curves, x, y, ends, narrow=narrow)


def _labels(pen: Pen, curves: Curves, x: Callable[[float], float], y: Callable[[float], float], ends: tuple[float, float], *, narrow: bool) -> None:
    hand, plan = curves.by_hand, curves.planned_final
    last = hand[-1] if len(hand) > 1 else None
    end = "" if last is None else f"{last.value:.3f} at the end"
    meant = "" if plan is None else f"planned {plan:.3f}"
    start = ends[1] - _LETTER * max(len(end), len(meant))
    top, foot = _clear_of(curves, x, y, (start, ends[1]))
    end_on_top = last is not None and (plan is None or last.value >= plan)
    if end:
        pen.write(ends[1], top if end_on_top else foot, end, BLUE, size=SMALL, anchor="right")
    if meant:
        pen.write(ends[1], foot if end_on_top else top, meant, INK, size=SMALL, anchor="right")
    if hand:
        first = f"{hand[0].value:.3f}" + ("" if narrow else " into the fermenter")
        left = x(hand[0].days) + 8.0
        if left + _LETTER * len(first) < start:
            pen.write(left, _clear_of(curves, x, y, (left - 8.0, left + _LETTER * len(first)))[0], first, BLUE, size=SMALL)


def _clear_of(curves: Curves, x: Callable[[float], float], y: Callable[[float], float], window: tuple[float, float]) -> tuple[float, float]:
    """Baselines for one label above and one below all that is drawn between two x."""
    heights = [] if curves.planned_final is None else [y(curves.planned_final)]
    for marks in (curves.by_hand, curves.logged):
        for before, mark in zip((None, *marks), marks, strict=False):
            if window[0] - 5.0 <= x(mark.days) <= window[1] + 5.0:
                heights += [y(mark.value + mark.half_width) - 4.0, y(mark.value - mark.half_width) + 4.0]
            if before is not None and x(mark.days) > x(before.days):
                heights += [_height(before, mark, x, y, edge) for edge in window if x(before.days) < edge < x(mark.days)]
    return (min(heights) - 7.0, max(heights) + 16.0) if heights else (14.0, 14.0)


def _height(before: Mark, mark: Mark, x: Callable[[float], float], y: Callable[[float], float], edge: float) -> float:
    """Where the line between two marks crosses an x."""
    share = (edge - x(before.days)) / (x(mark.days) - x(before.days))
    return y(before.value + share * (mark.value - before.value))


def _temperature(pen: Pen, curves: Curves, x: Callable[[float], float], box: tuple[float, float], ends: tuple[float, float]) -> None:
    marks = list(curves.temperature)
    values = [mark.value for mark in marks]
    y = _scale(values, *box, 4.0, 5.0)
    middle = (min(values) + max(values)) / 2.0
    span = max(max(values) - min(values), 4.0)
    marked = ticks(middle - span / 2.0, middle + span / 2.0, 3)
    pen.write(0.0, box[0] - 14.0, "Temperature of the beer, °C", QUIET, size=SMALL)
    _grid(pen, y, marked, ends, decimals(marked))
    thin = thinned(marks, int(ends[1] - ends[0]))
    pen.line([x(m.days) for m in thin], [y(m.value) for m in thin], BLUE, LINE)
    if not curves.temperature_is_logged:
        for mark in marks:
            pen.dot(x(mark.days), y(mark.value))
