"""Quantities as people write them, against exact factors of NIST SP 811 (2008), appendix B.8, typed in here once more."""

import pytest

from generator import units
from generator.units import Kind, Quantity, QuantityError, number, number_and_unit, parse

POUND = 0.45359237  # kg, exact
FOOT = 0.3048  # m, exact
GALLON = 231 * (FOOT / 12) ** 3 * 1000  # L: 231 cubic inches
IMPERIAL_GALLON = 4.54609  # L, exact
POUND_FORCE = POUND * 9.80665  # N
FACTORS: list[tuple[Kind, str, float]] = [
    (units.VOLUME, "L", 1.0),
    (units.VOLUME, "l", 1.0),
    (units.VOLUME, "mL", 1e-3),
    (units.VOLUME, "cl", 1e-2),
    (units.VOLUME, "dL", 1e-1),
    (units.VOLUME, "hL", 100.0),
    (units.VOLUME, "µL", 1e-6),
    (units.VOLUME, "gal", GALLON),
    (units.VOLUME, "US gal", GALLON),
    (units.VOLUME, "qt", GALLON / 4),
    (units.VOLUME, "pt", GALLON / 8),
    (units.VOLUME, "cup", GALLON / 16),
    (units.VOLUME, "fl oz", GALLON / 128),
    (units.VOLUME, "tbsp", GALLON / 256),
    (units.VOLUME, "tsp", GALLON / 768),
    (units.VOLUME, "imp gal", IMPERIAL_GALLON),
    (units.VOLUME, "imp qt", IMPERIAL_GALLON / 4),
    (units.VOLUME, "imp pt", IMPERIAL_GALLON / 8),
    (units.VOLUME, "imp fl oz", IMPERIAL_GALLON / 160),
    (units.VOLUME, "US bbl", 31 * GALLON),
    (units.MASS, "kg", 1.0),
    (units.MASS, "g", 1e-3),
    (units.MASS, "mg", 1e-6),
    (units.MASS, "t", 1e3),
    (units.MASS, "lb", POUND),
    (units.MASS, "lbs", POUND),
    (units.MASS, "oz", POUND / 16),
    (units.DURATION, "min", 1.0),
    (units.DURATION, "s", 1 / 60),
    (units.DURATION, "h", 60.0),
    (units.DURATION, "d", 1440.0),
    (units.DURATION, "wk", 10080.0),
    (units.FLOW, "L/h", 1.0),
    (units.FLOW, "gal/h", GALLON),
    (units.FLOW, "mL/min", 0.06),
    (units.FLOW, "qt / hr", GALLON / 4),
    (units.RETENTION, "L/kg", 1.0),
    (units.RETENTION, "mL/g", 1.0),
    (units.RETENTION, "qt/lb", GALLON / 4 / POUND),
    (units.RETENTION, "fl oz/oz", GALLON / 128 / (POUND / 16)),
    (units.PRESSURE, "bar", 1.0),
    (units.PRESSURE, "mbar", 1e-3),
    (units.PRESSURE, "kPa", 1e-2),
    (units.PRESSURE, "MPa", 10.0),
    (units.PRESSURE, "atm", 1.01325),
    (units.PRESSURE, "psi", POUND_FORCE / (FOOT / 12) ** 2 / 1e5),
    (units.ROOM, "m3", 1.0),
    (units.ROOM, "m³", 1.0),
    (units.ROOM, "ft^3", FOOT**3),
    (units.PERCENT, "%", 1.0),
    (units.PERCENT, "per cent", 1.0),
    (units.CARBONATION, "vol", 1.0),
]


@pytest.mark.parametrize(("kind", "unit", "factor"), FACTORS, ids=lambda value: str(getattr(value, "name", value)))
def test_unit_has_its_exact_factor(kind: Kind, unit: str, factor: float) -> None:
    """A quantity in any unit is the canonical one times the factor of the definition."""
    assert parse(f"7.5 {unit}", kind).value == pytest.approx(7.5 * factor, rel=1e-12)
    assert parse(f"7.5{unit}", kind).unit == kind.canonical


