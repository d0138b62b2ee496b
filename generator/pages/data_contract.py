"""What the data page may show."""

from dataclasses import dataclass

from generator.analysis.catalogue import Entry
from generator.pages.contracts import Link, Shell
from generator.pages.data_keys import Part


@dataclass(frozen=True, slots=True)
class FigureGroup:
    """The figures of one section of the account."""

    title: str
    figures: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class DataPage:
    """data.html."""

    shell: Shell
    heading: str
    under: str
    table: Link
    """Of all figures."""
    columns: tuple[tuple[str, str], ...]
    """Of that table: name, what it holds."""
    groups: tuple[FigureGroup, ...]
    parts: tuple[Part, ...]
    """Of the file of a batch."""
    feeds: tuple[Link, ...]
    """None where the journal has no address."""
    batches: tuple[tuple[str, str], ...]
    """Title and href of the data of each batch, the newest first."""
    fonts: tuple[Link, ...]
    """Their licences."""


DATA_TEMPLATES: dict[type, str] = {DataPage: "pages/data.html"}
