"""The pipeline, in one readable function: load, check, analyse, draw, render, publish."""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path

from generator.analysis.report import Report, problems, report
from generator.charts.chart import Chart
from generator.errors import OutputError
from generator.pages import embed, feed, fermentation_view, gallery, ledger_view, lists, reference, search, why_view
from generator.pages.batch import batch_page
from generator.pages.contracts import BatchCharts, Page
from generator.pages.data import batch_json
from generator.pages.data_contract import DataPage
from generator.pages.data_page import data_page
from generator.pages.finding_contract import FindingPage
from generator.pages.formatting import slugify
from generator.pages.head import ATOM_FEED, DATA, FIGURES, JSON_FEED
from generator.pages.render import render, templates_dir
from generator.pages.sheet_view import sheet_page
from generator.pages.site_map import SiteMap, batch_path, order, sheet_path
from generator.pages.spreadsheet import figures_csv, published_copy
from generator.planning import Found
from generator.publish.staging import claimed, named
from generator.records.files import TABLE_LIMIT, Reader
from generator.records.journal import BatchRecord, Journal, load
from generator.records.photos import variants

Step = Callable[[str, int], AbstractContextManager[Callable[[], None]]]
"""Announces a stretch of work of so many steps; gives a function to call after each."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build made."""

    batches: int
    pages: int
    drafts: tuple[str, ...]
    index: Path


def _silent(_name: str, _steps: int) -> AbstractContextManager[Callable[[], None]]:
    return nullcontext(lambda: None)


def check(root: Path) -> Journal:
    """Read a journal and everything that can be wrong with it.

    Raises:
        JournalError: with every problem found.
    """
    return load(root, problems)


def build(root: Path, out: Path, step: Step = _silent) -> Built:
    """Build the site of a journal.

    Args:
        root: the journal folder.
        out: the folder of the site.
        step: told what is going on, for a progress bar.

    Raises:
        JournalError: the journal has problems; nothing was written.
        OutputError: the site can't be written; what was there stands.
    """
    _keep_apart(root, out)
    journal = check(root)
    with claimed(out) as publish:
        with step("Computing", len(journal.batches)) as done:
            reports = [_done(report(batch, journal.settings), done) for batch in journal.batches]
        site = SiteMap(journal.settings, order(reports))
        with step("Drawing and writing", len(reports)) as done:
            files = dict(_files(site, done))
        files |= _assets()
        publish(files)
    pages = sum(path.endswith(".html") for path in files)
    return Built(len(reports), pages, journal.drafts, out / "index.html")


def one_file(found: Found) -> bytes:
    """The page of one batch with all that it needs inside, to be mailed or carried about.

    Links lead to the published journal; they are left out where it has no address, and for a draft, which isn't published.

    Args:
        found: the batch and its journal.
    """
    batch, journal = found.batch, found.journal
    drawn = {one.slug: one for one in journal.batches if _kin(one, batch)}
    settings = journal.settings if batch.slug in drawn else journal.settings.model_copy(update={"base_url": ""})
    site = SiteMap(settings, order([report(one, settings) for one in (drawn | {batch.slug: batch}).values()]))
    files = dict(_batch_files(site, site.by_slug[batch.slug])) | _assets()
    path = batch_path(batch.slug)
    return embed.embedded(files[path].decode(), path, files, settings.base_url).encode()


def _kin(one: BatchRecord, batch: BatchRecord) -> bool:
    """Whether the page of a batch names another batch: of its recipe, or the one that it follows."""
    about, other = batch.plan.batch, one.plan.batch
    return slugify(other.recipe) == slugify(about.recipe) or one.slug == about.follows


def _done(result: Report, done: Callable[[], None]) -> Report:
    done()
    return result


def _keep_apart(root: Path, out: Path) -> None:
    """Refuse a site that would lie over the journal, around it, or among its batches, or over a place that people stand in."""
    journal, site = _real(root), _real(out)
    if journal.is_relative_to(site) or site.is_relative_to(journal):
        raise OutputError(f"the site {named(out)} and the journal {named(root)} must lie apart; choose another --out")
    home = Path(os.path.expanduser("~"))  # noqa: PTH111  (it doesn't raise where nobody has a home)
    for place, what in ((Path.cwd(), "the folder you are in"), (_real(home), "your home")):
        if place.is_relative_to(site):
            raise OutputError(f"the site {named(out)} would take the place of {what}; choose a folder of its own as --out")


