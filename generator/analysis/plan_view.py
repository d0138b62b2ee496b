"""What the plan holds, in the terms of the figures: goods by where they are added, hours, targets in SG."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.analysis.doubt import Absent
from generator.records.models import Brewhouse, Good, Hop, Plan
from generator.science import bitterness, carbonation, colour, mash, sucrose
from generator.science._values import Values
from generator.units import Quantity

DEFAULT_BREWHOUSE = Brewhouse(name="a brewhouse of the usual doubts")


@dataclass(frozen=True)
class PlanView:
    """A plan beside its brewhouse."""

    plan: Plan
    brewhouse: Brewhouse

    @property
    def mashed(self) -> tuple[Good, ...]:
        """Goods added to the mash."""
        return tuple(good for good in self.plan.grist if good.added == "mash")

    @property
    def boiled(self) -> tuple[Good, ...]:
        """Goods added to the boil."""
        return tuple(good for good in self.plan.grist if good.added == "boil")

    @property
    def grist_scale(self) -> Values:
        """Mashed goods as weighed over as planned; here 1."""
        return 1.0

    @property
    def grist_mass(self) -> Values:
        """Mashed goods, kg."""
        if not self.mashed:
            raise Absent("the plan lists no goods for the mash")
        return self.grist_scale * sum(good.mass for good in self.mashed)

    @property
    def moisture_per_kg(self) -> float:
        """kg of water in a kilogram of the mashed goods, as planned."""
        return sum(good.mass * good.moisture for good in self.mashed) / 100.0 / sum(good.mass for good in self.mashed)

    @property
    def boil_hours(self) -> float:
        """Planned boil, h."""
        if self.plan.boil.duration is None:
            raise Absent("the plan gives no duration of the boil")
        return self.plan.boil.duration / 60.0

    @property
    def mash_liquor(self) -> Values:
        """Planned mash liquor, L at 20 °C."""
        if self.plan.liquor.mash is None:
            raise Absent("the plan gives no mash liquor")
        return self.plan.liquor.mash

    @property
    def sparge_liquor(self) -> Values:
        """Planned sparge liquor, L at 20 °C."""
        return self.plan.liquor.sparge

    def as_read(self, volume: float) -> Values:
        """A planned volume, as a mark on the vessel would be read; here the plan's own."""
        return volume

    def extract_of(self, good: Good, mass: Values | None = None, extract: Values | None = None) -> Values:
        """Extract of one of the goods, kg; mass and extract as drawn where given."""
        return mash.potential_extract(good.mass if mass is None else mass, good.extract if extract is None else extract, good.moisture)

    def bitterness(self, pre_boil: Values, original: Values, post_boil_volume: Values, hours: Callable[[], Values]) -> Values:
        """IBU of all hops, by the mean gravity of the boil; its hours are asked for only where first wort hops need them."""
        gravity = (pre_boil + original) / 2.0
        an_hour = bitterness.utilisation(60.0, 1.0)
        alpha_acids: Values = 0.0
        for hop in self.plan.hops:
            if hop.added != "fermenter":  # the gravity's factor is common to all: each addition counts as so much of one of an hour
                share = bitterness.utilisation(_minutes(hop, hours), 1.0) / an_hour
                alpha_acids = alpha_acids + hop.mass * 1000.0 * (hop.alpha or 0.0) / 100.0 * share
        return bitterness.bitterness(alpha_acids, 100.0, 60.0, gravity, post_boil_volume)

    def colour(self, mashed_scale: Values, boiled_masses: Sequence[Values], post_boil_volume: Values) -> Values:
        """EBC of the mashed goods, scaled to what was weighed, and of the boil additions by their masses."""
        if not any(good.colour for good in self.mashed + self.boiled):
            raise Absent("the plan gives no colour of its goods")
        of_mash = sum(good.mass * lovibond(good.colour) for good in self.mashed)
        of_boil = sum((mass * lovibond(good.colour) for mass, good in zip(boiled_masses, self.boiled, strict=True)), 0.0)
        mcu = colour.malt_colour_units(mashed_scale * of_mash + of_boil, post_boil_volume)
        return colour.ebc_from_srm(colour.beer_srm(mcu))

    @property
    def co2_per_sugar(self) -> float:
        """g of carbon dioxide from 1 g of the priming sugar."""
        if self.plan.package.sugar is None:
            raise Absent("the plan names no priming sugar")
        return carbonation.CO2_PER_SUGAR[self.plan.package.sugar]


def _minutes(hop: Hop, hours: Callable[[], Values]) -> Values:
    if hop.added == "first wort":
        return hours() * 60.0
    if hop.added == "stand":
        return bitterness.boil_equivalent(hop.time or 0.0, 100.0 if hop.temperature is None else hop.temperature)
    return hop.time or 0.0


def lovibond(malt_colour: Quantity | None) -> float:
    """°L of a malt colour; 0 where none is given."""
    if malt_colour is None:
        return 0.0
    if malt_colour.unit == "°L":
        return malt_colour.value
    srm = malt_colour.value / colour.EBC_PER_SRM if malt_colour.unit == "EBC" else malt_colour.value
    return float(colour.lovibond_from_srm(srm))


def sg_of(gravity: Quantity) -> float:
    """SG 20/20 of a planned gravity."""
    return gravity.value if gravity.unit == "SG" else float(sucrose.sg_from_extract(gravity.value))
