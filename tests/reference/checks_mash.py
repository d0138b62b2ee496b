"""The mash: which columns must come out of which functions of heat, lautering and mass balance. See `checks` on tolerances."""

from collections.abc import Callable

from generator.science import heat, lauter, mash, remash, sucrose, water
from tests.reference.inputs import at_most, field, is_row, times
from tests.reference.runner import Check, Input, Row
from tests.reference.science import Function

_MASHES = {
    "A": {"grist": 5.0, "liquor": 27.0, "sparge": 0.0, "conversion": 0.95},
    "B": {"grist": 5.0, "liquor": 15.0, "sparge": 12.6, "conversion": 0.95},
    "C": {"grist": 8.0, "liquor": 20.0, "sparge": 13.0, "conversion": 0.92},
}
"""What the source line of the table says of its three mashes; malt of 80 % dry extract and 4 % moisture."""
_G, _A = "g_kg_per_L_preboil", "a_L_per_kg"
_MOISTURE, _EXTRACT = 0.04, 0.80 * 0.96


def _of_mash(quantity: str) -> Callable[[Row], float]:
    return lambda row: _MASHES[row.label.removeprefix("column ")[0]][quantity]


def _per_litre(row: Row) -> float:
    return _of_mash("grist")(row) / row.number("preboil_L_at_20C")


def _runnings(efficiency: str) -> Callable[[Row], float]:
    """kg of extract in a litre of wort before the boil, all of the malt converted."""
    return lambda row: _EXTRACT * row.number(_G) * row.number(efficiency)


def _water(row: Row) -> float:
    return _of_mash("liquor")(row) + _MOISTURE * _of_mash("grist")(row)


def _liquor(row: Row) -> float:
    """L at 20 degC of mash and sparge liquor."""
    return (_of_mash("liquor")(row) + _of_mash("sparge")(row)) / 0.99820


def _unsparged(row: Row) -> bool:
    return _of_mash("sparge")(row) == 0.0


def _potential(row: Row) -> float:
    return float(mash.potential_extract(_of_mash("grist")(row), 80.0, 4.0))


# The gravities of this table and the next come from a rational fit to apparent gravities, ours are true ones: 6e-5 SG
# or 0.015 degP apart, which is 1e-3 of the extract. Runnings are additive volumes here, masses there: 1e-4 apart.
_MASH_BALANCES: tuple[tuple[str, Function, tuple[Input, ...], float, str, Callable[[float, Row], float]], ...] = (
    ("extract_dissolved_kg", mash.dissolved_extract, (_water, "P_first_wort"), 1e-6, "kg", times(1)),
    (
        "P_first_wort",
        mash.first_wort,
        (lambda row: _of_mash("liquor")(row) / _of_mash("grist")(row), _EXTRACT, _MOISTURE, _of_mash("conversion")),
        1e-6,
        "degP",
        times(1),
    ),
    ("preboil_SG", sucrose.sg_from_extract, ("preboil_P",), 6e-5, "SG", times(1)),
    ("preboil_SG", sucrose.sg_of_extract_mass, ("preboil_extract_kg", "preboil_L_at_20C"), 6e-5, "SG", times(1)),
    ("preboil_L_at_20C", sucrose.density, ("preboil_P",), 2e-3, "L", lambda density, row: row.number("preboil_mass_kg") / density),
    ("preboil_extract_kg", sucrose.extract_mass, ("preboil_L_at_20C", "preboil_SG"), 5e-3, "kg", times(1)),
    ("conversion_eff", mash.percent_of, ("extract_dissolved_kg", _potential), 1e-6, "", times(0.01)),
    ("mash_eff_of_potential", mash.percent_of, ("preboil_extract_kg", _potential), 1e-6, "", times(0.01)),
    (
        "apparent_absorption_L_per_kg (water in - wort out)",
        mash.apparent_absorption,
        (_liquor, "preboil_L_at_20C", _of_mash("grist")),
        1e-4,
        "L/kg",
        times(1),
    ),
)

