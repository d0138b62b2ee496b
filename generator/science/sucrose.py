"""Aqueous sucrose, which stands for wort: density, its inverse, and specific gravity 20/20."""

from collections.abc import Sequence
from functools import lru_cache

from generator.science import water
from generator.science._values import Values, newton, polynomial, polynomial_and_slope, require

_B = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
_BY_POWER = tuple(tuple(row[k] if k < len(row) else 0.0 for row in _B) for k in range(6))
_EXTRACT_LOW, _EXTRACT_HIGH = -15.0, 65.0
_FROM_EXCESS = (2.596221, -2.368761, 2.45541, -0.8899384, -8.121281, 36.29325, -71.40146, 56.05365)
"""Mass fraction at 20 °C from the density above that of water, kg/L: our fit, within 5.1e-7, where a Newton method starts."""
_FROM_CONCENTRATION = (1.001805, -0.3873238, 0.1629638, -0.0636206, 0.02209374, -0.004602325)
"""Mass fraction at 20 °C from the concentration, g/mL: our fit, within 1.4e-6, so that one Newton step leaves less than 1e-12."""
_SETTLED = 1e-7
"""Newton step, mass fraction, after which less than 1e-12 is left."""


def _coefficients(temperature: Values) -> Sequence[Values]:
    """What multiplies 1, w, w², … w⁶ at a temperature, kg/m³."""
    return _coefficients_at(temperature) if isinstance(temperature, float) else _evaluated(temperature)


def _evaluated(temperature: Values) -> Sequence[Values]:
    tau = (temperature - 20.0) / 100.0
    return [0.0, *(polynomial(column, tau) for column in _BY_POWER)]


_coefficients_at = lru_cache(64)(_evaluated)
_water_at = lru_cache(64)(water.density)


def _water(temperature: Values) -> Values:
    return _water_at(temperature) if isinstance(temperature, float) else water.density(temperature)


def _guess(coefficients: tuple[float, ...], x: Values) -> Values:
    """A polynomial without its constant term."""
    return x * polynomial(coefficients, x)


_AT_20 = tuple(_coefficients(20.0))
_WATER = 1000.0 * float(water.density(20.0))


def density(extract: Values, temperature: Values = 20.0) -> Values:
    """Density of wort, taken as a sucrose solution.

    The international sugar polynomial: the density of water plus terms in the mass fraction and the temperature.

    Formula:
        ρ = w(t) + Σᵢ Σₖ bᵢₖ · (P/100)ᵏ⁺¹ · ((t − 20)/100)ⁱ / 1000
    Args:
        extract: P, % by mass (°P); float or array of any shape.
        temperature: t, °C; broadcastable to the extract.
    Returns:
        ρ, kg/L, of the broadcast shape.
    Valid:
        0 to 40 °P and 10 to 80 °C; computed down to −15 °P (dry beers read below water) and up to 65 °P, −10 to 110 °C, as an extrapolation.
    Raises:
        OutOfRangeError: an extract or a temperature outside what is computed.
    Source:
        icumsa-sps-4; bettin-spieweck-1990
    """
    require(extract, _EXTRACT_LOW, _EXTRACT_HIGH, "an extract", "°P")
    return _water(temperature) + polynomial(_coefficients(temperature), extract / 100.0) / 1000.0


def extract_from_density(density: Values, temperature: Values = 20.0) -> Values:
    """Extract of the wort that has a given density.

    The density polynomial solved for the mass fraction by Newton's method, every element for itself.

    Formula:
        P such that ρ(P, t) = the given density
    Args:
        density: kg/L; float or array of any shape.
        temperature: t, °C; broadcastable to the density.
    Returns:
        P, °P, of the broadcast shape.
    Valid:
        0 to 40 °P and 10 to 80 °C; computed from −15 to 65 °P and −10 to 110 °C as an extrapolation.
    Raises:
        OutOfRangeError: no solution in −15 to 65 °P, or a temperature that is not computed.
    Source:
        icumsa-sps-4; bettin-spieweck-1990
    """
    target = (density - _water(temperature)) * 1000.0
    require(target, -80.0, 330.0, "a density above that of water", "kg/m³")
    coefficients = _coefficients(temperature)
    guess = _guess(_FROM_EXCESS, target / 1000.0)
    extract = 100.0 * newton(lambda w: polynomial_and_slope(coefficients, w), target, guess, tolerance=_SETTLED)
    require(extract, _EXTRACT_LOW, _EXTRACT_HIGH, "an extract", "°P")
    return extract


def sg_from_extract(extract: Values) -> Values:
    """Specific gravity 20/20 of a given extract.

    Formula:
        SG = ρ(P, 20 °C) / w(20 °C)
    Args:
        extract: P, °P; float or array of any shape.
    Returns:
        SG 20/20, true (in vacuum), of the same shape.
    Valid:
        0 to 40 °P; computed from −15 to 65 °P as an extrapolation.
    Raises:
        OutOfRangeError: an extract that is not computed.
    Source:
        icumsa-sps-4; nbs-circular-440
    """
    return density(extract) / _water(20.0)


