"""The brewer's rows: which reading was taken when, and readings.csv as that brewer would have typed it."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from tests.demo.instruments import Bench
from tests.demo.quantities import in_unit, rounded
from tests.demo.truth import Course

ALL_COLUMNS = ("time", "stage", "what", "value", "unit", "at", "doubt", "note")


@dataclass(frozen=True, slots=True)
class Style:
    """How one file is written."""

    columns: tuple[str, ...] = ALL_COLUMNS
    delimiter: str = ","
    decimal_comma: bool = False
    fahrenheit: bool = False
    bare_sg: bool = True
    """SG is typed without a unit."""


@dataclass(frozen=True, slots=True)
class Read:
    """A reading that is simulated: the truth plus this instrument's error, rounded as it was written."""

    time: str
    """ISO 8601, or blank where no time was noted."""
    stage: str
    what: str
    unit: str = ""
    at: float | None = None
    """True temperature of the sample or the volume, °C."""
    true: float | None = None
    """The truth in L, kg, °C, SG or pH where it is no quantity of the batch's course."""
    step: str | None = None
    doubt: str = ""
    note: str = ""

    def row(self, course: Course, bench: Bench, style: Style) -> dict[str, str]:
        """Return the row's cells."""
        moment = datetime.fromisoformat(self.time) if self.time else None
        true = course.true_value(self.stage, self.what, moment) if self.true is None else self.true
        instrument = self.unit or ("SG" if self.what == "gravity" else "")
        original = course.original_gravity if self.stage in ("fermenter", "package") else None
        value = bench.read(self.what, true, instrument, self.at, original, self.step)
        unit = "" if self.unit == "SG" and style.bare_sg else self.unit
        return _cells(self.time, self.stage, self.what, value, unit, _at(self.at, style), self.doubt, self.note)


@dataclass(frozen=True, slots=True)
class Wrote:
    """A row that is as the brewer typed it: events, scores, settings."""

    time: str
    stage: str
    what: str = "note"
    value: str = ""
    unit: str = ""
    at: str = ""
    doubt: str = ""
    note: str = ""

    def row(self, course: Course, bench: Bench, style: Style) -> dict[str, str]:
        """Return the row's cells."""
        return _cells(self.time, self.stage, self.what, self.value, self.unit, self.at, self.doubt, self.note)


Row = Read | Wrote


def note(time: str, stage: str, text: str) -> Wrote:
    """Return an event."""
    return Wrote(time, stage, note=text)


def tasting(time: str, scores: tuple[str, str, str, str, str], text: str) -> tuple[Wrote, ...]:
    """Return the five scores (aroma, appearance, flavour, mouthfeel, overall) and the taster's words."""
    names = ("aroma", "appearance", "flavour", "mouthfeel", "overall")
    rows = tuple(Wrote(time, "tasting", name, score) for name, score in zip(names, scores, strict=True))
    return (*rows, note(time, "tasting", text))


def _at(celsius: float | None, style: Style) -> str:
    if celsius is None:
        return ""
    unit = "°F" if style.fahrenheit else "°C"
    return f"{rounded(in_unit(celsius, unit), '1')} {unit}"


def _cells(*values: str) -> dict[str, str]:
    return dict(zip(ALL_COLUMNS, values, strict=True))


def _comma(cells: dict[str, str]) -> dict[str, str]:
    return {name: text.replace(".", ",") if name in ("value", "at", "doubt") else text for name, text in cells.items()}


def readings_csv(rows: Iterable[Row], course: Course, bench: Bench, style: Style) -> str:
    """Return the text of readings.csv."""
    sheet = io.StringIO()
    writer = csv.DictWriter(sheet, style.columns, delimiter=style.delimiter, lineterminator="\n", extrasaction="ignore")
    writer.writeheader()
    for row in rows:
        cells = row.row(course, bench, style)
        lost = [name for name, text in cells.items() if text and name not in style.columns]
        assert not lost, f"columns {lost} are not in this brewer's sheet: {cells}"
        writer.writerow(_comma(cells) if style.decimal_comma else cells)
    return sheet.getvalue()
