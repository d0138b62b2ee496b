"""Worked examples with their sources: [P] printed and seen, [C] computed from a published formula, [M] from memory."""

import math

import pytest

from generator.science import beer, bitterness, carbonation, colour, ethanol, lifting, mash, refractometer, sucrose, water, yeast
from tests.reference.checks import in_vacuum
from tests.reference.inputs import LITRES_PER_US_GALLON
from tests.reference.runner import read
from tests.reference.science import stands_for

GAS_CONSTANT = 8.314462618e-3
"""kJ/(mol·K), SI 2019."""


@pytest.mark.parametrize(
    ("fraction", "celsius", "printed"),
    [(0.0, 20.0, 998.20123), (1.0, 20.0, 789.2391233), (0.0, 0.0, 999.8369332), (1.0, 0.0, 806.2151206), (0.5, 20.0, 913.7705950)],
)
@stands_for(ethanol.density)
def test_alcohol_tables_give_their_printed_self_checks(fraction: float, celsius: float, printed: float) -> None:
    """[P] OIML R 22:1975, five densities printed beside a public copy of its coefficients, to the last digit."""
    assert 1000.0 * float(ethanol.density(100.0 * fraction, celsius)) == pytest.approx(printed, abs=1e-7)


@pytest.mark.parametrize(("extract", "printed"), [(0.1, 1.00039), (3.8, 1.01490), (4.0, 1.01569), (7.6, 1.03017), (7.9, 1.03139)])
@stands_for(sucrose.extract_from_sg)
def test_sugar_tables_between_whole_degrees(extract: float, printed: float) -> None:
    """[P] USDA sucrose conversion table 135-A-50 (after NBS Circular 440), apparent 20/20; the two density tables are 0.02 °P apart."""
    assert sucrose.extract_from_sg(in_vacuum(printed)) == pytest.approx(extract, abs=0.02)


@pytest.mark.parametrize(("celsius", "percent"), [(60.0, 1.57), (80.0, 2.69), (98.0, 3.86)])
@stands_for(sucrose.density, water.volume_at_20)
def test_wort_contracts_a_little_more_than_water(celsius: float, percent: float) -> None:
    """[C] ICUMSA SPS-4: wort of 12 % cooled to 20 °C; taking water instead costs 0.07 percentage points at most."""
    wort = 100.0 * (1.0 - float(sucrose.density(12.0, celsius)) / float(sucrose.density(12.0)))
    assert wort == pytest.approx(percent, abs=0.006)
    assert 0.0 < wort - 100.0 * (1.0 - float(water.volume_at_20(1.0, celsius))) < 0.07


@stands_for(sucrose.extract_mass, sucrose.extract_of_wort, sucrose.sg_of_extract_mass)
def test_a_pound_of_sugar_in_a_gallon() -> None:
    """[C] One pound in one US gallon, 119.826427 g/L by definition, is 46.13 points 20/20 (ICUMSA); texts print 46.21."""
    sg = sucrose.sg_of_extract_mass(0.45359237, LITRES_PER_US_GALLON)
    assert 1000.0 * (float(sg) - 1.0) == pytest.approx(46.125, abs=6e-4)
    assert sucrose.extract_mass(LITRES_PER_US_GALLON, sg) == pytest.approx(0.45359237, rel=1e-10)
    assert sucrose.extract_of_wort(LITRES_PER_US_GALLON, 11.475) == pytest.approx(0.45359237, rel=1e-4)  # 11.475 % of the same table


@stands_for(yeast.pitch_rate)
def test_pitch_of_the_press_article() -> None:
    """[P] 5.5 US gal of 15 °P at 0.75 million per mL and °P are 234.2e9 cells (the article prints 234)."""
    assert yeast.pitch_rate(234.2e9, 5.5 * LITRES_PER_US_GALLON, 15.0) == pytest.approx(0.75, abs=2e-4)


