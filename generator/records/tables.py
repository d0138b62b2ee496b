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
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)


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
        first = next((line for line in text.splitlines() if line.strip()), "")
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=";" if first.count(";") > first.count(",") else ",", strict=True)
        header: list[str] | None = None
        line = 0
        try:
            for cells in rows:
                line, start = rows.line_num, line + 1
                stripped = [cell.strip() for cell in cells]
                if not any(stripped):
                    continue
                if header is None:
                    header = self._header(stripped, start)
                    if header is None:
                        return
                elif len(stripped) > len(header) and any(stripped[len(header) :]):
                    self._reader.problem(
                        self._path, start, f"the row has {len(stripped)} cells", f"expected at most {len(header)}, as in the header", "too-many-cells"
                    )
                else:
                    yield start, dict(zip(header, stripped, strict=False))
        except csv.Error as error:
            self._reader.problem(
                self._path, rows.line_num or 1, f"this is not a table: {shown(error)}", 'expected cells in commas, quotes closed as "..."', "bad-csv"
            )
            return
        if header is None:
            self._reader.problem(self._path, 1, "the file is empty", f"expected the header {','.join(self._columns)}", "missing-column")

    def _header(self, cells: list[str], line: int) -> list[str] | None:
        names = [cell.lower() for cell in cells]
        good = True
        for name in names:
            if name not in self._columns:
                self._reader.problem(self._path, line, f"unknown column '{shown(name)}'", nearest(name, self._columns), "unknown-column")
                good = False
        for name in sorted({name for name in names if names.count(name) > 1 and name in self._columns}):
            self._reader.problem(self._path, line, f"the column '{name}' stands twice", "expected each column once", "duplicate-column")
            good = False
        for name in self._required:
            if name not in names:
                self._reader.problem(
                    self._path, line, f"the column '{name}' is missing", f"expected a header with {', '.join(self._required)}", "missing-column"
                )
                good = False
        return names if good else None


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
        raise QuantityError(f"the comma of '{text}' could part thousands", "expected a decimal point here, or none", "ambiguous-comma")
    return float(text.replace(",", ".")), True


def moment(text: str) -> datetime:
    """A time as ISO 8601 writes it; an offset is kept.

    Raises:
        QuantityError: not a time.
    """
    try:
        if not re.match(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            raise ValueError(text)
        when = datetime.fromisoformat(text)
        if when.tzinfo is not None:
            when.utctimetuple()  # an offset may lead out of the calendar
        return when
    except (ValueError, OverflowError) as error:
        raise QuantityError(f"'{shown(text)}' is not a time", "expected ISO 8601, as in 2026-02-14 09:10", "time-unreadable") from error
