"""The extract ledger: where every kilogram of extract went, from the grist to the fermenter."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from generator.analysis.doubt import Absent, Asking, Estimate, alone
from generator.analysis.measured import Measured
from generator.analysis.planned import Planned, best_of
from generator.science._values import Values

STAGES = ("potential", "first wort", "pre-boil", "post-boil", "fermenter")
LOSSES = {
    ("potential", "first wort"): "not converted",
    ("potential", "pre-boil"): "not converted or left in the grain",
    ("potential", "post-boil"): "lost up to the end of the boil",
    ("potential", "fermenter"): "lost on the way",
    ("first wort", "pre-boil"): "left in the grain",
    ("first wort", "post-boil"): "left in the grain or lost in the boil",
    ("first wort", "fermenter"): "left in the grain, kettle and hoses",
    ("pre-boil", "post-boil"): "lost sight of in the boil",
    ("pre-boil", "fermenter"): "left in kettle and hoses",
    ("post-boil", "fermenter"): "left in kettle and hoses",
}


@dataclass(frozen=True, slots=True)
class Stage:
    """Extract at one stage, kg."""

    stage: str
    extract: Estimate
    plan: float | None


@dataclass(frozen=True, slots=True)
class Change:
    """What went between two stages, kg: a loss is negative."""

    name: str
    extract: Estimate
    plan: float | None


@dataclass(frozen=True, slots=True)
class Ledger:
    """Stages that could be computed, and the changes between them, which add up."""

    stages: tuple[Stage, ...] = ()
    changes: tuple[tuple[Change, ...], ...] = ()
    """After each stage but the last: what was added at the boil, then what was lost."""


def ledger(planned: Planned, measured: Measured | None) -> Ledger:
    """The ledger of a batch; without stages where it isn't brewed."""
    return Ledger() if measured is None else alone(measured.sampler, asking(planned, measured))


def asking(planned: Planned, measured: Measured) -> Asking[Ledger]:
    """The same as a computation that asks for weighing."""
    samples = {stage: sample for stage in STAGES if (sample := _sample(measured, stage)) is not None}
    steps = [_changes(first, second, samples, measured, planned) for first, second in pairwise(samples)]
    weighed = yield samples | {f"{name} {index}": sample for index, step in enumerate(steps) for name, sample, _ in step}
    return Ledger(
        tuple(Stage(stage, weighed[stage].estimate, _plan(planned, stage)) for stage in samples),
        tuple(tuple(Change(name, weighed[f"{name} {index}"].estimate, plan) for name, _, plan in step) for index, step in enumerate(steps)),
    )


def _attempt(compute: Callable[[], Values]) -> Values | None:
    """A finite sample; None where it can't be had."""
    try:
        sample = compute()
    except (Absent, ValueError):
        return None
    return sample if np.isfinite(sample).all() else None


def _sample(measured: Measured, stage: str) -> Values | None:
    return _attempt(
        {
            "potential": lambda: measured.potential_extract,
            "first wort": lambda: measured.first_wort_extract,
            "pre-boil": lambda: measured.pre_boil_extract,
            "post-boil": lambda: measured.post_boil_extract,
            "fermenter": lambda: measured.fermenter_extract,
        }[stage]
    )


def _plan(planned: Planned, stage: str) -> float | None:
    """Planned extract at a stage; None where the plan doesn't tell."""
    try:
        found: Values = {
            "potential": lambda: planned.potential_extract,
            "first wort": lambda: planned.potential_extract * planned.conversion_efficiency / 100.0,
            "pre-boil": lambda: planned.pre_boil_extract,
            "post-boil": lambda: planned.pre_boil_extract + planned.boil_additions,
            "fermenter": lambda: planned.fermenter_extract,
        }[stage]()
    except (Absent, ValueError):
        return None
    return best_of(found)


def _changes(before: str, after: str, samples: dict[str, Values], measured: Measured, planned: Planned) -> list[tuple[str, Values, float | None]]:
    """Name, sample and plan of what went between two stages; what was added at the boil stands apart."""
    went = samples[after] - samples[before]
    plans = (_plan(planned, before), _plan(planned, after))
    plan = None if plans[0] is None or plans[1] is None else plans[1] - plans[0]
    if not measured.view.boiled or before not in STAGES[:3] or after not in STAGES[3:]:
        return [(LOSSES[before, after], went, plan)]
    additions, added = measured.boil_additions, best_of(planned.boil_additions)
    lost = None if plan is None else plan - added
    return [("added at the boil", additions, added), (LOSSES[before, after], went - additions, lost)]
