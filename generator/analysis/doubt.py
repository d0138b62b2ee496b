"""Doubt by propagation of distributions (JCGM 101:2008): every reading becomes one fixed sample, shared by all figures.

Element 0 of each sample is the reading itself, the others are draws around it. A formula is evaluated once, on the
whole array: its element 0 is the best estimate, the quantiles of the rest are the 95 % interval. Two figures that use
one reading use one sample, so what they share is counted once.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from generator.science._values import Values

SOURCE = "jcgm-101"
"""Where the method is published: key of `sources`."""
DRAWS = 10_240
COVERAGE_FACTOR = 1.959963984540054
"""Half-width of a 95 % interval in standard deviations of a normal distribution."""
_SEED = 20080101
_COLUMNS = 64
_TAIL = 1.6
"""Standard deviations beyond which a normal distribution keeps 5.5 % on either side: more than the 2.5 % looked for."""
_LINEAR = 0.5
"""Share of the variance that must be linear for the control variate to help."""
NOT_FINITE = "the readings give no finite number"


class Absent(Exception):  # noqa: N818  (a state of a figure, not a failure)
    """A figure can't be had; the text says why, as a clause without a full stop."""


@cache
def _block(number: int) -> NDArray[np.float64]:
    """64 variables: scrambled Sobol points through the normal distribution; blocks are shuffled against one another."""
    rng = np.random.default_rng((_SEED, number))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # 10,240 points are five eighths of a power of two: measured in tests/benchmarks/doubt.py
        points = qmc.Sobol(_COLUMNS, scramble=True, rng=rng).random(DRAWS)
    return np.asarray(ndtri(np.clip(rng.permutation(points), 1e-12, 1.0 - 1e-12)))


@cache
def _standard_normals(blocks: int) -> NDArray[np.float64]:
    """One column a variable: 0, the reading itself, then the draws."""
    draws = np.hstack([_block(number) for number in range(blocks)])
    return np.asfortranarray(np.vstack([np.zeros(draws.shape[1]), draws]))


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


@dataclass(frozen=True, slots=True)
class Weighed:
    """An estimate, and the share of its variance that each source of doubt gives, to first order, the largest first."""

    estimate: Estimate
    shares: dict[str, float]


class Sampler:
    """Hands out the samples of one batch: each call is one more independent variable."""

    def __init__(self) -> None:
        self._sources: list[str] = []
        """What each variable stands for, in the order they were handed out."""

    @property
    def _matrix(self) -> NDArray[np.float64]:
        return _standard_normals(1 + len(self._sources) // _COLUMNS)

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

    def weigh(self, samples: Mapping[str, Values]) -> dict[str, Weighed]:
        """Estimates of figures that were computed from this sampler's variables, and where their doubts come from.

        Every figure is split into what is linear in the variables, whose distribution is known exactly, and a rest. The
        rank of the linear part's exact quantile among its own draws is the rank at which the figure's quantile is read: a
        control variate, which takes most of the sampling error out of nearly linear figures (Hsu and Nelson,
        Management Science 36 (1990) 835, from memory). The squared correlation with a variable is the share of the
        variance that it explains to first order.

        Args:
            samples: figures by key.

        Returns:
            By key; a figure that isn't finite is left out.
        """
        plain = {key: sample for key, sample in samples.items() if np.ndim(sample) == 0 and np.isfinite(sample)}
        found = {key: Weighed(Estimate(float(value), float(value), float(value)), {}) for key, value in plain.items()}
        arrays = {key: sample for key, sample in samples.items() if isinstance(sample, np.ndarray) and sample.ndim and np.isfinite(sample).all()}
        if arrays:
            found |= self._weigh(list(arrays), np.array(list(arrays.values())))
        return {key: found[key] for key in samples if key in found}

    def _weigh(self, keys: list[str], figures: NDArray[np.float64]) -> dict[str, Weighed]:
        draws = self._matrix[1:, : len(self._sources)]
        values, figures = figures[:, 0], figures[:, 1:]
        means = figures.mean(axis=1)
        deviations = figures - means[:, None]
        slopes = deviations @ draws / len(draws)
        variances = np.maximum(np.einsum("ij,ij->i", deviations, deviations) / deviations.shape[1], 1e-300)
        explained = np.minimum(np.sum(slopes**2, axis=1) / variances, 1.0)
        linear = slopes @ draws.T
        end = COVERAGE_FACTOR * np.sqrt(np.sum(slopes**2, axis=1, keepdims=True))
        ranks = [np.count_nonzero(linear <= edge, axis=1) / len(draws) for edge in (-end, end)]
        found = {}
        for index, key in enumerate(keys):
            weight = explained[index] if explained[index] > _LINEAR else 0.0
            levels = (0.025 + weight * (ranks[0][index] - 0.025), 0.975 + weight * (ranks[1][index] - 0.975))
            low, high = _points(figures[index], levels, float(means[index]), float(variances[index]) ** 0.5)
            shares = self._by_source(slopes[index] ** 2 / variances[index])
            found[key] = Weighed(Estimate(float(values[index]), low, high), shares)
        return found

    def _by_source(self, shares: NDArray[np.float64]) -> dict[str, float]:
        found: dict[str, float] = {}
        for source, share in zip(self._sources, shares.tolist(), strict=True):
            found[source] = found.get(source, 0.0) + share
        return dict(sorted(found.items(), key=lambda pair: -pair[1]))


def _points(draws: NDArray[np.float64], levels: tuple[float, float], middle: float, deviation: float) -> tuple[float, float]:
    """Two quantiles far out on either side, linear between draws: only the tails are sorted."""
    last = len(draws) - 1
    below, above = (min(max(level * last, 0.0), float(last)) for level in levels)
    reach = _TAIL * deviation
    low, high = draws[draws < middle - reach], draws[draws > middle + reach]
    if len(low) < below + 2.0 or len(high) < last - above + 2.0:  # a shape unlike a normal one
        low = high = draws
    low, high = np.sort(low), -np.sort(-high)
    return _between(low, below), _between(high, last - above)


def _between(ordered: NDArray[np.float64], position: float) -> float:
    index = int(position)
    return float(ordered[index] + (position - index) * (ordered[min(index + 1, len(ordered) - 1)] - ordered[index]))


def estimate(sample: Values) -> Estimate:
    """Best estimate and plain interval of one sample; Absent if it isn't a finite number."""
    if isinstance(sample, (float, int)) or sample.ndim == 0:
        value = low = high = float(sample)
    else:
        value = float(sample[0])
        low, high = _points(sample[1:], (0.025, 0.975), float(np.mean(sample)), float(np.std(sample)))
    if not np.isfinite([value, low, high]).all():
        raise Absent(NOT_FINITE)
    return Estimate(value, low, high)
