"""Lautering, two successive mashes and heat against computations made here step by step."""

import math
from dataclasses import dataclass

import pytest
from CoolProp import CoolProp
from scipy.optimize import minimize_scalar

from generator.science import heat, lauter, mash, remash
from generator.science._values import OutOfRangeError
from tests.reference import published
from tests.reference.runner import read
from tests.reference.science import stands_for

MALT = {"extract": 0.80 * 0.96, "moisture": 0.04}
"""80 % of dry extract and 4 % of water."""


@dataclass
class Tun:
    """A vessel with grain, worked by hand: masses of water and extract in kg, drained a cupful at a time."""

    grist: float = 0.0
    water: float = 0.0
    extract: float = 0.0

    def add(self, water: float, extract: float = 0.0) -> None:
        """Pour in liquid and stir."""
        self.water += water
        self.extract += extract

    def mash(self, grist: float, conversion: float) -> None:
        """Put in grist, which brings water and dissolves."""
        self.grist += grist
        self.add(MALT["moisture"] * grist, conversion * MALT["extract"] * grist)

    def litres(self) -> float:
        """Volume of the liquid at 20 °C, by the sugar polynomial as published."""
        mass = self.water + self.extract
        return mass / (published.sucrose(self.extract / mass) / 1000.0)

    def drain(self, retention: float, cups: int = 400) -> tuple[float, float]:
        """Take off what the grain doesn't keep, one cup of the well stirred liquid after the other."""
        water = extract = 0.0
        for left in range(cups, 0, -1):
            here = self.litres()
            share = (here - retention * self.grist) / left / here
            water, extract = water + share * self.water, extract + share * self.extract
            self.water, self.extract = (1.0 - share) * self.water, (1.0 - share) * self.extract
        return water, extract


def by_hand(liquor: float, first: remash.Portion, second: remash.Portion, retention: float) -> tuple[float, float, float]:
    """Water and extract in kg that two successive mashes give, and the volume of liquid in the second."""
    water, extract, volume = float(liquor), 0.0, 0.0
    for portion in (first, second):
        tun = Tun()
        tun.add(water, extract)
        tun.mash(float(portion.mass), float(portion.conversion))
        volume = tun.litres()
        water, extract = tun.drain(retention)
        if portion.sparge:
            tun.add(float(portion.sparge))
            more_water, more_extract = tun.drain(retention)
            water, extract = water + more_water, extract + more_extract
    return water, extract, volume


def portion(mass: float, conversion: float = 0.92, sparge: float = 0.0) -> remash.Portion:
    """A portion of the malt of the tests."""
    return remash.Portion(mass, MALT["extract"], MALT["moisture"], conversion, sparge)


PAIRS = [
    (29.0, portion(4.0), portion(4.0), 1.0),
    (24.0, portion(3.0, 0.95), portion(5.0, 0.85), 0.7),
    (20.0, portion(4.5, 0.93, sparge=6.0), portion(4.5, 0.90), 1.1),
    (18.0, portion(3.5, 0.93, sparge=3.0), portion(4.5, 0.90, sparge=5.0), 0.9),
    (27.0, portion(5.0, 0.95), portion(0.0), 1.0),
]


@stands_for(remash.successive_mashes)
@pytest.mark.parametrize(("liquor", "first", "second", "retention"), PAIRS)
def test_two_mashes_against_draining_by_hand(liquor: float, first: remash.Portion, second: remash.Portion, retention: float) -> None:
    """Water, extract and the room of the second mash, stirred and drained by the cup with the published polynomial."""
    water, extract, volume = by_hand(liquor, first, second, retention)
    _, ours = remash.successive_mashes(liquor, first, second, retention)
    assert ours.water == pytest.approx(water, rel=1e-9)
    assert ours.extract == pytest.approx(extract, rel=1e-9)
    assert ours.mash_liquid == pytest.approx(volume, rel=1e-9)
    assert ours.wort == pytest.approx(100.0 * extract / (water + extract), rel=1e-9)


