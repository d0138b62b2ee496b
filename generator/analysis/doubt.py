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
        self._sources: list[str] = []
        """What each variable stands for, in the order they were handed out."""

    @property
    def _matrix(self) -> NDArray[np.float64]:
        columns = _COLUMNS
        while columns <= len(self._sources):
            columns *= 2
        return _standard_normals(columns)

    def normal(self, value: float, half_width: float, low: float = -np.inf, high: float = np.inf, *, source: str = "") -> Values:
        """A reading with the half-width of its 95 % interval, cut off where nothing could be read.

        Args:
            value: the reading.
            half_width: of the 95 % interval, in the reading's unit; 0 gives the plain value.
            low: draws below are set to it.
            high: draws above are set to it.
            source: the instrument, for `split`.
        """
        if half_width <= 0.0:
            return value
        column = self._matrix[:, len(self._sources)]
        self._sources.append(source)
        return np.clip(value + half_width / COVERAGE_FACTOR * column, min(low, value), max(high, value))

    def split(self, samples: dict[str, Values]) -> dict[str, dict[str, float]]:
        """Share of each figure's variance that comes from each source, to first order.

        The squared correlation of a figure with an independent reading is the share of its variance that the reading
        explains linearly; the shares of the readings of one instrument add up.

        Args:
            samples: figures by key, as computed from this sampler's variables.

        Returns:
            Shares by key and source, largest first; together they are 1 but for what isn't linear.
        """
        wanted = {key: sample for key, sample in samples.items() if isinstance(sample, np.ndarray) and np.ptp(sample) > 0.0}
        if not wanted or not self._sources:
            return {}
        draws = self._matrix[1:, : len(self._sources)]
        figures = np.array([sample[1:] - np.mean(sample[1:]) for sample in wanted.values()])
        covariance = figures @ draws / len(draws)
        shares = covariance**2 / (np.var(draws, axis=0) * np.mean(figures**2, axis=1, keepdims=True))
        return {key: self._by_source(row) for key, row in zip(wanted, shares, strict=True)}

    def _by_source(self, shares: NDArray[np.float64]) -> dict[str, float]:
        found: dict[str, float] = {}
        for source, share in zip(self._sources, shares, strict=True):
            found[source] = found.get(source, 0.0) + float(share)
        return dict(sorted(found.items(), key=lambda pair: -pair[1]))


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
