"""The packaged beer: gas, pressure, what may still ferment, ratings and volumes."""

import math
from typing import Any

import pytest
from pydantic import ValidationError

from generator.analysis import cellar_ledger, figures
from generator.analysis.doubt import together
from generator.analysis.packaging import KEG_TEMPERATURES, Packaging, asking, packaged
from generator.analysis.planned import Planned
from generator.records.fields import Doubt
from generator.records.readings import Reading
from generator.science.keg import keg_pressure
from tests.reference.runner import read as table
from tests.unit.analysis.support import measured, plan, read

BOTTLED = (
    read(2, "fermenter", "volume", "20 L"),
    read(3, "fermenter", "gravity", "1.048", time="2026-01-01 12:00"),
    read(4, "fermenter", "gravity", "1.010", time="2026-01-15 12:00"),
    read(5, "package", "volume", "18 L"),
    read(6, "package", "sugar", "0.1 kg"),
    read(7, "package", "temperature", "20 °C"),
)
BOTTLE = {"method": "bottle", "sugar": "dextrose"}


def beer(rows: tuple[Reading, ...] = BOTTLED, package: dict[str, str] | None = None, **tables: Any) -> Packaging:
    """A batch in its bottles, of which the plan expects 1.010 unless it is told otherwise."""
    wanted = plan(package=BOTTLE | (package or {}), **{"yeast": {"forced_gravity": "1.010"}, **tables})
    side = measured(wanted, rows)
    return packaged(Planned(side.view), side)


def changed(*rows: Reading) -> tuple[Reading, ...]:
    """The usual readings with those of the same lines replaced."""
    lines = {row.line for row in rows}
    return tuple(row for row in BOTTLED if row.line not in lines) + rows


def test_pressures_of_a_bottle_by_the_table() -> None:
    """From 0.8705 vol at 20 °C and 100 g of dextrose in 18 L: solubilities of the table, 4 % of space, Dalton; to 0.2 %."""
    found = beer()
    assert found.carbonation is not None
    assert found.carbonation.value == pytest.approx(0.8705 + 0.4442 * 100 / 18 / 1.9768, abs=2e-4)
    rows = {row.number("t_C"): row for row in table("co2_solubility").rows}
    assert [one.temperature for one in found.pressures] == [4.0, 20.0, 35.0]
    for one in found.pressures:
        row = rows[one.temperature]
        gas = 1.9768 * found.carbonation.value
        vapour = 1.0 - row.number("water_vol_at_total_1atm") / row.number("water_vol_at_pCO2_1atm")
        space = 4.0 / 96.0 * 44.0095 * 101.325 / (8.314462618 * (one.temperature + 273.15))
        atmospheres = gas / (row.number("water_gL_at_pCO2_1atm_Weiss") + space) + vapour - 1.0
        assert one.gauge.value == pytest.approx(1.01325 * atmospheres, abs=0.003)
        assert one.gauge.low < one.gauge.value < one.gauge.high
        assert one.worst.value > one.gauge.value + 1.0
        assert not one.extrapolated


def test_doubts_of_the_readings_are_in_the_pressure() -> None:
    """Twice the doubt of the sugar alone gives twice the width of the carbonation and of the pressures."""
    widths = []
    for doubt in (2.0, 4.0):
        rows = changed(
            read(5, "package", "volume", "18 L", doubt=Doubt(1e-9, "liter")),
            read(6, "package", "sugar", "0.1 kg", doubt=Doubt(doubt, "%")),
            read(7, "package", "temperature", "20 °C", doubt=Doubt(1e-9, "degC")),
        )
        found = beer(rows)
        assert found.carbonation is not None
        widths.append((found.carbonation.half_width, found.pressures[1].gauge.half_width))
    assert widths[0][0] == pytest.approx(0.02 * 0.4442 * 100 / 18 / 1.9768, rel=0.01)
    assert widths[1] == pytest.approx((2 * widths[0][0], 2 * widths[0][1]), rel=0.01)


def test_extract_left_counts_into_the_worst_case() -> None:
    """Four points above the forced ferment are 1.98 vol more [C, within 3 %], as carbonation and as pressure."""
    done, unfinished = beer(), beer(changed(read(4, "fermenter", "gravity", "1.014", time="2026-01-15 12:00")))
    assert unfinished.further is not None
    assert unfinished.worst_carbonation is not None
    assert done.further is not None
    assert unfinished.further.points.value == pytest.approx(4.0, abs=1e-9)
    assert unfinished.further.gas.value == pytest.approx(1.98, rel=0.03)
    assert unfinished.carbonation == done.carbonation
    assert unfinished.worst_carbonation.value == pytest.approx(unfinished.carbonation.value + unfinished.further.gas.value)  # type: ignore[union-attr]
    assert done.further.gas.value == pytest.approx(0.0, abs=1e-9)
    assert done.further.gas.high == pytest.approx(0.5, abs=0.03)  # a point of doubt
    assert unfinished.pressures[1].worst.value - done.pressures[1].worst.value > 2.0
    assert "1.010" in unfinished.counted[0]