MASH = [
    *(
        Check("mash_lauter_examples", "lauter_eff", mash.lauter_without_sparge, (_per_litre, 1.0), 1e-6, only=_unsparged, transposed=True),
        Check(
            "mash_lauter_examples",
            "lauter_eff",
            mash.lauter_with_one_sparge,
            (_per_litre, 1.0, lambda row: row.number("drained_first_L") / row.number("preboil_L_at_20C")),
            1e-4,
            only=lambda row: not _unsparged(row),
            transposed=True,
        ),
    ),
    *(
        Check("congress_extract", column, function, inputs, 0.011, "%", convert=times(factor))
        for column, function, inputs, factor in (
            ("extract_as_is_pct", mash.potential_extract, (1.0, "extract_dry_basis_pct", "malt_moisture_M_pct"), 100.0),
            ("extract_as_is_pct", mash.dissolved_extract, (lambda row: 8.0 + row.number("malt_moisture_M_pct") / 100.0, "wort_extract_P_pct"), 100.0),
        )
    ),
    *(
        Check("first_wort_gravity", column, mash.first_wort, ("R_kg_per_kg", extract * (1.0 - moisture), moisture, conversion), 6e-4, "degP")
        for column, extract, moisture, conversion in (
            ("P_max e.80 m0", 0.80, 0.0, 1.0),
            ("P_max e.80 m.04", 0.80, 0.04, 1.0),
            ("P_max e.80 m.045", 0.80, 0.045, 1.0),
            ("P_max e.82 m.04", 0.82, 0.04, 1.0),
            ("P c.95 (e.80 m.04)", 0.80, 0.04, 0.95),
            ("P c.90", 0.80, 0.04, 0.90),
            ("P c.85", 0.80, 0.04, 0.85),
            ("P c.80", 0.80, 0.04, 0.80),
        )
    ),
    *(
        Check("mash_lauter_examples", column, function, inputs, absolute, unit, transposed=True, convert=convert)
        for column, function, inputs, absolute, unit, convert in _MASH_BALANCES
    ),
    *(
        Check("lauter_efficiency_theory", column, function, (_G, _A, *share), 6e-5)
        for column, function, share in (
            ("eta_no_sparge", mash.lauter_without_sparge, ()),
            ("eta_one_batch_sparge_equal", mash.lauter_with_one_sparge, (0.5,)),
            ("eta_one_sparge_numeric_optimum", mash.lauter_with_one_sparge, ("optimum_first_fraction",)),
        )
    ),
    # Apparent against true gravities as above, printed to four digits.
    *(
        Check(
            "lauter_efficiency_theory",
            f"SG_{way}",
            sucrose.sg_of_extract_mass,
            (_runnings(eta), 1.0),
            1.5e-4,
            "SG",
            only=at_most(f"P_{way}", 25),
        )
        for way, eta in (("no_sparge", "eta_no_sparge"), ("one_sparge", "eta_one_batch_sparge_equal"))
    ),
    *(
        Check("mash_heat_examples", "recomputed", mash.strike_temperature, inputs, 1e-3, "C", only=is_row("id", name), note=name)
        for name, inputs in (
            ("LY-6", (63.0, 5.0, 5.0, 20.0)),
            ("MET-8", (67.0, 1.0, 3.0 * float(water.density(20.0)), 20.0)),
            ("MET-10", (67.0, 5.0, 15.0 * float(water.density(20.0)), 20.0, 1.0)),
        )
    ),
    *(
        Check("boil_chain_example", column, function, inputs, absolute, unit, transposed=True)
        for column, function, inputs, absolute, unit in (
            ("preboil_L_20C", water.volume_at_20, ("preboil_L_hot_98C (x 0.99820/0.95980)", 98.0), 0.002, "L"),
            ("OG_SG", sucrose.sg_from_extract, ("postboil_P",), 6e-5, "SG"),
            ("postboil_P", sucrose.extract_from_sg, ("OG_SG",), 0.015, "degP"),
        )
    ),
    Check(
        "boil_chain_example",
        "brewhouse_eff_into_fermenter",
        mash.percent_of,
        (lambda row: float(sucrose.extract_mass(row.number("fermenter_L"), row.number("OG_SG"))), 5.0 * _EXTRACT),
        1e-3,
        convert=times(0.01),
        transposed=True,
    ),
]


def _portion(row: Row) -> remash.Portion:
    return remash.Portion(_of_mash("grist")(row), _EXTRACT, _MOISTURE, _of_mash("conversion")(row), _of_mash("sparge")(row))


def _mash_liquor(row: Row) -> remash.Liquor:
    return remash.Liquor(_of_mash("liquor")(row))


def _less(column: str) -> Callable[[float, Row], float]:
    return lambda value, row: value - row.number(column)


def _sparged(row: Row) -> bool:
    return not _unsparged(row)


# A litre of wort weighs 5e-5 more or less by the two sugar tables, which is 2e-3 L and 2e-4 kg of a mash.
_RUNNINGS: tuple[tuple[str, str, float, str, Callable[[float, Row], float], Callable[[Row], bool]], ...] = (
    ("mash_liquid_L_at_20C", "mash_liquid", 2e-3, "L", times(1), lambda _: True),
    ("P_first_wort", "first_wort", 1e-6, "degP", times(1), lambda _: True),
    ("drained_first_L", "first_volume", 2e-3, "L", times(1), lambda _: True),
    ("extract_first_kg", "first_extract", 2e-4, "kg", times(1), lambda _: True),
    ("P_second_wort", "second_wort", 6e-4, "degP", times(1), _sparged),
    ("drained_second_L", "volume", 2e-3, "L", _less("drained_first_L"), _sparged),
    ("extract_second_kg", "extract", 1e-4, "kg", _less("extract_first_kg"), _sparged),
    ("preboil_P", "wort", 1e-5, "degP", times(1), lambda _: True),
    ("preboil_L_at_20C", "volume", 2e-3, "L", times(1), lambda _: True),
    ("preboil_extract_kg", "extract", 1e-4, "kg", times(1), lambda _: True),
    ("preboil_mass_kg", "water", 2e-3, "kg", lambda kg, row: kg + row.number("preboil_extract_kg"), lambda _: True),
    ("lauter_eff", "extract", 3e-5, "", lambda kg, row: kg / row.number("extract_dissolved_kg"), lambda _: True),
)
_ABSORPTION = "apparent_absorption_L_per_kg (water in - wort out)"

