"""The plan in short: goods, hops, and the steps of the day."""

from generator.analysis.report import Report
from generator.charts.chart import MINUS
from generator.pages import fit_view, stages_view
from generator.pages.formatting import fixed, mass
from generator.pages.plan_contract import GoodRow, PlanSection, Swatch
from generator.planning.numbers import hop_bitterness
from generator.records.models import Good, Hop, Plan
from generator.science import colour, swatch

GLASS = 5.0
"""cm of beer that light passes through in a glass."""
_ADDED = {"mash": "", "boil": "into the boil", "fermenter": "into the fermenter"}


def plan_section(report: Report) -> PlanSection:
    """The plan of a batch: its rows, whether it fits, and what came of each stage."""
    plan = report.batch.plan
    total = sum(good.mass for good in plan.grist if good.added == "mash")
    return PlanSection(
        tuple(_good(good, total) for good in plan.grist),
        tuple(_hop(hop, hop_bitterness(report, hop)) for hop in plan.hops),
        tuple(_steps(plan, report)),
        tuple(fit_view.contradiction(one) for one in report.contradictions),
        (*fit_view.fit_sentences(report.fit), *fit_view.liquor_sentences(report.liquor)),
        fit_view.liquor_rows(report.liquor),
        fit_view.way_rows(report.fit),
        fit_view.closed_ways(report.fit),
        stages_view.stage_rows(report),
        _swatch(report),
    )


def _swatch(report: Report) -> Swatch | None:
    """The colour as measured, else as planned."""
    figure = report.figures["colour"]
    ebc = figure.measured.value if figure.measured else figure.plan
    if ebc is None:
        return None
    red, green, blue = (int(channel) for channel in swatch.srgb(ebc / colour.EBC_PER_SRM, GLASS))
    return Swatch(red, green, blue, f"{fixed(ebc, 0)} EBC by the malts, seen through {GLASS:g} cm of clear beer; screens show dark beers too red.")


def _good(good: Good, total: float) -> GoodRow:
    share = f"{100.0 * good.mass / total:.0f} %" if good.added == "mash" and total > 0 else _ADDED[good.added]
    return GoodRow(good.name, mass(good.mass), share)


def _hop(hop: Hop, bitterness: float | None) -> GoodRow:
    minutes = "" if hop.time is None else f"{hop.time:.0f} min"
    when = {
        "boil": f"{minutes} before the end" if hop.time else "at the end of the boil",
        "first wort": "into the first wort",
        "stand": f"stand of {minutes} at {fixed(hop.temperature or 0.0, 0)} °C",
        "fermenter": "into the fermenter" + (f", {_clocked(hop.when)}" if hop.when else ""),
    }[hop.added]
    alpha = "" if hop.alpha is None else f", {hop.alpha:.1f} % alpha"
    return GoodRow(hop.name, mass(hop.mass), when + alpha, "" if bitterness is None else fixed(bitterness, 0))


def _clocked(when: str) -> str:
    """A time as written, its hyphen a minus."""
    return when.replace(" - ", f" {MINUS} ")


def _steps(plan: Plan, report: Report) -> list[GoodRow]:
    rows = []
    strike = report.figures["strike_temperature"].plan
    if plan.liquor.mash is not None:
        heated = f"heated to {fixed(strike, 0)} °C" if strike is not None else ""
        rows.append(GoodRow("Mash liquor", f"{plan.liquor.mash:.1f} L", heated))
    if plan.mash.portions > 1:
        every = "" if plan.mash.interval is None else f"every {plan.mash.interval:.0f} min"
        rows.append(GoodRow("Grain", f"{plan.mash.portions} portions", every))
    for number, rest in enumerate(plan.rest, 1):
        name = "Rest" if len(plan.rest) == 1 else f"Rest {number}"
        rows.append(GoodRow(name, "" if rest.duration is None else f"{rest.duration:.0f} min", f"at {fixed(rest.temperature, 0)} °C"))
    if plan.liquor.sparge > 0:
        hot = "" if plan.liquor.sparge_temperature is None else f"at {fixed(plan.liquor.sparge_temperature, 0)} °C"
        rows.append(GoodRow("Sparge liquor", f"{plan.liquor.sparge:.1f} L", hot))
    if plan.boil.duration is not None:
        rows.append(GoodRow("Boil", f"{plan.boil.duration:.0f} min", ""))
    yeast = plan.yeast
    if yeast.name:
        cells = "" if yeast.cells is None else f"{yeast.cells / 1e9:.0f} billion cells"
        at = "" if yeast.temperature is None else f"at {fixed(yeast.temperature, 0)} °C"
        rows.append(GoodRow(yeast.name, cells, at))
    rows += [GoodRow(task.text, "", _clocked(task.when)) for task in plan.task]
    return rows
