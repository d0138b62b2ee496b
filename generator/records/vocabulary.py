"""The table of readings: what may be read at each stage. Reading, docs and `check` share it."""

from dataclasses import dataclass

from generator import units
from generator.units import Kind

STAGES = ("mash", "first-wort", "sparge", "pre-boil", "boil", "post-boil", "fermenter", "package", "tasting")
"""In the order of a brew."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing that can be read: its kind of quantity, or the highest score, or neither for a note."""

    kind: Kind | None = None
    score_of: float = 0.0
    adds_up: bool = False
    """Rows add up instead of the later one standing."""


PH = Kind("pH", "", {"pH": "pH", "ph": "pH", "PH": "pH"}, "5.35", limits={"pH": (0.0, 14.0)})
NOTE = Wanted()
_VOLUME, _GRAVITY, _TEMPERATURE, _PH = Wanted(units.VOLUME), Wanted(units.GRAVITY), Wanted(units.TEMPERATURE), Wanted(PH)
_KETTLE = {"volume": _VOLUME, "gravity": _GRAVITY, "temperature": _TEMPERATURE, "ph": _PH, "note": NOTE}

READINGS: dict[str, dict[str, Wanted]] = {
    "mash": {
        "grist": Wanted(units.MASS),
        "liquor": Wanted(units.VOLUME, adds_up=True),
        "temperature": _TEMPERATURE,
        "ph": _PH,
        "note": NOTE,
    },
    "first-wort": {"gravity": _GRAVITY, "ph": _PH, "note": NOTE},
    "sparge": {"liquor": Wanted(units.VOLUME_OR_NONE, adds_up=True), "temperature": _TEMPERATURE, "note": NOTE},
    "pre-boil": _KETTLE,
    "boil": {"duration": Wanted(units.DURATION), "note": NOTE},
    "post-boil": _KETTLE,
    "fermenter": _KETTLE,
    "package": {
        "volume": _VOLUME,
        "gravity": _GRAVITY,
        "sugar": Wanted(units.MASS),
        "temperature": _TEMPERATURE,
        "pressure": Wanted(units.PRESSURE),
        "note": NOTE,
    },
    "tasting": {
        "aroma": Wanted(score_of=12.0),
        "appearance": Wanted(score_of=3.0),
        "flavour": Wanted(score_of=20.0),
        "mouthfeel": Wanted(score_of=5.0),
        "overall": Wanted(score_of=10.0),
        "note": NOTE,
    },
}
