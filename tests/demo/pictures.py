"""Draw the pictures of the demo journal, every grain of them invented: python -m tests.demo.pictures."""

import math
from collections.abc import Callable
from pathlib import Path
from random import Random

from PIL import Image, ImageDraw, ImageFilter

JOURNAL = Path(__file__).resolve().parents[2] / "batches"
SIZE = (1200, 800)
_FINER = 2
"""Drawn at twice the size and scaled down, so that edges are soft."""
Colour = tuple[int, int, int]


def _shade(random: Random, colour: Colour, spread: int) -> Colour:
    """A colour a little lighter or darker."""
    change = random.randint(-spread, spread)
    red, green, blue = (min(255, max(0, part + change)) for part in colour)
    return red, green, blue


def _canvas(colour: Colour) -> tuple[Image.Image, ImageDraw.ImageDraw]:
    image = Image.new("RGB", (SIZE[0] * _FINER, SIZE[1] * _FINER), colour)
    return image, ImageDraw.Draw(image)


def _done(image: Image.Image, blur: float) -> Image.Image:
    return image.filter(ImageFilter.GaussianBlur(blur * _FINER)).resize(SIZE, Image.Resampling.LANCZOS)


def _disc(draw: ImageDraw.ImageDraw, x: float, y: float, radius: float, colour: Colour, squash: float = 1.0) -> None:
    draw.ellipse((x - radius, y - radius * squash, x + radius, y + radius * squash), fill=colour)


def full_basket(random: Random) -> Image.Image:
    """A round basket from above, with wet grain heaped over its rim on one side."""
    image, draw = _canvas((64, 68, 72))
    middle = (1180, 810)
    for radius, colour in ((790, (150, 154, 158)), (765, (98, 102, 106)), (745, (74, 52, 34))):
        _disc(draw, *middle, radius, colour)
    for _ in range(9000):
        angle, far = random.uniform(0, 2 * math.pi), 760 * math.sqrt(random.random())
        x, y = middle[0] + far * math.cos(angle), middle[1] + far * math.sin(angle)
        if far > 738 and not 0.2 < angle < 1.6:
            continue
        base = (58, 36, 24) if random.random() < 0.22 else (176, 138, 84)
        _disc(draw, x, y, random.uniform(7, 13), _shade(random, base, 26), random.uniform(0.45, 1.0))
    for _ in range(90):
        x, y = middle[0] + random.gauss(640, 90), middle[1] + random.gauss(470, 90)
        _disc(draw, x, y, random.uniform(7, 12), _shade(random, (170, 132, 80), 22), 0.6)
    return _done(image, 2.0)


def dark_runnings(random: Random) -> Image.Image:
    """Black wort with tan foam gathered at the wall of a kettle."""
    image, draw = _canvas((150, 152, 154))
    _disc(draw, 1200, 980, 1080, (112, 114, 116), 0.82)
    _disc(draw, 1200, 1000, 1030, (26, 15, 10), 0.80)
    for _ in range(1500):
        angle = random.uniform(math.pi * 1.05, math.pi * 1.95)
        far = 1010 - abs(random.gauss(0, 150))
        x, y = 1200 + far * math.cos(angle), 1000 + 0.79 * far * math.sin(angle)
        size = random.uniform(5, 30)
        _disc(draw, x, y, size, _shade(random, (150, 104, 62), 18), 0.8)
        _disc(draw, x - size * 0.15, y - size * 0.15, size * 0.72, _shade(random, (188, 146, 100), 16), 0.8)
    return _done(image, 1.4)


def foam(random: Random) -> Image.Image:
    """Pale foam of a fermentation on the third day, with a dark float lying crooked in it."""
    image, draw = _canvas((232, 214, 170))
    for _ in range(3400):
        x, y = random.uniform(0, 2400), random.uniform(0, 1600)
        size = random.lognormvariate(2.9, 0.55)
        _disc(draw, x, y, size, _shade(random, (204, 180, 128), 14))
        _disc(draw, x - size * 0.1, y - size * 0.12, size * 0.86, _shade(random, (243, 230, 198), 9))
    for _ in range(120):
        _disc(draw, random.uniform(0, 2400), random.gauss(420, 120), random.uniform(4, 11), _shade(random, (150, 112, 62), 16), 0.7)
    float_ = Image.new("RGBA", image.size, (0, 0, 0, 0))
    body = ImageDraw.Draw(float_)
    body.rounded_rectangle((820, 700, 1560, 880), radius=90, fill=(46, 54, 60, 255))
    body.rounded_rectangle((860, 726, 1500, 772), radius=22, fill=(96, 106, 112, 255))
    turned = float_.rotate(17, resample=Image.Resampling.BICUBIC, center=(1190, 790))
    image.paste(turned, (0, 0), turned)
    for _ in range(420):
        size = random.uniform(8, 26)
        _disc(draw, random.gauss(1190, 330), random.gauss(900, 46), size, _shade(random, (240, 226, 192), 10))
    return _done(image, 1.9)


PICTURES: dict[str, tuple[Callable[[Random], Image.Image], int]] = {
    "2025-11-15-fog-bell-1/photos/full-basket.jpg": (full_basket, 20251115),
    "2025-11-15-fog-bell-1/photos/last-runnings.jpg": (dark_runnings, 1115),
    "2026-03-28-far-bank-1/photos/foam-on-the-logger.jpg": (foam, 20260328),
}
"""What is drawn for which file, and the seed."""


def drawn(name: str) -> Image.Image:
    """One picture of the demo journal, drawn anew."""
    draw, seed = PICTURES[name]
    return draw(Random(seed))


def main() -> None:
    """Write all of them."""
    for name in PICTURES:
        path = JOURNAL / name
        path.parent.mkdir(exist_ok=True)
        drawn(name).save(path, "JPEG", quality=46, optimize=True, progressive=True)
        print(f"{name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