def extract_from_sg(sg: Values) -> Values:
    """Extract in degrees Plato of a given specific gravity 20/20.

    Formula:
        P such that ρ(P, 20 °C) = SG · w(20 °C)
    Args:
        sg: SG 20/20; float or array of any shape.
    Returns:
        P, °P, of the same shape.
    Valid:
        0.980 to 1.178 (−5 to 40 °P); computed from −15 to 65 °P as an extrapolation.
    Raises:
        OutOfRangeError: a gravity whose extract is not computed.
    Source:
        icumsa-sps-4; nbs-circular-440
    """
    return extract_from_density(sg * _water(20.0))


def sg_from_concentration(grams_per_ml: Values) -> Values:
    """Specific gravity 20/20 of the sucrose solution that holds so much sucrose in a millilitre.

    Formula:
        SG = ρ(P)/w(20 °C) with P such that ρ(P) · P/100 = c
    Args:
        grams_per_ml: c, g of sucrose in 1 mL of solution at 20 °C; float or array.
    Returns:
        SG 20/20, of the same shape.
    Valid:
        0 to 0.47 g/mL (40 °P).
    Raises:
        OutOfRangeError: a concentration outside −0.15 to 0.8 g/mL.
    Source:
        icumsa-sps-4
    """
    return _sg_and_slope(grams_per_ml)[0]


def sg_slope(grams_per_ml: Values) -> Values:
    """Rise of the specific gravity 20/20 with the extract in a volume.

    Formula:
        d SG / d c at the concentration c
    Args:
        grams_per_ml: c, g of sucrose in 1 mL of solution at 20 °C; float or array.
    Returns:
        1/(g/mL), of the same shape.
    Valid:
        0 to 0.47 g/mL (40 °P).
    Raises:
        OutOfRangeError: a concentration outside −0.15 to 0.8 g/mL.
    Source:
        icumsa-sps-4
    """
    return _sg_and_slope(grams_per_ml)[1]


def _sg_and_slope(grams_per_ml: Values) -> tuple[Values, Values]:
    """SG 20/20 at a concentration, g/mL, and its derivative by the concentration."""
    require(grams_per_ml, -0.15, 0.8, "a concentration of extract", "g/mL")
    start = _guess(_FROM_CONCENTRATION, grams_per_ml)
    excess, slope = polynomial_and_slope(_AT_20, start)
    per_fraction = _WATER + excess + start * slope
    excess += slope * ((grams_per_ml * 1000.0 - start * (_WATER + excess)) / per_fraction)
    return 1.0 + excess / _WATER, 1000.0 / _WATER * slope / per_fraction


def extract_mass(volume: Values, sg: Values) -> Values:
    """Mass of extract in a volume of wort, from its gravity.

    Formula:
        E = V · ρ(P, 20 °C) · P/100, P = P(SG)
    Args:
        volume: V, L at 20 °C; float or array.
        sg: SG 20/20; broadcastable to the volume.
    Returns:
        E, kg.
    Valid:
        As extract_from_sg.
    Raises:
        OutOfRangeError: a gravity that is not computed.
    Source:
        icumsa-sps-4
    """
    return extract_of_wort(volume, extract_from_sg(sg))


def extract_of_wort(volume: Values, extract: Values) -> Values:
    """Mass of extract in a volume of wort, from its degrees Plato.

    Formula:
        E = V · ρ(P, 20 °C) · P/100
    Args:
        volume: V, L at 20 °C; float or array.
        extract: P, °P; broadcastable to the volume.
    Returns:
        E, kg.
    Valid:
        0 to 40 °P; computed from −15 to 65 °P as an extrapolation.
    Raises:
        OutOfRangeError: an extract that is not computed.
    Source:
        icumsa-sps-4
    """
    return volume * density(extract) * extract / 100.0


def sg_of_extract_mass(extract_kg: Values, volume: Values) -> Values:
    """Specific gravity 20/20 of a wort that holds so much extract in so many litres.

    Formula:
        SG = ρ(P)/w(20 °C) with P such that ρ(P) · P/100 = E/V
    Args:
        extract_kg: E, kg; float or array.
        volume: V, L at 20 °C; broadcastable to the extract.
    Returns:
        SG 20/20.
    Valid:
        E/V from 0 to 0.47 kg/L (40 °P).
    Raises:
        OutOfRangeError: a volume of 0, or E/V outside −0.15 to 0.8 kg/L.
    Source:
        icumsa-sps-4
    """
    require(volume, 1e-9, 1e9, "a volume of wort", "L")
    return sg_from_concentration(extract_kg / volume)
