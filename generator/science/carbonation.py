"""Carbon dioxide: what the beer keeps and what the sugar adds."""

import numpy as np

from generator.science._values import Values, require

GRAMS_PER_VOLUME = 1.9768
"""g/L of carbon dioxide that are one volume (real gas, 0 °C, 101.325 kPa)."""
CO2_PER_SUGAR = {"dextrose": 2 * 44.0095 / 198.171, "sucrose": 4 * 44.0095 / 342.297}
"""g of carbon dioxide from 1 g of sugar, fully fermented: glucose monohydrate; sucrose."""
_MOLAR_MASS = 44.0095
_KELVIN = 273.15


def solubility(temperature: Values) -> Values:
    """Carbon dioxide that water holds under one atmosphere of it.

    Formula:
        ln K = −58.0931 + 90.5069 · (100/T) + 22.2940 · ln(T/100), mol/(L·atm); g/L = 44.0095 K
    Args:
        temperature: T − 273.15, °C; float or array.
    Returns:
        g/L.
    Valid:
        −1 to 40 °C in pure water; beer holds 1 to 6 % less. Computed from −10 to 110 °C as an extrapolation.
    Raises:
        OutOfRangeError: a temperature outside −10 to 110 °C.
    Source:
        weiss-1974
    """
    require(temperature, -10.0, 110.0, "a beer temperature", "°C")
    t = (temperature + _KELVIN) / 100.0
    return _MOLAR_MASS * np.exp(-58.0931 + 90.5069 / t + 22.2940 * np.log(t))


def carbonation(temperature: Values, sugar: Values, volume: Values, co2_per_sugar: float) -> Values:
    """Carbonation of bottled beer.

    What stayed dissolved at the warmest temperature after fermentation, and what the sugar gives, fully fermented.

    Formula:
        vol = (g/L dissolved + s · sugar / V) / 1.9768
    Args:
        temperature: warmest since fermentation ended, °C; float or array.
        sugar: g; broadcastable.
        volume: V, L of packaged beer at 20 °C; broadcastable.
        co2_per_sugar: s, g of carbon dioxide per g of sugar.
    Returns:
        volumes of carbon dioxide.
    Valid:
        As solubility; the yeast's own growth is left out.
    Raises:
        OutOfRangeError: a volume of 0, a share outside 0.1 to 1 g/g, or as solubility.
    Source:
        weiss-1974; priming-stoichiometry
    """
    require(volume, 1e-9, 1e9, "a packaged volume", "L")
    require(co2_per_sugar, 0.1, 1.0, "a share of carbon dioxide", "g/g")
    return (solubility(temperature) + co2_per_sugar * sugar / volume) / GRAMS_PER_VOLUME


def priming_sugar(volumes: Values, temperature: Values, volume: Values, co2_per_sugar: float) -> Values:
    """Sugar that gives the wanted carbonation.

    Formula:
        sugar = (1.9768 · vol − g/L dissolved) · V / s, never below 0
    Args:
        volumes: wanted carbonation, vol; float or array.
        temperature: warmest since fermentation ended, °C; broadcastable.
        volume: V, L of packaged beer at 20 °C; broadcastable.
        co2_per_sugar: s, g of carbon dioxide per g of sugar.
    Returns:
        g.
    Valid:
        As solubility.
    Raises:
        OutOfRangeError: a volume of 0, a share outside 0.1 to 1 g/g, or as solubility.
    Source:
        weiss-1974; priming-stoichiometry
    """
    require(volume, 1e-9, 1e9, "a packaged volume", "L")
    require(co2_per_sugar, 0.1, 1.0, "a share of carbon dioxide", "g/g")
    return np.maximum((GRAMS_PER_VOLUME * volumes - solubility(temperature)) * volume / co2_per_sugar, 0.0)


def gas_of_sugar(molar_mass: Values, molecules: Values) -> Values:
    """Carbon dioxide from a gram of a sugar, fully fermented.

    Formula:
        s = 44.0095 · n / M
    Args:
        molar_mass: M of the sugar with its water, g/mol; float or array.
        molecules: n, molecules of carbon dioxide from one of the sugar: 2 from a hexose, 4 from two joined; broadcastable.
    Returns:
        s, g/g.
    Valid:
        The yeast's own growth is left out; of wort extract Balling's balance gives 0.463.
    Raises:
        OutOfRangeError: a molar mass below 30 or above 2000 g/mol, or a negative number of molecules.
    Source:
        priming-stoichiometry
    """
    require(molar_mass, 30.0, 2000.0, "a molar mass", "g/mol")
    require(molecules, 0.0, 100.0, "a number of molecules", "(count)")
    return _MOLAR_MASS * molecules / molar_mass
