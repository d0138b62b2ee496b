"""Grain to wort: potential, conversion, lautering, heat and room in the vessel."""

from generator.science import water
from generator.science._values import Values, require

MALT_HEAT = 0.40
"""Heat capacity of malt over that of water."""
GRAIN_BULK = 2.2
"""L that 1 kg of loose crushed malt takes up: common practice."""
GRAIN_DISPLACEMENT = 0.67
"""L that 1 kg of crushed malt takes up in the mash."""


def potential_extract(mass: Values, extract: Values, moisture: Values) -> Values:
    """Extract that a fermentable could give in the laboratory mash.

    Formula:
        E = m · e · (1 − moisture)
    Args:
        mass: m, kg as weighed; float or array.
        extract: e, fine grind, dry basis, % ; broadcastable.
        moisture: %; broadcastable.
    Returns:
        kg of extract.
    Valid:
        Percentages from 0 to 100; an extract may exceed 100 % where a doubt is drawn.
    Raises:
        OutOfRangeError: an extract outside 0 to 150 % or a moisture outside 0 to 100 %.
    Source:
        analytica-ebc-4-5-1
    """
    require(extract, 0.0, 150.0, "a malt extract", "%")
    require(moisture, 0.0, 100.0, "a moisture", "%")
    return mass * extract / 100.0 * (1.0 - moisture / 100.0)


def dissolved_extract(water_kg: Values, first_wort: Values) -> Values:
    """Extract dissolved in the mash, from the gravity of the first wort.

    All the water of the mash, that of the liquor and that of the malt, carries the extract.

    Formula:
        E = W · P₁ / (100 − P₁)
    Args:
        water_kg: W, kg of water in the mash; float or array.
        first_wort: P₁, °P; broadcastable.
    Returns:
        kg of extract.
    Valid:
        P₁ from 0 to 40 °P.
    Raises:
        OutOfRangeError: an extract outside −15 to 65 °P.
    Source:
        mash-mass-balance
    """
    require(first_wort, -15.0, 65.0, "a first wort", "°P")
    return water_kg * first_wort / (100.0 - first_wort)


def first_wort(water_ratio: Values, extract: Values, moisture: Values, conversion: Values) -> Values:
    """Extract of the first wort to be expected.

    Formula:
        P₁ = 100 · c · e / (R + m + c · e)
    Args:
        water_ratio: R, kg of mash liquor per kg of grist as weighed; float or array.
        extract: e, kg of extract per kg of grist as weighed; broadcastable.
        moisture: m, kg of water per kg of grist; broadcastable.
        conversion: c, as a fraction; broadcastable.
    Returns:
        P₁, °P.
    Valid:
        R above 1.
    Raises:
        OutOfRangeError: R of 0 or less, an extract outside 0 to 1.5, a moisture outside 0 to 1, or a conversion outside 0 to 2.
    Source:
        mash-mass-balance
    """
    require(water_ratio, 1e-9, 1e6, "a liquor to grist ratio", "kg/kg")
    require(extract, 0.0, 1.5, "an extract", "kg/kg")
    require(moisture, 0.0, 1.0, "a moisture", "kg/kg")
    require(conversion, 0.0, 2.0, "a conversion", "(fraction)")
    return 100.0 * conversion * extract / (water_ratio + moisture + conversion * extract)


def lauter_without_sparge(grist_per_litre: Values, retention: Values) -> Values:
    """Lauter efficiency when the mash is drained once and not sparged.

    The drained grain keeps so much wort, of the strength of the wort that ran off.

    Formula:
        η = 1 / (1 + a · g)
    Args:
        grist_per_litre: g, kg of grist per L of wort before the boil; float or array.
        retention: a, L of wort left per kg of grist; broadcastable.
    Returns:
        η, a fraction from 0 to 1.
    Valid:
        Fully mixed and fully drained mashes; real beds lose more.
    Raises:
        OutOfRangeError: a negative argument.
    Source:
        lauter-mass-balance
    """
    require(grist_per_litre, 0.0, 1e3, "a grist per litre", "kg/L")
    require(retention, 0.0, 1e3, "a retention", "L/kg")
    return 1.0 / (1.0 + retention * grist_per_litre)


def lauter_with_one_sparge(grist_per_litre: Values, retention: Values, first_share: Values) -> Values:
    """Lauter efficiency when the drained grain is filled up, stirred and drained once more.

    Formula:
        η = 1 − a²g² / ((f + a·g)(1 − f + a·g))
    Args:
        grist_per_litre: g, kg of grist per L of wort before the boil; float or array.
        retention: a, L of wort left per kg of grist; broadcastable.
        first_share: f, share of the wort before the boil that ran off before the sparge; broadcastable.
    Returns:
        η, a fraction from 0 to 1.
    Valid:
        f above 0 and up to 1; fully mixed, fully drained.
    Raises:
        OutOfRangeError: an f of 0 or less (the sparge is then all of the wort), an f of 1 where nothing is kept, or a negative argument.
    Source:
        lauter-mass-balance
    """
    require(grist_per_litre, 0.0, 1e3, "a grist per litre", "kg/L")
    require(retention, 0.0, 1e3, "a retention", "L/kg")
    require(first_share, 1e-12, 1.0, "a share of first wort", "(fraction)")
    kept = retention * grist_per_litre
    require(1.0 - first_share + kept, 1e-12, 1e6, "a share of the sparge and of the wort kept", "(fraction)")
    return 1.0 - kept * kept / ((first_share + kept) * (1.0 - first_share + kept))


