"""Every page in a browser: quiet, self-contained, readable on the narrowest phone, without a script, in both schemes."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import opened

BACKGROUND = "getComputedStyle(document.body).backgroundColor"
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def test_pages_are_quiet_and_ask_nobody(page: Page, paths: list[Path]) -> None:
    """No console message, no error, and no request that leaves the folder."""
    heard: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.on("requestfailed", lambda request: heard.append(f"{request.failure}: {request.url}"))
    page.on("request", lambda request: asked.append(request.url))
    for path in paths:
        opened(page, path)
    assert [text for text in heard if not text.startswith("net::ERR_ABORTED")] == []  # the next page came before the icon
    assert len(asked) > 5 * len(paths)
    assert [url for url in asked if not url.startswith(paths[0].parents[1].as_uri() + "/")] == []


def test_fonts_and_sheets_arrive(page: Page, kinds: dict[str, Path]) -> None:
    """The policy of the page lets its own sheets and fonts in: the faces are loaded, not fallen back from."""
    opened(page, kinds["strong"])
    faces = page.evaluate("[...document.fonts].filter(face => face.status === 'loaded').map(face => face.family.replaceAll('\"', ''))")
    assert set(faces) == {"Ledger Serif", "Ledger Sans"}
    assert page.evaluate("document.styleSheets.length") == 5


@pytest.mark.parametrize("width", [320, 360])
def test_no_page_scrolls_sideways(page: Page, paths: list[Path], width: int) -> None:
    """At the width of a small phone nothing sticks out, folded tables unfolded."""
    page.set_viewport_size({"width": width, "height": 700})
    wide = []
    for path in paths:
        opened(page, path)
        page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
        if page.evaluate(SIDEWAYS) > 0:
            wide.append(path.name)
    assert wide == []


def test_no_number_lies_on_its_neighbour_on_a_phone(page: Page, paths: list[Path]) -> None:
    """In the tables of a narrow page no cell's text sticks out of its cell."""
    page.set_viewport_size({"width": 320, "height": 700})
    script = """[...document.querySelectorAll('table :is(td, th)')].filter(cell => {
        const range = document.createRange(); range.selectNodeContents(cell);
        const ink = range.getBoundingClientRect(), box = cell.getBoundingClientRect();
        return ink.width > 0 && (ink.right > box.right + 1.5 || ink.left < box.left - 1.5);
    }).map(cell => cell.textContent)"""
    for path in paths:
        assert opened(page, path).evaluate(script) == [], path.name


def test_everything_is_there_without_scripts(browser: Browser, page: Page, kinds: dict[str, Path]) -> None:
    """A browser with JavaScript off shows the same words and draws the same charts; scripts only add fields to find with."""
    context = browser.new_context(java_script_enabled=False, viewport={"width": 1280, "height": 900})
    plain = context.new_page()
    for kind, path in kinds.items():
        plain.goto(path.as_uri())
        opened(page, path)
        if kind == "search":
            assert "needs JavaScript" in plain.locator("main").inner_text()
            continue
        page.evaluate("document.querySelectorAll('.tools').forEach(field => { field.remove(); })")
        assert plain.locator("main").inner_text() == page.locator("main").inner_text(), kind
        assert plain.locator("svg.chart.wide:visible").count() == page.locator("svg.chart.wide:visible").count(), kind
    context.close()


def test_scheme_follows_the_reader(page: Page, kinds: dict[str, Path]) -> None:
    """Light paper, dark paper, and white paper in print whatever the screen prefers."""
    for kind, path in kinds.items():
        grounds = [opened(page, path, color_scheme=scheme).evaluate(BACKGROUND) for scheme in ("light", "dark")]
        assert grounds == ["rgb(251, 248, 241)", "rgb(21, 25, 28)"], kind
        page.emulate_media(media="print", color_scheme="dark")
        assert page.evaluate(BACKGROUND) == "rgb(255, 255, 255)", kind
        page.emulate_media(media="screen")


def test_forced_colours(browser: Browser, kinds: dict[str, Path]) -> None:
    """In a reader's own palette the labels of charts stand out from the ground and every page can be drawn."""
    context = browser.new_context(forced_colors="active", viewport={"width": 1280, "height": 900})
    page = context.new_page()
    for kind in ("strong", "recipe"):
        opened(page, kinds[kind])
        assert len(page.screenshot()) > 10_000, kind
        assert page.evaluate("matchMedia('(forced-colors: active)').matches"), kind
        colours = page.evaluate(f"[getComputedStyle(document.querySelector('svg.chart text')).fill, {BACKGROUND}]")
        assert colours[0] != colours[1], kind
    context.close()


def test_prose_keeps_its_measure(page: Page, kinds: dict[str, Path]) -> None:
    """On a wide page a full line of the story holds 55 to 80 characters."""
    opened(page, kinds["strong"])
    script = """() => { const text = [...document.querySelectorAll('.story p')].sort((a, b) => b.textContent.length - a.textContent.length)[0];
        const range = document.createRange(); range.selectNodeContents(text);
        const lines = new Set([...range.getClientRects()].map(box => Math.round(box.top))).size;
        return [text.textContent.length, lines]; }"""
    letters, lines = page.evaluate(script)
    assert lines > 3
    assert 55 <= letters / (lines - 0.5) <= 80
