"""Doubt by propagation of distributions (JCGM 101:2008): every reading becomes one fixed sample, shared by all figures.

Element 0 of each sample is the reading itself, the others are draws around it. A formula is evaluated once, on the
whole array: its element 0 is the best estimate, the quantiles of the rest are the 95 % interval. Two figures that use
one reading use one sample, so what they share is counted once.
"""

import warnings
from collections.abc import Generator, Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc
from threadpoolctl import ThreadpoolController

from generator.science._values import Values

Vector = NDArray[np.float64]
Key = TypeVar("Key", bound=Hashable)
Result = TypeVar("Result")

SOURCE = "jcgm-101"
"""Where the method is published: key of `sources`."""
DRAWS = 10_240
COVERAGE_FACTOR = 1.959963984540054
"""Half-width of a 95 % interval in standard deviations of a normal distribution."""
_SEED = 20080101
_COLUMNS = 64
_BEYOND = 0.025
"""Share of the draws on either side of a 95 % interval."""
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


@cache
def _libraries() -> ThreadpoolController:
    """The linear algebra under numpy. On one thread it gives the same last digits whatever the machine's number of cores."""
    return ThreadpoolController()


@cache
def _in_rows(blocks: int) -> NDArray[np.float32]:
    """The draws again, one row a variable and in single precision, to weigh figures against."""
    return np.ascontiguousarray(_standard_normals(blocks)[1:].T, dtype=np.float32)


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


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """An estimate, and the share of its variance that each variable gives, to first order."""

    estimate: Estimate
    by_variable: NDArray[np.float32] | None = None
    sources: Sequence[str] = ()
    """What each variable stands for."""

    @property
    def shares(self) -> dict[str, float]:
        """By source of doubt, the largest first."""
        found: dict[str, float] = {}
        for source, share in zip(self.sources, () if self.by_variable is None else self.by_variable.tolist(), strict=False):
            found[source] = found.get(source, 0.0) + share
        return dict(sorted(found.items(), key=lambda pair: -pair[1]))


