"""Every figure once: its key, label, unit, and where it stands in the account."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """What a figure is called."""

    key: str
    label: str
    unit: str
    group: str
    planned_only: bool = False


_GRAIN, _KETTLE, _FERMENTER, _BEER, _PLAN = "Grain to wort", "In the kettle", "Into the fermenter and out of it", "The beer", "For the brew day"
GROUPS = (_GRAIN, _KETTLE, _FERMENTER, _BEER, _PLAN)

FIGURES: tuple[Entry, ...] = (
    Entry("grist_mass", "Grist", "kg", _GRAIN),
    Entry("potential_extract", "Extract in the grist", "kg", _GRAIN),
    Entry("conversion_efficiency", "Conversion", "%", _GRAIN),
    Entry("lauter_efficiency", "Lautering", "%", _GRAIN),
    Entry("mash_efficiency", "Mash efficiency", "%", _GRAIN),
    Entry("apparent_absorption", "Apparent absorption", "L/kg", _GRAIN),
    Entry("pre_boil_volume", "Volume before the boil", "L", _KETTLE),
    Entry("pre_boil_gravity", "Gravity before the boil", "SG", _KETTLE),
    Entry("post_boil_volume", "Volume after the boil", "L", _KETTLE),
    Entry("evaporation_rate", "Evaporation", "L/h", _KETTLE),
    Entry("bitterness", "Bitterness", "IBU", _KETTLE),
    Entry("colour", "Colour", "EBC", _KETTLE),
    Entry("fermenter_volume", "Volume into the fermenter", "L", _FERMENTER),
    Entry("original_gravity", "Original gravity", "SG", _FERMENTER),
    Entry("original_extract", "Original extract", "°P", _FERMENTER),
    Entry("pitch_rate", "Pitching rate", "10⁶/(mL·°P)", _FERMENTER),
    Entry("final_gravity", "Final gravity", "SG", _FERMENTER),
    Entry("apparent_extract", "Apparent extract", "°P", _FERMENTER),
    Entry("apparent_attenuation", "Apparent attenuation", "%", _FERMENTER),
    Entry("real_extract", "Real extract", "°P", _BEER),
    Entry("real_attenuation", "Real degree of fermentation", "%", _BEER),
    Entry("abw", "Alcohol by weight", "% mass", _BEER),
    Entry("energy", "Energy", "kJ/100 mL", _BEER),
    Entry("package_volume", "Volume packaged", "L", _BEER),
    Entry("carbonation", "Carbonation", "vol", _BEER),
    Entry("priming_sugar", "Priming sugar", "g", _BEER),
    Entry("brewhouse_efficiency", "Brewhouse efficiency", "%", _BEER),
    Entry("abv", "Alcohol", "% vol", _BEER),
    Entry("strike_temperature", "Strike liquor", "°C", _PLAN, planned_only=True),
    Entry("mash_space", "Room for the mash", "L", _PLAN, planned_only=True),
)
BY_KEY = {entry.key: entry for entry in FIGURES}