def _real(path: Path) -> Path:
    """A path with its links followed; a loop of links stays as it is."""
    return Path(os.path.realpath(path))


def _files(site: SiteMap, done: Callable[[], None]) -> Iterator[tuple[str, bytes]]:
    """Every file of the site but the assets."""
    pages: dict[str, Page | FindingPage | DataPage] = {
        "index.html": lists.index_page(site),
        "lessons.html": lists.lessons_page(site),
        DATA: data_page(site),
        "methods.html": reference.methods_page(site),
        "safety.html": reference.safety_page(site),
    }
    pages |= {f"recipes/{key}.html": lists.recipe_page(site, key, _history(batches)) for key, batches in site.recipes.items()}
    pages |= lists.finding_pages(site)
    yield search.INDEX, search.index(site).encode()
    for path, page in pages.items():
        yield path, render(page).encode()
    for one in site.reports:
        yield from _batch_files(site, one)
        done()
    yield FIGURES, figures_csv(site.reports).encode()
    if site.settings.base_url:
        yield ATOM_FEED, feed.atom(site).encode()
        yield JSON_FEED, feed.json_feed(site).encode()
        listed = [*pages, *(path(one.batch.slug) for one in site.reports for path in (batch_path, sheet_path))]
        yield "sitemap.xml", feed.sitemap(site, listed).encode()


def _batch_files(site: SiteMap, one: Report) -> Iterator[tuple[str, bytes]]:
    """The pages of a batch, its pictures and its data."""
    slug, files = one.batch.slug, {photo.name: variants(photo) for photo in one.batch.photos}
    for called, made in files.values():
        yield from gallery.paths(slug, called, made).items()
    yield batch_path(slug), render(batch_page(site, one, _charts(one), gallery.pictures(slug, files))).encode()
    yield sheet_path(one.batch.slug), render(sheet_page(site, one)).encode()
    yield f"batches/{one.batch.slug}.json", batch_json(one).encode()
    yield from _downloads(one.batch)


def _downloads(batch: BatchRecord) -> Iterator[tuple[str, bytes]]:
    """The batch's own files, as they are but for cells of tables that could start a formula."""
    for name, wanted in (("plan.toml", True), ("readings.csv", bool(batch.readings)), ("gravity-log.csv", bool(batch.log))):
        if wanted:
            content = Reader(batch.folder).bytes(batch.folder / name, TABLE_LIMIT)
            if content is not None:
                yield f"batches/{batch.slug}/{name}", published_copy(content) if name.endswith(".csv") else content


def _charts(one: Report) -> BatchCharts:
    return BatchCharts(_ledger(one), _causes(one), *_fermentation(one))


def _causes(one: Report) -> Chart | None:
    found = one.why.original_gravity
    if found is None:
        return None
    from generator.charts import attribution  # noqa: PLC0415

    bars, total = why_view.effects(found)
    return attribution.draw(bars, total, why_view.caption(found)[0].rstrip("."), found.unit, why_view.description(found))


def _ledger(one: Report) -> Chart | None:
    if len(one.ledger.stages) < 2:
        return None
    from generator.charts import ledger  # noqa: PLC0415  (matplotlib is loaded only to draw)

    bars = ledger_view.bars(one.ledger)
    return ledger.draw(bars, ledger_view.description(bars))


def _fermentation(one: Report) -> tuple[Chart | None, Chart | None]:
    """The chart of the gravity, and that of its rate."""
    if one.course is None or not fermentation_view.shown(one.course):
        return None, None
    from generator.charts import attenuation, fermentation  # noqa: PLC0415

    curves = fermentation_view.curves(one.course, fermentation_view.planned_final(one), one.batch.plan.hops)
    pace = fermentation_view.pace(one.course, curves)
    rate = attenuation.draw(pace, fermentation_view.rate_description(one.course)) if pace else None
    return fermentation.draw(curves, fermentation_view.description(one.course, curves)), rate


def _history(batches: list[Report]) -> Chart | None:
    key = lists.history_figure(batches)
    if key is None:
        return None
    from generator.charts import history  # noqa: PLC0415

    entry = batches[0].figures[key].entry
    return history.draw(lists.history_dots(batches, key), f"{entry.label}, {entry.unit}", lists.history_description(batches, key))


def _assets() -> dict[str, bytes]:
    static = templates_dir() / "static"
    return {f"assets/{path.relative_to(static).as_posix()}": path.read_bytes() for path in sorted(static.rglob("*")) if path.is_file()}