@stands_for(remash.successive_mashes, mash.lauter_without_sparge)
def test_two_mashes_by_the_shares_that_stay() -> None:
    """E = (1 − r₂)((1 − r₁) E₁ + E₂) of the docstring; and what goes in is what comes out and what the grains keep."""
    liquor, first, second, retention = PAIRS[1]
    one, two = remash.successive_mashes(liquor, first, second, retention)
    dissolved = [portion.conversion * portion.extract * portion.mass for portion in (first, second)]
    shares = [retention * portion.mass / float(run.mash_liquid) for portion, run in ((first, one), (second, two))]
    collected = (1.0 - shares[1]) * ((1.0 - shares[0]) * dissolved[0] + dissolved[1])
    kept = shares[0] * dissolved[0] + shares[1] * ((1.0 - shares[0]) * dissolved[0] + dissolved[1])
    assert two.extract == pytest.approx(collected, rel=1e-12)
    assert sum(dissolved) == pytest.approx(two.extract + kept, rel=1e-12)
    assert 1.0 - shares[0] == pytest.approx(mash.lauter_without_sparge(first.mass / one.volume, retention), rel=1e-12)


@stands_for(remash.successive_mashes, remash.mash_and_drain, mash.lauter_without_sparge)
@pytest.mark.parametrize(("liquor", "sparge"), [(27.0, 0.0), (15.0, 12.6)])
def test_two_mashes_of_which_one_is_empty_are_one(liquor: float, sparge: float) -> None:
    """Without a second or without a first portion it is the single mash; unsparged, that is η = 1/(1 + a·g)."""
    whole, nothing = portion(5.0, 0.95, sparge), portion(0.0)
    single = remash.mash_and_drain(remash.Liquor(liquor), whole, 1.0)
    for pair in ((whole, nothing), (nothing, whole)):
        _, both = remash.successive_mashes(liquor, *pair, 1.0)
        assert (both.volume, both.wort, both.extract) == pytest.approx((single.volume, single.wort, single.extract), rel=1e-12)
    if not sparge:
        lautered = float(mash.lauter_without_sparge(5.0 / single.volume, 1.0))
        assert single.extract == pytest.approx(lautered * 5.0 * MALT["extract"] * 0.95, rel=1e-12)


@stands_for(remash.liquor_of_successive_mashes)
@pytest.mark.parametrize(("liquor", "first", "second", "retention"), PAIRS)
def test_liquor_for_a_volume_against_bracketing(liquor: float, first: remash.Portion, second: remash.Portion, retention: float) -> None:
    """The liquor whose runnings, drained by hand, make the volume; found by bracketing."""
    water, extract, _ = by_hand(liquor, first, second, retention)
    volume = (water + extract) / (published.sucrose(extract / (water + extract)) / 1000.0)
    assert remash.liquor_of_successive_mashes(volume, first, second, retention) == pytest.approx(liquor, abs=1e-6)

    def missing(kg: float) -> float:
        w, e, _ = by_hand(kg, first, second, retention)
        return (w + e) / (published.sucrose(e / (w + e)) / 1000.0) - 1.05 * volume

    more = published.root(missing, liquor, liquor + 3.0)
    assert remash.liquor_of_successive_mashes(1.05 * volume, first, second, retention) == pytest.approx(more, abs=1e-6)


@stands_for(remash.mash_and_drain)
def test_a_mash_that_gives_nothing_is_refused() -> None:
    """Less liquid than the grain keeps is no runnings, and an error rather than a negative volume."""
    tun = Tun()
    tun.add(5.0)
    tun.mash(8.0, 0.92)
    least = tun.litres() / 8.0
    with pytest.raises(OutOfRangeError, match="first running"):
        remash.mash_and_drain(remash.Liquor(5.0), portion(8.0), least + 0.001)
    assert remash.mash_and_drain(remash.Liquor(5.0), portion(8.0), least - 0.001).first_volume == pytest.approx(0.008, abs=1e-9)


