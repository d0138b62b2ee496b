"""Fields of the TOML files: doubts, numbers, dates and texts."""

import math
from datetime import UTC, date, datetime, time
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from generator import units
from generator.errors import SLUGS
from generator.records import fields
from generator.records.fields import Doubt, parse_doubt
from generator.units import Kind, QuantityError


def read(field: Any, value: Any) -> Any:
    """A value as its field reads it."""
    return TypeAdapter(field).validate_python(value)


def slug_of(field: Any, value: Any) -> str:
    """The slug with which a field refuses a value."""
    with pytest.raises(ValidationError) as caught:
        read(field, value)
    (error,) = caught.value.errors()
    assert error["type"] in SLUGS
    return error["type"]


@pytest.mark.parametrize(
    ("text", "kind", "bare", "value", "unit"),
    [
        ("0.001 SG", units.GRAVITY, "", 0.001, "SG"),
        ("0.2 °Bx", units.GRAVITY, "", 0.2, "°Bx"),
        ("2 %", units.VOLUME, "", 2.0, "%"),
        ("2%", units.VOLUME, "L", 2.0, "%"),
        ("2 per cent", units.MASS, "", 2.0, "%"),
        ("1.5 %", units.PERCENT, "", 1.5, "%"),
        ("0.5 L", units.VOLUME, "", 0.5, "liter"),
        ("0.5", units.VOLUME, "gal", 0.5 * 3.785411784, "liter"),
        ("1 oz", units.MASS, "kg", 0.028349523125, "kilogram"),
        ("0.5 °C", units.TEMPERATURE, "", 0.5, "degC"),
        ("1 °F", units.TEMPERATURE, "°C", 5 / 9, "degC"),
        ("0.5", units.TEMPERATURE, "°F", 5 / 18, "degC"),
        ("1e-3 SG", units.GRAVITY, "", 0.001, "SG"),
    ],
)
def test_doubts(text: str, kind: Kind, bare: str, value: float, unit: str) -> None:
    """A doubt is relative, or in the canonical unit as a difference without offset; a bare one takes the unit of its reading."""
    doubt = parse_doubt(text, kind, bare)
    assert doubt == Doubt(pytest.approx(value, rel=1e-12), unit)
    assert doubt.relative == (unit == "%")


@pytest.mark.parametrize(
    ("text", "kind", "slug"),
    [
        ("0 L", units.VOLUME, "not-positive"),
        ("-1 %", units.VOLUME, "not-positive"),
        ("0.5", units.VOLUME, "unit-missing"),
        ("0.5 kg", units.VOLUME, "unit-unknown"),
        ("±0.5 L", units.VOLUME, "not-a-number"),
        ("nan L", units.VOLUME, "not-a-number"),
        ("1e400 L", units.VOLUME, "not-a-number"),
        ("", units.VOLUME, "not-a-number"),
        ("101 %", units.VOLUME, "out-of-range"),
        ("1e300 L", units.VOLUME, "out-of-range"),
        ("1 SG", units.GRAVITY, "out-of-range"),
    ],
)
def test_doubts_that_are_refused(text: str, kind: Kind, slug: str) -> None:
    """A doubt is above 0, finite, in a unit of its kind, and no wider than all that can be."""
    with pytest.raises(QuantityError) as caught:
        parse_doubt(text, kind)
    assert caught.value.slug == slug


def test_relative_doubt_of_a_gravity_is_refused() -> None:
    """`%` of a gravity means nothing."""
    for field in (fields.GravityDoubt, fields.RefractometerDoubt, fields.TemperatureDoubt):
        assert slug_of(field, "2 %") == "wrong-value"


def test_instruments_have_doubts_in_their_own_unit() -> None:
    """A hydrometer's doubt is in SG, a refractometer's in °Bx."""
    assert read(fields.GravityDoubt, "0.001 SG") == Doubt(0.001, "SG")
    assert read(fields.RefractometerDoubt, "0.2 °Bx") == Doubt(0.2, "°Bx")
    assert slug_of(fields.GravityDoubt, "0.2 °P") == "unit-unknown"
    assert slug_of(fields.RefractometerDoubt, "0.001 SG") == "unit-unknown"


@pytest.mark.parametrize(("value", "cells"), [(230_000_000_000, 2.3e11), (2.3e11, 2.3e11), ("230e9", 2.3e11), (" 1 ", 1.0)])
def test_cells(value: Any, cells: float) -> None:
    """A number of cells is a number, or one in quotes with an exponent."""
    assert read(fields.Cells, value) == cells


@pytest.mark.parametrize(
    ("field", "value", "slug"),
    [
        (fields.Cells, 0, "not-positive"),
        (fields.Cells, "-1", "not-positive"),
        (fields.Cells, True, "wrong-type"),
        (fields.Cells, "many", "not-a-number"),
        (fields.Cells, math.nan, "not-a-number"),
        (fields.Cells, 10**400, "not-a-number"),
        (fields.Cells, -(10**400), "not-a-number"),
        (fields.Cells, 10**19, "out-of-range"),
        (fields.Ph, "5.4", "wrong-type"),
        (fields.Ph, True, "wrong-type"),
        (fields.Ph, math.inf, "not-a-number"),
        (fields.Ph, 10**400, "not-a-number"),
        (fields.Ph, 14.1, "out-of-range"),
        (fields.Ph, -0.1, "out-of-range"),
        (fields.WortFactor, 0, "out-of-range"),
        (fields.Volume, 19, "wrong-type"),
        (fields.Volume, math.nan, "not-a-number"),
        (fields.Volume, True, "wrong-type"),
        (fields.Volume, ["19 L"], "wrong-type"),
        (fields.Gravity, "16 °Bx", "unit-unknown"),
        (fields.Date, "14.02.2026", "date-unreadable"),
        (fields.Date, "2026-02-30", "date-unreadable"),
        (fields.Date, time(9, 10), "date-unreadable"),
        (fields.Date, 2026, "date-unreadable"),
        (fields.Text, 7, "wrong-type"),
        (fields.Text, "x" * 2001, "out-of-range"),
        (fields.Name, "", "wrong-value"),
        (fields.Name, " - ", "wrong-value"),
    ],
    ids=range(28),
)
def test_values_that_are_refused(field: Any, value: Any, slug: str) -> None:
    """Each wrong value is refused with its slug; none, however long a number, ends in an exception of another kind."""
    assert slug_of(field, value) == slug


@pytest.mark.parametrize("value", [date(2026, 2, 14), "2026-02-14", " 2026-02-14 ", datetime(2026, 2, 14, 9, tzinfo=UTC)])
def test_dates(value: Any) -> None:
    """A day may be written as TOML writes it, in quotes, or with a time that is left out."""
    assert read(fields.Date, value) == date(2026, 2, 14)


def test_texts_are_one_line_that_a_page_may_hold() -> None:
    """White space is folded, and control characters give way to a replacement."""
    assert read(fields.Text, "  two\n\tlines\u00a0here ") == "two lines here"
    assert read(fields.Text, "a\x00b\x1b[31mc\x7f\ufffe") == "a\ufffdb\ufffd[31mc\ufffd\ufffd"
    assert read(fields.Name, "Märzen 🍺") == "Märzen 🍺"
