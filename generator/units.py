"""The one place that knows units: "19 lb 2 oz" becomes kilograms, by pint, and every kind has one canonical unit."""

import math
import re
from dataclasses import dataclass, field
from functools import cache

import pint

from generator.errors import Slug, nearest, shown

_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_PART = re.compile(rf"\s*({_NUMBER})\s*([^\d\s+.-][^\d]*?)?\s*(?=$|[+-]?\.?\d)", re.ASCII)
_AMOUNT = re.compile(r"\s*[-+.,\d]+(?:[eE][+-]?\d+)?", re.ASCII)
_CUBIC = re.compile(r"(?<![^\W\d_])(m|ft)\^?3\b", re.ASCII)
_WHOLE = re.compile(_NUMBER, re.ASCII)
_LONGEST = 400
"""Characters of a number or a quantity; longer ones are no quantity, and would take long to find so."""
_ROUNDING = 1e-9
"""What a limit yields, so that the conversion of a value on it does no harm."""
SMALLEST = 1e-6
"""Least value of what must be above 0: far below anything that can be weighed or poured, and safe to divide by."""
SYMBOLS = {
    "liter": "L", "kilogram": "kg", "degC": "°C", "minute": "min", "liter/hour": "L/h", "liter/kilogram": "L/kg", "meter**3": "m³",
    "pH": "", "points": "",
}  # fmt: skip
"""As people write the canonical units; those that aren't here stand for themselves."""
_NOT_FINITE = re.compile(r"\s*[+-]?(?:nan|inf|infinity)\b", re.IGNORECASE)


