"""What would make a mash fit its vessel, against a brew day worked by hand that shares nothing with the code."""

from collections.abc import Callable
from dataclasses import astuple, replace
from typing import Any

import pytest

from generator.analysis.alternatives import Fit, Outcome, WayOut, fit
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from tests.reference import by_hand
from tests.reference.by_hand import Day, Numbers
from tests.unit.analysis.support import brewhouse, good, plan

WITHIN = 1e-8
"""Relative; measured: 1e-10. What is asked for is 1 %."""
ROOMY = 99.0
"""L or kg that limit nothing."""
GOODS = [
    good("8 kg", "81 %"),
    good("900 g", "72 %", moisture="9 %"),
    good("700 g", "69 %"),
    good("400 g", "95 %", moisture="0 %", added="boil"),
]
PLAN = {
    "grist": GOODS,
    "rest": [{"temperature": "66 °C", "duration": "60 min"}],
    "boil": {"duration": "90 min"},
}
DAY = Day(
    grist=8.0 + 0.9 + 0.7,
    yields=(8.0 * 0.81 * 0.96 + 0.9 * 0.72 * 0.91 + 0.7 * 0.69 * 0.96) / 9.6,
    moisture=(8.0 * 0.04 + 0.9 * 0.09 + 0.7 * 0.04) / 9.6,
    liquor=30.0,
    sparge=2.0,
    volume=19.0,
    hours=1.5,
    addition=0.4 * 0.95,
    losses=1.5 + 0.5,
    evaporation=3.2,
    retention=0.9,
    vessel=1.4,
    grain_temperature=18.0,
    rest=66.0,
)
"""The same plan and brewhouse in plain numbers."""
CAPACITY = 34.14
"""L; the mash needs 37.14."""
WAYS: dict[str, Callable[[Day, float, float], Numbers]] = {
    "Less grist": lambda day, room, grain: by_hand.less_grist(day, room, grain).numbers,
    "A smaller batch": lambda day, room, grain: by_hand.smaller_batch(day, room, grain).numbers,
    "Liquor held back": lambda day, room, _: by_hand.liquor_held_back(day, room).numbers,
    "Two mashes, one in the other’s wort": lambda day, *_: by_hand.two_mashes(day),
    "A longer boil": lambda day, room, grain: by_hand.longer_boil(day, room, grain).numbers,
}
SHORTER = ["Less grist", "A smaller batch", "Two mashes, one in the other’s wort", "A longer boil"]
"""Ways that also help where it is the grain that is too much."""
VARIANTS: dict[str, tuple[dict[str, Any], str, Day]] = {
    "no sparge": ({}, "0 L", replace(DAY, sparge=0.0)),
    "a target gravity that the plan doesn't lead to": ({"original_gravity": "1.098"}, "2 L", DAY),
    "other volumes than the brewhouse's": (
        {"post_boil_volume": "21.3 L", "pre_boil_volume": "26.5 L"},
        "2 L",
        replace(DAY, losses=21.3 - 19.0, evaporation=(26.5 - 21.3) / 1.5),
    ),
    "less of the extract dissolves": ({"conversion_efficiency": "88 %"}, "2 L", replace(DAY, conversion=0.88)),
}
"""Targets, sparge, and the day in plain numbers."""
PRACTISED = replace(DAY, experience=70.0 / DAY.efficiency)
"""A brewer who counts on a mash efficiency of 70 %."""


def fitted(
    *,
    capacity: float | None = CAPACITY,
    grain: float | None = None,
    kettle: float | None = None,
    sparge: str = "2 L",
    heat: float = 1.4,
    **target: str,
) -> Fit:
    """The plan in a brewhouse of these vessels."""
    vessel: dict[str, Any] = {"retention": "0.9 L/kg", "heat_capacity": f"{heat} kg"}
    vessel |= ({"capacity": f"{capacity} L"} if capacity else {}) | ({"grain_capacity": f"{grain} kg"} if grain else {})
    boil = {"evaporation": "3.2 L/h", "kettle_loss": "1.5 L"} | ({"capacity": f"{kettle} L"} if kettle else {})
    house = brewhouse(mash=vessel, boil=boil, transfer={"loss": "0.5 L"})
    liquor = {"mash": "30 L", "sparge": sparge, "grain_temperature": "18 °C"}
    found = fit(Planned(PlanView(plan(**PLAN, liquor=liquor, target={"volume": "19 L", **target}), house)))
    assert found is not None
    return found


def way(found: Fit, name: str) -> WayOut:
    """One of the ways out."""
    return next(one for one in found.ways if one.name == name)


def agrees(outcome: Outcome | None, wanted: Numbers) -> None:
    """Every number of a way out against the computation by hand; gravities as points."""
    assert outcome is not None
    numbers = Numbers(*astuple(replace(outcome, gravity=1000.0 * (outcome.gravity - 1.0))))
    assert numbers._asdict() == pytest.approx(wanted._asdict(), rel=WITHIN)


