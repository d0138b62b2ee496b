"""Does the mash fit the vessel, and what would make it fit? Each way out with the beer that it would give.

A way out is weighed as the plan is: by the mass balance of lautering. Where the plan's efficiency isn't the one of the balance,
the same ratio of the two is kept, as it stands for the brewer's own experience of the vessel.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from scipy.optimize import brentq

from generator.analysis.doubt import Absent
from generator.analysis.planned import Planned, lauter_share
from generator.science import mash, remash, sucrose, water
from generator.science._values import OutOfRangeError

THINNEST_BED = 2.0
"""L of liquor per kg of grist; below it a mash is hard to stir and to recirculate: common practice."""
LONGEST_BOIL = 4.0
"""h; nobody plans to boil longer."""
_NO = (Absent, OutOfRangeError, ValueError)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A brew day in numbers: what goes in, what comes out."""

    grist: float
    """kg."""
    mash_liquor: float
    """L at 20 °C."""
    sparge_liquor: float
    """L at 20 °C."""
    boil_hours: float
    pre_boil_volume: float
    """L."""
    volume: float
    """L into the fermenter."""
    gravity: float
    """SG, original."""
    mash_efficiency: float
    """%."""
    space: float
    """L that the mash takes in the vessel; of two mashes the larger."""


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way to make it fit."""

    name: str
    does: str
    """What changes, as an order to the brewer."""
    outcome: Outcome | None
    why_not: str = ""
    """Why it isn't one here, where it isn't."""


@dataclass(frozen=True, slots=True)
class Fit:
    """The mash against its vessel."""

    planned: Outcome
    capacity: float | None
    """L of the vessel."""
    grain_capacity: float | None
    """kg of grain that it is made for."""
    while_adding: tuple[float, float]
    """L up to which the mash stands while grain is stirred in: all at once, and in the plan's portions."""
    ways: tuple[WayOut, ...]
    """None where the mash fits."""

    @property
    def excess(self) -> float:
        """L by which the mash is too large; 0 where it fits."""
        return max(self.planned.space - self.capacity, 0.0) if self.capacity else 0.0

    @property
    def excess_grain(self) -> float:
        """kg of grain above what the vessel is made for; 0 where it fits."""
        return max(self.planned.grist - self.grain_capacity, 0.0) if self.grain_capacity else 0.0


def fit(planned: Planned) -> Fit | None:
    """How the mash of a plan fits, and the ways out if it doesn't; None where the plan doesn't tell."""
    try:
        balance = _Balance(planned)
        outcome = balance.outcome(balance.grist, balance.liquor, balance.volume, balance.hours)
    except _NO:
        return None
    vessel = planned.view.brewhouse.mash
    found = Fit(outcome, vessel.capacity, vessel.grain_capacity, balance.while_adding(), ())
    if not found.excess and not found.excess_grain:
        return found
    return Fit(outcome, vessel.capacity, vessel.grain_capacity, found.while_adding, tuple(balance.ways()))