@stands_for(
    mash.potential_extract, mash.first_wort, mash.dissolved_extract, mash.lauter_with_one_sparge, mash.percent_of, mash.apparent_absorption,
    mash.evaporation_rate, sucrose.sg_of_extract_mass, sucrose.extract_mass, sucrose.extract_from_sg, sucrose.density,
)  # fmt: skip
def test_chain_from_grist_to_fermenter() -> None:
    """[C] Example B of the mass balance, 5 kg with 15 and 12.6 kg of liquor, then 3 kg boiled off in an hour and 1.5 L left behind."""
    # The balance was made with gravities of a rational fit to apparent values: 6e-5 SG, or 1e-3 of an extract, from ours.
    chain = read("mash_lauter_examples", transposed=True).rows[1] | read("boil_chain_example", transposed=True).rows[0]
    expected = {quantity: float(text) for quantity, text in chain.items()}
    potential = mash.potential_extract(5.0, 80.0, 4.0)
    first = mash.first_wort(15.0 / 5.0, 0.768, 0.04, 0.95)
    dissolved = mash.dissolved_extract(15.0 + 5.0 * 0.04, first)
    assert mash.percent_of(dissolved, potential) == pytest.approx(95.0, abs=1e-9)
    volume = expected["preboil_L_at_20C"]
    lauter = mash.lauter_with_one_sparge(5.0 / volume, 1.0, expected["drained_first_L"] / volume)
    assert lauter == pytest.approx(expected["lauter_eff"], abs=1e-4)
    kettle = lauter * dissolved
    assert kettle == pytest.approx(expected["preboil_extract_kg"], rel=1e-4)
    assert sucrose.sg_of_extract_mass(kettle, volume) == pytest.approx(expected["preboil_SG"], abs=6e-5)
    liquor = (15.0 + 12.6) / float(water.density(20.0))
    assert mash.apparent_absorption(liquor, volume, 5.0) == pytest.approx(expected["apparent_absorption_L_per_kg (water in - wort out)"], abs=1e-4)

    strength = 100.0 * float(kettle) / (expected["preboil_mass_kg"] - 3.0)
    boiled = (expected["preboil_mass_kg"] - 3.0) / float(sucrose.density(strength))
    original = sucrose.sg_of_extract_mass(kettle, boiled)
    assert original == pytest.approx(expected["OG_SG"], abs=6e-5)
    assert sucrose.extract_from_sg(original) == pytest.approx(expected["postboil_P"], abs=0.0015)
    assert mash.evaporation_rate(volume, boiled, 1.0) == pytest.approx(volume - expected["postboil_L_20C"], abs=2e-3)
    fermented = sucrose.extract_mass(boiled - 1.5, original)
    assert mash.percent_of(fermented, potential) == pytest.approx(100.0 * expected["brewhouse_eff_into_fermenter"], rel=1e-4)


@stands_for(mash.lauter_without_sparge)
@pytest.mark.parametrize(("grist_per_litre", "retention"), [(0.2, 1.0), (0.35, 0.8)])
def test_lautering_against_mixing_step_by_step(grist_per_litre: float, retention: float) -> None:
    """Mass balance made here: drain a well mixed mash, refill to the same volume of wort, mix and drain again; volumes add up."""
    kept = retention * grist_per_litre
    once = 1.0 / (1.0 + kept)
    assert mash.lauter_without_sparge(grist_per_litre, retention) == pytest.approx(once, abs=1e-15)
    for share in (0.3, 0.5, 0.8):
        first = share / (share + kept)
        second = (1.0 - first) * (1.0 - share) / (1.0 - share + kept)
        assert mash.lauter_with_one_sparge(grist_per_litre, retention, share) == pytest.approx(first + second, abs=1e-14)


@stands_for(mash.strike_temperature)
def test_strike_temperature_of_the_mixing_formula() -> None:
    """[M] Lewis and Young, Brewing, 2nd ed. 2001, malt 0.4 of water: 5 kg at 20 °C and 5 kg at 80 °C make (5·80 + 2·20)/7 °C; none printed."""
    assert mash.strike_temperature((5.0 * 80.0 + 2.0 * 20.0) / 7.0, 5.0, 5.0, 20.0) == pytest.approx(80.0, abs=1e-9)


@stands_for(mash.mash_space)
def test_room_of_a_mash() -> None:
    """[M] Palmer, How to Brew, ch. 16: malt takes up 0.67 L/kg; 15 L of liquor at 80 °C are 2.7184 % more (IAPWS-95)."""
    assert mash.mash_space(15.0, 80.0, 5.0) == pytest.approx(15.0 * 1.027184 + 3.35, abs=2e-4)


