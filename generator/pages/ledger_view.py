"""The ledger as rows and words: sums that close to the gram, and what to see first."""

from generator.analysis.doubt import Estimate
from generator.analysis.ledger import Ledger
from generator.charts.chart import signed
from generator.charts.views import Bar
from generator.pages.contracts import LedgerRow
from generator.pages.formatting import BLANK, cell, fixed

_NAMES = {
    "potential": "In the grist", "first wort": "First wort", "pre-boil": "Before the boil", "post-boil": "After the boil",
    "fermenter": "In the fermenter",
}  # fmt: skip


def bars(ledger: Ledger) -> list[Bar]:
    """Stages and changes in order, kg to the gram; the printed changes lead from one printed stage to the next."""
    found: list[Bar] = []
    for index, stage in enumerate(ledger.stages):
        level = round(stage.extract.value, 3)
        found.append(_bar(_NAMES[stage.stage], level, stage.extract, stage.plan, is_stage=True))
        if index == len(ledger.changes):
            break
        left = round(round(ledger.stages[index + 1].extract.value, 3) - level, 3)
        *first, last = ledger.changes[index]
        for change in first:
            kg = round(change.extract.value, 3)
            left = round(left - kg, 3)
            found.append(_bar(change.name, kg, change.extract, change.plan, is_stage=False))
        found.append(_bar(last.name, left, last.extract, last.plan, is_stage=False))
    return found


def _bar(name: str, kg: float, extract: Estimate, plan: float | None, *, is_stage: bool) -> Bar:
    return Bar(name, kg, is_stage, extract.low, extract.high, plan)


def rows(found: list[Bar]) -> tuple[LedgerRow, ...]:
    """The ledger as a table."""
    whole = found[0].kg if found else 0.0
    return tuple(
        LedgerRow(
            bar.name,
            bar.is_stage,
            BLANK if bar.plan is None else cell(fixed(bar.plan, 3) if bar.is_stage else signed(bar.plan, 3)),
            cell(fixed(bar.kg, 3) if bar.is_stage else signed(bar.kg, 3)),
            cell(f"{100.0 * abs(bar.kg) / whole:.1f}") if whole > 0 else BLANK,
            BLANK if bar.low is None or bar.high is None else cell(f"±{(bar.high - bar.low) / 2.0:.3f}"),
            "short" if not bar.is_stage and bar.kg < 0 else "",
        )
        for bar in found
    )


def description(found: list[Bar]) -> str:
    """The chart in words, for those who can't see it."""
    parts = [f"{bar.name}: {bar.kg:.3f} kg" if bar.is_stage else f"{bar.name}: {signed(bar.kg, 3)} kg" for bar in found]
    return "; ".join(parts) + "."


def caption(found: list[Bar]) -> tuple[str, str]:
    """What it is, and what to look at."""
    stages, losses = [bar for bar in found if bar.is_stage], [bar for bar in found if not bar.is_stage and bar.kg < 0]
    whole = stages[0].kg
    what = f"Where {whole:.3f} kg of extract went."
    if not losses or whole <= 0:
        return what, ""
    largest = min(losses, key=lambda bar: bar.kg)
    share = f"{100.0 * -largest.kg / whole:.0f} %"
    planned = stages[0].plan
    if largest.plan is None or not planned:
        return what, f"The largest loss is what was {largest.name}: {share}."
    allowed = 100.0 * -largest.plan / planned
    return what, f"The largest loss is what was {largest.name}: {share}, where the plan allowed {allowed:.0f} %."
