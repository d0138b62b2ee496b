"""Plan and readings side by side: every figure of the catalogue with its difference and verdict."""

from dataclasses import dataclass, field
from functools import partial
from typing import Literal

from generator.analysis.catalogue import FIGURES, Entry
from generator.analysis.doubt import Absent, Estimate, estimate
from generator.analysis.measured import Measured
from generator.analysis.planned import Expected, Planned, expected

Verdict = Literal["on plan", "above plan", "below plan", "no plan", "not measured"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a batch: planned, predicted, measured, and what follows from these."""

    entry: Entry
    expected: Expected
    measured: Estimate | None = None
    why_absent: str | None = field(default=None)
    """Why it wasn't measured, where it wasn't."""

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
    """Every figure of the catalogue.

    Args:
        planned: the plan's figures.
        measured: the readings' figures; None for a batch that isn't brewed.
    """
    read = {entry.key: _measured(measured, entry) for entry in FIGURES}
    packaged = read["package_volume"][0]
    wanted = expected(planned, packaged.value if packaged else None)
    return {entry.key: Figure(entry, wanted[entry.key], *read[entry.key]) for entry in FIGURES}


def doubt_sources(measured: Measured | None, known: dict[str, Figure]) -> dict[str, dict[str, float]]:
    """Which instruments a measured figure's doubt comes from, as shares of its variance, by key of the figure."""
    if measured is None:
        return {}
    read = [key for key, figure in known.items() if figure.measured is not None]
    return measured.sampler.split({key: getattr(measured, key) for key in read})


def _measured(measured: Measured | None, entry: Entry) -> tuple[Estimate | None, str | None]:
    if measured is None:
        return None, "the batch isn't brewed yet"
    if entry.planned_only:
        return None, "this is for the plan only"
    try:
        return estimate(measured.attempt(partial(getattr, measured, entry.key))), None
    except Absent as absent:
        return None, str(absent)
