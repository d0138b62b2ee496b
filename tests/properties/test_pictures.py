"""Spoilt pictures: whatever their bytes, they are taken or refused with a reason, and never crash."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import SLUGS
from generator.imaging.decoding import PictureError, decoded, examine
from tests.unit.imaging.samples import saved, seen_through, shaded, told

SOURCES = {"x.jpg": told("JPEG"), "x.png": told("PNG"), "x.webp": told("WEBP")}
SPOILT = st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), min_size=1, max_size=12)
"""Where, as a part of the length, and which byte."""


@pytest.mark.parametrize("name", SOURCES)
@settings(max_examples=60, deadline=None)
@given(changes=SPOILT, front=st.booleans(), cut=st.floats(0.05, 1))
def test_spoilt_pictures_are_taken_or_refused(name: str, changes: list[tuple[float, int]], front: bool, cut: float) -> None:
    """A picture with other bytes, mostly in its header, or without its end: pixels of RGB or RGBA, or a known slug."""
    content = bytearray(SOURCES[name])
    for place, value in changes:
        content[int(place * (400 if front else len(content)))] = value
    spoilt = bytes(content[: int(len(content) * cut)])
    refused = None
    try:
        examine(spoilt, name)
        assert decoded(spoilt, name, 200).mode in ("RGB", "RGBA")
    except PictureError as error:
        refused = error
    assert refused is None or (refused.slug in SLUGS and refused.what and refused.expected)


@settings(max_examples=40, deadline=None)
@given(content=st.binary(max_size=300), name=st.sampled_from([*SOURCES, "x", "x.svg"]))
def test_any_bytes_are_refused(content: bytes, name: str) -> None:
    """A few hundred bytes of anything are no picture."""
    with pytest.raises(PictureError):
        examine(content, name)


@settings(max_examples=25, deadline=None)
@given(width=st.integers(1, 700), height=st.integers(1, 700), clear=st.booleans(), most=st.integers(1, 800))
def test_sizes(width: int, height: int, clear: bool, most: int) -> None:
    """Never wider than asked nor than it was, at least a pixel high, in proportion."""
    image = seen_through((width, height)) if clear else shaded((width, height))
    found = decoded(saved(image, "PNG"), "x.png", most)
    assert found.width == min(width, most)
    assert found.height >= 1
    assert abs(found.height - height * found.width / width) <= 1
