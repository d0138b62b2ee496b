"""What the TOML files hold, after the units are gone: kg, L, °C, minutes, per cent. Gravities and colours keep theirs."""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from generator.records import fields as f
from generator.records.fields import Doubt


class Record(BaseModel):
    """A table of a TOML file: unknown keys are errors, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, arbitrary_types_allowed=True)


class JournalSettings(Record):
    """journal.toml."""

    title: f.Name
    brewer: f.Text = ""
    description: f.Text = ""
    language: f.Text = "en"
    base_url: f.Text = ""
    units: Literal["metric", "us"] = "metric"
    gravity: Literal["SG", "°P"] = "SG"
    serving: f.Volume | None = None
    """What a glass holds."""
    standard_drink: f.Mass | None = None
    """Pure alcohol of a unit, as it is counted locally."""


class Member(Record):
    """members/<name>/member.toml."""

    name: f.Name


class MashVessel(Record):
    """[mash] of a brewhouse."""

    capacity: f.Volume | None = None
    grain_capacity: f.Mass | None = None
    dead_space: f.VolumeOrNone = 0.0
    retention: f.Retention = 1.0
    heat_capacity: f.Heat = 0.0


class Kettle(Record):
    """[boil] of a brewhouse."""

    capacity: f.Volume | None = None
    evaporation: f.Flow = 3.0
    kettle_loss: f.VolumeOrNone = 0.0
    heat: Literal["electric", "gas", "solid fuel"] | None = None
    indoors: bool | None = None
    material: Literal["stainless steel", "aluminium", "copper", "enamel"] | None = None


class Transfer(Record):
    """[transfer] of a brewhouse."""

    loss: f.VolumeOrNone = 0.0


class FermenterVessel(Record):
    """[fermenter] of a brewhouse."""

    capacity: f.Volume | None = None
    room: f.Room | None = None
    """m³ of the room in which it stands."""


class Instruments(Record):
    """[instruments] of a brewhouse: calibration, and the doubt of each instrument."""

    hydrometer_calibrated_at: f.Temperature = 20.0
    refractometer_wort_factor: f.WortFactor = 1.04
    gravity: f.GravityDoubt = Doubt(0.001, "SG")
    refractometer: f.RefractometerDoubt = Doubt(0.2, "°Bx")
    volume: f.VolumeDoubt = Doubt(2.0, "%")
    mass: f.MassDoubt = Doubt(0.5, "%")
    temperature: f.TemperatureDoubt = Doubt(0.5, "degC")
    extract: f.ExtractDoubt = Doubt(1.5, "%")


class Cleaning(Record):
    """[cleaning] of a brewhouse, or of a plan that does it otherwise."""

    cleaner: Literal["caustic", "alkaline", "acid", "detergent"] | None = None
    cleaner_strength: f.Concentration | None = None
    sanitiser: Literal["iodine", "chlorine", "peracetic acid", "quaternary ammonium", "acid anionic", "hot water"] | None = None
    strength: f.Concentration | None = None
    """Of the sanitiser, as the two below."""
    contact: f.Duration | None = None
    temperature: f.Temperature | None = None


class Brewhouse(Record):
    """brewhouses/<id>.toml."""

    name: f.Name
    mash: MashVessel = MashVessel()
    boil: Kettle = Kettle()
    transfer: Transfer = Transfer()
    fermenter: FermenterVessel = FermenterVessel()
    cleaning: Cleaning = Cleaning()
    instruments: Instruments = Instruments()


class About(Record):
    """[batch] of a plan."""

    recipe: f.Name
    brewed: f.Date
    brewhouse: f.Text | None = None
    title: f.Text = ""
    summary: f.Text = ""
    tags: tuple[f.Text, ...] = Field(default=(), strict=False)
    follows: f.Text | None = None
    allergens: tuple[f.Name, ...] = Field(default=(), strict=False)
    """What the names of the goods don't tell."""
    draft: bool = False


