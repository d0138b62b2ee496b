"""The parts of a brew sheet, as its template shows them."""

from dataclasses import dataclass

from generator.pages.formatting import Cell


@dataclass(frozen=True, slots=True)
class Weighing:
    """Something to weigh out, or to have at hand."""

    name: str
    amount: Cell
    """kg of goods, g of hops."""
    each: str
    """kg in one portion of the mash, "" where it goes in at once."""
    detail: str


@dataclass(frozen=True, slots=True)
class Liquor:
    """A liquor to heat."""

    name: str
    volume: Cell
    temperature: str
    hot: str
    """Litres that it fills when it is hot."""


@dataclass(frozen=True, slots=True)
class Box:
    """A reading: the planned value beside a place to write it, or beside what was written."""

    label: str
    planned: str
    unit: str
    read: str
    """As written; "" where it is still to be read."""
    sample: bool
    """Whether the temperature of the sample belongs to it."""
    at: str
    """That temperature, as written."""
    why: str


@dataclass(frozen=True, slots=True)
class SheetCaution:
    """A caution at its step."""

    severity: str
    word: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step of the day."""

    when: str
    """On the clock of the sheet: 1:15, day 3, before."""
    date: str
    at: str
    """When it was done by the clock on the wall, "" where that isn't known yet."""
    title: str
    sentences: tuple[str, ...]
    adds: tuple[str, ...]
    """What goes in, each with a box to tick."""
    boxes: tuple[Box, ...]
    cautions: tuple[SheetCaution, ...]
