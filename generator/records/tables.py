"""CSV as people save it: comma or semicolon, byte-order mark, decimal commas, blank lines; every fault with its line."""

import csv
import io
import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from generator import units
from generator.errors import nearest, shown
from generator.records.files import TABLE_LIMIT, Reader
from generator.units import QuantityError

_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_LINE = re.compile(r"[^\r\n]*")
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)


_QUOTES = 'expected every quote mark (") to be closed, and one within a cell to be doubled ("")'
_FAULTS = {
    "unexpected end of data": "a quote mark is opened and never closed",
    "expected after": "a cell goes on after its closing quote mark",
    "field larger": "a cell is endless, as after a quote mark that is never closed",
}
"""Words of the csv module, to ours."""


class Table:
    """The rows of one CSV file as dictionaries of stripped cells, with their lines."""

    def __init__(self, reader: Reader, path: Path, columns: tuple[str, ...], required: tuple[str, ...]) -> None:
        self._reader, self._path = reader, path
        self._columns, self._required = columns, required

    def problem(self, line: int, error: QuantityError, column: str = "") -> None:
        """Note a problem of one row."""
        where = f"{column}: " if column else ""
        self._reader.problem(self._path, line, where + error.what, error.expected, error.slug)

    def rows(self) -> Iterator[tuple[int, dict[str, str]]]:
        """(line, cells) of every row that is not blank. Stops, with a Problem, where the file is no table."""
        text = self._reader.text(self._path, TABLE_LIMIT)
        if text is None:
            return
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter(text), strict=True)
        header: list[str] | None = None
        line = 0
        try:
            for cells in rows:
                line, start = rows.line_num, line + 1
                if self._reader.full(self._path):
                    return
                stripped = [cell.strip() for cell in cells]
                if not any(stripped):
                    continue
                if header is None:
                    header = self._header(stripped, start)
                    if header is None:
                        return
                elif self._fits(header, stripped, start):
                    yield start, dict(zip(header, stripped, strict=False))
        except csv.Error as error:
            reason = next((words for part, words in _FAULTS.items() if part in str(error)), shown(error))
            self._reader.problem(self._path, line + 1, f"the row that begins here can't be read: {reason}", _QUOTES, "bad-csv")
            return
        if header is None:
            self._reader.problem(self._path, 1, "the file is empty", f"expected the header {','.join(self._columns)}", "missing-column")

    def _fits(self, header: list[str], cells: list[str], line: int) -> bool:
        """Whether a row has no more cells than the header, and is not the header again; a Problem otherwise."""
        if any(cells[len(header) :]):
            expected = f"expected at most {len(header)}, as in the header, and quotes around a cell with a comma"
            self._reader.problem(self._path, line, f"the row has {len(cells)} cells", expected, "too-many-cells")
            return False
        if cells[0].lower() == header[0] and [cell.lower() for cell in cells[: len(header)]] == header:
            self._reader.problem(self._path, line, "the header stands here again", "expected it once, before all rows", "bad-csv")
            return False
        return True

    def _header(self, cells: list[str], line: int) -> list[str] | None:
        """The names of the columns, without blank ones at the end; None, with Problems, if they can't stand."""
        names = [cell.lower() for cell in cells]
        while not names[-1]:
            names.pop()
        if len(names) == 1 and "\t" in names[0]:
            self._reader.problem(self._path, line, "the columns are parted by tabs", "expected commas or semicolons between them", "bad-csv")
            return None
        good = True
        for name in names:
            if name not in self._columns:
                what = f"unknown column '{shown(name)}'" if name else "a column has no name"
                self._reader.problem(self._path, line, what, nearest(name, self._columns), "unknown-column")
                good = False
        for name in sorted({name for name in names if names.count(name) > 1 and name in self._columns}):
            self._reader.problem(self._path, line, f"the column '{name}' stands twice", "expected each column once", "duplicate-column")
            good = False
        for name in self._required:
            if name not in names:
                expected = f"expected a header with at least {' and '.join(self._required)}"
                self._reader.problem(self._path, line, f"the column '{name}' is missing", expected, "missing-column")
                good = False
        return names if good else None


def delimiter(text: str) -> str:
    """Semicolon where the first line that isn't blank has more of them than commas."""
    first = _LINE.match(text.lstrip())
    header = first[0] if first else ""
    return ";" if header.count(";") > header.count(",") else ","


def decimal(text: str, *, gravity: bool = False) -> tuple[float, bool]:
    """A number of a CSV cell, and whether it was written with a decimal comma.

    Args:
        text: the cell.
        gravity: whether `1,064` can only be a gravity here.

    Raises:
        QuantityError: no finite number, or a comma that could part thousands.
    """
    if not _COMMA.fullmatch(text):
        return units.number(text), False
    if _THOUSANDS.fullmatch(text) and not gravity:
        expected = f"expected {text.replace(',', '.')} or {text.replace(',', '')}"
        raise QuantityError(f"the comma of '{text}' could part thousands", expected, "ambiguous-comma")
    return units.number(text.replace(",", ".")), True


def moment(text: str) -> datetime:
    """A time as ISO 8601 writes it; an offset is kept.

    Raises:
        QuantityError: not a time, or none.
    """
    if not text:
        raise QuantityError("nothing is written here", "expected ISO 8601, as in 2026-02-14 09:10", "time-missing")
    try:
        if not _DATE.match(text):
            raise ValueError(text)
        when = datetime.fromisoformat(text)
        if when.tzinfo is not None:
            when.utctimetuple()  # an offset may lead out of the calendar
        return when
    except (ValueError, OverflowError) as error:
        raise QuantityError(f"'{shown(text)}' is not a time", "expected ISO 8601, as in 2026-02-14 09:10", "time-unreadable") from error
