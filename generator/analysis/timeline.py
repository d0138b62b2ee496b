"""The timeline: every reading as written, and as it was used at 20 °C."""

from dataclasses import dataclass
from datetime import datetime

from generator.analysis.corrected import Corrections
from generator.analysis.doubt import Absent, Sampler
from generator.analysis.measured import Measured, series
from generator.records.journal import BatchRecord
from generator.records.readings import Reading, wall_clock
from generator.records.vocabulary import READINGS, STAGES
from generator.science import sucrose
from generator.science._values import Values


class _Plain(Sampler):
    """Readings without their doubts: one number each."""

    def normal(self, value: float, half_width: float, low: float = -1e300, high: float = 1e300, *, source: str = "") -> Values:  # noqa: ARG002
        return value


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the timeline."""

    reading: Reading
    at_20: float | None
    """SG 20/20 or L at 20 °C; None where nothing is corrected or it can't be."""
    superseded: bool
    """Whether a later row of the same kind stands instead."""


class PlainCorrections:
    """Corrected readings of one batch as single numbers."""

    def __init__(self, measured: Measured) -> None:
        self._at_20 = Corrections(measured.view.brewhouse.instruments, _Plain())
        self._original: float | None = None
        first = series(measured.rows("fermenter", "gravity"))[:1]
        self.original_row = first[0] if first else measured.standing("post-boil", "gravity")

    def of(self, reading: Reading) -> float | None:
        """The reading at 20 °C; None where nothing is to be corrected or it can't be."""
        if reading.value is None:
            return None
        try:
            if reading.unit == "liter":
                return float(self._at_20.volume(reading))
            if reading.what == "gravity":
                return self._gravity(reading)
        except (Absent, ValueError):
            return None
        return None

    def _gravity(self, reading: Reading) -> float:
        beer = reading.stage in ("fermenter", "package") and reading != self.original_row
        if not beer or reading.unit != "°Bx":
            return float(self._at_20.gravity(reading))
        if self._original is None:
            if self.original_row is None:
                raise Absent("no original gravity was read")
            self._original = float(sucrose.extract_from_sg(self._at_20.gravity(self.original_row)))
        return float(self._at_20.gravity_of_beer(reading, self._original))

    def half_width_in_sg(self, reading: Reading) -> float:
        """Of a gravity's 95 % interval, SG, roughly where the unit is another."""
        half_width = self._at_20.half_width(reading)
        if reading.unit == "SG":
            return half_width
        if reading.unit == "°P":
            doubt = reading.doubt or self._at_20.instruments.gravity
            return doubt.value if doubt.unit == "SG" else half_width * 0.004
        return half_width * 0.004 + (0.003 if reading.stage in ("fermenter", "package") and reading != self.original_row else 0.0)


def timeline(batch: BatchRecord, measured: Measured | None) -> tuple[Entry, ...]:
    """All rows of readings.csv in the order of a brew, those without a time within their stage."""
    if measured is None:
        return ()
    plain = PlainCorrections(measured)
    standing = {
        (stage, what): measured.standing(stage, what)
        for stage, what in {(row.stage, row.what) for row in measured.readings}
        if not READINGS[stage][what].adds_up and (stage, what) != ("fermenter", "gravity") and stage != "tasting" and what != "temperature"
    }
    entries = [Entry(row, plain.of(row), standing.get((row.stage, row.what), row) not in (row, None)) for row in batch.readings]
    times = [entry.reading.time for entry in entries if entry.reading.time is not None]
    clock = iter(wall_clock(times))
    keys = {entry.reading.line: next(clock) if entry.reading.time is not None else None for entry in entries}
    return tuple(sorted(entries, key=lambda entry: _order(entry, keys)))


def _order(entry: Entry, clock: dict[int, datetime | None]) -> tuple[int, bool, str, int]:
    time = clock[entry.reading.line]
    return STAGES.index(entry.reading.stage), time is None, "" if time is None else time.isoformat(), entry.reading.line
