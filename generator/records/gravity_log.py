"""gravity-log.csv: a logger's export, thousands of rows of time, SG and °C."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from generator import units
from generator.records.files import Reader
from generator.records.tables import Table, decimal, moment
from generator.units import QuantityError


@dataclass(frozen=True, slots=True)
class LogRow:
    """One row of a logger."""

    line: int
    time: datetime
    gravity: float | None
    """SG as the logger gives it; None where the cell is blank."""
    temperature: float | None
    """°C; None where the cell is blank."""


def read(reader: Reader, path: Path) -> tuple[LogRow, ...]:
    """All good rows of a gravity-log.csv, in the order of the file; the others are Problems."""
    table = Table(reader, path, ("time", "gravity", "temperature"), ("time", "gravity"))
    return tuple(row for line, cells in table.rows() if (row := _row(table, line, cells)) is not None)


def _row(table: Table, line: int, cells: dict[str, str]) -> LogRow | None:
    good = True
    time: datetime | None = None
    values: dict[str, float | None] = {"gravity": None, "temperature": None}
    try:
        time = moment(cells.get("time", ""))
    except QuantityError as error:
        table.problem(line, error, "time")
        good = False
    for column, kind, unit in (("gravity", units.GRAVITY, "SG"), ("temperature", units.TEMPERATURE, "degC")):
        text = cells.get(column, "")
        try:
            if text:
                value, _ = decimal(text, gravity=column == "gravity")
                values[column] = units.within(value, unit, kind).value
        except QuantityError as error:
            table.problem(line, error, column)
            good = False
    if time is None or not good:
        return None
    return LogRow(line, time, values["gravity"], values["temperature"])
