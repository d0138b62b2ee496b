"""The brew day: each step at its minute, worked out by hand; the readings that are asked for, and what is expected of them."""

import pytest
from CoolProp import CoolProp

from generator.analysis.asked import Wanted
from generator.analysis.brew_day import Day, brew_day
from generator.analysis.plan_view import PlanView
from generator.analysis.report import report
from generator.records.models import Brewhouse, Plan
from generator.records.readings import Reading
from generator.science import sucrose
from tests.unit.analysis.support import batch, brewhouse, good, plan, read

FULL = {
    "mash": {"portions": 3, "interval": "8 min"},
    "grist": [good("4 kg"), good("0.5 kg", added="boil"), good("0.3 kg", added="fermenter")],
    "liquor": {"mash": "15 L", "sparge": "12 L", "sparge_temperature": "76 °C"},
    "rest": [{"temperature": "52 °C", "duration": "20 min"}, {"temperature": "66 °C", "duration": "60 min"}],
    "boil": {"duration": "75 min"},
    "hops": [
        {"name": "A", "mass": "20 g", "alpha": "5 %", "time": "60 min"}, {"name": "B", "mass": "10 g", "alpha": "5 %", "time": "60 min"},
        {"name": "C", "mass": "30 g", "alpha": "5 %", "time": "0 min"}, {"name": "D", "mass": "5 g", "alpha": "5 %", "added": "first wort"},
        {"name": "E", "mass": "40 g", "alpha": "9 %", "time": "10 min", "added": "stand", "temperature": "80 °C"},
        {"name": "F", "mass": "40 g", "alpha": "9 %", "time": "30 min", "added": "stand", "temperature": "80 °C"},
        {"name": "G", "mass": "40 g", "alpha": "9 %", "time": "15 min", "added": "stand", "temperature": "60 °C"},
        {"name": "H", "mass": "60 g", "added": "fermenter", "when": "pitch + 4 d"}, {"name": "I", "mass": "60 g", "added": "fermenter"},
    ],
    "yeast": {"name": "Ale", "temperature": "19 °C"},
    "package": {"method": "bottle", "when": "pitch + 14 d"},
    "task": [
        {"when": "mash - 30 min", "text": "Mill"}, {"when": "boil - 10 min", "text": "Finings"}, {"when": "boil + 5 min", "text": "Skim"},
        {"when": "pitch - 3 d", "text": "Starter"}, {"when": "package + 2 d", "text": "Wash up"}, {"when": "after lunch", "text": "Rest"},
    ],
}  # fmt: skip


def _day(wanted: Plan, house: Brewhouse | None = None) -> Day:
    return brew_day(PlanView(wanted, house or brewhouse()))


def test_every_step_at_its_minute() -> None:
    """Portions at 0, 8 and 16; rests from the last one; one minute a degree; then the allowances, boil, stands and days, by hand."""
    day = _day(plan(**FULL))
    boil = 16 + 20 + 14 + 60 + 60 + 30  # rests and warming, run-off and sparge, heating
    off = boil + 75
    pitch = off + 10 + 30 + 10 + 15 + 45  # cooling, the warmer stand, cooling, the cooler stand, chilling
    found = [(step.kind, step.minutes, "".join(hop.name for hop in step.hops) or step.text) for step in day.steps]
    assert found == [
        ("task", pitch - 3 * 1440, "Starter"), ("prepare", -720, ""), ("task", -30, "Mill"), ("mash-in", 0, ""), ("portion", 8, ""),
        ("portion", 16, ""), ("rest", 50, ""), ("run-off", 110, "D"), ("kettle", 170, ""), ("boil", boil, ""), ("task", boil + 5, "Skim"),
        ("addition", boil + 15, "AB"), ("task", off - 10, "Finings"), ("addition", off, "C"), ("boil-end", off, ""), ("stand", off + 10, "F"),
        ("stand", off + 30, "E"), ("stand", off + 50, "G"), ("chill", off + 65, ""), ("pitch", pitch, ""), ("check", pitch + 3 * 1440, ""),
        ("later", pitch + 3 * 1440, "I"), ("later", pitch + 4 * 1440, "H"), ("still", pitch + 12 * 1440, ""), ("package", pitch + 14 * 1440, ""),
        ("task", pitch + 16 * 1440, "Wash up"),
    ]  # fmt: skip
    assert [task.text for task in day.free] == ["Rest"]
    assert day.zero == "mash-in"


