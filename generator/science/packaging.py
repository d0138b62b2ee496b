"""Packaged beer: its mass and alcohol, the gas that is still to come, and the pressure in the bottle."""

import numpy as np

from generator.science import water
from generator.science._values import Values, require
from generator.science.carbonation import GRAMS_PER_VOLUME, solubility
from generator.science.keg import water_vapour

HEAD_SPACE = 4.0
"""% of the brimful bottle (common practice)."""
_GAS = 0.9565
"""g of carbon dioxide made with 1 g of alcohol (Balling)."""
_LOST = 1.0665
"""g of carbon dioxide and yeast that leave the beer with 1 g of alcohol made (Balling)."""
_MOLAR_MASS = 44.0095
_GAS_CONSTANT = 8.314462618
_KELVIN = 273.15
_ATMOSPHERE = 1.01325
"""bar"""
_FILLED_AT = 293.15
_ETHANOL = 789.2391
"""g/L of pure ethanol at 20 °C (OIML R 22)."""


def beer_mass(wort: Values, abw: Values) -> Values:
    """Mass of the beer that a wort becomes.

    Carbon dioxide leaves and the yeast settles: by Balling's balance 0.9565 g and 0.11 g with each gram of alcohol.

    Formula:
        beer = 100 wort / (100 + 1.0665 A)
    Args:
        wort: kg of wort; float or array.
        abw: A of the beer, % by mass; broadcastable.
    Returns:
        kg of beer with its real extract, the yeast and all carbon dioxide left out.
    Valid:
        Undiluted beers; the 0.4 % of carbon dioxide that stays dissolved is counted as gone.
    Raises:
        OutOfRangeError: a negative mass or an alcohol content outside −30 to 60 %.
    Source:
        balling-1865
    """
    require(wort, 0.0, 1e9, "a mass of wort", "kg")
    require(abw, -30.0, 60.0, "an alcohol content", "% by mass")
    return 100.0 * wort / (100.0 + _LOST * abw)


def further_gas(abw: Values, end_abw: Values, sg: Values) -> Values:
    """Carbon dioxide that a beer still makes while it ferments to its end.

    Balling's balance on both ends: a point of gravity gives about 0.97 g/L, half a volume.

    Formula:
        c = 10 · SG · w(20 °C) · 0.9565 · (B · (100 + 1.0665 A) / (100 + 1.0665 B) − A), never below 0
    Args:
        abw: A of the beer as it is, % by mass; float or array.
        end_abw: B of the same beer at its end, % by mass; broadcastable.
        sg: SG 20/20 of the beer as it is; broadcastable.
    Returns:
        c, g in a litre of the beer as it is.
    Valid:
        Undiluted beers; all that ferments further is taken to be of the wort.
    Raises:
        OutOfRangeError: an alcohol content outside −30 to 60 % or a gravity outside 0.95 to 1.30.
    Source:
        balling-1865; further-fermentation
    """
    require(abw, -30.0, 60.0, "an alcohol content", "% by mass")
    require(end_abw, -30.0, 60.0, "an alcohol content", "% by mass")
    require(sg, 0.95, 1.30, "a gravity of beer", "SG")
    made = end_abw * (100.0 + _LOST * abw) / (100.0 + _LOST * end_abw) - abw
    return np.maximum(10.0 * sg * water.density(20.0) * _GAS * made, 0.0)


def bottle_pressure(volumes: Values, temperature: Values, head_space: Values, held: Values, air: Values) -> Values:
    """Gauge pressure in a closed bottle.

    Carbon dioxide is shared between the beer and the space above it until both are in balance. Water vapour is there too, and the air that
    was shut in, unless foam or gas drove it out.

    Formula:
        p = ρ₀ · vol / (s · β(t)/1.01325 + h/(100 − h) · 100 · 44.0095/(8.314462618 · T)) + air · T/293.15 + p_water(t) − 1.01325
    Args:
        volumes: vol of carbon dioxide in the whole bottle, per volume of beer; float or array.
        temperature: t = T − 273.15 of the bottle, °C; broadcastable.
        head_space: h, % of the brimful bottle; broadcastable.
        held: s, share of the gas that beer holds of what water holds; 1 for water, 0.94 to 0.99 for beer; broadcastable.
        air: bar of air shut in at 20 °C; 1.01325 where nothing drove it out, 0 where all of it; broadcastable.
    Returns:
        bar above an atmosphere of 1.01325 bar; below 0 where the bottle would draw air.
    Valid:
        −1 to 40 °C and up to 8 bar; the gas is taken as ideal, which tells up to 4 % too little at 8 bar. That beer expands, by
        0.5 % from 20 to 37 °C, is left out; it adds a tenth to the pressure of the air. Beyond, an extrapolation.
    Raises:
        OutOfRangeError: a carbonation outside 0 to 100 volumes, a temperature outside −10 to 110 °C, a head space outside 0 to 50 %, a
            share outside 0.5 to 1, or air outside 0 to 2 bar.
    Source:
        weiss-1974; weiss-price-1980
    """
    require(volumes, 0.0, 100.0, "a carbonation", "vol")
    require(head_space, 0.0, 50.0, "a head space", "%")
    require(held, 0.5, 1.0, "a share of the gas that water holds", "(share)")
    require(air, 0.0, 2.0, "a pressure of air", "bar")
    in_beer = held * solubility(temperature) / _ATMOSPHERE
    kelvin = temperature + _KELVIN
    in_gas = head_space / (100.0 - head_space) * 100.0 * _MOLAR_MASS / (_GAS_CONSTANT * kelvin)
    gas = GRAMS_PER_VOLUME * volumes / (in_beer + in_gas)
    return gas + air * kelvin / _FILLED_AT + water_vapour(temperature) - _ATMOSPHERE


def alcohol_of_serving(volume: Values, abv: Values) -> Values:
    """Mass of pure alcohol in a serving.

    Formula:
        g = V · abv/100 · 789.2391
    Args:
        volume: V, L of beer at 20 °C; float or array.
        abv: alcohol, % by volume at 20 °C; broadcastable.
    Returns:
        g of ethanol.
    Valid:
        All beers.
    Raises:
        OutOfRangeError: a negative volume or an alcohol content outside −10 to 100 %.
    Source:
        oiml-r-22
    """
    require(volume, 0.0, 1e9, "a volume of beer", "L")
    require(abv, -10.0, 100.0, "an alcohol content", "% by volume")
    return volume * abv / 100.0 * _ETHANOL