@pytest.mark.parametrize(("celsius", "rate", "half_life", "relative"), [
    (75, 0.001275, 543.6, 0.1021), (80, 0.002065, 335.6, 0.1653), (85, 0.003300, 210.0, 0.2642),
    (90, 0.005206, 133.1, 0.4168), (95, 0.008112, 85.4, 0.6495), (100, 0.012490, 55.5, 1.0),
])  # fmt: skip
@stands_for(bitterness.isomerisation_rate, bitterness.boil_equivalent)
def test_isomerisation(celsius: float, rate: float, half_life: float, relative: float) -> None:
    """[C] Malowicki and Shellhammer, J. Agric. Food Chem. 53 (2005) 4434, first-order rates in a buffer of pH 5.2."""
    ours = float(bitterness.isomerisation_rate(celsius))
    assert ours == pytest.approx(rate, abs=6e-7)
    assert math.log(2.0) / ours == pytest.approx(half_life, abs=0.06)
    assert bitterness.boil_equivalent(1.0, celsius) == pytest.approx(relative, abs=6e-5)


@stands_for(bitterness.isomerisation_rate)
def test_activation_energy() -> None:
    """[P] The abstract prints 98.6 kJ/mol, which the rates at two temperatures must give back."""
    rates = [float(bitterness.isomerisation_rate(t)) for t in (90.0, 130.0)]
    assert GAS_CONSTANT * math.log(rates[1] / rates[0]) / (1.0 / 363.15 - 1.0 / 403.15) == pytest.approx(98.6, abs=0.05)


@stands_for(bitterness.utilisation)
def test_limits_of_utilisation() -> None:
    """[C] Tinseth's closed form: nothing without boiling, 0.25368 for ever at 1.050, 0.39759 in water, the most there is."""
    assert bitterness.utilisation(0.0, 1.050) == 0.0
    assert bitterness.utilisation(1e5, 1.050) == pytest.approx(0.25368, abs=6e-6)
    assert bitterness.utilisation(1e5, 1.000) == pytest.approx(0.39759, abs=6e-6)


@stands_for(bitterness.bitterness)
def test_two_additions_of_the_book() -> None:
    """[P] Palmer, How to Brew, ch. 5: 1.5 oz of 6.4 % for 60 min and 1 oz of 4.6 % for 15 min at 1.080 in 5 US gal: 25 + 6 = 31 IBU."""
    both = [
        float(bitterness.bitterness(oz * 28.349523125, alpha, t, 1.080, 5 * LITRES_PER_US_GALLON)) for oz, alpha, t in ((1.5, 6.4, 60), (1, 4.6, 15))
    ]
    assert [round(part) for part in both] == [25, 6]
    assert sum(both) == pytest.approx(31.35, abs=0.006)


@stands_for(colour.lovibond_from_srm, colour.ebc_from_srm, colour.beer_srm)
def test_colours() -> None:
    """[M] Malt SRM = 1.3546 °L − 0.76; [P] ASBC Beer-10A: EBC is 25/12.7 of SRM; [P] Morey 1995: 11.647 SRM at 20 MCU."""
    for lovibond in (1.7, 10.0, 350.0):
        assert colour.lovibond_from_srm(1.3546 * lovibond - 0.76) == pytest.approx(lovibond, rel=1e-12)
    assert colour.ebc_from_srm(10.0) == pytest.approx(10.0 * 25.0 / 12.7, rel=1e-5)
    assert colour.beer_srm(20.0) == pytest.approx(11.647, abs=1e-3)


def test_balling_balances() -> None:
    """[P] Balling 1865 as MEBAK B-590.09.900 quotes it: 2.0665 g of extract are 1 g of alcohol, 0.9565 of gas and 0.11 of yeast."""
    assert pytest.approx(1.0 + beer.CO2_PER_ALCOHOL + beer.YEAST_PER_ALCOHOL, abs=1e-12) == beer.EXTRACT_PER_ALCOHOL
    sugar, alcohol, gas = 180.156, 2 * 46.0684, 2 * 44.0095  # g/mol, IUPAC: without growth 0.9553 g of gas to a gram of alcohol
    assert sugar == pytest.approx(alcohol + gas, abs=0.002)
    assert pytest.approx(gas / alcohol, abs=0.0015) == beer.CO2_PER_ALCOHOL


