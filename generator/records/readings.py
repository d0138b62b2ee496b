"""readings.csv: what was read, at which stage, in which unit, at which temperature, with which doubt."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from generator import units
from generator.errors import nearest, shown
from generator.records.fields import Doubt, one_line, parse_doubt
from generator.records.files import Reader
from generator.records.tables import Table, decimal, moment
from generator.records.vocabulary import READINGS, STAGES, Wanted
from generator.units import Kind, Quantity, QuantityError

COLUMNS = ("time", "stage", "what", "value", "unit", "at", "doubt", "note")


@dataclass(frozen=True, slots=True)
class Reading:
    """One row of readings.csv: as written, and in canonical units before any correction."""

    line: int
    stage: str
    what: str
    value: float | None
    """kg, L, °C, min, bar, a score, or SG, °P, °Bx; None for a note."""
    unit: str
    """SG, °P or °Bx of a gravity; the canonical unit of everything else."""
    written: str
    """The value and unit as they stand in the file."""
    at: float | None = None
    """°C of the sample or of the measured volume; None where it wasn't written."""
    doubt: Doubt | None = None
    """Of this row, in its canonical unit or relative; None: the instrument's."""
    time: datetime | None = None
    note: str = ""
    comma: bool = False
    """Whether a decimal comma was read."""

    @property
    def is_note(self) -> bool:
        """Whether the row is an event in words."""
        return self.what == "note"


def wall_clock(times: list[datetime]) -> list[datetime]:
    """Times made comparable: all to UTC where every one has an offset, else the clock on the wall."""
    if all(time.tzinfo is not None for time in times):
        return [time.astimezone(UTC).replace(tzinfo=None) for time in times]
    return [time.replace(tzinfo=None) for time in times]


def read(reader: Reader, path: Path) -> tuple[Reading, ...]:
    """All good rows of a readings.csv; the others are Problems."""
    table = Table(reader, path, COLUMNS, ("stage", "what"))
    readings = [reading for line, cells in table.rows() if (reading := _reading(table, line, cells)) is not None]
    _check_order(table, readings)
    return tuple(readings)


def _reading(table: Table, line: int, cells: dict[str, str]) -> Reading | None:
    stage, what = cells.get("stage", "").lower(), cells.get("what", "").lower()
    if stage not in READINGS:
        fault = f"unknown stage '{shown(stage)}'" if stage else "the stage is blank"
        table.problem(line, QuantityError(fault, nearest(stage, STAGES), "unknown-stage"))
        return None
    known = READINGS[stage]
    if what not in known:
        fault = f"'{shown(what)}' is not read at stage '{stage}'" if what else "the column 'what' is blank"
        table.problem(line, QuantityError(fault, nearest(what, tuple(known)), "unknown-reading"))
        return None
    parts = _Parts(table, line, cells, known[what])
    quantity, time, at = parts.quantity(), parts.time(), parts.at()
    doubt = parts.doubt(quantity)
    if stage == "fermenter" and what == "gravity" and not cells.get("time"):
        table.problem(line, QuantityError("a fermenter gravity has no time", "expected ISO 8601, as in 2026-02-14 09:10", "time-missing"))
        return None
    if parts.failed:
        return None
    return Reading(
        line, stage, what, quantity.value if quantity else None, quantity.unit if quantity else "", parts.written, at, doubt, time,
        one_line(cells.get("note", "")), parts.comma,
    )  # fmt: skip


