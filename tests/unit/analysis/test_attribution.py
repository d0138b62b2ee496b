"""Attribution: exact sums, merged causes, and the cases at the edge."""

from typing import Any

import pytest

from generator.analysis.attribution import Attribution, Why, why
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from generator.records.models import Brewhouse, Plan
from generator.records.readings import Reading
from tests.unit.analysis.support import brewhouse, good, measured, plan, read

TABLES: dict[str, Any] = {
    "target": {"volume": "20 L", "final_gravity": "1.012"},
    "grist": [good("6 kg")],
    "liquor": {"mash": "20 L", "sparge": "10 L"},
    "boil": {"duration": "60 min"},
}
PLAN = plan(**TABLES)
HOUSE = brewhouse()
READ = (
    read(2, "mash", "grist", "5.9 kg"),
    read(3, "mash", "liquor", "20.2 L"),
    read(4, "first-wort", "gravity", "1.079"),
    read(5, "pre-boil", "volume", "23.4 L"),
    read(6, "pre-boil", "gravity", "1.061"),
    read(7, "post-boil", "volume", "20.3 L"),
    read(8, "fermenter", "gravity", "1.069", time="2026-01-01 15:00"),
    read(9, "fermenter", "gravity", "1.015", time="2026-01-12 15:00"),
    read(10, "fermenter", "volume", "19.6 L"),
)


def explain(wanted: Plan = PLAN, rows: tuple[Reading, ...] = READ, house: Brewhouse = HOUSE) -> Why:
    """The causes of a batch in memory."""
    return why(Planned(PlanView(wanted, house)), measured(wanted, rows, house))


def without(*kinds: tuple[str, str]) -> tuple[Reading, ...]:
    """The readings without some."""
    return tuple(row for row in READ if (row.stage, row.what) not in kinds)


def names(found: Attribution | None) -> list[str]:
    """Names of the causes."""
    assert found is not None
    return [cause.cause for cause in found.causes]


def effect(found: Attribution | None, name: str) -> float:
    """What one cause did."""
    assert found is not None
    return next(cause.effect.value for cause in found.causes if cause.cause == name)


@pytest.mark.parametrize(
    "rows",
    [
        READ,
        without(("first-wort", "gravity")),
        without(("post-boil", "volume")),
        without(("pre-boil", "volume")),
        without(("mash", "grist"), ("mash", "liquor")),
        without(("pre-boil", "gravity"), ("post-boil", "volume")),
    ],
    ids=["all", "no first wort", "no post-boil volume", "no pre-boil volume", "nothing weighed", "one volume"],
)
def test_causes_add_up_to_the_gap(rows: tuple[Reading, ...]) -> None:
    """Whatever was read, the parts sum to the total to 1e-9."""
    found = explain(rows=rows)
    for gap in (found.original_gravity, found.abv):
        assert gap is not None
        assert sum(cause.effect.value for cause in gap.causes) == pytest.approx(gap.total.value, abs=1e-9)


def test_every_cause_is_listed_in_order() -> None:
    """Also those that changed nothing."""
    assert names(explain().original_gravity) == [
        "grist mass", "malt extract", "conversion", "lautering", "boil additions", "post-boil volume",
        "unexplained by the kettle readings", "the plan's own contradiction",
    ]  # fmt: skip
    assert effect(explain().original_gravity, "boil additions") == 0.0
    assert effect(explain().original_gravity, "malt extract") == 0.0


def test_causes_that_cannot_be_parted_are_merged_and_say_so() -> None:
    """Without a first wort, conversion and lautering are one; without the pre-boil volume, volume and efficiency are."""
    no_first_wort = explain(rows=without(("first-wort", "gravity"))).original_gravity
    assert names(no_first_wort)[2] == "mash efficiency"
    assert no_first_wort is not None
    assert "first wort" in no_first_wort.note
    merged = explain(rows=without(("pre-boil", "volume"))).original_gravity
    assert names(merged) == ["grist mass", "malt extract", "mash efficiency and volume"]
    assert merged is not None
    assert "before the boil was not read" in merged.note


