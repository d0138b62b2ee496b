"""The vocabulary is the table that people who write readings go by, typed in here once more."""

import pytest

from generator import units
from generator.records.readings import COLUMNS
from generator.records.vocabulary import NOTE, PH, READINGS, STAGES

KETTLE = "volume gravity temperature ph note"
TABLE = {
    "mash": "grist liquor temperature ph note",
    "first-wort": "gravity ph note",
    "sparge": "liquor temperature note",
    "pre-boil": KETTLE,
    "boil": "duration note",
    "post-boil": KETTLE,
    "fermenter": KETTLE,
    "package": "volume gravity sugar temperature pressure note",
    "tasting": "aroma appearance flavour mouthfeel overall note",
}
SCORES = {"aroma": 12, "appearance": 3, "flavour": 20, "mouthfeel": 5, "overall": 10}
KINDS = {
    "grist": units.MASS, "sugar": units.MASS, "volume": units.VOLUME, "gravity": units.GRAVITY, "temperature": units.TEMPERATURE,
    "ph": PH, "duration": units.DURATION, "pressure": units.PRESSURE,
}  # fmt: skip


def test_stages_and_what_is_read_at_each() -> None:
    """The stages, in the order of a brew, take what the table says and nothing else; a note everywhere."""
    assert tuple(TABLE) == STAGES
    assert {stage: set(known) for stage, known in READINGS.items()} == {stage: set(text.split()) for stage, text in TABLE.items()}


def test_columns() -> None:
    """The columns are those of the table, in its order."""
    assert COLUMNS == ("time", "stage", "what", "value", "unit", "at", "doubt", "note")


@pytest.mark.parametrize("stage", STAGES)
def test_kinds_and_scores(stage: str) -> None:
    """Each reading is of its kind, each score has its highest, a note is neither; only liquor adds up."""
    for what, wanted in READINGS[stage].items():
        assert wanted.adds_up == (what == "liquor")
        if what == "note":
            assert wanted is NOTE
        elif what in SCORES:
            assert (wanted.kind, wanted.score_of) == (None, SCORES[what])
        elif what == "liquor":
            assert wanted.kind is (units.VOLUME_OR_NONE if stage == "sparge" else units.VOLUME)
        else:
            assert wanted.kind is KINDS[what]
