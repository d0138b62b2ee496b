"""The extract ledger: where every kilogram of extract went, from the grist to the fermenter."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from generator.analysis.doubt import Absent, Estimate, estimate
from generator.analysis.measured import Measured
from generator.analysis.planned import Planned
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
    if measured is None:
        return Ledger()
    samples = [(stage, sample) for stage in STAGES if (sample := _sample(measured, stage)) is not None]
    stages = tuple(Stage(stage, estimate(sample), _plan(planned, stage)) for stage, sample in samples)
    additions = _attempt(lambda: measured.boil_additions)
    changes = tuple(_changes(first, second, additions, planned) for first, second in pairwise(samples))
    return Ledger(stages, changes)


def _attempt(compute: Callable[[], Values]) -> Values | None:
    try:
        sample = compute()
        estimate(sample)
        return sample
    except (Absent, ValueError):
        return None


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
        return {
            "potential": lambda: planned.potential_extract,
            "first wort": lambda: planned.potential_extract * planned.conversion_efficiency / 100.0,
            "pre-boil": lambda: planned.pre_boil_extract,
            "post-boil": lambda: planned.pre_boil_extract + planned.boil_additions,
            "fermenter": lambda: planned.fermenter_extract,
        }[stage]()
    except (Absent, ValueError):
        return None


def _changes(first: tuple[str, Values], second: tuple[str, Values], additions: Values | None, planned: Planned) -> tuple[Change, ...]:
    (before, extract_before), (after, extract_after) = first, second
    plans = (_plan(planned, before), _plan(planned, after))
    plan = None if plans[0] is None or plans[1] is None else plans[1] - plans[0]
    boiled = before in STAGES[:3] and after in STAGES[3:] and additions is not None and estimate(additions).value > 0.0
    if not boiled or additions is None:
        return (Change(LOSSES[before, after], estimate(extract_after - extract_before), plan),)
    added = planned.boil_additions
    lost = Change(LOSSES[before, after], estimate(extract_after - extract_before - additions), None if plan is None else plan - added)
    return (Change("added at the boil", estimate(additions), added), lost)
