"""What really happened: every measured figure as a sample, by the definitions of the trade."""

from collections.abc import Callable
from functools import cached_property
from typing import TypeVar

from generator.analysis.corrected import Corrections
from generator.analysis.doubt import Absent, Sampler
from generator.analysis.plan_view import PlanView
from generator.records.readings import Reading, wall_clock
from generator.science import beer, carbonation, ethanol, mash, sucrose, water, yeast
from generator.science._values import Values

Result = TypeVar("Result")
_KETTLE_IN_WORDS = {"pre-boil": "before the boil", "post-boil": "after the boil"}


def later(rows: list[Reading]) -> Reading:
    """The row that stands of several: the latest if all have a time, else the last line."""
    in_file = sorted(rows, key=lambda row: row.line)
    times = [row.time for row in in_file if row.time is not None]
    if len(times) < len(in_file):
        return in_file[-1]
    return max(zip(wall_clock(times), in_file, strict=True), key=lambda pair: (pair[0], pair[1].line))[1]


def series(rows: list[Reading]) -> list[Reading]:
    """Rows by time, then by line; a packaged reading after others of its time, and last where it has no time."""
    timed = [row for row in rows if row.time is not None]
    clock = dict(zip(timed, wall_clock([row.time for row in timed if row.time]), strict=True))
    ordered = sorted(timed, key=lambda row: (clock[row], row.stage == "package", row.line))
    return ordered + sorted((row for row in rows if row.time is None), key=lambda row: row.line)


