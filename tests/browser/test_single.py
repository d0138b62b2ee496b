"""One batch in one file: nothing is fetched, nothing is missing, and it looks and prints as its page does."""

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page

from generator.build import one_file
from generator.planning import find
from tests.browser.conftest import opened
from tests.browser.test_print import _sheets
from tests.conftest import DEMO

STRONG, PLANNED = "2025-11-15-fog-bell-1", "2027-02-13-fog-bell-5"
FACES = "[...document.fonts].filter(face => face.status === 'loaded').map(face => `${face.family.replaceAll('\"', '')} ${face.style}`).sort()"


def _written(folder: Path, root: Path, slug: str) -> Path:
    path = folder / f"{slug}.html"
    path.write_bytes(one_file(find(root, slug)))
    return path


@pytest.fixture(scope="module")
def singles(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A brewed batch with pictures and a planned one, alone in their folder."""
    folder = tmp_path_factory.mktemp("single")
    return {slug: _written(folder, DEMO, slug) for slug in (STRONG, PLANNED)}


@pytest.fixture(scope="module")
def addressed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The brewed one from a journal that has an address."""
    folder = tmp_path_factory.mktemp("addressed")
    shutil.copytree(DEMO, folder / "batches")
    settings = folder / "batches" / "journal.toml"
    text = settings.read_text(encoding="utf-8").replace('base_url = ""', 'base_url = "https://journal.example/beer/"')
    settings.write_text(text, encoding="utf-8")
    return _written(folder, folder / "batches", STRONG)


def test_it_asks_nobody_and_complains_of_nothing(page: Page, singles: dict[str, Path], addressed: Path) -> None:
    """The only request is the file itself; the policy lets all of it in, and the console is silent."""
    heard: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.on("requestfailed", lambda request: heard.append(request.url))
    page.on("request", lambda request: asked.append(request.url))
    for path in (*singles.values(), addressed):
        asked.clear()
        opened(page, path)
        page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
        assert [url for url in asked if not url.startswith("data:")] == [path.as_uri()]
    assert heard == []


def test_it_looks_as_its_page_does(page: Page, singles: dict[str, Path], demo_site: Path) -> None:
    """The same faces, computed styles and charts; every word of the page but those that lead elsewhere in the journal."""
    probe = """[...document.querySelectorAll('h1, .statement, table, figure, svg.chart, .caution')].filter(e => e.getClientRects().length)
        .map(e => { const s = getComputedStyle(e), width = Math.round(e.getBoundingClientRect().width);
            return [e.tagName, s.fontFamily, s.fontSize, s.color, width].join(' '); })"""
    opened(page, demo_site / "batches" / f"{STRONG}.html")
    before, faces, words = page.evaluate(probe), page.evaluate(FACES), page.locator("#main section:not([data-within])").all_inner_texts()
    opened(page, singles[STRONG])
    assert page.evaluate(probe) == before
    assert len(before) > 15
    assert page.evaluate(FACES) == faces
    assert len(faces) == 4, "a face that no page uses needn't be inside"
    after = page.locator("#main section").all_inner_texts()
    assert [re.sub(r"\s*\bSafety\b", "", text) for text in after] == [re.sub(r"\s*\bSafety\b", "", text) for text in words]


def test_pictures_are_inside(page: Page, singles: dict[str, Path]) -> None:
    """Every picture is drawn, from data."""
    opened(page, singles[STRONG])
    pictures = page.evaluate("[...document.images].map(image => [image.src.slice(0, 11), image.complete && image.naturalWidth > 0])")
    assert len(pictures) >= 1
    assert all(picture == ["data:image/", True] for picture in pictures)


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_it_prints_as_its_page_does(page: Page, singles: dict[str, Path], demo_site: Path, size: str) -> None:
    """As many sheets as the page, which are two where the story isn't long."""
    for slug, path in singles.items():
        opened(page, demo_site / "batches" / f"{slug}.html")
        wanted = _sheets(page.pdf(format=size))
        opened(page, path)
        assert _sheets(page.pdf(format=size)) == wanted, slug
        assert 1 <= wanted <= 3, slug


def test_links_lead_nowhere_or_to_the_published_journal(page: Page, singles: dict[str, Path], addressed: Path) -> None:
    """Without an address no link leaves the file but those of the notes; with one, the journal's pages are absolute."""
    links = "[...document.querySelectorAll('a')].map(link => link.getAttribute('href'))"
    for path in singles.values():
        found = opened(page, path).evaluate(links)
        assert all(link.startswith(("#", "https:", "http:", "mailto:")) for link in found)
        assert page.locator("nav:visible, #files:visible, .to-sheet:visible").count() == 0
        assert all(page.locator(link).count() == 1 for link in found if link.startswith("#"))
    found = opened(page, addressed).evaluate(links)
    assert {"https://journal.example/beer/index.html", "https://journal.example/beer/recipes/fog-bell.html"} <= set(found)
    assert all(link.startswith(("#", "http:", "https:", "mailto:")) for link in found)
    assert page.locator("nav:visible").count() >= 1


def test_its_data_can_be_read(page: Page, singles: dict[str, Path]) -> None:
    """The block of linked data is JSON in the browser, too."""
    opened(page, singles[STRONG])
    kind = page.evaluate("JSON.parse(document.querySelector('script[type=\"application/ld+json\"]').textContent)['@type']")
    assert kind == "Article"
