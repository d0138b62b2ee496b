"""A brew day and a fermentation as they really went, before anybody read an instrument."""

import math
from dataclasses import dataclass
from datetime import datetime

from generator.science import beer, ethanol, sucrose, water
from tests.demo.plans import Plan


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of fermentation: from a day on, so much attenuation is gained along a Weibull curve."""

    day: float
    """When it sets in, days after pitching."""
    gain: float
    """Apparent attenuation it adds in the end, as a fraction."""
    tau: float
    """Days after which 63 % of the gain are reached."""
    shape: float = 1.7

    def attenuation(self, day: float) -> float:
        """Return the apparent attenuation this phase has added by a day, as a fraction."""
        passed = max(day - self.day, 0.0) / self.tau
        return self.gain * (1.0 - math.exp(-(passed**self.shape)))


@dataclass(frozen=True, slots=True)
class Hidden:
    """What nobody in the story knows exactly: the constants of one brew day."""

    conversion: float
    """Share of the potential extract that dissolved."""
    retention: float
    """L of wort left in a kilogram of drained grist."""
    mixing: float
    """How well the sparge reached the wort held in the grain: 0 ran past it, 1 fully mixed."""
    mash_liquor: float
    """L at 20 °C."""
    sparge: float
    """L at 20 °C."""
    evaporation: float
    """L/h, cold."""
    boil_hours: float
    kettle_loss: float
    """L left behind between kettle and fermenter."""
    yeast_loss: float
    """L left behind when packaging."""
    pitched: datetime
    phases: tuple[Phase, ...]
    grist_scale: float = 1.0
    """Weighed over planned grist."""
    malt_bias: float = 0.0
    """Relative deviation of the malt's extract from what the plan states."""


@dataclass(frozen=True, slots=True)
class Course:
    """The true quantities of a batch; volumes in L at 20 °C, gravities in SG 20/20, masses in kg."""

    hidden: Hidden
    grist: float
    potential: float
    first_wort: float
    pre_boil_volume: float
    pre_boil_gravity: float
    post_boil_volume: float
    original_gravity: float
    fermenter_volume: float
    package_volume: float

    @property
    def mash_efficiency(self) -> float:
        """Per cent of the potential extract (with the malt's true extract) that reached the kettle."""
        return 100.0 * float(sucrose.extract_mass(self.pre_boil_volume, self.pre_boil_gravity)) / self.potential

    def day(self, time: datetime) -> float:
        """Return days since pitching."""
        return (time - self.hidden.pitched).total_seconds() / 86400.0

    def apparent_extract(self, day: float) -> float:
        """Return the apparent extract, °P, so many days after pitching."""
        attenuation = sum(phase.attenuation(day) for phase in self.hidden.phases)
        return float(sucrose.extract_from_sg(self.original_gravity)) * (1.0 - attenuation)

    def gravity(self, day: float) -> float:
        """Return the gravity of the beer, SG 20/20, so many days after pitching."""
        return float(sucrose.sg_from_extract(self.apparent_extract(day)))

    def true_value(self, stage: str, what: str, time: datetime | None) -> float:
        """Return the truth behind a reading, in L, kg or SG."""
        if what == "gravity" and stage in ("fermenter", "package"):
            return self.gravity(self.day(time) if time else math.inf)
        values = {
            ("mash", "grist"): self.grist,
            ("mash", "liquor"): self.hidden.mash_liquor,
            ("first-wort", "gravity"): self.first_wort,
            ("sparge", "liquor"): self.hidden.sparge,
            ("pre-boil", "volume"): self.pre_boil_volume,
            ("pre-boil", "gravity"): self.pre_boil_gravity,
            ("boil", "duration"): self.hidden.boil_hours * 60.0,
            ("post-boil", "volume"): self.post_boil_volume,
            ("post-boil", "gravity"): self.original_gravity,
            ("fermenter", "volume"): self.fermenter_volume,
            ("package", "volume"): self.package_volume,
        }
        return values[stage, what]


def _kettle(plan: Plan, hidden: Hidden, dissolved: float, water_kg: float) -> tuple[float, float]:
    """Return volume (L) and extract (kg) before the boil, by mass balance over mash, run-off and sparge."""
    first = 100.0 * dissolved / (dissolved + water_kg)
    total = (dissolved + water_kg) / float(sucrose.density(first))
    held = hidden.retention * plan.grist * hidden.grist_scale
    strength = dissolved / total
    washed = strength * held / (held + hidden.sparge)
    kept = held * (hidden.mixing * washed + (1.0 - hidden.mixing) * strength)
    return total - held + hidden.sparge, dissolved - kept


def course(plan: Plan, hidden: Hidden) -> Course:
    """Work out the true batch."""
    grist = plan.grist * hidden.grist_scale
    potential = plan.potential * hidden.grist_scale * (1.0 + hidden.malt_bias)
    dissolved = hidden.conversion * potential
    water_kg = hidden.mash_liquor * float(water.density(20.0)) + plan.moisture * hidden.grist_scale
    pre_volume, pre_extract = _kettle(plan, hidden, dissolved, water_kg)
    post_volume = pre_volume - hidden.evaporation * hidden.boil_hours
    fermenter = post_volume - hidden.kettle_loss
    return Course(
        hidden=hidden,
        grist=grist,
        potential=potential,
        first_wort=float(sucrose.sg_from_extract(100.0 * dissolved / (dissolved + water_kg))),
        pre_boil_volume=pre_volume,
        pre_boil_gravity=float(sucrose.sg_of_extract_mass(pre_extract, pre_volume)),
        post_boil_volume=post_volume,
        original_gravity=float(sucrose.sg_of_extract_mass(pre_extract + plan.boil_extract, post_volume)),
        fermenter_volume=fermenter,
        package_volume=fermenter - hidden.yeast_loss,
    )


def alcohol(original_gravity: float, final_gravity: float) -> float:
    """Return alcohol by volume, %, for the printed table."""
    abw = beer.alcohol_by_weight(sucrose.extract_from_sg(original_gravity), final_gravity)
    return float(ethanol.abv(abw, final_gravity))
