"""gravity-log.csv: a logger's export, thousands of rows of time, SG and °C."""

import re
from datetime import date, datetime
from pathlib import Path
from typing import NamedTuple

from generator import units
from generator.records.files import TABLE_LIMIT, Reader
from generator.records.tables import Table, decimal, moment
from generator.units import Kind, QuantityError

LONGEST = 3.0
"""Years after the brew day in which a logger's row may stand; a later one was mistyped, or its clock was never set."""
_MEASURED: tuple[tuple[str, Kind, str], ...] = (("gravity", units.GRAVITY, "SG"), ("temperature", units.TEMPERATURE, "degC"))


_NUMBER = r"-?\d{1,3}(?:\.\d{1,9})?"
_PLAIN_ROW = rf"[12]\d{{3}}-\d\d-\d\d[ T]\d\d:\d\d(?::\d\d)?(?:Z|[+-]\d\d:\d\d)?,(?:{_NUMBER})?,(?:{_NUMBER})?"
_PLAIN = re.compile(rf"time,gravity,temperature\n(?:{_PLAIN_ROW}\n)*+", re.ASCII)
"""A file as loggers write them: nothing in it needs a second look."""


class LogRow(NamedTuple):
    """One row of a logger."""

    line: int
    time: datetime
    gravity: float | None
    """SG as the logger gives it; None where the cell is blank."""
    temperature: float | None
    """°C; None where the cell is blank."""


def read(reader: Reader, path: Path, brewed: date | None = None) -> tuple[LogRow, ...]:
    """All good rows of a gravity-log.csv, in the order of the file; the others are Problems.

    Args:
        reader: of the journal.
        path: the file.
        brewed: the brew day; rows of an earlier day, or of years later, are Problems.
    """
    text = reader.text(path, TABLE_LIMIT)
    if text is None:
        return ()
    plain = _plain(text.replace("\r\n", "\n").rstrip("\n") + "\n", brewed)
    if plain is not None:
        return plain
    rows = _Rows(Table(reader, path, ("time", "gravity", "temperature"), ("time", "gravity")), brewed)
    return tuple(row for line, cells in rows.table.rows() if (row := rows.row(line, cells)) is not None)


def _plain(text: str, brewed: date | None) -> tuple[LogRow, ...] | None:
    """The rows of a plain file, several times faster than cell by cell; None where anything is unusual or wrong, so that it gets a careful look."""
    if not _PLAIN.fullmatch(text):
        return None
    cells = [line.split(",") for line in text.split("\n")[1:-1]]
    try:
        times = [datetime.fromisoformat(time) for time, _, _ in cells]
        known = [{text: _value(text, column) for text in {row[column] for row in cells}} for column in (1, 2)]
        for day in {time.date() for time in times}:
            _check_day(day, brewed)
    except (ValueError, QuantityError):
        return None
    gravities, temperatures = known
    return tuple([LogRow(line, time, gravities[row[1]], temperatures[row[2]]) for line, (time, row) in enumerate(zip(times, cells, strict=True), 2)])


def _value(text: str, column: int) -> float | None:
    """What a cell of a column says; None where it is blank.

    Raises:
        QuantityError: no number, or one that can't be.
    """
    if not text:
        return None
    name, kind, unit = _MEASURED[column - 1]
    return units.within(decimal(text, gravity=name == "gravity")[0], unit, kind).value


def _check_day(day: date, brewed: date | None) -> None:
    """QuantityError where a day lies before the brew day or years after it; a day of grace for time zones."""
    if brewed is None or -1 <= (day - brewed).days <= 365.25 * LONGEST:
        return
    what = f"{day} lies {'before the brew day' if day < brewed else 'years after the brew day'}, {brewed}"
    raise QuantityError(what, f"expected a time from the brew day to {LONGEST:g} years after it", "out-of-range")


class _Rows:
    """Reads rows cell by cell, and tells what is wrong with each."""

    def __init__(self, table: Table, brewed: date | None) -> None:
        self.table, self._brewed = table, brewed

    def row(self, line: int, cells: dict[str, str]) -> LogRow | None:
        """One row; None, with its Problems, where it is bad."""
        good = True
        time: datetime | None = None
        values: list[float | None] = [None, None]
        try:
            time = moment(cells.get("time", ""))
            _check_day(time.date(), self._brewed)
        except QuantityError as error:
            self.table.problem(line, error, "time")
            good = False
        for index, (column, _, _) in enumerate(_MEASURED):
            try:
                values[index] = _value(cells.get(column, ""), index + 1)
            except QuantityError as error:
                self.table.problem(line, error, column)
                good = False
        return LogRow(line, time, *values) if time is not None and good else None
