"""What the sections of the package, the cellar and the tasting show."""

from dataclasses import dataclass

from markupsafe import Markup

from generator.pages.formatting import Cell


@dataclass(frozen=True, slots=True)
class PressureRow:
    """Gauge pressure at one temperature, bar."""

    at: str
    remark: str
    """Whose temperature it is, and whether it is an extrapolation."""
    now: Cell
    doubt: Cell
    worst: Cell
    highest: Cell


@dataclass(frozen=True, slots=True)
class VolumeRow:
    """One line of the volumes on the way to the package, L."""

    name: str
    litres: Cell
    doubt: Cell
    is_sum: bool


@dataclass(frozen=True, slots=True)
class KegTableRow:
    """One carbonation and the pressures that keep it."""

    volumes: str
    planned: bool
    pressures: tuple[str, ...]
    """Bar, one a temperature; a dash where the open beer holds more."""


@dataclass(frozen=True, slots=True)
class KegTableView:
    """Pressures for a keg."""

    dash: str
    """What a dash means; "" where there is none."""
    temperatures: tuple[str, ...]
    rows: tuple[KegTableRow, ...]


@dataclass(frozen=True, slots=True)
class PackageView:
    """The packaged beer, or what helps to package it."""

    is_packaged: bool
    """Whether anything was read at the packaging."""
    vessel: str
    sentences: tuple[str, ...]
    counted: str
    """What the worst case counts; "" where none is told."""
    pressures: tuple[PressureRow, ...]
    on_the_way: str
    """What became of the litres; "" where nothing was packaged yet."""
    volumes: tuple[VolumeRow, ...]
    keg: KegTableView | None


@dataclass(frozen=True, slots=True)
class CellarRow:
    """One part of the fermenter's extract, kg, or a part of that part."""

    name: str
    is_detail: bool
    plan: Cell
    read: Cell
    share: Cell
    doubt: Cell


@dataclass(frozen=True, slots=True)
class CellarView:
    """Where the extract of the fermenter went."""

    sentences: tuple[str, ...]
    rows: tuple[CellarRow, ...]
    total: CellarRow | None


@dataclass(frozen=True, slots=True)
class ScoreRow:
    """One score at every sitting, or their sum."""

    name: str
    given: tuple[Cell, ...]
    most: Cell


@dataclass(frozen=True, slots=True)
class TastingView:
    """How it tasted and what a glass holds."""

    caption: str
    heads: tuple[tuple[str, str], ...]
    """Day and age of each sitting."""
    rows: tuple[ScoreRow, ...]
    total: ScoreRow | None
    """Where at least one sitting gave all scores."""
    drift: str
    glass: str
    words: tuple[tuple[str, str], ...]
    """Day of a sitting, and what was noted at it."""
    notes: Markup
    """From the notes of the batch."""

    @property
    def shown(self) -> bool:
        """Whether there is anything to show."""
        return bool(self.rows or self.glass or self.words or self.notes)