@pytest.mark.parametrize("kind", [*units.KINDS, units.VOLUME_OR_NONE, units.HEAT, units.DURATION_OR_NONE], ids=lambda kind: kind.name)
def test_every_spelling_is_a_unit_that_converts(kind: Kind) -> None:
    """No alias leads to a name that can't be converted, and each is found in any surroundings of spaces."""
    for alias, name in kind.aliases.items():
        assert kind.unit(f"  {alias} ") == name
        if not kind.limits:
            wide = Kind(kind.name, kind.canonical, kind.aliases, kind.example, -500.0, 1e12)
            assert parse(f"1 {alias}", wide).value == units.convert(1.0, name, kind.canonical)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("66 °C", 66.0), ("66C", 66.0), ("66 degC", 66.0), ("66 ° C", 66.0), ("151 °F", 119 / 1.8), ("32 F", 0.0), ("-4 °F", -20.0), ("273.15 K", 0.0)],
)
def test_temperatures(text: str, celsius: float) -> None:
    """Temperatures are points on a scale: °F and K have their offset."""
    wide = Kind("temperature", "degC", units.TEMPERATURE.aliases, '"66 °C"', -300.0, 300.0)
    assert parse(text, wide).value == pytest.approx(celsius, abs=1e-10)


@pytest.mark.parametrize(("value", "unit", "kelvin"), [(1.0, "degF", 5 / 9), (1.0, "degC", 1.0), (2.0, "kelvin", 2.0)])
def test_differences_of_temperature_have_no_offset(value: float, unit: str, kelvin: float) -> None:
    """A doubt of 1 °F is 5/9 °C."""
    assert units.difference(value, unit, "degC") == pytest.approx(kelvin, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("19 lb 2 oz", units.MASS, 19 * POUND + POUND / 8),
        ("19lb2oz", units.MASS, 19 * POUND + POUND / 8),
        ("19 lb. 2.5 oz.", units.MASS, 19 * POUND + 2.5 * POUND / 16),
        ("0 lb 8 oz", units.MASS, POUND / 2),
        ("1 h 15 min", units.DURATION, 75.0),
        ("5 gal 2 qt .5 pt", units.VOLUME, GALLON * (5.5 + 1 / 16)),
        (" 1.90E+1 L ", units.VOLUME, 19.0),
        ("+19. L", units.VOLUME, 19.0),
        ("8 fl. oz.", units.VOLUME, GALLON / 16),
    ],
)
def test_compound_quantities(text: str, kind: Kind, value: float) -> None:
    """Parts with their own units add up; full stops, missing spaces and exponents do no harm."""
    assert parse(text, kind).value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("1.064", 1.064, "SG"),
        ("1.064 SG", 1.064, "SG"),
        ("0.980", 0.98, "SG"),
        ("1.200", 1.2, "SG"),
        ("15.7 °P", 15.7, "°P"),
        ("16.2 Brix", 16.2, "°Bx"),
    ],
)
def test_gravities_keep_their_unit(text: str, value: float, unit: str) -> None:
    """A gravity stays in SG, °P or °Bx; a bare number is SG only where it can be nothing else."""
    assert parse(text, units.GRAVITY) == Quantity(value, unit)


@pytest.mark.parametrize(
    ("text", "kind", "slug"),
    [
        ("", units.VOLUME, "wrong-value"),
        ("L", units.VOLUME, "wrong-value"),
        ("L 19", units.VOLUME, "wrong-value"),
        ("about 19 L", units.VOLUME, "wrong-value"),
        ("19 L 1 kg", units.VOLUME, "unit-unknown"),
        ("66 °C 2 °C", units.TEMPERATURE, "wrong-value"),
        ("20 L -1 L", units.VOLUME, "wrong-value"),
        ("19", units.VOLUME, "unit-missing"),
        ("9 lb 4", units.MASS, "unit-missing"),
        ("1.201", units.GRAVITY, "unit-missing"),
        ("0.979", units.GRAVITY, "unit-missing"),
        ("6", units.COLOUR, "unit-missing"),
        ("19 stone", units.MASS, "unit-unknown"),
        ("16 °Bx", units.WORT_GRAVITY, "unit-unknown"),
        ("nan L", units.VOLUME, "not-a-number"),
        ("-Infinity L", units.VOLUME, "not-a-number"),
        ("1e400 L", units.VOLUME, "not-a-number"),
        ("19,5 L", units.VOLUME, "not-a-number"),
        ("9" * 5000 + " L", units.VOLUME, "not-a-number"),
        ("0 L", units.VOLUME, "not-positive"),
        ("-1 L", units.VOLUME, "not-positive"),
        ("-1 L", units.VOLUME_OR_NONE, "not-positive"),
        ("0 min", units.DURATION, "not-positive"),
        ("1e-9 L", units.VOLUME, "out-of-range"),
        ("1e308 hL", units.VOLUME, "out-of-range"),
        ("100.1 %", units.PERCENT, "out-of-range"),
        ("-0.1 %", units.PERCENT, "out-of-range"),
        ("110.1 °C", units.TEMPERATURE, "out-of-range"),
        ("-10.1 °C", units.TEMPERATURE, "out-of-range"),
        ("1.2001 SG", units.GRAVITY, "out-of-range"),
        ("45.1 °P", units.GRAVITY, "out-of-range"),
        ("-5.1 °P", units.GRAVITY, "out-of-range"),
        ("50.1 °Bx", units.GRAVITY, "out-of-range"),
        ("-0.1 °Bx", units.GRAVITY, "out-of-range"),
        ("１９ L", units.VOLUME, "wrong-value"),
    ],
)
def test_what_is_no_quantity_is_refused(text: str, kind: Kind, slug: str) -> None:
    """Each way of being no quantity has its slug, and its words show an example."""
    with pytest.raises(QuantityError) as caught:
        parse(text, kind)
    assert caught.value.slug == slug
    assert str(caught.value) == f"{caught.value.what}; {caught.value.expected}"
    assert any(character.isdigit() for character in caught.value.expected)


