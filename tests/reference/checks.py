"""Which column of which reference table must come out of which function, how nearly, and where the tolerance comes from.

Tolerances: as good as two published tables of the same thing agree where they differ; half a unit of the last printed
digit (and a little, 0.6) where the column was computed by the very formula that the function states.
"""

import math
import re
from collections.abc import Callable

from generator import units
from generator.science import beer, bitterness, carbonation, colour, ethanol, hydrometer, lifting, mash, refractometer, sucrose, water, yeast
from tests.reference.runner import Check, Input, Origin, Row
from tests.reference.science import Function

AIR = 0.0012
"""kg/L: density of air in which apparent gravities are meant (NBS Circular 440)."""
SIXTY_F = (60.0 - 32.0) * 5.0 / 9.0
LITRES_PER_US_GALLON = 3.785411784
GRAMS_PER_OUNCE = 28.349523125

_PINT_NAMES = {
    "inch": ("inch", "meter"),
    "US liquid gallon": ("gallon", "liter"),
    "US liquid quart": ("quart", "liter"),
    "US liquid pint": ("pint", "liter"),
    "US fluid ounce": ("fluid_ounce", "milliliter"),
    "US cup": ("cup", "milliliter"),
    "US beer barrel (31 US gal)": ("beer_barrel", "liter"),
    "imperial gallon": ("imperial_gallon", "liter"),
    "imperial quart": ("imperial_quart", "liter"),
    "imperial pint": ("imperial_pint", "milliliter"),
    "imperial fluid ounce": ("imperial_fluid_ounce", "milliliter"),
    "hectolitre": ("hectoliter", "liter"),
    "pound avoirdupois": ("pound", "kilogram"),
    "ounce avoirdupois": ("ounce", "gram"),
    "psi": ("psi", "pascal"),
    "bar": ("bar", "pascal"),
    "standard atmosphere": ("atmosphere", "pascal"),
    "lb/US gal": ("pound/gallon", "gram/liter"),
    "oz/US gal": ("ounce/gallon", "gram/liter"),
    "qt(US)/lb": ("quart/pound", "liter/kilogram"),
    "gravity points x gal/lb (ppg)": ("gallon/pound", "liter/kilogram"),
}
"""The units of the table as generator.units knows them; the others occur in no journal."""


def times(factor: float) -> Callable[[float, Row], float]:
    """A conversion by a factor."""
    return lambda value, _: value * factor


def cell(column: str, factor: float) -> Callable[[Row], float]:
    """A column in another unit."""
    return lambda row: factor * row.number(column)


def text(name: str) -> Callable[[Row], object]:
    """An argument that is a word and no column."""
    return lambda _: name


def at_most(column: str, limit: float) -> Callable[[Row], bool]:
    """The rows in which a column doesn't exceed a limit."""
    return lambda row: row.number(column) <= limit


def is_row(column: str, *texts: str) -> Callable[[Row], bool]:
    """The rows in which a column has one of these texts."""
    return lambda row: row[column] in texts


def in_vacuum(apparent: float, temperature: float = 20.0) -> float:
    """True specific gravity of one weighed in air."""
    w = float(water.density(temperature))
    return (apparent * (w - AIR) + AIR) / w


def in_air(density: float, temperature: float) -> float:
    """Apparent specific gravity, both liquids at one temperature, of a true density in kg/L."""
    return (density - AIR) / (float(water.density(temperature)) - AIR)


def _weighed(temperature: float) -> Callable[[float, Row], float]:
    return lambda density, _: in_air(density, temperature)


def referred_to(temperature: float, sg: float) -> float:
    """SG t/t of the wort whose SG 20/20 is given."""
    return float(sucrose.density(sucrose.extract_from_sg(sg), temperature) / water.density(temperature))


WATER = [
    *(
        Check("water_density", f"rho_{model}_kg_m3", water.density, ("t_C",), 0.02, "kg/m3", convert=times(1000))
        for model in ("IAPWS95", "Tanaka2001", "Kell1975", "OIML_R22")
    ),
    Check("water_density", "rho_Bettin1990_kg_m3", water.density, ("t_C",), 6e-5, "kg/m3", convert=times(1000)),
    Check(
        "water_density",
        "contraction_to_20C_pct_of_hot_volume",
        water.volume_at_20,
        (1.0, "t_C"),
        0.005,
        "percentage points",
        convert=lambda volume, _: 100.0 * (1.0 - volume),
    ),
]

