"""How stable the intervals are, and what they cost: `python -m tests.benchmarks.doubt [--reference 1000000]`.

For every measured figure of the demo journal, the ends of the interval from scrambled Sobol points are compared with
those from a million plain random draws, in per cent of the half-width. Plain draws of the same number stand beside it.
"""

import argparse
import time
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from generator.analysis import attribution, ledger
from generator.analysis import figures as figures_
from generator.analysis.doubt import Key, Sampler, Weighed, estimate, together
from generator.analysis.figures import figures
from generator.analysis.measured import Measured
from generator.analysis.plan_view import DEFAULT_BREWHOUSE, PlanView
from generator.analysis.planned import Planned, expected
from generator.analysis.prediction import predictions
from generator.analysis.reconciliation import reconciliation
from generator.records.journal import BatchRecord, load
from generator.science._values import Values

Matrix = NDArray[np.float64]
COLUMNS = 64
Ends = dict[tuple[str, str], tuple[float, float]]


class Fixed(Sampler):
    """A sampler with draws of our choice, with or without the control variate."""

    def __init__(self, matrix: Matrix, *, plain: bool) -> None:
        super().__init__(len(matrix) - 1)
        self._points, self._plain = matrix, plain

    def weigh(self, samples: Mapping[Key, Values]) -> dict[Key, Weighed]:
        """As the sampler does, or by plain quantiles."""
        return {key: Weighed(estimate(sample)) for key, sample in samples.items()} if self._plain else super().weigh(samples)

    @property
    def _matrix(self) -> Matrix:
        return self._points

    def _variables(self) -> NDArray[np.float32]:
        return np.ascontiguousarray(self._points[1:, : len(self._sources)].T, dtype=np.float32)


@cache
def random_draws(count: int, seed: int) -> Matrix:
    """Plain pseudo-random draws, with the reading itself in row 0."""
    normals = np.random.default_rng(seed).standard_normal((count, COLUMNS))
    return np.asfortranarray(np.vstack([np.zeros(COLUMNS), normals]))


@cache
def sobol(count: int, seed: int) -> Matrix:
    """Scrambled Sobol points, with the reading itself in row 0."""
    points = qmc.Sobol(COLUMNS, scramble=True, rng=np.random.default_rng(seed)).random(count)
    shuffled = np.random.default_rng(seed).permutation(points)
    return np.asfortranarray(np.vstack([np.zeros(COLUMNS), ndtri(np.clip(shuffled, 1e-12, 1 - 1e-12))]))


def ends(batches: list[BatchRecord], matrix: Matrix, *, plain: bool) -> Ends:
    """Interval ends of every measured figure."""
    found = {}
    for batch in batches:
        view = PlanView(batch.plan, batch.brewhouse or DEFAULT_BREWHOUSE)
        for key, figure in figures(Planned(view), Measured(view, batch.readings, Fixed(matrix, plain=plain))).items():
            if figure.measured and figure.measured.half_width > 0:
                found[batch.slug, key] = (figure.measured.low, figure.measured.high)
    return found


def stability(batches: list[BatchRecord], reference: int) -> None:
    """Print the table of stability."""
    truth = ends(batches, random_draws(reference, 1), plain=True)
    print(f"{len(truth)} figures of {len(batches)} batches against {reference:,} plain draws; deviation of an end in % of the half-width\n")
    print("| draws | plain random | | Sobol | | Sobol with control variate | |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    print("| | mean square root | worst | mean square root | worst | mean square root | worst |")
    for count in (1024, 4096, 10240, 16384, 32768):
        cells = []
        for make, simply in ((random_draws, True), (sobol, True), (sobol, False)):
            off = deviations(truth, ends(batches, make(count, 20080101), plain=simply))
            cells += [f"{np.sqrt(np.mean(off**2)):.2f}", f"{np.max(np.abs(off)):.2f}"]
        print(f"| {count:,} | {' | '.join(cells)} |")


def deviations(truth: Ends, found: Ends) -> Matrix:
    """Deviations of all ends, in per cent of the half-width."""
    return np.array([200.0 * (found[key][end] - value[end]) / (value[1] - value[0]) for key, value in truth.items() for end in (0, 1)])


def cost(batches: list[BatchRecord], rounds: int = 15) -> None:
    """Print what a batch costs, by part: the best of some rounds over all batches."""
    parts: dict[str, Callable[[Planned, Measured], object]] = {
        "the plan's own figures": lambda planned, _: expected(planned, None),
        "the doubts of its predictions": lambda planned, _: predictions(planned.view),
        "figures, ledger and causes, weighed together": _weighed,
        "the same and reconciliation": lambda planned, measured: (_weighed(planned, measured), reconciliation(measured)),
    }
    Sampler().normal(0.0, 1.0)  # the shared draws are made once a build
    print("\n| part | ms a batch |\n| --- | --- |")
    for name, compute in parts.items():
        print(f"| {name} | {1000.0 * min(_round(batches, compute) for _ in range(rounds)):.1f} |")


def _weighed(planned: Planned, measured: Measured) -> object:
    return together(measured.sampler, *(part.asking(planned, measured) for part in (figures_, ledger, attribution)))


def _round(batches: list[BatchRecord], compute: Callable[[Planned, Measured], object]) -> float:
    """Mean seconds a batch."""
    spent = 0.0
    for batch in batches:
        view = PlanView(batch.plan, batch.brewhouse or DEFAULT_BREWHOUSE)
        planned, measured = Planned(view), Measured(view, batch.readings)
        start = time.perf_counter()
        compute(planned, measured)
        spent += time.perf_counter() - start
    return spent / len(batches)


def main() -> None:
    """Measure on the demo journal."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--reference", type=int, default=1_000_000)
    parser.add_argument("--only-cost", action="store_true")
    wanted = parser.parse_args()
    batches = [batch for batch in load(Path("batches")).batches if batch.readings]
    if not wanted.only_cost:
        stability(batches, wanted.reference)
    cost(batches)


if __name__ == "__main__":
    main()
