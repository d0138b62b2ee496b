"""notes.md: the story. Reading takes the lessons out of it and looks at where its photos lie."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote

from markdown_it.token import Token

from generator.errors import shown
from generator.markup import parser
from generator.records.fields import CONTROLS
from generator.records.files import Reader
from generator.records.photos import PhotoReference

_REMOTE = re.compile(r"(?:https?|mailto):|//", re.IGNORECASE)
_ON_DISK = re.compile(r"!\[[^\]]{0,200}\]\(<?((?:file:|[a-z]:[\\/]|\\)[^\s>)]*)", re.IGNORECASE)
"""A picture named by a drive, a share or a file: address, which Markdown leaves as text."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """One item of the list under the heading Lessons."""

    line: int
    markdown: str
    text: str
    """Without its markup."""


@dataclass(frozen=True, slots=True)
class Notes:
    """The story of a batch, as written."""

    markdown: str = ""
    lessons: tuple[Lesson, ...] = ()
    photos: tuple[PhotoReference, ...] = ()
    """The pictures that lie within the batch."""


NO_NOTES = Notes()


def read(reader: Reader, path: Path) -> Notes | None:
    """The notes of a batch; Problems for photos that lie outside of it."""
    text = reader.text(path)
    if text is None:
        return None
    text = CONTROLS.sub("\N{REPLACEMENT CHARACTER}", text)
    try:
        tokens = parser().parse(text)
    except RecursionError:
        reader.problem(path, 1, "the notes are nested too deeply", "expected fewer levels of lists and quotes", "wrong-value")
        return None
    return Notes(text, _lessons(tokens), tuple(_photos(reader, path, tokens)))


def _lessons(tokens: list[Token]) -> tuple[Lesson, ...]:
    """The first paragraph of each item of the lists under the heading Lessons."""
    found: list[Lesson] = []
    inside, fresh = False, False
    for position, token in enumerate(tokens):
        if token.type == "heading_open" and token.level == 0:
            inside = tokens[position + 1].content.strip().lower() == "lessons"
        elif token.type in ("list_item_open", "list_item_close"):
            fresh = token.nesting == 1
        elif inside and fresh and token.type == "inline":
            found.append(Lesson((token.map or [0])[0] + 1, token.content, _plain(token)))
            fresh = False
    return tuple(found)


def _plain(token: Token) -> str:
    parts = [" " if child.type in ("softbreak", "hardbreak") else child.content for child in token.children or []]
    return " ".join("".join(parts).split())


def _photos(reader: Reader, path: Path, tokens: list[Token]) -> Iterator[PhotoReference]:
    for line, target in _pictures(tokens):
        if _stays(path.parent, target):
            yield PhotoReference(line, target)
        else:
            what = f"the photo '{shown(target)}' lies outside of its batch"
            reader.problem(path, line, what, "expected a path such as photos/mash.jpg", "photo-path")


def _pictures(tokens: list[Token]) -> Iterator[tuple[int, str]]:
    """Line and path of each picture that isn't remote; those are shown as links, never fetched."""
    line = 1
    for token in tokens:
        line = token.map[0] + 1 if token.map else line
        at = line
        for child in token.children or []:
            if child.type == "image":
                target = unquote(str(child.attrs.get("src", "")))
                if not _REMOTE.match(target):
                    yield at, target
            elif child.type == "text":
                yield from ((at, found[1]) for found in _ON_DISK.finditer(child.content))
            at += child.type in ("softbreak", "hardbreak")


def _stays(folder: Path, target: str) -> bool:
    plain = target.replace("\\", "/")
    if plain.startswith("/") or _ON_DISK.match(f"![]({plain}"):
        return False
    try:
        return (folder / plain).resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        return False