_MASS = "sucrose_mass_pct"
_TEMPERATURES = ("10", "15", "15.5556", "20", "25", "30", "40", "50", "60", "70", "80")


def _computed(row: Row) -> bool:
    """Up to 65 % by mass, where the function stops."""
    return row.number(_MASS) <= 65.0


_OTHER_SUCROSE: tuple[tuple[str, float, Origin], ...] = (
    ("rho_20C_kg_m3_CRC102", 1000.0, "published"),
    ("D20/4_g_mL_NBS_C440_memory", 1000.0 / 999.973, "from memory"),
)


def _between(low: float, high: float) -> Callable[[Row], bool]:
    return lambda row: low <= row.number(_MASS) <= high


SUCROSE = [
    *(
        Check("sucrose_density", f"rho_{t}C_kg_m3_ICUMSA", sucrose.density, (_MASS, float(t)), 6e-4, "kg/m3", convert=times(1000), only=_computed)
        for t in _TEMPERATURES
    ),
    *(
        Check(
            "sucrose_density",
            _MASS,
            sucrose.extract_from_density,
            (cell(f"rho_{t}C_kg_m3_ICUMSA", 1e-3), float(t)),
            2e-4,
            "% by mass",
            only=at_most(_MASS, 60),
            note=f"{t}C",
        )
        for t in _TEMPERATURES
    ),
    *(
        Check("sucrose_density", column, sucrose.density, (_MASS, 20.0), tolerance, "kg/m3", 0.0, origin, times(factor), only, note=note)
        for column, factor, origin in _OTHER_SUCROSE
        for tolerance, only, note in ((0.10, _between(0, 40), "0-40"), (0.3, _between(40.5, 65), "above 40"))
    ),
    # Two density tables that differ by up to 0.10 kg/m3, hence 1e-4 SG and 0.02 degP; a printed gravity of five digits is 0.001 degP.
    Check(
        "plato_sg",
        "degP",
        sucrose.extract_from_sg,
        (lambda row: in_vacuum(row.number("SG20/20_apparent_table")),),
        0.02,
        "degP",
        origin="published",
        only=is_row("status", "published"),
        note="NBS C440",
    ),
    Check(
        "plato_sg",
        "degP",
        sucrose.extract_from_sg,
        (lambda row: in_vacuum(row.number("SG20/20_apparent_table")),),
        0.06,
        "degP",
        only=lambda row: row["status"] != "published",
        note="reconstructed",
    ),
    Check("plato_sg", "degP", sucrose.extract_from_sg, ("SG20/20_true_ICUMSA",), 0.01, "degP", note="ICUMSA"),
    Check("plato_sg", "SG20/20_true_ICUMSA", sucrose.sg_from_extract, ("degP",), 6e-6, "SG"),
    Check(
        "plato_sg",
        "SG20/20_apparent_table",
        sucrose.sg_from_extract,
        ("degP",),
        1e-4,
        "SG",
        origin="published",
        convert=lambda sg, _: in_air(sg * float(water.density(20.0)), 20.0),
        only=is_row("status", "published"),
    ),
    Check(
        "plato_sg",
        "SG20/20_apparent_ICUMSA",
        sucrose.density,
        ("degP",),
        6e-6,
        "SG",
        convert=_weighed(20.0),
    ),
    Check(
        "plato_sg",
        "SG15.56/15.56_true_ICUMSA",
        sucrose.density,
        ("degP", SIXTY_F),
        6e-6,
        "SG",
        convert=lambda density, _: density / float(water.density(SIXTY_F)),
    ),
    Check(
        "extract_points",
        "points_20/20",
        sucrose.sg_of_extract_mass,
        (cell("sucrose_g_per_L_at_ref_T", 1e-3), 1.0),
        6e-4,
        "points",
        convert=lambda sg, _: 1000.0 * (sg - 1.0),
    ),
    Check(
        "extract_points",
        "mass_pct",
        sucrose.sg_from_concentration,
        (cell("sucrose_g_per_L_at_ref_T", 1e-3),),
        6e-4,
        "% by mass",
        convert=lambda sg, _: float(sucrose.extract_from_sg(sg)),
    ),
    Check(
        "extract_points",
        "sucrose_g_per_L_at_ref_T",
        sucrose.extract_mass,
        (1.0, lambda row: 1.0 + row.number("points_20/20") / 1000.0),
        0.002,
        "g/L",
        convert=times(1000),
    ),
]


