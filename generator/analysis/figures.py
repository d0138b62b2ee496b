"""Plan and readings side by side: every figure of the catalogue with its difference and verdict."""

from dataclasses import dataclass, field, replace
from functools import partial
from typing import Literal

from generator.analysis.catalogue import FIGURES, Entry
from generator.analysis.doubt import NOT_FINITE, Absent, Asking, Estimate, Sampler, Weighed, alone
from generator.analysis.measured import Measured
from generator.analysis.planned import Expected, Planned, expected
from generator.analysis.prediction import predictions
from generator.science._values import Values

Verdict = Literal["on plan", "above plan", "below plan", "no plan", "not measured"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a batch: planned, predicted, measured, and what follows from these."""

    entry: Entry
    expected: Expected
    measured: Estimate | None = None
    why_absent: str | None = field(default=None)
    """Why it wasn't measured, where it wasn't."""
    prediction: Estimate | None = None
    """What the rest of the plan predicts, with its interval."""
    doubt_sources: dict[str, float] = field(default_factory=dict)
    """Share of the variance by instrument, the largest first."""

    @property
    def plan(self) -> float | None:
        """What was planned."""
        return self.expected.plan

    @property
    def difference(self) -> float | None:
        """Measured less planned, in the figure's unit."""
        return None if self.measured is None or self.plan is None else self.measured.value - self.plan

    @property
    def verdict(self) -> Verdict:
        """Whether the plan lies inside the interval, above or below it."""
        if self.measured is None:
            return "not measured"
        if self.plan is None:
            return "no plan"
        if self.measured.low <= self.plan <= self.measured.high:
            return "on plan"
        return "above plan" if self.measured.value > self.plan else "below plan"


def figures(planned: Planned, measured: Measured | None) -> dict[str, Figure]:
    """Every figure by its key, in the order of the catalogue.

    Args:
        planned: the plan's values.
        measured: the readings' values; None for a batch that isn't brewed.
    """
    return alone(measured.sampler if measured else Sampler(), asking(planned, measured))


def asking(planned: Planned, measured: Measured | None) -> Asking[dict[str, Figure]]:
    """The same as a computation that asks for weighing."""
    samples, reasons = _samples(measured)
    weighed = yield samples
    packaged = weighed.get("package_volume")
    wanted = expected(planned, packaged.estimate.value if packaged else None)
    predicted = predictions(planned.view)
    return {
        entry.key: _figure(Figure(entry, wanted[entry.key], prediction=predicted.get(entry.key)), weighed.get(entry.key), reasons)
        for entry in FIGURES
    }


def _figure(planned: Figure, weighed: Weighed | None, reasons: dict[str, str]) -> Figure:
    if weighed is None:
        return replace(planned, why_absent=reasons.get(planned.entry.key, NOT_FINITE))
    return replace(planned, measured=weighed.estimate, doubt_sources=weighed.shares)


def _samples(measured: Measured | None) -> tuple[dict[str, Values], dict[str, str]]:
    """What could be measured, as samples, and why the rest couldn't."""
    samples: dict[str, Values] = {}
    reasons: dict[str, str] = {}
    for entry in FIGURES:
        if measured is None:
            reasons[entry.key] = "the batch isn't brewed yet"
        elif entry.planned_only:
            reasons[entry.key] = "this is for the plan only"
        else:
            try:
                samples[entry.key] = measured.attempt(partial(getattr, measured, entry.key))
            except Absent as absent:
                reasons[entry.key] = str(absent)
    return samples, reasons
