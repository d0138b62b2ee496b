"""photos/: the pictures of a batch, examined before anything is built; and read once more when the site is made."""

import hashlib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from generator.errors import JournalError, Problem
from generator.imaging.decoding import PictureError, examine
from generator.imaging.encoding import Encoded, encoded
from generator.markup import photo_name
from generator.records.files import PHOTO_LIMIT, Reader

_NAMED = 16
"""Digits of the hash of a picture that name its files: names of the brewer's own may tell a date or a place."""


@dataclass(frozen=True, slots=True)
class PhotoReference:
    """Where the notes name a picture of the batch."""

    line: int
    target: str


@dataclass(frozen=True, slots=True)
class Photo:
    """One picture of a batch, found fit."""

    name: str
    """Of its file, accents composed."""
    path: Path


def read(reader: Reader, folder: Path, references: Iterable[PhotoReference]) -> tuple[Photo, ...]:
    """The pictures of a batch by name; Problems for files that can't be shown."""
    lines: dict[str, int] = {}
    for reference in references:
        lines.setdefault(photo_name(reference.target), reference.line)
    entries = reader.entries(folder / "photos")
    names = [_name(path) for path in entries]
    return tuple(Photo(name, path) for name, path in zip(names, entries, strict=True) if _fit(reader, folder, path, lines.get(name)))


def variants(photo: Photo) -> tuple[str, Encoded]:
    """What the files of a picture are called in the site, and these files.

    Args:
        photo: found fit by `read`.

    Raises:
        JournalError: it has changed since, and can't be used any more.
    """
    reader = Reader(photo.path.parents[2])
    content = reader.bytes(photo.path, PHOTO_LIMIT)
    if content is None:
        raise JournalError(reader.problems)
    try:
        return hashlib.sha256(content).hexdigest()[:_NAMED], encoded(content, photo.name)
    except PictureError as error:
        raise JournalError([Problem(reader.relative(photo.path), 1, error.what, error.expected, error.slug)]) from error


def _name(path: Path) -> str:
    return unicodedata.normalize("NFC", path.name)


def _fit(reader: Reader, folder: Path, path: Path, line: int | None) -> bool:
    """Whether a file of photos/ can be shown; a Problem if it can't, with the line of the notes that places it."""
    if path.is_symlink() and reader.inside(path) and not path.resolve().is_relative_to(folder.resolve()):
        reader.problem(path, 1, "the link leads out of its batch", "expected the picture itself", "photo-path")
        return False
    content = reader.bytes(path, PHOTO_LIMIT)
    if content is None:
        return False
    try:
        examine(content, path.name)
    except PictureError as error:
        placed = f" (notes.md, line {line})" if line else ""
        reader.problem(path, 1, f"{error.what}{placed}", error.expected, error.slug)
        return False
    return True
