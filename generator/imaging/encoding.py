"""A picture for pages: WebP in a few widths, never wider than it was, and one JPEG or PNG for old readers. Same bytes in, same bytes out."""

import io
from dataclasses import dataclass

from PIL import Image

from generator.imaging.decoding import decoded, scaled

WIDEST = 1440
"""px: a full column on a screen of two pixels a point, and on paper."""
NARROWER = (480, 960)
FALLBACK = 960
_STEP = 1.25
"""A width that is hardly narrower than the picture isn't made."""


@dataclass(frozen=True, slots=True)
class Variant:
    """One file of a picture."""

    width: int
    suffix: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Encoded:
    """All files of a picture."""

    width: int
    height: int
    """px of the widest file."""
    webp: tuple[Variant, ...]
    """From the narrowest to the widest."""
    fallback: Variant


def encoded(content: bytes, name: str) -> Encoded:
    """Encode a picture for a page.

    Args:
        content: of the file.
        name: of the file, with its ending.

    Raises:
        PictureError: it can't be decoded.
    """
    image = decoded(content, name, WIDEST)
    widths = [width for width in NARROWER if width * _STEP <= image.width]
    webp = tuple(Variant(width, ".webp", _webp(_at(image, width))) for width in (*widths, image.width))
    return Encoded(image.width, image.height, webp, _fallback(_at(image, min(FALLBACK, image.width))))


def _at(image: Image.Image, width: int) -> Image.Image:
    return image if width == image.width else image.resize((width, scaled(image.size, width)), Image.Resampling.LANCZOS)


def _webp(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "WEBP", quality=78, method=4)
    return buffer.getvalue()


def _fallback(image: Image.Image) -> Variant:
    """JPEG, or PNG where the picture can be seen through."""
    buffer = io.BytesIO()
    if image.mode == "RGBA":
        image.save(buffer, "PNG", optimize=True)
        return Variant(image.width, ".png", buffer.getvalue())
    image.save(buffer, "JPEG", quality=80, optimize=True, progressive=True, subsampling="4:2:0")
    return Variant(image.width, ".jpg", buffer.getvalue())
