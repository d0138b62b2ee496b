"""What the plan's section of a batch page shows."""

from dataclasses import dataclass

from generator.pages.formatting import Cell


@dataclass(frozen=True, slots=True)
class GoodRow:
    """One of the goods, hops or steps of the plan."""

    name: str
    amount: str
    detail: str
    gives: str = ""
    """Bitterness of hops."""


@dataclass(frozen=True, slots=True)
class StageRow:
    """One reading of the day: what the plan expected and what was read."""

    stage: str
    """"" where it is that of the row above."""
    what: str
    planned: str
    read: str


@dataclass(frozen=True, slots=True)
class WayRow:
    """One way to make a mash fit, with the beer that it gives."""

    name: str
    does: str
    grist: Cell
    volume: Cell
    gravity: str
    efficiency: Cell
    space: Cell


@dataclass(frozen=True, slots=True)
class Swatch:
    """The beer's colour on the screen, and in words."""

    red: int
    green: int
    blue: int
    words: str


@dataclass(frozen=True, slots=True)
class PlanSection:
    """The plan, whether it fits, and what came of each stage."""

    goods: tuple[GoodRow, ...]
    hops: tuple[GoodRow, ...]
    steps: tuple[GoodRow, ...]
    contradictions: tuple[str, ...]
    fit: tuple[str, ...]
    liquor: tuple[GoodRow, ...]
    """Litres from the liquor to the fermenter."""
    ways: tuple[WayRow, ...]
    closed: tuple[tuple[str, str], ...]
    """Ways that are none here, with the reason."""
    stages: tuple[StageRow, ...]
    swatch: Swatch | None
