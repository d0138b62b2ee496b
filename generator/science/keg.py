"""Carbon dioxide of a keg at rest: gauge pressure and carbonation, in balance at one temperature."""

import numpy as np

from generator.science._values import Values, require
from generator.science.carbonation import GRAMS_PER_VOLUME, solubility

ATMOSPHERE = 1.01325
"""bar; 1 atm, in which solubility is given and above which a gauge reads."""
_KELVIN = 273.15


def water_vapour(temperature: Values) -> Values:
    """Pressure of the water vapour above beer, taken as that above water.

    Formula:
        ln(p/atm) = 24.4543 − 67.4509 · (100/T) − 4.8489 · ln(T/100); bar = 1.01325 atm
    Args:
        temperature: T − 273.15, °C; float or array.
    Returns:
        bar.
    Valid:
        0 to 40 °C; computed from −10 to 110 °C as an extrapolation.
    Raises:
        OutOfRangeError: a temperature outside −10 to 110 °C.
    Source:
        weiss-price-1980
    """
    require(temperature, -10.0, 110.0, "a beer temperature", "°C")
    t = (temperature + _KELVIN) / 100.0
    return ATMOSPHERE * np.exp(24.4543 - 67.4509 / t - 4.8489 * np.log(t))


def keg_pressure(volumes: Values, temperature: Values) -> Values:
    """Gauge pressure that keeps a carbonation.

    Gas and beer are in balance, which takes days at rest. Carbon dioxide and water vapour share the space above the beer.

    Formula:
        p = 1.01325 · (ρ₀ · vol / β(t) − 1) + p_water(t), β in g/(L·atm), ρ₀ = g/L of one volume
    Args:
        volumes: vol of carbon dioxide; float or array.
        temperature: t of the keg, °C; broadcastable.
    Returns:
        bar above an atmosphere of 1.01325 bar; below 0 where the beer holds more at rest in the open.
    Valid:
        −1 to 40 °C with the solubility in water; beer holds 1 to 6 % less, so that 2.5 volumes below 20 °C take about 0.1 bar more.
    Raises:
        OutOfRangeError: a carbonation outside 0 to 10 volumes or a temperature outside −10 to 110 °C.
    Source:
        weiss-1974; weiss-price-1980
    """
    require(volumes, 0.0, 10.0, "a carbonation", "vol")
    return ATMOSPHERE * (GRAMS_PER_VOLUME * volumes / solubility(temperature) - 1.0) + water_vapour(temperature)


def keg_carbonation(pressure: Values, temperature: Values) -> Values:
    """Carbonation of beer that has rested under a gauge pressure.

    Formula:
        vol = β(t) · (p + 1.01325 − p_water(t)) / (1.01325 · ρ₀), β in g/(L·atm), ρ₀ = g/L of one volume, never below 0
    Args:
        pressure: p, bar above an atmosphere of 1.01325 bar; float or array.
        temperature: t of the keg, °C; broadcastable.
    Returns:
        volumes of carbon dioxide.
    Valid:
        As keg_pressure; beer holds 1 to 6 % less.
    Raises:
        OutOfRangeError: a gauge pressure outside −1.01325 to 20 bar or a temperature outside −10 to 110 °C.
    Source:
        weiss-1974; weiss-price-1980
    """
    require(pressure, -ATMOSPHERE, 20.0, "a gauge pressure", "bar")
    gas = np.maximum(pressure + ATMOSPHERE - water_vapour(temperature), 0.0)
    return solubility(temperature) * gas / (ATMOSPHERE * GRAMS_PER_VOLUME)
