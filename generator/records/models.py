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


class Transfer(Record):
    """[transfer] of a brewhouse."""

    loss: f.VolumeOrNone = 0.0


class FermenterVessel(Record):
    """[fermenter] of a brewhouse."""

    capacity: f.Volume | None = None


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


class Brewhouse(Record):
    """brewhouses/<id>.toml."""

    name: f.Name
    mash: MashVessel = MashVessel()
    boil: Kettle = Kettle()
    transfer: Transfer = Transfer()
    fermenter: FermenterVessel = FermenterVessel()
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


class Liquor(Record):
    """[liquor] of a plan."""

    mash: f.Volume | None = None
    sparge: f.VolumeOrNone = 0.0
    grain_temperature: f.Temperature = 20.0


class Rest(Record):
    """[[rest]] of a plan."""

    temperature: f.Temperature
    duration: f.Duration | None = None


class Boil(Record):
    """[boil] of a plan."""

    duration: f.Duration | None = None


class Hop(Record):
    """[[hops]] of a plan; `records.plan` checks which keys its addition needs."""

    name: f.Name
    mass: f.Mass
    alpha: f.Percent | None = None
    time: f.DurationOrNone | None = None
    added: Literal["boil", "first wort", "stand", "fermenter"] = "boil"
    temperature: f.Temperature | None = None


class Yeast(Record):
    """[yeast] of a plan."""

    name: f.Text = ""
    attenuation: f.Percent | None = None
    cells: f.Cells | None = None
    temperature: f.Temperature | None = None
    warm_tolerant: bool = False


class Task(Record):
    """[[task]] of a plan."""

    when: f.Text
    text: f.Text


class Package(Record):
    """[package] of a plan."""

    method: Literal["bottle", "keg"] | None = None
    sugar: Literal["dextrose", "sucrose"] | None = None
    temperature: f.Temperature | None = None


class Plan(Record):
    """plan.toml."""

    batch: About
    target: Target = Target()
    grist: tuple[Good, ...] = Field(default=(), strict=False)
    liquor: Liquor = Liquor()
    rest: tuple[Rest, ...] = Field(default=(), strict=False)
    boil: Boil = Boil()
    hops: tuple[Hop, ...] = Field(default=(), strict=False)
    yeast: Yeast = Yeast()
    task: tuple[Task, ...] = Field(default=(), strict=False)
    package: Package = Package()
