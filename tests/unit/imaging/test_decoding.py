"""Decoding: upright by the Exif standard, sRGB as colour-science computes it, and every unfit file refused by its slug."""

import io

import colour
import numpy as np
import pytest
from PIL import Image
from PIL.ImageFile import ImageFile

from generator.imaging.decoding import MOST_PIXELS, PictureError, decoded, examine, scaled
from tests.unit.imaging.samples import CORNERS, png_header, profile, quarters, saved, seen_through, shaded

ORIENTATIONS = {
    1: ("top", "left"), 2: ("top", "right"), 3: ("bottom", "right"), 4: ("bottom", "left"),
    5: ("left", "top"), 6: ("right", "top"), 7: ("right", "bottom"), 8: ("left", "bottom"),
}  # fmt: skip
"""Where the first row and the first column of the file are to be seen: Exif 2.3 (JEITA CP-3451C), tag 274. From memory."""
OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
BROKEN_PROFILE = b"no profile at all" * 20


def slug(content: bytes, name: str) -> str:
    """The slug that a file is refused with, "" where it is taken; both ways in refuse alike."""
    found = []
    for look in (lambda: examine(content, name), lambda: decoded(content, name, 1440)):
        try:
            look()
            found.append("")
        except PictureError as error:
            found.append(error.slug)
    assert found[0] == found[1]
    return found[0]


