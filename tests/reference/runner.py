"""Compares functions with tables of reference values. It knows no formula, only how to read, compare and tell."""

import csv
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from tests.reference.science import Function, short_name

FOLDER = Path(__file__).parent / "tables"
Origin = Literal["published", "computed", "from memory"]


class Row(dict[str, str]):
    """A row of a table: text by column, with a label that finds it again."""

    label = ""

    def number(self, column: str) -> float:
        """The number in a column."""
        return float(self[column])


Input = float | str | Callable[[Row], object]


def _unchanged(value: float, _: Row) -> float:
    return value


def _every(_: Row) -> bool:
    return True


@dataclass(frozen=True)
class Check:
    """One column of a table and the function that must give it."""

    table: str
    column: str
    function: Function
    inputs: tuple[Input, ...]
    """For each argument a column, a constant, or what to make of the row."""
    absolute: float = 0.0
    unit: str = ""
    """Of the absolute tolerance."""
    relative: float = 0.0
    origin: Origin = "computed"
    """Where the expected values come from."""
    convert: Callable[[float, Row], float] = _unchanged
    """From what the function gives to the unit of the column."""
    only: Callable[[Row], bool] = _every
    """The rows in which the check is meant."""
    transposed: bool = False
    """Whether the table has its quantities in the first column and its cases beside one another."""
    note: str = ""

    @property
    def name(self) -> str:
        """A readable identity."""
        return "-".join(part for part in (self.table, self.column, short_name(self.function), self.note) if part).replace(" ", "_")

    @property
    def statement(self) -> str:
        """What the table's second line says of this check."""
        tolerance = f"{self.absolute:g} {self.unit}".rstrip() if self.absolute else f"{100 * self.relative:g} % of the value"
        return f"{short_name(self.function)}, tolerance {tolerance}, {self.origin}"


@dataclass(frozen=True)
class Table:
    """A table with what its two comment lines say."""

    name: str
    source: str
    checked: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Comparison:
    """What one row of one check came to."""

    row: Row
    expected: float
    got: float
    allowed: float

    @property
    def deviation(self) -> float:
        """Got less expected."""
        return self.got - self.expected

    @property
    def holds(self) -> bool:
        """Whether the deviation is allowed; never so for NaN."""
        return abs(self.deviation) <= self.allowed


def _comment(lines: list[str], number: int, kind: str, name: str) -> str:
    start = f"# {kind}: "
    if len(lines) <= number or not lines[number].startswith(start) or not lines[number][len(start) :].strip():
        raise ValueError(f"{name}.csv: line {number + 1} must say '{start}...'")
    return lines[number][len(start) :].strip()


@cache
def read(name: str, *, transposed: bool = False, folder: Path = FOLDER) -> Table:
    """Read a table; ValueError when it doesn't name its source or what is checked."""
    lines = (folder / f"{name}.csv").read_text("utf-8").splitlines()
    source, checked = (_comment(lines, number, kind, name) for number, kind in enumerate(("source", "checked")))
    head, *body = csv.reader(lines[2:])
    if transposed:
        cells = [[line[0], *line[1:]] for line in body]
        rows = [Row({line[0]: line[column] for line in cells}) for column in range(1, len(head))]
        labels = [f"column {title}" for title in head[1:]]
    else:
        rows = [Row(zip(head, line, strict=True)) for line in body]
        labels = [f"line {number} ({head[0]} {line[0]})" for number, line in enumerate(body, start=4)]
    for row, label in zip(rows, labels, strict=True):
        row.label = label
    return Table(name, source, checked, tuple(rows))


def _value(given: Input, row: Row) -> object:
    if isinstance(given, str):
        return row.number(given)
    return given(row) if callable(given) else given


def run(check: Check) -> list[Comparison]:
    """Compare every row in which the check is meant and the table has a value."""
    comparisons = []
    for row in read(check.table, transposed=check.transposed).rows:
        if row[check.column] and check.only(row):
            expected = row.number(check.column)
            got = check.convert(float(check.function(*(_value(given, row) for given in check.inputs))), row)
            comparisons.append(Comparison(row, expected, got, check.absolute + check.relative * abs(expected)))
    return comparisons


def complaint(check: Check, comparison: Comparison) -> str:
    """A failure with row, expected, got and source."""
    return (
        f"{check.table}.csv, {comparison.row.label}, {check.column}: expected {comparison.expected:.10g}, got {comparison.got:.10g}, "
        f"off by {comparison.deviation:.3g} where {comparison.allowed:.3g} {check.unit} is allowed; "
        f"source: {read(check.table, transposed=check.transposed).source}"
    )
