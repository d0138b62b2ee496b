"""Colour of malt and beer."""

from generator.science._values import Values, require

EBC_PER_SRM = 1.9685


def lovibond_from_srm(srm: Values) -> Values:
    """Malt colour in degrees Lovibond.

    Formula:
        °L = (SRM + 0.76) / 1.3546
    Args:
        srm: malt colour, SRM; float or array.
    Returns:
        °L.
    Valid:
        0 to 1000 SRM.
    Raises:
        OutOfRangeError: a colour outside 0 to 5000 SRM.
    Source:
        malt-colour
    """
    require(srm, 0.0, 5000.0, "a malt colour", "SRM")
    return (srm + 0.76) / 1.3546


def ebc_from_srm(srm: Values) -> Values:
    """Colour on the European scale.

    Formula:
        EBC = 1.9685 · SRM
    Args:
        srm: SRM; float or array.
    Returns:
        EBC.
    Valid:
        Scales of 430 nm in use since 1991.
    Raises:
        OutOfRangeError: a colour outside 0 to 5000 SRM.
    Source:
        asbc-beer-10
    """
    require(srm, 0.0, 5000.0, "a colour", "SRM")
    return EBC_PER_SRM * srm


def malt_colour_units(kg_lovibond: Values, volume: Values) -> Values:
    """Malt colour units of a grist.

    Formula:
        MCU = 8.3454 · Σ kg · °L / V
    Args:
        kg_lovibond: Σ of mass times colour, kg·°L; float or array.
        volume: V, L after the boil at 20 °C; broadcastable.
    Returns:
        MCU.
    Valid:
        V above 0.
    Raises:
        OutOfRangeError: a volume of 0 or less.
    Source:
        morey-1995
    """
    require(volume, 1e-9, 1e9, "a volume after the boil", "L")
    return 8.3454 * kg_lovibond / volume


def beer_srm(mcu: Values) -> Values:
    """Beer colour from malt colour units.

    Formula:
        SRM = 1.4922 · MCU^0.6859
    Args:
        mcu: MCU; float or array.
    Returns:
        SRM.
    Valid:
        Below 50 SRM (167 MCU); real beers differ by 20 to 30 %.
    Raises:
        OutOfRangeError: a negative MCU.
    Source:
        morey-1995
    """
    require(mcu, 0.0, 1e6, "a malt colour", "MCU")
    return 1.4922 * mcu**0.6859
