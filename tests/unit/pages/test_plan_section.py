"""The plan on a batch page: does it agree with itself, does it fit, what came of each stage."""

import json

import pytest

from generator.analysis.doubt import Estimate
from generator.analysis.prediction import Contradiction
from generator.analysis.report import Report
from generator.pages.data import batch_json
from generator.pages.fit_view import contradiction
from generator.pages.plan_rows import plan_section
from generator.pages.stages_view import UNREAD
from tests.unit.pages.support import reports


@pytest.fixture(scope="module")
def demo() -> dict[str, Report]:
    """The demo journal."""
    return reports()


def test_a_target_that_the_plan_does_not_lead_to(demo: dict[str, Report]) -> None:
    """Told in points for gravities, in the figure's unit for others."""
    (said,) = plan_section(demo["2027-02-13-fog-bell-5"]).contradictions
    assert said == "The plan contradicts itself: its target original gravity is 1.096, the rest of it leads to 1.092, give or take 2 points."
    volume = Contradiction("pre_boil_volume", 28.0, Estimate(26.0, 25.5, 26.5))
    assert contradiction(volume).endswith("target volume before the boil is 28.0 L, the rest of it leads to 26.0 L, give or take 0.5 L.")


def test_ways_out_stand_beside_the_plan(demo: dict[str, Report]) -> None:
    """The plan first, then each way that fits; nothing for a mash that fits."""
    rows = plan_section(demo["2027-02-13-fog-bell-5"]).ways
    assert [row.name for row in rows][:2] == ["As planned", "Less grist"]
    assert float(rows[0].space.text) > 38.0
    assert all(float(row.space.text) <= 38.0 for row in rows[1:])
    assert plan_section(demo["2026-12-12-fog-bell-4"]).ways == ()


def test_stages_planned_and_read(demo: dict[str, Report]) -> None:
    """Each stage is named once; what was read stands as it was written; an unbrewed batch has none."""
    rows = plan_section(demo["2025-11-15-fog-bell-1"]).stages
    named = [row.stage for row in rows if row.stage]
    assert named == ["Mash", "Run-off", "Before the boil", "After the boil", "Fermenter", "Package"]
    liquor = next(row for row in rows if row.what.startswith("Mash liquor"))
    assert (liquor.planned, liquor.read) == ("24.5 L", "24.5 L at 20 °C")
    assert [row.what for row in plan_section(demo["2026-03-28-far-bank-1"]).stages if row.read == UNREAD] == ["Sparge temperature"]
    assert plan_section(demo["2026-12-12-fog-bell-4"]).stages == ()


def test_each_addition_of_hops_has_its_bitterness(demo: dict[str, Report]) -> None:
    """They add up to the planned bitterness; hops of the fermenter give none."""
    report = demo["2026-03-28-far-bank-1"]
    rows = plan_section(report).hops
    assert sum(float(row.gives or 0) for row in rows) == pytest.approx(report.figures["bitterness"].plan, abs=0.5 * len(rows))
    assert next(row for row in rows if "fermenter" in row.detail).gives == ""


def test_the_swatch_has_its_number(demo: dict[str, Report]) -> None:
    """A pale ale is lighter than a stout, and both say their EBC in words."""
    pale, stout = (plan_section(demo[slug]).swatch for slug in ("2026-03-28-far-bank-1", "2025-11-15-fog-bell-1"))
    assert pale is not None
    assert stout is not None
    assert pale.red > stout.red
    assert pale.words.startswith("9 EBC")
    assert stout.words.startswith("106 EBC")


def test_json_holds_prediction_fit_and_liquor(demo: dict[str, Report]) -> None:
    """Unrounded, with the ways out of a mash that is too large."""
    data = json.loads(batch_json(demo["2027-02-13-fog-bell-5"]))
    figure = data["figures"]["original_gravity"]
    assert figure["predicted_low"] < figure["predicted"] < figure["predicted_high"]
    assert [one["figure"] for one in data["contradictions"]] == ["original_gravity"]
    assert data["fit"]["excess"] == pytest.approx(data["fit"]["planned"]["space"] - 38.0)
    assert len(data["fit"]["ways"]) == 5
    assert data["liquor"]["mash"] == pytest.approx(34.0)
