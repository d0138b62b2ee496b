"""Published equations written out once more, term by term, for root finding that shares nothing with the science layer.

Coefficients: sucrose, ICUMSA SPS-4 (Emmerich, Zuckerindustrie 119 (1994) 120, as printed in Bubnik et al. 1995, p. 164); water,
Bettin and Spieweck, PTB-Mitteilungen 100 (1990) 195; ethanol at 20 °C, OIML R 22:1975, the A series; Balling 1865.
"""

from collections.abc import Callable

from scipy.optimize import brentq

_SUCROSE = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
_ETHANOL = (
    *(998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388),
    *(306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426),
)


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """The zero of a function in an interval, by bracketing."""
    return float(brentq(function, low, high, xtol=1e-13, rtol=1e-14))


def water(t: float) -> float:
    """Density of water, kg/m³."""
    top = 999.83952 + 16.952577 * t - 7.9905127e-3 * t**2 - 46.241757e-6 * t**3 + 105.84601e-9 * t**4 - 281.03006e-12 * t**5
    return top / (1.0 + 16.887236e-3 * t)


def sucrose(w: float, t: float = 20.0) -> float:
    """Density of a sucrose solution of mass fraction w, kg/m³."""
    return water(t) + sum(b * w ** (k + 1) * ((t - 20.0) / 100.0) ** i for i, row in enumerate(_SUCROSE) for k, b in enumerate(row))


def ethanol(p: float) -> float:
    """Density of ethanol and water of mass fraction p at 20 °C, kg/m³."""
    return sum(a * p**k for k, a in enumerate(_ETHANOL))


def sg_of_concentration(density: Callable[[float], float], grams_per_ml: float) -> float:
    """Specific gravity 20/20 of a solution that holds so much solute in a millilitre."""
    fraction = root(lambda x: x * density(x) / 1000.0 - grams_per_ml, -0.05, 0.6)
    return density(fraction) / density(0.0)


def real_extract(original: float, alcohol: float) -> float:
    """Balling's balance, solved for what is left."""
    return (original * (100.0 + 1.0665 * alcohol) - 206.65 * alcohol) / 100.0


def tabarie(original: float, alcohol: float, sg: float) -> float:
    """By how much the gravities of extract and alcohol in a beer of this gravity fail to add up to it."""
    grams = sg * water(20.0) / 1e5
    extract = sg_of_concentration(sucrose, real_extract(original, alcohol) * grams)
    return extract + sg_of_concentration(ethanol, alcohol * grams) - 1.0 - sg
