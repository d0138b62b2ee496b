"""The refractometer: extract of wort, and an estimate of the gravity once alcohol is there."""

import numpy as np

from generator.science import beer
from generator.science._values import Values, newton, require

MODEL_DOUBT = 0.003
"""SG: half-width of the 95 % interval that the model itself adds after fermentation."""
_SUCROSE = (1.33299434, 1.42929925e-3, 5.34073249e-6, 1.82848716e-8)
_ETHANOL_PERCENT = (0, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20)
_ETHANOL_INDEX = (
    1.3330, 1.3333, 1.3336, 1.3342, 1.3348, 1.3354, 1.3360, 1.3367, 1.3374, 1.3381, 1.3388, 1.3395,
    1.3403, 1.3410, 1.3417, 1.3425, 1.3432, 1.3440, 1.3447, 1.3455, 1.3462, 1.3469,
)  # fmt: skip


def index_of_sucrose(brix: Values) -> Values:
    """Refractive index of a sucrose solution at 20 °C, sodium light.

    Formula:
        n = 1.33299434 + 1.42929925e-3 B + 5.34073249e-6 B² + 1.82848716e-8 B³
    Args:
        brix: B, °Bx; float or array.
    Returns:
        n.
    Valid:
        0 to 40 °Bx, within 5e-5 of the handbook table; computed from −15 to 65 °Bx as an extrapolation.
    Raises:
        OutOfRangeError: outside −15 to 65 °Bx.
    Source:
        crc-102-refraction
    """
    require(brix, -15.0, 65.0, "a refractometer reading", "°Bx")
    a, b, c, d = _SUCROSE
    return a + brix * (b + brix * (c + brix * d))


def index_of_ethanol(abw: Values) -> Values:
    """Refractive index that ethanol adds to water at 20 °C.

    The handbook table minus its value at 0, straight lines in between.

    Formula:
        Δn = n(A) − n(0), linear between the rows of the table
    Args:
        abw: A, % by mass; float or array.
    Returns:
        Δn; 0 below 0 %.
    Valid:
        0 to 20 % by mass.
    Raises:
        OutOfRangeError: above 20 % by mass or below −10 %.
    Source:
        crc-102-refraction
    """
    require(abw, -10.0, 20.0, "an ethanol content", "% by mass")
    return np.interp(abw, _ETHANOL_PERCENT, _ETHANOL_INDEX) - _ETHANOL_INDEX[0]


def extract_before_fermentation(brix: Values, wort_factor: float = 1.04) -> Values:
    """Extract of wort from a refractometer made for sucrose.

    Formula:
        P = °Bx / wort factor
    Args:
        brix: the reading, °Bx, temperature-compensated; float or array.
        wort_factor: of this instrument with wort, from readings beside a hydrometer.
    Returns:
        P, °P.
    Valid:
        Before fermentation only; 0 to 40 °Bx.
    Raises:
        OutOfRangeError: a wort factor outside 0.9 to 1.2.
    Source:
        common-practice
    """
    require(wort_factor, 0.9, 1.2, "a wort factor", "")
    return brix / wort_factor


def sg_after_fermentation(brix: Values, original_extract: Values, wort_factor: float = 1.04) -> Values:
    """Estimate of the gravity of beer from a refractometer reading.

    Alcohol bends light too. Of all beers that the wort could have become by Balling's balance, the one is taken whose
    refractive index is the one read. An estimate: another 0.003 SG of doubt is added for the model.

    Formula:
        A such that n_sucrose(RE(A)) + Δn_ethanol(A) = n_sucrose(°Bx / wort factor);  SG = SG of beer with RE(A) and A
    Args:
        brix: the reading, °Bx; float or array.
        original_extract: OE, °P; broadcastable.
        wort_factor: of this instrument with wort.
    Returns:
        SG 20/20, an estimate.
    Valid:
        Attenuations of 65 to 82 %, within 3 points; 5 points beyond.
    Raises:
        OutOfRangeError: no beer of this wort reads so.
    Source:
        crc-102-refraction; balling-1865; tabarie-1830
    """
    target = index_of_sucrose(extract_before_fermentation(brix, wort_factor))

    def index(abw: Values) -> tuple[Values, Values]:
        extract = beer.real_extract(original_extract, abw)
        value = index_of_sucrose(extract) + index_of_ethanol(abw)
        a, b, c = _SUCROSE[1:]
        slope = (a + extract * (2 * b + 3 * c * extract)) * (0.010665 * original_extract - beer.EXTRACT_PER_ALCOHOL)
        return value, slope + 6.6e-4

    guess = (original_extract - brix / wort_factor) * 0.62
    abw = newton(index, target, guess, tolerance=1e-10, most_steps=60)
    return beer.sg_of_beer(beer.real_extract(original_extract, abw), abw)
