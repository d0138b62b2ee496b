"""From wort to beer: alcohol and real extract, attenuation, energy."""

import numpy as np

from generator.science import ethanol, sucrose, water
from generator.science._values import OutOfRangeError, Values, newton, require

EXTRACT_PER_ALCOHOL = 2.0665
"""g of extract that make 1 g of alcohol (Balling)."""
CO2_PER_ALCOHOL = 0.9565
"""g of carbon dioxide made with 1 g of alcohol (Balling)."""
YEAST_PER_ALCOHOL = 0.11
"""g of yeast dry matter grown with 1 g of alcohol (Balling)."""
_ASH = 0.1


def real_extract(original_extract: Values, abw: Values) -> Values:
    """Real extract left when so much alcohol was made.

    Balling's balance: 2.0665 g of extract become 1 g of alcohol, 0.9565 g of carbon dioxide and 0.11 g of yeast.

    Formula:
        RE = OE · (100 + 1.0665 A)/100 − 2.0665 A
    Args:
        original_extract: OE, °P; float or array.
        abw: A, % alcohol by mass; broadcastable.
    Returns:
        RE, % by mass.
    Valid:
        Undiluted beers from 0 to 40 °P.
    Raises:
        OutOfRangeError: an original extract outside −15 to 65 °P or an alcohol outside −30 to 60 %.
    Source:
        balling-1865
    """
    require(original_extract, -15.0, 65.0, "an original extract", "°P")
    require(abw, -30.0, 60.0, "an alcohol content", "% by mass")
    return original_extract * (100.0 + (EXTRACT_PER_ALCOHOL - 1.0) * abw) / 100.0 - EXTRACT_PER_ALCOHOL * abw


def sg_of_beer(extract: Values, abw: Values) -> Values:
    """Specific gravity 20/20 of a beer with so much real extract and alcohol.

    Tabarié's rule: the gravities of the extract and of the alcohol, each in as many grams to the millilitre as the beer
    holds, add up. The gravity stands on both sides, so it is iterated until it changes by less than 1e-12.

    Formula:
        SG = SG_sucrose(RE · SG · w(20 °C)/100) + SG_ethanol(A · SG · w(20 °C)/100) − 1
    Args:
        extract: RE, % by mass; float or array.
        abw: A, % by mass; broadcastable.
    Returns:
        SG 20/20.
    Valid:
        Below 5 % real extract and 18 % alcohol inside the limits of measurement; beers beyond are an extrapolation.
    Raises:
        OutOfRangeError: an extract or alcohol that is not computed.
    Source:
        tabarie-1830; hackbarth-2009; icumsa-sps-4; oiml-r-22
    """
    w20 = water.density(20.0)
    sg: Values = 1.0 + 0.004 * extract - 0.0017 * abw
    for _ in range(40):
        grams = sg * w20 / 100.0
        better = sucrose.sg_from_concentration(extract * grams) + ethanol.sg_from_concentration(abw * grams) - 1.0
        if np.max(np.abs(better - sg)) < 1e-12:
            return better
        sg = better
    raise OutOfRangeError("no gravity fits so much extract and alcohol")


def alcohol_by_weight(original_extract: Values, sg: Values) -> Values:
    """Alcohol by weight from the original extract and the gravity of the beer.

    Balling's balance and the density balance solved together by a Newton method.

    Formula:
        A such that SG = SG_sucrose(RE(A) · SG · w(20 °C)/100) + SG_ethanol(A · SG · w(20 °C)/100) − 1
    Args:
        original_extract: OE, °P; float or array of any shape.
        sg: SG 20/20 of the beer; broadcastable.
    Returns:
        A, % alcohol by mass; negative where the beer stands above its wort.
    Valid:
        0 to 40 °P undiluted; measured beers of 11 to 18 °P agree within 0.12 % by mass.
    Raises:
        OutOfRangeError: values without a solution.
    Source:
        balling-1865; tabarie-1830; cutaia-2009; icumsa-sps-4; oiml-r-22
    """
    require(sg, 0.95, 1.30, "a gravity of beer", "SG")
    grams = sg * water.density(20.0) / 100.0
    per_alcohol = original_extract * (EXTRACT_PER_ALCOHOL - 1.0) / 100.0 - EXTRACT_PER_ALCOHOL

    def gravity(abw: Values) -> tuple[Values, Values]:
        of_extract, extract_slope = sucrose._sg_and_slope(real_extract(original_extract, abw) * grams)  # noqa: SLF001  (value and slope in one go)
        of_alcohol, alcohol_slope = ethanol._sg_and_slope(abw * grams)  # noqa: SLF001  (value and slope in one go)
        return of_extract + of_alcohol - 1.0, grams * (per_alcohol * extract_slope + alcohol_slope)

    drop = sucrose.sg_from_extract(original_extract) - sg
    by_extract = 100.874 + original_extract * (0.00125828 * original_extract - 0.323444)
    guess = drop * (by_extract + drop * (137.216 - 0.673207 * original_extract + 13.44 * drop))  # our fit, within 0.02 %
    return newton(gravity, sg, guess, tolerance=1e-6)


def apparent_attenuation(original_extract: Values, apparent_extract: Values) -> Values:
    """Apparent attenuation.

    Formula:
        AA = 100 · (OE − AE) / OE
    Args:
        original_extract: OE, °P, above 0; float or array.
        apparent_extract: AE, °P; broadcastable.
    Returns:
        %, above 100 for a beer that reads below water.
    Valid:
        OE above 0.
    Raises:
        OutOfRangeError: an original extract of 0 or less, or an extract outside −15 to 65 °P.
    Source:
        analytica-ebc-9-5
    """
    require(original_extract, 1e-6, 65.0, "an original extract", "°P")
    require(apparent_extract, -15.0, 65.0, "an apparent extract", "°P")
    return 100.0 * (original_extract - apparent_extract) / original_extract


def real_attenuation(abw: Values, extract: Values) -> Values:
    """Real degree of fermentation.

    Formula:
        RDF = 100 · 2.0665 A / (2.0665 A + RE)
    Args:
        abw: A, % by mass; float or array.
        extract: RE, % by mass; broadcastable.
    Returns:
        %.
    Valid:
        2.0665 A + RE above 0.
    Raises:
        OutOfRangeError: nothing was there to ferment.
    Source:
        analytica-ebc-9-5; balling-1865
    """
    fermented = EXTRACT_PER_ALCOHOL * abw
    require(fermented + extract, 1e-6, 1e6, "an extract before fermentation", "%")
    return 100.0 * fermented / (fermented + extract)


def energy(abw: Values, extract: Values, sg: Values) -> Values:
    """Energy of the beer by the European food factors.

    29 kJ for a gram of alcohol, 17 kJ for a gram of extract; 0.1 g in 100 g of the extract is taken as ash.

    Formula:
        kJ/100 mL = (29 A + 17 (RE − 0.1)) · SG · w(20 °C)
    Args:
        abw: A, % by mass; float or array.
        extract: RE, % by mass; broadcastable.
        sg: SG 20/20 of the beer; broadcastable.
    Returns:
        kJ in 100 mL at 20 °C.
    Valid:
        All beers; laboratory values differ by up to 4 %.
    Raises:
        OutOfRangeError: a gravity outside 0.95 to 1.30.
    Source:
        eu-1169-2011; asbc-beer-33
    """
    require(sg, 0.95, 1.30, "a gravity of beer", "SG")
    return (29.0 * abw + 17.0 * (extract - _ASH)) * sg * water.density(20.0)
