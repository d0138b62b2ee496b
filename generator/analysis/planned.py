"""The plan's figures: a target where one is given, else what the rest of the plan predicts."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Literal

import numpy as np

from generator.analysis.doubt import Absent
from generator.analysis.plan_view import PlanView, sg_of
from generator.science import beer, carbonation, ethanol, mash, sucrose, water, yeast
from generator.science._values import OutOfRangeError, Values

DEFAULT_CONVERSION = 95.0
"""% where the plan gives no target."""


@dataclass(frozen=True, slots=True)
class Expected:
    """One planned figure."""

    plan: float | None = None
    plan_from: Literal["target", "predicted"] | None = None
    predicted: float | None = None
    why_absent: str | None = None


def best_of(values: Values) -> float:
    """The value itself, or that of the plan itself among draws."""
    return float(values if isinstance(values, (float, int)) else np.ravel(values)[0])


def lauter_share(grist: Values, pre_boil: Values, sparge: Values, retention: float) -> Values:
    """Share of the dissolved extract that reaches the kettle, by mass balance: without a sparge, or with one batch sparge."""
    if best_of(sparge) <= 0.0:
        return mash.lauter_without_sparge(grist / pre_boil, retention)
    if best_of(sparge) >= best_of(pre_boil):
        raise Absent("the sparge is as large as the whole wort before the boil")
    return mash.lauter_with_one_sparge(grist / pre_boil, retention, (pre_boil - sparge) / pre_boil)


class Planned:
    """Planned values, each a property; one that can't be had raises Absent with its reason."""

    def __init__(self, view: PlanView) -> None:
        self.view, self._target, self._house = view, view.plan.target, view.brewhouse

    # volumes, L at 20 °C

    @property
    def losses(self) -> Values:
        """What stays in the kettle and in the hoses."""
        return self._house.transfer.loss + self._house.boil.kettle_loss

    @property
    def grist_mass(self) -> Values:
        """kg of mashed goods."""
        return self.view.grist_mass

    @cached_property
    def predicted_post_boil_volume(self) -> Values:
        """Target volume and the losses on the way."""
        return self._target_volume + self.losses

    @cached_property
    def _target_volume(self) -> Values:
        if self._target.volume is None:
            raise Absent("the plan gives no target volume")
        return self.view.as_read(self._target.volume)

    @cached_property
    def post_boil_volume(self) -> Values:
        """Target, else predicted."""
        target = self._target.post_boil_volume
        return self.predicted_post_boil_volume if target is None else self.view.as_read(target)

    @cached_property
    def predicted_pre_boil_volume(self) -> Values:
        """Post-boil volume and what evaporates."""
        return self.post_boil_volume + self._house.boil.evaporation * self.view.boil_hours

    @cached_property
    def pre_boil_volume(self) -> Values:
        """Target, else predicted."""
        target = self._target.pre_boil_volume
        return self.predicted_pre_boil_volume if target is None else self.view.as_read(target)

    @cached_property
    def predicted_fermenter_volume(self) -> Values:
        """A target post-boil volume less the losses."""
        if self._target.post_boil_volume is None:
            raise Absent("nothing else of the plan predicts it")
        volume = self.post_boil_volume - self.losses
        if best_of(volume) <= 0.0:
            raise Absent("the losses are larger than the volume after the boil")
        return volume

    @cached_property
    def fermenter_volume(self) -> Values:
        """Target, else predicted."""
        if self._target.volume is None and self._target.post_boil_volume is not None:
            return self.predicted_fermenter_volume
        return self._target_volume

    @cached_property
    def evaporation_rate(self) -> Values:
        """From the planned volumes."""
        return mash.evaporation_rate(self.pre_boil_volume, self.post_boil_volume, self.view.boil_hours)

    @property
    def likely_evaporation(self) -> Values:
        """L/h from the planned volumes, else the brewhouse's."""
        try:
            return self.evaporation_rate
        except (Absent, OutOfRangeError):
            return self._house.boil.evaporation

    # extract

    @cached_property
    def potential_extract(self) -> Values:
        """kg in the mashed goods."""
        _ = self.view.grist_mass
        return sum(self.view.extract_of(good) for good in self.view.mashed)

    @property
    def extract_per_kg(self) -> Values:
        """kg of potential extract in a kilogram of the grist."""
        return self.potential_extract / self.view.grist_mass

    @cached_property
    def boil_additions(self) -> Values:
        """kg of extract added at the boil."""
        return sum(self.view.extract_of(good) for good in self.view.boiled)

    @cached_property
    def conversion_efficiency(self) -> Values:
        """Target, else 95 %."""
        target = self._target.conversion_efficiency
        return DEFAULT_CONVERSION if target is None else target

    @cached_property
    def predicted_lauter_efficiency(self) -> Values:
        """Mass balance without sparge or with one batch sparge, %."""
        return 100.0 * lauter_share(self.view.grist_mass, self.pre_boil_volume, self.view.sparge_liquor, self._house.mash.retention)

    @cached_property
    def predicted_mash_efficiency(self) -> Values:
        """Conversion times lautering."""
        return self.conversion_efficiency * self.predicted_lauter_efficiency / 100.0

    @cached_property
    def mash_efficiency(self) -> Values:
        """Target, else predicted."""
        target = self._target.mash_efficiency
        return self.predicted_mash_efficiency if target is None else target

    @cached_property
    def lauter_efficiency(self) -> Values:
        """What a target mash efficiency asks of it, else predicted."""
        if self._target.mash_efficiency is None:
            return self.predicted_lauter_efficiency
        if best_of(self.conversion_efficiency) <= 0.0:
            raise Absent("the plan asks for no conversion")
        return 100.0 * self.mash_efficiency / self.conversion_efficiency

    @cached_property
    def pre_boil_extract(self) -> Values:
        """kg before the boil."""
        return self.potential_extract * self.mash_efficiency / 100.0

    # gravities, SG 20/20

    @cached_property
    def predicted_pre_boil_gravity(self) -> Values:
        """Of that extract in the volume before the boil."""
        return sucrose.sg_of_extract_mass(self.pre_boil_extract, self.pre_boil_volume)

    @cached_property
    def pre_boil_gravity(self) -> Values:
        """Target, else predicted."""
        target = self._target.pre_boil_gravity
        return self.predicted_pre_boil_gravity if target is None else sg_of(target)

    @cached_property
    def predicted_original_gravity(self) -> Values:
        """Of that extract and the boil additions in the volume after the boil."""
        return sucrose.sg_of_extract_mass(self.pre_boil_extract + self.boil_additions, self.post_boil_volume)

    @cached_property
    def original_gravity(self) -> Values:
        """Target, else predicted."""
        target = self._target.original_gravity
        return self.predicted_original_gravity if target is None else sg_of(target)

    @cached_property
    def original_extract(self) -> Values:
        """°P of the planned original gravity."""
        return sucrose.extract_from_sg(self.original_gravity)

    @cached_property
    def predicted_final_gravity(self) -> Values:
        """By the attenuation of the yeast."""
        if self.view.plan.yeast.attenuation is None:
            raise Absent("the plan gives no attenuation of the yeast")
        return sucrose.sg_from_extract(self.original_extract * (1.0 - self.view.plan.yeast.attenuation / 100.0))

    @cached_property
    def final_gravity(self) -> Values:
        """Target, else predicted."""
        target = self._target.final_gravity
        return self.predicted_final_gravity if target is None else sg_of(target)

    @cached_property
    def apparent_extract(self) -> Values:
        """°P of the planned final gravity."""
        return sucrose.extract_from_sg(self.final_gravity)

    # what follows from the planned gravities

    @cached_property
    def apparent_attenuation(self) -> Values:
        """%."""
        return beer.apparent_attenuation(self.original_extract, self.apparent_extract)

    @cached_property
    def abw(self) -> Values:
        """% by mass."""
        return beer.alcohol_by_weight(self.original_extract, self.final_gravity)

    @cached_property
    def real_extract(self) -> Values:
        """°P."""
        return beer.real_extract(self.original_extract, self.abw)

    @cached_property
    def real_attenuation(self) -> Values:
        """%."""
        return beer.real_attenuation(self.abw, self.real_extract)

    @cached_property
    def abv(self) -> Values:
        """% by volume."""
        return ethanol.abv(self.abw, self.final_gravity)

    @cached_property
    def energy(self) -> Values:
        """kJ in 100 mL."""
        return beer.energy(self.abw, self.real_extract, self.final_gravity)

    @cached_property
    def fermenter_extract(self) -> Values:
        """kg of extract into the fermenter."""
        return sucrose.extract_mass(self.fermenter_volume, self.original_gravity)

    @cached_property
    def brewhouse_efficiency(self) -> Values:
        """%."""
        return mash.percent_of(self.fermenter_extract, self.potential_extract + self.boil_additions)

    @cached_property
    def bitterness(self) -> Values:
        """IBU."""
        return self.view.bitterness(self.pre_boil_gravity, self.original_gravity, self.post_boil_volume, lambda: self.view.boil_hours)

    @cached_property
    def colour(self) -> Values:
        """EBC."""
        return self.view.colour(self.view.grist_scale, [good.mass for good in self.view.boiled], self.post_boil_volume)

    @cached_property
    def apparent_absorption(self) -> Values:
        """L/kg."""
        liquor = self.view.mash_liquor + self.view.sparge_liquor
        return mash.apparent_absorption(liquor, self.pre_boil_volume, self.view.grist_mass)

    @cached_property
    def pitch_rate(self) -> Values:
        """10⁶ per mL and °P."""
        if self.view.plan.yeast.cells is None:
            raise Absent("the plan gives no number of cells")
        return yeast.pitch_rate(self.view.plan.yeast.cells, self.fermenter_volume, self.original_extract)

    # the brew day

    @cached_property
    def strike_temperature(self) -> Values:
        """°C for the first rest."""
        if not self.view.plan.rest:
            raise Absent("the plan gives no rest")
        liquor, vessel = self.view.plan.liquor, self._house.mash.heat_capacity
        water_kg = self.view.mash_liquor * water.density(20.0)
        return mash.strike_temperature(self.view.plan.rest[0].temperature, self.view.grist_mass, water_kg, liquor.grain_temperature, vessel)

    @cached_property
    def mash_space(self) -> Values:
        """L."""
        return mash.mash_space(self.view.mash_liquor, self.strike_temperature, self.view.grist_mass)

    @cached_property
    def carbonation(self) -> Values:
        """vol, the target."""
        if self._target.carbonation is None:
            raise Absent("the plan gives no carbonation")
        return self._target.carbonation

    def priming_sugar(self, volume: Values) -> Values:
        """g for the target carbonation in so many litres."""
        temperature = self.view.plan.package.temperature
        if temperature is None:
            raise Absent("the plan gives no temperature for packaging")
        return carbonation.priming_sugar(self.carbonation, temperature, volume, self.view.co2_per_sugar)