class Target(Record):
    """[target] of a plan: what the brewer wants, at 20 °C."""

    volume: f.Volume | None = None
    original_gravity: f.Gravity | None = None
    final_gravity: f.Gravity | None = None
    mash_efficiency: f.Percent | None = None
    conversion_efficiency: f.Percent | None = None
    pre_boil_volume: f.Volume | None = None
    pre_boil_gravity: f.Gravity | None = None
    post_boil_volume: f.Volume | None = None
    mash_temperature: f.Temperature | None = None
    mash_ph: f.Ph | None = None
    carbonation: f.Carbonation | None = None


class Good(Record):
    """[[grist]] of a plan: a malt, a grain or a sugar."""

    name: f.Name
    mass: f.Mass
    extract: f.Percent
    moisture: f.Percent = 4.0
    colour: f.Colour | None = None
    added: Literal["mash", "boil", "fermenter"] = "mash"


class Mash(Record):
    """[mash] of a plan: the grain goes in at once, or in portions with an interval between them, so that it settles."""

    portions: f.Portions = 1
    interval: f.Interval | None = None


class Liquor(Record):
    """[liquor] of a plan."""

    mash: f.Volume | None = None
    sparge: f.VolumeOrNone = 0.0
    sparge_temperature: f.WaterTemperature | None = None
    grain_temperature: f.Temperature = 20.0


class Rest(Record):
    """[[rest]] of a plan."""

    temperature: f.WaterTemperature
    duration: f.RestDuration | None = None


class Boil(Record):
    """[boil] of a plan."""

    duration: f.BoilDuration | None = None


class Hop(Record):
    """[[hops]] of a plan; `records.plan` checks which keys its addition needs."""

    name: f.Name
    mass: f.Mass
    alpha: f.Alpha | None = None
    time: f.DurationOrNone | None = None
    added: Literal["boil", "first wort", "stand", "fermenter"] = "boil"
    temperature: f.Temperature | None = None
    when: f.HopDay | None = None
    """Of hops in the fermenter, as written; `records.schedule.moment` reads it."""


class Yeast(Record):
    """[yeast] of a plan."""

    name: f.Text = ""
    attenuation: f.Percent | None = None
    forced_gravity: f.Gravity | None = None
    """Where a forced ferment of this wort ended."""
    cells: f.Cells | None = None
    temperature: f.Temperature | None = None
    warm_tolerant: bool = False
    wait: f.DurationOrNone | None = None
    """From the end of the boil to the pitch, where the wort waits for its yeast."""


class Task(Record):
    """[[task]] of a plan."""

    when: f.When
    """As written; `records.schedule.moment` reads it, unless it is free words."""
    text: f.Text


class Package(Record):
    """[package] of a plan."""

    method: Literal["bottle", "keg"] | None = None
    sugar: Literal["dextrose", "sucrose"] | None = None
    temperature: f.Temperature | None = None
    when: f.PackagingDay | None = None
    """As written; `records.schedule.moment` reads it."""
    storage: f.Temperature | None = None
    """Where the packaged beer is kept."""
    bottle_volumes: f.Carbonation | None = None
    """Carbonation that the bottles are rated for."""
    bottle_pressure: f.Pressure | None = None
    """Gauge pressure that the bottles are rated for, bar."""
    head_space: f.HeadSpace = 4.0
    """Space above the beer in a bottle, % of the brimful bottle."""
    keg_pressure: f.Pressure | None = None
    """Gauge pressure that the keg is rated for, bar."""


class Plan(Record):
    """plan.toml."""

    batch: About
    target: Target = Target()
    grist: tuple[Good, ...] = Field(default=(), strict=False)
    mash: Mash = Mash()
    liquor: Liquor = Liquor()
    rest: tuple[Rest, ...] = Field(default=(), strict=False)
    boil: Boil = Boil()
    hops: tuple[Hop, ...] = Field(default=(), strict=False)
    yeast: Yeast = Yeast()
    task: tuple[Task, ...] = Field(default=(), strict=False)
    cleaning: Cleaning | None = None
    package: Package = Package()
