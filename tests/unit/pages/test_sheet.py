"""The brew sheet in words: what to weigh, to heat, to do and to read, for plans and for batches already brewed."""

from collections.abc import Callable
from pathlib import Path

import pytest

from generator.analysis.report import Report
from generator.pages.contracts import SheetPage
from generator.pages.render import render
from generator.pages.sheet_contract import Box, SheetStep
from generator.pages.sheet_view import sheet_page
from generator.pages.sheet_words import degrees, on_the_clock
from generator.pages.site_map import SiteMap, order
from generator.records.journal import load
from tests.conftest import DEMO
from tests.site.dom import parse, text
from tests.unit.pages.support import reports


@pytest.fixture(scope="module")
def sheets() -> dict[str, SheetPage]:
    """Every sheet of the demo by its slug."""
    return _sheets(DEMO)


def _sheets(journal: Path) -> dict[str, SheetPage]:
    found: dict[str, Report] = reports(journal)
    site = SiteMap(load(journal).settings, order(list(found.values())))
    return {slug: sheet_page(site, one) for slug, one in found.items()}


@pytest.fixture
def sheet_of(tmp_path: Path) -> Callable[..., SheetPage]:
    """Makes the sheet of a plan, with readings where they are given."""

    def make(plan: str, readings: str = "") -> SheetPage:
        (tmp_path / "one").mkdir()
        (tmp_path / "journal.toml").write_text('title = "Odd"\n', encoding="utf-8")
        (tmp_path / "one/plan.toml").write_text(f'[batch]\nrecipe = "Odd"\nbrewed = 2026-01-01\n{plan}', encoding="utf-8")
        if readings:
            (tmp_path / "one/readings.csv").write_text(f"time,stage,what,value,unit,at,note\n{readings}", encoding="utf-8")
        return _sheets(tmp_path)["one"]

    return make


def _step(sheet: SheetPage, title: str) -> SheetStep:
    return next(step for step in sheet.steps if step.title.startswith(title))


def _box(sheet: SheetPage, label: str) -> Box:
    return next(box for step in sheet.steps for box in step.boxes if box.label == label)


@pytest.mark.parametrize(("minutes", "told"), [(0, "0:00"), (5.4, "0:05"), (125, "2:05"), (-30, "−0:30"), (-0.2, "0:00"), (719.6, "12:00")])
def test_the_clock(minutes: float, told: str) -> None:
    """Minutes are told in hours and minutes, with a minus before mash-in."""
    assert on_the_clock(minutes) == told


def test_temperatures_say_no_empty_decimal() -> None:
    """A whole degree has no decimal; another has one."""
    assert (degrees(66.0), degrees(65.56), degrees(-1.0)) == ("66 °C", "65.6 °C", "−1 °C")


def test_a_planned_batch_has_empty_boxes(sheets: dict[str, SheetPage]) -> None:
    """The sheet of a plan says what to make, and beside each planned value leaves the place of the reading empty."""
    sheet = sheets["2026-12-12-fog-bell-4"]
    assert sheet.statement.startswith("17.0 L at 1.096, to finish at 1.023")
    assert sheet.under == "Brew sheet, fourth batch of Fog Bell, planned for Saturday 12 December 2026"
    assert {box.read for step in sheet.steps for box in step.boxes} == {""}
    assert _box(sheet, "Final gravity").planned == "1.023"
    assert _box(sheet, "Volume into the fermenter").planned == "17.0 L"
    assert (_box(sheet, "Mash temperature").planned, _box(sheet, "Mash temperature").sample) == ("66 °C", False)
    assert _box(sheet, "Volume after the boil").planned.endswith("at 98 °C, 19.5 L at 20 °C")


def test_a_brewed_batch_holds_its_readings(sheets: dict[str, SheetPage]) -> None:
    """Each box holds the reading as it stands in the file, with its unit and the temperature of the sample."""
    sheet = sheets["2026-05-02-far-bank-2"]
    assert sheet.statement.startswith("Planned: ")
    read = {box.label: (box.read, box.unit, box.at) for step in sheet.steps for box in step.boxes}
    assert read["Mash liquor, in all"] == ("26.75", "qt", "22.8")
    assert read["Grist, in all"] == ("11.90", "lb", "")
    assert read["Mash temperature"] == ("149", "°F", "")
    assert read["Volume before the boil"] == ("6.8", "gal", "66.1")
    assert read["Priming sugar"] == ("4.1", "oz", "")
    assert _step(sheet, "Run off").at == "12:45"
    assert _step(sheet, "Package").at == "17 May, 10:00"


def test_gravities_in_plato(sheets: dict[str, SheetPage]) -> None:
    """Where gravities are planned and read in °P, the planned values beside them are in °P too."""
    box = _box(sheets["2026-01-17-low-cable-1"], "Original gravity")
    assert (box.planned, box.unit, box.sample) == ("13.3 °P", "°P", True)


def test_liquor_in_two_lots_is_shown_as_a_sum(sheets: dict[str, SheetPage]) -> None:
    """What adds up stands row by row."""
    assert _box(sheets["2025-11-15-fog-bell-1"], "Sparge liquor").read == "6.0 + 1.5"