def test_the_plan_overfills_its_vessel_by_three_litres() -> None:
    """Space, gravity and efficiency of the plan itself, and by how much it doesn't fit."""
    found = fitted()
    agrees(found.planned, DAY.numbers)
    assert found.excess == pytest.approx(3.0, abs=0.01)
    assert found.excess == pytest.approx(DAY.space - CAPACITY, rel=WITHIN)
    assert {one.name for one in found.ways} == set(WAYS)


@pytest.mark.parametrize("name", WAYS)
def test_ways_out_of_an_overfull_vessel(name: str) -> None:
    """Less grist, less beer, a thicker mash, two mashes or a longer boil: nine numbers each."""
    agrees(way(fitted(), name).outcome, WAYS[name](DAY, CAPACITY, ROOMY))


@pytest.mark.parametrize("name", SHORTER)
@pytest.mark.parametrize("capacity", [None, 45.0, CAPACITY, 33.7])
def test_ways_out_of_too_much_grain(name: str, capacity: float | None) -> None:
    """8.5 kg is all that the vessel is made for, whether the litres fit or not."""
    found = fitted(capacity=capacity, grain=8.5)
    assert found.excess_grain == pytest.approx(1.1)
    agrees(way(found, name).outcome, WAYS[name](DAY, capacity or ROOMY, 8.5))


@pytest.mark.parametrize("heat", [0.1, 6.0])
@pytest.mark.parametrize("capacity", [30.0, CAPACITY])
def test_less_grist_in_a_light_and_in_a_heavy_vessel(heat: float, capacity: float) -> None:
    """A vessel that takes up as much heat as 100 g or 6 kg of water: the liquor is hotter, and takes more room."""
    agrees(way(fitted(heat=heat, capacity=capacity), "Less grist").outcome, by_hand.less_grist(replace(DAY, vessel=heat), capacity, ROOMY).numbers)


def test_the_litres_bind_before_the_kilograms() -> None:
    """A vessel made for 9 kg that holds less of this mash."""
    outcome = way(fitted(grain=9.0), "Less grist").outcome
    agrees(outcome, by_hand.less_grist(DAY, CAPACITY, 9.0).numbers)
    assert outcome is not None
    assert outcome.grist < 9.0


def test_holding_back_liquor_makes_no_grain_fit() -> None:
    """Too much grain stays too much in less liquor."""
    assert way(fitted(grain=8.5), "Liquor held back").outcome is None


@pytest.mark.parametrize("name", WAYS)
def test_ways_out_keep_the_brewers_own_efficiency(name: str) -> None:
    """A target mash efficiency of 70 % where the mass balance gives 74.5 %: the ratio of the two stays."""
    agrees(way(fitted(mash_efficiency="70 %"), name).outcome, WAYS[name](PRACTISED, CAPACITY, ROOMY))


def test_the_kettle_limits_a_longer_boil() -> None:
    """A kettle with a tenth of a litre to spare at 98 °C will do, one that lacks a tenth won't."""
    wanted = by_hand.longer_boil(DAY, CAPACITY, ROOMY)
    full = by_hand.hot(wanted.before_boil, 98.0)
    agrees(way(fitted(kettle=full + 0.1), "A longer boil").outcome, wanted.numbers)
    assert way(fitted(kettle=full - 0.1), "A longer boil").outcome is None


def test_what_the_longest_boil_of_a_small_kettle_gives() -> None:
    """28 L at 98 °C: the hours that it allows, and the gravity after them, as the reason says."""
    cold = 28.0 * DAY.before_boil / by_hand.hot(DAY.before_boil, 98.0)
    less = by_hand.less_grist(DAY, CAPACITY, ROOMY)
    best = DAY.changed(less.grist, less.liquor, hours=(cold - DAY.after_boil) / DAY.evaporation)
    reason = way(fitted(kettle=28.0), "A longer boil").why_not
    assert f"{best.hours:.1f} h" in reason
    assert f"{1.0 + best.gravity / 1000.0:.3f}" in reason


@pytest.mark.parametrize("name", WAYS)
@pytest.mark.parametrize("variant", VARIANTS)
def test_ways_out_of_other_plans(variant: str, name: str) -> None:
    """No sparge, targets for gravity, volumes and conversion: a vessel of 34.5 L, into which two mashes of each go."""
    target, sparge, day = VARIANTS[variant]
    agrees(way(fitted(capacity=34.5, sparge=sparge, **target), name).outcome, WAYS[name](day, 34.5, ROOMY))


def test_two_mashes_need_room_too() -> None:
    """A vessel that holds the larger of two mashes with a spoonful to spare, and one that lacks a spoonful."""
    wanted = by_hand.two_mashes(DAY)
    agrees(way(fitted(capacity=wanted.space + 0.01), "Two mashes, one in the other’s wort").outcome, wanted)
    assert way(fitted(capacity=wanted.space - 0.01), "Two mashes, one in the other’s wort").outcome is None
