"""What moved a figure: a signed bar per cause, ending on the total."""

from generator.charts.chart import Chart, Drawing, signed
from generator.charts.drawing import BLUE, HAIR, INK, MOSS, QUIET, RUBRIC, Pen, finished, sheet, ticks
from generator.charts.views import Effect

WIDE, NARROW = 612.0, 328.0
SMALL = 13.0


def draw(causes: list[Effect], total: Effect, title: str, unit: str, description: str) -> Chart:
    """The attribution chart of one gap."""
    return Chart("causes", title, description, _drawing(causes, total, unit, narrow=False), _drawing(causes, total, unit, narrow=True))


def _drawing(causes: list[Effect], total: Effect, unit: str, *, narrow: bool) -> Drawing:
    width, pitch, top = (NARROW, 38.0, 14.0) if narrow else (WIDE, 30.0, 18.0)
    left, room = (4.0, 320.0) if narrow else (252.0, 300.0)
    rows = [*causes, total]
    foot = top + pitch * (len(rows) - 1) + (27.0 if narrow else 14.0)
    pen = sheet(width, foot + 26.0)
    low = min(0.0, *(end for row in rows for end in (row.low, row.value)))
    high = max(0.0, *(end for row in rows for end in (row.high, row.value)))
    span = (high - low) or 1.0

    def at(value: float) -> float:
        return left + room * (0.02 + 0.96 * (value - low) / span)

    if not narrow:
        pen.line([at(0.0)] * 2, [4.0, foot], INK, HAIR)
    for row, effect in enumerate(rows):
        ends = [at(value) for value in (effect.value, effect.low, effect.high)]
        _row(pen, effect, top + row * pitch, at(0.0), ends, total=effect is total, narrow=narrow)
    pen.double_rule(foot)
    _axis(pen, [(at(value), value) for value in ticks(low, high, 4 if narrow else 5)], foot + 20.0, unit)
    return finished(pen)


def _row(pen: Pen, effect: Effect, text_y: float, zero: float, ends: list[float], *, total: bool, narrow: bool) -> None:
    """One cause: its name, its bar with a whisker below, its number."""
    end, low, high = ends
    y = text_y + 12.0 if narrow else text_y - 9.0
    if total:
        pen.rule(text_y - (14.0 if narrow else 20.0), colour=INK, width=HAIR)
    number = signed(effect.value, 1)
    tone = INK if number[0] not in "+\N{MINUS SIGN}" else RUBRIC if effect.value < 0.0 else MOSS
    if narrow:  # names stand over the bars, so the zero is marked beside each bar only
        pen.line([zero, zero], [y - 6.0, y + 13.0], INK, HAIR)
    pen.write(0.0, text_y, effect.name, bold=total)
    pen.write(pen.width, text_y, number, tone, anchor="right", bold=total)
    pen.bar(zero, end, y, BLUE if total else tone if tone != INK else QUIET)
    if high > low:
        pen.whisker(low, high, y + 9.0)


def _axis(pen: Pen, marks: list[tuple[float, float]], y: float, unit: str) -> None:
    """Values under the double rule, and the unit at the right end."""
    free = pen.width - 12.0 - 7.0 * len(unit)
    for x, value in marks:
        if x < free - 14.0:
            pen.write(x, y, signed(value, 0) if value == round(value) else signed(value, 1), QUIET, size=SMALL, anchor="center")
    pen.write(pen.width, y, unit, QUIET, size=SMALL, anchor="right")
