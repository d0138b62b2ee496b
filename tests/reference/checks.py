"""Which column of which reference table must come out of which function, how nearly, and where the tolerance comes from.

Tolerances: as good as two published tables of the same thing agree where they differ; half a unit of the last printed
digit (and a little, 0.6) where the column was computed by the very formula that the function states.
"""

import re
from collections.abc import Callable

from generator import units
from generator.science import beer, ethanol, hydrometer, lifting, refractometer, sucrose, water
from tests.reference.checks_kinetics import KINETICS
from tests.reference.checks_mash import HEAT, LAUTERING, MASH
from tests.reference.checks_practice import CARBONATION, COLOUR, HOPS, KEG, SWATCH, YEAST
from tests.reference.inputs import at_most, cell, is_row, text, times
from tests.reference.runner import Check, Origin, Row

AIR = 0.0012
"""kg/L: density of air in which apparent gravities are meant (NBS Circular 440)."""
SIXTY_F = (60.0 - 32.0) * 5.0 / 9.0

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

CHECKS = (
    *(*WATER, *SUCROSE, *HYDROMETER, *ETHANOL, *BEER, *REFRACTION),
    *(*MASH, *LAUTERING, *HEAT),
    *(*HOPS, *COLOUR, *SWATCH, *CARBONATION, *KEG, *YEAST),
    *(*KINETICS, *LIFTING, *UNITS),
)
