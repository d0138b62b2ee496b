"""Doubt by propagation of distributions (JCGM 101:2008): every reading becomes one fixed sample, shared by all figures.

Element 0 of each sample is the reading itself, the others are draws around it. A formula is evaluated once, on the
whole array: its element 0 is the best estimate, the quantiles of the rest are the 95 % interval. Two figures that use
one reading use one sample, so what they share is counted once.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from generator.science._values import Values

SOURCE = "jcgm-101"
"""Where the method is published: key of `sources`."""
DRAWS_LOG2 = 14
COVERAGE_FACTOR = 1.959963984540054
"""Half-width of a 95 % interval in standard deviations of a normal distribution."""
_SEED = 20080101
_COLUMNS = 64


class Absent(Exception):  # noqa: N818  (a state of a figure, not a failure)
    """A figure can't be had; the text says why, as a clause without a full stop."""


@cache
def _standard_normals(columns: int) -> NDArray[np.float64]:
    """One column a variable: 0, then 2^14 scrambled Sobol points through the normal distribution."""
    points = qmc.Sobol(columns, scramble=True, rng=np.random.default_rng(_SEED)).random_base2(DRAWS_LOG2)
    normals = ndtri(np.clip(points, 1e-12, 1.0 - 1e-12))
    return np.asfortranarray(np.vstack([np.zeros(columns), normals]))


class Sampler:
    """Hands out the samples of one batch: each call is one more independent variable."""

    def __init__(self) -> None:
        self._used = 0

    def normal(self, value: float, half_width: float, low: float = -np.inf, high: float = np.inf) -> Values:
        """A reading with the half-width of its 95 % interval, cut off where nothing could be read.

        Args:
            value: the reading.
            half_width: of the 95 % interval, in the reading's unit; 0 gives the plain value.
            low: draws below are set to it.
            high: draws above are set to it.
        """
        if half_width <= 0.0:
            return value
        columns = _COLUMNS
        while columns <= self._used:
            columns *= 2
        column = _standard_normals(columns)[:, self._used]
        self._used += 1
        return np.clip(value + half_width / COVERAGE_FACTOR * column, min(low, value), max(high, value))


@dataclass(frozen=True, slots=True)
class Estimate:
    """A measured figure: the best estimate and its 95 % interval."""

    value: float
    low: float
    high: float

    @property
    def half_width(self) -> float:
        """Half the width of the interval."""
        return (self.high - self.low) / 2.0


def estimate(sample: Values) -> Estimate:
    """Best estimate and interval of a sample; Absent if it isn't a finite number."""
    if isinstance(sample, (float, int)) or sample.ndim == 0:
        value = low = high = float(sample)
    else:
        value = float(sample[0])
        low, high = (float(end) for end in np.quantile(sample[1:], (0.025, 0.975)))
    if not np.isfinite([value, low, high]).all():
        raise Absent("the readings give no finite number")
    return Estimate(value, low, high)
