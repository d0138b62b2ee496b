"""A brew day worked by hand: liquids are mixed and drained step by step, and what is sought is found by halving an interval.

Nothing of the science layer is used. Densities are the published equations of `tests.reference.published`.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

from tests.reference import published

DISPLACEMENT = 0.67
"""L of room that 1 kg of crushed malt takes in the mash: from memory, after Palmer ch. 16, which gives 0.65 to 0.70."""
MALT_HEAT = 0.40
"""Heat capacity of malt over that of water: Lewis & Young 2001."""


def halve(function: Callable[[float], float], low: float, high: float) -> float:
    """The zero of a function that changes its sign once between two places."""
    rising = function(high) > 0.0
    assert rising != (function(low) > 0.0), "no change of sign"
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (low, middle) if (function(middle) > 0.0) == rising else (middle, high)
    return (low + high) / 2.0


def litres(water: float, extract: float) -> float:
    """Volume at 20 °C of so many kilograms of water and of extract."""
    mass = water + extract
    return 1000.0 * mass / published.sucrose(extract / mass)


def points(extract: float, volume: float) -> float:
    """Gravity in points of a wort of so many litres that holds so many kilograms of extract."""
    share = halve(lambda w: volume * published.sucrose(w) * w / 1000.0 - extract, 0.0, 0.6)
    return 1000.0 * (published.sucrose(share) / published.sucrose(0.0) - 1.0)


def hot(volume: float, temperature: float) -> float:
    """Volume of cold liquor once it is heated."""
    return volume * published.water(20.0) / published.water(temperature)


@dataclass(frozen=True)
class Day:
    """A plan and its vessels, and what comes of it."""

    grist: float
    """kg."""
    yields: float
    """kg of extract in 1 kg of grist."""
    moisture: float
    """kg of water in 1 kg of grist."""
    liquor: float
    sparge: float
    volume: float
    """L at 20 °C: mash liquor, sparge liquor, wort into the fermenter."""
    hours: float
    addition: float
    """kg of extract added to the boil."""
    losses: float
    """L in the kettle and in the hoses."""
    evaporation: float
    retention: float
    vessel: float
    """kg of water that holds as much heat as the vessel."""
    grain_temperature: float
    rest: float
    conversion: float = 0.95
    experience: float = 1.0
    """The brewer's efficiency over that of the mass balance."""

    @property
    def after_boil(self) -> float:
        """L."""
        return self.volume + self.losses

    @property
    def before_boil(self) -> float:
        """L."""
        return self.after_boil + self.evaporation * self.hours

    @property
    def absorbed(self) -> float:
        """L of liquor for each kilogram of grist that don't come back."""
        return (self.liquor + self.sparge - self.before_boil) / self.grist

    @property
    def strike(self) -> float:
        """°C of the liquor: what it loses is what grain and vessel gain."""
        needed = (MALT_HEAT * self.grist + self.vessel) * (self.rest - self.grain_temperature)
        return self.rest + needed / (self.liquor * published.water(20.0) / 1000.0)

    @property
    def space(self) -> float:
        """L that the mash takes up."""
        return hot(self.liquor, self.strike) + DISPLACEMENT * self.grist

    @property
    def collected(self) -> float:
        """kg of extract before the boil: drained once, filled up with the sparge, drained again; litres add up."""
        kept = self.retention * self.grist
        first = self.before_boil - self.sparge
        dissolved = self.conversion * self.yields * self.grist
        ran_off = dissolved * first / (first + kept)
        left = dissolved - ran_off
        return self.experience * (ran_off + left * self.sparge / (self.sparge + kept))

    @property
    def efficiency(self) -> float:
        """%, into the kettle."""
        return 100.0 * self.collected / (self.yields * self.grist)

    @property
    def gravity(self) -> float:
        """Points after the boil."""
        return points(self.collected + self.addition, self.after_boil)

    @property
    def numbers(self) -> "Numbers":
        """What is compared."""
        return Numbers(
            self.grist,
            self.liquor,
            self.sparge,
            self.hours,
            self.before_boil,
            self.volume,
            self.gravity,
            self.efficiency,
            self.space,
        )

    def changed(self, grist: float, liquor: float, volume: float | None = None, hours: float | None = None) -> "Day":
        """The day with other amounts, sparged until the kettle is as full as it must be; sugar goes with the volume."""
        volume = self.volume if volume is None else volume
        day = replace(self, grist=grist, liquor=liquor, volume=volume, addition=self.addition * volume / self.volume)
        day = replace(day, hours=self.hours if hours is None else hours)
        return replace(day, sparge=day.before_boil + self.absorbed * grist - liquor)


