"""Each caution just below and just above its threshold."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from generator.analysis.cautions import RULES, Caution, Facts, cautions
from generator.analysis.figures import figures
from generator.analysis.measured import Measured
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from generator.records.journal import BatchRecord
from generator.records.models import Brewhouse, Plan
from generator.records.readings import Reading
from generator.records.toml import TomlFile
from generator.sources import SOURCES


def stand(plan: dict[str, Any], house: dict[str, Any] | None = None, readings: tuple[Reading, ...] = ()) -> dict[str, Caution]:
    """The cautions of a plan with `recipe` and `brewed` filled in, by slug."""
    whole = {"batch": {"recipe": "Test", "brewed": date(2026, 1, 1)}, **plan}
    batch = BatchRecord("test", Path("test"), "", Plan.model_validate(whole), TomlFile("test/plan.toml", whole, {}), None, readings)
    view = PlanView(batch.plan, Brewhouse.model_validate({"name": "Test", **(house or {})}))
    known = figures(Planned(view), Measured(view, readings) if readings else None)
    return {caution.slug: caution for caution in cautions(Facts(batch, view, known))}


def good(mass: str) -> dict[str, Any]:
    """A pale malt of so much."""
    return {"name": "Pale malt", "mass": mass, "extract": "80 %"}


def mash(liquor: str) -> dict[str, Any]:
    """5 kg of malt in so much liquor, one rest at 66 °C."""
    return {"grist": [good("5 kg")], "liquor": {"mash": liquor}, "rest": [{"temperature": "66 °C"}]}


BREW: dict[str, Any] = {
    "target": {"volume": "20 L", "original_gravity": "1.050", "final_gravity": "1.010"},
    "grist": [good("5 kg")],
    "boil": {"duration": "60 min"},
}
"""20 L at 1.050; with the usual losses and evaporation 23 L before the boil, 23.88 L when hot."""

# slug, plan and brewhouse just below the threshold, the same just above
THRESHOLDS: list[tuple[str, tuple[dict[str, Any], dict[str, Any]], tuple[dict[str, Any], dict[str, Any]]]] = [
    (
        "overfull-mash",
        (mash("20 L"), {"mash": {"capacity": "23.8 L"}}),  # 20 L grow to 20.43 L at the strike of 70.6 °C, 5 kg take 3.35 L: 23.78 L by hand
        (mash("20.1 L"), {"mash": {"capacity": "23.8 L"}}),
    ),
    ("overfull-basket", (BREW, {"mash": {"grain_capacity": "5.01 kg"}}), (BREW, {"mash": {"grain_capacity": "4.99 kg"}})),
    ("scald", ({"rest": [{"temperature": "54.9 °C"}]}, {}), ({"rest": [{"temperature": "55 °C"}]}, {})),
    # wet grain is m − 0.768 m + 1.04 m = 1.272 m; the limit is 11.57 kg, so 9.1 kg of malt
    ("wet-grain", ({"grist": [good("9.0 kg")]}, {}), ({"grist": [good("9.2 kg")]}, {})),
    ("overfull-kettle", (BREW, {"boil": {"capacity": "24 L"}}), (BREW, {"boil": {"capacity": "23.8 L"}})),
    ("boil-over", (BREW, {"boil": {"capacity": "28.2 L"}}), (BREW, {"boil": {"capacity": "28 L"}})),
    ("warm-pitch", ({"yeast": {"temperature": "28 °C"}}, {}), ({"yeast": {"temperature": "28.1 °C"}}, {})),
    ("full-fermenter", (BREW, {"fermenter": {"capacity": "23.6 L"}}), (BREW, {"fermenter": {"capacity": "23.5 L"}})),
    # 150 L of gas are 274 g; with 1.010 after 1.050 each litre gives about 40 g
    (
        "carbon-dioxide",
        ({"target": {**BREW["target"], "volume": "6.5 L"}}, {}),
        ({"target": {**BREW["target"], "volume": "7.5 L"}}, {}),
    ),
    ("lively-bottles", ({"target": {"carbonation": "3.0 vol"}}, {}), ({"target": {"carbonation": "3.01 vol"}}, {})),
    ("bursting-bottles", ({"target": {"carbonation": "4.0 vol"}}, {}), ({"target": {"carbonation": "4.01 vol"}}, {})),
]


@pytest.mark.parametrize(("slug", "below", "above"), THRESHOLDS, ids=[row[0] for row in THRESHOLDS])
def test_a_caution_stands_above_its_threshold_only(
    slug: str, below: tuple[dict[str, Any], dict[str, Any]], above: tuple[dict[str, Any], dict[str, Any]]
) -> None:
    """A caution is silent just below its threshold and speaks just above."""
    assert slug not in stand(*below)
    assert slug in stand(*above)


def gravities(final: float) -> tuple[Reading, ...]:
    """1.050 into the fermenter, then the final gravity in the package."""
    return (
        Reading(2, "post-boil", "gravity", 1.050, "SG", "1.050 SG"),
        Reading(3, "package", "gravity", final, "SG", f"{final} SG"),
    )


def test_a_beer_that_stopped_short_is_a_caution() -> None:
    """Ten points of attenuation short are a caution, a little less isn't (80.0 % planned for 1.050 and 1.010)."""
    plan = {"target": {"original_gravity": "1.050", "final_gravity": "1.010"}}
    # apparent attenuation is nearly 1 − (FG − 1)/(OG − 1): 1.0149 gives 69.7 %, 1.0144 gives 70.7 %
    assert "stopped-short" in stand(plan, readings=gravities(1.0153))
    assert "stopped-short" not in stand(plan, readings=gravities(1.0142))


def test_a_warm_tolerant_yeast_may_be_warm() -> None:
    """The strain is asked for before the warning."""
    assert "warm-pitch" not in stand({"yeast": {"temperature": "35 °C", "warm_tolerant": True}})


def test_a_keg_holds_more_than_a_bottle() -> None:
    """Cautions about bottles don't stand for a keg."""
    plan = {"target": {"carbonation": "4.5 vol"}}
    assert "bursting-bottles" in stand(plan)
    assert "bursting-bottles" not in stand({**plan, "package": {"method": "keg"}})


def test_the_two_thresholds_of_bottles_exclude_each_other() -> None:
    """Above 4 volumes it is a stop, and not a caution as well."""
    found = stand({"target": {"carbonation": "4.5 vol"}})
    assert found["bursting-bottles"].severity == "stop"
    assert "lively-bottles" not in found


def test_every_caution_has_a_source_and_two_tests() -> None:
    """A rule without a source, or without tests on both sides of its threshold, fails here."""
    assert {rule.source for rule in RULES} <= SOURCES.keys()
    assert {rule.slug for rule in RULES} == {row[0] for row in THRESHOLDS} | {"stopped-short", "readings-contradict"}
    assert len({rule.slug for rule in RULES}) == len(RULES)
