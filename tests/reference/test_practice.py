"""Hops in cooling wort, kegs, sugars and the colour on a screen against libraries and other computations."""

import math
import warnings
from collections.abc import Callable

import numpy as np
import pytest
from CoolProp import CoolProp
from scipy.integrate import quad, solve_ivp

from generator.science import _observer, beer, bitterness, carbonation, isomerisation, keg, swatch
from tests.reference.runner import read
from tests.reference.science import stands_for

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour as colour_science

GAS_CONSTANT = 8.314462618e-3
"""kJ/(mol·K), SI 2019."""
Profile = Callable[[float], float]


def _k1(celsius: float) -> float:
    return 7.9e11 * math.exp(-11858.0 / (celsius + 273.15))


def _k2(celsius: float) -> float:
    return 4.1e12 * math.exp(-12994.0 / (celsius + 273.15))


def _free(start: float, ambient: float, time_constant: float) -> Profile:
    return lambda minutes: ambient + (start - ambient) * math.exp(-minutes / time_constant)


def _even(start: float, end: float, minutes: float) -> Profile:
    return lambda at: start + (end - start) * at / minutes


PROFILES = {
    "linear 98 to 80 C": _even(98.0, 80.0, 30.0),
    "Newton cooling 100 C, tau 25 min, ambient 20 C": _free(100.0, 20.0, 25.0),
    "Newton cooling 100 C, tau 300 min, ambient 20 C (no-chill)": _free(100.0, 20.0, 300.0),
}


@stands_for(isomerisation.loss_rate, bitterness.isomerisation_rate)
def test_bitterness_made_and_lost_in_cooling_wort() -> None:
    """[C] The table's share of iso-alpha acids in wort that cools, by integrating both rates."""
    for row in (row for row in read("hop_stand_equivalents").rows if row["profile"] in PROFILES):
        temperature = PROFILES[row["profile"]]

        def change(minutes: float, shares: list[float], temperature: Profile = temperature) -> list[float]:
            made = float(bitterness.isomerisation_rate(temperature(minutes))) * shares[0]
            return [-made, made - float(isomerisation.loss_rate(temperature(minutes))) * shares[1]]

        run = solve_ivp(change, (0.0, row.number("minutes")), [1.0, 0.0], rtol=1e-9, atol=1e-11)
        assert run.y[1, -1] == pytest.approx(row.number("iso_fraction_with_loss"), abs=2e-6)
        assert 1.0 - run.y[0, -1] == pytest.approx(row.number("alpha_converted_fraction"), abs=2e-6)


@stands_for(isomerisation.iso_fraction)
@pytest.mark.parametrize(("minutes", "celsius"), [(10.0, 100.0), (60.0, 100.0), (45.0, 85.0), (90.0, 120.0)])
def test_iso_fraction_against_an_integration(minutes: float, celsius: float) -> None:
    """Two reactions after one another, integrated numerically from the published rates."""
    run = solve_ivp(
        lambda _, s: [-_k1(celsius) * s[0], _k1(celsius) * s[0] - _k2(celsius) * s[1]], (0.0, minutes), [1.0, 0.0], rtol=1e-10, atol=1e-12
    )
    assert isomerisation.iso_fraction(minutes, celsius) == pytest.approx(run.y[1, -1], abs=1e-8)


@stands_for(isomerisation.loss_rate)
def test_activation_energy_of_the_loss() -> None:
    """[P] The abstract prints 108.0 kJ/mol."""
    rates = [float(isomerisation.loss_rate(t)) for t in (90.0, 130.0)]
    assert GAS_CONSTANT * math.log(rates[1] / rates[0]) / (1.0 / 363.15 - 1.0 / 403.15) == pytest.approx(108.0, abs=0.05)


def _worth(minutes: float, temperature: Profile, points: list[float]) -> float:
    inside = [point for point in points if 0.0 < point < minutes]
    total, _ = quad(lambda at: _k1(temperature(at)), 0.0, minutes, epsabs=1e-14, epsrel=1e-12, limit=400, points=inside or None)
    return float(total) / _k1(100.0)


@stands_for(isomerisation.evenly_cooling_stand)
@pytest.mark.parametrize(
    ("minutes", "start", "end"), [(30.0, 98.0, 80.0), (20.0, 100.0, 20.0), (45.0, 60.0, 75.0), (10.0, 130.0, 0.0), (15.0, 80.0, 80.0)]
)
def test_evenly_cooling_stand_against_quadrature(minutes: float, start: float, end: float) -> None:
    """An adaptive rule of another library gives the same to 1e-8."""
    assert isomerisation.evenly_cooling_stand(minutes, start, end) == pytest.approx(_worth(minutes, _even(start, end, minutes), []), rel=1e-8)


