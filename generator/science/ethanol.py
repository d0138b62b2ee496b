"""Ethanol and water: density, and alcohol by volume from alcohol by weight."""

from generator.science._values import Values, polynomial, polynomial_and_slope, require

_A = (
    998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
    306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
)  # fmt: skip
_B = (-0.20618513, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11)
_C = (
    (
        0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045, -12101.64659068747,
        22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137, 1285.617841998974,
    ),
    (
        -0.01193013005057010, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014,
        109.6355666577570, -142.2753946421155, 108.0435942856230, -44.14153236817392, 7.442971530188783,
    ),
    (
        -6.802995733503803e-4, 1.876837790289664e-2, -0.2002561813734156, 1.022992966719220, -2.895696483903638,
        4.810060584300675, -4.672147440794683, 2.458043105903461, -0.5411227621436812,
    ),
    (4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6),
    (-2.788074354782409e-8, 1.345612883493354e-8),
)  # fmt: skip
_FROM_CONCENTRATION = (1.001867, 0.1944199, -0.3541781, 1.466365, -7.390485, 28.82919, -36.70673)
"""Mass fraction at 20 °C from the concentration, g/mL: our fit, within 5e-6 (1.5e-6 in beers), so that one Newton step leaves about 1e-12."""
ETHANOL_DENSITY = 789.2391
"""kg/m³ of pure ethanol at 20 °C (OIML R 22)."""
WATER_DENSITY = 998.2012
"""kg/m³ of water at 20 °C (OIML R 22)."""


def density(mass_percent: Values, temperature: Values = 20.0) -> Values:
    """Density of ethanol and water.

    The general formula of the international alcohol tables, with 12 + 6 + 36 coefficients.

    Formula:
        ρ = (A₁ + Σ Aₖ pᵏ⁻¹ + Σ Bₖ (t − 20)ᵏ + Σᵢ Σₖ Cᵢₖ pᵏ (t − 20)ⁱ) / 1000
    Args:
        mass_percent: 100 p, % ethanol by mass; float or array of any shape.
        temperature: t, °C; broadcastable.
    Returns:
        ρ, kg/L, of the broadcast shape.
    Valid:
        0 to 100 % and −20 to 40 °C; a little below 0 % it is computed as an extrapolation, for draws around dry readings.
    Raises:
        OutOfRangeError: a mass percentage outside −10 to 100 % or a temperature outside −20 to 40 °C.
    Source:
        oiml-r-22
    """
    require(mass_percent, -10.0, 100.0, "an ethanol content", "% by mass")
    require(temperature, -20.0, 40.0, "a temperature", "°C")
    p = mass_percent / 100.0
    dt = temperature - 20.0
    by_temperature: Values = 0.0
    for power in reversed(range(6)):
        mixed = p * polynomial(_C[power], p) if power < len(_C) else 0.0
        by_temperature = by_temperature * dt + (_B[power] + mixed)
    return (polynomial(_A, p) + by_temperature * dt) / 1000.0


def sg_from_concentration(grams_per_ml: Values) -> Values:
    """Specific gravity 20/20 of the spirit that holds so much ethanol in a millilitre.

    Formula:
        SG = ρ(p)/ρ(0) with p such that ρ(p) · p = c
    Args:
        grams_per_ml: c, g of ethanol in 1 mL of solution at 20 °C; float or array.
    Returns:
        SG 20/20, of the same shape.
    Valid:
        0 to 0.3 g/mL.
    Raises:
        OutOfRangeError: a concentration outside −0.08 to 0.3 g/mL.
    Source:
        oiml-r-22
    """
    return _sg_and_slope(grams_per_ml)[0]


def _sg_and_slope(grams_per_ml: Values) -> tuple[Values, Values]:
    """SG 20/20 at a concentration, g/mL, and its derivative by the concentration."""
    require(grams_per_ml, -0.08, 0.3, "a concentration of ethanol", "g/mL")

    start = grams_per_ml * polynomial(_FROM_CONCENTRATION, grams_per_ml)
    value, slope = polynomial_and_slope(_A, start)
    per_fraction = value + start * slope
    value += slope * ((grams_per_ml * 1000.0 - start * value) / per_fraction)
    return value / _A[0], 1000.0 / _A[0] * slope / per_fraction


def abv(abw: Values, sg: Values) -> Values:
    """Alcohol by volume at 20 °C.

    The volume of pure ethanol at 20 °C per volume of beer at 20 °C.

    Formula:
        abv = abw · SG · 998.2012 / 789.2391
    Args:
        abw: alcohol, % by mass; float or array.
        sg: SG 20/20 of the beer; broadcastable.
    Returns:
        abv, % by volume.
    Valid:
        All beers.
    Raises:
        OutOfRangeError: an alcohol content outside −10 to 100 % or a gravity outside 0.78 to 1.30.
    Source:
        oiml-r-22
    """
    require(abw, -10.0, 100.0, "an ethanol content", "% by mass")
    require(sg, 0.78, 1.30, "a gravity of beer", "SG")
    return abw * sg * WATER_DENSITY / ETHANOL_DENSITY