@pytest.mark.parametrize(
    ("original", "apparent", "alcohol", "grams_per_litre"), [(12.0, 3.0, 3.73, 36.0), (16.0, 4.0, 5.09, 49.0), (20.0, 5.0, 6.50, 63.0)]
)
@stands_for(beer.alcohol_by_weight, sucrose.sg_from_extract)
def test_carbon_dioxide_of_a_fermentation(original: float, apparent: float, alcohol: float, grams_per_litre: float) -> None:
    """[C] Balling with the density balance, 75 % apparent attenuation; the gas in whole grams per litre of beer."""
    sg = float(sucrose.sg_from_extract(apparent))
    made = float(beer.alcohol_by_weight(original, sg))
    assert made == pytest.approx(alcohol, abs=0.006)
    assert 10.0 * beer.CO2_PER_ALCOHOL * made * sg * 0.9982 == pytest.approx(grams_per_litre, abs=0.6)


@stands_for(beer.real_extract, beer.alcohol_by_weight)
def test_carbon_dioxide_of_twenty_litres() -> None:
    """[C] 20 L of 12 °P, 78 % attenuated: 759.8 g by Balling with 0.1808 OE + 0.8192 AE [P, De Clerck] for the real extract."""
    # The density balance gives 2 % less alcohol; that is how far the two published ways to the real extract are apart here.
    row = read("co2_room").rows[0]
    wort, apparent = 20.0 * float(sucrose.density(12.0)), 12.0 * (1.0 - 0.78)

    def gas(alcohol: float) -> float:
        left = wort * 100.0 / (100.0 + (beer.CO2_PER_ALCOHOL + beer.YEAST_PER_ALCOHOL) * alcohol)
        return 10.0 * left * beer.CO2_PER_ALCOHOL * alcohol

    assert beer.real_extract(12.0, row.number("ABW_pct")) == pytest.approx(0.1808 * 12.0 + 0.8192 * apparent, abs=1e-4)
    assert gas(row.number("ABW_pct")) == pytest.approx(row.number("CO2_g"), abs=0.2)
    assert gas(float(beer.alcohol_by_weight(12.0, sucrose.sg_from_extract(apparent)))) == pytest.approx(row.number("CO2_g"), rel=0.025)


@pytest.mark.parametrize(("original", "og", "fg", "alcohol", "volume_percent"), [
    (8.0, 1.03176, 1.00777, 2.437, 3.106), (12.0, 1.04833, 1.01170, 3.734, 4.778), (16.0, 1.06538, 1.01565, 5.088, 6.536),
    (20.0, 1.08292, 1.01964, 6.504, 8.387), (24.0, 1.10098, 1.02365, 7.984, 10.337), (28.0, 1.11957, 1.02769, 9.534, 12.392),
])  # fmt: skip
@stands_for(beer.alcohol_by_weight, ethanol.abv, sucrose.sg_from_extract)
def test_beers_of_a_quarter_left(original: float, og: float, fg: float, alcohol: float, volume_percent: float) -> None:
    """[C] Balling, Tabarié, ICUMSA and OIML R 22 together, in another program, for beers of 75 % apparent attenuation."""
    assert sucrose.sg_from_extract(original) == pytest.approx(og, abs=6e-6)
    sg = sucrose.sg_from_extract(0.25 * original)
    assert sg == pytest.approx(fg, abs=6e-6)
    made = beer.alcohol_by_weight(original, sg)
    assert made == pytest.approx(alcohol, abs=6e-4)
    assert ethanol.abv(made, sg) == pytest.approx(volume_percent, abs=6e-4)


@stands_for(beer.apparent_attenuation, beer.real_attenuation, ethanol.abv, beer.alcohol_by_weight)
def test_beer_of_a_laboratory() -> None:
    """[C] 5.475 % by mass, 5.25 % real extract and SG 1.01088 of 15.65 °P wort: 82.18 % apparent, 68.31 % real, 6.97 % vol from the gravities."""
    apparent = sucrose.extract_from_sg(1.01088)
    assert beer.apparent_attenuation(15.65, apparent) == pytest.approx(82.18, abs=100.0 * 0.01 / 15.65)  # 0.01 °P between sugar tables
    assert beer.real_attenuation(5.475, 5.25) == pytest.approx(68.31, abs=0.006)
    assert ethanol.abv(beer.alcohol_by_weight(15.65, 1.01088), 1.01088) == pytest.approx(6.97, abs=0.006)


