"""Journals whose pictures can't be shown: cut off, of another kind, enormous, links, pipes."""

import os
from collections.abc import Callable
from pathlib import Path

from PIL import Image

from tests.unit.imaging.samples import png_header, quarters, saved, shaded

PHOTO_MAKERS: dict[str, Callable[[Path], list[str]]] = {}
ACCEPTED = "expected a JPEG, PNG or WebP picture (.jpg, .jpeg, .png, .webp) [photo-kind]"


def _made(maker: Callable[[Path], list[str]]) -> Callable[[Path], list[str]]:
    PHOTO_MAKERS[maker.__name__.strip("_").replace("_", "-")] = maker
    return maker


def photo(root: Path, name: str, content: bytes) -> None:
    """Put a file into photos/ of the batch."""
    folder = root / "tove-1" / "photos"
    folder.mkdir(exist_ok=True)
    (folder / name).write_bytes(content)


@_made
def _photos_cut_off(root: Path) -> list[str]:
    whole = saved(shaded((300, 200)), "JPEG")
    photo(root, "mash.jpg", whole[: len(whole) // 2])
    photo(root, "boil.png", saved(shaded((300, 200)), "PNG")[:2000])
    (root / "tove-1" / "notes.md").write_text("Mash.\n\n![mash](photos/mash.jpg)\n", encoding="utf-8")
    expected = "expected a file that opens in a picture viewer [photo-damaged]"
    return [
        f"tove-1/photos/boil.png:1: the picture is damaged or cut off; {expected}",
        f"tove-1/photos/mash.jpg:1: the picture is damaged or cut off (notes.md, line 3); {expected}",
    ]


@_made
def _photos_of_other_kinds(root: Path) -> list[str]:
    photo(root, "list.txt", b"mash.jpg")
    photo(root, "mash.heic", b"\0\0\0\x18ftypheic")
    photo(root, "plan.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>")
    photo(root, "hidden.jpg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>")
    photo(root, "moves.png", saved(quarters(), "PNG", save_all=True, append_images=[Image.new("RGB", (64, 48))]))
    photo(root, ".directory", b"not looked at")
    unknown = "this is no picture of a kind that can be shown, or its beginning is damaged"
    return [
        f"tove-1/photos/hidden.jpg:1: {unknown}; {ACCEPTED}",
        f"tove-1/photos/list.txt:1: '.txt' is no kind of picture that can be shown; {ACCEPTED}",
        f"tove-1/photos/mash.heic:1: '.heic' is no kind of picture that can be shown; {ACCEPTED}",
        "tove-1/photos/moves.png:1: the picture is animated; expected one still picture [photo-kind]",
        f"tove-1/photos/plan.svg:1: '.svg' is no kind of picture that can be shown; {ACCEPTED}",
    ]


@_made
def _photo_with_the_name_of_another_kind(root: Path) -> list[str]:
    photo(root, "mash.jpg", saved(quarters(), "PNG"))
    return ["tove-1/photos/mash.jpg:1: the name ends in .jpg, but the picture is a PNG; expected a name that ends in .png [photo-name]"]


@_made
def _photos_too_large(root: Path) -> list[str]:
    photo(root, "bomb.png", png_header(60_000, 60_000))
    photo(root, "wide.png", png_header(10_000, 5_001))
    with (root / "tove-1" / "photos" / "long.jpg").open("wb") as file:
        file.truncate(200 * 1024 * 1024)
    expected = "expected at most 50 million pixels, and 16383 px a side; scale it down [photo-too-large]"
    return [
        f"tove-1/photos/bomb.png:1: the picture is too large (far too many pixels); {expected}",
        "tove-1/photos/long.jpg:1: the file is too large (200.0 MB); expected at most 40 MB [file-too-large]",
        f"tove-1/photos/wide.png:1: the picture is too large (10000 × 5001 px); {expected}",
    ]


@_made
def _photos_that_are_no_files(root: Path) -> list[str]:
    photo(root, "mash.jpg", saved(quarters(), "JPEG"))
    folder = root / "tove-1" / "photos"
    (folder / "2026.jpg").mkdir()
    os.mkfifo(folder / "pipe.jpg")
    (folder / "device.jpg").symlink_to("/dev/zero")
    (folder / "own.jpg").symlink_to("mash.jpg")
    expected = "expected a file, not a folder, pipe or device [not-a-file]"
    return [
        f"tove-1/photos/2026.jpg:1: this is not a file; {expected}",
        "tove-1/photos/device.jpg:1: the link leads out of the journal; expected a file or folder within the journal folder [leaves-journal]",
        f"tove-1/photos/pipe.jpg:1: this is not a file; {expected}",
    ]
