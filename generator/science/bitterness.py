"""Hop bitterness by Tinseth's formula, with hot stands as equivalent minutes of boil."""

import numpy as np

from generator.science._values import Values, require

_KELVIN = 273.15


def utilisation(minutes: Values, gravity: Values) -> Values:
    """Share of the alpha acids that ends as bitterness in the beer.

    A fit to boils of whole cones at home; the gravity is that of the boiling wort.

    Formula:
        U = 1.65 · 0.000125^(G − 1) · (1 − e^(−0.04 t)) / 4.15
    Args:
        minutes: t, min of boil; float or array.
        gravity: G, SG of the boiling wort; broadcastable.
    Returns:
        U, a fraction.
    Valid:
        0 to 120 min and 1.030 to 1.120; above 1.090 the gravity term is an extrapolation, which every report says.
    Raises:
        OutOfRangeError: a negative time or a gravity outside 0.95 to 1.30.
    Source:
        tinseth-1997
    """
    require(minutes, 0.0, 1e6, "a boiling time", "min")
    require(gravity, 0.95, 1.30, "a boil gravity", "SG")
    return 1.65 * 0.000125 ** (gravity - 1.0) * (1.0 - np.exp(-0.04 * minutes)) / 4.15


def bitterness(mass: Values, alpha: Values, minutes: Values, gravity: Values, volume: Values) -> Values:
    """Bitterness that one addition of hops gives.

    Formula:
        IBU = U(t, G) · α · m · 1000 / V
    Args:
        mass: m, g of hops; float or array.
        alpha: α, % of alpha acids; broadcastable.
        minutes: t, min of boil or its equivalent; broadcastable.
        gravity: G, SG of the boiling wort; broadcastable.
        volume: V, L after the boil at 20 °C; broadcastable.
    Returns:
        IBU (mg/L).
    Valid:
        As utilisation.
    Raises:
        OutOfRangeError: a volume of 0, or as utilisation.
    Source:
        tinseth-1997
    """
    require(volume, 1e-9, 1e9, "a volume after the boil", "L")
    return utilisation(minutes, gravity) * alpha / 100.0 * mass * 1000.0 / volume


def isomerisation_rate(temperature: Values) -> Values:
    """Rate at which alpha acids turn into bitter iso-alpha acids.

    Formula:
        k₁ = 7.9e11 · e^(−11858/T), T = t + 273.15
    Args:
        temperature: t, °C; float or array.
    Returns:
        k₁, 1/min.
    Valid:
        90 to 130 °C in a buffer of pH 5.2; computed from 0 to 130 °C as an extrapolation.
    Raises:
        OutOfRangeError: a temperature outside 0 to 130 °C.
    Source:
        malowicki-shellhammer-2005
    """
    require(temperature, 0.0, 130.0, "a wort temperature", "°C")
    return 7.9e11 * np.exp(-11858.0 / (temperature + _KELVIN))


def boil_equivalent(minutes: Values, temperature: Values) -> Values:
    """Minutes of boil that a hot stand is worth.

    Adding them to a boiling time in Tinseth's formula is a choice of this project, not a published model.

    Formula:
        t_eq = t · k₁(T) / k₁(100 °C)
    Args:
        minutes: t of the stand, min; float or array.
        temperature: T of the stand, °C; broadcastable.
    Returns:
        min.
    Valid:
        As isomerisation_rate.
    Raises:
        OutOfRangeError: as isomerisation_rate.
    Source:
        malowicki-shellhammer-2005
    """
    return minutes * isomerisation_rate(temperature) / isomerisation_rate(100.0)