PREDICTED = (
    "original_gravity", "final_gravity", "mash_efficiency", "lauter_efficiency", "pre_boil_volume", "pre_boil_gravity", "post_boil_volume",
    "fermenter_volume",
)  # fmt: skip
"""Figures whose prediction stands apart from their plan, in `predicted_…`."""
_TARGETS = (
    "original_gravity", "final_gravity", "mash_efficiency", "conversion_efficiency", "pre_boil_volume", "pre_boil_gravity", "post_boil_volume",
)  # fmt: skip
FOLLOWING = (
    "potential_extract", "original_extract", "apparent_extract", "real_extract", "abw", "abv", "apparent_attenuation", "real_attenuation",
    "energy", "brewhouse_efficiency", "bitterness", "colour", "apparent_absorption", "pitch_rate", "strike_temperature", "mash_space",
)  # fmt: skip


def expected(planned: Planned, packaged_volume: float | None) -> dict[str, Expected]:
    """Plan and prediction of every figure.

    Args:
        planned: of one batch.
        packaged_volume: L at 20 °C as read; the planned volume stands in for None when priming sugar is computed.
    """
    target = planned.view.plan.target
    known = {key: _of(planned, key, f"predicted_{key}", getattr(target, key) is not None) for key in _TARGETS if key != "conversion_efficiency"}
    conversion = target.conversion_efficiency
    stated: Literal["target", "predicted"] = "predicted" if conversion is None else "target"
    known["conversion_efficiency"] = Expected(best_of(planned.conversion_efficiency), stated, DEFAULT_CONVERSION)
    known["lauter_efficiency"] = _of(planned, "lauter_efficiency", "predicted_lauter_efficiency", target.mash_efficiency is not None)
    known["fermenter_volume"] = _of(planned, "fermenter_volume", "predicted_fermenter_volume", target.volume is not None)
    known["grist_mass"] = _same(lambda: planned.view.grist_mass)
    known |= {key: _same(partial(getattr, planned, key)) for key in FOLLOWING}
    rate, _ = _attempt(lambda: planned.evaporation_rate)
    known["evaporation_rate"] = Expected(rate, None if rate is None else "predicted", planned.view.brewhouse.boil.evaporation)
    known["package_volume"] = Expected(why_absent="a plan gives no packaged volume")
    wanted, why = _attempt(lambda: planned.carbonation)
    known["carbonation"] = Expected(wanted, None if wanted is None else "target", None, why)
    known["priming_sugar"] = _same(lambda: planned.priming_sugar(planned.fermenter_volume if packaged_volume is None else packaged_volume))
    return known


def _attempt(compute: Callable[[], Values]) -> tuple[float | None, str | None]:
    """The value, or None and why it is absent."""
    try:
        value = best_of(compute())
    except Absent as absent:
        return None, str(absent)
    except OutOfRangeError as error:
        return None, str(error)
    return (value, None) if abs(value) < float("inf") else (None, "the plan gives no finite number")


def _of(planned: Planned, key: str, predicted_key: str, has_target: bool) -> Expected:
    plan, why = _attempt(lambda: getattr(planned, key))
    predicted, _ = _attempt(lambda: getattr(planned, predicted_key))
    return Expected(plan, None if plan is None else "target" if has_target else "predicted", predicted, why)


def _same(compute: Callable[[], Values]) -> Expected:
    value, why = _attempt(compute)
    return Expected(value, None if value is None else "predicted", value, why)