class Numbers(NamedTuple):
    """A brew day: kg, L, h, points, %."""

    grist: float
    mash_liquor: float
    sparge_liquor: float
    boil_hours: float
    pre_boil_volume: float
    volume: float
    points: float
    mash_efficiency: float
    space: float


def less_grist(plan: Day, capacity: float, grain_capacity: float) -> Day:
    """The most grist that fits, as thick a mash as planned."""
    thickness = plan.liquor / plan.grist
    most = halve(lambda grist: replace(plan, grist=grist, liquor=thickness * grist).space - capacity, 2.0, 100.0)
    grist = min(most, grain_capacity)
    return plan.changed(grist, thickness * grist)


def smaller_batch(plan: Day, capacity: float, grain_capacity: float) -> Day:
    """That grist, and as little beer as has the planned gravity."""
    less = less_grist(plan, capacity, grain_capacity)
    unsparged = plan.volume - less.sparge
    volume = halve(lambda v: plan.changed(less.grist, less.liquor, v).gravity - plan.gravity, unsparged, plan.volume)
    return plan.changed(less.grist, less.liquor, volume)


def liquor_held_back(plan: Day, capacity: float) -> Day:
    """All of the grist in as much liquor as leaves room for it."""
    liquor = halve(lambda litre: replace(plan, liquor=litre).space - capacity, 2.0 * plan.grist, plan.liquor)
    return plan.changed(plan.grist, liquor)


def longer_boil(plan: Day, capacity: float, grain_capacity: float) -> Day:
    """The grist that fits, sparged and boiled until the gravity is the planned one."""
    less = less_grist(plan, capacity, grain_capacity)
    hours = halve(lambda h: plan.changed(less.grist, less.liquor, hours=h).gravity - plan.gravity, plan.hours, 20.0)
    return plan.changed(less.grist, less.liquor, hours=hours)


def _drained(plan: Day, water: float, extract: float) -> tuple[float, float]:
    """Half of the grist mashed in a liquid: kg of water and of extract that run off."""
    half = plan.grist / 2.0
    water += plan.moisture * half
    extract += plan.conversion * plan.yields * half
    volume = litres(water, extract)
    share = (volume - plan.retention * half) / volume
    return share * water, share * extract


def two_mashes(plan: Day) -> Numbers:
    """Half of the grist in liquor, the other half in the wort of the first, and no sparge."""

    def run(liquor: float) -> tuple[float, float]:
        return _drained(plan, *_drained(plan, liquor * published.water(20.0) / 1000.0, 0.0))

    liquor = halve(lambda litre: litres(*run(litre)) - plan.before_boil, plan.before_boil, 2.0 * plan.before_boil)
    first = _drained(plan, liquor * published.water(20.0) / 1000.0, 0.0)
    collected = plan.experience * run(liquor)[1]
    in_wort = hot(litres(*first), plan.rest) + DISPLACEMENT * plan.grist / 2.0
    space = max(replace(plan, grist=plan.grist / 2.0, liquor=liquor).space, in_wort)
    gravity, efficiency = points(collected + plan.addition, plan.after_boil), 100.0 * collected / (plan.yields * plan.grist)
    return Numbers(plan.grist, liquor, 0.0, plan.hours, plan.before_boil, plan.volume, gravity, efficiency, space)