class QuantityError(ValueError):
    """A text is not the quantity that was expected here."""

    def __init__(self, what: str, expected: str, slug: Slug) -> None:
        self.what, self.expected, self.slug = what, expected, slug
        super().__init__(f"{what}; {expected}")


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: what it may be written in and what it must lie between."""

    name: str
    canonical: str
    aliases: dict[str, str]
    """As people write it, to the name that `convert` knows."""
    example: str
    low: float = SMALLEST
    high: float = 1e5
    compound: bool = False
    limits: dict[str, tuple[float, float]] = field(default_factory=dict)
    """For kinds that keep the unit they are written in: what each may lie between."""

    def unit(self, text: str) -> str:
        """The known name of a unit as written; QuantityError with the nearest one otherwise."""
        name = self.find(text)
        if name is not None:
            return name
        other = next((kind.name for kind in KINDS if kind.name != self.name and kind.find(text)), "")
        if other:
            raise QuantityError(f"'{shown(text)}' is a unit of {other}", f"expected a {self.name}, as in {self.example}", "unit-unknown")
        hint = nearest(_plain(text), tuple(self.aliases))
        if hint.startswith("expected"):
            hint = nearest("", tuple({unit: alias for alias, unit in reversed(self.aliases.items())}.values())[::-1]) + f", as in {self.example}"
        raise QuantityError(f"'{shown(text)}' is no unit of {self.name}", hint, "unit-unknown")

    def find(self, text: str) -> str | None:
        """The known name of a unit as written, if it is one of this kind."""
        if text in self.aliases:
            return self.aliases[text]
        plain = _plain(text)
        return self.aliases.get(plain) or self.aliases.get(plain.lower())


def _plain(unit: str) -> str:
    """One spelling of what is spelt in many ways: degree signs, micro signs, spaces, full stops."""
    text = " ".join(unit.replace("µ", "u").replace("μ", "u").replace("º", "°").replace(".", "").split())
    return text.replace("° ", "°").replace(" / ", "/")


def _spellings(**names: str) -> dict[str, str]:
    return {alias.strip(): unit for unit, aliases in names.items() for alias in aliases.split(",")}


_VOLUME = _spellings(
    liter="L,l,litre,litres,liter,liters", milliliter="mL,ml", centiliter="cL,cl", deciliter="dL,dl", hectoliter="hL,hl",
        microliter="uL,ul", gallon="gal,gallon,gallons,US gal,us gal", quart="qt,quart,quarts,US qt,us qt", pint="pt,pint,pints,US pt,us pt",
        cup="cup,cups", fluid_ounce="fl oz,US fl oz,us fl oz", tablespoon="tbsp", teaspoon="tsp",
        imperial_gallon="imp gal,imperial gallon,UK gal,uk gal", imperial_quart="imp qt,UK qt,uk qt",
        imperial_pint="imp pt,imp pint,UK pt,uk pt", imperial_fluid_ounce="imp fl oz,UK fl oz,uk fl oz", beer_barrel="US bbl,us bbl",
)  # fmt: skip
_MASS = _spellings(
    kilogram="kg,kilogram,kilograms", gram="g,gram,grams", milligram="mg", microgram="ug", metric_ton="t",
    pound="lb,lbs,pound,pounds", ounce="oz,ounce,ounces",
)  # fmt: skip
_TEMPERATURE = _spellings(degC="°C,C,degC,deg C,°c,c", degF="°F,F,degF,deg F,°f,f", kelvin="K")
_DURATION = _spellings(
    minute="min,mins,minute,minutes", second="s,sec,second,seconds", hour="h,hr,hrs,hour,hours", day="d,day,days", week="wk,week,weeks",
)  # fmt: skip
_FLOW = {
    f"{volume}/{time}": f"{_VOLUME[volume]}/{_DURATION[time]}"
    for volume in ("L", "l", "mL", "ml", "gal", "US gal", "qt", "imp gal", "hL")
    for time in ("h", "hr", "hour", "min")
}
_RETENTION = {
    f"{volume}/{mass}": f"{_VOLUME[volume]}/{_MASS[mass]}"
    for volume in ("L", "l", "mL", "ml", "qt", "gal", "US gal", "imp gal", "fl oz", "pt")
    for mass in ("kg", "g", "lb", "oz")
}
_PRESSURE = _spellings(bar="bar", millibar="mbar", psi="psi,PSI", kilopascal="kPa,kpa", megapascal="MPa", pascal="Pa", atmosphere="atm")
_PERCENT = {"%": "%", "percent": "%", "per cent": "%"}
_ROOM = {alias: f"{unit}**3" for unit, letter in (("meter", "m"), ("foot", "ft")) for alias in (f"{letter}3", f"{letter}³", f"{letter}^3")}
_GRAVITY = _spellings(**{"SG": "SG,sg", "°P": "°P,P,°p,p,degP,Plato,plato,°Plato", "°Bx": "°Bx,Bx,°bx,bx,degBx,Brix,brix,°Brix"})
_COLOUR = _spellings(**{"EBC": "EBC,ebc", "SRM": "SRM,srm", "°L": "°L,L,Lovibond,lovibond,degL,°Lovibond"})

VOLUME = Kind("volume", "liter", _VOLUME, '"19 L"', compound=True)
VOLUME_OR_NONE = Kind("volume", "liter", _VOLUME, '"0.5 L"', 0.0, compound=True)
MASS = Kind("mass", "kilogram", _MASS, '"8.6 kg"', compound=True)
HEAT = Kind("mass of water", "kilogram", _MASS, '"1.5 kg"', 0.0, compound=True)
TEMPERATURE = Kind("temperature", "degC", _TEMPERATURE, '"66 °C"', -10.0, 110.0)
DURATION = Kind("duration", "minute", _DURATION, '"60 min"', high=1e7, compound=True)
DURATION_OR_NONE = Kind("duration", "minute", _DURATION, '"10 min"', 0.0, 1e7, compound=True)
FLOW = Kind("rate of evaporation", "liter/hour", _FLOW, '"3.0 L/h"', 0.0)
RETENTION = Kind("retention", "liter/kilogram", _RETENTION, '"1.0 L/kg"', 0.0, 100.0)
PRESSURE = Kind("pressure", "bar", _PRESSURE, '"12 psi"', 0.0, 1000.0)
PERCENT = Kind("percentage", "%", _PERCENT, '"62 %"', 0.0, 100.0)
ROOM = Kind("volume of a room", "meter**3", _ROOM, '"12 m3"')
CONCENTRATION = Kind(
    "concentration", "", {"mg/L": "mg/L", "mg/l": "mg/L", "ppm": "mg/L", "g/L": "g/L", "g/l": "g/L", **_PERCENT}, '"25 mg/L"',
    limits={"mg/L": (SMALLEST, 1e6), "g/L": (SMALLEST, 1000.0), "%": (SMALLEST, 100.0)},
)  # fmt: skip
"""Of a cleaning agent or a sanitiser; one part per million of water is a milligram in a litre."""
CARBONATION = Kind("carbonation", "vol", _spellings(vol="vol,vols,volume,volumes"), '"2.3 vol"', high=20.0)
COLOUR = Kind("colour", "", _COLOUR, '"6 EBC"', limits={"EBC": (0.0, 5000.0), "SRM": (0.0, 2500.0), "°L": (0.0, 2000.0)})
GRAVITY = Kind("gravity", "", _GRAVITY, '"1.064"', limits={"SG": (0.980, 1.200), "°P": (-5.0, 45.0), "°Bx": (0.0, 50.0)})
WORT_GRAVITY = Kind(
    "gravity", "", {alias: name for alias, name in _GRAVITY.items() if name != "°Bx"}, '"1.064"', limits={"SG": (0.980, 1.200), "°P": (-5.0, 45.0)}
)
"""Of a hydrometer or a plan; a refractometer's scale doesn't serve there."""
KINDS = (VOLUME, MASS, TEMPERATURE, DURATION, FLOW, RETENTION, PRESSURE, PERCENT, ROOM, CONCENTRATION, CARBONATION, COLOUR, GRAVITY)
"""One of each name, to tell a unit of another kind from none at all."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with the canonical unit of its kind, or with its own unit for gravities and colours."""

    value: float
    unit: str


