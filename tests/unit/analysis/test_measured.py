"""Measured figures: which rows count, what is corrected, what is absent and why."""

import pytest

from generator.analysis.doubt import Absent
from generator.analysis.figures import Figure
from generator.records.fields import Doubt
from generator.records.readings import Reading
from tests.unit.analysis.support import brewhouse, good, known, measured, plan, read

GRIST = {"grist": [good("5 kg")]}
"""3.84 kg of extract: 5 · 0.80 · 0.96."""


def value(figure: Figure) -> float:
    """The measured number, which must be there."""
    assert figure.measured is not None, figure.why_absent
    return figure.measured.value


def test_a_hot_volume_contracts() -> None:
    """25.0 L read at 80 °C are 24.338 L at 20 °C: 2.6464 % by IAPWS-95 (water_density.csv)."""
    figures = known(plan(**GRIST), (read(2, "pre-boil", "volume", "25.0 L", at=80.0),))
    assert value(figures["pre_boil_volume"]) == pytest.approx(25.0 * (1 - 0.026464), abs=0.002)


def test_a_warm_sample_reads_low() -> None:
    """1.040 read at 40 °C by a hydrometer for 20 °C is 6.33 points low (hydrometer_corrections.csv)."""
    figures = known(plan(), (read(2, "post-boil", "gravity", "1.040", at=40.0),))
    assert value(figures["original_gravity"]) == pytest.approx(1.04633, abs=0.0001)


def test_a_hydrometer_for_60_fahrenheit_is_brought_to_20() -> None:
    """Without a temperature the reading is at 15.56 °C: SG 15.56/15.56 of 1.04017 is 1.03998 at 20/20 (10 °P)."""
    house = brewhouse(instruments={"hydrometer_calibrated_at": "60 °F"})
    figures = known(plan(), (read(2, "post-boil", "gravity", "1.04017"),), house)
    assert value(figures["original_gravity"]) == pytest.approx(1.03998, abs=2e-5)


def test_mash_efficiency_is_extract_over_potential() -> None:
    """25 L of 10.003 °P at 1.04 SG hold 25 · 1.0381 · 0.10003 kg; CRC's density at 10 % by mass is 1.0381 kg/L."""
    rows = (read(2, "pre-boil", "volume", "25 L"), read(3, "pre-boil", "gravity", "10.0 °P"))
    figures = known(plan(**GRIST), rows)
    assert value(figures["mash_efficiency"]) == pytest.approx(100 * 25 * 1.0381 * 0.100 / 3.84, rel=1e-4)


def test_conversion_counts_the_water_of_the_malt() -> None:
    """First wort of the handbook mass balance: 3.0 kg/kg, 4 % moisture, 90 % converted gives 18.525 °P (first_wort_gravity.csv)."""
    rows = (read(2, "first-wort", "gravity", "18.525 °P"), read(3, "mash", "liquor", "15.0270 L"))
    figures = known(plan(**GRIST), rows)
    assert value(figures["conversion_efficiency"]) == pytest.approx(90.0, abs=0.01)


def test_liquor_rows_add_up_and_hot_liquor_weighs_less() -> None:
    """Mass of liquor is volume times density at its own temperature: 7.5 L at 20 and 7.717 L at 80 °C are 15.0 kg."""
    rows = (
        read(2, "first-wort", "gravity", "18.525 °P"),
        read(3, "mash", "liquor", "7.5135 L"),
        read(4, "mash", "liquor", "7.7177 L", at=80.0),  # 7.5 kg / 0.97179 kg/L
    )
    assert value(known(plan(**GRIST), rows)["conversion_efficiency"]) == pytest.approx(90.0, abs=0.02)


def test_what_was_not_weighed_counts_as_planned() -> None:
    """Grist and liquor that weren't read are those of the plan."""
    rows = (read(2, "first-wort", "gravity", "18.525 °P"),)
    figures = known(plan(**GRIST, liquor={"mash": "15.0270 L"}), rows)
    assert value(figures["grist_mass"]) == 5.0
    assert value(figures["conversion_efficiency"]) == pytest.approx(90.0, abs=0.01)


def test_the_weighed_grist_scales_potential_and_colour() -> None:
    """A tenth more grist is a tenth more extract; MCU too, so SRM by 1.1^0.6859 (Morey 1995)."""
    wanted = plan(grist=[good("5 kg", colour="10 EBC")])
    rows = (read(2, "post-boil", "volume", "20 L"),)
    lighter = known(wanted, (*rows, read(3, "mash", "grist", "5.0 kg")))
    heavier = known(wanted, (*rows, read(3, "mash", "grist", "5.5 kg")))
    assert value(heavier["potential_extract"]) == pytest.approx(1.1 * value(lighter["potential_extract"]))
    assert value(heavier["colour"]) == pytest.approx(1.1**0.6859 * value(lighter["colour"]))


def test_the_later_reading_stands() -> None:
    """By time where all have one, else by line; the order in the file doesn't matter."""
    first = read(2, "pre-boil", "volume", "20 L", time="2026-01-01 12:00")
    again = read(3, "pre-boil", "volume", "21 L", time="2026-01-01 11:00")
    untimed = read(3, "pre-boil", "volume", "22 L")
    assert value(known(plan(), (first, again))["pre_boil_volume"]) == 20.0
    assert value(known(plan(), (first, untimed))["pre_boil_volume"]) == 22.0


