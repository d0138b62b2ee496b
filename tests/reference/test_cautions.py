"""Thresholds and texts of the cautions against published limits, each table with its source line."""

import csv
import re
from pathlib import Path

import pytest
from iapws import IAPWS97

from generator.analysis.safety import cold, heat, hot
from generator.analysis.safety.cleaning import LIMITS, STRONGEST_CAUSTIC, Limits
from generator.pages.safety import HAZARDS
from generator.science.carbonation import GRAMS_PER_VOLUME
from generator.science.lifting import recommended_weight
from tests.reference.runner import read
from tests.unit.analysis.cautions_cases import BREW, Brew, clean, ended

LIMIT_TABLES = Path(__file__).parent / "tables" / "limits"
SECONDS = {"10 minutes": 600.0, "30 seconds": 30.0, "5 seconds": 5.0}


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table of limits, whose first line names its source."""
    first, *lines = (LIMIT_TABLES / f"{name}.csv").read_text("utf-8").splitlines()
    assert first.startswith("# source: ")
    return list(csv.DictReader(lines))


def words(anchor: str) -> str:
    """What the safety page says of a hazard."""
    return " ".join(next(hazard.paragraphs for hazard in HAZARDS if hazard.anchor == anchor))


def exposure(agent: str, limit: str) -> list[float]:
    """Published limits of an agent, two of them where two stand in one cell."""
    return [
        float(part) for row in rows("exposure_limits") if row["agent"].startswith(agent) and row["limit"] == limit for part in row["value"].split("/")
    ]


@pytest.mark.parametrize(("celsius", "time"), [(49, "10 minutes"), (55, "30 seconds"), (60, "5 seconds")])
def test_scald_times_of_the_page(celsius: int, time: str) -> None:
    """[P] Moritz and Henriques 1947: full-thickness burns; the page and the thresholds use its temperatures."""
    table = {float(row["water_T_C"]): row["time_to_3rd_degree_s"] for row in rows("scald_times")[:7]}
    assert float(table[celsius]) == SECONDS[time]
    assert re.search(rf"{time} at {celsius} °C", words("hot-liquid"))
    assert {hot.SCALD_C, hot.STEAM_C} <= set(table)


def test_limits_of_gases_and_dust() -> None:
    """[P] OSHA, NIOSH and EU limits of carbon dioxide and carbon monoxide; [M] of lye and grain dust: constants and texts hold them."""
    assert exposure("carbon dioxide", "OSHA PEL 8 h TWA") == exposure("carbon dioxide", "EU IOELV 8 h") == [cold.CO2_LIMIT_PPM]
    assert exposure("carbon dioxide", "NIOSH IDLH") == [40000.0]
    assert "4 % is immediately dangerous" in words("carbon-dioxide")
    american, european = exposure("carbon monoxide", "OSHA PEL 8 h TWA"), exposure("carbon monoxide", "EU IOELV 8 h")
    assert f"{american[0]:.0f} ppm in the United States, {european[0]:.0f} ppm in the European Union" in words("carbon-monoxide")
    indoors = Brew({}, {"boil": {"heat": "gas", "indoors": True}}).stand()["carbon-monoxide"].text
    assert f"{american[0]:.0f} ppm is the limit" in indoors
    assert f"{exposure('sodium hydroxide', 'OSHA PEL / NIOSH ceiling')[0]:.0f} mg/m³ in the air" in clean(cleaner="caustic").stand()["caustic"].text
    assert exposure("grain dust", "OSHA PEL 8 h / NIOSH REL") == [10.0, heat.DUST_LIMIT_MG_M3]
    assert "10 mg/m³ and, stricter, 4 mg/m³" in words("dust")


AGENTS = {
    "iodine (iodophor)": LIMITS["iodine"][0],
    "chlorine (hypochlorite) low": LIMITS["chlorine"][0],
    "chlorine mid, pH<=8": LIMITS["chlorine"][1],
    "chlorine high": LIMITS["chlorine"][2],
    "quaternary ammonium": LIMITS["quaternary ammonium"][0],
    "hot water immersion": LIMITS["hot water"][0],
    "peroxyacetic acid": LIMITS["peracetic acid"][0],
    "acid anionic (phosphoric + dodecylbenzenesulfonate)": LIMITS["acid anionic"][0],
}


@pytest.mark.parametrize(("agent", "limits"), AGENTS.items(), ids=list(AGENTS))
def test_limits_of_sanitisers(agent: str, limits: Limits) -> None:
    """[P] two state codes in the form of the FDA Food Code, [M] where the row says so: strength, temperature and contact."""
    row = next(row for row in rows("sanitiser_limits") if row["agent"] == agent)
    assert limits.least == (float(row["min_conc"]) if row["min_conc"] not in ("", "label") else None)
    if row["min_T_F"] == "label" or not row["min_T_F"]:
        assert limits.coldest is None
    else:
        assert limits.coldest == pytest.approx((float(row["min_T_F"]) - 32.0) * 5.0 / 9.0)
    assert limits.contact == float(re.search(r"\d+", row["contact_s"])[0])
    assert ("memory" in row["row_status"]) == (limits.source == "fda-178-1010-peracetic")


def test_strengths_that_need_no_rinsing() -> None:
    """[P] 25 mg/L of iodine and 200 of chlorine, [M] 200 of peracetic acid and about 400 of an acid anionic; [M] caustic of 1 to 3 %."""
    most = {row["agent"]: row["max_no_rinse_conc"] for row in rows("sanitiser_limits")}
    assert float(most["iodine (iodophor)"]) == LIMITS["iodine"][0].most
    assert {limits.most for limits in LIMITS["chlorine"]} == {float(most["chlorine high"])}
    assert float(most["peroxyacetic acid"]) == LIMITS["peracetic acid"][0].most
    assert "about 400" in most["acid anionic (phosphoric + dodecylbenzenesulfonate)"]
    assert LIMITS["acid anionic"][0].most == 400.0
    assert float(most["sodium hydroxide cleaner (not a no-rinse agent)"]) == STRONGEST_CAUSTIC
    assert "12.5 to 25 mg/L for 30 seconds above 20 °C" in words("sanitation")
    assert "50 to 99 mg/L for 7 seconds above 24 °C" in words("sanitation")


def test_lifting_limits_are_those_of_the_table() -> None:
    """[C] NIOSH 94-110: the ideal lift, and a kettle of hot wort moved from bench to bench."""
    table = {row["case"]: float(row["RWL"]) for row in read("niosh_lifting").rows}
    assert next(value for case, value in table.items() if case.startswith("ideal lift")) == heat.IDEAL_LIFT_KG
    assert float(recommended_weight(heat.KETTLE_LIFT)) == pytest.approx(
        next(v for case, v in table.items() if case.startswith("kettle 25 L")), abs=6e-4
    )


def test_water_that_a_room_holds() -> None:
    """IAPWS-IF97 by its library: density of saturated vapour at 20 °C."""
    assert abs(hot.SATURATED_G_PER_M3 - 1000.0 * IAPWS97(T=293.15, x=1).rho) < 0.05


def test_heat_to_the_boil() -> None:
    """[M] 27 kg of water from 20 °C to the boil take 2.5 kWh, as the page says too."""
    plan = {"target": {"pre_boil_volume": "27 L"}}
    assert "takes 2.5 kWh" in Brew(plan, {"boil": {"heat": "electric"}}).stand()["electricity"].text
    assert "takes 2.5 kWh" in words("electricity")


def test_gas_of_a_point_in_the_bottle() -> None:
    """[C] Balling's and the density balance solved together for 100 L that ferment four points further: 0.97 g/L a point, 1.98 volumes for four."""
    target = {"volume": "100 L", "original_gravity": "1.050"}
    less, more = (cold.carbon_dioxide_grams(Brew({"target": {**target, "final_gravity": sg}}).facts()) for sg in ("1.014", "1.010"))
    further = ended(1.014, {"target": {**target, "final_gravity": "1.010"}}).facts().packed.further  # type: ignore[union-attr]
    assert further is not None
    assert (more - less) / 100.0 == pytest.approx(4.0 * 0.97, rel=0.03)
    assert further.gas.value == pytest.approx(1.98, rel=0.03)
    assert further.gas.value * GRAMS_PER_VOLUME == pytest.approx((more - less) / 100.0, rel=0.03)


@pytest.mark.parametrize(("volumes", "celsius", "bar"), [(2.4, 30, 2.88), (3.0, 30, 3.85)])
def test_pressure_of_a_warm_bottle(volumes: float, celsius: int, bar: float) -> None:
    """[C] a published formula of the trade for beer, which holds 1 to 6 % less than the water of ours: within 8 %."""
    plan = {**BREW, "target": {**BREW["target"], "carbonation": f"{volumes} vol"}, "package": {"storage": f"{celsius} °C"}}
    found = re.search(r"press with about ([\d.]+) bar", Brew(plan).stand()["warm-bottles"].text)
    assert float(found[1]) == pytest.approx(bar, rel=0.08)
