"""What heat does to hops when it isn't a steady boil: bitter acids made and lost, and stands that cool."""

import numpy as np
from numpy.typing import NDArray

from generator.science._values import Values, require
from generator.science.bitterness import isomerisation_rate

_KELVIN = 273.15
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)


def loss_rate(temperature: Values) -> Values:
    """Rate at which bitter iso-alpha acids decompose.

    Formula:
        k₂ = 4.1e12 · e^(−12994/T), T = t + 273.15
    Args:
        temperature: t, °C; float or array.
    Returns:
        k₂, 1/min.
    Valid:
        90 to 130 °C in a buffer of pH 5.2; computed from 0 to 130 °C as an extrapolation.
    Raises:
        OutOfRangeError: a temperature outside 0 to 130 °C.
    Source:
        malowicki-shellhammer-2005
    """
    require(temperature, 0.0, 130.0, "a wort temperature", "°C")
    return 4.1e12 * np.exp(-12994.0 / (temperature + _KELVIN))


def iso_fraction(minutes: Values, temperature: Values) -> Values:
    """Share of the alpha acids that is iso-alpha acids in the hot wort.

    They form at the one rate and decompose at the other. About half of them reaches the beer; trub, yeast and foam take the rest.

    Formula:
        x = k₁ / (k₂ − k₁) · (e^(−k₁ t) − e^(−k₂ t))
    Args:
        minutes: t, min; float or array.
        temperature: °C, constant; broadcastable.
    Returns:
        x, a fraction from 0 to 1.
    Valid:
        90 to 130 °C in a buffer of pH 5.2; computed from 0 to 130 °C as an extrapolation.
    Raises:
        OutOfRangeError: a negative time or a temperature outside 0 to 130 °C.
    Source:
        malowicki-shellhammer-2005
    """
    require(minutes, 0.0, 1e6, "a time", "min")
    made, lost = isomerisation_rate(temperature), loss_rate(temperature)
    return made / (lost - made) * (np.exp(-made * minutes) - np.exp(-lost * minutes))


def evenly_cooling_stand(minutes: Values, start: Values, end: Values) -> Values:
    """Minutes of boil that a stand is worth whose temperature changes evenly.

    Formula:
        t_eq = t · (mean of k₁(T₀ + (T₁ − T₀) · x) for x from 0 to 1) / k₁(100 °C), by Gauss's rule with 24 points
    Args:
        minutes: t of the stand, min; float or array.
        start: T₀, °C; broadcastable.
        end: T₁, °C; broadcastable.
    Returns:
        min.
    Valid:
        As isomerisation_rate; the integral is good to 1e-9 of itself.
    Raises:
        OutOfRangeError: a negative time or a temperature outside 0 to 130 °C.
    Source:
        malowicki-shellhammer-2005
    """
    require(minutes, 0.0, 1e6, "a time", "min")
    require(start, 0.0, 130.0, "a wort temperature", "°C")
    require(end, 0.0, 130.0, "a wort temperature", "°C")
    first, last = _spread(start), _spread(end)
    rates = isomerisation_rate(first + (last - first) * (_NODES + 1.0) / 2.0)
    return minutes * _integral(rates) / isomerisation_rate(100.0)


def freely_cooling_stand(minutes: Values, start: Values, ambient: Values, time_constant: Values) -> Values:
    """Minutes of boil that wort is worth which cools by itself towards its surroundings.

    After one time constant it is 63 % of the way down. With v = e^(−s/τ), which falls from 1 to u in the time t, the rate
    less that of the surroundings is smooth over v, and the rest is constant:

    Formula:
        t_eq = (k₁(Ta) · t + τ · integral from u to 1 of (k₁(Ta + (T₀ − Ta) · v) − k₁(Ta)) / v by v) / k₁(100 °C), u = e^(−t/τ)
    Args:
        minutes: t, min; float or array.
        start: T₀, °C; broadcastable.
        ambient: Ta of the surroundings, °C; broadcastable.
        time_constant: τ, min, above 0; broadcastable.
    Returns:
        min.
    Valid:
        Newton's law of cooling; as isomerisation_rate; the integral, by Gauss's rule with 24 points, is good to 1e-9 of itself.
    Raises:
        OutOfRangeError: a negative time, a time constant of 0, or a temperature outside 0 to 130 °C.
    Source:
        malowicki-shellhammer-2005
    """
    require(minutes, 0.0, 1e6, "a time", "min")
    require(time_constant, 1e-3, 1e9, "a time constant of cooling", "min")
    require(start, 0.0, 130.0, "a wort temperature", "°C")
    surroundings = isomerisation_rate(ambient)
    end = np.exp(-minutes / time_constant)
    low, cold, hot = _spread(end), _spread(ambient), _spread(start)
    left = low + (1.0 - low) * (_NODES + 1.0) / 2.0
    extra = (isomerisation_rate(cold + (hot - cold) * left) - _spread(surroundings)) / left
    return (surroundings * minutes + time_constant * (1.0 - end) * _integral(extra)) / isomerisation_rate(100.0)


def _spread(values: Values) -> NDArray[np.float64]:
    """Values with a last axis for the points of the integral."""
    return np.asarray(values, dtype=np.float64)[..., np.newaxis]


def _integral(values: Values) -> Values:
    """Mean over the interval of what the last axis holds at Gauss's points."""
    mean: Values = np.sum(values * _WEIGHTS, axis=-1) / 2.0
    return mean
