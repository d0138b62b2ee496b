"""Numbers and dates as a reader sees them."""

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.charts.chart import signed as signed_in_charts
from generator.pages.formatting import (
    Cell,
    cell,
    clock,
    fixed,
    long_date,
    month_year,
    number_word,
    ordinal,
    places_for,
    plural,
    short_day,
    signed,
    slugify,
)


@pytest.mark.parametrize(
    ("half_width", "unit", "places"),
    [
        (None, "SG", 3), (0.001, "SG", 3), (0.0004, "SG", 4), (None, "kg", 2), (0.0, "L", 1), (2.4, "%", 1), (3.1, "%", 0), (0.19, "% vol", 2),
        (0.034, "vol", 2), (12.0, "g", 0), (0.4, "L", 1), (0.014, "kg", 3), (41.0, "IBU", 0), (0.00001, "kg", 3), (None, "unknown", 2),
    ],
)  # fmt: skip
def test_digits_follow_the_doubt(half_width: float | None, unit: str, places: int) -> None:
    """The doubt is given to one digit, to two where it begins with 1 or 2, and never finer than the unit deserves."""
    assert places_for(half_width, unit) == places


@pytest.mark.parametrize(
    ("value", "places", "text"), [(1.0, 1, "1.0"), (-0.04, 1, "0.0"), (-0.05001, 1, "−0.1"), (1234.5, 0, "1234"), (-2.0, 0, "−2"), (0.0, 3, "0.000")]
)
def test_fixed(value: float, places: int, text: str) -> None:
    """A real minus sign, and none before a zero."""
    assert fixed(value, places) == text


@pytest.mark.parametrize(("value", "places", "text"), [(0.005, 3, "+0.005"), (-0.0004, 3, "0.000"), (-24.3, 1, "−24.3"), (0.0, 1, "0.0")])
def test_signed(value: float, places: int, text: str) -> None:
    """A difference shows its sign, but for zero; charts and tables agree."""
    assert signed(value, places) == text
    assert signed_in_charts(value, places) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_sign_survives_only_where_a_digit_does(value: float, places: int) -> None:
    """A signed text parses back to the rounded number."""
    text = signed(value, places)
    assert float(text.replace("−", "-")) == pytest.approx(float(f"{value:.{places}f}"))
    assert (text[0] in "+−") == (float(f"{value:.{places}f}") != 0.0)


def test_words_for_numbers() -> None:
    """Small numbers in words, large ones in figures."""
    assert [number_word(n) for n in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]
    assert [ordinal(n) for n in (1, 12, 13, 21, 22, 23, 111, 112)] == ["First", "Twelfth", "13th", "21st", "22nd", "23rd", "111th", "112th"]
    assert [plural(1, "batch", "batches"), plural(2, "batch", "batches"), plural(0, "row"), plural(13, "row")] == [
        "one batch", "two batches", "no rows", "13 rows",
    ]  # fmt: skip


def test_dates_need_no_locale() -> None:
    """English names whatever the machine speaks."""
    day = date(2026, 10, 3)
    assert (long_date(day), short_day(day), month_year(day)) == ("Saturday 3 October 2026", "3 Oct", "Oct 2026")
    assert clock(datetime(2026, 1, 1, 9, 5)) == "09:05"  # noqa: DTZ001  (wall clock)


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("Fog Bell", "fog-bell"),
        ("  Ale & Porter! ", "ale-porter"),
        ("Größe №1", "grösse-no1"),
        ("麦酒", "麦酒"),
        ("a_b", "a-b"),
        ("!!!", "recipe"),
        ("../x", "x"),
    ],
)
def test_names_of_files(name: str, slug: str) -> None:
    """Letters of any script, hyphens between, never empty, never a path."""
    assert slugify(name) == slug


def test_cells_split_at_the_decimal_sign() -> None:
    """What stands before the point, and the rest; the text stays whole."""
    assert cell("−24.3") == Cell("−24", ".3")
    assert cell("88") == Cell("88", "")
    assert cell("−24.3").text == "−24.3"