def mixed(shares: list[float], kept: float) -> float:
    """Extract that runs off when liquor makes each running up to its share and volumes add up; the grain keeps `kept`."""
    left, out = 1.0, 0.0
    for share in shares:
        strength = left / (share + kept)
        out, left = out + strength * share, strength * kept
    assert out + left == pytest.approx(1.0, abs=1e-12)
    return out


@stands_for(lauter.equal_runnings)
@pytest.mark.parametrize("runnings", [1, 2, 3, 4, 7])
@pytest.mark.parametrize(("grist_per_litre", "retention"), [(0.15, 1.2), (0.35, 0.8), (0.5, 1.0)])
def test_equal_runnings_against_mixing_step_by_step(runnings: int, grist_per_litre: float, retention: float) -> None:
    """Drained, filled up and drained again; and no unequal runnings of the same number give more."""
    kept = retention * grist_per_litre
    ours = lauter.equal_runnings(grist_per_litre, retention, runnings)
    assert ours == pytest.approx(mixed([1.0 / runnings] * runnings, kept), abs=1e-13)
    if runnings > 1:
        assert mixed([1.3 / runnings, 0.7 / runnings, *[1.0 / runnings] * (runnings - 2)], kept) < ours


@stands_for(mash.lauter_with_one_sparge)
def test_the_best_first_running_is_half() -> None:
    """The table's optimum by a grid, here by a minimiser: equal runnings."""
    for row in read("lauter_efficiency_theory").rows:
        g, a = row.number("g_kg_per_L_preboil"), row.number("a_L_per_kg")
        best = minimize_scalar(lambda share, g=g, a=a: -float(mash.lauter_with_one_sparge(g, a, share)), bounds=(0.05, 0.95), method="bounded")
        assert best.x == pytest.approx(row.number("optimum_first_fraction"), abs=1e-4)
        assert -best.fun == pytest.approx(row.number("eta_one_sparge_numeric_optimum"), abs=6e-5)


@stands_for(lauter.first_running_share, mash.lauter_with_one_sparge, mash.lauter_without_sparge)
@pytest.mark.parametrize("moved", [0.0, 0.25, 0.6, 1.0])
def test_sparge_liquor_moved_to_the_mash(moved: float) -> None:
    """Of 13 L a share goes into the mash instead: the grain keeps 6 L twice, worked out step by step; all of it is no sparge."""
    pre_boil, sparge, grist, retention = 26.0, 13.0, 6.0, 1.0
    share = float(lauter.first_running_share(pre_boil, sparge, moved))
    liquid = pre_boil - sparge + grist * retention + moved * sparge
    first = (liquid - 6.0) / liquid
    second = (1.0 - first) * ((1.0 - moved) * sparge) / (6.0 + (1.0 - moved) * sparge)
    ours = mash.lauter_with_one_sparge(grist / pre_boil, retention, share)
    assert ours == pytest.approx(first + second, abs=1e-13)
    if moved == 1.0:
        assert ours == pytest.approx(mash.lauter_without_sparge(grist / pre_boil, retention), abs=1e-13)


@pytest.mark.parametrize(("extract", "litres"), [(5.0, 0.6153), (25.0, 0.6189)])
def test_room_of_dissolved_extract(extract: float, litres: float) -> None:
    """[C] What a kilogram of extract adds to the volume of its water; by ICUMSA SPS-4 7e-4 L more than by a rational fit of the gravities."""
    x = extract / 100.0
    room = (1000.0 / published.sucrose(x) - (1.0 - x) * 1000.0 / published.water(20.0)) / x
    assert room == pytest.approx(litres, abs=7e-4)
    assert abs(room - lauter.EXTRACT_VOLUME) < 0.003


