"""Rows of readings.csv and of a logger's export."""

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from generator.records import gravity_log, readings
from generator.records.fields import Doubt
from generator.records.files import Reader
from generator.records.readings import Reading, wall_clock

HEADER = "time,stage,what,value,unit,at,doubt,note"
WINTER = timezone(timedelta(hours=1))


def read(folder: Path, *rows: str) -> tuple[tuple[Reading, ...], list[tuple[int, str]]]:
    """The rows as read, and line and slug of their problems."""
    (folder / "readings.csv").write_text("\n".join([HEADER, *rows]), encoding="utf-8")
    reader = Reader(folder)
    found = readings.read(reader, folder / "readings.csv")
    return found, [(problem.line, problem.slug) for problem in reader.problems]


def one(folder: Path, row: str) -> Reading:
    """The reading of a single good row."""
    (found,), problems = read(folder, row)
    assert problems == []
    return found


def test_row_as_written_and_as_read(tmp_path: Path) -> None:
    """A row keeps its words beside its values in canonical units."""
    row = one(tmp_path, "2026-02-14 11:00,Pre-Boil,Volume,6.5,gal,155 °F,0.1,  by   the dipstick ")
    assert (row.line, row.stage, row.what, row.unit, row.written, row.note) == (2, "pre-boil", "volume", "liter", "6.5 gal", "by the dipstick")
    assert row.value == pytest.approx(6.5 * 3.785411784, rel=1e-12)
    assert row.at == pytest.approx(123 / 1.8, rel=1e-12)
    assert row.doubt == Doubt(pytest.approx(0.3785411784, rel=1e-12), "liter")
    assert row.time == datetime(2026, 2, 14, 11)  # noqa: DTZ001
    assert not row.comma
    assert not row.is_note


@pytest.mark.parametrize(
    ("row", "value", "unit"),
    [
        (",pre-boil,gravity,1.064,,,,", 1.064, "SG"),
        (",pre-boil,gravity,15.7,°P,,,", 15.7, "°P"),
        (",pre-boil,gravity,-4.9,°P,,,", -4.9, "°P"),
        (",mash,ph,5.42,,,,", 5.42, "pH"),
        (",mash,ph,5.42,pH,,,", 5.42, "pH"),
        (",tasting,aroma,12,,,,", 12.0, "points"),
        (",tasting,overall,0,points,,,", 0.0, "points"),
        (",tasting,flavour,14.5,/20,,,", 14.5, "points"),
        (",sparge,liquor,0,L,,,", 0.0, "liter"),
        (",package,pressure,100,kPa,,,", 1.0, "bar"),
        (",boil,duration,1.5,h,,,", 90.0, "minute"),
    ],
)
def test_values(row: str, value: float, unit: str, tmp_path: Path) -> None:
    """Gravities keep their unit, the rest comes in canonical ones; SG, pH and scores need none."""
    found = one(tmp_path, row)
    assert (found.value, found.unit) == (pytest.approx(value, rel=1e-12), unit)


@pytest.mark.parametrize(
    ("row", "doubt"),
    [
        (",pre-boil,gravity,1.064,,,0.002,", Doubt(0.002, "SG")),
        (",pre-boil,gravity,15.7,°P,,0.1,", Doubt(0.1, "°P")),
        (",pre-boil,gravity,15.7,°P,,0.001 SG,", Doubt(0.001, "SG")),
        (",pre-boil,gravity,16.2,°Bx,,0.2 °Bx,", Doubt(0.2, "°Bx")),
        (",pre-boil,volume,24,L,,1 %,", Doubt(1.0, "%")),
        (",mash,ph,5.4,,,0.05,", Doubt(0.05, "pH")),
        (",tasting,aroma,9,,,1,", Doubt(1.0, "points")),
        (",tasting,aroma,9,/12,,1,", Doubt(1.0, "points")),
        (",mash,temperature,151,°F,,1.8,", Doubt(1.0, "degC")),
        (',mash,grist,8.6,kg,,"0,05",', Doubt(0.05, "kilogram")),
        (",mash,grist,8.6,kg,,,", None),
    ],
)
def test_doubts(row: str, doubt: Doubt | None, tmp_path: Path) -> None:
    """A doubt is in the reading's unit, in its own, or relative."""
    found = one(tmp_path, row).doubt
    assert found == (doubt and Doubt(pytest.approx(doubt.value, rel=1e-12), doubt.unit))


