"""How sure a prediction is, and whether a plan contradicts itself.

A plan is drawn as the brewhouse's instruments would carry it out: what the scales weigh, what the malt holds, where the
volumes are stopped. The formulas of the plan are evaluated on these draws as they are on the plan itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from generator.analysis.doubt import Absent, Estimate, Sampler
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import FOLLOWING, PREDICTED, Planned
from generator.records.fields import Doubt
from generator.records.models import Good
from generator.science._values import OutOfRangeError, Values

DRAWS = 1024
"""Enough for predictions: ends within about 5 % of the half-width of those of 200,000 plain draws."""
LEAST_SHARE, LEAST_POINTS = 0.01, 0.002
"""Differences of target and prediction that nobody minds: relative, and SG for gravities."""
_CHECKED = ("post_boil_volume", "pre_boil_volume", "fermenter_volume", "mash_efficiency", "pre_boil_gravity", "original_gravity", "final_gravity")


@dataclass(frozen=True)
class DrawnPlan(PlanView):
    """A plan as the instruments would carry it out, once a draw."""

    sampler: Sampler = field(default_factory=lambda: Sampler(DRAWS))

    def _read(self, value: float, doubt: Doubt) -> Values:
        return self.sampler.normal(value, abs(value) * doubt.value / 100.0 if doubt.relative else doubt.value, low=0.0)

    @cached_property
    def grist_scale(self) -> Values:
        """What the scales make of the planned grist."""
        mass = sum(good.mass for good in self.mashed)
        return self._read(mass, self.brewhouse.instruments.mass) / mass if mass else 1.0

    @cached_property
    def mash_liquor(self) -> Values:
        """L at 20 °C."""
        return self._read(float(super().mash_liquor), self.brewhouse.instruments.volume)

    @cached_property
    def sparge_liquor(self) -> Values:
        """L at 20 °C."""
        return self._read(float(super().sparge_liquor), self.brewhouse.instruments.volume)

    def as_read(self, volume: float) -> Values:
        """A volume that is stopped at a mark."""
        return self._read(volume, self.brewhouse.instruments.volume)

    def extract_of(self, good: Good, mass: Values | None = None, extract: Values | None = None) -> Values:
        """Extract of one of the goods, kg, with the doubts of its mass and of its stated extract."""
        instruments = self.brewhouse.instruments
        drawn = self.sampler.normal(good.extract, good.extract * instruments.extract.value / 100.0, 0.0, 150.0)
        weighed = good.mass * self.grist_scale if good.added == "mash" else self._read(good.mass, instruments.mass)
        return super().extract_of(good, weighed if mass is None else mass, drawn if extract is None else extract)


def predictions(view: PlanView) -> dict[str, Estimate]:
    """Every predicted figure with its 95 % interval; what the plan doesn't predict is left out.

    Args:
        view: a plan and its brewhouse.
    """
    drawn = DrawnPlan(view.plan, view.brewhouse)
    planned = Planned(drawn)
    names = {key: f"predicted_{key}" for key in PREDICTED} | {key: key for key in ("grist_mass", *FOLLOWING)}
    samples = {key: sample for key, name in names.items() if (sample := _attempt(planned, name)) is not None}
    return {key: weighed.estimate for key, weighed in drawn.sampler.weigh(samples).items()}


def _attempt(planned: Planned, name: str) -> Values | None:
    try:
        sample: Values = getattr(planned, name)
    except (Absent, OutOfRangeError):
        return None
    return sample


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A target that the rest of the plan doesn't lead to."""

    key: str
    target: float
    prediction: Estimate


def contradictions(targets: Mapping[str, float], predicted: Mapping[str, Estimate]) -> tuple[Contradiction, ...]:
    """Targets that lie outside of what the rest of the plan predicts, and by more than anybody would overlook.

    Args:
        targets: of the figures for which a plan gives one.
        predicted: what `predictions` found.
    """
    found = [Contradiction(key, targets[key], predicted[key]) for key in _CHECKED if key in targets and key in predicted]
    return tuple(one for one in found if _contradicts(one))


def _contradicts(one: Contradiction) -> bool:
    difference = abs(one.target - one.prediction.value)
    overlooked = LEAST_POINTS if one.key.endswith("gravity") else LEAST_SHARE * abs(one.prediction.value)
    return difference > one.prediction.half_width and difference > overlooked
