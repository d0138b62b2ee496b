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

from generator.science import beer, carbonation, ethanol, hydrometer, keg, lauter, lifting, refractometer, remash, sucrose, swatch, water
from generator.science._values import OutOfRangeError
from tests.reference.science import public_functions

FUNCTIONS = public_functions()
FUNCTIONS["remash.mash_and_drain"] = lambda liquor, kept, *grist: remash.mash_and_drain(remash.Liquor(liquor), remash.Portion(*grist), kept).volume
FUNCTIONS["remash.successive_mashes"] = lambda liquor, kept, *grist: _two_mashes(remash.successive_mashes, liquor, kept, *grist)[1].extract
FUNCTIONS["remash.liquor_of_successive_mashes"] = lambda volume, kept, *grist: _two_mashes(remash.liquor_of_successive_mashes, volume, kept, *grist)
FUNCTIONS["swatch.tristimulus"] = lambda srm, path: swatch.tristimulus(srm, path)[1]
FUNCTIONS["swatch.srgb"] = lambda srm, path: swatch.srgb(srm, path)[0]
FUNCTIONS["lifting.recommended_weight"] = lambda *lift: lifting.recommended_weight(lifting.LiftGeometry(*lift))
del FUNCTIONS["reconciliation.reconcile"]  # vectors in, a tuple out: see tests/reference/test_statistics.py
FUNCTIONS = {  # whole series in: see tests/reference/test_fermentation.py
    name: function
    for name, function in FUNCTIONS.items()
    if not name.startswith("series.") and name not in ("fermentation.fit_logistic", "fermentation.degree_days")
}
NAMES = sorted(FUNCTIONS)


