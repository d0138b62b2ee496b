"""photos/: what is found, and what happens when a picture changes while a site is made."""

import hashlib
from pathlib import Path

import pytest

from generator.errors import JournalError
from generator.markup import photo_name
from generator.records import photos
from generator.records.files import Reader
from generator.records.photos import Photo, PhotoReference
from tests.unit.imaging.samples import quarters, saved


def batch(root: Path, names: dict[str, bytes]) -> Path:
    """A batch with files in photos/."""
    folder = root / "tove-1"
    (folder / "photos").mkdir(parents=True)
    for name, content in names.items():
        (folder / "photos" / name).write_bytes(content)
    return folder


def test_pictures_are_found_by_name(tmp_path: Path) -> None:
    """In the order of their names, accents composed, hidden files left out; without photos/ there are none."""
    jpeg = saved(quarters(), "JPEG")
    folder = batch(tmp_path, {"b.jpg": jpeg, "a\u0308.JPG": jpeg, ".c.jpg": b"", "a.png": saved(quarters(), "PNG")})
    reader = Reader(tmp_path)
    assert [photo.name for photo in photos.read(reader, folder, [])] == ["a.png", "ä.JPG", "b.jpg"]
    assert photos.read(reader, tmp_path, []) == ()
    assert reader.problems == []


def test_references_are_met_however_they_are_written(tmp_path: Path) -> None:
    """Encoded, by way of the folder, with accents apart: each leads to the file."""
    folder = batch(tmp_path, {"bräu 1.jpg": saved(quarters(), "JPEG")})
    reader = Reader(tmp_path)
    targets = ("photos/bräu 1.jpg", "photos/br%C3%A4u%201.jpg", "./photos/../photos/bräu 1.jpg", "photos\\bräu 1.jpg", "photos/bra\u0308u 1.jpg")
    photos.read(reader, folder, [PhotoReference(1, target) for target in targets])
    assert reader.problems == []


@pytest.mark.parametrize(
    "target", ["x.jpg", "photos/a/x.jpg", "photos", "photos/", "https://e.org/photos/x.jpg", "../photos/x.jpg", "/photos/x.jpg", ""]
)
def test_what_is_no_photo_of_the_batch(target: str) -> None:
    """Only a file right in photos/ is."""
    assert photo_name(target) == ""


def test_files_are_named_by_their_content(tmp_path: Path) -> None:
    """The hash of the content names them, so that no name of a file is published."""
    content = saved(quarters(), "JPEG")
    batch(tmp_path, {"2026-02-14 at Tove's.jpg": content})
    called, made = photos.variants(Photo("x.jpg", tmp_path / "tove-1" / "photos" / "2026-02-14 at Tove's.jpg"))
    assert called == hashlib.sha256(content).hexdigest()[:16]
    assert made.width == 64


def test_a_picture_that_changes_meanwhile_stops_the_build(tmp_path: Path) -> None:
    """Cut off or gone since it was examined: a problem with its path, and no picture."""
    path = batch(tmp_path, {"x.jpg": saved(quarters(), "JPEG")[:300]}) / "photos" / "x.jpg"
    with pytest.raises(JournalError, match=r"^tove-1/photos/x.jpg:1: .*\[photo-(damaged|kind)\]$"):
        photos.variants(Photo("x.jpg", path))
    path.unlink()
    with pytest.raises(JournalError, match=r"^tove-1/photos/x.jpg:1: .*\[not-a-file\]$"):
        photos.variants(Photo("x.jpg", path))