@cache
def _registry() -> "pint.UnitRegistry[float]":
    return pint.UnitRegistry()


@cache
def _linear(unit: str, canonical: str) -> tuple[float, float]:
    """Factor and offset from a unit to the canonical one."""
    if unit == canonical:
        return 1.0, 0.0
    registry = _registry()
    at_zero = float(registry.Quantity(0.0, unit).to(canonical).magnitude)
    at_hundred = float(registry.Quantity(100.0, unit).to(canonical).magnitude)
    offset = 0.0 if abs(at_zero) < 1e-12 else at_zero
    return (at_hundred - at_zero) / 100.0, offset


def convert(value: float, unit: str, canonical: str) -> float:
    """A value in pint's unit expressed in the canonical one; temperatures are points on the scale."""
    factor, offset = _linear(unit, canonical)
    return value * factor + offset


def difference(value: float, unit: str, canonical: str) -> float:
    """A difference (a doubt) in pint's unit expressed in the canonical one; °F is 5/9 °C, without offset."""
    return value * _linear(unit, canonical)[0]


def number(text: str) -> float:
    """A plain finite number with a decimal point; QuantityError otherwise."""
    stripped = text.strip()
    if len(stripped) <= _LONGEST and _WHOLE.fullmatch(stripped) and math.isfinite(float(stripped)):
        return float(stripped)
    raise QuantityError(f"'{shown(text)}' is not a finite number", "expected a number such as 24.5", "not-a-number")


def number_and_unit(text: str) -> tuple[str, str]:
    """Split "25 °C" or "0,5" into the number as written and the unit."""
    match = _AMOUNT.match(text)
    end = match.end() if match else 0
    return text[:end].strip(), text[end:].strip()


