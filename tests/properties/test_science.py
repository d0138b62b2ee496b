"""What must hold of every function of the science layer, whatever the numbers are."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from generator.science import beer, carbonation, ethanol, hydrometer, lifting, refractometer, sucrose, water
from generator.science._values import OutOfRangeError
from tests.reference.science import public_functions

FUNCTIONS = public_functions()
FUNCTIONS["lifting.recommended_weight"] = lambda *lift: lifting.recommended_weight(lifting.LiftGeometry(*lift))
del FUNCTIONS["reconciliation.reconcile"]  # vectors in, a tuple out: see tests/reference/test_statistics.py
NAMES = sorted(FUNCTIONS)
QUIET = settings(deadline=None, database=None, max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])


@dataclass(frozen=True)
class Argument:
    """What an argument may be, and values just outside of what its docstring computes."""

    low: float
    high: float
    refused: tuple[float, ...] = ()
    one_number: bool = False

    @property
    def middle(self) -> float:
        """A value for when another argument is looked at."""
        return (self.low + self.high) / 2.0


A = Argument
_CELSIUS = A(0, 100, (-10.01, 110.01))
_EXTRACT = A(0, 40, (-15.1, 65.1))
_SG = A(0.985, 1.17, (0.9, 1.4))
_BEER_SG = A(0.99, 1.06, (0.94, 1.31))
_LITRES = A(5, 60, (0.0, -1.0))
_KG = A(0.1, 20)
_ABW = A(0, 10)
_GRIST_RATIO = A(0.05, 0.6, (-0.1,))
_RETENTION = A(0.1, 2, (-0.1,))
_BOIL = (A(0, 120, (-1.0,)), A(1.0, 1.12, (0.94, 1.31)))
_COLOUR = A(0, 1000, (-1.0, 5001.0))
_COOL = A(-1, 40, (-10.1, 110.1))
_SHARE = A(0.4, 0.52, one_number=True)
_FACTOR = A(0.95, 1.1, (0.89, 1.21), one_number=True)

ARGUMENTS: dict[str, tuple[Argument, ...]] = {
    "water.density": (_CELSIUS,),
    "water.volume_at_20": (_KG, _CELSIUS),
    "sucrose.density": (_EXTRACT, _CELSIUS),
    "sucrose.extract_from_density": (A(0.99, 1.14, (0.8, 1.6)), _CELSIUS),
    "sucrose.sg_from_extract": (_EXTRACT,),
    "sucrose.extract_from_sg": (_SG,),
    "sucrose.sg_from_concentration": (A(0, 0.47, (-0.16, 0.81)),),
    "sucrose.extract_mass": (_KG, A(1, 1.17, (0.9, 1.4))),
    "sucrose.extract_of_wort": (_KG, _EXTRACT),
    "hydrometer.extract": (A(1.0, 1.12, (0.94, 1.31)), A(5, 60, (-10.1, 110.1)), A(15, 20, (-10.1, 110.1), one_number=True)),
    "sucrose.sg_of_extract_mass": (A(0, 4, (-10.0, 60.0)), A(10, 60, (1e-3, -1.0))),
    "hydrometer.sg_20": (A(0.99, 1.12, (0.94, 1.31)), A(5, 60, (-10.1, 110.1)), A(15, 20, (-10.1, 110.1), one_number=True)),
    "ethanol.density": (A(0, 100, (-10.1, 100.1)), A(-20, 40, (-20.1, 40.1))),
    "ethanol.sg_from_concentration": (A(0, 0.3, (-0.09, 0.31)),),
    "ethanol.abv": (A(0, 20, (-10.1, 100.1)), A(0.98, 1.1)),
    "beer.real_extract": (_EXTRACT, _ABW),
    "beer.sg_of_beer": (A(0, 20, (-20.0, 80.0)), A(0, 12, (-12.0, 40.0))),
    "beer.alcohol_by_weight": (A(6, 36, (65.1,)), _BEER_SG),
    "beer.apparent_attenuation": (A(1, 40, (0.0, -1.0, 65.1)), A(0, 20)),
    "beer.real_attenuation": (A(0, 10, (-10.0,)), A(0.5, 20, (-30.0,))),
    "beer.energy": (_ABW, A(0, 20), _BEER_SG),
    "refractometer.index_of_sucrose": (_EXTRACT,),
    "refractometer.index_of_ethanol": (A(0, 20, (-10.1, 20.1)),),
    "refractometer.extract_before_fermentation": (A(0, 40), _FACTOR),
    "refractometer.sg_after_fermentation": (A(6, 9, (-16.0, 70.0)), A(12, 17, (65.1,)), _FACTOR),
    "mash.potential_extract": (_KG, A(0, 100, (-0.1, 150.1)), A(0, 20, (-0.1, 100.1))),
    "mash.dissolved_extract": (_KG, _EXTRACT),
    "mash.first_wort": (A(1, 8, (0.0, -1.0)), A(0.5, 0.85), A(0, 0.1), A(0.5, 1)),
    "mash.lauter_without_sparge": (_GRIST_RATIO, _RETENTION),
    "mash.lauter_with_one_sparge": (_GRIST_RATIO, _RETENTION, A(0.1, 1, (0.0, 1.1))),
    "mash.strike_temperature": (A(40, 75), _KG, _LITRES, A(0, 30), A(0, 3)),
    "mash.mash_space": (_KG, A(40, 90, (-10.1, 110.1)), _KG),
    "mash.percent_of": (A(0, 5), A(0.5, 5, (0.0, -1.0))),
    "mash.evaporation_rate": (A(20, 40), A(10, 20), A(0.5, 2, (0.0, -1.0))),
    "mash.apparent_absorption": (A(20, 40), A(10, 20), A(1, 20, (0.0, -1.0))),
    "bitterness.utilisation": _BOIL,
    "bitterness.bitterness": (A(0, 300), A(0, 20), *_BOIL, _LITRES),
    "bitterness.isomerisation_rate": (A(0, 130, (-0.1, 130.1)),),
    "bitterness.boil_equivalent": (A(0, 60), A(0, 130, (-0.1, 130.1))),
    "colour.lovibond_from_srm": (_COLOUR,),
    "colour.ebc_from_srm": (_COLOUR,),
    "colour.malt_colour_units": (A(0, 5000), _LITRES),
    "colour.beer_srm": (A(0, 167, (-1.0,)),),
    "carbonation.solubility": (_COOL,),
    "carbonation.carbonation": (_COOL, A(0, 300), _LITRES, _SHARE),
    "carbonation.priming_sugar": (A(1, 4), _COOL, _LITRES, _SHARE),
    "lifting.recommended_weight": (
        A(25, 63, (24.9, 63.1)),
        A(0, 175, (-0.1, 175.1)),
        A(25, 175, (24.9, 175.1)),
        A(0, 135, (-0.1, 135.1)),
        A(0.3, 1),
        A(0.9, 1),
    ),
    "sucrose.sg_slope": (A(0, 0.47, (-0.16, 0.81)),),
    "attribution.logarithmic_mean": (A(0.1, 10, (0.0, -1.0)), A(0.1, 10, (0.0, -1.0))),
    "attribution.product_weight": (A(-5, 5), A(-0.5, 0.5, (-701.0, 701.0)), A(0.1, 50)),
    "yeast.pitch_rate": (A(1e9, 1e12), _LITRES, A(1, 30, (0.0, -1.0, 65.1))),
}
REFUSED = [(name, position, value) for name, takes in ARGUMENTS.items() for position, a in enumerate(takes) for value in a.refused]
GUARDED = sorted({(name, position) for name, position, _ in REFUSED})

RISING = {
    "sucrose.density": (0,), "sucrose.extract_from_density": (0,), "sucrose.sg_from_extract": (0,), "sucrose.extract_from_sg": (0,),
    "sucrose.sg_from_concentration": (0,), "sucrose.extract_mass": (0,), "sucrose.sg_of_extract_mass": (0,), "hydrometer.sg_20": (0,),
    "ethanol.abv": (0, 1), "beer.real_extract": (0,), "beer.sg_of_beer": (0,), "beer.alcohol_by_weight": (0,), "beer.apparent_attenuation": (0,),
    "beer.energy": (0, 1), "refractometer.index_of_sucrose": (0,),
    "refractometer.sg_after_fermentation": (0,), "refractometer.index_of_ethanol": (0,),
    "mash.dissolved_extract": (0, 1), "bitterness.utilisation": (0,), "bitterness.isomerisation_rate": (0,),
    "colour.beer_srm": (0,), "carbonation.carbonation": (1,), "carbonation.priming_sugar": (0, 1),
    "mash.strike_temperature": (0, 1), "mash.first_wort": (1, 3),
}  # fmt: skip
FALLING = {
    "sucrose.sg_of_extract_mass": (1,), "ethanol.density": (0,), "ethanol.sg_from_concentration": (0,), "beer.real_extract": (1,),
    "beer.sg_of_beer": (1,),
    "beer.alcohol_by_weight": (1,), "refractometer.sg_after_fermentation": (1,), "mash.first_wort": (0, 2), "mash.lauter_without_sparge": (0, 1),
    "mash.lauter_with_one_sparge": (0, 1), "bitterness.utilisation": (1,), "carbonation.solubility": (0,), "yeast.pitch_rate": (1, 2),
    "mash.strike_temperature": (2, 3), "lifting.recommended_weight": (0, 2, 3),
}  # fmt: skip
MONOTONIC = [(name, i, sign) for sign, table in ((1.0, RISING), (-1.0, FALLING)) for name, positions in table.items() for i in positions]


def numbers(argument: Argument) -> st.SearchStrategy[float]:
    """Values an argument may have."""
    return st.floats(argument.low, argument.high)


def values(name: str) -> st.SearchStrategy[tuple[float, ...]]:
    """Arguments a function may have."""
    return st.tuples(*map(numbers, ARGUMENTS[name]))


def middle(name: str) -> list[float]:
    """Arguments amid what a function takes."""
    return [argument.middle for argument in ARGUMENTS[name]]


def test_every_function_is_looked_at() -> None:
    """A new public function needs its arguments here."""
    assert set(ARGUMENTS) == set(FUNCTIONS)


@pytest.mark.parametrize("name", NAMES)
@QUIET
@given(data=st.data())
def test_arrays_give_what_floats_give(name: str, data: st.DataObject) -> None:
    """Every element of an array result equals the scalar result to 1e-12."""
    takes, function = ARGUMENTS[name], FUNCTIONS[name]
    rows = data.draw(st.lists(values(name), min_size=1, max_size=4))
    fixed = rows[0]
    columns = [fixed[i] if a.one_number else np.array([row[i] for row in rows]) for i, a in enumerate(takes)]
    together = function(*columns)
    assert together.shape == (len(rows),)
    for row, element in zip(rows, together, strict=True):
        alone = function(*(fixed[i] if a.one_number else row[i] for i, a in enumerate(takes)))
        assert np.ndim(alone) == 0
        assert float(element) == pytest.approx(float(alone), rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_shapes_are_kept_and_broadcast(name: str) -> None:
    """One argument of shape (2, 1) and the others of (3,) give (2, 3); a lone argument keeps its shape."""
    takes = ARGUMENTS[name]
    many = sum(not a.one_number for a in takes) > 1
    shapes = [(2, 1) if many else (2, 3), *[(3,)] * (len(takes) - 1)]
    arguments: list[Any] = [a.middle if a.one_number else np.full(shape, a.middle) for a, shape in zip(takes, shapes, strict=True)]
    before = [np.copy(argument) for argument in arguments]
    assert FUNCTIONS[name](*arguments).shape == (2, 3)
    assert all(np.array_equal(old, new) for old, new in zip(before, arguments, strict=True)), "arguments are left as they were"


@pytest.mark.parametrize(("name", "position", "value"), REFUSED)
def test_what_is_not_computed_is_refused(name: str, position: int, value: float) -> None:
    """Just outside the range of the docstring an error is raised, for a float and for one bad element of an array."""
    arguments: list[Any] = middle(name)
    good, arguments[position] = arguments[position], value
    with pytest.raises(OutOfRangeError), np.errstate(divide="ignore", invalid="ignore"):
        FUNCTIONS[name](*arguments)
    if not ARGUMENTS[name][position].one_number:
        arguments[position] = np.array([good, value, good])
        with pytest.raises(OutOfRangeError), np.errstate(divide="ignore", invalid="ignore"):
            FUNCTIONS[name](*arguments)


@pytest.mark.parametrize(("name", "position"), GUARDED)
def test_no_number_is_refused(name: str, position: int) -> None:
    """NaN is no value of a guarded argument."""
    arguments = middle(name)
    arguments[position] = math.nan
    with pytest.raises(OutOfRangeError):
        FUNCTIONS[name](*arguments)


def is_finite_or_refused(name: str, arguments: Iterable[float]) -> bool:
    """Whether a number or OutOfRangeError comes of it; any other error passes through."""
    try:
        return math.isfinite(FUNCTIONS[name](*arguments))
    except OutOfRangeError:
        return True


@pytest.mark.parametrize("name", NAMES)
@settings(QUIET, max_examples=150)
@given(data=st.data())
def test_a_result_is_finite_or_refused(name: str, data: st.DataObject) -> None:
    """Whatever finite numbers come in, no NaN and no infinity comes out, nor any other error."""
    arguments = data.draw(st.tuples(*(st.one_of(numbers(a), st.floats(-1e4, 1e4)) for a in ARGUMENTS[name])))
    assert is_finite_or_refused(name, arguments)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.filterwarnings("error")
def test_corners_are_finite_or_refused(name: str) -> None:
    """The same at zero, at minus one and at the ends of what an argument may be, all of them with one another."""
    corners = (sorted({0.0, -1.0, float(a.low), float(a.high)}) for a in ARGUMENTS[name])
    assert [found for found in product(*corners) if not is_finite_or_refused(name, found)] == []


@pytest.mark.parametrize(("name", "position", "sign"), MONOTONIC)
@QUIET
@given(data=st.data())
def test_direction(name: str, position: int, sign: float, data: st.DataObject) -> None:
    """More of this argument gives more (or less) of the result."""
    arguments = list(data.draw(values(name)))
    argument = ARGUMENTS[name][position]
    less, more = sorted(data.draw(st.tuples(numbers(argument), numbers(argument))))
    assume(more - less > 1e-3 * (argument.high - argument.low))
    arguments[position] = less
    at_less = FUNCTIONS[name](*arguments)
    arguments[position] = more
    assert sign * float(FUNCTIONS[name](*arguments) - at_less) >= -1e-12 * abs(at_less)


@QUIET
@given(numbers(A(4.5, 100)), numbers(A(4.5, 100)))
def test_water_expands_above_four_degrees(one: float, other: float) -> None:
    """Warmer water is lighter from 4 °C on."""
    cold, hot = sorted((one, other))
    assert water.density(hot) <= water.density(cold)


@QUIET
@given(numbers(A(-5, 40)))
def test_extract_and_gravity_round_trip(extract: float) -> None:
    """°P to SG and back, to 1e-9 °P."""
    assert sucrose.extract_from_sg(sucrose.sg_from_extract(extract)) == pytest.approx(extract, abs=1e-9)


@QUIET
@given(numbers(A(-5, 40)), numbers(A(0, 100)))
def test_extract_and_density_round_trip(extract: float, celsius: float) -> None:
    """°P to density at any temperature and back, to 1e-9 °P."""
    assert sucrose.extract_from_density(sucrose.density(extract, celsius), celsius) == pytest.approx(extract, abs=1e-9)


@QUIET
@given(numbers(A(1, 60)), numbers(A(1, 60)), numbers(A(1.001, 1.13)))
def test_extract_is_conserved(volume: float, other: float, sg: float) -> None:
    """Boiling down or diluting at constant extract keeps the extract; so does splitting."""
    extract = sucrose.extract_mass(volume, sg)
    assume(extract / other < 0.5)
    assert sucrose.extract_mass(other, sucrose.sg_of_extract_mass(extract, other)) == pytest.approx(extract, rel=1e-10)
    assert sucrose.sg_of_extract_mass(extract, volume) == pytest.approx(sg, abs=1e-12)
    assert sucrose.extract_mass(0.3 * volume, sg) + sucrose.extract_mass(0.7 * volume, sg) == pytest.approx(extract, rel=1e-12)


@QUIET
@given(numbers(A(0.99, 1.12)))
def test_hydrometer_at_its_calibration_is_right(reading: float) -> None:
    """At 20 °C, calibrated at 20 °C, nothing is corrected."""
    assert hydrometer.sg_20(reading, 20.0) == pytest.approx(reading, abs=1e-12)


@QUIET
@given(numbers(A(5, 36)), st.floats(0.0, 0.95))
def test_alcohol_and_gravity_round_trip(original: float, fermented: float) -> None:
    """The beer made by so much alcohol has a gravity that gives the alcohol back."""
    alcohol = fermented * 0.4 * original
    sg = beer.sg_of_beer(beer.real_extract(original, alcohol), alcohol)
    assert beer.alcohol_by_weight(original, sg) == pytest.approx(alcohol, abs=1e-8)


@QUIET
@given(numbers(A(0, 40)), numbers(A(0, 20)))
def test_balling_balances(original: float, alcohol: float) -> None:
    """What was fermented and what is left are the extract of the wort, and its share is the real degree of fermentation."""
    left = float(beer.real_extract(original, alcohol))
    made = 100.0 + (beer.CO2_PER_ALCOHOL + beer.YEAST_PER_ALCOHOL) * alcohol
    before = beer.EXTRACT_PER_ALCOHOL * alcohol + left
    assert 100.0 * before / made == pytest.approx(original, abs=1e-10)
    assume(before > 0.1)
    assert beer.real_attenuation(alcohol, left) == pytest.approx(100.0 * (1.0 - left / before), abs=1e-9)


@QUIET
@given(numbers(A(8, 20)), st.floats(0.3, 0.85), numbers(A(0.98, 1.08)))
def test_refractometer_and_gravity_round_trip(original: float, attenuation: float, factor: float) -> None:
    """A beer's refractive index, read as °Bx, gives its gravity back."""
    sg = sucrose.sg_from_extract(original * (1.0 - attenuation))
    alcohol = float(beer.alcohol_by_weight(original, sg))
    index = float(refractometer.index_of_sucrose(beer.real_extract(original, alcohol)) + refractometer.index_of_ethanol(alcohol))
    low, high = 0.0, 60.0
    for _ in range(60):
        brix = (low + high) / 2.0
        low, high = (brix, high) if refractometer.index_of_sucrose(brix) < index else (low, brix)
    assert refractometer.sg_after_fermentation(low * factor, original, factor) == pytest.approx(sg, abs=1e-8)


@QUIET
@given(numbers(A(0, 12)), numbers(A(0.99, 1.1)))
def test_alcohol_by_volume_is_a_volume_of_ethanol(alcohol: float, sg: float) -> None:
    """The mass of alcohol in a litre of beer over the density of pure ethanol."""
    grams = alcohol / 100.0 * sg * 1000.0 * float(ethanol.density(0.0))
    assert ethanol.abv(alcohol, sg) == pytest.approx(grams / float(ethanol.density(100.0)) / 10.0, rel=1e-6)


@QUIET
@given(numbers(A(0, 4)), numbers(A(0, 35)), numbers(A(5, 60)), st.sampled_from(sorted(carbonation.CO2_PER_SUGAR.values())))
def test_priming_and_carbonation_round_trip(volumes: float, celsius: float, litres: float, share: float) -> None:
    """The sugar for a carbonation gives it, unless the beer keeps more without any."""
    sugar = float(carbonation.priming_sugar(volumes, celsius, litres, share))
    still = float(carbonation.carbonation(celsius, 0.0, litres, share))
    assert sugar >= 0.0
    assert carbonation.carbonation(celsius, sugar, litres, share) == pytest.approx(max(volumes, still), abs=1e-12)
