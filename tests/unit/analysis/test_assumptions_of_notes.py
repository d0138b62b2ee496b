"""What is said of pictures that the notes place and the folder doesn't hold."""

from dataclasses import replace
from pathlib import Path

import pytest

from generator.analysis.assumptions import assumptions
from generator.analysis.plan_view import PlanView
from generator.records.notes import NO_NOTES
from generator.records.photos import Photo, PhotoReference
from tests.unit.analysis.support import batch, brewhouse, plan


@pytest.mark.parametrize(
    ("named", "said"),
    [
        (["photos/mash.jpg"], ""),
        (["photos/kettle.jpg"], "The notes place photos/kettle.jpg, which is not in photos/: the words stand alone."),
        (["photos/kettle.jpg", "photos/mash.jpg", "photos/foam.png"], "place photos/kettle.jpg and photos/foam.png, which are not"),
    ],
)
def test_pictures_that_are_missing_are_told(named: list[str], said: str) -> None:
    """Each by its path; nothing is said where all are there."""
    notes = replace(NO_NOTES, photos=tuple(PhotoReference(1, target) for target in named))
    one = replace(batch(plan()), notes=notes, photos=(Photo("mash.jpg", Path("test/photos/mash.jpg")),))
    found = [text for text in assumptions(one, PlanView(one.plan, brewhouse()), None, None) if "notes place" in text]
    assert len(found) == bool(said)
    assert said in "".join(found)