def _added_points(reading: str) -> Callable[[float, Row], float]:
    """Points to add to the reading, the result referred to the calibration temperature."""
    return lambda sg, row: 1000.0 * (referred_to(row.number("T_cal_C"), sg) - float(reading))


def _samples(low: float, high: float) -> Callable[[Row], bool]:
    return lambda row: low <= row.number("T_sample_C") <= high


HYDROMETER = [
    Check(
        "hydrometer_corrections",
        f"add_points_at_SG_{reading}",
        hydrometer.sg_20,
        (float(reading), "T_sample_C", "T_cal_C"),
        tolerance,
        "points",
        convert=_added_points(reading),
        only=only,
        note=note,
    )
    for reading in ("1.00", "1.01", "1.02", "1.03", "1.04", "1.05", "1.06", "1.07", "1.08", "1.09", "1.10", "1.12")
    for tolerance, only, note in ((0.1, _samples(10, 30), "10-30C"), (0.5, _samples(31, 60), "to 60C"))
]

_ABW = "ethanol_mass_pct"
ETHANOL = [
    Check("ethanol_density", "rho_20C_kg_m3_OIML", ethanol.density, (_ABW, 20.0), 6e-5, "kg/m3", convert=times(1000)),
    Check("ethanol_density", "rho_15.56C_kg_m3_OIML", ethanol.density, (_ABW, 15.56), 6e-5, "kg/m3", convert=times(1000)),
    Check("ethanol_density", "rho_20C_Perry7_kg_m3", ethanol.density, (_ABW,), 0.06, "kg/m3", 0.0, "published", times(1000), at_most(_ABW, 15)),
    Check("ethanol_density", "rho_20C_CRC102_kg_m3", ethanol.density, (_ABW,), 0.3, "kg/m3", 0.0, "published", times(1000)),
    Check("ethanol_density", "rho_20C_CoolProp_MEA_kg_m3", ethanol.density, (_ABW,), 0.35, "kg/m3", convert=times(1000)),
    Check("ethanol_density", "ethanol_vol_pct_20C", ethanol.abv, (_ABW, "SG20/20_OIML"), 1e-4, "% vol"),
    Check(
        "ethanol_density",
        "SG20/20_OIML",
        ethanol.sg_from_concentration,
        (lambda row: row.number(_ABW) / 100.0 * row.number("rho_20C_kg_m3_OIML") / 1000.0,),
        1e-6,
        "SG",
        only=at_most(_ABW, 30),
    ),
    Check(
        "ethanol_usp_15C56",
        "ethanol_vol_pct_at_15.56C",
        ethanol.density,
        (_ABW, SIXTY_F),
        0.01,
        "% vol",
        origin="published",
        convert=lambda density, row: row.number(_ABW) * density / float(ethanol.density(100.0, SIXTY_F)),
    ),
    *(
        Check(
            "ethanol_usp_15C56",
            f"SG_air_{name}",
            ethanol.density,
            (_ABW, t),
            1e-4,
            "SG",
            origin="published",
            convert=_weighed(t),
        )
        for name, t in (("25/25", 25.0), ("15.56/15.56", SIXTY_F))
    ),
]

BEER = [
    Check(
        "cutaia2009_means",
        "ABW_pct",
        beer.alcohol_by_weight,
        ("OE_degP", lambda row: float(sucrose.sg_from_extract(row.number("AE_degP")))),
        0.12,
        "% by mass",
        origin="published",
    ),
    # Balling's balance is good to about 0.25 degP on these measured beers.
    Check("cutaia2009_means", "RE_degP_or_pct", beer.real_extract, ("OE_degP", "ABW_pct"), 0.25, "degP", origin="published"),
    Check("co2_room", "RE_P", beer.real_extract, ("OE_P", "ABW_pct"), 2e-4, "degP"),
    # The table's wort is a printed apparent gravity, ours a true one: 5e-5 apart.
    Check("co2_room", "wort_kg", sucrose.density, ("OE_P",), relative=1e-4, convert=lambda density, row: density * row.number("wort_L")),
    Check("energy", "kJ_per_100mL_EU", beer.energy, ("ABW_pct", "RE_pct", "SG20/20"), 0.06, "kJ"),
]

