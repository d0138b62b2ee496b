"""Encoding: never wider than it was, the same bytes each time, and nothing in the files but pixels."""

import io
import struct

import pytest
from PIL import Image

from generator.imaging.encoding import Encoded, encoded
from tests.unit.imaging.samples import MARK, saved, seen_through, shaded, told


def opened(content: bytes) -> Image.Image:
    """A file as a picture."""
    return Image.open(io.BytesIO(content))


@pytest.mark.parametrize(
    ("size", "widths", "fallback"),
    [
        ((3000, 2000), [480, 960, 1440], 960), ((1440, 900), [480, 960, 1440], 960), ((1300, 900), [480, 960, 1300], 960),
        ((1100, 2000), [480, 1100], 960), ((520, 300), [520], 520), ((40, 300), [40], 40), ((1, 1), [1], 1),
    ],
)  # fmt: skip
def test_widths(size: tuple[int, int], widths: list[int], fallback: int) -> None:
    """Three widths where the picture has them, no width twice, none larger than the picture; proportions stay."""
    made = encoded(saved(shaded(size), "JPEG"), "x.jpg")
    assert [one.width for one in made.webp] == widths
    assert made.fallback.width == fallback
    assert (made.width, made.height) == opened(made.webp[-1].content).size
    for one in (*made.webp, made.fallback):
        image = opened(one.content)
        assert image.width == one.width
        assert abs(image.height - size[1] * one.width / size[0]) <= 0.51 or image.height == 1


def test_kinds_of_files() -> None:
    """WebP with a JPEG beside it; with a PNG where the picture can be seen through."""
    plain, clear = encoded(saved(shaded((600, 400)), "PNG"), "x.png"), encoded(saved(seen_through((600, 400)), "PNG"), "x.png")
    for made, suffix, kind in ((plain, ".jpg", "JPEG"), (clear, ".png", "PNG")):
        assert {opened(one.content).format for one in made.webp} == {"WEBP"}
        assert (made.fallback.suffix, opened(made.fallback.content).format) == (suffix, kind)
    assert {opened(one.content).mode for one in (*clear.webp, clear.fallback)} == {"RGBA"}


def test_the_picture_stays_the_picture() -> None:
    """Scaled and encoded, the colours are on average within four steps of 255 of the same picture scaled by a box."""
    source = shaded((1600, 1200))
    made = encoded(saved(source, "PNG"), "x.png")
    for one in (*made.webp, made.fallback):
        image = opened(one.content).convert("RGB")
        wanted = source.resize(image.size, Image.Resampling.BOX)
        difference = sum(abs(a - b) for a, b in zip(image.tobytes(), wanted.tobytes(), strict=True)) / (3 * image.width * image.height)
        assert difference < 4, one


def test_same_bytes_each_time() -> None:
    """Twice the same picture gives twice the same files."""
    content = saved(shaded((1000, 700)), "JPEG")
    assert encoded(content, "x.jpg") == encoded(content, "x.jpg")


def _parts(content: bytes) -> set[bytes]:
    """Names of the parts of a file: segments of a JPEG before its pixels, chunks of PNG and WebP."""
    found, at = set(), 2 if content[:2] == b"\xff\xd8" else 8 if content[:4] == b"\x89PNG" else 12
    while at < len(content):
        if content[:2] == b"\xff\xd8":
            found.add(content[at : at + 2])
            if content[at + 1] == 0xDA:
                break
            at += 2 + struct.unpack(">H", content[at + 2 : at + 4])[0]
        elif content[:4] == b"\x89PNG":
            found.add(content[at + 4 : at + 8])
            at += 12 + struct.unpack(">I", content[at : at + 4])[0]
        else:
            found.add(content[at : at + 4])
            size = struct.unpack("<I", content[at + 4 : at + 8])[0]
            at += 8 + size + size % 2
    return found


def _files(made: Encoded) -> list[bytes]:
    return [one.content for one in (*made.webp, made.fallback)]


_JPEG = {b"\xff\xe0", b"\xff\xdb", b"\xff\xc0", b"\xff\xc2", b"\xff\xc4", b"\xff\xda"}
PIXELS_ONLY = _JPEG | {b"IHDR", b"IDAT", b"IEND", b"PLTE", b"VP8 ", b"VP8L", b"VP8X", b"ALPH"}
"""What a file needs for its pixels; of a JPEG also the two bytes of density in its first segment."""


@pytest.mark.parametrize("profiled", [True, False])
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_metadata_are_gone(kind: str, *, profiled: bool) -> None:
    """Place, day, camera, comment, XMP and profile of the source are in none of the files: neither their words nor a part to hold them."""
    source = told(kind, profiled=profiled, size=(400, 300))
    assert MARK.encode() in source
    assert _parts(source) - PIXELS_ONLY
    for content in _files(encoded(source, f"x.{kind.lower()}")):
        assert MARK.encode() not in content
        assert b"2026" not in content
        assert _parts(content) <= PIXELS_ONLY
        image = opened(content)
        assert not image.getexif()
        assert not {"exif", "icc_profile", "comment", "xmp", "XML:com.adobe.xmp", "Comment"} & set(image.info)