@pytest.mark.parametrize(
    ("row", "slug"),
    [
        (",pre-boil,gravity,1.064,,,2 %,", "wrong-value"),
        (",pre-boil,gravity,16,°Bx,,0.001 SG,", "unit-unknown"),
        (",pre-boil,gravity,1.064,,,0.2 °P,", "unit-unknown"),
        (",pre-boil,volume,24,L,,0,", "not-positive"),
        (",pre-boil,volume,24,L,warm,,", "not-a-number"),
        (",pre-boil,volume,24,L,111,,", "out-of-range"),
        (",pre-boil,volume,24 L,,,,", "not-a-number"),
        (',pre-boil,volume,"1,064",L,,,', "ambiguous-comma"),
        (",pre-boil,volume,24,,,,", "unit-missing"),
        (",pre-boil,gravity,1.3,,,,", "unit-missing"),
        (",pre-boil,volume,,L,,,", "value-missing"),
        (",tasting,aroma,12.5,,,,", "out-of-range"),
        (",tasting,aroma,9,kg,,,", "unit-unknown"),
        (",fermenter,gravity,1.012,,,,", "time-missing"),
        ("noon,mash,ph,5.4,,,,", "time-unreadable"),
        (",kettle,ph,5.4,,,,", "unknown-stage"),
        (",boil,ph,5.4,,,,", "unknown-reading"),
        (",mash,note,lost text,,,,", "wrong-value"),
    ],
)
def test_rows_that_are_refused(row: str, slug: str, tmp_path: Path) -> None:
    """A row that is wrong is told once, at its line, and gives no reading; its neighbours do."""
    found, problems = read(tmp_path, ",mash,ph,5.4,,,,", row, ",mash,note,,,,,good")
    assert problems == [(3, slug)]
    assert [row.line for row in found] == [2, 4]


def test_notes_are_events(tmp_path: Path) -> None:
    """A note has a time and words, no value; its words are one line."""
    row = one(tmp_path, '2026-02-14,boil,note,,,,,"foam\nin the  kettle"')
    assert (row.is_note, row.value, row.note) == (True, None, "foam in the kettle")


def test_decimal_comma_is_remembered(tmp_path: Path) -> None:
    """A row says whether any of its numbers had a decimal comma."""
    for row in (',pre-boil,gravity,"1,064",,,,', ',pre-boil,gravity,1.064,,"20,5",,', ',pre-boil,gravity,1.064,,,"0,002",'):
        assert one(tmp_path, row).comma


@pytest.mark.parametrize(
    ("times", "problems"),
    [
        (("09:00", "10:00", "11:00"), []),
        (("09:00", "09:00", "09:00"), []),
        (("10:00", "09:00", "11:00"), [3]),
        (("10:00", "09:00", "09:30"), [3, 4]),
        (("10:00", "11:00", "10:30"), [4]),
        (("10:00", "", "09:30"), [4]),
    ],
)
def test_stages_follow_each_other(times: tuple[str, ...], problems: list[int], tmp_path: Path) -> None:
    """The first time of a stage doesn't precede that of an earlier one; rows without a time don't count."""
    stages = ("mash", "pre-boil", "post-boil")
    rows = [f"{'2026-02-14 ' + time if time else ''},{stage},ph,5.4,,,," for stage, time in zip(stages, times, strict=True)]
    assert read(tmp_path, *rows)[1] == [(line, "stages-out-of-order") for line in problems]
    lasting = [*rows, "2026-03-01 09:00,mash,note,,,,,cleaned"]
    assert read(tmp_path, *lasting)[1] == read(tmp_path, *rows)[1]


def test_wall_clock_with_offsets_everywhere() -> None:
    """Where every time has an offset, moments are compared."""
    times = [datetime(2026, 3, 29, 4, tzinfo=timezone(timedelta(hours=2))), datetime(2026, 3, 29, 1, 30, tzinfo=UTC)]
    assert wall_clock(times) == [datetime(2026, 3, 29, 2), datetime(2026, 3, 29, 1, 30)]  # noqa: DTZ001


def test_wall_clock_with_a_time_without_offset() -> None:
    """One time without an offset, and what the clock on the wall showed is compared."""
    times = [datetime(2026, 3, 29, 4, tzinfo=WINTER), datetime(2026, 3, 29, 3, 30)]  # noqa: DTZ001
    assert wall_clock(times) == [datetime(2026, 3, 29, 4), datetime(2026, 3, 29, 3, 30)]  # noqa: DTZ001
    assert wall_clock([]) == []


def test_gravity_log(tmp_path: Path) -> None:
    """A logger's rows come in the order of the file; blank cells are gaps, and each wrong cell is told."""
    lines = [
        "time,gravity,temperature",
        "2026-02-15T01:00Z,1.060,19.5",
        "2026-02-15T00:00Z,,",
        ",1.06,19",
        "2026-02-15T02:00Z,10.6,190",
        'x,"1,060",19',
    ]
    (tmp_path / "gravity-log.csv").write_text("\n".join(lines), encoding="utf-8")
    reader = Reader(tmp_path)
    found = gravity_log.read(reader, tmp_path / "gravity-log.csv")
    assert [(row.line, row.gravity, row.temperature) for row in found] == [(2, 1.06, 19.5), (3, None, None)]
    problems = [(problem.line, problem.slug) for problem in reader.problems]
    assert problems == [(4, "time-missing"), (5, "out-of-range"), (5, "out-of-range"), (6, "time-unreadable")]