_SOLUTE = "solute_mass_pct"
REFRACTION = [
    Check("refractive_index", "nD_sucrose", refractometer.index_of_sucrose, (_SOLUTE,), 1e-4, "", 0.0, "published", only=at_most(_SOLUTE, 40)),
    Check(
        "refractive_index",
        "nD_ethanol",
        refractometer.index_of_ethanol,
        (_SOLUTE,),
        1e-9,
        origin="published",
        convert=lambda added, _: 1.3330 + added,
        only=at_most(_SOLUTE, 20),
    ),
]

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


def _is_constant(row: Row) -> bool:
    return row["profile"].startswith("constant ")


def _constant(row: Row) -> float:
    return float(row["profile"].split()[1])


_IBU: tuple[tuple[str, float, Origin], ...] = (("IBU_exact_constant", 6e-4, "computed"), ("IBU_published_rounded", 0.5, "published"))
_UTILISATION = "tinseth_utilisation"
HOPS = [
    *(
        Check(_UTILISATION, f"{1.03 + step / 100:.3f}", bitterness.utilisation, ("boil_min", 1.03 + step / 100), 5e-4, "", 0.0, "from memory")
        for step in range(10)
    ),
    *(
        Check(
            "tinseth_anchors", "utilisation", bitterness.utilisation, ("boil_min", "gravity"), tolerance, "", 0.0, "published", only=only, note=note
        )
        for tolerance, only, note in (
            (1e-3, is_row("gravity", "1.05", "1.06", "1.08"), "printed"),
            (1.5e-3, is_row("gravity", "1.053", "1.072"), "interpolated"),
        )
    ),
    Check("tinseth_anchors", "closed_form", bitterness.utilisation, ("boil_min", "gravity"), 6e-6),
    *(
        Check(
            "ibu_worked_example",
            column,
            bitterness.bitterness,
            (cell("oz", GRAMS_PER_OUNCE), "alpha_pct", "boil_min", "boil_gravity", cell("volume_US_gal", LITRES_PER_US_GALLON)),
            absolute,
            "IBU",
            origin=origin,
        )
        for column, absolute, origin in _IBU
    ),
    Check("isomerisation_kinetics", "k1_per_min", bitterness.isomerisation_rate, ("T_C",), relative=6e-6),
    Check(
        "isomerisation_kinetics",
        "alpha_half_life_min",
        bitterness.isomerisation_rate,
        ("T_C",),
        6e-3,
        "min",
        convert=lambda rate, _: math.log(2.0) / rate,
    ),
    Check("isomerisation_kinetics", "relative_rate_to_100C", bitterness.boil_equivalent, (1.0, "T_C"), 6e-5),
    Check("hop_stand_equivalents", "boil_equivalent_min", bitterness.boil_equivalent, ("minutes", _constant), 0.01, "min", only=_is_constant),
    Check(
        "hop_stand_equivalents",
        "alpha_converted_fraction",
        bitterness.isomerisation_rate,
        (_constant,),
        6e-7,
        convert=lambda rate, row: 1.0 - math.exp(-rate * row.number("minutes")),
        only=_is_constant,
    ),
]

COLOUR = [
    Check("colour_formulas", "Morey_SRM", colour.beer_srm, ("MCU",), 1e-3, "SRM", 0.0, "published"),
    Check("colour_formulas", "EBC_exact_25_12.7", colour.ebc_from_srm, ("Morey_SRM",), 1e-3, "EBC", 0.0, "published"),
    Check(
        "unit_conversions",
        "factor",
        colour.ebc_from_srm,
        (1.0,),
        relative=1e-5,
        origin="published",
        only=is_row("unit", "EBC per SRM (same 430 nm absorbance)"),
    ),
    Check(
        "unit_conversions",
        "factor",
        colour.malt_colour_units,
        (1.0, 1.0),
        relative=1e-5,
        origin="published",
        only=is_row("unit", "gravity points x gal/lb (ppg)"),
    ),
]