def test_a_missing_post_boil_volume_is_taken_from_the_evaporation() -> None:
    """23.4 L less 3 L/h for an hour are 20.4 L against the planned 20.0 L: −ln(20.4/20) of 69 points is 1.4 points."""
    found = explain(rows=without(("post-boil", "volume"))).original_gravity
    assert effect(found, "post-boil volume") == pytest.approx(-0.0198 * 70, rel=0.06)
    assert found is not None
    assert "planned evaporation" in found.note


def test_a_contradictory_plan_is_a_cause() -> None:
    """A target that the plan itself can't reach is named; without targets there is no such part."""
    assert effect(explain().original_gravity, "the plan's own contradiction") == pytest.approx(0.0, abs=1e-9)
    dreaming = plan(**{**TABLES, "target": {**TABLES["target"], "original_gravity": "1.090"}})
    assert effect(explain(dreaming).original_gravity, "the plan's own contradiction") < -10.0


def test_more_grist_gives_its_share_of_points() -> None:
    """5.9 kg of 6.0 kg: ln(5.9/6) is −1.68 %, of about 70 points of extract −1.2 points."""
    assert effect(explain().original_gravity, "grist mass") == pytest.approx(-0.0168 * 71, rel=0.05)


def test_no_gap_has_causes_that_cancel() -> None:
    """A wort exactly on plan by two errors: both are shown, and they sum to zero."""
    planned = Planned(PlanView(PLAN, HOUSE))
    exact = tuple(row for row in READ if row.what not in ("gravity", "volume"))
    rows = (
        *exact,
        read(5, "pre-boil", "volume", "22 L"),
        read(6, "pre-boil", "gravity", "1.061"),
        read(7, "post-boil", "volume", "19 L"),
        read(8, "fermenter", "gravity", f"{planned.original_gravity!r}", time="2026-01-01 15:00"),
    )
    found = explain(rows=rows).original_gravity
    assert found is not None
    assert found.total.value == pytest.approx(0.0, abs=1e-9)
    assert sum(cause.effect.value for cause in found.causes) == pytest.approx(0.0, abs=1e-9)
    assert effect(found, "post-boil volume") > 3.0


def test_alcohol_is_parted_into_gravity_and_attenuation() -> None:
    """Too little extract and too high an end both cost alcohol."""
    found = explain().abv
    assert names(found) == ["original gravity", "attenuation"]
    assert effect(found, "attenuation") < 0.0


def test_litres_are_parted_by_their_balance() -> None:
    """Fermenter volume: liquor, grain, evaporation, losses; an exact sum."""
    found = explain().fermenter_volume
    assert names(found) == ["liquor", "grain absorption", "evaporation", "kettle and hose losses"]
    assert found is not None
    assert sum(cause.effect.value for cause in found.causes) == pytest.approx(found.total.value, abs=1e-12)
    assert effect(found, "liquor") == pytest.approx(0.2)


def test_without_plan_or_reading_there_is_nothing_to_explain() -> None:
    """Null, not zero."""
    assert explain(plan()) == Why()
    assert why(Planned(PlanView(PLAN, HOUSE)), None) == Why()
    assert explain(rows=READ[:1]).original_gravity is None


def test_beer_without_alcohol_has_no_causes() -> None:
    """A gravity that rose gives no alcohol: absent, no logarithm of a negative number."""
    rows = (*without(("fermenter", "gravity")), read(8, "fermenter", "gravity", "1.050", time="2026-01-01 15:00"))
    risen = (*rows, read(9, "fermenter", "gravity", "1.055", time="2026-01-12 15:00"))
    assert explain(rows=risen).abv is None
    assert explain(rows=risen).original_gravity is not None