@stands_for(isomerisation.freely_cooling_stand)
@pytest.mark.parametrize(
    ("minutes", "start", "ambient", "constant"),
    [(60.0, 100.0, 20.0, 25.0), (480.0, 100.0, 20.0, 300.0), (600.0, 98.0, 4.0, 8.0), (5.0, 95.0, 30.0, 400.0), (30.0, 130.0, 0.0, 12.0)],
)
def test_freely_cooling_stand_against_quadrature(minutes: float, start: float, ambient: float, constant: float) -> None:
    """Over time rather than over temperature, by an adaptive rule, to 1e-8."""
    expected = _worth(minutes, _free(start, ambient, constant), [constant / 10, constant / 3, constant, 3 * constant])
    assert isomerisation.freely_cooling_stand(minutes, start, ambient, constant) == pytest.approx(expected, rel=1e-8)


@stands_for(isomerisation.freely_cooling_stand, isomerisation.evenly_cooling_stand, bitterness.boil_equivalent)
def test_stands_that_do_not_cool() -> None:
    """At one temperature all three are the same; a long wait in cold surroundings goes on with their own rate."""
    for celsius in (75.0, 88.0, 100.0):
        still = float(bitterness.boil_equivalent(20.0, celsius))
        assert isomerisation.evenly_cooling_stand(20.0, celsius, celsius) == pytest.approx(still, rel=1e-12)
        assert isomerisation.freely_cooling_stand(20.0, celsius, celsius, 30.0) == pytest.approx(still, rel=1e-12)
        assert isomerisation.freely_cooling_stand(20.0, celsius, 20.0, 1e7) == pytest.approx(still, rel=1e-5)


