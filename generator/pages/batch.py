"""A batch page from its report."""

from generator.analysis.catalogue import BY_KEY
from generator.analysis.report import Report
from generator.pages import fermentation_view, ledger_view, notes, timeline_view
from generator.pages.account import account
from generator.pages.contracts import BatchCharts, BatchPage, CautionView, Link
from generator.pages.formatting import Cell, cell, fixed, long_date, ordinal, places_for, plural
from generator.pages.plan_rows import plan_section
from generator.pages.safety import MORE, WORDS
from generator.pages.site_map import SiteMap, batch_path, href, recipe_path, sheet_path, title
from generator.pages.statement import statement
from generator.pages.why_view import why_view
from generator.records.vocabulary import READINGS
from generator.sources import short_citation

_SECTION = {"mash": "plan", "boil": "plan", "fermenter": "fermentation", "package": "fermentation"}


def batch_page(site: SiteMap, report: Report, charts: BatchCharts) -> BatchPage:
    """All that a batch page shows.

    Args:
        site: where the other pages are.
        report: of the batch.
        charts: its drawings.
    """
    number = site.siblings(report).index(report) + 1
    about = report.batch.plan.batch
    sentences = statement(report)
    under = f"{ordinal(number)} batch of {about.recipe}, {'brewed on' if report.brewed else 'planned for'} {long_date(about.brewed)}"
    path = batch_path(report.batch.slug)
    found = ledger_view.bars(report.ledger)
    story, tasting = notes.story(report.batch.notes.markdown, prefix="n")
    curve = report.fermentation
    return BatchPage(
        shell=site.shell(f"{title(report)}, {about.brewed.isoformat()}", sentences[0] if sentences else about.summary, path),
        heading=title(report),
        under=under,
        sheet=Link("The brew sheet", f"../{href(sheet_path(report.batch.slug))}", "to print and to write on"),
        statement=sentences,
        summary=about.summary,
        facts=tuple(_facts(site, report)),
        brewed=report.brewed,
        account=account(report.figures, brewed=report.brewed),
        cautions=_cautions(report, with_curve=charts.fermentation is not None),
        ledger=charts.ledger,
        ledger_caption=ledger_view.caption(found) if charts.ledger else ("", ""),
        ledger_rows=ledger_view.rows(found) if charts.ledger else (),
        causes=charts.causes,
        why=why_view(report),
        fermentation=charts.fermentation,
        fermentation_caption=fermentation_view.caption(curve) if curve and charts.fermentation else ("", ""),
        fermentation_rows=fermentation_view.rows(curve) if curve and charts.fermentation else (),
        fermentation_note=fermentation_view.note(curve) if curve and charts.fermentation else "",
        plan=plan_section(report),
        story=story,
        tasting_notes=tasting,
        scores=_scores(report),
        total=_total(report),
        lessons=tuple(notes.inline(lesson.markdown) for lesson in report.batch.notes.lessons),
        timeline=timeline_view.days(report.timeline),
        assumptions=report.assumptions,
        files=tuple(_files(report)),
        neighbours=tuple(_neighbours(site, report, number)),
    )


def _facts(site: SiteMap, report: Report) -> list[tuple[str, str, str]]:
    about, root = report.batch.plan.batch, "../"
    rows: list[tuple[str, str, str]] = []
    if report.batch.brewer:
        rows.append(("Brewed by", report.batch.brewer, ""))
    if report.batch.brewhouse:
        rows.append(("Brewhouse", report.batch.brewhouse.name, ""))
    rows.append(("Recipe", about.recipe, root + href(recipe_path(about.recipe))))
    follows = site.by_slug.get(about.follows or "")
    if follows:
        rows.append(("Follows", title(follows), root + href(batch_path(follows.batch.slug))))
    for key, name in (("fermenter_volume", "Volume"), ("colour", "Colour"), ("bitterness", "Bitterness")):
        figure = report.figures[key]
        value = figure.measured.value if figure.measured else figure.plan
        if value is not None and (value > 0 or key != "bitterness"):
            half_width = figure.measured.half_width if figure.measured else None
            rows.append((name, f"{fixed(value, min(places_for(half_width, BY_KEY[key].unit), 1))} {BY_KEY[key].unit}", ""))
    if about.tags:
        rows.append(("Tags", ", ".join(about.tags), ""))
    return rows


def _cautions(report: Report, *, with_curve: bool) -> dict[str, tuple[CautionView, ...]]:
    found: dict[str, list[CautionView]] = {"plan": [], "fermentation": []}
    for caution in report.cautions:
        section = _SECTION[caution.stage] if with_curve else "plan"
        source = short_citation(caution.source)
        view = CautionView(caution.severity, WORDS[caution.severity], caution.text, source[:1].upper() + source[1:], f"../{MORE[caution.slug]}")
        found[section].append(view)
    return {section: tuple(views) for section, views in found.items()}


def _scores(report: Report) -> tuple[tuple[str, Cell, Cell], ...]:
    return tuple(
        (what.capitalize(), cell(f"{report.tasting[what]:g}"), cell(f"{wanted.score_of:g}"))
        for what, wanted in READINGS["tasting"].items()
        if what in report.tasting
    )


def _total(report: Report) -> tuple[Cell, Cell] | None:
    """Sum of the scores, where all were given."""
    wanted = {what: wanted.score_of for what, wanted in READINGS["tasting"].items() if wanted.score_of}
    if set(report.tasting) != set(wanted):
        return None
    return cell(f"{sum(report.tasting.values()):g}"), cell(f"{sum(wanted.values()):g}")


def _files(report: Report) -> list[Link]:
    slug, batch = report.batch.slug, report.batch
    links = [Link("plan.toml", href(f"{slug}/plan.toml"), "what was meant")]
    if batch.readings:
        links.append(Link("readings.csv", href(f"{slug}/readings.csv"), plural(len(batch.readings), "row")))
    if batch.log:
        links.append(Link("gravity-log.csv", href(f"{slug}/gravity-log.csv"), plural(len(batch.log), "row")))
    return [*links, Link(f"{slug}.json", href(f"{slug}.json"), "every figure, unrounded")]


def _neighbours(site: SiteMap, report: Report, number: int) -> list[Link]:
    siblings = site.siblings(report)
    links = []
    if number > 1:
        links.append(Link(title(siblings[number - 2]), "../" + href(batch_path(siblings[number - 2].batch.slug)), "before"))
    if number < len(siblings):
        links.append(Link(title(siblings[number]), "../" + href(batch_path(siblings[number].batch.slug)), "after"))
    return links
