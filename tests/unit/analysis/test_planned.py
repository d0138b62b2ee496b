"""Planned figures: targets, predictions, and what can't be predicted."""

import pytest

from generator.analysis.figures import Figure
from tests.unit.analysis.support import brewhouse, good, known, plan

STRONG = {
    "target": {"volume": "20.5 L"},
    "grist": [good("8 kg")],
    "liquor": {"mash": "20.0361 L", "sparge": "13.0235 L", "grain_temperature": "20 °C"},
    "rest": [{"temperature": "67 °C", "duration": "60 min"}],
    "boil": {"duration": "60 min"},
}


def number(figure: Figure) -> float:
    """The planned number, which must be there."""
    assert figure.plan is not None
    return figure.plan


def test_the_chain_of_the_prediction_conserves_extract() -> None:
    """Potential times efficiency is in the kettle before and after the boil: a mass balance done by hand beside the code."""
    figures = known(plan(**STRONG), house=brewhouse(boil={"evaporation": "3 L/h", "kettle_loss": "1 L"}, transfer={"loss": "0.5 L"}))
    pre, post = number(figures["pre_boil_volume"]), number(figures["post_boil_volume"])

    assert post == pytest.approx(20.5 + 1.0 + 0.5)
    assert pre == pytest.approx(post + 3.0)
    potential = 8.0 * 0.80 * 0.96
    assert number(figures["potential_extract"]) == pytest.approx(potential)
    # one batch sparge, a = 1.0 L/kg (default), g = 8/25, f = (25 − 13.0235)/25: by hand
    g, f = 8.0 / pre, (pre - 13.0235) / pre
    lauter = 1 - g * g / ((f + g) * (1 - f + g))
    assert number(figures["lauter_efficiency"]) == pytest.approx(100 * lauter)
    assert number(figures["mash_efficiency"]) == pytest.approx(95 * lauter)
    # the extract in the pre-boil volume by CRC's density of sucrose: 16.4 °P is 1.0652 kg/L
    extract = potential * 0.95 * lauter
    assert number(figures["pre_boil_gravity"]) == pytest.approx(1 + extract / pre * 0.3835, abs=0.002)


def test_no_sparge_uses_the_plain_mass_balance() -> None:
    """Without sparge the lautering is 1/(1 + a·g)."""
    figures = known(plan(**{**STRONG, "liquor": {"mash": "34 L"}}), house=brewhouse(mash={"retention": "0.8 L/kg"}))
    assert number(figures["lauter_efficiency"]) == pytest.approx(100 / (1 + 0.8 * 8 / number(figures["pre_boil_volume"])))


def test_a_sparge_as_large_as_the_wort_is_not_predicted() -> None:
    """Nothing is predicted, and the reason is said, where the sparge is all of the wort."""
    figures = known(plan(**{**STRONG, "liquor": {"mash": "20 L", "sparge": "30 L"}}))
    assert figures["lauter_efficiency"].plan is None
    assert "sparge is as large" in (figures["lauter_efficiency"].expected.why_absent or "")
    assert figures["original_gravity"].plan is None


def test_a_target_is_the_plan_and_the_prediction_ignores_it() -> None:
    """A target stands as the plan, and the prediction says what the rest of the plan gives."""
    free = known(plan(**STRONG))["original_gravity"]
    bound = known(plan(**{**STRONG, "target": {"volume": "20.5 L", "original_gravity": "1.099"}}))["original_gravity"]

    assert (bound.plan, bound.expected.plan_from) == (1.099, "target")
    assert bound.expected.predicted == pytest.approx(free.expected.predicted)
    assert free.expected.plan_from == "predicted"


def test_a_target_mash_efficiency_sets_the_planned_lautering() -> None:
    """Planned lautering is then mash efficiency over conversion; its prediction stays the mass balance."""
    figures = known(plan(**{**STRONG, "target": {"volume": "20.5 L", "mash_efficiency": "70 %", "conversion_efficiency": "90 %"}}))
    assert number(figures["lauter_efficiency"]) == pytest.approx(100 * 70 / 90)
    assert figures["lauter_efficiency"].expected.predicted != pytest.approx(100 * 70 / 90)
    assert figures["conversion_efficiency"].expected.predicted == 95.0


def test_without_a_volume_nothing_downstream_is_planned() -> None:
    """No target volume and no post-boil volume: the volumes are absent with a reason."""
    figures = known(plan(grist=[good("5 kg")], boil={"duration": "60 min"}))
    for key in ("fermenter_volume", "post_boil_volume", "pre_boil_volume", "original_gravity", "abv"):
        assert figures[key].plan is None
        assert figures[key].expected.why_absent


def test_a_post_boil_target_gives_the_fermenter_volume() -> None:
    """Without a target volume the fermenter gets what is left after the losses."""
    house = brewhouse(boil={"kettle_loss": "1.5 L"}, transfer={"loss": "0.5 L"})
    figures = known(plan(target={"post_boil_volume": "22 L"}), house=house)
    assert number(figures["fermenter_volume"]) == pytest.approx(20.0)
    assert figures["fermenter_volume"].expected.plan_from == "predicted"


def test_goods_for_the_fermenter_are_in_no_figure() -> None:
    """Sugar added to the fermenter changes no planned figure."""
    with_sugar = {**STRONG, "grist": [good("8 kg"), good("1 kg", "100 %", moisture="0 %", added="fermenter")]}
    assert {key: f.plan for key, f in known(plan(**with_sugar)).items()} == {key: f.plan for key, f in known(plan(**STRONG)).items()}


def test_boil_sugar_raises_the_gravity_but_not_the_mash_efficiency() -> None:
    """A boil addition counts from the kettle on."""
    sweet = known(plan(**{**STRONG, "grist": [good("8 kg"), good("1 kg", "100 %", moisture="0 %", added="boil")]}))
    dry = known(plan(**STRONG))
    assert number(sweet["mash_efficiency"]) == number(dry["mash_efficiency"])
    assert number(sweet["pre_boil_gravity"]) == number(dry["pre_boil_gravity"])
    assert number(sweet["original_gravity"]) > number(dry["original_gravity"]) + 0.010


def test_the_vessel_takes_heat_too() -> None:
    """5 kg of malt at 20 °C in 15 kg of water to 67 °C: 73.27 °C, with a vessel worth 1 kg of water 76.40 °C."""
    wanted = plan(grist=[good("5 kg")], liquor={"mash": "15.0270 L"}, rest=[{"temperature": "67 °C"}])
    # 15.0270 L at 20 °C are 15.000 kg; (0.40 · 5 + Cv) · 47 / 15 by hand (heat balance of Lewis and Young, from memory)
    assert number(known(wanted)["strike_temperature"]) == pytest.approx(73.267, abs=0.02)
    assert number(known(wanted, house=brewhouse(mash={"heat_capacity": "1 kg"}))["strike_temperature"]) == pytest.approx(76.4, abs=0.02)
