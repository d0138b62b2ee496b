"""A reader without a mouse: the way past the head first, then every stop in sight."""

from pathlib import Path

from playwright.sync_api import Page

from tests.browser.conftest import opened

FOCUSED = """() => { const at = document.activeElement, box = at.getBoundingClientRect(), style = getComputedStyle(at);
    return { tag: at.tagName, text: at.textContent.trim(), visible: box.width > 0 && box.right > 0 && box.left >= 0,
             outline: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2 }; }"""


def test_the_first_stop_leads_past_the_head(page: Page, kinds: dict[str, Path]) -> None:
    """The first tab stop shows itself and leads to the main part of the page."""
    for kind, path in kinds.items():
        opened(page, path)
        assert page.evaluate("document.querySelector('.skip').getBoundingClientRect().right") < 0, kind
        page.keyboard.press("Tab")
        first = page.evaluate(FOCUSED)
        assert first["text"] == "To the page", kind
        assert first["visible"], kind
        page.keyboard.press("Enter")
        assert page.url.endswith("#main"), kind


def test_every_stop_is_in_sight(page: Page, kinds: dict[str, Path]) -> None:
    """From the first stop to the last each one shows an outline, and there is no trap."""
    for kind in ("index", "logged", "planned", "methods"):
        opened(page, kinds[kind])
        stops = []
        for _ in range(80):
            page.keyboard.press("Tab")
            stop = page.evaluate(FOCUSED)
            if stop["tag"] == "BODY":
                break
            stops.append(stop)
        assert len(stops) > 10, kind
        assert [stop for stop in stops if not (stop["outline"] and stop["visible"])] == [], kind


def test_folded_tables_open_by_key(page: Page, kinds: dict[str, Path]) -> None:
    """The summary of a folded table takes the focus and opens it."""
    opened(page, kinds["strong"])
    page.locator("summary").first.focus()
    page.keyboard.press("Enter")
    assert page.locator("details table").first.is_visible()


def test_a_link_to_a_folded_table_opens_it(page: Page, kinds: dict[str, Path]) -> None:
    """The caption's link leads to the table of the readings, folded or not."""
    opened(page, kinds["strong"])
    page.locator("a[href='#fermentation-table']").click()
    assert page.locator("#fermentation-table").is_visible()