@stands_for(keg.water_vapour)
@pytest.mark.parametrize("celsius", [0.01, 4.0, 10.0, 20.0, 30.0, 40.0])
def test_water_vapour_against_a_library(celsius: float) -> None:
    """Vapour pressure of IAPWS-95 within 0.2 %: Weiss and Price is that of pure water in an older formulation."""
    assert keg.water_vapour(celsius) == pytest.approx(CoolProp.PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water") / 1e5, rel=2e-3)


BEER_RELATION = {
    2.4: {4: 0.72, 10: 1.10, 20: 1.89, 30: 2.88},
    3.0: {4: 1.15, 10: 1.63, 20: 2.61, 30: 3.85},
    4.0: {4: 1.87, 10: 2.51, 20: 3.82, 30: 5.47},
    5.0: {4: 2.59, 10: 3.39, 20: 5.03, 30: 7.09},
}
"""Gauge pressures in bar over volumes and °C by a relation in use for beer, g/L = 10 p e^(−10.73797 + 2617.25/T); its coefficients from memory."""


@stands_for(keg.keg_pressure, keg.keg_carbonation)
@pytest.mark.parametrize(("volumes", "celsius"), [(v, t) for v, row in BEER_RELATION.items() for t in row])
def test_keg_pressure_against_a_relation_for_beer(volumes: float, celsius: int) -> None:
    """[C] Beer holds less than water: the relation asks for up to 6 % more pressure, counted from nothing, and never for less."""
    theirs = BEER_RELATION[volumes][celsius]
    held = 10.0 * (theirs + 1.01325) * math.exp(-10.73797 + 2617.25 / (celsius + 273.15)) / 1.9768
    assert held == pytest.approx(volumes, abs=0.01)
    ours = float(keg.keg_pressure(volumes, celsius))
    assert 1.0 <= (theirs + 1.01325) / (ours + 1.01325) < 1.06
    assert keg.keg_carbonation(ours, celsius) == pytest.approx(volumes, abs=1e-12)


@stands_for(keg.keg_pressure, carbonation.solubility)
def test_keg_pressure_is_a_sum_of_two_gases() -> None:
    """Henry's law for the gas and the vapour of water beside it: 2.5 vol at 10 °C over 2.3616 g/L at an atmosphere [C]."""
    vapour = CoolProp.PropsSI("P", "T", 283.15, "Q", 0, "Water") / 1e5
    assert carbonation.solubility(10.0) == pytest.approx(2.3616, abs=6e-5)
    assert keg.keg_pressure(2.5, 10.0) == pytest.approx((2.5 * 1.9768 / 2.3616 - 1.0) * 1.01325 + vapour, abs=1e-4)


@stands_for(carbonation.gas_of_sugar)
def test_gas_of_sugars() -> None:
    """The two sugars of a plan by their formulas; and Balling's 0.9565 in 2.0665 for wort extract, the last row of the table."""
    assert carbonation.gas_of_sugar(198.171, 2) == pytest.approx(carbonation.CO2_PER_SUGAR["dextrose"], rel=1e-12)
    assert carbonation.gas_of_sugar(342.297, 4) == pytest.approx(carbonation.CO2_PER_SUGAR["sucrose"], rel=1e-12)
    wort = next(row for row in read("priming_stoichiometry").rows if row["sugar"].startswith("wort extract"))
    share = beer.CO2_PER_ALCOHOL / beer.EXTRACT_PER_ALCOHOL
    assert share == pytest.approx(wort.number("g_CO2_per_g"), abs=6e-5)
    assert share / float(carbonation.gas_of_sugar(180.156, 2)) == pytest.approx(0.947, abs=1e-3)  # growth takes 5 %
    assert carbonation.GRAMS_PER_VOLUME / share == pytest.approx(wort.number("g_sugar_per_L_per_volume"), abs=6e-4)


def test_tables_of_the_observer_against_a_library() -> None:
    """D65 and the 2° observer of 1931, every number as the library has it."""
    functions, light = colour_science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"], colour_science.SDS_ILLUMINANTS["D65"]
    for place, row in enumerate(_observer.TABLE):
        wavelength = _observer.FIRST_WAVELENGTH + place * _observer.WAVELENGTH_STEP
        assert row == pytest.approx((light[wavelength], *functions[wavelength]), abs=1e-11)
    assert wavelength == 780.0


def _average_beer(beyond: float) -> float:
    return 0.02465 * math.exp(-beyond / 17.591) + 0.97535 * math.exp(-beyond / 82.122)


def _by_library(srm: float, path: float) -> np.ndarray:
    """X, Y and Z of the spectrum at every nanometre, integrated by the library."""
    spectrum = {nm: 10.0 ** (-path * srm / 12.7 * _average_beer(nm - 430.0)) for nm in range(380, 781)}
    shape = colour_science.SpectralShape(380, 780, 1)
    return (
        colour_science.sd_to_XYZ(
            colour_science.SpectralDistribution(spectrum),
            colour_science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape),
            colour_science.SDS_ILLUMINANTS["D65"].copy().align(shape),
            method="Integration",
        )
        / 100.0
    )


@stands_for(swatch.tristimulus, swatch.srgb)
@pytest.mark.parametrize(("srm", "path"), [(4.0, 5.0), (10.0, 5.0), (3.0, 1.0), (20.0, 7.5), (38.0, 2.0)])
def test_colour_on_a_screen_against_a_library(srm: float, path: float) -> None:
    """Spectrum to X, Y, Z within 2e-4 and to sRGB within a count, at every nanometre and with the library's own matrix."""
    expected = _by_library(srm, path)
    assert np.array(swatch.tristimulus(srm, path)) == pytest.approx(expected, abs=2e-4)
    screen = 255.0 * np.clip(colour_science.XYZ_to_sRGB(expected), 0.0, 1.0)
    assert np.max(np.abs(np.array(swatch.srgb(srm, path)) - screen)) <= 1.0


@stands_for(swatch.absorbance)
def test_absorbance_of_an_average_beer() -> None:
    """SRM is 12.7 times the absorbance at 430 nm [P]; at 700 nm a clear beer has less than 0.039 of that [P], this one 0.0364 [C]."""
    assert swatch.absorbance(12.7, 430.0) == pytest.approx(1.0, abs=1e-12)
    assert swatch.absorbance(12.7, 700.0) == pytest.approx(0.0364, abs=6e-5)


@stands_for(swatch.srgb)
def test_ends_of_the_swatch() -> None:
    """Without beer daylight is white; deep black beer is black; colour and depth count only as their product."""
    assert swatch.srgb(0.0, 5.0) == (255.0, 255.0, 255.0)
    assert swatch.srgb(1000.0, 5.0) == (0.0, 0.0, 0.0)
    assert swatch.srgb(8.0, 5.0) == swatch.srgb(4.0, 10.0)