def _mole_fraction(grams_per_litre: float, temperature: float) -> float:
    gas, solvent = grams_per_litre / 44.0095, 1000.0 * float(water.density(temperature)) / 18.015
    return gas / (gas + solvent)


_SUGARS = {"glucose monohydrate (dextrose)": "dextrose", "sucrose": "sucrose"}
CARBONATION = [
    Check("co2_solubility", "water_gL_at_pCO2_1atm_Weiss", carbonation.solubility, ("t_C",), 6e-5, "g/L"),
    Check("co2_solubility", "water_vol_at_pCO2_1atm", carbonation.carbonation, ("t_C", 0.0, 1.0, 0.5), 6e-5, "vol"),
    Check(
        "co2_solubility",
        "x1e3_100kPa_CRC",
        carbonation.solubility,
        ("t_C",),
        relative=0.02,
        origin="published",
        only=lambda row: row.number("t_C") >= 5.0,  # at 0 degC the two published sources are 3 % apart
        convert=lambda grams, row: 1000.0 * _mole_fraction(grams / 1.01325, row.number("t_C")),
    ),
    Check(
        "co2_solubility",
        "Bunsen_MurrayRiley",
        carbonation.solubility,
        ("t_C",),
        relative=0.02,
        origin="published",
        convert=times(22.263 / 44.0095),  # L/mol of the real gas at 0 degC
    ),
    Check(
        "priming_stoichiometry",
        "g_sugar_per_L_per_volume",
        carbonation.priming_sugar,
        (1.0 + float(carbonation.carbonation(20.0, 0.0, 1.0, 0.5)), 20.0, 1.0, lambda row: carbonation.CO2_PER_SUGAR[_SUGARS[row["sugar"]]]),
        6e-4,
        "g/L",
        only=is_row("sugar", *_SUGARS),
    ),
    Check(
        "priming_stoichiometry",
        "g_CO2_per_g",
        carbonation.carbonation,
        (0.0, 1.0, 1.0, lambda row: carbonation.CO2_PER_SUGAR[_SUGARS[row["sugar"]]]),
        1e-4,
        "g/g",
        convert=lambda volumes, _: 1.9768 * volumes - float(carbonation.solubility(0.0)),
        only=is_row("sugar", *_SUGARS),
    ),
]

YEAST = [
    Check(
        "yeast_reference",
        "low",
        yeast.pitch_rate,
        (1e9, 5.5 * LITRES_PER_US_GALLON, 15.0),
        0.5,
        "1e9 cells",
        origin="published",
        convert=lambda rate, _: 0.75 / rate,
        only=is_row("item", "worked pitch: 5.5 US gal, 15 P, 0.75"),
    ),
]


def _lift(row: Row) -> lifting.LiftGeometry:
    """The geometry that the case spells out, in cm; all of them are single lifts straight ahead."""
    found = re.search(r"H(\d+) V(\d+) D(\d+) CM(\d\.\d)", row["case"])
    assert found
    horizontal, vertical, travel, coupling = map(float, found.groups())
    return lifting.LiftGeometry(horizontal, vertical, travel, coupling=coupling)


LIFTING = [
    Check("niosh_lifting", "RWL", lifting.recommended_weight, (_lift,), 6e-4, "kg", only=is_row("unit", "kg RWL")),
]

UNITS = [
    *(
        Check(
            "unit_conversions",
            "factor",
            units.convert,
            (1.0, *map(text, names)),
            relative=1e-11,
            origin="published",
            only=is_row("unit", unit),
            note=unit,
        )
        for unit, names in _PINT_NAMES.items()
    ),
    Check("temperature_pairs", "C", units.convert, ("F", text("degF"), text("degC")), 1e-9, "C", 0.0, "published"),
]

CHECKS = (*WATER, *SUCROSE, *HYDROMETER, *ETHANOL, *BEER, *REFRACTION, *MASH, *HOPS, *COLOUR, *CARBONATION, *YEAST, *LIFTING, *UNITS)