@stands_for(lauter.absorption_from_retention, lauter.retention_from_absorption, mash.apparent_absorption)
def test_absorption_and_retention() -> None:
    """[C] 1 L/kg kept, 0.7296 kg/kg dissolved and 0.04 of water are 0.51 L/kg of liquor that doesn't come back."""
    apparent = lauter.absorption_from_retention(1.0, 0.04, 0.768, 0.95)
    assert apparent == pytest.approx(0.51, abs=0.002)
    assert lauter.retention_from_absorption(apparent, 0.04, 0.768, 0.95) == pytest.approx(1.0, abs=1e-12)
    water, extract, _ = by_hand(27.0, portion(5.0, 0.95), portion(0.0), 1.0)
    volume = (water + extract) / (published.sucrose(extract / (water + extract)) / 1000.0)
    assert mash.apparent_absorption(27.0 / (published.water(20.0) / 1000.0), volume, 5.0) == pytest.approx(apparent, abs=1e-3)


@stands_for(heat.infusion_mass, heat.mixing_temperature)
@pytest.mark.parametrize(("vessel", "malt"), [(0.0, 0.40), (1.5, 0.38)])
def test_an_infusion_gives_what_it_takes_up(vessel: float, malt: float) -> None:
    """Heat that the infusion loses is the heat that mash and vessel gain; counted from 0 °C, none is lost."""
    added = float(heat.infusion_mass(52.0, 66.0, 95.0, 5.0, 15.0, vessel, malt))
    assert added * (95.0 - 66.0) == pytest.approx((malt * 5.0 + 15.0 + vessel) * (66.0 - 52.0), rel=1e-12)
    assert heat.mixing_temperature(added, 95.0, 5.0, 52.0, 15.0 + vessel, malt) == pytest.approx(66.0, abs=1e-12)


@stands_for(heat.mixing_temperature, mash.strike_temperature)
def test_strike_and_mixing_undo_each_other() -> None:
    """Liquor at the strike temperature makes the rest; published examples of both stand in the tables."""
    strike = mash.strike_temperature(66.0, 6.2, 17.5, 12.0, 0.8, 0.41)
    assert heat.mixing_temperature(17.5, strike, 6.2, 12.0, 0.8, 0.41) == pytest.approx(66.0, abs=1e-12)


@stands_for(heat.heating_energy, heat.evaporation_energy)
def test_energy_of_a_brew_against_a_library() -> None:
    """[C] 27 kg from 20 to 100 °C are 2.512 kWh and 3 kg boiled off 1.881 kWh; enthalpies of IAPWS-95 within 0.2 %."""
    assert heat.heating_energy(27.0, 20.0, 100.0) == pytest.approx(2.512, abs=6e-4)
    assert heat.evaporation_energy(3.0) == pytest.approx(1.881, abs=6e-4)

    def enthalpy(celsius: float, quality: float = 0.0) -> float:
        return float(CoolProp.PropsSI("H", "T", celsius + 273.15, "Q", quality, "Water")) / 3.6e6

    assert heat.heating_energy(27.0, 20.0, 100.0) == pytest.approx(27.0 * (enthalpy(100.0) - enthalpy(20.0)), rel=2e-3)
    assert heat.evaporation_energy(3.0) == pytest.approx(3.0 * (enthalpy(100.0, 1.0) - enthalpy(100.0)), rel=5e-4)
    assert math.isclose(float(heat.heating_energy(1.0, 60.0, 20.0)), -float(heat.heating_energy(1.0, 20.0, 60.0)))


@stands_for(mash.level_while_adding)
def test_level_while_grain_is_added() -> None:
    """8 kg in 20 L, by hand: at once 20 + 17.6 L; in four portions three are wetted (6 kg, 4.02 L) and 2 kg float (4.4 L)."""
    assert mash.level_while_adding(20.0, 8.0, 1) == pytest.approx(37.6, abs=1e-12)
    assert mash.level_while_adding(20.0, 8.0, 4) == pytest.approx(28.42, abs=1e-12)
