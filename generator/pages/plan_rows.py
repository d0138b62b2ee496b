"""The plan in short: goods, hops, and the steps of the day."""

from generator.analysis.report import Report
from generator.charts.chart import MINUS
from generator.pages.contracts import GoodRow, PlanView
from generator.pages.formatting import fixed
from generator.records.models import Good, Hop, Plan

_ADDED = {"mash": "", "boil": "into the boil", "fermenter": "into the fermenter"}


def plan_view(report: Report) -> PlanView:
    """The plan of a batch as rows."""
    plan = report.batch.plan
    total = sum(good.mass for good in plan.grist if good.added == "mash")
    return PlanView(
        tuple(_good(good, total) for good in plan.grist),
        tuple(_hop(hop) for hop in plan.hops),
        tuple(_steps(plan, report)),
    )


def mass(kilograms: float) -> str:
    """A mass as it is weighed: grams below one kilogram."""
    return f"{kilograms * 1000.0:.0f} g" if kilograms < 0.9995 else f"{kilograms:.2f} kg"


def _good(good: Good, total: float) -> GoodRow:
    share = f"{100.0 * good.mass / total:.0f} %" if good.added == "mash" and total > 0 else _ADDED[good.added]
    return GoodRow(good.name, mass(good.mass), share)


def _hop(hop: Hop) -> GoodRow:
    minutes = "" if hop.time is None else f"{hop.time:.0f} min"
    when = {
        "boil": f"{minutes} before the end" if hop.time else "at the end of the boil",
        "first wort": "into the first wort",
        "stand": f"stand of {minutes} at {fixed(hop.temperature or 0.0, 0)} °C",
        "fermenter": "into the fermenter",
    }[hop.added]
    alpha = "" if hop.alpha is None else f", {hop.alpha:.1f} % alpha"
    return GoodRow(hop.name, mass(hop.mass), when + alpha)


def _steps(plan: Plan, report: Report) -> list[GoodRow]:
    rows = []
    strike = report.figures["strike_temperature"].plan
    if plan.liquor.mash is not None:
        heated = f"heated to {fixed(strike, 0)} °C" if strike is not None else ""
        rows.append(GoodRow("Mash liquor", f"{plan.liquor.mash:.1f} L", heated))
    for number, rest in enumerate(plan.rest, 1):
        name = "Rest" if len(plan.rest) == 1 else f"Rest {number}"
        rows.append(GoodRow(name, "" if rest.duration is None else f"{rest.duration:.0f} min", f"at {fixed(rest.temperature, 0)} °C"))
    if plan.liquor.sparge > 0:
        rows.append(GoodRow("Sparge liquor", f"{plan.liquor.sparge:.1f} L", ""))
    if plan.boil.duration is not None:
        rows.append(GoodRow("Boil", f"{plan.boil.duration:.0f} min", ""))
    yeast = plan.yeast
    if yeast.name:
        cells = "" if yeast.cells is None else f"{yeast.cells / 1e9:.0f} billion cells"
        at = "" if yeast.temperature is None else f"at {fixed(yeast.temperature, 0)} °C"
        rows.append(GoodRow(yeast.name, cells, at))
    rows += [GoodRow(task.text, "", task.when.replace(" - ", f" {MINUS} ")) for task in plan.task]
    return rows