def test_a_beer_below_its_end_makes_no_more_gas() -> None:
    """Where even the doubt of the reading leaves nothing above the end, the worst case is the carbonation itself."""
    found = beer(yeast={"forced_gravity": "1.020"})
    assert found.further is not None
    assert (found.further.gas.value, found.further.gas.high) == (0.0, 0.0)
    assert found.worst_carbonation == found.carbonation


def test_nothing_says_where_it_ends() -> None:
    """Without attenuation, target and forced ferment nothing further is counted, and the reason stands."""
    found = beer(yeast={})
    assert found.further is None
    assert "forced ferment" in found.absent["further"]
    assert found.worst_carbonation == found.carbonation
    assert not any("ferments" in words for words in found.counted)


@pytest.mark.parametrize(
    ("rated", "verdict"), [("5.0 bar", "below the rating"), ("3.85 bar", "within doubt of the rating"), ("3.0 bar", "above the rating")]
)
def test_bottles_against_their_rated_pressure(rated: str, verdict: str) -> None:
    """At 35 °C the worst case is 3.8 bar, and up to 4.7 with the doubt of a point."""
    (rating,) = beer(package={"bottle_pressure": rated}).ratings
    assert (rating.kind, rating.temperature, rating.verdict) == ("pressure", 35.0, verdict)
    assert rating.worst.value == pytest.approx(3.7, abs=0.2)


def test_bottles_against_their_rated_volumes() -> None:
    """2.1 vol and half a volume of doubt are below 3.5, within doubt of 2.3 and above 2.0; both ratings may stand."""
    ratings = [beer(package={"bottle_volumes": f"{rated} vol", "bottle_pressure": "8 bar"}).ratings for rated in (3.5, 2.3, 2.0)]
    assert [first.verdict for first, _ in ratings] == ["below the rating", "within doubt of the rating", "above the rating"]
    assert {second.verdict for _, second in ratings} == {"below the rating"}


def test_storage_and_extrapolation() -> None:
    """The plan's storage joins the temperatures; one above 40 °C is an extrapolation, and so is a carbonation from there."""
    found = beer(package={"storage": "45 °C", "bottle_pressure": "8 bar"})
    assert [(one.temperature, one.extrapolated) for one in found.pressures][-2:] == [(35.0, False), (45.0, True)]
    assert found.ratings[0].temperature == 45.0
    assert not found.extrapolated
    assert beer(changed(read(7, "package", "temperature", "42 °C"))).extrapolated


def test_more_head_space_is_less_pressure() -> None:
    """The plan's head space counts; without any the pressure is that of a keg."""
    none, much = beer(package={"head_space": "0 %"}), beer(package={"head_space": "10 %"})
    assert none.carbonation is not None
    assert none.pressures[1].gauge.value == pytest.approx(float(keg_pressure(none.carbonation.value, 20.0)), abs=1e-9)
    assert much.pressures[1].gauge.value < beer().pressures[1].gauge.value < none.pressures[1].gauge.value


@pytest.mark.parametrize("package", [{"head_space": "60 %"}, {"head_space": 4}, {"bottle_pressure": "8"}, {"bottle_pressure": "30 bar"}])
def test_keys_that_can_not_be_meant(package: dict[str, Any]) -> None:
    """A bottle that is mostly empty, bare numbers and a pressure that no bottle holds are refused."""
    with pytest.raises(ValidationError):
        plan(package=package)


def test_keys_of_the_package() -> None:
    """Pressure in any unit, head space in per cent of the brimful bottle and 4 unless it is said."""
    assert plan(package={"bottle_pressure": "116 psi", "head_space": "3 %"}).package.bottle_pressure == pytest.approx(7.998, abs=1e-3)
    assert plan().package.head_space == 4.0


def test_volumes_from_the_fermenter_to_the_bottles() -> None:
    """20 L of wort lose a third of a per cent by fermenting [C], 18 L are bottled; independent doubts of 2 % of each add in squares."""
    balance = beer().balance
    assert balance.loss is not None
    assert balance.contraction is not None
    assert balance.left is not None
    assert balance.loss.value == pytest.approx(2.0)
    assert balance.loss.half_width == pytest.approx(math.hypot(0.4, 0.36), rel=0.01)
    assert balance.contraction.value == pytest.approx(20 * 0.0036, abs=0.01)
    assert balance.contraction.value + balance.left.value == pytest.approx(balance.loss.value, abs=1e-12)


