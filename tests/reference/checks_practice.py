"""Hops, colour, carbon dioxide and yeast: which columns must come out of which functions. See `checks` on tolerances."""

import math
from collections.abc import Callable

from generator.science import bitterness, carbonation, colour, isomerisation, keg, swatch, water, yeast
from tests.reference.inputs import GRAMS_PER_OUNCE, LITRES_PER_US_GALLON, at_most, cell, field, is_row, times
from tests.reference.runner import Check, Origin, Row


def _is_constant(row: Row) -> bool:
    return row["profile"].startswith("constant ")


def _constant(row: Row) -> float:
    return float(row["profile"].split()[1])


def _cooling(time_constant: str) -> Callable[[Row], bool]:
    return lambda row: f"tau {time_constant} min" in row["profile"]


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
    Check("isomerisation_kinetics", "k2_per_min", isomerisation.loss_rate, ("T_C",), relative=6e-6),
    Check(
        "isomerisation_kinetics",
        "t_of_max_iso_min",
        isomerisation.loss_rate,
        ("T_C",),
        0.06,
        "min",
        convert=lambda loss, row: math.log(row.number("k1_per_min") / loss) / (row.number("k1_per_min") - loss),
    ),
    *(
        Check("isomerisation_kinetics", f"iso_frac_{column}", isomerisation.iso_fraction, (minutes, "T_C"), 6e-6)
        for column, minutes in (("10min", 10.0), ("20", 20.0), ("30", 30.0), ("45", 45.0), ("60", 60.0), ("90", 90.0), ("120", 120.0))
    ),
    Check("hop_stand_equivalents", "iso_fraction_with_loss", isomerisation.iso_fraction, ("minutes", _constant), 6e-7, only=_is_constant),
    *(
        Check("hop_stand_equivalents", column, function, ("minutes", *profile), absolute, unit, convert=convert, only=only, note=note)
        for function, profile, only, note in (
            (isomerisation.evenly_cooling_stand, (98.0, 80.0), is_row("profile", "linear 98 to 80 C"), "linear"),
            (isomerisation.freely_cooling_stand, (100.0, 20.0, 25.0), _cooling("25"), "tau 25"),
            (isomerisation.freely_cooling_stand, (100.0, 20.0, 300.0), _cooling("300"), "tau 300"),
        )
        for column, absolute, unit, convert in (
            ("boil_equivalent_min", 6e-5, "min", times(1)),
            ("alpha_converted_fraction", 6e-7, "", lambda minutes, _: 1.0 - math.exp(-float(bitterness.isomerisation_rate(100.0)) * minutes)),
        )
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

SWATCH = [
    *(Check("srm_srgb_5cm_d65", column, field(swatch.tristimulus, place), ("SRM", 5.0), 2e-4) for place, column in enumerate("XYZ")),
    *(Check("srm_srgb_5cm_d65", column, field(swatch.srgb, place), ("SRM", 5.0), 1.0, "of 255") for place, column in enumerate(("R8", "G8", "B8"))),
]


def _mole_fraction(grams_per_litre: float, temperature: float) -> float:
    gas, solvent = grams_per_litre / 44.0095, 1000.0 * float(water.density(temperature)) / 18.015
    return gas / (gas + solvent)


def _has_mass(row: Row) -> bool:
    return bool(row["molar_mass_g_mol"])


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
KEG = [
    # The table's vapour pressure is another formulation's, 0.15 % more.
    Check("co2_solubility", "water_vol_at_total_1atm", keg.keg_carbonation, (0.0, "t_C"), 1.2e-4, "vol"),
    # Of a relation in use for beer: up to 6.5 % less than water holds.
    Check("co2_solubility", "beer_vol_at_1.013bar_formula", keg.keg_carbonation, (0.0, "t_C"), relative=0.065, only=at_most("t_C", 25)),
    *(
        Check(
            "priming_stoichiometry",
            column,
            carbonation.gas_of_sugar,
            ("molar_mass_g_mol", "mol_CO2_per_mol"),
            absolute,
            unit,
            convert=convert,
            only=_has_mass,
        )
        for column, absolute, unit, convert in (
            ("g_CO2_per_g", 6e-5, "g/g", times(1)),
            ("g_sugar_per_L_per_volume", 6e-4, "g/L", lambda share, _: carbonation.GRAMS_PER_VOLUME / share),
        )
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
