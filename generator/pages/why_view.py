"""Why a batch missed its plan, as bars, rows and words; the kettle's readings weighed; where the doubts come from."""

from generator.analysis.attribution import Attribution
from generator.analysis.catalogue import BY_KEY
from generator.analysis.reconciliation import Adjusted, Reconciliation
from generator.analysis.report import Report
from generator.charts.chart import signed
from generator.charts.views import Effect
from generator.pages.causes import real
from generator.pages.contracts import CauseRow, DoubtRow, WeighedRow, WhyView
from generator.pages.formatting import Cell, cell, fixed, number_word, places_for

_HEADLINES = ("mash_efficiency", "brewhouse_efficiency", "original_gravity", "apparent_attenuation", "abv")
_LEAST_SHARE = 0.005
_PARTS = (
    (0.28, "A quarter of"), (0.4, "A third of"), (0.6, "Half of"), (0.72, "Two thirds of"), (0.85, "Three quarters of"), (0.97, "Most of"),
)  # fmt: skip
_HINTS = {
    "volumes": "mark the kettle every litre",
    "hydrometer": "read it twice, at 20 °C, in a trial jar without bubbles",
    "scales": "use better scales",
    "malt extract": "take the extract from the analysis of this lot",
    "thermometer": "check it in melting ice, and cool samples",
    "refractometer": "check it with water and with a sugar solution",
    "refractometer in beer, the model": "read the end with a hydrometer",
    "duration": "time the boil",
}


def effects(found: Attribution) -> tuple[list[Effect], Effect]:
    """Causes, the largest first, and the total, for the chart."""
    ordered = sorted(found.causes, key=lambda cause: -abs(cause.effect.value))
    bars = [Effect(cause.cause, cause.effect.value, cause.effect.low, cause.effect.high) for cause in ordered]
    return bars, Effect("all causes together", found.total.value, found.total.low, found.total.high)


def description(found: Attribution) -> str:
    """The chart in words, for those who can't see it."""
    bars, total = effects(found)
    parts = [f"{bar.name} {signed(bar.value, 1)}, between {signed(bar.low, 1)} and {signed(bar.high, 1)}" for bar in [*bars, total]]
    return "; ".join(parts) + f", in {found.unit}."


def caption(found: Attribution) -> tuple[str, str]:
    """What it is, and what to look at."""
    clear = [cause.cause for cause in real(found)]
    what = "What moved the original gravity, in points."
    if not clear:
        return what, "No whisker stays clear of zero: any of these may be nothing."
    if len(clear) == 1:
        return what, f"Only the whisker of {clear[0]} stays clear of zero. Any of the others may be nothing."
    return what, f"{number_word(len(clear)).capitalize()} whiskers stay clear of zero. Any of the others may be nothing."


def heading(found: Attribution) -> str:
    """Why five points short."""
    steps = round(found.total.value)
    if not steps:
        return "Why it came out as planned"
    return f"Why {number_word(abs(steps))} point{'' if abs(steps) == 1 else 's'} {'short' if steps < 0 else 'over'}"


def rows(found: Attribution | None, places: int) -> tuple[CauseRow, ...]:
    """Causes as table rows, the total last."""
    if found is None:
        return ()
    bars, total = effects(found)
    return tuple(
        CauseRow(bar.name, cell(signed(bar.value, places)), cell(f"±{fixed((bar.high - bar.low) / 2.0, places)}"), bar is total)
        for bar in [*bars, total]
    )


def why_view(report: Report) -> WhyView:
    """All of it that the page shows besides the chart."""
    gravity = report.why.original_gravity
    return WhyView(
        heading(gravity) if gravity else "",
        caption(gravity) if gravity else ("", ""),
        rows(gravity, 1),
        gravity.note if gravity else "",
        rows(report.why.abv, 2),
        rows(report.why.fermenter_volume, 2),
        _weighed(report.weighed),
        _verdict(report.weighed),
        tuple(_doubts(report)),
        _instruments(report),
        _hint(report),
    )


def _weighed(found: Reconciliation | None) -> tuple[WeighedRow, ...]:
    if found is None:
        return ()
    return tuple(_weighed_row(row, found) for row in found.rows)


def _weighed_row(row: Adjusted, found: Reconciliation) -> WeighedRow:
    places = 4 if row.unit == "SG" else 3 if row.unit == "kg" else 2
    suspect = found.contradictory and row is found.suspect
    return WeighedRow(
        row.name, row.unit, cell(fixed(row.read.value, places)), cell(fixed(row.reconciled, places)),
        cell(signed(row.reconciled - row.read.value, places)), cell(signed(row.test, 1)), suspect,
    )  # fmt: skip


def _verdict(found: Reconciliation | None) -> str:
    """Whether the readings agree, in words."""
    if found is None:
        return ""
    odds = f"{100.0 * found.probability:.0f} %" if found.probability >= 0.01 else "less than 1 %"
    what = f"Honest readings would disagree as much or more in {odds} of batches (χ² = {found.chi_square:.1f}, {number_word(found.balances)} "
    what += f"balance{'' if found.balances == 1 else 's'})."
    return f"The readings contradict one another. {what}" if found.contradictory else f"The readings agree within their doubts. {what}"


def _instruments(report: Report) -> tuple[str, ...]:
    """Instruments that give a visible share of any headline figure's doubt, the most important first."""
    weight: dict[str, float] = {}
    for key in _HEADLINES:
        for source, share in report.figures[key].doubt_sources.items():
            weight[source] = max(weight.get(source, 0.0), share)
    return tuple(sorted((source for source, share in weight.items() if share >= _LEAST_SHARE), key=lambda source: (-weight[source], source)))


def _doubts(report: Report) -> list[DoubtRow]:
    instruments = _instruments(report)
    found = []
    for key in _HEADLINES:
        figure, shares = report.figures[key], report.figures[key].doubt_sources
        if figure.measured is None or not shares:
            continue
        half_width = figure.measured.half_width
        cells = tuple(_share(shares.get(instrument, 0.0)) for instrument in instruments)
        found.append(DoubtRow(figure.entry.label, figure.entry.unit, cell(f"±{fixed(half_width, places_for(half_width, figure.entry.unit))}"), cells))
    return found


def _share(share: float) -> Cell:
    return cell(f"{100.0 * share:.0f}") if share >= _LEAST_SHARE else Cell("–")


def _hint(report: Report) -> str:
    """Where the doubt of the efficiency comes from, and what would narrow it."""
    for key in ("mash_efficiency", "brewhouse_efficiency", "original_gravity"):
        shares = report.figures[key].doubt_sources
        if shares:
            source, share = next(iter(shares.items()))
            part = _part(share)
            return f"{part} the doubt of the {BY_KEY[key].label.lower()} comes from the {source}: {_HINTS.get(source, 'read it more closely')}."
    return ""


def _part(share: float) -> str:
    """A share in words."""
    return next((words for most, words in _PARTS if share < most), "Nearly all")
