"""The science layer against general libraries: water and ethanol, units, and a scalar root finder of another kind."""

import itertools

import iapws
import pint
import pytest
from CoolProp import CoolProp

from generator import units
from generator.science import beer, bitterness, carbonation, colour, ethanol, hydrometer, refractometer, sucrose, water
from generator.science._values import OutOfRangeError, Values, newton
from tests.reference import published
from tests.reference.published import root
from tests.reference.runner import read
from tests.reference.science import stands_for

ATMOSPHERE = 101325.0
"""Pa"""
UREG: "pint.UnitRegistry[float]" = pint.UnitRegistry()


@pytest.mark.parametrize("celsius", [0.01, *range(1, 100)])
@stands_for(water.density)
def test_water_against_two_libraries_of_the_international_formulation(celsius: float) -> None:
    """IAPWS-95 in two libraries, 0.02 kg/m³ (the fit was made for air-free water; its own residual is 0.006)."""
    ours = 1000.0 * float(water.density(float(celsius)))
    kelvin = celsius + 273.15
    assert ours == pytest.approx(CoolProp.PropsSI("D", "T", kelvin, "P", ATMOSPHERE, "Water"), abs=0.02)
    assert ours == pytest.approx(iapws.IAPWS95(T=kelvin, P=ATMOSPHERE / 1e6).rho, abs=0.02)


@stands_for(water.volume_at_20)
@pytest.mark.parametrize(("celsius", "percent"), [(60.0, 1.5038), (80.0, 2.6464), (98.0, 3.8498)])
def test_contraction_against_a_library(celsius: float, percent: float) -> None:
    """Contraction of hot water to 20 °C by IAPWS-95, within 0.005 percentage points; also the values computed from it before."""
    hot, cold = (CoolProp.PropsSI("D", "T", t + 273.15, "P", ATMOSPHERE, "Water") for t in (celsius, 20.0))
    shrunk = 100.0 * (1.0 - float(water.volume_at_20(1.0, celsius)))
    assert shrunk == pytest.approx(100.0 * (1.0 - hot / cold), abs=0.005)
    assert shrunk == pytest.approx(percent, abs=0.005)


@stands_for(ethanol.density)
@pytest.mark.parametrize("celsius", [10.0, 15.0, 20.0, 25.0, 30.0])
@pytest.mark.parametrize("percent", [1.0, 2.0, 5.0, 10.0, 20.0, 30.0])
def test_ethanol_against_a_library(percent: float, celsius: float) -> None:
    """The incompressible ethanol-water mixture of the library, a smoothed fit that is itself off by up to 0.35 kg/m³ near 20 °C."""
    theirs = CoolProp.PropsSI("D", "T", celsius + 273.15, "P", ATMOSPHERE, f"INCOMP::MEA[{percent / 100}]")
    assert 1000.0 * float(ethanol.density(percent, celsius)) == pytest.approx(theirs, abs=0.35)


def test_a_volume_of_carbon_dioxide_against_a_library() -> None:
    """One volume is the density of the real gas at 0 °C and 101.325 kPa (reference equation of state), to its last digit."""
    assert CoolProp.PropsSI("D", "T", 273.15, "P", ATMOSPHERE, "CarbonDioxide") == pytest.approx(carbonation.GRAMS_PER_VOLUME, abs=1e-4)


@stands_for(bitterness.bitterness)
def test_bitterness_in_ounces_and_gallons_against_pint() -> None:
    """The form of the texts, 74.89 · oz · % · U / US gal, has its constant from the exact units."""
    constant = UREG.Quantity(1.0, "ounce/gallon").to("milligram/liter").magnitude / 100.0
    mass, volume = (UREG.Quantity(*of).to(unit).magnitude for of, unit in (((1.5, "ounce"), "gram"), ((5.0, "gallon"), "liter")))
    ours = bitterness.bitterness(mass, 6.4, 60.0, 1.080, volume)
    assert constant == pytest.approx(74.8915, abs=5e-5)
    assert ours == pytest.approx(constant * 1.5 * 6.4 * float(bitterness.utilisation(60.0, 1.080)) / 5.0, rel=1e-12)


