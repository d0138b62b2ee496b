"""The pipeline, in one readable function: load, check, analyse, draw, render, publish."""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path

from generator.analysis.report import Report, problems, report
from generator.charts.chart import Chart
from generator.errors import OutputError
from generator.pages import feed, fermentation_view, ledger_view, lists, reference, why_view
from generator.pages.batch import batch_page
from generator.pages.contracts import BatchCharts, Page
from generator.pages.data import batch_json
from generator.pages.render import render, templates_dir
from generator.pages.sheet_view import sheet_page
from generator.pages.site_map import SiteMap, batch_path, order, sheet_path
from generator.publish.staging import claimed, named
from generator.records.files import TABLE_LIMIT, Reader
from generator.records.journal import BatchRecord, Journal, load

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
    pages: dict[str, Page] = {
        "index.html": lists.index_page(site),
        "lessons.html": lists.lessons_page(site),
        "methods.html": reference.methods_page(site),
        "safety.html": reference.safety_page(site),
    }
    pages |= {f"recipes/{key}.html": lists.recipe_page(site, key, _history(batches)) for key, batches in site.recipes.items()}
    for path, page in pages.items():
        yield path, render(page).encode()
    for one in site.reports:
        yield batch_path(one.batch.slug), render(batch_page(site, one, _charts(one))).encode()
        yield sheet_path(one.batch.slug), render(sheet_page(site, one)).encode()
        yield f"batches/{one.batch.slug}.json", batch_json(one).encode()
        yield from _downloads(one.batch)
        done()
    if site.settings.base_url:
        yield "feed.xml", feed.atom(site).encode()
        listed = [*pages, *(path(one.batch.slug) for one in site.reports for path in (batch_path, sheet_path))]
        yield "sitemap.xml", feed.sitemap(site, listed).encode()


def _downloads(batch: BatchRecord) -> Iterator[tuple[str, bytes]]:
    """The batch's own files, as they are."""
    for name, wanted in (("plan.toml", True), ("readings.csv", bool(batch.readings)), ("gravity-log.csv", bool(batch.log))):
        if wanted:
            content = Reader(batch.folder).bytes(batch.folder / name, TABLE_LIMIT)
            if content is not None:
                yield f"batches/{batch.slug}/{name}", content


def _charts(one: Report) -> BatchCharts:
    return BatchCharts(_ledger(one), _causes(one), _fermentation(one))


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


def _fermentation(one: Report) -> Chart | None:
    if one.fermentation is None:
        return None
    from generator.charts import fermentation  # noqa: PLC0415

    planned = one.figures["final_gravity"].plan
    curves = fermentation_view.curves(one.fermentation, planned)
    return fermentation.draw(curves, fermentation_view.description(one.fermentation, planned))


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
