"""The brew sheet from a report: what to weigh and to heat, the day in its order, and a box for each reading."""

from generator.analysis.asked import Wanted, hot
from generator.analysis.brew_day import brew_day
from generator.analysis.report import Report
from generator.pages import sheet_words as words
from generator.pages.contracts import Link, SheetPage
from generator.pages.fit_view import contradiction
from generator.pages.formatting import cell, clock, fixed, long_date, ordinal, short_day, signed
from generator.pages.sheet_contract import Liquor, Weighing
from generator.pages.sheet_steps import steps
from generator.pages.site_map import SiteMap, batch_path, href, sheet_path, title
from generator.records.models import Good, Hop, Plan

_MOST_EVENTS = 10
"""Notes of a brewed batch that find room on paper."""
_PLACE = {"mash": "mash", "boil": "kettle", "fermenter": "fermenter"}


def sheet_page(site: SiteMap, report: Report) -> SheetPage:
    """batches/<slug>-sheet.html.

    Args:
        site: where the other pages are.
        report: of the batch.
    """
    about, plan = report.batch.plan.batch, report.batch.plan
    day, wanted = brew_day(report.view), Wanted(report)
    number = site.siblings(report).index(report) + 1
    name, day_of = title(report), long_date(about.brewed)
    portions = plan.mash.portions
    grist = report.figures["grist_mass"].plan
    places = 2 if all(abs(good.mass - round(good.mass, 2)) < 5e-5 for good in plan.grist) else 3
    return SheetPage(
        shell=site.shell(
            f"Brew sheet: {name}, {about.brewed.isoformat()}", f"The brew sheet of {name}, {day_of}: {_statement(report)}",
            sheet_path(report.batch.slug),
        ),
        heading=name,
        under=f"Brew sheet, {ordinal(number).lower()} batch of {about.recipe}, {'brewed on' if report.brewed else 'planned for'} {day_of}",
        batch=Link("The batch", "../" + href(batch_path(report.batch.slug))),
        statement=" ".join([_statement(report), *(() if report.brewed else map(contradiction, report.contradictions))]),
        clock=words.clock_note(day),
        portions=portions,
        goods=tuple(_good(good, portions, places) for good in plan.grist),
        grist=None if grist is None else cell(fixed(grist, places)),
        portion="" if grist is None or portions == 1 else fixed(grist / portions, 3),
        hops=tuple(_hop(hop) for hop in plan.hops),
        yeast=words.pitched(plan) if plan.yeast.name else "",
        liquors=tuple(_liquors(plan, wanted)),
        calibrated=words.degrees(report.view.brewhouse.instruments.hydrometer_calibrated_at),
        corrections=tuple((words.degrees(at).removesuffix(" °C"), signed(sg * 1000.0, 1)) for at, sg in wanted.corrections()),
        steps=steps(report, day, wanted),
        free=tuple((task.when, task.text) for task in day.free),
        events=tuple(_events(report)),
    )  # fmt: skip


def _statement(report: Report) -> str:
    """What is to be made, in a sentence; the summary where the plan says nothing of it."""
    known = {key: report.figures[key].plan for key in ("fermenter_volume", "original_gravity", "final_gravity", "abv", "bitterness")}
    volume, original, final, abv, bitterness = known.values()
    parts = []
    if volume is not None or original is not None:
        amount = "Wort" if volume is None else f"{fixed(volume, 1)} L"
        parts.append(amount if original is None else f"{amount} at {fixed(original, 3)}")
    if final is not None:
        parts.append(f"to finish at {fixed(final, 3)}" + ("" if abv is None else f" with {fixed(abv, 1)} % vol"))
    if bitterness:
        parts.append(f"{fixed(bitterness, 0)} IBU")
    if parts and report.brewed:
        parts[0] = f"planned: {parts[0]}"
    text = ", ".join(parts) or report.batch.plan.batch.summary or "a plan without figures"
    return text[:1].upper() + text[1:].rstrip(".") + "."


def _good(good: Good, portions: int, places: int) -> Weighing:
    each = fixed(good.mass / portions, 3) if portions > 1 and good.added == "mash" else ""
    return Weighing(good.name, cell(fixed(good.mass, places)), each, _PLACE[good.added])


def _hop(hop: Hop) -> Weighing:
    grams = 1000.0 * hop.mass
    amount = cell(fixed(grams, 0 if abs(grams - round(grams)) < 0.05 else 1))
    minutes = "" if hop.time is None else words.lasting(hop.time)
    place = {
        "boil": minutes if hop.time else "at the end", "first wort": "first wort", "fermenter": "fermenter",
        "stand": f"{minutes} at {words.degrees(hop.temperature or 0.0)}",
    }[hop.added]  # fmt: skip
    alpha = "" if hop.alpha is None else f", {hop.alpha:.1f} % alpha"
    return Weighing(hop.name + alpha, amount, "", place)


def _events(report: Report) -> list[tuple[str, str]]:
    """What was noted on the way: when, and what."""
    rows = [entry.reading for entry in report.timeline if entry.reading.is_note and entry.reading.stage != "tasting" and entry.reading.note]
    brewed = report.batch.plan.batch.brewed
    found = []
    for row in rows[:_MOST_EVENTS]:
        day = "" if row.time is None or row.time.date() == brewed else f"{short_day(row.time)}, "
        found.append(("" if row.time is None else f"{day}{clock(row.time)}", row.note))
    if len(rows) > len(found):
        found.append(("", f"and {len(rows) - len(found)} more in the timeline of the batch"))
    return found


def _liquors(plan: Plan, wanted: Wanted) -> list[Liquor]:
    found = []
    strike = wanted.hot_strike()
    if plan.liquor.mash is not None:
        found.append(Liquor("Mash", cell(fixed(plan.liquor.mash, 1)), *_heated(plan.liquor.mash, strike[0] if strike else None)))
    if plan.liquor.sparge > 0.0:
        at = plan.liquor.sparge_temperature
        found.append(Liquor("Sparge", cell(fixed(plan.liquor.sparge, 1)), *_heated(plan.liquor.sparge, at)))
    return found


def _heated(litres: float, celsius: float | None) -> tuple[str, str]:
    """Temperature of a liquor, and the litres that it fills there."""
    return ("", "") if celsius is None else (f"{fixed(celsius, 1)} °C", f"{fixed(hot(litres, celsius), 1)} L")
