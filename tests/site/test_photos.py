"""Pictures in built sites: every file is there and bare, every figure whole, nothing is published when one of them is unfit."""

import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from generator.build import build
from generator.errors import JournalError
from generator.records import photos
from tests.cases.made import good
from tests.cases.made_photos import photo
from tests.site.dom import Page, text
from tests.unit.imaging.samples import MARK, quarters, saved, shaded, told

NAME = re.compile(r"[\w%-]+/photos/[0-9a-f]{16}-\d+\.(webp|jpg|png)")


def _site(tmp_path: Path, spoil: Callable[[Path], None]) -> Path:
    journal = good(tmp_path / "journal")
    spoil(journal)
    build(journal, tmp_path / "site")
    return tmp_path / "site"


def _asked(page: Page) -> set[str]:
    """Every file that the pictures of a page may ask for."""
    found = {image.attrib["src"] for image in page.all("img")}
    return found | {part.split()[0] for source in page.all("source") for part in source.attrib["srcset"].split(", ")}


def test_every_file_is_asked_for_and_there(pages: dict[str, Page], demo_site: Path) -> None:
    """The pages ask for exactly the files of pictures that the site holds, each as wide as the page says."""
    asked = set()
    for page in pages.values():
        for source in page.all("source"):
            for part in source.attrib["srcset"].split(", "):
                name, width = part.split()
                with Image.open((demo_site / page.path).parent / name) as image:
                    assert f"{image.width}w" == width
        names = _asked(page)
        assert all(NAME.fullmatch(name) for name in names)
        asked |= {(Path(page.path).parent / name).as_posix() for name in names}
    held = {path.relative_to(demo_site).as_posix() for path in demo_site.rglob("*") if path.suffix in (".webp", ".jpg", ".png")}
    assert asked == held
    assert len(held) == 12


def test_every_picture_has_its_words_and_its_place(pages: dict[str, Page]) -> None:
    """A caption in the same figure, alternative text or a caption in its stead, width and height as the file's; lazy only on the screen."""
    count = 0
    for page in pages.values():
        for image in page.all("img"):
            count += 1
            figure = next(element for element in page.ancestors(image) if element.tag == "figure")
            (caption,) = [element for element in figure.iter() if element.tag == "figcaption"]
            assert text(caption)
            assert image.get("alt") is not None
            assert image.get("alt") != text(caption)
            assert int(image.attrib["width"]) > 0 < int(image.attrib["height"])
            screen = any("screen" in element.get("class", "").split() for element in page.ancestors(image))
            assert (image.get("loading") == "lazy") is screen
            assert image.get("decoding") == "async"
    assert count == 3


def test_nothing_of_the_source_but_its_pixels_is_published(tmp_path: Path) -> None:
    """No file of the site holds a word of the metadata, or the name that the picture had."""

    def spoil(journal: Path) -> None:
        for kind, ending in (("JPEG", "jpg"), ("PNG", "png"), ("WEBP", "webp")):
            photo(journal, f"IMG_20260214_091000_{kind}.{ending}", told(kind))

    site = _site(tmp_path, spoil)
    files = [path for path in site.rglob("*") if path.is_file()]
    assert sum(path.suffix == ".webp" for path in files) == 6
    for path in files:
        content = path.read_bytes()
        assert MARK.encode() not in content, path.name
        assert b"091000" not in content, path.name
        assert "091000" not in path.name


def test_same_bytes_whatever_the_names_and_however_often(tmp_path: Path) -> None:
    """Two journals in two places give the same files of pictures; one picture twice is published once."""

    def spoil(journal: Path) -> None:
        photo(journal, "a.jpg", saved(shaded((700, 500)), "JPEG"))
        photo(journal, "b.jpg", saved(shaded((700, 500)), "JPEG"))

    one, other = (_site(tmp_path / name, spoil) for name in ("one", "other"))
    files = [{path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()} for site in (one, other)]
    assert files[0] == files[1]
    assert sum(name.endswith(".webp") for name in files[0]) == 2


def test_a_clear_picture_keeps_its_png(tmp_path: Path) -> None:
    """The file for readers without WebP is a PNG, so that what is clear stays clear."""
    site = _site(tmp_path, lambda journal: photo(journal, "label.png", saved(quarters().convert("RGBA").rotate(45, expand=True), "PNG")))
    (path,) = site.rglob("*.png")
    assert Image.open(io.BytesIO(path.read_bytes())).mode == "RGBA"


@pytest.mark.parametrize("early", [True, False])
def test_an_unfit_picture_publishes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, early: bool) -> None:
    """What stood stays to the byte, whether the picture is found unfit before or while the site is made."""
    site = _site(tmp_path, lambda journal: photo(journal, "mash.jpg", saved(quarters(), "JPEG")))
    before = {path: path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    photo(tmp_path / "journal", "mash.jpg", saved(quarters(), "JPEG")[:200])
    if not early:
        monkeypatch.setattr(photos, "examine", lambda _content, _name: None)
    with pytest.raises(JournalError, match="photo-"):
        build(tmp_path / "journal", site)
    assert {path: path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()} == before


def test_pages_without_pictures_ask_for_none(pages: dict[str, Page]) -> None:
    """A batch without pictures has neither a gallery nor a rule about pictures in its page."""
    page = pages["batches/2026-02-21-fog-bell-2.html"]
    assert not list(page.all("img", "picture", "source"))
    assert "pictures" not in page.ids
