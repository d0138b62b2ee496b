"""From liquor to wort: does the water that is heated give the volume before the boil?"""

from dataclasses import dataclass

from generator.analysis.doubt import Absent
from generator.analysis.planned import Planned
from generator.science import lauter, mash, remash, water
from generator.science._values import OutOfRangeError

OVERLOOKED = 0.5
"""L by which liquor and kettle may differ before anything is said."""


@dataclass(frozen=True, slots=True)
class LiquorBalance:
    """Litres of a plan at 20 °C, from the liquor to the fermenter."""

    mash: float
    sparge: float
    strike: float | None
    """L that the mash liquor fills when it is as hot as it must be; None without a rest."""
    retained: float
    """L of wort that the drained grain keeps."""
    absorbed: float
    """L of liquor that don't come back as wort; less than what is kept, as malt and extract take up room of their own."""
    run_off: float
    """L of wort that the liquor gives."""
    pre_boil: float
    """L before the boil, as planned."""
    evaporated: float
    losses: float
    fermenter: float
    bed: float
    """L of mash liquor above the dead space, for each kg of grist."""

    @property
    def missing(self) -> float:
        """L of liquor that the kettle would be short of; negative where there is too much."""
        return self.pre_boil - self.run_off

    @property
    def agrees(self) -> bool:
        """Whether liquor and kettle lie closer than anybody would mind."""
        return abs(self.missing) <= OVERLOOKED


def liquor_balance(planned: Planned) -> LiquorBalance | None:
    """The litres of a plan; None where it doesn't give liquor, grist or volumes.

    The mash is drained and sparged by the mass balance, with the retention of the brewhouse and the planned conversion.
    """
    try:
        return _balance(planned)
    except (Absent, OutOfRangeError, ZeroDivisionError):
        return None


def _balance(planned: Planned) -> LiquorBalance:
    view, house = planned.view, planned.view.brewhouse
    grist, liquor, sparge = float(view.grist_mass), float(view.mash_liquor), float(view.sparge_liquor)
    litre = float(water.density(20.0))
    extract, moisture = float(planned.extract_per_kg), view.moisture_per_kg
    conversion = float(planned.conversion_efficiency) / 100.0
    portion = remash.Portion(grist, extract, moisture, conversion, sparge * litre)
    run_off = float(remash.mash_and_drain(remash.Liquor(liquor * litre), portion, house.mash.retention).volume)
    pre_boil, post_boil, fermenter = float(planned.pre_boil_volume), float(planned.post_boil_volume), float(planned.fermenter_volume)
    return LiquorBalance(
        liquor, sparge, _strike(planned), house.mash.retention * grist,
        grist * float(lauter.absorption_from_retention(house.mash.retention, moisture, extract, conversion)),
        run_off, pre_boil, pre_boil - post_boil, post_boil - fermenter, fermenter, (liquor - house.mash.dead_space) / grist,
    )  # fmt: skip


def _strike(planned: Planned) -> float | None:
    """L of the mash liquor at the temperature of the strike."""
    try:
        return float(planned.mash_space) - mash.GRAIN_DISPLACEMENT * float(planned.view.grist_mass)
    except (Absent, OutOfRangeError):
        return None
