"""Pictures as a page shows them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Picture:
    """The files of one picture, as links from a batch page."""

    srcset: str
    """Its WebP files, each with its width."""
    source: str
    """The file for readers without WebP."""
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Plate:
    """A picture with its words."""

    picture: Picture
    alternative: str
    """What is to be seen, for who can't see it; "" where the caption says just that."""
    caption: str
