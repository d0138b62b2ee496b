"""gravity-log.csv: the quick way and the careful way read the same, and bad rows are named with their line."""

from datetime import date
from pathlib import Path

import pytest

from generator.records import gravity_log
from generator.records.files import Reader
from generator.records.gravity_log import LogRow

HEADER = "time,gravity,temperature"
ROWS = ["2026-03-01 10:00,1.0500,19.5", "2026-03-01T10:15:30,,19.4", "2026-03-01 10:30+01:00,1.0498,", "2026-03-01 10:45Z,1.049,-1"]


def parsed(folder: Path, *lines: str, brewed: date | None = None, end: str = "\n") -> tuple[tuple[LogRow, ...], list[str]]:
    """Rows and problems of a log of these lines."""
    (folder / "gravity-log.csv").write_bytes(end.join([*lines, ""]).encode())
    reader = Reader(folder)
    return gravity_log.read(reader, folder / "gravity-log.csv", brewed), [str(problem) for problem in reader.problems]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_quick_and_careful_agree(tmp_path: Path, end: str) -> None:
    """A space before a comma, which the quick way leaves to the careful one, changes no row."""
    quick, none = parsed(tmp_path, HEADER, *ROWS, end=end)
    careful, faults = parsed(tmp_path, HEADER.replace(",", " ,"), *ROWS, end=end)
    assert quick == careful
    assert (len(quick), none, faults) == (4, [], [])
    assert [row.line for row in quick] == [2, 3, 4, 5]


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("2026-03-01 10:00,high,19", "not-a-number"),
        ("2026-03-01 10:00,1.300,19", "out-of-range"),
        ("2026-03-01 10:00,1.050,150", "out-of-range"),
        ("2026-13-01 10:00,1.050,19", "time-unreadable"),
        ("2025-12-30 10:00,1.050,19", "out-of-range"),
        ("2031-01-01 10:00,1.050,19", "out-of-range"),
        ("2026-03-01 10:00,1.050,19,7", "too-many-cells"),
    ],
)
def test_one_bad_row_among_thousands_is_named(tmp_path: Path, row: str, told: str) -> None:
    """Its line stands in the one problem there is, and no other row is lost."""
    good = [f"2026-03-{1 + hour // 24:02d} {hour % 24:02d}:{minute:02d},1.0500,19.0" for hour in range(72) for minute in range(60)]
    rows, problems = parsed(tmp_path, HEADER, *good[:3000], row, *good[3000:], brewed=date(2026, 3, 1))
    assert len(rows) == len(good)
    assert len(problems) == 1
    assert problems[0].startswith("gravity-log.csv:3002: ")
    assert problems[0].endswith(f"[{told}]")


def test_days_are_not_checked_without_a_brew_day(tmp_path: Path) -> None:
    """And the day before is left in peace, for time zones."""
    assert parsed(tmp_path, HEADER, "1999-01-01 10:00,1.050,19")[1] == []
    assert parsed(tmp_path, HEADER, "2026-02-28 23:30,1.050,19", brewed=date(2026, 3, 1))[1] == []
