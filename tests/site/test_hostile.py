"""A journal that anyone may have written: nothing of it runs, nothing of it is fetched, all of it can be read."""

import re
from collections.abc import Callable
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from generator.build import build
from generator.errors import JournalError
from tests.site import hostile
from tests.site.dom import Page, parsed, text
from tests.site.test_links import ACTIVE, FETCHED, scripts
from tests.unit.imaging.samples import quarters, saved


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the hostile journal."""
    folder = tmp_path_factory.mktemp("hostile")
    for name, content in hostile.journal().items():
        path = folder / "journal" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8", newline="")
    photos = folder / "journal" / "bräu_麦-1" / "photos"
    photos.mkdir()
    for name in hostile.PHOTOS:
        (photos / name).write_bytes(saved(quarters(), "JPEG"))
    build(folder / "journal", folder / "site")
    return folder / "site"


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Page]:
    """Its pages: that the strict parser takes them is a test by itself."""
    return parsed(site)


def test_there_are_enough_of_them() -> None:
    """More than a hundred texts, no two alike."""
    everything = (*hostile.FIELDS, *hostile.TARGETS, *hostile.TRICKS)
    assert len(set(everything)) == len(everything) > 130


def test_nothing_is_active(pages: dict[str, Page]) -> None:
    """No element that runs or frames, no handler, no style attribute, anywhere."""
    assert len(pages) > 20
    for page in pages.values():
        assert not [element.tag for element in page.all(*ACTIVE, "style", "math", "video", "audio", "input", "button")], page.path
        assert all(re.fullmatch(r"(\.\./)*assets/(js/)?[a-z-]+\.js", path) for path in scripts(page)), page.path
        names = {name.lower() for element in page.elements for name in element.attrib}
        assert not [name for name in names if name.startswith("on") or name in ("style", "srcdoc", "ping", "xlink:href")], page.path
        sheets = page.path.endswith("-sheet.html")  # which have a style sheet of their own
        assert len(list(page.all("link"))) == len(list(pages["index.html"].all("link"))) + sheets, page.path
        assert {meta.get("http-equiv") for meta in page.all("meta")} == {None, "Content-Security-Policy"}, page.path


def test_links_lead_to_harmless_places(pages: dict[str, Page]) -> None:
    """Whatever a browser makes of a link, its scheme is http, https, mailto or none, and it names no host without one."""
    count = 0
    for page in pages.values():
        for element in page.all("a"):
            count += 1
            plain = re.sub(r"[\x00-\x20]", "", unquote(element.attrib["href"])).lower()
            assert urlsplit(plain).scheme in ("", "http", "https", "mailto"), (page.path, plain)
            assert not plain.startswith(("//", "\\", "/\\")), (page.path, plain)
    assert count > 500


def test_nothing_is_fetched(pages: dict[str, Page]) -> None:
    """No picture or sheet comes from elsewhere: a remote picture is a link."""
    for page in pages.values():
        for element in page.elements:
            urls = [element.attrib[name] for name in FETCHED if name in element.attrib]
            urls += [element.attrib["href"]] if element.tag == "link" and element.get("rel") in ("stylesheet", "icon") else []
            assert all(not urlsplit(url).scheme and not urlsplit(url).netloc for url in urls), (page.path, urls)
    (story,) = [page for page in pages.values() if "link 0" in text(page.root)]
    assert "https://evil.example/0" in [element.get("href") for element in story.all("a")]


def test_everything_can_be_read(pages: dict[str, Page]) -> None:
    """Each text of a field comes out letter by letter on the page of its batch, template syntax too."""
    shown = " ".join(text(page.root) for page in pages.values())
    missing = [field for field in hostile.FIELDS if " ".join(field.split()) not in shown]
    assert missing == []


def test_template_syntax_is_never_computed(site: Path) -> None:
    """No template ran over what a journal says."""
    for path in site.rglob("*.html"):
        words = path.read_text(encoding="utf-8")
        assert "1337" not in words, path.name
        assert "&lt;class" not in words
        assert "x" * 9 not in words


def test_odd_names_of_pictures_stay_words(pages: dict[str, Page]) -> None:
    """Every picture stands on the page of its batch, its files named by their content alone, its words as text."""
    page = pages["batches/bräu_麦-1.html"]
    images = list(page.all("img"))
    assert len(images) == len(hostile.PHOTOS)
    assert all(re.fullmatch(r"br%C3%A4u_%E9%BA%A6-1/photos/[0-9a-f]{16}-64\.jpg", image.attrib["src"]) for image in images)
    assert {text(caption) for caption in page.all("figcaption")} >= {'t\' " onload="alert(1)', "<script>alert(1)</script>", "Onload alert 1"}


def test_odd_names_of_folders_make_good_links(site: Path) -> None:
    """A folder with letters of other scripts has its page, its sheet, its data and its files, and links are encoded."""
    assert {path.name for path in (site / "batches").glob("b*_*")} == {"bräu_麦-1", "bräu_麦-1.html", "bräu_麦-1-sheet.html", "bräu_麦-1.json"}
    assert 'href="batches/br%C3%A4u_%E9%BA%A6-1.html"' in (site / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ['a"onmouseover="x', "a&b", "<b>", "a%2fb", "a?b", "a#b", "javascript:x"])
def test_names_that_could_break_a_link_are_refused(name: str, make_site: Callable[[dict[str, str]], Path]) -> None:
    """A folder that can't name a page stops the build with a message."""
    with pytest.raises(JournalError, match="folder-name"):
        make_site({"journal.toml": "title = 'J'\n", f"{name}/plan.toml": "[batch]\nrecipe = 'R'\nbrewed = 2026-01-02\n"})
