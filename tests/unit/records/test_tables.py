"""CSV as people save it: delimiters, decimal commas, times, lines."""

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from generator.records.files import Reader
from generator.records.tables import Table, decimal, moment
from generator.units import QuantityError

COLUMNS = ("time", "what", "note")


def rows(folder: Path, text: str) -> tuple[list[tuple[int, dict[str, str]]], list[tuple[int, str]]]:
    """The rows of a table with their lines, and line and slug of its problems."""
    (folder / "table.csv").write_text(text, encoding="utf-8", newline="")
    reader = Reader(folder)
    found = list(Table(reader, folder / "table.csv", COLUMNS, ("what",)).rows())
    return found, [(problem.line, problem.slug) for problem in reader.problems]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("comma", [",", ";"])
def test_lines_are_those_of_the_file(ending: str, comma: str, tmp_path: Path) -> None:
    """A row has the line on which it begins, past blank lines and cells of several lines, for every ending and delimiter."""
    lines = ["", "what,note", "", "a,x", 'b,"two', 'lines, one; cell"', ",", " c , y "]
    text = ending.join(line.replace(",", comma) if '"' not in line else line.replace("b,", f"b{comma}") for line in lines)
    found, problems = rows(tmp_path, text)
    assert problems == []
    cell = f"two{ending}lines, one; cell"
    assert found == [(4, {"what": "a", "note": "x"}), (5, {"what": "b", "note": cell}), (8, {"what": "c", "note": "y"})]


def test_short_rows_lack_cells_and_long_ones_are_problems(tmp_path: Path) -> None:
    """Cells may be missing at the end of a row; more than the header names are told, unless they are blank."""
    found, problems = rows(tmp_path, "what,note\na\nb,x,,,\nc,x,y\n")
    assert found == [(2, {"what": "a"}), (3, {"what": "b", "note": "x"})]
    assert problems == [(4, "too-many-cells")]


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("", [(1, "missing-column")]),
        ("\n , \n", [(1, "missing-column")]),
        ("\nwhat,wat\na,b\n", [(2, "unknown-column")]),
        ("what,,note\n", [(1, "unknown-column")]),
        ("what,note,,\na,b\n", []),
        ("WHAT,Note\n", []),
        ("time,note\n", [(1, "missing-column")]),
        ("what,what\n", [(1, "duplicate-column")]),
        ("what\tnote\n", [(1, "bad-csv")]),
        ("what,note\na,b\nWhat,note\n", [(3, "bad-csv")]),
        ('what,note\na,b\nc,"d\ne,f\n', [(3, "bad-csv")]),
        ('what,note\na,"b" c\n', [(2, "bad-csv")]),
        ("what,note\na," + "x" * 140_000 + "\n", [(2, "bad-csv")]),
    ],
    ids=range(13),
)
def test_headers_and_quotes(text: str, problems: list[tuple[int, str]], tmp_path: Path) -> None:
    """A header or a quote that is wrong is told at the line where it begins."""
    assert rows(tmp_path, text)[1] == problems


@pytest.mark.parametrize(
    ("text", "gravity", "value", "comma"),
    [("22,5", False, 22.5, True), ("-0,5", False, -0.5, True), ("1,064", True, 1.064, True), ("0,500", False, 0.5, True),
     ("1234,567", False, 1234.567, True),
     ("22.5", False, 22.5, False), ("1.064", True, 1.064, False), ("1e3", False, 1000.0, False)],
)  # fmt: skip
def test_decimals(text: str, gravity: bool, value: float, comma: bool) -> None:
    """A decimal comma is read where it can part no thousands, and said."""
    assert decimal(text, gravity=gravity) == (value, comma)


@pytest.mark.parametrize(
    ("text", "slug"),
    [("1,064", "ambiguous-comma"), ("-22,500", "ambiguous-comma"), ("1,000.5", "not-a-number"), ("1,2,3", "not-a-number"), ("1,", "not-a-number"),
     ("9" * 400 + ",5", "not-a-number"), ("", "not-a-number"), ("24 L", "not-a-number")],
    ids=range(8),
)  # fmt: skip
def test_decimals_that_are_refused(text: str, slug: str) -> None:
    """What could be a thousand is refused, and what is no finite number."""
    with pytest.raises(QuantityError) as caught:
        decimal(text)
    assert caught.value.slug == slug


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("2026-02-14 09:10", datetime(2026, 2, 14, 9, 10)),  # noqa: DTZ001
        ("2026-02-14T09:10:30", datetime(2026, 2, 14, 9, 10, 30)),  # noqa: DTZ001
        ("2026-02-14", datetime(2026, 2, 14)),  # noqa: DTZ001
        ("2026-02-14T09:10Z", datetime(2026, 2, 14, 9, 10, tzinfo=UTC)),
        ("2026-02-14 09:10+01:00", datetime(2026, 2, 14, 9, 10, tzinfo=timezone(timedelta(hours=1)))),
    ],
)
def test_moments(text: str, when: datetime) -> None:
    """ISO 8601 with or without a time and an offset; the offset is kept."""
    assert moment(text) == when
    assert moment(text).utcoffset() == when.utcoffset()


@pytest.mark.parametrize(
    "text",
    ["noon", "14/02/2026 09:10", "2026-02-14 9:10", "2026-02-30 09:10", "2026-02-14 25:00", "20260214", "2026-W07-6", "0001-01-01T00:00+14:00"],
)
def test_moments_that_are_refused(text: str) -> None:
    """Other ways of writing a time, and times that no calendar has, are refused."""
    with pytest.raises(QuantityError) as caught:
        moment(text)
    assert caught.value.slug == "time-unreadable"


def test_blank_moment_is_missing() -> None:
    """No time at all is told as that."""
    with pytest.raises(QuantityError) as caught:
        moment("")
    assert caught.value.slug == "time-missing"
