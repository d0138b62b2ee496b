"""The one place that knows units: "19 lb 2 oz" becomes kilograms, by pint, and every kind has one canonical unit."""

import math
import re
from dataclasses import dataclass, field
from functools import cache

import pint

from generator.errors import Slug, nearest, shown

_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_PART = re.compile(rf"\s*({_NUMBER})\s*([^\d\s+.-][^\d]*?)?\s*(?=$|[\d+.-])", re.ASCII)
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
    low: float = 0.0
    high: float = 1e5
    above_low: bool = True
    """Whether `low` itself is refused."""
    compound: bool = False
    limits: dict[str, tuple[float, float]] = field(default_factory=dict)
    """For kinds that keep the unit they are written in: what each may lie between."""

    def unit(self, text: str) -> str:
        """The known name of a unit as written; QuantityError with the nearest one otherwise."""
        name = self.aliases.get(_plain(text)) or self.aliases.get(_plain(text).lower())
        if name is None:
            hint = nearest(_plain(text), tuple(self.aliases))
            raise QuantityError(f"'{shown(text)}' is no unit of {self.name}", f"{hint} (as in {self.example})", "unit-unknown")
        return name


def _plain(unit: str) -> str:
    """One spelling of what is spelt in many ways: degree signs, micro signs, spaces, full stops."""
    text = " ".join(unit.replace("µ", "u").replace("μ", "u").replace("º", "°").split())
    return text.replace("° ", "°").replace(" / ", "/").rstrip(".")


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
_GRAVITY = _spellings(**{"SG": "SG,sg", "°P": "°P,P,°p,p,degP,Plato,plato,°Plato", "°Bx": "°Bx,Bx,°bx,bx,degBx,Brix,brix,°Brix"})
_COLOUR = _spellings(**{"EBC": "EBC,ebc", "SRM": "SRM,srm", "°L": "°L,L,Lovibond,lovibond,degL,°Lovibond"})

VOLUME = Kind("volume", "liter", _VOLUME, '"19 L"', compound=True)
VOLUME_OR_NONE = Kind("volume", "liter", _VOLUME, '"0.5 L"', above_low=False, compound=True)
MASS = Kind("mass", "kilogram", _MASS, '"8.6 kg"', compound=True)
HEAT = Kind("mass of water", "kilogram", _MASS, '"1.5 kg"', above_low=False, compound=True)
TEMPERATURE = Kind("temperature", "degC", _TEMPERATURE, '"66 °C"', -10.0, 110.0, above_low=False)
DURATION = Kind("duration", "minute", _DURATION, '"60 min"', high=1e7, compound=True)
DURATION_OR_NONE = Kind("duration", "minute", _DURATION, '"10 min"', high=1e7, above_low=False, compound=True)
FLOW = Kind("evaporation", "liter/hour", _FLOW, '"3.0 L/h"', above_low=False)
RETENTION = Kind("retention", "liter/kilogram", _RETENTION, '"1.0 L/kg"', high=100.0, above_low=False)
PRESSURE = Kind("pressure", "bar", _PRESSURE, '"12 psi"', high=1000.0, above_low=False)
PERCENT = Kind("percentage", "%", _PERCENT, '"62 %"', 0.0, 100.0, above_low=False)
CARBONATION = Kind("carbonation", "vol", _spellings(vol="vol,vols,volume,volumes"), '"2.3 vol"', 0.0, 20.0)
COLOUR = Kind("colour", "", _COLOUR, '"6 EBC"', limits={"EBC": (0.0, 5000.0), "SRM": (0.0, 2500.0), "°L": (0.0, 2000.0)})
GRAVITY = Kind("gravity", "", _GRAVITY, '"1.064"', limits={"SG": (0.980, 1.200), "°P": (-5.0, 45.0), "°Bx": (0.0, 50.0)})
WORT_GRAVITY = Kind(
    "gravity", "", {alias: name for alias, name in _GRAVITY.items() if name != "°Bx"}, '"1.064"', limits={"SG": (0.980, 1.200), "°P": (-5.0, 45.0)}
)


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
    if re.fullmatch(_NUMBER, stripped, re.ASCII) and math.isfinite(float(stripped)):
        return float(stripped)
    raise QuantityError(f"'{shown(text)}' is not a finite number", "expected digits with a decimal point, as in 24.5", "not-a-number")


def _parts(text: str, kind: Kind) -> list[tuple[float, str]]:
    """The (number, unit as written) pairs of a text such as "19 lb 2 oz"."""
    if _NOT_FINITE.match(text):
        raise QuantityError(f"'{shown(text)}' is not a finite number", f"expected a number, as in {kind.example}", "not-a-number")
    if re.search(r"\d,\d", text):
        raise QuantityError(f"'{shown(text)}' has a comma in its number", f"expected a decimal point, as in {kind.example}", "not-a-number")
    parts, position = [], 0
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
        return within(value, kind.unit(unit) if unit else _unit_of_bare(value, kind), kind)
    total = 0.0
    for value, unit in parts:
        if not unit:
            raise QuantityError(f"'{shown(text)}' has no unit", f"expected a {kind.name}, as in {kind.example}", "unit-missing")
        if len(parts) > 1 and value < 0:
            raise QuantityError(f"'{shown(text)}' adds a negative part", f"expected a {kind.name}, as in {kind.example}", "wrong-value")
        total += convert(value, kind.unit(unit), kind.canonical)
    return within(total, kind.canonical, kind)


def _unit_of_bare(value: float, kind: Kind) -> str:
    low, high = kind.limits.get("SG", (1.0, 0.0))
    if low <= value <= high:
        return "SG"
    raise QuantityError(f"'{value:g}' has no unit", f"expected a {kind.name} with its unit, as in {kind.example}", "unit-missing")


def within(value: float, unit: str, kind: Kind) -> Quantity:
    """The value as a Quantity; QuantityError where it lies outside what the kind allows."""
    low, high = kind.limits.get(unit, (kind.low, kind.high))
    shown_unit = {"liter": "L", "kilogram": "kg", "degC": "°C", "minute": "min", "liter/hour": "L/h", "liter/kilogram": "L/kg"}.get(unit, unit)
    if not kind.limits and kind.above_low and value <= low == 0.0:
        raise QuantityError(f"a {kind.name} of {value:g} {shown_unit} is not above 0", f"expected more than 0, as in {kind.example}", "not-positive")
    if not low <= value <= high:
        raise QuantityError(
            f"a {kind.name} of {value:.6g} {shown_unit} is out of range", f"expected {low:g} to {high:g} {shown_unit}".rstrip(), "out-of-range"
        )
    return Quantity(value, unit)