def _parts(text: str, kind: Kind) -> list[tuple[float, str]]:
    """The (number, unit as written) pairs of a text such as "19 lb 2 oz"."""
    if len(text) > _LONGEST:
        raise QuantityError(f"'{shown(text)}' is too long for a {kind.name}", f"expected a number and a unit, as in {kind.example}", "not-a-number")
    if _NOT_FINITE.match(text):
        raise QuantityError(f"'{shown(text)}' is not a finite number", f"expected a number, as in {kind.example}", "not-a-number")
    if re.search(r"\d,\d", text):
        raise QuantityError(f"'{shown(text)}' has a comma in its number", f"expected a decimal point, as in {kind.example}", "not-a-number")
    text, parts, position = _CUBIC.sub(r"\1³", text), [], 0
    while position < len(text.rstrip()):
        match = _PART.match(text, position)
        if match is None or match.end() == position:
            raise QuantityError(f"'{shown(text)}' is not a {kind.name}", f"expected a number and a unit, as in {kind.example}", "wrong-value")
        parts.append((number(match[1]), match[2] or ""))
        position = match.end()
    if not parts or (len(parts) > 1 and not kind.compound):
        raise QuantityError(f"'{shown(text)}' is not a {kind.name}", f"expected a number and a unit, as in {kind.example}", "wrong-value")
    return parts


def parse(text: str, kind: Kind) -> Quantity:
    """Read a quantity as people write it.

    Args:
        text: "19 L", "19 lb 2 oz", "66 °C", "62 %", "1.064", "15.7 °P".
        kind: what is expected here.

    Raises:
        QuantityError: what is wrong with it, with the expected form and the slug of the problem.
    """
    parts = _parts(text, kind)
    if kind.limits:
        value, unit = parts[0]
        return within(value, kind.unit(unit), kind) if unit else bare(value, kind)
    total = 0.0
    for value, unit in parts:
        if not unit:
            raise QuantityError(f"'{shown(text)}' has no unit", f"expected a {kind.name}, as in {kind.example}", "unit-missing")
        if len(parts) > 1 and value < 0:
            raise QuantityError(f"'{shown(text)}' adds a negative part", f"expected a {kind.name}, as in {kind.example}", "wrong-value")
        total += convert(value, kind.unit(unit), kind.canonical)
    return within(total, kind.canonical, kind)


def bare(value: float, kind: Kind) -> Quantity:
    """A number without a unit: SG where it can be nothing else, or the pH; QuantityError otherwise."""
    if "pH" in kind.limits:
        return within(value, "pH", kind)
    if "SG" not in kind.limits:
        raise QuantityError(f"a {kind.name} of {value:g} has no unit", f"expected a unit, as in {kind.example}", "unit-missing")
    low, high = kind.limits["SG"]
    if low <= value <= high:
        return Quantity(value, "SG")
    expected = f"expected {' or '.join(unit for unit in kind.limits if unit != 'SG')}, or an SG of {low:.3f} to {high:.3f}"
    raise QuantityError(f"a gravity of {value:g} has no unit", expected, "unit-missing")


def within(value: float, unit: str, kind: Kind) -> Quantity:
    """The value as a Quantity; QuantityError where it lies outside what the kind allows."""
    symbol = SYMBOLS.get(unit, unit)
    what = f"a {kind.name} of {value:.6g} {symbol}".rstrip()
    low, high = kind.limits.get(unit, (kind.low, kind.high))
    if low == SMALLEST and value <= 0.0:
        raise QuantityError(f"{what} is not above 0", f"expected more than 0, as in {kind.example}", "not-positive")
    if low - _ROUNDING <= value <= high + _ROUNDING:
        return Quantity(min(max(value, low), high), unit)
    if value < 0.0 == low and not kind.limits and kind.name not in (PERCENT.name, TEMPERATURE.name):
        raise QuantityError(f"{what} is below 0", f"expected 0 or more, as in {kind.example}", "not-positive")
    allowed = f"more than 0, at most {high:g}" if low == SMALLEST else f"{low:g} to {high:g}"
    raise QuantityError(f"{what} is out of range", f"expected {allowed} {symbol}".rstrip(), "out-of-range")
