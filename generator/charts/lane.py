"""Events above a chart: a tick and a label each, in as few rows as keep them from one another."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from generator.charts.drawing import HAIR, INK, QUIET, RULE, Pen
from generator.charts.views import Event

SMALL = 13.0
LETTER = 7.0
"""More than a letter of a label is wide on the average, px."""
ROW = 17.0
_GAP, _APART = 4.0, 9.0
"""From a tick to its label, and from a label to the next tick or label, px."""


class Placed(NamedTuple):
    """An event with its place: px from the left, row (0 is nearest to the chart; None where no room was found), and its label."""

    event: Event
    x: float
    row: int | None
    text: str
    to_the_left: bool

    @property
    def ends(self) -> tuple[float, float]:
        """Left and right end of the label, with its tick."""
        wide = LETTER * len(self.text) + _GAP
        return (self.x - wide, self.x) if self.to_the_left else (self.x, self.x + wide)


def shortened(text: str, most: int) -> str:
    """A text cut at a word, so that it has at most so many letters."""
    if len(text) <= most:
        return text
    cut = text[: most - 1].rsplit(" ", 1)[0] if " " in text[: most - 1] else text[: most - 1]
    return cut.rstrip(" ,;:") + "…"


def placed(events: Sequence[Event], x: Callable[[float], float], ends: tuple[float, float], rows: int, letters: int) -> list[Placed]:
    """Every event in one of so many rows, in the fewest that hold them all; what finds no room keeps its tick.

    Args:
        events: in any order.
        x: from days to px.
        ends: left and right end of the chart.
        rows: the most rows.
        letters: the most letters of a label.
    """
    found: list[Placed] = []
    for most in range(1, rows + 1):
        found = _in_rows(events, x, ends, most, letters)
        if all(one.row is not None for one in found):
            break
    return found


def _in_rows(events: Sequence[Event], x: Callable[[float], float], ends: tuple[float, float], rows: int, letters: int) -> list[Placed]:
    """From right to left: a later label never stands in the way of an earlier tick."""
    found: list[Placed] = []
    for event in sorted(events, key=lambda event: -event.days):
        text = shortened(event.text, letters)
        tries = [Placed(event, x(event.days), row, text, to_the_left=False) for row in range(rows)]
        tries += [Placed(event, x(event.days), row, text, to_the_left=True) for row in reversed(range(rows))]
        free = (one for one in tries if one.ends[0] >= ends[0] and one.ends[1] <= ends[1] and not any(_clash(one, other) for other in found))
        found.append(next(free, Placed(event, x(event.days), None, "", to_the_left=False)))
    return found


def _clash(one: Placed, other: Placed) -> bool:
    """Whether two labels touch, or the tick of one goes through the label of the other."""
    if one.row is None or other.row is None:
        return False
    if one.row == other.row:
        return one.ends[0] < other.ends[1] + _APART and other.ends[0] < one.ends[1] + _APART
    low, high = (one, other) if one.row < other.row else (other, one)
    return low.ends[0] - _GAP < high.x < low.ends[1] + _GAP


def height(events: Sequence[Placed]) -> float:
    """Room that the rows take, px."""
    return ROW * (1 + max((one.row for one in events if one.row is not None), default=-1))


def draw(pen: Pen, events: Sequence[Placed], top: float, foot: float) -> None:
    """Ticks on the top of a chart with their hairlines down to its foot, and the labels above.

    Args:
        pen: to draw with.
        events: with their places.
        top: of the chart, px.
        foot: down to where the hairlines go, px.
    """
    for one in events:
        baseline = top - 8.0 - ROW * (one.row or 0)
        pen.line([one.x, one.x], [baseline - 9.0 if one.row is not None else top, foot], RULE, HAIR, dashed=one.event.planned)
        pen.line([one.x, one.x], [top - 4.0, top + 3.0], INK, 1.4)
    for one in events:
        if one.row is not None:
            left = one.x - _GAP if one.to_the_left else one.x + _GAP
            pen.write(
                left,
                top - 8.0 - ROW * one.row,
                one.text,
                QUIET if one.event.planned else INK,
                size=SMALL,
                anchor="right" if one.to_the_left else "left",
            )