@pytest.mark.parametrize(("original", "fg", "alcohol", "extract", "index", "brix"), [
    (12.0, 1.01884, 2.98, 6.22, 1.34391, 7.43), (12.0, 1.01170, 3.73, 4.76, 1.34217, 6.27), (12.0, 1.00699, 4.24, 3.78, 1.34101, 5.49),
    (16.0, 1.02526, 4.06, 8.31, 1.34769, 9.90), (16.0, 1.01565, 5.09, 6.35, 1.34538, 8.40), (16.0, 1.00934, 5.78, 5.04, 1.34390, 7.42),
    (20.0, 1.01964, 6.50, 7.95, 1.34876, 10.60),
])  # fmt: skip
@stands_for(refractometer.sg_after_fermentation, refractometer.index_of_sucrose, refractometer.index_of_ethanol, beer.sg_of_beer, beer.real_extract)
def test_refraction_of_beers(original: float, fg: float, alcohol: float, extract: float, index: float, brix: float) -> None:
    """[C] Forward from the density balance and the CRC table of indices; the cubic is within 5e-5 of that table, which is 2e-4 SG."""
    assert beer.real_extract(original, alcohol) == pytest.approx(extract, abs=0.015)
    assert beer.sg_of_beer(extract, alcohol) == pytest.approx(fg, abs=4e-5)
    assert float(refractometer.index_of_sucrose(extract)) + float(refractometer.index_of_ethanol(alcohol)) == pytest.approx(index, abs=1e-4)
    assert refractometer.sg_after_fermentation(brix, original, 1.0) == pytest.approx(fg, abs=2e-4)


@stands_for(refractometer.extract_before_fermentation)
def test_wort_factor() -> None:
    """Common practice, no source: 12.48 °Bx of an instrument that reads wort 1.04 high are 12 °P."""
    assert refractometer.extract_before_fermentation(12.48) == pytest.approx(12.0, abs=1e-12)
    assert refractometer.extract_before_fermentation(12.24, 1.02) == pytest.approx(12.0, abs=1e-12)


@stands_for(carbonation.solubility, carbonation.carbonation, carbonation.priming_sugar)
def test_sugar_for_twenty_litres() -> None:
    """[C] Weiss 1974: water keeps 1.7207 g/L at 20 °C; 2.4 vol need 2.4 · 1.9768 less that, at 0.4442 g a gram of dextrose."""
    dextrose = carbonation.CO2_PER_SUGAR["dextrose"]
    sugar = carbonation.priming_sugar(2.4, 20.0, 20.0, dextrose)
    assert carbonation.solubility(20.0) == pytest.approx(1.7207, abs=6e-5)
    assert sugar == pytest.approx((2.4 * 1.9768 - 1.7207) * 20.0 / 0.4442, rel=2e-4)
    assert carbonation.carbonation(20.0, sugar, 20.0, dextrose) == pytest.approx(2.4, abs=1e-12)
    assert carbonation.priming_sugar(0.5, 5.0, 20.0, dextrose) == 0.0


@stands_for(lifting.recommended_weight)
def test_ideal_lift() -> None:
    """[P] NIOSH 94-110: 23 kg is the load of the ideal lift, at 25 cm from the ankles and 75 cm from the floor over 25 cm."""
    assert lifting.recommended_weight(lifting.LiftGeometry(25.0, 75.0, 25.0)) == pytest.approx(23.0, abs=1e-9)


@stands_for(beer.energy)
def test_energy_of_a_beer() -> None:
    """[P] Regulation (EU) 1169/2011, Annex XIV: 29 kJ a gram of alcohol, 17 kJ a gram of extract; 197.2 kJ in 100 mL of a pale ale [C]."""
    assert beer.energy(4.1, 4.6, 1.011) == pytest.approx(197.2, abs=0.06)