@stands_for(colour.malt_colour_units)
def test_malt_colour_units_against_pint() -> None:
    """Malt colour units are pounds times °L per US gallon by definition; 8.3454 is rounded in the fifth digit."""
    mass, volume = UREG.Quantity(12.0, "pound").to("kilogram").magnitude, UREG.Quantity(5.5, "gallon").to("liter").magnitude
    assert colour.malt_colour_units(mass * 3.5, volume) == pytest.approx(12.0 * 3.5 / 5.5, rel=1e-6)


@pytest.mark.parametrize(
    ("unit", "canonical"),
    [("gallon", "liter"), ("imperial_gallon", "liter"), ("pound", "kilogram"), ("degF", "degC"), ("psi", "bar"), ("gallon/hour", "liter/hour")],
)
def test_units_against_pint(unit: str, canonical: str) -> None:
    """Factor and offset kept by the units module give what the library gives directly."""
    for value in (-3.0, 0.0, 5.25, 212.0):
        assert units.convert(value, unit, canonical) == pytest.approx(UREG.Quantity(value, unit).to(canonical).magnitude, rel=1e-12, abs=1e-12)
    assert units.difference(9.0, "degF", "degC") == pytest.approx(UREG.Quantity(9.0, "delta_degF").to("delta_degC").magnitude, rel=1e-12)


@stands_for(sucrose.extract_from_sg)
@pytest.mark.parametrize("sg", [0.985, 1.0, 1.012, 1.048, 1.083, 1.130, 1.178])
def test_extract_of_a_gravity_against_bracketing(sg: float) -> None:
    """The sugar polynomial solved for the mass fraction."""
    expected = 100.0 * root(lambda w: published.sucrose(w) / published.water(20.0) - sg, -0.1, 0.6)
    assert sucrose.extract_from_sg(sg) == pytest.approx(expected, abs=1e-9)


@stands_for(sucrose.extract_from_density)
@pytest.mark.parametrize("celsius", [10.0, 20.0, 45.0, 80.0])
@pytest.mark.parametrize("density", [1.0, 1.04, 1.15])
def test_extract_of_a_density_against_bracketing(density: float, celsius: float) -> None:
    """The same at the temperature of the sample."""
    expected = 100.0 * root(lambda w: published.sucrose(w, celsius) / 1000.0 - density, -0.1, 0.6)
    assert sucrose.extract_from_density(density, celsius) == pytest.approx(expected, abs=1e-9)


@stands_for(sucrose.sg_from_concentration, ethanol.sg_from_concentration)
@pytest.mark.parametrize("grams_per_ml", [0.0, 0.01, 0.05, 0.12, 0.25])
def test_gravity_of_a_concentration_against_bracketing(grams_per_ml: float) -> None:
    """Both solutions, mass fraction times density solved for the mass fraction."""
    assert sucrose.sg_from_concentration(grams_per_ml) == pytest.approx(published.sg_of_concentration(published.sucrose, grams_per_ml), abs=1e-11)
    assert ethanol.sg_from_concentration(grams_per_ml) == pytest.approx(published.sg_of_concentration(published.ethanol, grams_per_ml), abs=1e-11)


@stands_for(hydrometer.sg_20, hydrometer.extract)
@pytest.mark.parametrize("calibrated", [15.0, 15.56, 20.0])
@pytest.mark.parametrize(("reading", "sample"), [(1.000, 15.0), (1.050, 10.0), (1.050, 32.0), (1.012, 45.0), (1.110, 60.0)])
def test_hydrometer_against_bracketing(reading: float, sample: float, calibrated: float) -> None:
    """A glass float of 25e-6 per °C (OIML R 22) shows ρ(t) · (1 + g (t − Tc)) over water at Tc."""

    def shown(w: float) -> float:
        return published.sucrose(w, sample) * (1.0 + 25e-6 * (sample - calibrated)) / published.water(calibrated)

    fraction = root(lambda w: shown(w) - reading, -0.05, 0.6)
    assert hydrometer.extract(reading, sample, calibrated) == pytest.approx(100.0 * fraction, abs=1e-8)
    assert hydrometer.sg_20(reading, sample, calibrated) == pytest.approx(published.sucrose(fraction) / published.water(20.0), abs=1e-10)