class Sampler:
    """Hands out the samples of one batch: each call is one more independent variable."""

    def __init__(self, draws: int = DRAWS) -> None:
        """Start without variables; fewer draws than usual are quicker and give rougher intervals."""
        self._draws = draws
        self._sources: list[str] = []
        """What each variable stands for, in the order they were handed out."""

    @property
    def _matrix(self) -> NDArray[np.float64]:
        return _standard_normals(1 + len(self._sources) // _COLUMNS)[: self._draws + 1]

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

    def weigh(self, samples: Mapping[Key, Values]) -> dict[Key, Weighed]:
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
        found: dict[Key, Weighed] = {}
        arrays: dict[Key, NDArray[np.float64]] = {}
        for key, sample in samples.items():
            if isinstance(sample, np.ndarray) and sample.ndim:
                arrays[key] = sample
            elif np.isfinite(sample):
                found[key] = Weighed(Estimate(float(sample), float(sample), float(sample)))
        if arrays:
            with np.errstate(invalid="ignore", over="ignore"), _libraries().limit(limits=1, user_api="blas"):
                found |= self._weigh(arrays)  # what isn't finite is left out
        return {key: found[key] for key in samples if key in found}

    def _weigh(self, figures: Mapping[Key, NDArray[np.float64]]) -> dict[Key, Weighed]:
        """By key. Deviations are weighed in single precision, which is finer than any quantile of 10,240 draws."""
        variables = self._variables()
        best = np.array([figure[0] for figure in figures.values()])
        deviations = np.empty((len(figures), variables.shape[1]), dtype=np.float32)
        for row, figure, value in zip(deviations, figures.values(), best, strict=True):
            np.subtract(figure[1:], value, out=row, casting="same_kind")
        shifts = deviations.mean(axis=1)
        deviations -= shifts[:, None]
        slopes = deviations @ variables.T / np.float32(variables.shape[1])
        variances = np.maximum(np.einsum("ij,ij->i", deviations, deviations) / np.float32(variables.shape[1]), np.float32(1e-36))
        shares = slopes**2 / variances[:, None]
        explained = np.minimum(shares.sum(axis=1), 1.0)
        weights = np.where(explained > _LINEAR, explained, 0.0)
        low, high = _ends(deviations, weights, *_ranks(slopes @ variables, np.linalg.norm(slopes, axis=1)))
        estimates = np.stack([best, best + shifts + low, best + shifts + high], axis=1)
        sound = np.isfinite(estimates).all(axis=1) & np.isfinite(variances)
        return {key: Weighed(Estimate(*estimates[row].tolist()), shares[row], self._sources) for row, key in enumerate(figures) if sound[row]}

    def _variables(self) -> NDArray[np.float32]:
        """The draws of this sampler's variables, one row a variable."""
        return _in_rows(1 + len(self._sources) // _COLUMNS)[: len(self._sources), : self._draws]


Asking = Generator[Mapping[str, Values], Mapping[str, Weighed], Result]
"""A computation that asks once for its samples to be weighed, is sent what was found, and returns its result."""


def alone(sampler: Sampler, part: Asking[Result]) -> Result:
    """Run one computation that asks for weighing."""
    result: Result = together(sampler, part)[0]
    return result


def together(sampler: Sampler, *parts: Asking[Any]) -> tuple[Any, ...]:
    """Run computations that ask for weighing, and weigh all they ask for at once: that is much quicker than one by one."""
    asked = [next(part) for part in parts]
    found = sampler.weigh({(number, key): sample for number, samples in enumerate(asked) for key, sample in samples.items()})
    results: list[Any] = []
    for number, (part, samples) in enumerate(zip(parts, asked, strict=True)):
        try:
            part.send({key: found[number, key] for key in samples if (number, key) in found})
        except StopIteration as done:
            results.append(done.value)
    return tuple(results)


def _ranks(linear: NDArray[np.floating], deviations: NDArray[np.floating]) -> tuple[Vector, Vector]:
    """Which share of the draws of each linear part lies beyond its exact quantiles, on either side."""
    ends = (np.float32(COVERAGE_FACTOR) * deviations).tolist()
    below = [np.count_nonzero(row <= -end) for row, end in zip(linear, ends, strict=True)]
    above = [np.count_nonzero(row >= end) for row, end in zip(linear, ends, strict=True)]
    return np.array(below) / linear.shape[1], np.array(above) / linear.shape[1]


def _ends(draws: NDArray[np.float32], weights: Vector, below: Vector, above: Vector) -> tuple[Vector, Vector]:
    """Quantiles at 2.5 and 97.5 %, moved by what the linear parts' own draws miss, as far as the figure follows them."""
    levels = [_BEYOND + weights * (rank - _BEYOND) for rank in (below, above)]
    return _tail(draws, levels[0]), -_tail(-draws, levels[1])


def _tail(draws: NDArray[np.float32], levels: Vector) -> Vector:
    """Quantiles far down, linear between draws, one a row; only a twentieth of the draws is sorted."""
    reach = max(draws.shape[1] // 20, 2)
    ordered = np.sort(np.partition(draws, reach - 1, axis=1)[:, :reach], axis=1)
    positions = np.clip(levels * (draws.shape[1] - 1), 0.0, reach - 2.0)
    lower = positions.astype(int)
    rows = np.arange(len(draws))
    at, following = ordered[rows, lower], ordered[rows, lower + 1]
    return np.asarray(at + (positions - lower) * (following - at))


def estimate(sample: Values) -> Estimate:
    """Best estimate and plain interval of one sample; Absent if it isn't a finite number."""
    if isinstance(sample, (float, int)) or sample.ndim == 0:
        value = low = high = float(sample)
    else:
        value = float(sample[0])
        low, high = map(float, np.quantile(sample[1:], (_BEYOND, 1.0 - _BEYOND)))
    if not np.isfinite([value, low, high]).all():
        raise Absent(NOT_FINITE)
    return Estimate(value, low, high)
