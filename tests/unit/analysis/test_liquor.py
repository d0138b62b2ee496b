"""The litres of a plan, from the liquor to the fermenter."""

from typing import Any

import pytest

from generator.analysis.liquor import LiquorBalance, liquor_balance
from generator.analysis.planned import Planned
from generator.pages.fit_view import liquor_rows, liquor_sentences
from generator.science import sucrose
from tests.unit.analysis.test_prediction import view


def balance(house: dict[str, Any] | None = None, **changes: Any) -> LiquorBalance:
    """The plan of test_prediction with changes: 16 and 10 L on 5 kg, 20 L wanted, 3 L/h evaporate."""
    found = liquor_balance(Planned(view(house, **changes)))
    assert found is not None
    return found


def test_liquor_comes_back_but_for_what_the_grain_keeps() -> None:
    """By hand: the masses of the mash less 5 L of wort, then the sparge less as much change; litres by the sugar density."""
    found = balance()
    dissolved, water = 5.0 * 0.768 * 0.95, 16.0 * 0.998203 + 5.0 * 0.04
    strong = 100.0 * dissolved / (dissolved + water)
    kept = 5.0 * float(sucrose.density(strong))
    refilled = kept + 10.0 * 0.998203
    weak = strong * kept / refilled
    mass = dissolved + water - kept + refilled - 5.0 * float(sucrose.density(weak))
    extract = (dissolved + water - kept) * strong / 100.0 + (refilled - 5.0 * float(sucrose.density(weak))) * weak / 100.0
    assert found.run_off == pytest.approx(mass / float(sucrose.density(100.0 * extract / mass)), abs=1e-4)
    assert found.retained == pytest.approx(5.0)
    assert found.mash + found.sparge - found.absorbed == pytest.approx(found.run_off, abs=0.1)


def test_volumes_close() -> None:
    """What is planned before the boil is what evaporates, what is lost, and the beer."""
    found = balance({"boil": {"kettle_loss": "1 L"}, "transfer": {"loss": "0.5 L"}})
    assert found.pre_boil == pytest.approx(found.evaporated + found.losses + found.fermenter)
    assert (found.evaporated, found.losses, found.fermenter) == pytest.approx((3.0, 1.5, 20.0))


@pytest.mark.parametrize(
    ("sparge", "words"), [("8 L", "less than the plan wants: sparge"), ("10 L", ""), ("9.5 L", ""), ("12 L", "more than the plan wants: leave")]
)
def test_too_little_and_too_much_liquor(sparge: str, words: str) -> None:
    """More than half a litre of difference is told, with what to do."""
    text = " ".join(liquor_sentences(balance(liquor={"mash": "16 L", "sparge": sparge})))
    assert words in text
    assert bool(words) == bool(text)


@pytest.mark.parametrize(("dead", "told"), [("5.9 L", False), ("6.1 L", True)])
def test_dead_space_thins_the_bed(dead: str, told: bool) -> None:
    """16 L on 5 kg are 2 L/kg with 6 L of dead space."""
    assert ("dead space" in " ".join(liquor_sentences(balance({"mash": {"dead_space": dead}})))) == told


def test_rows_add_up_as_printed() -> None:
    """Each line of the table follows from those above it."""
    litres = {row.name: float(row.amount.removesuffix(" L").replace("−", "-")) for row in liquor_rows(balance())}
    before = litres["Mash liquor"] + litres["Sparge liquor"] + litres["Not coming back"]
    assert before == pytest.approx(litres["Before the boil"], abs=0.051)
    assert litres["Before the boil"] + litres["Evaporated"] == pytest.approx(litres["Into the fermenter"], abs=0.051)


def test_a_plan_without_liquor() -> None:
    """Nothing is claimed of a plan that gives no liquor."""
    assert liquor_balance(Planned(view(liquor={}))) is None
    assert list(liquor_sentences(None)) == []
    assert liquor_rows(None) == ()
