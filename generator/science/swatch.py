"""Beer colour on a screen: from the absorption spectrum of an average beer to red, green and blue."""

import numpy as np
from numpy.typing import NDArray

from generator.science import _observer
from generator.science._values import Values, require

_ROWS = np.array(_observer.TABLE)
_WAVELENGTHS = _observer.FIRST_WAVELENGTH + _observer.WAVELENGTH_STEP * np.arange(len(_ROWS), dtype=np.float64)
_OBSERVED = _ROWS[:, :1] * _ROWS[:, 1:] / np.sum(_ROWS[:, 0] * _ROWS[:, 2])
"""Share of each wavelength of white light in X, Y and Z."""
_TO_RGB = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))


def absorbance(srm: Values, wavelength: Values) -> Values:
    """Absorbance of an average clear beer in a cell of 1 cm.

    Formula:
        A = SRM / 12.7 · (0.02465 · e^(−(λ − 430)/17.591) + 0.97535 · e^(−(λ − 430)/82.122))
    Args:
        srm: SRM; float or array.
        wavelength: λ, nm; broadcastable.
    Returns:
        A, to the base 10.
    Valid:
        380 to 780 nm; fruit, very black malt and haze have other spectra.
    Raises:
        OutOfRangeError: a colour outside 0 to 5000 SRM or a wavelength outside 380 to 780 nm.
    Source:
        delange-2008; asbc-beer-10
    """
    require(srm, 0.0, 5000.0, "a colour", "SRM")
    require(wavelength, 380.0, 780.0, "a wavelength", "nm")
    beyond = wavelength - 430.0
    return srm / 12.7 * (0.02465 * np.exp(-beyond / 17.591) + 0.97535 * np.exp(-beyond / 82.122))


def tristimulus(srm: Values, path: Values) -> tuple[Values, Values, Values]:
    """Light of a day, as the standard observer sees it through beer.

    Formula:
        T(λ) = 10^(−A(λ) · L)
        X = Σ S·T·x / Σ S·y, Y = Σ S·T·y / Σ S·y, Z = Σ S·T·z / Σ S·y, with x, y, z of the observer and S of the light, from 380 to 780 nm every 5 nm
    Args:
        srm: SRM; float or array.
        path: L, cm of beer that the light passes through; broadcastable.
    Returns:
        X, Y and Z; Y is 1 for white.
    Valid:
        Clear beer of an average spectrum: 4 units of CIELAB. D65 and the 2° observer of 1931.
    Raises:
        OutOfRangeError: a colour outside 0 to 5000 SRM or a path outside 0 to 100 cm.
    Source:
        delange-2008; cie-11664
    """
    require(srm, 0.0, 5000.0, "a colour", "SRM")
    require(path, 0.0, 100.0, "a path", "cm")
    depth = np.asarray(srm * path, dtype=np.float64)[..., np.newaxis]
    x, y, z = (_sum(10.0 ** (-depth * absorbance(1.0, _WAVELENGTHS)) * observed) for observed in _OBSERVED.T)
    return x, y, z


def srgb(srm: Values, path: Values) -> tuple[Values, Values, Values]:
    """Colour of a beer on a screen.

    Formula:
        R = 3.2406 X − 1.5372 Y − 0.4986 Z, G = −0.9689 X + 1.8758 Y + 0.0415 Z, B = 0.0557 X − 0.2040 Y + 1.0570 Z, clipped to 0 to 1
        c = 12.92 v up to v = 0.0031308, else 1.055 v^(1/2.4) − 0.055; 255 c, rounded
    Args:
        srm: SRM; float or array.
        path: L, cm of beer that the light passes through; broadcastable.
    Returns:
        red, green and blue, whole numbers from 0 to 255.
    Valid:
        As tristimulus. Beyond 30 SRM·cm the blue is outside of what a screen shows and is clipped: an approximation, so that the
        number must stand beside it.
    Raises:
        OutOfRangeError: as tristimulus.
    Source:
        delange-2008; cie-11664; iec-61966-2-1
    """
    x, y, z = tristimulus(srm, path)
    red, green, blue = (_encoded(a * x + b * y + c * z) for a, b, c in _TO_RGB)
    return red, green, blue


def _encoded(linear: Values) -> Values:
    """One channel as a count of 8 bits."""
    v = np.clip(linear, 0.0, 1.0)
    coded: Values = np.rint(255.0 * np.where(v <= 0.0031308, 12.92 * v, 1.055 * v ** (1.0 / 2.4) - 0.055))
    return coded


def _sum(values: NDArray[np.float64]) -> Values:
    total: Values = np.sum(values, axis=-1)
    return total
