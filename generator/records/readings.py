"""readings.csv: what was read, at which stage, in which unit, at which temperature, with which doubt."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from generator import units
from generator.errors import nearest, shown
from generator.records.fields import Doubt, parse_doubt
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
    if stage not in STAGES:
        table.problem(line, QuantityError(f"unknown stage '{shown(stage)}'", nearest(stage, STAGES), "unknown-stage"))
        return None
    known = READINGS[stage]
    if what not in known:
        table.problem(line, QuantityError(f"'{shown(what)}' is not read at stage '{stage}'", nearest(what, tuple(known)), "unknown-reading"))
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
        " ".join(cells.get("note", "").split()), parts.comma,
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
        if self._wanted.kind is None and not self._wanted.score_of:
            return None
        text, unit = self._cells.get("value", ""), self._cells.get("unit", "")
        try:
            if not text:
                raise QuantityError("the value is blank", "expected a number", "value-missing")
            kind = self._wanted.kind
            if kind is None:
                return self._score(self._number(text), unit)
            return _canonical(self._number(text, gravity=kind is units.GRAVITY), unit, kind)
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
            amount, unit = _number_and_unit(text)
            return _canonical(self._number(amount), unit or "°C", units.TEMPERATURE).value
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
            amount, unit = _number_and_unit(text)
            bare = self._cells.get("unit") or quantity.unit
            doubt = parse_doubt(f"{self._number(amount)!r} {unit}", kind, bare, with_percent=kind not in (units.GRAVITY, units.TEMPERATURE))
            return _fitting(doubt, quantity, kind)
        except QuantityError as error:
            self._fail("doubt", error)
            return None


def _number_and_unit(text: str) -> tuple[str, str]:
    """Split "25 °C" or "0,5" into the number as written and the unit."""
    end = 0
    while end < len(text) and (text[end] in "0123456789+-.," or (text[end] in "eE" and text[end + 1 : end + 2].lstrip("+-").isdigit())):
        end += 1
    return text[:end], text[end:].strip()


def _canonical(value: float, unit: str, kind: Kind) -> Quantity:
    if not unit:
        if kind.limits and "pH" in kind.limits:
            return units.within(value, "pH", kind)
        low, high = kind.limits.get("SG", (1.0, 0.0))
        if not low <= value <= high:
            raise QuantityError(f"a {kind.name} of {value:g} has no unit", f"expected a unit, as in {kind.example}", "unit-missing")
        return units.within(value, "SG", kind)
    name = kind.unit(unit)
    if kind.limits:
        return units.within(value, name, kind)
    return units.within(units.convert(value, name, kind.canonical), kind.canonical, kind)


def _fitting(doubt: Doubt, quantity: Quantity, kind: Kind) -> Doubt:
    """A doubt that suits the reading: SG serves °P readings too, other mixtures of gravities don't."""
    if kind is units.GRAVITY and doubt.unit != quantity.unit and (doubt.unit, quantity.unit) != ("SG", "°P"):
        raise QuantityError(f"a doubt in {doubt.unit} doesn't fit a reading in {quantity.unit}", f"expected it in {quantity.unit}", "unit-unknown")
    return doubt


def _check_order(table: Table, readings: list[Reading]) -> None:
    """A stage whose first time precedes that of an earlier stage is a Problem."""
    timed = [reading for reading in readings if reading.time is not None]
    times = dict(zip(timed, wall_clock([reading.time for reading in timed if reading.time]), strict=True))
    latest: Reading | None = None
    for stage in STAGES:
        first = min((reading for reading in timed if reading.stage == stage), key=lambda reading: times[reading], default=None)
        if first is None:
            continue
        if latest is not None and times[first] < times[latest]:
            what = f"the first time of '{stage}' precedes that of '{latest.stage}' in line {latest.line}"
            table.problem(first.line, QuantityError(what, "expected the stages in the order of a brew", "stages-out-of-order"))
        else:
            latest = first
