"""Field types of the TOML records: a string with a unit becomes a float in the canonical unit, or a Problem."""

import math
import re
from dataclasses import replace
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainSerializer
from pydantic_core import PydanticCustomError

from generator import units
from generator.errors import Slug, shown
from generator.records.schedule import HOUR, LONGEST_BOIL, ROUNDING, duration, moment
from generator.units import Kind, Quantity, QuantityError

CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\ufdd0-\ufdef\ufffe\uffff]")
"""Characters that neither HTML nor XML may hold; white space is left to be folded."""


def refuse(what: str, expected: str, slug: Slug) -> PydanticCustomError:
    """An error that pydantic collects and `records.checked` turns into a Problem."""
    return PydanticCustomError(slug, "{what}; {expected}", {"what": what, "expected": expected})


def _text(value: Any, kind: Kind) -> str:
    if isinstance(value, str):
        return value
    hint = f"expected a {kind.name} in quotes with its unit, as in {kind.example}"
    if isinstance(value, float) and not math.isfinite(value):
        raise refuse(f"{value} is not a finite number", hint, "not-a-number")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        raise refuse(f"{shown(value)} is a bare number", hint, "wrong-type")
    raise refuse(f"{shown(value)} is not a text in quotes", hint, "wrong-type")


def _parsed(value: Any, kind: Kind) -> Quantity:
    try:
        return units.parse(_text(value, kind), kind)
    except QuantityError as error:
        raise refuse(error.what, error.expected, error.slug) from error


def _amount(kind: Kind) -> Any:
    return BeforeValidator(lambda value: _parsed(value, kind).value)


def _no_longer(most: float) -> Any:
    """A duration that a brewer can mean; longer ones were mistyped."""

    def parsed(value: Any) -> float:
        minutes = _parsed(value, units.DURATION).value
        if minutes > most + ROUNDING:
            raise refuse(f"'{shown(value)}' is out of range", f"expected at most {duration(most)}", "out-of-range")
        return minutes

    return BeforeValidator(parsed)


def _quantity(kind: Kind) -> Any:
    return BeforeValidator(lambda value: _parsed(value, kind))


Volume = Annotated[float, _amount(units.VOLUME)]
VolumeOrNone = Annotated[float, _amount(units.VOLUME_OR_NONE)]
Mass = Annotated[float, _amount(units.MASS)]
Heat = Annotated[float, _amount(units.HEAT)]
Temperature = Annotated[float, _amount(units.TEMPERATURE)]
Duration = Annotated[float, _amount(units.DURATION)]
DurationOrNone = Annotated[float, _amount(units.DURATION_OR_NONE)]
Flow = Annotated[float, _amount(units.FLOW)]
WaterTemperature = Annotated[float, _amount(replace(units.TEMPERATURE, low=0.0, high=100.0))]
RestDuration = Annotated[float, _no_longer(48 * HOUR)]
BoilDuration = Annotated[float, _no_longer(LONGEST_BOIL)]
Interval = Annotated[float, _no_longer(4 * HOUR)]
Alpha = Annotated[float, _amount(replace(units.PERCENT, high=30.0))]
HeadSpace = Annotated[float, _amount(replace(units.PERCENT, high=50.0))]
Retention = Annotated[float, _amount(units.RETENTION)]
Percent = Annotated[float, _amount(units.PERCENT)]
Carbonation = Annotated[float, _amount(units.CARBONATION)]
Pressure = Annotated[float, _amount(replace(units.PRESSURE, low=units.SMALLEST, high=20.0))]
Room = Annotated[float, _amount(units.ROOM)]
Gravity = Annotated[Quantity, _quantity(units.WORT_GRAVITY)]
Colour = Annotated[Quantity, _quantity(units.COLOUR)]
Concentration = Annotated[Quantity, _quantity(units.CONCENTRATION)]


class Doubt(Quantity):
    """Half-width of a 95 % interval; the unit is `%` where it is relative."""

    __slots__ = ()

    @property
    def relative(self) -> bool:
        """Whether the value is in per cent of the reading."""
        return self.unit == "%"


def parse_doubt(text: str, kind: Kind, bare_unit: str = "", *, with_percent: bool = True) -> Doubt:
    """Read a doubt: "0.001 SG", "2 %", "0.5 L", "1 °F" (a difference).

    Args:
        text: as written, with a decimal point.
        kind: kind of the reading it belongs to.
        bare_unit: unit taken where none is written, as people write it; "" refuses.
        with_percent: whether a relative doubt makes sense here.

    Raises:
        QuantityError: not a doubt, not above 0, or a percentage where it is refused.
    """
    written, unit = units.number_and_unit(text)
    value, unit = units.number(written or text), unit or bare_unit
    if value <= 0:
        raise QuantityError(f"a doubt of {value:g} is not above 0", "expected the half-width of a 95 % interval", "not-positive")
    if not unit:
        either = f"a {kind.name} or a percentage" if with_percent else f"a {kind.name}"
        raise QuantityError(f"'{shown(text)}' has no unit", f"expected {either} with its unit", "unit-missing")
    if units.PERCENT.find(unit):
        if not with_percent:
            raise QuantityError(f"a doubt of {value:g} % is relative", f"expected a {kind.name}, not a percentage", "wrong-value")
        return _narrow(Doubt(value, "%"), 100.0)
    name = kind.unit(unit)
    if kind.limits:
        low, high = kind.limits[name]
        return _narrow(Doubt(value, name), high - low)
    return _narrow(Doubt(units.difference(value, name, kind.canonical), kind.canonical), kind.high)


