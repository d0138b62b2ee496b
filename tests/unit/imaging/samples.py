"""Small pictures of every kind, and a colour profile, made here so that what is in them is known."""

import io
import struct
import zlib
from typing import Any

import colour
import numpy as np
from PIL import Image
from PIL.PngImagePlugin import PngInfo

CORNERS = {("top", "left"): (250, 10, 10), ("top", "right"): (10, 250, 10), ("bottom", "left"): (10, 10, 250), ("bottom", "right"): (240, 240, 240)}
"""Colours of the four quarters of `quarters`."""


def quarters(size: tuple[int, int] = (64, 48)) -> Image.Image:
    """Four quarters of known colours."""
    image = Image.new("RGB", size)
    for (vertical, horizontal), shade in CORNERS.items():
        left, top = (horizontal == "right") * size[0] // 2, (vertical == "bottom") * size[1] // 2
        image.paste(shade, (left, top, left + size[0] // 2, top + size[1] // 2))
    return image


def seen_through(size: tuple[int, int] = (64, 48)) -> Image.Image:
    """The same with its left half as clear as glass."""
    image = quarters(size).convert("RGBA")
    alpha = Image.new("L", size, 255)
    alpha.paste(0, (0, 0, size[0] // 2, size[1]))
    image.putalpha(alpha)
    return image


def saved(image: Image.Image, kind: str, **options: Any) -> bytes:
    """A picture as a file."""
    buffer = io.BytesIO()
    image.save(buffer, kind, **options)
    return buffer.getvalue()


def shaded(size: tuple[int, int]) -> Image.Image:
    """A picture that doesn't shrink to nothing: slow waves in three colours."""
    down, across = np.mgrid[0 : size[1], 0 : size[0]]
    channels = [127 + 120 * np.sin(across / (31 + 7 * k) + down / (47 - 5 * k) + k) for k in range(3)]
    return Image.fromarray(np.stack(channels, axis=-1).astype(np.uint8))


def png_header(width: int, height: int) -> bytes:
    """A PNG that promises a size and holds next to nothing."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"\0" * 64)) + chunk(b"IEND", b"")


def profile(space: str = "Display P3", gamma: float = 2.2) -> bytes:
    """A colour profile (ICC.1:2001-04, three components with a matrix) of a space whose primaries colour-science knows."""
    known = colour.RGB_COLOURSPACES[space]
    adapted = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        colour.xy_to_XYZ(known.whitepoint), np.array([0.9642, 1.0, 0.8249]), transform="Bradford"
    )
    columns = (adapted @ known.matrix_RGB_to_XYZ).T

    def fixed(values: Any) -> bytes:
        return b"XYZ " + bytes(4) + b"".join(struct.pack(">i", round(float(value) * 65536)) for value in values)

    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(gamma * 256)) + bytes(2)
    tags = {b"rXYZ": fixed(columns[0]), b"gXYZ": fixed(columns[1]), b"bXYZ": fixed(columns[2]), b"wtpt": fixed((0.9642, 1.0, 0.8249))}
    tags |= {b"rTRC": curve, b"gTRC": curve, b"bTRC": curve}
    start, table, body = 128 + 4 + 12 * len(tags), b"", b""
    for name, content in tags.items():
        table += name + struct.pack(">II", start + len(body), len(content))
        body += content
    size = start + len(body)
    head = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x02400000, b"mntr", b"RGB ", b"XYZ ") + bytes(12) + b"acsp"
    white = struct.pack(">iii", round(0.9642 * 65536), 65536, round(0.8249 * 65536))
    head = head.ljust(68, b"\0") + white
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


MARK = "Withy Hythe ferry, 14 February"
"""Stands in every kind of metadata of `told`."""


def _exif() -> Image.Exif:
    exif = Image.Exif()
    exif[0x010E] = MARK  # description
    exif[0x0110] = MARK  # camera
    exif[0x0132] = "2026:02:14 09:10:00"
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 30.0, 7.25), 3: "W", 4: (0.0, 7.0, 39.5), 29: "2026:02:14"})
    return exif


def told(kind: str, *, profiled: bool = True, size: tuple[int, int] = (600, 400)) -> bytes:
    """A picture that tells where, when and with what it was taken, in every way that its kind knows; with a colour profile or without."""
    xmp = f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><!-- {MARK} --></x:xmpmeta>'.encode()
    options: dict[str, Any] = {"exif": _exif()} | ({"icc_profile": profile()} if profiled else {})
    if kind == "JPEG":
        options |= {"comment": MARK.encode(), "xmp": xmp}
    if kind == "WEBP":
        options |= {"xmp": xmp}
    if kind == "PNG":
        about = PngInfo()
        about.add_text("Comment", MARK)
        about.add_itxt("XML:com.adobe.xmp", xmp.decode())
        options |= {"pnginfo": about}
    return saved(shaded(size), kind, **options)