def test_rough_times_are_told_from_sure_ones() -> None:
    """What the plan itself fixes is sure; the clock is rough from the first allowance on, and each allowance is named."""
    day = _day(plan(**FULL))
    assert [step.kind for step in day.steps if not step.rough and not step.undated] == ["task", "task", "mash-in", "portion", "portion"]
    assert day.allowances == ("warming", "sparge", "heating", "cooling", "chill")
    single = _day(plan(grist=[good("4 kg")], rest=[{"temperature": "66 °C", "duration": "60 min"}], boil={"duration": "60 min"}))
    assert [(step.kind, step.minutes, step.rough) for step in single.steps if step.kind in ("run-off", "kettle")] == [
        ("run-off", 60.0, False), ("kettle", 90.0, True),
    ]  # fmt: skip


def test_days_after_the_pitch() -> None:
    """Steps of the fermentation are told in days from the pitch, before it below zero, a task of the same evening on the clock."""
    day = _day(plan(**{**FULL, "task": [{"when": "pitch - 3 d", "text": "Starter"}, {"when": "pitch + 30 min", "text": "Lock"}]}))
    told = {step.text or step.kind: step.days for step in day.steps}
    assert (told["Starter"], told["Lock"], told["check"], told["still"], told["package"]) == (-3.0, None, 3.0, 12.0, 14.0)


def test_where_the_plan_says_nothing() -> None:
    """A bare plan still has every step that is read at; rest and boil get an allowance, packaging has no day."""
    day = _day(plan())
    assert [step.kind for step in day.steps] == [
        "prepare", "mash-in", "run-off", "kettle", "boil", "boil-end", "chill", "pitch", "check", "still", "package",
    ]  # fmt: skip
    assert {"rest", "run-off", "boil"} <= set(day.allowances)
    assert [step.kind for step in day.steps if step.undated] == ["prepare", "still", "package"]


def test_nothing_to_mash() -> None:
    """Sugar alone starts under the kettle: no mash, no run-off, and first wort hops go in with the boil."""
    hops = [{"name": "D", "mass": "5 g", "alpha": "5 %", "added": "first wort"}]
    day = _day(plan(grist=[good("1 kg", added="boil")], hops=hops, boil={"duration": "30 min"}))
    assert day.zero == "heat"
    assert [(step.kind, step.minutes) for step in day.steps][:3] == [("kettle", 0.0), ("boil", 30.0), ("boil-end", 60.0)]
    assert [hop.name for step in day.steps if step.kind == "boil" for hop in step.hops] == ["D"]


def test_an_early_packaging_leaves_no_early_check() -> None:
    """Packaged after four days, the first gravity is one of the two that must agree."""
    day = _day(plan(package={"when": "pitch + 4 d"}))
    assert [(step.kind, step.days) for step in day.steps if step.days is not None] == [("still", 2.0), ("package", 4.0)]


def _wanted(*readings: Reading, house: Brewhouse | None = None, **tables: object) -> Wanted:
    return Wanted(report(batch(plan(**tables), readings, house)))


def test_hot_volumes_by_another_library() -> None:
    """The volumes beside the boxes have the contraction of IAPWS-95 water between 20 °C and the kettle's temperature."""
    wanted = _wanted(target={"pre_boil_volume": "25 L", "post_boil_volume": "20 L"})
    cold = CoolProp.PropsSI("D", "T", 293.15, "P", 101325, "Water")
    for kind, celsius, volume in (("kettle", 70.0, 25.0), ("boil-end", 98.0, 20.0)):
        asked = next(one for one in wanted.at(kind) if one.what == "volume")  # type: ignore[arg-type]
        assert (asked.expected, asked.sample) == (volume, celsius)
        assert asked.there == pytest.approx(volume * cold / CoolProp.PropsSI("D", "T", celsius + 273.15, "P", 101325, "Water"), rel=1e-4)


