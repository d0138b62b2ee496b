"""The few unit strings that the demo plans use, as plain numbers, and how a brewer rounds on paper."""

from decimal import ROUND_HALF_EVEN, Decimal

from generator.science import sucrose

_FACTORS = {
    "L": 1.0, "gal": 3.785411784, "qt": 0.946352946,
    "kg": 1.0, "g": 0.001, "lb": 0.45359237, "oz": 0.028349523125,
    "%": 1.0, "min": 1.0, "h": 60.0, "vol": 1.0, "SG": 1.0, "L/h": 1.0, "gal/h": 3.785411784, "L/kg": 1.0, "qt/lb": 2.086351113,
}  # fmt: skip
"""Litres, kilograms, minutes and litres an hour for one of each unit; temperatures are converted apart."""


def quantity(text: str) -> float:
    """Read a quantity such as `19 lb 2 oz` or `66 °C` as L, kg, min, °C, SG or a bare number."""
    parts = text.split()
    if len(parts) == 1:
        return float(parts[0])
    if parts[1] == "°P":
        return float(sucrose.sg_from_extract(float(parts[0])))
    if parts[1] == "°C":
        return float(parts[0])
    if parts[1] == "°F":
        return (float(parts[0]) - 32.0) / 1.8
    return sum(float(value) * _FACTORS[unit] for value, unit in zip(parts[::2], parts[1::2], strict=True))


def in_unit(value: float, unit: str) -> float:
    """Express L, kg, min or °C in a unit of the same kind."""
    if unit == "°F":
        return value * 1.8 + 32.0
    return value / _FACTORS.get(unit, 1.0)


def rounded(value: float, step: str) -> str:
    """Round to a multiple of the step and write it with the step's decimals, as `1.098` or `1.0985`."""
    grain = Decimal(step)
    steps = (Decimal(repr(value)) / grain).quantize(Decimal(1), rounding=ROUND_HALF_EVEN)
    text = f"{steps * grain:f}"
    if step == "0.0005" and text.endswith("0"):
        return text[:-1]
    return text
