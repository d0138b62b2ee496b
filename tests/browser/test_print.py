"""The printed report: two pages, black on white, nothing split, nothing that only a screen can do."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import opened

LONG_STORY = 260
"""Words of story that fit two pages beside everything else."""


def _sheets(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_report_fits_two_pages(page: Page, demo_site: Path, size: str) -> None:
    """Each batch of the demo, without its pictures, on two sheets; a third only for a story longer than most."""
    for path in sorted((demo_site / "batches").glob("*.html")):
        opened(page, path)
        if page.locator("body.sheet").count():
            continue
        page.evaluate("document.querySelectorAll('.plate').forEach(picture => picture.remove())")
        words = sum(len(text.split()) for text in page.locator(".story").all_inner_texts())
        assert _sheets(page.pdf(format=size)) <= (2 if words <= LONG_STORY else 3), path.name


def test_sheets_are_counted_right(page: Page) -> None:
    """The count sees a second and a third sheet."""
    page.set_content("<p style='break-after: page'>1<p style='break-after: page'>2<p>3")
    assert _sheets(page.pdf(format="A4")) == 3


def test_a_longer_story_runs_on(page: Page, kinds: dict[str, Path]) -> None:
    """A story of thousands of words more takes more sheets: it isn't cut."""
    opened(page, kinds["strong"])
    before = _sheets(page.pdf(format="A4"))
    page.evaluate("() => { const p = document.querySelector('.story p'); p.textContent += ' word'.repeat(2500); }")
    assert _sheets(page.pdf(format="A4")) > before


def test_screens_stay_on_the_screen(page: Page, kinds: dict[str, Path]) -> None:
    """Navigation, folded tables, timeline, data files and links to tables aren't printed; the narrow charts are."""
    opened(page, kinds["strong"], media="print")
    for gone in (".masthead", ".skip", "details", "#timeline", "#files", "figcaption a", ".pair .chart.wide"):
        assert page.locator(gone).count() > 0, gone
        assert page.locator(f"{gone}:visible").count() == 0, gone
    for kept in ("h1", ".statement", "table.account", ".pair .chart.narrow", ".caution"):
        assert page.locator(f"{kept}:visible").count() > 0, kept


def test_figures_rows_and_cautions_stay_whole(page: Page, kinds: dict[str, Path]) -> None:
    """No break inside a figure, a row of a table, a list item or a caution, and none after a heading."""
    opened(page, kinds["stuck"], media="print")
    inside = "[...document.querySelectorAll('figure, tr, li, .caution')].filter(e => getComputedStyle(e).breakInside !== 'avoid').length"
    after = "[...document.querySelectorAll('h2, h3')].filter(e => getComputedStyle(e).breakAfter !== 'avoid').length"
    assert page.evaluate(inside) == 0
    assert page.evaluate(after) == 0


def test_print_is_black_on_white(page: Page, kinds: dict[str, Path]) -> None:
    """Every text is dark enough for a laser printer, also from a dark screen."""
    opened(page, kinds["stuck"], media="print", color_scheme="dark")
    script = """[...document.querySelectorAll('main *')].filter(e => e.getClientRects().length && e.childNodes.length)
        .map(e => getComputedStyle(e).color.match(/\\d+/g).slice(0, 3).map(Number)).filter(c => Math.max(...c) > 110).length"""
    assert page.evaluate(script) == 0
