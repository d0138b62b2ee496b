"""What the section of the fermentation may show."""

from dataclasses import dataclass

from generator.charts.chart import Chart
from generator.pages.formatting import Cell


@dataclass(frozen=True, slots=True)
class FermentationRow:
    """One line of the table of readings."""

    when: str
    days: Cell
    gravity: Cell
    doubt: Cell
    temperature: Cell
    by: str


@dataclass(frozen=True, slots=True)
class NumberRow:
    """One number of the fermentation."""

    name: str
    value: Cell
    unit: str
    doubt: Cell


@dataclass(frozen=True, slots=True)
class PaceRow:
    """What happened since the reading before."""

    days: Cell
    gravity: Cell
    attenuation: Cell
    rate: Cell
    doubt: Cell


@dataclass(frozen=True, slots=True)
class CourseView:
    """The fermentation on a batch page."""

    chart: Chart
    rate: Chart | None
    """Where there are three readings or a logger."""
    state: str
    """Whether it is done, as a sentence."""
    why: str
    settled: bool
    """Whether it came to rest where it should: its reason needn't be printed."""
    check: str
    """What to look at; blank where nothing is."""
    end: str
    """When it should end, while it runs; blank otherwise."""
    caption: tuple[str, str]
    """What it is, and what to see."""
    rate_caption: tuple[str, str]
    numbers: tuple[NumberRow, ...]
    numbers_notes: tuple[str, ...]
    paces: tuple[PaceRow, ...]
    rows: tuple[FermentationRow, ...]
    note: str
    """What the table of readings leaves out."""
