"""Heat of the mash: infusions, mixtures, and the energy that heating and boiling take."""

from generator.science._values import Values, require
from generator.science.mash import MALT_HEAT

WATER_HEAT = 4.1868
"""kJ that warm 1 kg of water by 1 °C."""
EVAPORATION_HEAT = 2257.0
"""kJ that turn 1 kg of boiling water into steam."""
_KILOJOULES_PER_KILOWATT_HOUR = 3600.0


def mixing_temperature(
    water_kg: Values,
    liquor_temperature: Values,
    grist_mass: Values,
    grain_temperature: Values,
    vessel_heat: Values = 0.0,
    malt_heat: Values = MALT_HEAT,
) -> Values:
    """Temperature of a mash right after mixing.

    The heat that the liquor gives off is what the grain and the vessel, both at the grain's temperature, take up.

    Formula:
        Tm = (W · Tl + (c · m + Cv) · Tg) / (W + c · m + Cv)
    Args:
        water_kg: W, kg of mash liquor; float or array.
        liquor_temperature: Tl, °C; broadcastable.
        grist_mass: m, kg; broadcastable.
        grain_temperature: Tg, °C; broadcastable.
        vessel_heat: Cv, kg of water; broadcastable.
        malt_heat: c, heat capacity of malt over that of water, 0.40 unless given; broadcastable.
    Returns:
        Tm, °C.
    Valid:
        Textbooks use 0.38 to 0.42 for malt; heat of wetting is left out.
    Raises:
        OutOfRangeError: no liquor, or a negative mass or heat.
    Source:
        lewis-young-2001
    """
    require(water_kg, 1e-9, 1e9, "a mass of mash liquor", "kg")
    cold = _cold(grist_mass, vessel_heat, malt_heat)
    return (water_kg * liquor_temperature + cold * grain_temperature) / (water_kg + cold)


def infusion_mass(
    start: Values,
    goal: Values,
    infusion: Values,
    grist_mass: Values,
    water_kg: Values,
    vessel_heat: Values = 0.0,
    malt_heat: Values = MALT_HEAT,
) -> Values:
    """Hot water that raises a mash from one rest to the next.

    The infusion cools to the goal; grain, water and vessel warm to it.

    Formula:
        Wa = (T₂ − T₁) · (c · m + W + Cv) / (Ta − T₂)
    Args:
        start: T₁, °C; float or array.
        goal: T₂, °C, not below the start; broadcastable.
        infusion: Ta, °C, hotter than the goal; broadcastable.
        grist_mass: m, kg; broadcastable.
        water_kg: W, kg of water in the mash; broadcastable.
        vessel_heat: Cv, kg of water; broadcastable.
        malt_heat: c, heat capacity of malt over that of water, 0.40 unless given; broadcastable.
    Returns:
        Wa, kg of water.
    Valid:
        The mash loses no heat meanwhile; a volume is measured at the temperature of the infusion.
    Raises:
        OutOfRangeError: a goal below the start, an infusion less than 0.1 °C hotter than the goal, or a negative mass or heat.
    Source:
        lewis-young-2001
    """
    rise, fall = goal - start, infusion - goal
    require(rise, 0.0, 1e6, "a rise of the mash", "°C")
    require(fall, 0.1, 1e6, "an infusion's fall to the goal", "°C")
    require(water_kg, 0.0, 1e9, "a mass of mash liquor", "kg")
    return rise * (_cold(grist_mass, vessel_heat, malt_heat) + water_kg) / fall


def heating_energy(water_kg: Values, start: Values, goal: Values) -> Values:
    """Energy that warms water, wort or, counted as water, a mash.

    Formula:
        Q = 4.1868 · W · (T₂ − T₁) / 3600
    Args:
        water_kg: W, kg of water; a mash counts as its water + 0.40 · grist + vessel; float or array.
        start: T₁, °C; broadcastable.
        goal: T₂, °C; broadcastable.
    Returns:
        Q, kWh in the liquid; a heater that loses half takes twice as much.
    Valid:
        0 to 100 °C, where the heat of water is within 0.8 % of 4.1868 kJ/(kg·°C).
    Raises:
        OutOfRangeError: a negative mass or a temperature outside −10 to 130 °C.
    Source:
        common-practice
    """
    require(water_kg, 0.0, 1e9, "a mass of water", "kg")
    require(start, -10.0, 130.0, "a temperature", "°C")
    require(goal, -10.0, 130.0, "a temperature", "°C")
    return WATER_HEAT * water_kg * (goal - start) / _KILOJOULES_PER_KILOWATT_HOUR


def evaporation_energy(water_kg: Values) -> Values:
    """Energy that boils water off.

    Formula:
        Q = 2257 · W / 3600
    Args:
        water_kg: W, kg evaporated; float or array.
    Returns:
        Q, kWh in the wort.
    Valid:
        Boiling at 100 °C; at 95 °C, some 1500 m up, it is 0.6 % more.
    Raises:
        OutOfRangeError: a negative mass.
    Source:
        iapws-95
    """
    require(water_kg, 0.0, 1e9, "a mass of water", "kg")
    return EVAPORATION_HEAT * water_kg / _KILOJOULES_PER_KILOWATT_HOUR


def _cold(grist_mass: Values, vessel_heat: Values, malt_heat: Values) -> Values:
    """What is warmed by the liquor, as kg of water."""
    require(grist_mass, 0.0, 1e9, "a mass of grist", "kg")
    require(vessel_heat, 0.0, 1e9, "a heat of the vessel", "kg of water")
    require(malt_heat, 0.0, 1.0, "a heat of malt", "(fraction)")
    return malt_heat * grist_mass + vessel_heat