class _Balance:
    """The plan's mass balance with other amounts put in."""

    def __init__(self, planned: Planned) -> None:
        view, house = planned.view, planned.view.brewhouse
        self.plan, self.house = view.plan, house
        self.grist, self.liquor, self.sparge = float(view.grist_mass), float(view.mash_liquor), float(view.sparge_liquor)
        self.hours, self.volume = view.boil_hours, float(planned.fermenter_volume)
        self.pre_boil, self.post_boil = float(planned.pre_boil_volume), float(planned.post_boil_volume)
        self.losses, self.evaporation = self.post_boil - self.volume, (self.pre_boil - self.post_boil) / self.hours
        self.extract_per_kg, self.moisture = float(planned.extract_per_kg), view.moisture_per_kg
        self.additions, self.conversion = float(planned.boil_additions), float(planned.conversion_efficiency) / 100.0
        self.absorption = (self.liquor + self.sparge - self.pre_boil) / self.grist
        self.rest = self.plan.rest[0].temperature if self.plan.rest else None
        self.experience = float(planned.mash_efficiency) / float(planned.predicted_mash_efficiency)
        self.gravity = float(planned.predicted_original_gravity)

    def space(self, grist: float, liquor: float) -> float:
        """L at the heat of the strike."""
        return float(mash.mash_space(liquor, self.strike(grist, liquor), grist))

    def strike(self, grist: float, liquor: float) -> float:
        """°C."""
        if self.rest is None:
            raise Absent("the plan gives no rest")
        vessel = self.house.mash.heat_capacity
        return float(mash.strike_temperature(self.rest, grist, liquor * water.density(20.0), self.plan.liquor.grain_temperature, vessel))

    def outcome(self, grist: float, liquor: float, volume: float, hours: float) -> Outcome:
        """A single mash; what the liquor of the mash doesn't give is sparged."""
        post_boil = volume + self.losses
        pre_boil = post_boil + self.evaporation * hours
        sparge = pre_boil + self.absorption * grist - liquor
        if sparge < -1e-9:
            raise Absent("the mash liquor alone would give more than the kettle needs")
        efficiency = self.conversion * float(lauter_share(grist, pre_boil, sparge, self.house.mash.retention)) * self.experience
        extract = self.extract_per_kg * grist * efficiency + self.additions * volume / self.volume
        gravity = float(sucrose.sg_of_extract_mass(extract, post_boil))
        return Outcome(grist, liquor, max(sparge, 0.0), hours, pre_boil, volume, gravity, 100.0 * efficiency, self.space(grist, liquor))

    def while_adding(self) -> tuple[float, float]:
        """L up to which the mash stands while the grain goes in at once, and in the plan's portions."""
        hot = self.space(self.grist, self.liquor) - mash.GRAIN_DISPLACEMENT * self.grist
        return float(mash.level_while_adding(hot, self.grist, 1)), float(mash.level_while_adding(hot, self.grist, self.plan.mash.portions))

    @cached_property
    def most_grist(self) -> float:
        """kg that fit at the plan's thickness of mash."""
        vessel, thickness = self.house.mash, self.liquor / self.grist
        limits = [self.grist, *([vessel.grain_capacity] if vessel.grain_capacity else [])]
        capacity = vessel.capacity
        if capacity is not None and self.space(self.grist, self.liquor) > capacity:
            least = self.least_grist
            if self.space(least, least * thickness) > capacity:
                raise Absent("nothing fits")
            limits.append(_root(lambda grist: self.space(grist, grist * thickness) - capacity, least, self.grist))
        return min(limits)

    @property
    def least_grist(self) -> float:
        """kg, at the plan's thickness, below which the vessel takes so much heat that the strike liquor would boil."""
        if self.rest is None:
            raise Absent("the plan gives no rest")
        rise = self.rest - self.plan.liquor.grain_temperature
        spare = self.liquor / self.grist * float(water.density(20.0)) * (100.0 - self.rest) - mash.MALT_HEAT * rise
        return max(1e-3, self.house.mash.heat_capacity * rise / spare) if spare > 0.0 else 1e-3

    def ways(self) -> Iterator[WayOut]:
        """Every way out, in the order of effort."""
        for name, find in (
            ("Less grist", self.less_grist),
            ("A smaller batch", self.smaller_batch),
            ("Liquor held back", self.liquor_held_back),
            ("Two mashes, one in the other’s wort", self.two_mashes),
            ("A longer boil", self.longer_boil),
        ):
            try:
                does, outcome = find()
                yield WayOut(name, does, outcome)
            except _NO as reason:
                yield WayOut(name, "", None, str(reason))

    def less_grist(self) -> tuple[str, Outcome]:
        """As much as fits, for the same volume."""
        grist = self.most_grist
        outcome = self.outcome(grist, grist * self.liquor / self.grist, self.volume, self.hours)
        return f"Leave out {self.grist - grist:.2f} kg of the grist and keep the volume; sparge more", outcome

    def smaller_batch(self) -> tuple[str, Outcome]:
        """As much beer as the grist that fits makes at the plan's gravity."""
        grist = self.most_grist
        liquor = grist * self.liquor / self.grist

        def miss(volume: float) -> float:
            return self.outcome(grist, liquor, volume, self.hours).gravity - self.gravity

        least = max(0.05 * self.volume, self.least_volume(grist, liquor))
        volume = _root(miss, least, self.volume)
        outcome = self.outcome(grist, liquor, volume, self.hours)
        return f"Make {volume:.1f} L at the planned gravity, of {grist:.2f} kg", outcome

    def least_volume(self, grist: float, liquor: float) -> float:
        """L into the fermenter that the mash liquor gives without a sparge."""
        return liquor - self.absorption * grist - self.evaporation * self.hours - self.losses

    def liquor_held_back(self) -> tuple[str, Outcome]:
        """A thicker mash of the whole grist; the liquor goes into the sparge."""
        capacity, grain = self.house.mash.capacity, self.house.mash.grain_capacity
        if grain is not None and self.grist > grain:
            raise Absent("the grain alone is more than the vessel is made for")
        if capacity is None or self.space(self.grist, self.liquor) <= capacity:
            raise Absent("the liquor isn't what is too much")
        least = THINNEST_BED * self.grist
        if self.space(self.grist, least) > capacity:
            raise Absent(f"the mash would have less than {THINNEST_BED:g} L of liquor per kg, too thick to stir and to recirculate")
        liquor = _root(lambda liquor: self.space(self.grist, liquor) - capacity, least, self.liquor)
        outcome = self.outcome(self.grist, liquor, self.volume, self.hours)
        return f"Mash with {self.liquor - liquor:.1f} L less and sparge with it instead", outcome

    def two_mashes(self) -> tuple[str, Outcome]:
        """Half of the grist mashed in water, the other half in the wort of the first."""
        half = remash.Portion(self.grist / 2.0, self.extract_per_kg, self.moisture, self.conversion)
        litre = float(water.density(20.0))
        first_liquor = float(remash.liquor_of_successive_mashes(self.pre_boil, half, half, self.house.mash.retention))
        one, two = remash.successive_mashes(first_liquor, half, half, self.house.mash.retention)
        space = max(self.space(self.grist / 2.0, first_liquor / litre), float(mash.mash_space(one.volume, self.rest or 20.0, self.grist / 2.0)))
        capacity, grain = self.house.mash.capacity, self.house.mash.grain_capacity
        if (capacity is not None and space > capacity) or (grain is not None and self.grist / 2.0 > grain):
            raise Absent(f"each of the two mashes would still need {space:.1f} L for {self.grist / 2.0:.2f} kg")
        efficiency = float(two.extract) / (self.extract_per_kg * self.grist) * self.experience
        extract = self.extract_per_kg * self.grist * efficiency + self.additions
        gravity = float(sucrose.sg_of_extract_mass(extract, self.post_boil))
        outcome = Outcome(self.grist, first_liquor / litre, 0.0, self.hours, self.pre_boil, self.volume, gravity, 100.0 * efficiency, space)
        return f"Mash {self.grist / 2.0:.2f} kg, drain it, and mash the other half in its wort; no sparge", outcome

    def longer_boil(self) -> tuple[str, Outcome]:
        """The grist that fits, sparged with more and boiled down to the plan's gravity and volume."""
        grist = self.most_grist
        liquor = grist * self.liquor / self.grist
        if self.evaporation <= 0.0:
            raise Absent("nothing evaporates in this boil")

        def miss(hours: float) -> float:
            return self.outcome(grist, liquor, self.volume, hours).gravity - self.gravity

        longest = self.longest_boil
        if miss(longest) < 0.0:
            best = self.outcome(grist, liquor, self.volume, longest)
            raise Absent(f"even {longest:.1f} h of boiling would give {best.gravity:.3f} only")
        hours = _root(miss, self.hours, longest)
        return f"Sparge more, and boil for {60.0 * hours:.0f} min", self.outcome(grist, liquor, self.volume, hours)

    @property
    def longest_boil(self) -> float:
        """h: as the kettle allows, and no longer than anybody boils."""
        capacity = self.house.boil.capacity
        if capacity is None:
            return LONGEST_BOIL
        cold = capacity * float(water.density(98.0) / water.density(20.0))
        room = (cold - self.post_boil) / self.evaporation
        if room <= self.hours:
            raise Absent("the kettle is full as it is")
        return min(room, LONGEST_BOIL)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function is 0; Absent where it has no such place between."""
    if function(low) * function(high) > 0.0:
        raise Absent("no amount between gives what is wanted")
    return float(brentq(function, low, high, xtol=1e-9))