@pytest.mark.parametrize(
    ("text", "kind"),
    [("0 L", units.VOLUME_OR_NONE), ("0 min", units.DURATION_OR_NONE), ("0 kg", units.HEAT), ("0 %", units.PERCENT), ("100 %", units.PERCENT),
     ("230 °F", units.TEMPERATURE), ("14 °F", units.TEMPERATURE), ("0 L/h", units.FLOW)],
)  # fmt: skip
def test_what_lies_on_a_limit_is_accepted(text: str, kind: Kind) -> None:
    """Limits belong to the range, in whatever unit they are written, and rounding never carries a value beyond."""
    value = parse(text, kind).value
    assert kind.low <= value <= kind.high


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("19 kg", units.VOLUME, "'kg' is a unit of mass; expected a volume"),
        ("66 L", units.TEMPERATURE, "'L' is a unit of volume; expected a temperature"),
        ("24 litters", units.VOLUME, "'litters' is no unit of volume; did you mean 'liters'?"),
        ("66 °R", units.TEMPERATURE, "'°R' is no unit of temperature; expected one of °C, °F, K, as in"),
    ],
)
def test_unknown_unit_gets_a_hint(text: str, kind: Kind, words: str) -> None:
    """A unit of another kind is called so; another gets the nearest spelling, or one spelling of each unit."""
    with pytest.raises(QuantityError) as caught:
        parse(text, kind)
    assert str(caught.value).startswith(words)


@pytest.mark.parametrize("text", ["", " ", ".", "+", "1e", "1.2.3", "1 2", "0x10", "1_000", "nan", "inf", "1e999", "１", "1,5", "9" * 401])
def test_number_is_plain_and_finite(text: str) -> None:
    """What is not digits with at most one point and an exponent is no number."""
    with pytest.raises(QuantityError) as caught:
        number(text)
    assert caught.value.slug == "not-a-number"


@pytest.mark.parametrize(("text", "value"), [("1", 1.0), (" -1.5 ", -1.5), (".5", 0.5), ("5.", 5.0), ("+2e-3", 0.002), ("230E9", 2.3e11)])
def test_number_as_written(text: str, value: float) -> None:
    """Digits, a point, a sign and an exponent in every common form."""
    assert number(text) == value


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("25 °C", ("25", "°C")),
        ("0,5", ("0,5", "")),
        ("1e-3 SG", ("1e-3", "SG")),
        ("2%", ("2", "%")),
        ("25 each", ("25", "each")),
        ("warm", ("", "warm")),
    ],
)
def test_number_and_unit_are_split(text: str, parts: tuple[str, str]) -> None:
    """The number ends where the unit begins, and an exponent belongs to the number."""
    assert number_and_unit(text) == parts


def test_numbers_that_nearly_fit_are_refused_quickly() -> None:
    """Long texts that nearly are a quantity take no time to refuse."""
    for text in ("1" * 100_000 + "x", "1 L " * 50_000 + "!", "1 " + " " * 100_000 + "x", "1." * 50_000):
        with pytest.raises(QuantityError):
            parse(text, units.VOLUME)
        with pytest.raises(QuantityError):
            number(text)