def test_times_are_compared_over_their_offsets() -> None:
    """11:30 at +02:00 is before 10:00 UTC."""
    utc = read(2, "pre-boil", "volume", "20 L", time="2026-01-01 10:00+00:00")
    east = read(3, "pre-boil", "volume", "21 L", time="2026-01-01 11:30+02:00")
    assert value(known(plan(), (utc, east))["pre_boil_volume"]) == 20.0


def series() -> tuple[Reading, ...]:
    """1.050 falling to 1.010 in the fermenter."""
    return (
        read(2, "fermenter", "gravity", "1.050", time="2026-01-01 15:00"),
        read(3, "fermenter", "gravity", "1.020", time="2026-01-04 15:00"),
        read(4, "fermenter", "gravity", "1.010", time="2026-01-10 15:00"),
    )


def test_the_first_gravity_is_the_original_and_the_last_the_final() -> None:
    """Whatever the order of the rows."""
    figures = known(plan(), tuple(reversed(series())))
    assert (value(figures["original_gravity"]), value(figures["final_gravity"])) == (1.050, 1.010)


def test_a_packaged_gravity_without_time_is_the_last() -> None:
    """It ends the series; with an earlier time it doesn't."""
    rows = series()
    assert value(known(plan(), (*rows, read(5, "package", "gravity", "1.009")))["final_gravity"]) == 1.009
    early = read(5, "package", "gravity", "1.009", time="2026-01-09 15:00")
    assert value(known(plan(), (*rows, early))["final_gravity"]) == 1.010


def test_one_gravity_is_no_final_gravity() -> None:
    """What follows from it is absent with the reason, never 0."""
    figures = known(plan(), (read(2, "fermenter", "gravity", "1.050", time="2026-01-01 15:00"),))
    assert figures["final_gravity"].measured is None
    assert figures["abv"].why_absent == "no gravity was read after the first one in the fermenter"


def test_the_gravity_after_the_boil_stands_in() -> None:
    """Without a fermenter gravity it is the original gravity."""
    figures = known(plan(), (read(2, "post-boil", "gravity", "1.060"), read(3, "package", "gravity", "1.012")))
    assert value(figures["original_gravity"]) == 1.060
    assert value(figures["apparent_attenuation"]) == pytest.approx(79.2, abs=0.3)


def test_a_refractometer_after_fermentation_is_an_estimate() -> None:
    """16 °P fermented to 75 % reads 8.40 °Bx on a scale for sucrose: 1.01565 (refraction model, SOURCES of the reference table)."""
    rows = (
        read(2, "fermenter", "gravity", "16.64 °Bx", time="2026-01-01 15:00"),
        read(3, "fermenter", "gravity", "8.736 °Bx", time="2026-01-12 15:00"),
    )
    figure = known(plan(), rows)["final_gravity"]
    assert value(figure) == pytest.approx(1.01565, abs=0.0003)
    assert figure.measured is not None
    assert figure.measured.half_width > 0.003  # the model's own doubt is in it


def test_a_kegged_beer_has_no_carbonation_from_sugar() -> None:
    """Its pressure sets it."""
    rows = (read(2, "package", "volume", "19 L"), read(3, "package", "sugar", "0.1 kg"))
    keg = known(plan(package={"method": "keg", "sugar": "dextrose", "temperature": "20 °C"}), rows)["carbonation"]
    bottle = known(plan(package={"method": "bottle", "sugar": "dextrose", "temperature": "20 °C"}), rows)["carbonation"]
    assert keg.measured is None
    # 0.870 vol at 20 °C (Weiss 1974) and 100 g · 0.4442 / 19 L / 1.9768 g/L
    assert value(bottle) == pytest.approx(0.870 + 100 * 0.4442 / 19 / 1.9768, abs=0.002)


def test_a_batch_without_rows_is_not_brewed() -> None:
    """Every measured figure is null, and that wins over 'no plan'."""
    assert {figure.verdict for figure in known(plan()).values()} == {"not measured"}


def test_verdicts_follow_the_interval() -> None:
    """On plan inside of the interval, above or below outside, no plan without one."""
    rows = (read(2, "post-boil", "gravity", "1.050", doubt=Doubt(0.002, "SG")),)

    def verdict(target: str) -> str:
        return known(plan(target={"original_gravity": target}), rows)["original_gravity"].verdict

    assert [verdict(target) for target in ("1.0515", "1.0485", "1.053", "1.047")] == ["on plan", "on plan", "below plan", "above plan"]
    assert known(plan(), rows)["original_gravity"].verdict == "no plan"


def test_a_missing_reading_names_itself() -> None:
    """The reason says which reading would give the figure."""
    with pytest.raises(Absent, match="the volume before the boil was not read"):
        _ = measured(plan(**GRIST), (read(2, "pre-boil", "gravity", "1.050"),)).mash_efficiency


def test_an_impossible_original_gravity_gives_no_attenuation() -> None:
    """Water can't be attenuated: absent with a reason, not a division by zero."""
    rows = (read(2, "post-boil", "gravity", "1.000"), read(3, "package", "gravity", "1.000"))
    figure = known(plan(), rows)["apparent_attenuation"]
    assert figure.measured is None
    assert "original extract" in (figure.why_absent or "")