def _two_mashes(function: Any, start: Any, kept: Any, mass: Any, extract: Any, conversion: Any, sparge: Any, other: Any) -> Any:
    """Two portions of one malt, of which the first is sparged."""
    first, second = remash.Portion(mass, extract, 0.04, conversion, sparge), remash.Portion(other, extract, 0.04, conversion)
    return function(start, first, second, kept)


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
_HOT = A(0, 130, (-0.1, 130.1))
_GRIST = A(1, 8, (-0.1,))
_MALT_EXTRACT = A(0.5, 0.85, (-0.1, 1.51))
_CONVERSION = A(0.5, 1, (-0.1, 2.1))
_SPARGE = A(0, 10, (-0.1,))
_KEPT = A(0.3, 1.2, (-0.1,))
_MALT_HEAT = A(0.38, 0.42, (-0.1, 1.1))
_COOL = A(-1, 40, (-10.1, 110.1))
_SHARE = A(0.4, 0.52, one_number=True)
_FACTOR = A(0.95, 1.1, (0.89, 1.21), one_number=True)
_PER_HOUR = A(0.02, 0.5, (0.0, -0.1, 100.1))

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
    "mash.strike_temperature": (A(40, 75), _KG, _LITRES, A(0, 30), A(0, 3), A(0.38, 0.42)),
    "heat.mixing_temperature": (_LITRES, A(40, 100), _GRIST, A(0, 30), _SPARGE, _MALT_HEAT),
    "heat.infusion_mass": (A(35, 55, (80.1,)), A(56, 80), A(90, 100, (60.0,)), _GRIST, A(5, 60, (-0.1,)), _SPARGE, _MALT_HEAT),
    "heat.heating_energy": (A(0, 60, (-0.1,)), A(0, 100, (-10.1, 130.1)), A(0, 100, (-10.1, 130.1))),
    "heat.evaporation_energy": (A(0, 10, (-0.1,)),),
    "lauter.equal_runnings": (_GRIST_RATIO, _RETENTION, A(1, 6, (0.9, 1001.0))),
    "lauter.first_running_share": (A(20, 40, (0.0, 4.9)), A(5, 15, (-0.1, 400.0)), A(0, 1, (-0.1, 1.1))),
    "lauter.absorption_from_retention": (_KEPT, A(0, 0.1, (-0.1, 1.1)), _MALT_EXTRACT, _CONVERSION),
    "lauter.retention_from_absorption": (A(0.2, 1.2, (-1001.0,)), A(0, 0.1, (-0.1, 1.1)), _MALT_EXTRACT, _CONVERSION),
    "remash.mash_and_drain": (A(15, 40, (0.0, -1.0)), _KEPT, _GRIST, _MALT_EXTRACT, A(0, 0.1, (-0.1, 1.1)), _CONVERSION, _SPARGE),
    "remash.successive_mashes": (A(20, 40, (0.0, -1.0)), _KEPT, A(1, 5, (-0.1,)), _MALT_EXTRACT, _CONVERSION, _SPARGE, A(1, 5, (-0.1,))),
    "remash.liquor_of_successive_mashes": (A(18, 40, (0.0, -1.0)), _KEPT, A(1, 5, (-0.1,)), _MALT_EXTRACT, _CONVERSION, _SPARGE, A(1, 5, (-0.1,))),
    "mash.level_while_adding": (A(5, 40), _KG, A(1, 10, (0.5,))),
    "mash.mash_space": (_KG, A(40, 90, (-10.1, 110.1)), _KG),
    "mash.percent_of": (A(0, 5), A(0.5, 5, (0.0, -1.0))),
    "mash.evaporation_rate": (A(20, 40), A(10, 20), A(0.5, 2, (0.0, -1.0))),
    "mash.apparent_absorption": (A(20, 40), A(10, 20), A(1, 20, (0.0, -1.0))),
    "bitterness.utilisation": _BOIL,
    "bitterness.bitterness": (A(0, 300), A(0, 20), *_BOIL, _LITRES),
    "bitterness.isomerisation_rate": (A(0, 130, (-0.1, 130.1)),),
    "bitterness.boil_equivalent": (A(0, 60), A(0, 130, (-0.1, 130.1))),
    "isomerisation.loss_rate": (_HOT,),
    "isomerisation.iso_fraction": (A(0, 120, (-0.1,)), _HOT),
    "isomerisation.evenly_cooling_stand": (A(0, 120, (-0.1,)), _HOT, _HOT),
    "isomerisation.freely_cooling_stand": (A(0, 600, (-0.1,)), _HOT, _HOT, A(5, 400, (0.0, -1.0))),
    "colour.lovibond_from_srm": (_COLOUR,),
    "colour.ebc_from_srm": (_COLOUR,),
    "colour.malt_colour_units": (A(0, 5000), _LITRES),
    "colour.beer_srm": (A(0, 167, (-1.0,)),),
    "swatch.absorbance": (_COLOUR, A(380, 780, (379.9, 780.1))),
    "swatch.tristimulus": (_COLOUR, A(0, 20, (-0.1, 100.1))),
    "swatch.srgb": (_COLOUR, A(0, 20, (-0.1, 100.1))),
    "carbonation.solubility": (_COOL,),
    "carbonation.carbonation": (_COOL, A(0, 300), _LITRES, _SHARE),
    "carbonation.priming_sugar": (A(1, 4), _COOL, _LITRES, _SHARE),
    "carbonation.gas_of_sugar": (A(150, 400, (29.0, 2001.0)), A(1, 6, (-1.0,))),
    "keg.water_vapour": (_COOL,),
    "keg.keg_pressure": (A(1, 4, (-0.1, 10.1)), _COOL),
    "keg.keg_carbonation": (A(0, 3, (-1.1, 20.1)), _COOL),
    "packaging.beer_mass": (A(5, 60, (-0.1,)), A(0, 10, (-30.1, 60.1))),
    "packaging.further_gas": (A(3, 5, (-30.1, 60.1)), A(3, 7, (-30.1, 60.1)), A(1.0, 1.03, (0.94, 1.31))),
    "packaging.bottle_pressure": (A(1, 6, (-0.1, 100.1)), _COOL, A(0, 10, (-0.1, 50.1)), A(0.94, 1, (0.49, 1.01)), A(0, 1.02, (-0.1, 2.1))),
    "packaging.alcohol_of_serving": (A(0.1, 1, (-0.1,)), A(0, 20, (-10.1, 100.1))),
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
    "fermentation.logistic": (A(0, 200), A(1, 5), A(9, 20), _PER_HOUR, A(20, 100)),
    "fermentation.fastest_drop": (A(1, 5), A(9, 20), _PER_HOUR),
    "fermentation.lag": (_PER_HOUR, A(20, 100)),
    "fermentation.time_to_share": (A(0.05, 0.95, (0.0, 1.0)), _PER_HOUR, A(20, 100)),
    "fermentation.time_until_within": (A(0.05, 0.5, (0.0009, 10.1)), A(2, 15, (0.0, -1.0, 65.1)), _PER_HOUR, A(20, 100)),
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
    "heat.mixing_temperature": (1, 3), "heat.infusion_mass": (1, 3, 4, 5), "heat.heating_energy": (2,), "heat.evaporation_energy": (0,),
    "lauter.equal_runnings": (2,), "lauter.first_running_share": (0, 2), "lauter.absorption_from_retention": (0,),
    "lauter.retention_from_absorption": (0, 1, 2, 3), "remash.mash_and_drain": (0, 3, 4, 5), "remash.successive_mashes": (2, 3, 4, 5, 6),
    "remash.liquor_of_successive_mashes": (0, 1), "isomerisation.loss_rate": (0,), "isomerisation.evenly_cooling_stand": (0, 1, 2),
    "isomerisation.freely_cooling_stand": (0, 1, 2), "keg.water_vapour": (0,), "keg.keg_pressure": (0, 1), "keg.keg_carbonation": (0,),
    "carbonation.gas_of_sugar": (1,), "swatch.absorbance": (0,), "packaging.beer_mass": (0,), "packaging.further_gas": (1, 2),
    "packaging.bottle_pressure": (0, 1, 4), "packaging.alcohol_of_serving": (0, 1),
}  # fmt: skip
FALLING = {
    "sucrose.sg_of_extract_mass": (1,), "ethanol.density": (0,), "ethanol.sg_from_concentration": (0,), "beer.real_extract": (1,),
    "beer.sg_of_beer": (1,),
    "beer.alcohol_by_weight": (1,), "refractometer.sg_after_fermentation": (1,), "mash.first_wort": (0, 2), "mash.lauter_without_sparge": (0, 1),
    "mash.lauter_with_one_sparge": (0, 1), "bitterness.utilisation": (1,), "carbonation.solubility": (0,), "yeast.pitch_rate": (1, 2),
    "mash.strike_temperature": (2, 3), "lifting.recommended_weight": (0, 2, 3),
    "heat.mixing_temperature": (2,), "heat.infusion_mass": (0, 2), "heat.heating_energy": (1,), "lauter.equal_runnings": (0, 1),
    "lauter.first_running_share": (1,), "lauter.absorption_from_retention": (1, 2, 3), "remash.mash_and_drain": (1,),
    "remash.successive_mashes": (1,), "remash.liquor_of_successive_mashes": (3, 4, 5), "swatch.absorbance": (1,), "swatch.tristimulus": (0, 1),
    "swatch.srgb": (0, 1), "carbonation.gas_of_sugar": (0,), "keg.keg_carbonation": (1,),
    "packaging.beer_mass": (1,), "packaging.further_gas": (0,), "packaging.bottle_pressure": (2, 3),
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
    assert sign * float(FUNCTIONS[name](*arguments) - at_less) >= -1e-12 * max(abs(at_less), 1e-3)


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


@QUIET
@given(numbers(A(0.5, 5)), numbers(A(0, 40)))
def test_keg_pressure_and_carbonation_round_trip(volumes: float, celsius: float) -> None:
    """The pressure that keeps a carbonation gives it."""
    assert keg.keg_carbonation(keg.keg_pressure(volumes, celsius), celsius) == pytest.approx(volumes, abs=1e-12)


@QUIET
@given(numbers(_KEPT), numbers(A(0, 0.1)), numbers(A(0.5, 0.85)), numbers(A(0.5, 1)))
def test_absorption_and_retention_round_trip(kept: float, moisture: float, extract: float, conversion: float) -> None:
    """What the grain keeps, from what doesn't come back, from what it keeps."""
    absorbed = lauter.absorption_from_retention(kept, moisture, extract, conversion)
    assert lauter.retention_from_absorption(absorbed, moisture, extract, conversion) == pytest.approx(kept, abs=1e-12)


@QUIET
@given(numbers(A(20, 40)), numbers(_KEPT), numbers(A(1, 5)), numbers(A(1, 5)), numbers(A(0, 8)))
def test_two_mashes_lose_nothing(liquor: float, kept: float, mass: float, other: float, sparge: float) -> None:
    """Water and extract of both grists and liquors are in the runnings or in the wort that the grains keep."""
    first, second = remash.Portion(mass, 0.77, 0.04, 0.93, sparge), remash.Portion(other, 0.77, 0.04, 0.90, sparge)
    one, two = remash.successive_mashes(liquor, first, second, kept)
    stays = [kept * grist * sucrose.density(wort) for grist, wort in ((mass, one.second_wort), (other, two.second_wort))]
    extract = sum(weight * run.second_wort / 100.0 for weight, run in zip(stays, (one, two), strict=True))
    assert two.extract + extract == pytest.approx(0.77 * (0.93 * mass + 0.90 * other), rel=1e-11)
    assert two.water + sum(stays) - extract == pytest.approx(liquor + 0.04 * (mass + other) + 2.0 * sparge, rel=1e-11)
