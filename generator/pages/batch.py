"""A batch page from its report."""

from collections.abc import Mapping
from urllib.parse import unquote

from generator.analysis.catalogue import BY_KEY
from generator.analysis.report import Report
from generator.pages import head, ledger_view, notes, timeline_view
from generator.pages.account import account
from generator.pages.cellar_contract import PackageView
from generator.pages.cellar_view import cellar_view
from generator.pages.contracts import BatchCharts, BatchPage, CautionView, Link
from generator.pages.course_view import course_view
from generator.pages.formatting import fixed, long_date, ordinal, places_for, plural
from generator.pages.gallery import gallery
from generator.pages.package_view import package_view
from generator.pages.photo_contract import Picture
from generator.pages.plan_rows import plan_section
from generator.pages.safety import MORE, WORDS
from generator.pages.site_map import SiteMap, batch_path, href, recipe_path, sheet_path, title
from generator.pages.statement import statement
from generator.pages.tasting_view import tasting_view
from generator.pages.why_view import why_view
from generator.sources import short_citation

_SECTION = {"mash": "plan", "boil": "plan", "fermenter": "fermentation", "package": "package"}


def batch_page(site: SiteMap, report: Report, charts: BatchCharts, photos: Mapping[str, Picture]) -> BatchPage:
    """All that a batch page shows.

    Args:
        site: where the other pages are.
        report: of the batch.
        charts: its drawings.
        photos: its pictures, by name.
    """
    number = site.siblings(report).index(report) + 1
    about = report.batch.plan.batch
    sentences = statement(report)
    under = f"{ordinal(number)} batch of {about.recipe}, {'brewed on' if report.brewed else 'planned for'} {long_date(about.brewed)}"
    shell = site.shell(f"{title(report)}, {about.brewed.isoformat()}", sentences[0] if sentences else about.summary, batch_path(report.batch.slug))
    found = ledger_view.bars(report.ledger)
    story, tasting = notes.story(report.batch.notes.markdown, prefix="n", photos=photos)
    packed = package_view(report)
    return BatchPage(
        shell=head.of_batch(site, report, shell, tuple(f"batches/{unquote(link.href)}" for link in _files(report)), photos),
        heading=title(report),
        under=under,
        sheet=Link("The brew sheet", f"../{href(sheet_path(report.batch.slug))}", "to print and to write on"),
        statement=sentences,
        summary=about.summary,
        facts=tuple(_facts(site, report)),
        brewed=report.brewed,
        account=account(report.figures, brewed=report.brewed),
        cautions=_cautions(report, _sections(charts, packed)),
        ledger=charts.ledger,
        ledger_caption=ledger_view.caption(found) if charts.ledger else ("", ""),
        ledger_rows=ledger_view.rows(found) if charts.ledger else (),
        causes=charts.causes,
        why=why_view(report),
        fermentation=course_view(report, charts.fermentation, charts.rate),
        plan=plan_section(report),
        story=story,
        gallery=gallery(report.batch.notes.markdown, photos),
        package=packed,
        cellar=cellar_view(report),
        tasting=tasting_view(report, tasting),
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


def _sections(charts: BatchCharts, packed: PackageView | None) -> set[str]:
    """The sections that stand on the page and may hold cautions."""
    return {"plan"} | ({"fermentation"} if charts.fermentation else set()) | ({"package"} if packed and packed.is_packaged else set())


def _cautions(report: Report, sections: set[str]) -> dict[str, tuple[CautionView, ...]]:
    """By section: each at its step, or at the nearest one before it that the page shows."""
    found: dict[str, list[CautionView]] = {"plan": [], "fermentation": [], "package": []}
    for caution in report.cautions:
        wanted = _SECTION[caution.stage]
        section = wanted if wanted in sections else "fermentation" if wanted == "package" and "fermentation" in sections else "plan"
        source = short_citation(caution.source)
        view = CautionView(caution.severity, WORDS[caution.severity], caution.text, source[:1].upper() + source[1:], f"../{MORE[caution.slug]}")
        found[section].append(view)
    return {section: tuple(views) for section, views in found.items()}


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