LAUTERING = [
    *(
        Check("lauter_efficiency_theory", column, lauter.equal_runnings, (_G, _A, runnings), 6e-5)
        for column, runnings in (("eta_no_sparge", 1.0), ("eta_one_batch_sparge_equal", 2.0), ("eta_two_batch_sparges_equal", 3.0))
    ),
    *(
        Check(
            "lauter_efficiency_theory",
            f"P_{way}",
            sucrose.sg_of_extract_mass,
            (_runnings(eta), 1.0),
            0.03,
            "degP",
            convert=lambda sg, _: float(sucrose.extract_from_sg(sg)),
            only=at_most(f"P_{way}", 25),
        )
        for way, eta in (("no_sparge", "eta_no_sparge"), ("one_sparge", "eta_one_batch_sparge_equal"))
    ),
    *(
        Check(
            "mash_lauter_examples",
            column,
            field(remash.mash_and_drain, name),
            (_mash_liquor, _portion, 1.0),
            absolute,
            unit,
            convert=convert,
            only=only,
            transposed=True,
        )
        for column, name, absolute, unit, convert, only in _RUNNINGS
    ),
    # The formula takes 0.6165 L for a kilogram of extract in any wort; the worts of the table lie between 0.616 and 0.618.
    Check(
        "mash_lauter_examples",
        _ABSORPTION,
        lauter.absorption_from_retention,
        ("retained_wort_L_per_kg", _MOISTURE, _EXTRACT, _of_mash("conversion")),
        1e-3,
        "L/kg",
        transposed=True,
    ),
    Check(
        "mash_lauter_examples",
        "retained_wort_L_per_kg",
        lauter.retention_from_absorption,
        (_ABSORPTION, _MOISTURE, _EXTRACT, _of_mash("conversion")),
        1e-3,
        "L/kg",
        transposed=True,
    ),
    # What runs off after the sparge is a little less than the sparge: the grain swaps strong wort for weak at the same volume.
    Check(
        "mash_lauter_examples",
        "drained_first_L",
        lauter.first_running_share,
        ("preboil_L_at_20C", lambda row: _of_mash("sparge")(row) / 0.99820),
        0.01,
        "L",
        convert=lambda share, row: share * row.number("preboil_L_at_20C"),
        transposed=True,
    ),
    Check(
        "boil_chain_example",
        "postboil_L_20C",
        sucrose.density,
        ("postboil_P",),
        2e-3,
        "L",
        convert=lambda density, row: row.number("postboil_mass_kg") / density,
        transposed=True,
    ),
    *(
        Check("boil_chain_example", column, mash.percent_of, inputs, 1e-4, unit, transposed=True)
        for column, inputs, unit in (
            ("evaporation_pct_of_preboil_mass", ("evaporated_kg", 26.342815), "%"),
            ("postboil_P", (3.351921, "postboil_mass_kg"), "degP"),
        )
    ),
]


def _celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


_LITRE = float(water.density(20.0))
# The text counts in pounds and quarts, malt as 0.2 qt/lb of water; the formulas are the same in any unit of mass.
_HEAT: tuple[tuple[str, Function, tuple[Input, ...], str, Callable[[float, Row], float]], ...] = (
    ("HTB-1", mash.strike_temperature, (_celsius(104.0), 8.0, 8.0, _celsius(70.0), 0.0, 0.2), "F", lambda t, _: 1.8 * t + 32.0),
    ("HTB-2", heat.infusion_mass, (_celsius(104.0), _celsius(140.0), _celsius(210.0), 8.0, 8.0, 0.0, 0.2), "qt", times(1)),
    ("HTB-3", heat.infusion_mass, (_celsius(140.0), _celsius(158.0), _celsius(210.0), 8.0, 12.9, 0.0, 0.2), "qt", times(1)),
    ("LY-5", heat.mixing_temperature, (5.0, 80.0, 5.0, 20.0), "C", times(1)),
    ("MET-7", mash.strike_temperature, (67.0, 1.0, 3.0 * _LITRE, 20.0, 0.0, 0.38), "C", times(1)),
    ("MET-9", mash.strike_temperature, (67.0, 1.0, 3.0 * _LITRE, 20.0, 0.0, 0.41), "C", times(1)),
    ("MET-11", heat.infusion_mass, (52.0, 66.0, 98.0, 5.0, 15.0), "kg", times(1)),
)

HEAT = [
    *(
        Check("mash_heat_examples", "recomputed", function, inputs, 1e-3, unit, convert=convert, only=is_row("id", name), note=name)
        for name, function, inputs, unit, convert in _HEAT
    ),
    *(
        Check("mash_heat_examples", "published_value", function, inputs, 0.05, unit, 0.0, "from memory", only=is_row("id", name), note=name)
        for name, function, inputs, unit, _ in _HEAT
        if name in {"HTB-2", "HTB-3"}
    ),
]