def test_everything_is_on_every_sheet(sheets: dict[str, SheetPage]) -> None:
    """Each of the goods, hops, tasks and cautions of each batch of the demo is on its sheet; tasks and cautions once."""
    for slug, one in reports().items():
        sheet = sheets[slug]
        page = text(parse(render(sheet)).by_id("main"))
        plan = one.batch.plan
        assert [row.name for row in sheet.goods] == [good.name for good in plan.grist]
        assert len(sheet.hops) == len(plan.hops)
        assert sum(len(step.adds) for step in sheet.steps) == len(plan.hops) + sum(good.added != "mash" for good in plan.grist)
        titles = [step.title for step in sheet.steps] + [what for _, what in sheet.free]
        assert all(titles.count(task.text) == sum(other.text == task.text for other in plan.task) for task in plan.task)
        assert sorted(caution.text for step in sheet.steps for caution in step.cautions) == sorted(caution.text for caution in one.cautions)
        assert all(" ".join(caution.text.split()) in page for caution in one.cautions), slug


def test_cautions_stand_at_their_step(sheets: dict[str, SheetPage]) -> None:
    """What can happen at the mash stands at mash-in, at the boil where it begins, in the fermenter at the pitch, in the bottle at packaging."""
    where = {"mash": "Mash in", "boil": "The boil begins", "fermenter": "Pitch", "package": "Package"}
    seen = 0
    for slug, one in reports().items():
        for caution in one.cautions:
            if caution.stage in where:
                seen += 1
                assert caution.text in [said.text for said in _step(sheets[slug], where[caution.stage]).cautions], (slug, caution.slug)
    assert seen > 20


PORTIONS = """
[mash]
portions = 3
interval = "8 min"
[liquor]
mash = "15 L"
sparge = "12 L"
sparge_temperature = "76 °C"
[[grist]]
name = "Pale malt"
mass = "4.125 kg"
extract = "80 %"
[[rest]]
temperature = "66 °C"
duration = "60 min"
[[task]]
when = "after lunch"
text = "Wash <b>the</b> bottles & {{ 7 * 7 }}"
"""


def test_grain_in_portions(sheet_of: Callable[..., SheetPage]) -> None:
    """Each portion has its mass and its minute, the rest counts from the last one, and the liquor says what it fills when hot."""
    sheet = sheet_of(PORTIONS)
    found = [(step.when, step.title) for step in sheet.steps if step.title.startswith("Mash in")]
    assert found == [("0:00", "Mash in, portion 1 of 3"), ("0:08", "Mash in, portion 2 of 3"), ("0:16", "Mash in, portion 3 of 3")]
    assert sheet.goods[0].each == "1.375"
    assert "Hold 66 °C for 60 min, until 1:16." in _step(sheet, "Mash in, portion 3").sentences
    assert [(liquor.name, liquor.volume.text, liquor.hot) for liquor in sheet.liquors][1] == ("Sparge", "12.0", "12.3 L")
    assert _step(sheet, "Run off").when == "1:16"


def test_words_of_the_user_stay_words(sheet_of: Callable[..., SheetPage]) -> None:
    """A task in free words stands when it suits; its markup is shown, never obeyed."""
    sheet = sheet_of(PORTIONS)
    assert sheet.free == (("after lunch", "Wash <b>the</b> bottles & {{ 7 * 7 }}"),)
    html = render(sheet)
    assert "Wash &lt;b&gt;the&lt;/b&gt; bottles &amp; {{ 7 * 7 }}" in html
    assert "style=" not in html


def test_a_bare_plan(sheet_of: Callable[..., SheetPage]) -> None:
    """Only the required keys: no table, no invented number, but every reading has its box."""
    sheet = sheet_of("")
    assert (sheet.goods, sheet.hops, sheet.liquors, sheet.grist, sheet.yeast) == ((), (), (), None, "")
    assert sheet.statement == "A plan without figures."
    assert {box.planned for step in sheet.steps for box in step.boxes} == {""}
    assert _step(sheet, "Heat the liquor").sentences == ("The plan gives no mash liquor.",)
    assert sum(len(step.boxes) for step in sheet.steps) == 19


def test_a_keg_is_read_by_its_pressure(sheet_of: Callable[..., SheetPage]) -> None:
    """A keg has no priming sugar on its sheet."""
    sheet = sheet_of('[package]\nmethod = "keg"\n[target]\ncarbonation = "2.4 vol"\n')
    assert [box.label for box in _step(sheet, "Package").boxes][-1] == "Pressure"
    assert _step(sheet, "Package").sentences == ("Keg to 2.4 volumes. Read volume, gravity and pressure.",)


def test_notes_of_the_day_are_told(sheet_of: Callable[..., SheetPage]) -> None:
    """Events of a brewed batch stand under the notes with their time; of many the last are counted."""
    rows = "".join(f"2026-01-01 1{n // 10}:{n % 10}0,mash,note,,,,Event {n}\n" for n in range(6)) + "2026-01-02 09:00,fermenter,note,,,,Foam\n"
    sheet = sheet_of("", rows + "".join(f",boil,note,,,,More {n}\n" for n in range(6)))
    assert sheet.events[0] == ("10:00", "Event 0")
    assert len(sheet.events) == 11
    assert sheet.events[-1] == ("", "and 3 more in the timeline of the batch")
