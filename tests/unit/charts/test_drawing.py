"""Drawings: text as text, colours by class, no ids, the same bytes twice; ticks that are round."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.charts.drawing import BLUE, INK, PAPER, decimals, finished, sheet, ticks


def _drawn() -> str:
    pen = sheet(200, 100)
    pen.write(10, 20, "5 < 6 & $x$ “°P”", BLUE, size=13, anchor="right", bold=True)
    pen.write(10, 40, "plain")
    pen.line([0, 200], [50, 60], INK, dashed=True)
    pen.bar(10, 90, 70, BLUE)
    pen.whisker(20, 30, 80)
    pen.standing_whisker(50, 10, 30)
    pen.plan_mark(60, 60)
    pen.dot(70, 60, hollow=True)
    pen.band([0, 100], [10, 20], [30, 40])
    pen.double_rule(95)
    return finished(pen).body


def test_a_drawing_is_bare_and_themable() -> None:
    """Only paths and texts, with classes for colours: no ids, no styles, no colour values, no clip."""
    body = _drawn()
    assert set(re.findall(r"<(\w+)", body)) == {"path", "text"}
    assert not re.search(r"\bid=|style=|#[0-9a-f]{3,6}|clip|font-family|transform", body)
    classes = {name for value in re.findall(r'class="([^"]*)"', body) for name in value.split()}
    assert classes == {
        "f-blue", "f-ink", "f-none", "f-paper", "f-band", "s-ink", "s-blue", "t-bold", "t-13", "t-end",
    }  # fmt: skip


def test_text_stays_text() -> None:
    """Signs of markup are escaped, a dollar is a dollar."""
    assert "5 &lt; 6 &amp; $x$ “°P”" in _drawn()


def test_the_same_bytes_twice() -> None:
    """Two drawings of one thing are alike."""
    assert _drawn() == _drawn()


def test_numbers_are_short() -> None:
    """No coordinate has more than one decimal."""
    assert not re.search(r"\d\.\d{2,}", "".join(re.findall(r"<[^>]*>", _drawn())))


def test_the_size_is_that_of_the_sheet() -> None:
    """One unit is one pixel."""
    drawing = finished(sheet(612, 300.4))
    assert (drawing.width, drawing.height, drawing.body) == (612, 300, "")


def test_colours_are_never_shared() -> None:
    """Each token has a sentinel of its own."""
    assert len({BLUE, INK, PAPER}) == 3


@pytest.mark.parametrize(
    ("low", "high", "most", "expected"),
    [
        (0.0, 10.0, 5, [0, 2, 4, 6, 8, 10]),
        (1.010, 1.052, 5, [1.01, 1.02, 1.03, 1.04, 1.05]),
        (3.0, 3.0, 5, [3.0]),
        (5.0, 1.0, 5, [5.0]),
        (0.0, 1.0, 0, [0.0]),
        (-4.0, 4.0, 4, [-4, -2, 0, 2, 4]),
    ],
)
def test_ticks(low: float, high: float, most: int, expected: list[float]) -> None:
    """Round numbers within the range."""
    assert ticks(low, high, most) == pytest.approx(expected)


@given(st.floats(-1e4, 1e4), st.floats(1e-3, 1e4), st.integers(1, 9))
def test_ticks_stay_within(low: float, span: float, most: int) -> None:
    """Never more than one beyond the wanted count, never outside, always rising."""
    found = ticks(low, low + span, most)
    assert len(found) <= most + 1
    assert all(low - 1e-6 * max(1.0, span) <= value <= low + span + 1e-6 * max(1.0, span) for value in found)
    assert found == sorted(set(found))


def test_decimals() -> None:
    """As many digits as tell the values apart."""
    assert decimals([1.0, 2.0]) == 0
    assert decimals([1.01, 1.2]) == 2
    assert decimals([]) == 0