def _narrow(doubt: Doubt, widest: float) -> Doubt:
    """The doubt, unless it is wider than all that its kind may be."""
    if doubt.value > widest:
        unit = units.SYMBOLS.get(doubt.unit, doubt.unit)
        raise QuantityError(f"a doubt of {doubt.value:g} {unit} is out of range", f"expected at most {widest:g} {unit}".rstrip(), "out-of-range")
    return doubt


def _doubt(kind: Kind, *, with_percent: bool = True, only: str = "") -> Any:
    def parsed(value: Any) -> Doubt:
        try:
            doubt = parse_doubt(_text(value, kind), kind, with_percent=with_percent)
        except QuantityError as error:
            raise refuse(error.what, error.expected, error.slug) from error
        if only and doubt.unit != only:
            raise refuse(f"a doubt in {doubt.unit} doesn't serve here", f"expected it in {only}", "unit-unknown")
        return doubt

    return BeforeValidator(parsed)


GravityDoubt = Annotated[Doubt, _doubt(units.WORT_GRAVITY, with_percent=False, only="SG")]
RefractometerDoubt = Annotated[Doubt, _doubt(units.GRAVITY, with_percent=False, only="°Bx")]
VolumeDoubt = Annotated[Doubt, _doubt(units.VOLUME)]
MassDoubt = Annotated[Doubt, _doubt(units.MASS)]
TemperatureDoubt = Annotated[Doubt, _doubt(units.TEMPERATURE, with_percent=False)]
ExtractDoubt = Annotated[Doubt, _doubt(units.PERCENT)]


def _finite(value: Any, low: float, high: float, example: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        what = f"'{shown(value)}' is a text" if isinstance(value, str) else f"{shown(value)} is not a number"
        raise refuse(what, f"expected a number without quotes, as in {example}", "wrong-type")
    if not _is_finite(value):
        raise refuse(f"{shown(value)} is not a finite number", f"expected a number, as in {example}", "not-a-number")
    if not low <= value <= high:
        raise refuse(f"{value:g} is out of range", f"expected {low:g} to {high:g}", "out-of-range")
    return float(value)


def _is_finite(value: float) -> bool:
    """Whether a TOML number is one: its whole numbers may be longer than any float."""
    try:
        return math.isfinite(value)
    except OverflowError:
        return False


Ph = Annotated[float, BeforeValidator(lambda value: _finite(value, 0.0, 14.0, "5.3"))]
WortFactor = Annotated[float, BeforeValidator(lambda value: _finite(value, 0.9, 1.2, "1.04"))]


def _cells(value: Any) -> float:
    if isinstance(value, str):
        try:
            value = units.number(value)
        except QuantityError as error:
            raise refuse(error.what, 'expected a number of cells, as in "230e9"', error.slug) from error
    cells = _finite(value, -math.inf, math.inf, "230e9")
    if cells <= 0:
        raise refuse(f"{cells:g} cells are not above 0", 'expected a number of cells, as in "230e9"', "not-positive")
    return _finite(cells, 1.0, 1e18, "230e9")


Cells = Annotated[float, BeforeValidator(_cells)]


def _date(value: Any) -> date:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", value.strip(), re.ASCII):
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            pass
    raise refuse(f"'{shown(value)}' is not a date", "expected a date as in 2026-02-14", "date-unreadable")


Date = Annotated[date, BeforeValidator(_date)]


def one_line(text: str) -> str:
    """The text with its white space folded, and without control characters that no page may hold."""
    return " ".join(CONTROLS.sub("\N{REPLACEMENT CHARACTER}", text).split())


def _line(value: Any) -> str:
    if not isinstance(value, str):
        raise refuse(f"{shown(value)} is not a text in quotes", "expected a text in quotes", "wrong-type")
    text = one_line(value)
    if len(text) > 2000:
        raise refuse(f"the text is {len(text)} characters long", "expected at most 2000", "out-of-range")
    return text


def _name(value: Any) -> str:
    text = _line(value)
    if not any(character.isalnum() for character in text):
        raise refuse(f"'{shown(text)}' is no name", "expected a name with at least one letter or digit", "wrong-value")
    return text


Text = Annotated[str, BeforeValidator(_line), PlainSerializer(str)]
"""One line of text; white space is folded."""
Name = Annotated[str, BeforeValidator(_name), PlainSerializer(str)]
"""One line of text that names something."""


def _portions(value: Any) -> int:
    portions = _finite(value, 1.0, 20.0, "3")
    if portions != int(portions):
        raise refuse(f"{portions:g} is not a whole number", "expected a number of portions, as in 3", "wrong-value")
    return int(portions)


Portions = Annotated[int, BeforeValidator(_portions)]


def _when(value: Any) -> str:
    text = _line(value)
    try:
        moment(text)
    except QuantityError as error:
        raise refuse(error.what, error.expected, error.slug) from error
    return text


def _day(*steps: str, example: str) -> Any:
    """A time told from one of these steps, and not before the pitch."""

    def parsed(value: Any) -> str:
        text = _when(value)
        told = moment(text)
        if told is None or told.step not in steps:
            known = " or ".join(f"'{step}'" for step in steps)
            raise refuse(f"'{shown(text)}' is not a time told from {known}", f"expected one as in {example}", "wrong-value")
        if told.step == "pitch" and told.minutes < 0:
            raise refuse(f"'{shown(text)}' is before the pitch", f"expected a time after it, as in {example}", "out-of-range")
        return text

    return BeforeValidator(parsed)


When = Annotated[str, BeforeValidator(_when), PlainSerializer(str)]
"""One line of text: a time told from a step of the brew, or free words."""
HopDay = Annotated[str, _day("pitch", "package", example='"pitch + 4 d"'), PlainSerializer(str)]
PackagingDay = Annotated[str, _day("pitch", example='"pitch + 14 d"'), PlainSerializer(str)]
"""Times of the fermentation, as written."""
