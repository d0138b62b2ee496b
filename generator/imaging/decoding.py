"""A picture from anyone: its kind, its size and its soundness are looked at before it is believed; what comes out is upright, sRGB and bare."""

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import PurePath

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError
from PIL.ImageFile import ImageFile

from generator.errors import Slug

KINDS = {".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".webp": "WebP"}
"""Kinds of picture that are read, by the ending of the name. SVG isn't among them: it may hold scripts."""
MOST_PIXELS = 50_000_000
LONGEST_SIDE = 16_383
"""px; more doesn't fit into WebP."""
ACCEPTED = "expected a JPEG, PNG or WebP picture (.jpg, .jpeg, .png, .webp)"
_SPACES = {"L": "GRAY", "RGB": "RGB", "CMYK": "CMYK"}
"""Which colour space a profile must be for, to be that of a picture."""
_SIXTEEN_TO_EIGHT = 1 / 257


class PictureError(Exception):
    """A picture that can't be used: what is wrong, what was expected, and the slug of its Problem."""

    def __init__(self, what: str, expected: str, slug: Slug) -> None:
        self.what, self.expected, self.slug = what, expected, slug
        super().__init__(what)


def examine(content: bytes, name: str) -> None:
    """Look at a whole picture without keeping it.

    Args:
        content: of the file.
        name: of the file, with its ending.

    Raises:
        PictureError: it is not what its name says, too large, animated or damaged.
    """
    with _careful():
        image = _opened(content, name)
        image.draft(None, (1, 1))  # a JPEG is read to its end at an eighth of its size
        image.load()


def decoded(content: bytes, name: str, width: int) -> Image.Image:
    """A picture turned upright, in sRGB, without any metadata.

    Args:
        content: of the file.
        name: of the file, with its ending.
        width: px; a wider picture is scaled down to it, a narrower one stays as it is.

    Returns:
        RGB, or RGBA where some of it can be seen through.

    Raises:
        PictureError: as of `examine`.
    """
    with _careful():
        image = _opened(content, name)
        image.draft(None, (width, width))
        image.load()
        profile = image.info.get("icc_profile")
        _turn_upright(image)
        plain = _plain(image)
        if plain.width > width:
            plain = plain.resize((width, scaled(plain.size, width)), Image.Resampling.LANCZOS)
        return _bare(_coloured(plain, profile))


def scaled(size: tuple[int, int], width: int) -> int:
    """Height of a picture of some size that is scaled to a width."""
    return max(1, round(size[1] * width / size[0]))


@contextmanager
def _careful() -> Iterator[None]:
    """Turn whatever a decoder raises on a file from anyone into a PictureError."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of metadata that are thrown away anyway
            yield
    except PictureError:
        raise
    except Image.DecompressionBombError as error:
        raise _too_large("far too many pixels") from error
    except UnidentifiedImageError as error:
        raise PictureError("this is no picture of a kind that can be shown, or its beginning is damaged", ACCEPTED, "photo-kind") from error
    except Exception as error:
        raise PictureError("the picture is damaged or cut off", "expected a file that opens in a picture viewer", "photo-damaged") from error


def _opened(content: bytes, name: str) -> ImageFile:
    """A picture whose header has been read and found fit, but no pixel yet."""
    ending = PurePath(name).suffix.lower()
    if ending not in KINDS:
        raise PictureError(f"'{ending or 'no ending'}' is no kind of picture that can be shown", ACCEPTED, "photo-kind")
    image = Image.open(io.BytesIO(content), formats=[*dict.fromkeys(kind.upper() for kind in KINDS.values())])
    kind = "JPEG" if image.format == "MPO" else str(image.format)  # a telephone may put further pictures behind the first
    if kind != KINDS[ending].upper():
        own = next(known for known in KINDS if KINDS[known].upper() == kind)
        raise PictureError(f"the name ends in {ending}, but the picture is a {KINDS[own]}", f"expected a name that ends in {own}", "photo-name")
    if image.format != "MPO" and getattr(image, "n_frames", 1) > 1:
        raise PictureError("the picture is animated", "expected one still picture", "photo-kind")
    if image.width * image.height > MOST_PIXELS or max(image.size) > LONGEST_SIDE:
        raise _too_large(f"{image.width} × {image.height} px")
    return image


def _too_large(size: str) -> PictureError:
    expected = f"expected at most {MOST_PIXELS // 1_000_000} million pixels, and {LONGEST_SIDE} px a side; scale it down"
    return PictureError(f"the picture is too large ({size})", expected, "photo-too-large")


def _turn_upright(image: Image.Image) -> None:
    """Turn a picture as its metadata say, in its place to spare memory; metadata that can't be read say nothing."""
    with suppress(Exception):  # the pixels are there already; only the metadata are broken
        ImageOps.exif_transpose(image, in_place=True)


def _plain(image: Image.Image) -> Image.Image:
    """Eight bits a channel, no palette: L, LA, RGB, RGBA or CMYK."""
    if image.mode.startswith("I"):
        return image.convert("I").point(lambda value: value * _SIXTEEN_TO_EIGHT).convert("L")
    if image.mode in ("L", "LA", "RGB", "RGBA", "CMYK") and "transparency" not in image.info:
        return image
    grey = image.mode in ("1", "L")
    if image.has_transparency_data:
        return image.convert("LA" if grey else "RGBA")
    return image.convert("L" if grey else "RGB")


def _coloured(image: Image.Image, profile: bytes | None) -> Image.Image:
    """From its own colours to sRGB, with what can be seen through kept."""
    if image.mode not in ("LA", "RGBA"):
        return _to_srgb(image, profile)
    alpha = image.getchannel("A")
    opaque = _to_srgb(image.convert(image.mode[:-1]), profile)
    if alpha.getextrema() != (255, 255):
        opaque.putalpha(alpha)
    return opaque


def _to_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """By its profile where it has one that fits; else grey, RGB and CMYK are taken as a browser takes them."""
    if profile:
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            if own.profile.xcolor_space.strip() == _SPACES[image.mode]:
                intent, flags = ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION
                converted = ImageCms.profileToProfile(image, own, _srgb(), intent, "RGB", flags=flags)
                if converted is not None:
                    return converted
        except (ImageCms.PyCMSError, OSError, ValueError):  # a broken profile: the picture is shown as if it had none
            pass
    return image.convert("RGB")


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _bare(image: Image.Image) -> Image.Image:
    """The same pixels in a picture that never had metadata: encoders write what they find in `info`."""
    return Image.frombytes(image.mode, image.size, image.tobytes())