def test_first_wort_by_a_sum_by_hand() -> None:
    """4 kg with 80 % of extract and 4 % of moisture, 95 % converted, in 12 L: 2.9184 kg in 12 L and 0.16 kg of water are 19.383 °P."""
    tables = {"grist": [good("4 kg")], "liquor": {"mash": "12 L"}, "target": {"conversion_efficiency": "95 %"}}
    extract = 4 * 0.80 * 0.96 * 0.95
    plato = 100 * extract / (extract + 12 * 0.998203 + 4 * 0.04)
    assert plato == pytest.approx(19.383, abs=0.001)
    assert _wanted(**tables).first_wort() == pytest.approx(float(sucrose.sg_from_extract(plato)), abs=1e-5)
    assert _wanted(grist=[good("4 kg")]).first_wort() is None


def test_corrections_follow_the_calibration() -> None:
    """A hydrometer is right at its own temperature, reads low in warm wort and high in cold."""
    for celsius, within in ((15.0, 4e-4), (20.0, 1e-7)):  # 1.050 on a scale of 15/15 is a little less on one of 20/20
        house = brewhouse(instruments={"hydrometer_calibrated_at": f"{celsius:g} °C"})
        found = dict(_wanted(target={"original_gravity": "1.050"}, house=house).corrections())
        assert found[celsius] == pytest.approx(0.0, abs=within)
        assert found[40.0] > found[30.0] > 0.001
    assert found[10.0] < -0.001


def test_priming_sugar_goes_with_the_volume() -> None:
    """Grams for a litre are the same for each volume told, the planned volume first; a keg needs none."""
    package = {"method": "bottle", "sugar": "sucrose", "temperature": "20 °C"}
    tables = {"target": {"volume": "20 L", "carbonation": "2.4 vol", "original_gravity": "1.050"}, "package": package}
    wanted = _wanted(**tables)
    assert [litres for litres, _ in wanted.priming()] == [20.0, 19.0, 18.0]
    assert {round(grams / litres, 9) for litres, grams in wanted.priming()} == {round(wanted.priming()[0][1] / 20.0, 9)}
    assert _wanted(**{**tables, "package": package | {"method": "keg"}}).priming() == ()


def test_readings_stand_in_their_boxes() -> None:
    """Liquor adds up row by row, the later grist stands, and gravities after the first are parted into checks and the last two."""
    rows = [
        read(2, "mash", "liquor", "20 L"), read(3, "mash", "liquor", "1.5 L"), read(4, "mash", "grist", "4 kg"), read(5, "mash", "grist", "4.1 kg"),
        *(read(6 + n, "fermenter", "gravity", f"1.0{50 - 5 * n}", time=f"2026-01-{10 + n}T10:00") for n in range(8)),
    ]  # fmt: skip
    wanted = _wanted(*rows, grist=[good("4 kg")])
    assert [row.value for row in wanted.at("prepare")[0].rows] == [20.0, 1.5]
    assert [row.value for row in wanted.at("mash-in")[0].rows] == [4.1]
    assert [row.value for row in wanted.at("pitch")[1].rows] == [1.050]
    assert [one.rows[0].value for one in wanted.at("check")] == [1.045, 1.040, 1.035, 1.030]
    assert wanted.more_checks == 1
    assert [one.rows[0].value for one in wanted.at("still")] == [1.020, 1.015]


def test_every_reading_that_a_figure_needs_is_asked_for() -> None:
    """A batch that holds exactly what the sheet asks for leaves no figure of the account without a value."""
    asks = [one for kind in brew_day(PlanView(plan(**FULL), brewhouse())).steps for one in Wanted(report(batch(plan(**FULL)))).at(kind.kind)]
    values = {"SG": "1.050", "L": "20 L", "kg": "4 kg", "°C": "66 °C", "min": "75 min", "g": "0.1 kg", "pH": "5.4 pH"}
    line, rows = 2, []
    for n, (stage, what, unit) in enumerate(dict.fromkeys((one.stage, one.what, one.unit) for one in asks)):
        text = "16 L" if stage == "post-boil" and what == "volume" else values[unit]
        rows.append(read(line + n, stage, what, text, time={"fermenter": "2026-01-01T10:00", "package": "2026-01-20T10:00"}.get(stage, "")))
    rows.append(read(99, "fermenter", "gravity", "1.010", time="2026-01-09T10:00"))
    tables = {**FULL, "grist": [good("4 kg", colour="6 EBC")], "yeast": {"cells": "200e9"}, "package": {"method": "bottle", "sugar": "sucrose"}}
    found = report(batch(plan(**tables), tuple(rows))).figures
    assert {key: figure.why_absent for key, figure in found.items() if figure.measured is None and not figure.entry.planned_only} == {}
