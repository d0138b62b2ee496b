"""The extract ledger as a falling series of bars."""

from generator.charts.chart import Chart, Drawing, signed
from generator.charts.drawing import BLUE, HAIR, INK, MOSS, QUIET, RUBRIC, finished, sheet
from generator.charts.views import Bar

WIDE, NARROW = 612.0, 328.0


def draw(bars: list[Bar], description: str) -> Chart:
    """The ledger chart of one batch; `bars` in order, the first and the last are stages."""
    return Chart("ledger", "The extract ledger as a falling series of bars", description, _drawing(bars, narrow=False), _drawing(bars, narrow=True))


def _drawing(bars: list[Bar], *, narrow: bool) -> Drawing:
    width, pitch, top = (NARROW, 38.0, 14.0) if narrow else (WIDE, 33.0, 20.0)
    left, room = (2.0, 318.0) if narrow else (190.0, 278.0)
    pen = sheet(width, top + pitch * (len(bars) - 1) + (36.0 if narrow else 18.0))
    most = _most(bars)
    scale = room / (most * 1.02) if most > 0 else 0.0
    whole, level = bars[0].kg, 0.0
    for row, bar in enumerate(bars):
        text_y = top + row * pitch
        y = text_y + 13.0 if narrow else text_y - (8.0 if bar.is_stage else 5.0)
        last = row == len(bars) - 1
        if last:
            pen.rule(text_y - (14.0 if narrow else 22.0), colour=INK, width=HAIR)
        pen.write(0.0 if bar.is_stage else 14.0, text_y, bar.name, INK if bar.is_stage else QUIET, bold=bar.is_stage)
        tone = INK if bar.is_stage else MOSS if bar.kg > 0 else RUBRIC
        pen.write(width - 66.0, text_y, f"{bar.kg:.3f}" if bar.is_stage else signed(bar.kg, 3), tone, anchor="right", bold=bar.is_stage)
        if whole > 0:
            pen.write(width, text_y, f"{100.0 * abs(bar.kg) / whole:.1f}\N{THIN SPACE}%", QUIET, anchor="right")
        start, level = (0.0, bar.kg) if bar.is_stage else (level, level + bar.kg)
        pen.bar(left + scale * max(start, 0.0), left + scale * max(level, 0.0), y, BLUE if bar.is_stage else tone)
        if bar.is_stage and bar.low is not None and bar.high is not None:
            pen.whisker(left + scale * max(bar.low, 0.0), left + scale * bar.high, y + 8.0)
        if bar.plan is not None and bar.is_stage:
            pen.plan_mark(max(left + scale * bar.plan, 5.0), y)
        if not last and not narrow and level > 0:
            pen.line([left + scale * level] * 2, [y + 5.0, y + pitch - 6.0], QUIET, HAIR)
    pen.double_rule(pen.height - 5.0)
    return finished(pen)


def _most(bars: list[Bar]) -> float:
    """The furthest that anything reaches: a stage, its doubt or its plan, or a level between two stages."""
    reached, level = [0.0], 0.0
    for bar in bars:
        level = bar.kg if bar.is_stage else level + bar.kg
        reached += [level, *(value for value in (bar.high, bar.plan) if value is not None and bar.is_stage)]
    return max(reached)