def strike_temperature(
    rest: Values,
    grist_mass: Values,
    water_kg: Values,
    grain_temperature: Values,
    vessel_heat: Values = 0.0,
    malt_heat: Values = MALT_HEAT,
) -> Values:
    """Temperature of the liquor that brings the mash to its first rest.

    Liquor, grain and vessel exchange heat; the vessel counts as so many kilograms of water at the grain's temperature.

    Formula:
        Ts = Tm + (c · m + Cv) · (Tm − Tg) / W
    Args:
        rest: Tm, °C; float or array.
        grist_mass: m, kg; broadcastable.
        water_kg: W, kg of mash liquor; broadcastable.
        grain_temperature: Tg, °C; broadcastable.
        vessel_heat: Cv, kg of water; broadcastable.
        malt_heat: c, heat capacity of malt over that of water, 0.40 unless given; broadcastable.
    Returns:
        Ts, °C.
    Valid:
        Textbooks use 0.38 to 0.42 for malt, which moves Ts by 0.3 °C; heat of wetting is left out.
    Raises:
        OutOfRangeError: no liquor.
    Source:
        lewis-young-2001
    """
    require(water_kg, 1e-9, 1e9, "a mass of mash liquor", "kg")
    return rest + (malt_heat * grist_mass + vessel_heat) * (rest - grain_temperature) / water_kg


def mash_space(liquor_volume: Values, strike: Values, grist_mass: Values) -> Values:
    """Room that the mash takes up.

    Formula:
        V = V₂₀ · w(20 °C)/w(Ts) + 0.67 · m
    Args:
        liquor_volume: V₂₀, L at 20 °C; float or array.
        strike: Ts, °C; broadcastable.
        grist_mass: m, kg; broadcastable.
    Returns:
        V, L.
    Valid:
        Crushed malt displaces 0.65 to 0.70 L/kg.
    Raises:
        OutOfRangeError: a strike temperature outside −10 to 110 °C.
    Source:
        palmer-ch16; bettin-spieweck-1990
    """
    return liquor_volume * water.density(20.0) / water.density(strike) + GRAIN_DISPLACEMENT * grist_mass


def percent_of(part: Values, whole: Values) -> Values:
    """One mass of extract as a percentage of another: every efficiency of this journal.

    Formula:
        η = 100 · part / whole
    Args:
        part: kg of extract; float or array.
        whole: kg of extract, above 0; broadcastable.
    Returns:
        %.
    Valid:
        A whole above 0; above 100 % the readings contradict one another.
    Raises:
        OutOfRangeError: a whole of 0 or less.
    Source:
        efficiency-definitions
    """
    require(part, -1e12, 1e12, "an extract", "kg")
    require(whole, 1e-12, 1e12, "an extract to compare with", "kg")
    return 100.0 * part / whole


def evaporation_rate(before: Values, after: Values, hours: Values) -> Values:
    """Volume lost in an hour of boiling.

    Formula:
        r = (V before − V after) / t
    Args:
        before: L at 20 °C before the boil; float or array.
        after: L at 20 °C after it; broadcastable.
        hours: t, h, above 0; broadcastable.
    Returns:
        L/h, cold.
    Valid:
        t above 0.
    Raises:
        OutOfRangeError: no boiling time.
    Source:
        common-practice
    """
    require(hours, 1e-9, 1e6, "a boiling time", "h")
    return (before - after) / hours


def apparent_absorption(liquor: Values, pre_boil: Values, grist_mass: Values) -> Values:
    """Liquor that did not come back as wort, per kilogram of grist.

    It isn't the wort left in the drained grain: dissolved extract takes up room and the malt brings water.

    Formula:
        b = (liquor − V before the boil) / m
    Args:
        liquor: mash and sparge liquor, L at 20 °C; float or array.
        pre_boil: L at 20 °C; broadcastable.
        grist_mass: m, kg, above 0; broadcastable.
    Returns:
        L/kg.
    Valid:
        m above 0.
    Raises:
        OutOfRangeError: no grist.
    Source:
        common-practice
    """
    require(grist_mass, 1e-12, 1e9, "a mass of grist", "kg")
    return (liquor - pre_boil) / grist_mass


def level_while_adding(hot_liquor: Values, grist_mass: Values, portions: Values) -> Values:
    """Level that a mash reaches for a moment while grain is stirred in.

    Dry crushed malt floats as a heap before it is wetted and settles; only the last portion adds the whole heap.

    Formula:
        V = Vₗ + 0.67 · m · (n − 1)/n + 2.2 · m/n
    Args:
        hot_liquor: Vₗ, L as hot as it is; float or array.
        grist_mass: m, kg; broadcastable.
        portions: n, equal portions that each settle before the next; broadcastable.
    Returns:
        V, L.
    Valid:
        Loose crushed malt weighs 0.4 to 0.5 kg/L; a heap that is stirred in at once stands lower.
    Raises:
        OutOfRangeError: less than one portion.
    Source:
        common-practice; palmer-ch16
    """
    require(portions, 1.0, 1e6, "a number of portions", "")
    return hot_liquor + GRAIN_DISPLACEMENT * grist_mass * (portions - 1.0) / portions + GRAIN_BULK * grist_mass / portions