def _near(one: tuple[int, ...], other: tuple[int, ...], by: int = 6) -> bool:
    return all(abs(a - b) <= by for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("orientation", ORIENTATIONS)
def test_pictures_are_turned_upright(orientation: int) -> None:
    """The first row and column of the file come to lie where the standard says."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    image = decoded(saved(quarters(), "JPEG", quality=95, subsampling=0, exif=exif), "x.jpg", 1440)
    assert image.size == ((64, 48) if orientation < 5 else (48, 64))
    row, column = ORIENTATIONS[orientation]
    for (vertical, horizontal), shade in CORNERS.items():
        sides = {row if vertical == "top" else OPPOSITE[row], column if horizontal == "left" else OPPOSITE[column]}
        place = (4 if "left" in sides else image.width - 5, 4 if "top" in sides else image.height - 5)
        assert _near(image.getpixel(place), shade), (vertical, horizontal)


@pytest.mark.parametrize("space", ["Display P3", "Adobe RGB (1998)"])
@pytest.mark.parametrize("shade", [(200, 90, 60), (40, 120, 70), (128, 128, 128), (90, 80, 150)])
def test_colours_of_a_profile_become_srgb(space: str, shade: tuple[int, int, int]) -> None:
    """As colour-science converts them, to two steps of 255."""
    content = saved(Image.new("RGB", (16, 16), shade), "PNG", icc_profile=profile(space))
    linear = (np.array(shade) / 255) ** 2.2
    wanted = colour.RGB_to_RGB(linear, colour.RGB_COLOURSPACES[space], colour.RGB_COLOURSPACES["sRGB"], apply_cctf_encoding=True)
    found = decoded(content, "x.png", 1440).getpixel((8, 8))
    assert np.abs(np.array(found) - np.clip(wanted, 0, 1) * 255).max() <= 2
    if len(set(shade)) > 1:
        assert not _near(found, shade, 2), "the profile changes nothing: this test would pass without it"


@pytest.mark.parametrize("mode", ["L", "1", "P", "LA", "PA", "RGBA", "I;16", "CMYK"])
def test_every_mode_is_taken(mode: str) -> None:
    """Grey, palettes, sixteen bits and printing colours come out as the colours they were, to a step or two."""
    grey = Image.new("L", (20, 20), 255)
    grey.paste(0, (10, 0, 20, 20))
    if mode == "I;16":
        image = Image.fromarray(np.asarray(grey).astype(np.uint16) * 257)
    else:
        image = grey.convert("RGB").convert(mode) if mode in ("CMYK", "P", "RGBA") else grey.convert(mode if mode != "PA" else "P")
    kind, name = ("JPEG", "x.jpg") if mode == "CMYK" else ("PNG", "x.png")
    found = decoded(saved(image, kind), name, 1440)
    assert found.mode == "RGB"
    assert _near(found.getpixel((2, 10)), (255, 255, 255))
    assert _near(found.getpixel((17, 10)), (0, 0, 0))


def test_sixteen_bits_are_scaled_and_not_cut() -> None:
    """The middle of sixteen bits is the middle of eight."""
    image = Image.fromarray(np.full((8, 8), 32896, dtype=np.uint16))
    assert decoded(saved(image, "PNG"), "x.png", 1440).getpixel((4, 4)) == (128, 128, 128)


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_what_can_be_seen_through_stays_so(kind: str) -> None:
    """Half of the picture stays clear; an alpha channel that hides nothing goes."""
    found = decoded(saved(seen_through(), kind), f"x.{kind.lower()}", 1440)
    assert [found.getpixel((x, 20))[3] for x in (2, 60)] == [0, 255]
    assert decoded(saved(quarters().convert("RGBA"), kind), f"x.{kind.lower()}", 1440).mode == "RGB"


def test_palette_with_a_clear_colour() -> None:
    """A palette's clear colour becomes an alpha channel."""
    image = Image.new("P", (8, 8), 1)
    image.putpalette([255, 0, 0, 0, 0, 255])
    image.paste(0, (0, 0, 4, 8))
    found = decoded(saved(image, "PNG", transparency=0), "x.png", 1440)
    assert [found.getpixel((x, 4))[3] for x in (1, 6)] == [0, 255]


def test_broken_metadata_harm_nothing() -> None:
    """A profile and an Exif block of nonsense leave the picture as it is."""
    for options in ({"icc_profile": BROKEN_PROFILE}, {"exif": b"Exif\0\0nonsense"}, {"icc_profile": profile()[:200]}):
        found = decoded(saved(quarters(), "JPEG", quality=95, subsampling=0, **options), "x.jpg", 1440)
        assert _near(found.getpixel((5, 5)), CORNERS["top", "left"])


def test_a_grey_picture_with_a_profile_of_colours_keeps_its_greys() -> None:
    """A profile for another kind of picture isn't used."""
    content = saved(Image.new("L", (8, 8), 100), "PNG", icc_profile=profile("Adobe RGB (1998)"))
    assert decoded(content, "x.png", 1440).getpixel((4, 4)) == (100, 100, 100)


@pytest.mark.parametrize(("size", "width", "found"), [((400, 300), 100, (100, 75)), ((90, 300), 100, (90, 300)), ((3000, 10), 30, (30, 1))])
def test_size(size: tuple[int, int], width: int, found: tuple[int, int]) -> None:
    """A wider picture is scaled down in proportion, a narrower one is left."""
    for kind, name in (("JPEG", "x.jpg"), ("PNG", "x.png")):
        assert decoded(saved(shaded(size), kind), name, width).size == found
    assert scaled((1600, 1), 480) == 1


def test_a_second_picture_behind_the_first_is_left_out() -> None:
    """A JPEG with a depth map or a preview behind it, as telephones make them, counts as a JPEG."""
    content = saved(quarters(), "MPO", save_all=True, append_images=[Image.new("RGB", (8, 8))])
    assert Image.open(io.BytesIO(content)).format == "MPO"
    assert decoded(content, "x.jpg", 1440).size == (64, 48)


@pytest.mark.parametrize(("kind", "name"), [("JPEG", "x.JPG"), ("JPEG", "x.jpeg"), ("PNG", "x.png"), ("WEBP", "x.WebP")])
def test_good_pictures_pass(kind: str, name: str) -> None:
    """Endings in any case."""
    assert slug(saved(quarters(), kind), name) == ""


@pytest.mark.parametrize(
    ("kind", "name", "wanted"),
    [
        ("JPEG", "x.png", "photo-name"), ("PNG", "x.jpg", "photo-name"), ("WEBP", "x.jpeg", "photo-name"), ("GIF", "x.png", "photo-kind"),
        ("GIF", "x.gif", "photo-kind"), ("TIFF", "x.tiff", "photo-kind"), ("BMP", "x.jpg", "photo-kind"), ("JPEG", "x", "photo-kind"),
        ("JPEG", "x.heic", "photo-kind"),
    ],
)  # fmt: skip
def test_names_and_kinds(kind: str, name: str, wanted: str) -> None:
    """A name must say what the file is, and the file be of a kind that pages show."""
    assert slug(saved(quarters(), kind), name) == wanted


@pytest.mark.parametrize("name", ["x.svg", "x.jpg"])
@pytest.mark.parametrize(
    "content", [b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", b"%!PS-Adobe-3.0 EPSF-3.0\n", b"<html>", b""]
)
def test_what_is_no_picture(content: bytes, name: str) -> None:
    """Drawings that may hold scripts, programs for printers, pages and empty files are refused."""
    assert slug(content, name) == "photo-kind"


@pytest.mark.parametrize(("kind", "name"), [("JPEG", "x.jpg"), ("PNG", "x.png"), ("WEBP", "x.webp")])
def test_cut_off_files(kind: str, name: str) -> None:
    """Nine tenths, a half and a tenth of a file are refused."""
    content = saved(shaded((300, 200)), kind)
    for part in (0.9, 0.5, 0.1):
        assert slug(content[: int(len(content) * part)], name) in ("photo-damaged", "photo-kind"), part


@pytest.mark.parametrize(("kind", "name"), [("PNG", "x.png"), ("WEBP", "x.webp")])
def test_animated_pictures(kind: str, name: str) -> None:
    """A picture that moves is refused."""
    frames = [Image.new("RGB", (8, 8), shade) for shade in ("red", "blue")]
    assert slug(saved(frames[0], kind, save_all=True, append_images=frames[1:], duration=100), name) == "photo-kind"


@pytest.mark.parametrize("size", [(60_000, 60_000), (2**31 - 1, 2**31 - 1), (10_000, 5_001), (16_384, 10)])
def test_large_pictures_are_refused_before_a_pixel_is_read(size: tuple[int, int], monkeypatch: pytest.MonkeyPatch) -> None:
    """The size that the header promises is enough; the decoder isn't called."""

    def load(_self: ImageFile) -> None:
        raise AssertionError

    monkeypatch.setattr(ImageFile, "load", load)
    assert slug(png_header(*size), "x.png") == "photo-too-large"


def test_a_large_picture_of_a_small_file() -> None:
    """A real picture a little above the limit, of a few kilobytes, is refused; one just below it is taken."""
    above, below = (saved(Image.new("1", (10_000, rows)), "PNG") for rows in (MOST_PIXELS // 10_000 + 1, MOST_PIXELS // 10_000))
    assert len(above) < 100_000
    assert slug(above, "x.png") == "photo-too-large"
    examine(below, "x.png")
