"""The pictures of a batch: their links, and the gallery of those that the notes don't place."""

from collections.abc import Mapping
from urllib.parse import quote

from generator.imaging.encoding import Encoded
from generator.pages.notes import placed
from generator.pages.photo_contract import Picture, Plate
from generator.pages.plates import plate, words

Files = Mapping[str, tuple[str, Encoded]]
"""Of each picture of a batch, by its name: what its files are called, and the files."""


def paths(slug: str, called: str, made: Encoded) -> dict[str, bytes]:
    """Every file of one picture: path within the site to content.

    Args:
        slug: of the batch.
        called: what its files are called.
        made: the files.
    """
    return {f"batches/{slug}/photos/{called}-{one.width}{one.suffix}": one.content for one in (*made.webp, made.fallback)}


def pictures(slug: str, files: Files) -> dict[str, Picture]:
    """The pictures of a batch as its page links to them, by name.

    Args:
        slug: of the batch.
        files: of its pictures.
    """
    return {name: _picture(slug, called, made) for name, (called, made) in files.items()}


def gallery(markdown: str, photos: Mapping[str, Picture]) -> tuple[Plate, ...]:
    """The pictures that neither the story nor the tasting shows, by name.

    Args:
        markdown: the notes.
        photos: all pictures of the batch.
    """
    elsewhere, said = placed(markdown), words(markdown)
    return tuple(plate(photo, name, *said.get(name, ("", ""))) for name, photo in sorted(photos.items()) if name not in elsewhere)


def _picture(slug: str, called: str, made: Encoded) -> Picture:
    start = f"{quote(slug, safe='')}/photos/{called}"  # a comma would part the list
    srcset = ", ".join(f"{start}-{one.width}{one.suffix} {one.width}w" for one in made.webp)
    return Picture(srcset, f"{start}-{made.fallback.width}{made.fallback.suffix}", made.width, made.height)
