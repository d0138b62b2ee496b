"""Predictions with their doubts, and plans that contradict themselves."""

from datetime import date
from typing import Any

import pytest

from generator.analysis.doubt import Estimate
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned, expected
from generator.analysis.prediction import Contradiction, contradictions, predictions
from generator.records.models import Brewhouse, Plan

PLAN: dict[str, Any] = {
    "batch": {"recipe": "Test", "brewed": date(2026, 1, 1)},
    "target": {"volume": "20 L"},
    "grist": [{"name": "Pale malt", "mass": "5 kg", "extract": "80 %"}, {"name": "Sugar", "mass": "0.5 kg", "extract": "100 %", "added": "boil"}],
    "liquor": {"mash": "16 L", "sparge": "10 L"},
    "rest": [{"temperature": "66 °C"}],
    "boil": {"duration": "60 min"},
    "yeast": {"attenuation": "75 %"},
}


def view(house: dict[str, Any] | None = None, **changes: Any) -> PlanView:
    """The plan above with changes."""
    return PlanView(Plan.model_validate(PLAN | changes), Brewhouse.model_validate({"name": "Test", **(house or {})}))


def test_best_values_are_those_of_the_plan() -> None:
    """The middle of each prediction is the prediction itself."""
    plain = expected(Planned(view()), None)
    found = predictions(view())
    assert set(found) >= {"original_gravity", "final_gravity", "mash_efficiency", "lauter_efficiency", "mash_space", "abv", "grist_mass"}
    for key, prediction in found.items():
        assert prediction.value == pytest.approx(plain[key].predicted, rel=1e-12), key


def test_one_instrument_at_a_time() -> None:
    """The doubt of a grist is that of the scales; of its extract also that of the malt; a sharp brewhouse leaves none."""
    sharp = {"mass": "0.0001 %", "extract": "0.0001 %", "volume": "0.0001 %", "temperature": "0.5 °C"}
    assert predictions(view({"instruments": sharp}))["original_gravity"].half_width < 1e-5
    scales = predictions(view({"instruments": sharp | {"mass": "2 %"}}))
    assert scales["grist_mass"].half_width == pytest.approx(0.1, rel=0.05)
    assert scales["potential_extract"].half_width == pytest.approx(0.02 * scales["potential_extract"].value, rel=0.05)
    malt = predictions(view({"instruments": sharp | {"extract": "3 %"}}))
    assert malt["potential_extract"].half_width == pytest.approx(0.03 * malt["potential_extract"].value, rel=0.05)
    marks = predictions(view({"instruments": sharp | {"volume": "0.5 L"}}))
    assert marks["post_boil_volume"].half_width == pytest.approx(0.5, rel=0.05)


def test_a_plan_without_goods_predicts_what_it_can() -> None:
    """What needs the goods is left out; the volumes stay."""
    found = predictions(view(grist=[]))
    assert "original_gravity" not in found
    assert "post_boil_volume" in found


@pytest.mark.parametrize(
    ("key", "target", "said"),
    [
        ("original_gravity", 1.0519, False),  # less than 2 points
        ("original_gravity", 1.0521, True),
        ("original_gravity", 1.0479, True),
        ("mash_efficiency", 80.79, False),  # less than 1 %
        ("mash_efficiency", 80.81, True),
        ("pre_boil_volume", 26.9, False),  # inside of the interval, though more than 1 %
        ("pre_boil_volume", 27.1, True),
    ],
)
def test_a_contradiction_needs_both_a_doubt_and_a_size(key: str, target: float, said: bool) -> None:
    """A target contradicts where it leaves the interval and what anybody would overlook."""
    predicted = {
        "original_gravity": Estimate(1.050, 1.049, 1.051),
        "mash_efficiency": Estimate(80.0, 79.9, 80.1),
        "pre_boil_volume": Estimate(26.0, 25.0, 27.0),
    }
    assert contradictions({key: target}, predicted) == ((Contradiction(key, target, predicted[key]),) if said else ())


def test_conversion_is_no_contradiction() -> None:
    """A target conversion is the brewer's own knowledge: nothing else in a plan predicts it."""
    assert contradictions({"conversion_efficiency": 88.0}, {"conversion_efficiency": Estimate(95.0, 95.0, 95.0)}) == ()