def test_a_keg_by_its_pressure() -> None:
    """1 bar at 4 °C holds as much gas as asks for it; the table has the planned carbonation and Henry's pressures."""
    rows = changed(read(6, "package", "pressure", "1.0 bar"), read(7, "package", "temperature", "4 °C"))
    found = beer(rows, {"method": "keg", "keg_pressure": "9 bar"}, target={"carbonation": "2.5 vol"})
    assert found.carbonation is not None
    assert keg_pressure(found.carbonation.value, 4.0) == pytest.approx(1.0, abs=1e-9)
    assert found.keg_table is not None
    assert found.keg_table.temperatures == KEG_TEMPERATURES
    column = found.keg_table.volumes.index(2.5)
    row = found.keg_table.pressures[KEG_TEMPERATURES.index(10.0)]
    assert row[column] == pytest.approx(1.01325 * (2.5 / 1.1947 - 1.0) + 0.0123, abs=1e-3)  # co2_solubility.csv, vapour of water
    assert list(row) == sorted(row)
    assert [one.verdict for one in found.ratings] == ["below the rating"]


def test_the_temperature_beside_a_pressure_comes_first() -> None:
    """The keg's own temperature counts; that at packaging is the warmest that the beer was."""
    rows = changed(read(6, "package", "pressure", "1.0 bar", at=4.0), read(7, "package", "temperature", "14 °C"))
    found = beer(rows, {"method": "keg"})
    assert found.carbonation is not None
    assert keg_pressure(found.carbonation.value, 4.0) == pytest.approx(1.0, abs=1e-9)


def test_a_pressure_without_sugar_tells_of_a_keg() -> None:
    """A beer planned for bottles but put under gas is judged as a keg; with sugar as well it stays in its bottles."""
    pressed = (*(row for row in BOTTLED if row.line < 6), read(8, "package", "pressure", "1 bar"), read(9, "package", "temperature", "4 °C"))
    kegged = beer(pressed, {"keg_pressure": "9 bar", "bottle_volumes": "3 vol"})
    assert kegged.method == "keg"
    assert kegged.keg_table is not None
    assert [one.kind for one in kegged.ratings] == ["pressure"]
    assert kegged.carbonation is not None
    assert keg_pressure(kegged.carbonation.value, 4.0) == pytest.approx(1.0, abs=1e-9)
    assert beer((*pressed, read(6, "package", "sugar", "0.1 kg"))).method == "bottle"


def test_why_a_keg_has_no_carbonation() -> None:
    """Without a pressure or a temperature read in the keg the reason stands, and no pressures."""
    found = beer(package={"method": "keg"})
    assert found.absent["carbonation"] == "the pressure in the keg was not read"
    assert found.pressures == found.counted == found.ratings == ()
    warm = beer((*(row for row in BOTTLED if row.line < 6), read(8, "package", "pressure", "1 bar")), {"method": "keg"})
    assert warm.absent["carbonation"] == "the temperature of the keg was not read"


def test_reasons_where_little_was_read() -> None:
    """Before packaging there are reasons and no numbers, and before brewing the method and the table alone."""
    found = beer(BOTTLED[:2])
    assert {"carbonation", "further", "packaged", "beer"} <= set(found.absent)
    assert found.balance.loss is None
    assert found.balance.wort is not None
    side = measured(plan(package={"method": "keg"}), BOTTLED)
    unbrewed = packaged(Planned(side.view), None)
    assert (unbrewed.method, unbrewed.carbonation, unbrewed.keg_table is not None) == ("keg", None, True)


def test_weighed_with_the_rest() -> None:
    """Weighed together with figures and ledger the numbers are the same as alone."""
    wanted = plan(package=BOTTLE, yeast={"forced_gravity": "1.010"})
    side = measured(wanted, BOTTLED)
    planned = Planned(side.view)
    _, together_found, _ = together(side.sampler, *(part(planned, side) for part in (figures.asking, asking, cellar_ledger.asking)))
    alone_found = beer()
    assert together_found.worst_carbonation.value == alone_found.worst_carbonation.value  # type: ignore[union-attr]
    assert together_found.worst_carbonation.high == pytest.approx(alone_found.worst_carbonation.high, rel=0.01)  # type: ignore[union-attr]
