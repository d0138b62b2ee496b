"""Do the readings of the hot side agree? Extract is conserved in the boil, wort keeps its gravity, water only evaporates.

More is read than needed, so the readings can be weighed against one another: the smallest adjustments that close all
balances, a test of the whole, and, where it fails, the reading that is hardest to believe. Nothing of this replaces a reading.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.analysis.doubt import COVERAGE_FACTOR, Absent, Estimate, estimate
from generator.analysis.measured import Measured
from generator.science import sucrose
from generator.science._values import OutOfRangeError, Values
from generator.science.reconciliation import Reconciled, reconcile

SOURCE = "narasimhan-jordache-2000"
LEAST_PROBABILITY = 0.01
"""Honest readings disagree so badly less than once in a hundred batches."""
GIVEN_EVAPORATION, USUAL_EVAPORATION = 0.25, 0.50
"""Relative doubt of an evaporation that the brewhouse states, and of the usual one: our judgement."""
_ROUNDS, _SETTLED = 8, 1e-6
"""The balances are linearised anew until no value moves by a millionth of its uncertainty."""

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Adjusted:
    """One reading beside what the balances make of it, at 20 °C."""

    name: str
    unit: str
    read: Estimate
    reconciled: float
    test: float
    """Measurement test: the adjustment in the standard deviations that honest noise would give it."""
    alone: float
    """By how much it would have to differ if it alone were wrong."""


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """The hot side of a batch, weighed as a whole."""

    rows: tuple[Adjusted, ...]
    chi_square: float
    balances: int
    probability: float

    @property
    def contradictory(self) -> bool:
        """Whether the readings disagree beyond doubt."""
        return self.probability < LEAST_PROBABILITY

    @property
    def suspect(self) -> Adjusted:
        """The reading that is hardest to believe."""
        return max(self.rows, key=lambda row: abs(row.test))


@dataclass(frozen=True, slots=True)
class _Unknown:
    """A quantity that was read, or is known with a doubt."""

    name: str
    unit: str
    read: Estimate


Balance = Callable[[dict[str, float]], tuple[float, dict[str, float]]]
"""From values by name to the imbalance and its slopes by name."""


def reconciliation(measured: Measured | None) -> Reconciliation | None:
    """Weigh the readings of the kettle against one another; None where they don't over-determine anything."""
    if measured is None:
        return None
    unknowns = _unknowns(measured)
    balances = _balances(unknowns, measured)
    if not balances:
        return None
    used = {name: unknown for name, unknown in unknowns.items() if any(name in balance(_read(unknowns))[1] for balance in balances)}
    try:
        result = _solve(used, balances)
    except OutOfRangeError:
        return None
    rows = tuple(
        Adjusted(unknown.name, unknown.unit, unknown.read, float(value), float(test), float(alone))
        for unknown, value, test, alone in zip(used.values(), result.values, result.test, result.alone, strict=True)
    )
    return Reconciliation(rows, result.chi_square, len(balances), result.probability)


def _read(unknowns: dict[str, _Unknown]) -> dict[str, float]:
    return {name: unknown.read.value for name, unknown in unknowns.items()}


def _unknowns(measured: Measured) -> dict[str, _Unknown]:
    """Whatever was read of volumes and gravities from the kettle to the fermenter."""
    wanted: dict[str, tuple[str, str, Callable[[], Values]]] = {
        "pre_volume": ("volume before the boil", "L", lambda: measured.pre_boil_volume),
        "pre_gravity": ("gravity before the boil", "SG", lambda: measured.pre_boil_gravity),
        "post_volume": ("volume after the boil", "L", lambda: measured.post_boil_volume),
        "post_gravity": ("gravity after the boil", "SG", lambda: measured.post_boil_gravity),
        "additions": ("extract added at the boil", "kg", lambda: measured.boil_additions),
    }
    if measured.rows("fermenter", "gravity"):
        wanted["original_gravity"] = ("original gravity", "SG", lambda: measured.original_gravity)
    found = {}
    for key, (name, unit, compute) in wanted.items():
        try:
            sample = measured.attempt(compute)
        except Absent:
            continue
        value, half_width = float(np.ravel(sample)[0]), COVERAGE_FACTOR * float(np.std(sample))
        if np.isfinite(value) and 0.0 < half_width < np.inf:
            found[key] = _Unknown(name, unit, Estimate(value, value - half_width, value + half_width))
    return found


def _balances(unknowns: dict[str, _Unknown], measured: Measured) -> list[Balance]:
    balances: list[Balance] = []
    if {"post_gravity", "original_gravity"} <= unknowns.keys():
        balances.append(lambda x: (x["post_gravity"] - x["original_gravity"], {"post_gravity": 1.0, "original_gravity": -1.0}))
    if {"pre_volume", "pre_gravity", "post_volume", "post_gravity"} <= unknowns.keys():
        balances.append(_extract_balance("additions" in unknowns))
        try:
            hours = estimate(measured.boil_hours).value
        except Absent:
            return balances
        kettle = measured.view.brewhouse.boil
        share = GIVEN_EVAPORATION if "evaporation" in kettle.model_fields_set else USUAL_EVAPORATION
        if kettle.evaporation > 0.0:
            half = share * kettle.evaporation
            unknowns["evaporation"] = _Unknown(
                "evaporation", "L/h", Estimate(kettle.evaporation, kettle.evaporation - half, kettle.evaporation + half)
            )
            balances.append(_water_balance(hours))
    return balances


def _extract_balance(with_additions: bool) -> Balance:
    """Extract before the boil and what is added to it are the extract after."""

    def imbalance(x: dict[str, float]) -> tuple[float, dict[str, float]]:
        before, after = _per_litre(x["pre_gravity"]), _per_litre(x["post_gravity"])
        slopes = {
            "pre_volume": before,
            "pre_gravity": x["pre_volume"] / float(sucrose.sg_slope(before)),
            "post_volume": -after,
            "post_gravity": -x["post_volume"] / float(sucrose.sg_slope(after)),
        }
        if with_additions:
            slopes["additions"] = 1.0
        return x["pre_volume"] * before + x.get("additions", 0.0) - x["post_volume"] * after, slopes

    return imbalance


def _water_balance(hours: float) -> Balance:
    """The volume lost in the boil evaporated."""
    return lambda x: (
        x["pre_volume"] - x["post_volume"] - hours * x["evaporation"],
        {"pre_volume": 1.0, "post_volume": -1.0, "evaporation": -hours},
    )


def _per_litre(sg: float) -> float:
    """kg of extract in a litre of wort of that gravity."""
    return float(sucrose.extract_mass(1.0, sg))


def _solve(unknowns: dict[str, _Unknown], balances: list[Balance]) -> Reconciled:
    """Linearise the balances about the last values and repeat."""
    names = list(unknowns)
    read = np.array([unknowns[name].read.value for name in names])
    uncertainty = np.array([unknowns[name].read.half_width / COVERAGE_FACTOR for name in names])
    at: Vector = read
    for _ in range(_ROUNDS):
        evaluated = [balance(dict(zip(names, map(float, at), strict=True))) for balance in balances]
        slopes = np.array([[slope.get(name, 0.0) for name in names] for _, slope in evaluated])
        result = reconcile(read, uncertainty, slopes, slopes @ at - np.array([value for value, _ in evaluated]))
        moved = np.max(np.abs(result.values - at) / uncertainty)
        at = result.values
        if moved < _SETTLED:
            break
    return result
