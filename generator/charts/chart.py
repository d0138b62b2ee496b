"""What a chart is, without matplotlib: pages import this, and draw only what they show."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Drawing:
    """One size of a chart: bare SVG elements and the box they stand in, px."""

    width: int
    height: int
    body: str


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart for wide and for narrow pages; the page gives it ids, a caption and its table."""

    name: str
    title: str
    """Short, what it is."""
    description: str
    """What it shows, in words and numbers."""
    wide: Drawing
    narrow: Drawing


MINUS = "\N{MINUS SIGN}"


def signed(value: float, places: int) -> str:
    """A change with its sign; no sign where it rounds to 0."""
    text = f"{abs(value):.{places}f}"
    if not float(text):
        return text
    return ("+" if value > 0 else MINUS) + text