class Measured:
    """Measured figures, each a property giving a sample; one that can't be had raises Absent with its reason."""

    def __init__(self, view: PlanView, readings: tuple[Reading, ...], sampler: Sampler | None = None) -> None:
        self.view = view
        self.readings = [row for row in readings if not row.is_note]
        self.sampler = sampler or Sampler()
        self.at_20 = Corrections(view.brewhouse.instruments, self.sampler)

    # which rows count

    def rows(self, stage: str, what: str) -> list[Reading]:
        """All rows of one kind, in an order that doesn't depend on the file's."""
        found = [row for row in self.readings if row.stage == stage and row.what == what]
        return sorted(found, key=lambda row: (str(row.time or ""), row.value or 0.0, row.at or 0.0, row.line))

    def standing(self, stage: str, what: str) -> Reading | None:
        """The row that stands, None where nothing was read."""
        rows = self.rows(stage, what)
        return later(rows) if rows else None

    def _read(self, stage: str, what: str, words: str) -> Reading:
        row = self.standing(stage, what)
        if row is None:
            raise Absent(f"{words} was not read")
        return row

    # the mash

    @cached_property
    def grist_mass(self) -> Values:
        """kg of mashed goods: weighed, else planned."""
        row = self.standing("mash", "grist")
        return self._weighed(float(self.view.grist_mass)) if row is None else self.at_20.amount(row)

    def _weighed(self, mass: float) -> Values:
        """A planned mass with the doubt of the scales."""
        doubt = self.view.brewhouse.instruments.mass
        return self.sampler.normal(mass, mass * doubt.value / 100.0 if doubt.relative else doubt.value, low=0.0, source="scales")

    @cached_property
    def grist_scale(self) -> Values:
        """Weighed over planned grist."""
        return self.grist_mass / self.view.grist_mass

    def _malt_extract(self, extract: float) -> Values:
        half_width = extract * self.view.brewhouse.instruments.extract.value / 100.0
        return self.sampler.normal(extract, half_width, 0.0, 150.0, source="malt extract")

    @cached_property
    def extract_per_kg(self) -> Values:
        """kg of potential extract in a kilogram of the grist."""
        of_goods = [self.view.extract_of(good, extract=self._malt_extract(good.extract)) for good in self.view.mashed]
        return sum(of_goods, 0.0) / self.view.grist_mass

    @cached_property
    def potential_extract(self) -> Values:
        """kg in the mashed goods."""
        return self.grist_mass * self.extract_per_kg

    @cached_property
    def boiled_masses(self) -> list[Values]:
        """kg of each of the goods added at the boil, as planned."""
        return [self._weighed(good.mass) for good in self.view.boiled]

    @cached_property
    def boil_additions(self) -> Values:
        """kg of extract added at the boil."""
        of_goods = [
            self.view.extract_of(good, mass, self._malt_extract(good.extract))
            for good, mass in zip(self.view.boiled, self.boiled_masses, strict=True)
        ]
        return sum(of_goods, 0.0)

    @cached_property
    def mash_water(self) -> Values:
        """kg of water in the mash: liquor and the moisture of the goods."""
        rows = self.rows("mash", "liquor")
        liquor = sum((self.at_20.water_mass(row) for row in rows), 0.0) if rows else self.view.mash_liquor * water.density(20.0)
        moisture = sum(good.mass * good.moisture / 100.0 for good in self.view.mashed)
        return liquor + moisture * self.grist_scale

    @cached_property
    def first_wort(self) -> Values:
        """°P."""
        return self.at_20.extract(self._read("first-wort", "gravity", "the first wort's gravity"))

    @cached_property
    def first_wort_extract(self) -> Values:
        """kg dissolved in the mash."""
        return mash.dissolved_extract(self.mash_water, self.first_wort)

    @cached_property
    def conversion_efficiency(self) -> Values:
        """%."""
        return mash.percent_of(self.first_wort_extract, self.potential_extract)

    @cached_property
    def lauter_efficiency(self) -> Values:
        """%."""
        mash_efficiency, conversion = self.mash_efficiency, self.conversion_efficiency
        return mash.percent_of(mash_efficiency, conversion)

    @cached_property
    def mash_efficiency(self) -> Values:
        """%."""
        return mash.percent_of(self.pre_boil_extract, self.potential_extract)

    @cached_property
    def apparent_absorption(self) -> Values:
        """L/kg."""
        return mash.apparent_absorption(self.liquor("mash") + self.liquor("sparge"), self.pre_boil_volume, self.grist_mass)

    def liquor(self, stage: str) -> Values:
        """L at 20 °C: read, else planned."""
        rows = self.rows(stage, "liquor")
        if rows:
            return sum((self.at_20.volume(row) for row in rows), 0.0)
        return self.view.mash_liquor if stage == "mash" else self.view.plan.liquor.sparge

    # the kettle

    def _kettle_volume(self, stage: str) -> Values:
        return self.at_20.volume(self._read(stage, "volume", f"the volume {_KETTLE_IN_WORDS[stage]}"))

    def _kettle_gravity(self, stage: str) -> Reading:
        return self._read(stage, "gravity", f"the gravity {_KETTLE_IN_WORDS[stage]}")

    @cached_property
    def pre_boil_volume(self) -> Values:
        """L at 20 °C."""
        return self._kettle_volume("pre-boil")

    @cached_property
    def pre_boil_gravity(self) -> Values:
        """SG 20/20."""
        return self.at_20.gravity(self._kettle_gravity("pre-boil"))

    @cached_property
    def pre_boil_extract(self) -> Values:
        """kg before the boil."""
        return sucrose.extract_of_wort(self.pre_boil_volume, self.at_20.extract(self._kettle_gravity("pre-boil")))

    @cached_property
    def post_boil_volume(self) -> Values:
        """L at 20 °C."""
        return self._kettle_volume("post-boil")

    @cached_property
    def post_boil_gravity(self) -> Values:
        """SG 20/20."""
        return self.at_20.gravity(self._kettle_gravity("post-boil"))

    @cached_property
    def post_boil_extract(self) -> Values:
        """kg after the boil."""
        return sucrose.extract_of_wort(self.post_boil_volume, self.at_20.extract(self._kettle_gravity("post-boil")))

    @cached_property
    def boil_hours(self) -> Values:
        """Read, else planned."""
        row = self.standing("boil", "duration")
        return self.view.boil_hours if row is None else self.at_20.amount(row) / 60.0

    @cached_property
    def evaporation_rate(self) -> Values:
        """L/h."""
        return mash.evaporation_rate(self.pre_boil_volume, self.post_boil_volume, self.boil_hours)

    @cached_property
    def bitterness(self) -> Values:
        """IBU."""
        return self.view.bitterness(self.pre_boil_gravity, self.original_gravity, self.post_boil_volume, lambda: self.boil_hours)

    @cached_property
    def colour(self) -> Values:
        """EBC."""
        return self.view.colour(self.grist_scale, self.boiled_masses, self.post_boil_volume)

    # the fermenter

    @cached_property
    def fermenter_volume(self) -> Values:
        """L at 20 °C."""
        return self.at_20.volume(self._read("fermenter", "volume", "the volume into the fermenter"))

    @cached_property
    def _gravities(self) -> list[Reading]:
        """Gravities of the fermenter in their order."""
        return series(self.rows("fermenter", "gravity"))

    @cached_property
    def original_gravity_row(self) -> Reading:
        """The first fermenter gravity, else that after the boil."""
        if self._gravities:
            return self._gravities[0]
        return self._read("post-boil", "gravity", "no gravity of the wort in the fermenter or after the boil")

    @cached_property
    def final_gravity_row(self) -> Reading:
        """The last of the fermenter's later gravities and the packaged one."""
        packaged = self.standing("package", "gravity")
        candidates = series(self._gravities[1:] + ([packaged] if packaged else []))
        if not candidates:
            raise Absent("no gravity was read after the first one in the fermenter")
        return candidates[-1]

    @cached_property
    def original_gravity(self) -> Values:
        """SG 20/20."""
        return self.at_20.gravity(self.original_gravity_row)

    @cached_property
    def original_extract(self) -> Values:
        """°P."""
        return self.at_20.extract(self.original_gravity_row)

    @cached_property
    def final_gravity(self) -> Values:
        """SG 20/20."""
        row = self.final_gravity_row
        return self.at_20.gravity(row) if row.unit != "°Bx" else self.at_20.gravity_of_beer(row, self.original_extract)

    @cached_property
    def apparent_extract(self) -> Values:
        """°P."""
        return sucrose.extract_from_sg(self.final_gravity)

    @cached_property
    def fermenter_extract(self) -> Values:
        """kg into the fermenter."""
        return sucrose.extract_of_wort(self.fermenter_volume, self.original_extract)

    @cached_property
    def brewhouse_efficiency(self) -> Values:
        """%."""
        return mash.percent_of(self.fermenter_extract, self.potential_extract + self.boil_additions)

    @cached_property
    def pitch_rate(self) -> Values:
        """10⁶ per mL and °P."""
        if self.view.plan.yeast.cells is None:
            raise Absent("the plan gives no number of cells")
        return yeast.pitch_rate(self.view.plan.yeast.cells, self.fermenter_volume, self.original_extract)

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

    # the package

    @cached_property
    def package_volume(self) -> Values:
        """L at 20 °C."""
        return self.at_20.volume(self._read("package", "volume", "the volume packaged"))

    @cached_property
    def priming_sugar(self) -> Values:
        """g as read."""
        return self.at_20.amount(self._read("package", "sugar", "the priming sugar")) * 1000.0

    @cached_property
    def carbonation(self) -> Values:
        """vol from what stayed dissolved and from the sugar."""
        if self.view.plan.package.method == "keg":
            raise Absent("the beer was kegged; its pressure sets the carbonation")
        volume, sugar = self.package_volume, self.priming_sugar
        row = self.standing("package", "temperature")
        planned = self.view.plan.package.temperature
        if row is not None:
            temperature: Values = self.sampler.normal(row.value or 0.0, self.at_20.half_width(row), -10.0, 110.0, source="thermometer")
        elif planned is not None:
            temperature = planned
        else:
            raise Absent("no temperature at packaging was read or planned")
        return carbonation.carbonation(temperature, sugar, volume, self.view.co2_per_sugar)

    def attempt(self, compute: Callable[[], Result]) -> Result:
        """Compute something of the readings; science that refuses them becomes Absent."""
        try:
            return compute()
        except ValueError as error:
            raise Absent(str(error)) from error