@stands_for(beer.alcohol_by_weight)
@pytest.mark.parametrize(("original", "sg"), [(8.0, 1.002), (12.0, 1.0117), (14.08, 1.0122), (20.0, 0.998), (32.0, 1.040), (12.0, 1.0483)])
def test_alcohol_against_bracketing(original: float, sg: float) -> None:
    """Balling's balance and Tabarié's rule solved together for the alcohol."""
    expected = root(lambda alcohol: published.tabarie(original, alcohol, sg), -1.0, 0.55 * original)
    assert beer.alcohol_by_weight(original, sg) == pytest.approx(expected, abs=1e-8)


@stands_for(beer.sg_of_beer, beer.real_extract)
@pytest.mark.parametrize(("original", "alcohol"), [(8.0, 2.4), (12.0, 3.73), (16.0, 5.09), (28.0, 9.5)])
def test_gravity_of_beer_against_bracketing(original: float, alcohol: float) -> None:
    """The same two balances solved for the gravity."""
    expected = root(lambda sg: published.tabarie(original, alcohol, sg), 0.95, 1.2)
    assert beer.sg_of_beer(beer.real_extract(original, alcohol), alcohol) == pytest.approx(expected, abs=1e-10)


def _index(brix: float) -> float:
    """The project's cubic, fitted to the CRC Handbook, 102nd ed., 0 to 40 °Bx within 5e-5."""
    return 1.33299434 + 1.42929925e-3 * brix + 5.34073249e-6 * brix**2 + 1.82848716e-8 * brix**3


def _index_of_alcohol(percent: float) -> float:
    """The CRC Handbook's ethanol column less its first value, straight lines in between."""
    rows = [row for row in read("refractive_index").rows if row.number("solute_mass_pct") <= 20.0]
    points = [(row.number("solute_mass_pct"), row.number("nD_ethanol")) for row in rows]
    (x0, y0), (x1, y1) = next(pair for pair in itertools.pairwise(points) if pair[0][0] <= percent <= pair[1][0])
    return y0 + (percent - x0) * (y1 - y0) / (x1 - x0) - points[0][1]


@stands_for(refractometer.sg_after_fermentation)
@pytest.mark.parametrize(
    ("brix", "original", "factor"), [(6.27, 12.0, 1.0), (6.6, 12.0, 1.04), (8.40, 16.0, 1.0), (11.2, 20.0, 1.04), (9.9, 16.0, 1.02)]
)
def test_refractometer_against_bracketing(brix: float, original: float, factor: float) -> None:
    """The alcohol whose extract and alcohol bend light as read, then the gravity of that beer."""
    target = _index(brix / factor)
    alcohol = root(lambda a: _index(published.real_extract(original, a)) + _index_of_alcohol(a) - target, 0.0, min(0.5 * original, 20.0))
    expected = root(lambda sg: published.tabarie(original, alcohol, sg), 0.95, 1.2)
    assert refractometer.sg_after_fermentation(brix, original, factor) == pytest.approx(expected, abs=1e-8)


def test_the_solver_finds_a_root_or_says_so() -> None:
    """Against bracketing on a cubic; and an equation without a solution is an error, not a number."""

    def cubic(x: Values) -> tuple[Values, Values]:
        return x**3 + x, 3.0 * x**2 + 1.0

    assert newton(cubic, 5.0, 1.0) == pytest.approx(root(lambda x: x**3 + x - 5.0, 0.0, 5.0), abs=1e-12)
    with pytest.raises(OutOfRangeError):
        newton(lambda x: (x**2 + 1.0, 2.0 * x), 0.0, 0.7)