class _Parts:
    """The cells of one row, read one by one; `failed` once any of them is a Problem."""

    def __init__(self, table: Table, line: int, cells: dict[str, str], wanted: Wanted) -> None:
        self._table, self._line, self._cells, self._wanted = table, line, cells, wanted
        self.failed = self.comma = False
        self.written = f"{cells.get('value', '')} {cells.get('unit', '')}".strip()

    def _fail(self, column: str, error: QuantityError) -> None:
        self.failed = True
        self._table.problem(self._line, error, column)

    def _number(self, text: str, *, gravity: bool = False) -> float:
        value, comma = decimal(text, gravity=gravity)
        self.comma = self.comma or comma
        return value

    def quantity(self) -> Quantity | None:
        """The value in its canonical unit; None for a note or a Problem."""
        text, unit, kind = self._cells.get("value", ""), self._cells.get("unit", ""), self._wanted.kind
        try:
            if kind is None and not self._wanted.score_of:
                _check_note(text, self._cells.get("note", ""))
                return None
            if not text:
                raise QuantityError("nothing is written here", "expected a number", "value-missing")
            amount, rest = units.number_and_unit(text)
            if amount and rest:
                raise QuantityError(f"'{shown(text)}' is more than a number", "expected a number, and its unit in the column 'unit'", "not-a-number")
            value = self._number(text, gravity=kind is units.GRAVITY)
            return self._score(value, unit) if kind is None else _canonical(value, unit, kind)
        except QuantityError as error:
            self._fail("value" if error.slug != "unit-unknown" else "unit", error)
            return None

    def _score(self, value: float, unit: str) -> Quantity:
        most = self._wanted.score_of
        if not 0.0 <= value <= most:
            raise QuantityError(f"a score of {value:g} is out of range", f"expected 0 to {most:g}", "out-of-range")
        if unit and unit.lower() not in ("points", "point", f"/{most:g}"):
            raise QuantityError(f"'{shown(unit)}' is no unit of a score", "expected it blank", "unit-unknown")
        return Quantity(value, "points")

    def time(self) -> datetime | None:
        """When it was read; None where it isn't written or a Problem."""
        if not self._cells.get("time"):
            return None
        try:
            return moment(self._cells["time"])
        except QuantityError as error:
            self._fail("time", error)
            return None

    def at(self) -> float | None:
        """The temperature beside the reading, °C; a bare number is °C."""
        text = self._cells.get("at", "")
        if not text:
            return None
        try:
            amount, unit = units.number_and_unit(text)
            return _canonical(self._number(amount or text), unit or "°C", units.TEMPERATURE).value
        except QuantityError as error:
            self._fail("at", error)
            return None

    def doubt(self, quantity: Quantity | None) -> Doubt | None:
        """The doubt written in the row, in the canonical unit of the reading or relative."""
        text = self._cells.get("doubt", "")
        if not text or quantity is None:
            return None
        kind = self._wanted.kind or units.Kind("score", "points", {"points": "points"}, "1", limits={"points": (0.0, 50.0)})
        try:
            amount, unit = units.number_and_unit(text)
            bare = self._cells.get("unit") if self._wanted.kind else ""
            written = f"{self._number(amount or text)!r} {unit}"
            doubt = parse_doubt(written, kind, bare or quantity.unit, with_percent=kind not in (units.GRAVITY, units.TEMPERATURE))
            return _fitting(doubt, quantity, kind)
        except QuantityError as error:
            self._fail("doubt", error)
            return None


def _canonical(value: float, unit: str, kind: Kind) -> Quantity:
    if not unit:
        return units.bare(value, kind)
    if unit.isdecimal():
        raise QuantityError(f"the unit '{shown(unit)}' is a number", 'expected quotes around a value with a comma, as in "1,064"', "unit-unknown")
    name = kind.unit(unit)
    if kind.limits:
        return units.within(value, name, kind)
    return units.within(units.convert(value, name, kind.canonical), kind.canonical, kind)


def _check_note(value: str, note: str) -> None:
    """Refuse a note's text in the wrong column: it would be lost."""
    if value and not note:
        raise QuantityError(f"a note says '{shown(value)}' as its value", "expected its text in the column 'note'", "wrong-value")


def _fitting(doubt: Doubt, quantity: Quantity, kind: Kind) -> Doubt:
    """A doubt that suits the reading: SG serves °P readings too, other mixtures of gravities don't."""
    if kind is units.GRAVITY and doubt.unit != quantity.unit and (doubt.unit, quantity.unit) != ("SG", "°P"):
        raise QuantityError(f"a doubt in {doubt.unit} doesn't fit a reading in {quantity.unit}", f"expected it in {quantity.unit}", "unit-unknown")
    return doubt


def _check_order(table: Table, readings: list[Reading]) -> None:
    """A stage whose first time precedes that of an earlier stage is a Problem."""
    timed = [reading for reading in readings if reading.time is not None]
    firsts: dict[str, tuple[datetime, Reading]] = {}
    for reading, time in zip(timed, wall_clock([reading.time for reading in timed if reading.time]), strict=True):
        if reading.stage not in firsts or time < firsts[reading.stage][0]:
            firsts[reading.stage] = (time, reading)
    latest: tuple[datetime, Reading] | None = None
    for stage in STAGES:
        first = firsts.get(stage, latest)
        if first is not None and latest is not None and first[0] < latest[0]:
            table.problem(first[1].line, _out_of_order(first[1], latest[1]))
        else:
            latest = first


def _out_of_order(early: Reading, late: Reading) -> QuantityError:
    what = f"the first time of '{early.stage}' precedes that of '{late.stage}' in line {late.line}"
    midnight = early.time is not None and (early.time.hour, early.time.minute) == (0, 0)
    hint = "; a date alone counts as 00:00" if midnight else ""
    return QuantityError(what, f"expected the stages in the order {', '.join(STAGES)}{hint}", "stages-out-of-order")
