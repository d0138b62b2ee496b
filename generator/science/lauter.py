"""Lautering by mass balance: several sparges, sparge liquor moved to the mash, and what drained grain keeps."""

from generator.science import water
from generator.science._values import Values, require

EXTRACT_VOLUME = 0.6165
"""L that 1 kg of dissolved extract takes up in wort."""


def equal_runnings(grist_per_litre: Values, retention: Values, runnings: Values) -> Values:
    """Lauter efficiency when the wort runs off in equal parts, with a batch sparge before each but the first.

    After each running the grain keeps the same volume of what ran off, so every running leaves the same share behind.
    Equal parts give more than the same number of unequal ones.

    Formula:
        η = 1 − (a·g / (1/n + a·g))ⁿ
    Args:
        grist_per_litre: g, kg of grist per L of wort before the boil; float or array.
        retention: a, L of wort left per kg of grist; broadcastable.
        runnings: n, runnings in all: 1 without a sparge, 2 with one; broadcastable.
    Returns:
        η, a fraction from 0 to 1.
    Valid:
        Fully mixed and fully drained mashes; real beds lose more.
    Raises:
        OutOfRangeError: a negative argument or fewer than one running.
    Source:
        lauter-mass-balance
    """
    require(grist_per_litre, 0.0, 1e3, "a grist per litre", "kg/L")
    require(retention, 0.0, 1e3, "a retention", "L/kg")
    require(runnings, 1.0, 1e3, "a number of runnings", "(count)")
    kept = retention * grist_per_litre
    return 1.0 - (kept / (1.0 / runnings + kept)) ** runnings


def first_running_share(pre_boil: Values, sparge: Values, moved: Values = 0.0) -> Values:
    """Share of the wort before the boil that runs off before the sparge.

    Sparge liquor that goes into the mash instead comes out with the first running; moving all of it leaves no sparge.

    Formula:
        f = 1 − (1 − s) · S / V
    Args:
        pre_boil: V, L before the boil at 20 °C; float or array.
        sparge: S, L of sparge liquor at 20 °C; broadcastable.
        moved: s, share of the sparge liquor put into the mash instead; broadcastable.
    Returns:
        f, a fraction above 0, at most 1.
    Valid:
        The grain keeps as much after the sparge as before, so the sparge runs off as it went on.
    Raises:
        OutOfRangeError: a volume of 0, a share outside 0 to 1, or no wort before the sparge.
    Source:
        lauter-mass-balance
    """
    require(pre_boil, 1e-9, 1e9, "a volume before the boil", "L")
    require(sparge, 0.0, 1e9, "a sparge", "L")
    require(moved, 0.0, 1.0, "a share of the sparge liquor", "(fraction)")
    share = 1.0 - (1.0 - moved) * sparge / pre_boil
    require(share, 1e-9, 1.0, "a share of the first running", "(fraction)")
    return share


def absorption_from_retention(retention: Values, moisture: Values, extract: Values, conversion: Values) -> Values:
    """Liquor that doesn't come back as wort, per kilogram of grist, from the wort that the grain keeps.

    The malt's own water and the extract add to the liquid of the mash; only what the grain keeps of it stays behind.

    Formula:
        b = a − m/w(20 °C) − 0.6165 · e · c
    Args:
        retention: a, L of wort left per kg of grist; float or array.
        moisture: m, kg of water per kg of grist; broadcastable.
        extract: e, kg of extract per kg of grist as weighed; broadcastable.
        conversion: c, as a fraction; broadcastable.
    Returns:
        b, L/kg, both volumes at 20 °C.
    Valid:
        Worts of 5 to 25 °P, in which 1 kg of extract takes up 0.615 to 0.619 L.
    Raises:
        OutOfRangeError: a negative retention, a moisture outside 0 to 1, an extract outside 0 to 1.5, or a conversion outside 0 to 2.
    Source:
        lauter-mass-balance
    """
    require(retention, 0.0, 1e3, "a retention", "L/kg")
    return retention - _brought(moisture, extract, conversion)


def retention_from_absorption(absorption: Values, moisture: Values, extract: Values, conversion: Values) -> Values:
    """Wort that the grain keeps, from liquor in and wort out.

    Formula:
        a = b + m/w(20 °C) + 0.6165 · e · c
    Args:
        absorption: b, L/kg; float or array.
        moisture: m, kg of water per kg of grist; broadcastable.
        extract: e, kg of extract per kg of grist as weighed; broadcastable.
        conversion: c, as a fraction; broadcastable.
    Returns:
        a, L of wort per kg of grist.
    Valid:
        As absorption_from_retention; dead space and spills count as kept by the grain.
    Raises:
        OutOfRangeError: an absorption beyond 1000 L/kg, or as absorption_from_retention.
    Source:
        lauter-mass-balance
    """
    require(absorption, -1e3, 1e3, "an apparent absorption", "L/kg")
    return absorption + _brought(moisture, extract, conversion)


def _brought(moisture: Values, extract: Values, conversion: Values) -> Values:
    """L of liquid that the grist itself brings, per kilogram."""
    require(moisture, 0.0, 1.0, "a moisture", "kg/kg")
    require(extract, 0.0, 1.5, "an extract", "kg/kg")
    require(conversion, 0.0, 2.0, "a conversion", "(fraction)")
    return moisture / water.density(20.0) + EXTRACT_VOLUME * extract * conversion
