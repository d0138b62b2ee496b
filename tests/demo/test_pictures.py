"""The pictures of the demo journal are what the script draws, and small."""

import pytest
from PIL import Image, ImageChops, ImageStat

from tests.demo.pictures import JOURNAL, PICTURES, drawn


@pytest.mark.parametrize("name", PICTURES)
def test_pictures_are_as_drawn(name: str) -> None:
    """Pixel by pixel, but for what JPEG loses; under 60 kB."""
    with Image.open(JOURNAL / name) as image:
        difference = ImageStat.Stat(ImageChops.difference(image.convert("RGB"), drawn(name)))
    assert max(difference.mean) < 5
    assert (JOURNAL / name).stat().st_size < 60_000


def test_no_other_pictures_are_there() -> None:
    """Every picture of the demo journal comes from the script."""
    assert {path.relative_to(JOURNAL).as_posix() for path in JOURNAL.glob("*/photos/*")} == set(PICTURES)
