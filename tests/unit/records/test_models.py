"""The defaults that a brewhouse and a plan have where nothing is written."""

from generator.records.fields import Doubt
from generator.records.models import Brewhouse, Good, Hop, JournalSettings, Liquor


def test_defaults_of_a_brewhouse() -> None:
    """A brewhouse of which only the name is known loses nothing, and has the quoted doubts."""
    house = Brewhouse.model_validate({"name": "x"})
    assert (house.mash.retention, house.mash.dead_space, house.mash.heat_capacity, house.mash.capacity) == (1.0, 0.0, 0.0, None)
    assert (house.boil.evaporation, house.boil.kettle_loss, house.transfer.loss) == (3.0, 0.0, 0.0)
    tools = house.instruments
    assert (tools.hydrometer_calibrated_at, tools.refractometer_wort_factor) == (20.0, 1.04)
    assert (tools.gravity, tools.refractometer, tools.volume) == (Doubt(0.001, "SG"), Doubt(0.2, "°Bx"), Doubt(2.0, "%"))
    assert (tools.mass, tools.temperature, tools.extract) == (Doubt(0.5, "%"), Doubt(0.5, "degC"), Doubt(1.5, "%"))


def test_defaults_of_a_plan() -> None:
    """A malt has 4 % moisture and goes into the mash, hops go into the boil, the grain has 20 °C, no sparge is none."""
    good = Good.model_validate({"name": "x", "mass": "1 kg", "extract": "80 %"})
    assert (good.moisture, good.added, good.colour) == (4.0, "mash", None)
    assert Hop.model_validate({"name": "x", "mass": "20 g"}).added == "boil"
    assert (Liquor().sparge, Liquor().grain_temperature, Liquor().mash) == (0.0, 20.0, None)


def test_defaults_of_a_journal() -> None:
    """Only the title is required."""
    settings = JournalSettings.model_validate({"title": "x"})
    assert (settings.language, settings.base_url, settings.units, settings.gravity, settings.brewer) == ("en", "", "metric", "SG", "")
