"""Pictures of the notes: taken out of their line and set as figures after its paragraph."""

import re
from collections.abc import Mapping, Sequence

from markdown_it.token import Token

from generator.markup import parser, photo_name
from generator.pages.photo_contract import Picture, Plate

_DIGITS = re.compile(r"\d{4}[-_.]?\d\d[-_.]?\d\d(?:[-_. T]?\d{4,9})?|\d{4,}")
"""A day, a time, a running number: what a camera counts by, and what tells when."""
_SHORTEST_NAME = 5
"""Letters that are left of a name that a person gave; a camera writes up to four before its numbers, as its file system rule asks."""


def plates_apart(tokens: Sequence[Token], photos: Mapping[str, Picture]) -> list[Token]:
    """The tokens of notes with every picture of the batch as a token of its own, behind the block it was written in.

    Args:
        tokens: as parsed.
        photos: what there is to place, by name.
    """
    found: list[Token] = []
    waiting: list[Token] = []
    for token in tokens:
        if token.type == "inline" and any(_name(child) in photos for child in token.children or []):
            children, waiting = _parted(token, photos)
            found.append(token.copy(children=children))
            continue
        if waiting and token.type in ("td_close", "th_close"):
            found += waiting
            waiting = []
        found.append(token)
        if waiting and token.type in ("paragraph_close", "heading_close"):
            _drop_empty(found)
            found += waiting
            waiting = []
    return found


def words(markdown: str) -> dict[str, tuple[str, str]]:
    """Alternative and title that the notes give to each picture of the batch, by name; the first stands."""
    found: dict[str, tuple[str, str]] = {}
    for token in parser().parse(markdown):
        for child in token.children or []:
            if _name(child):
                found.setdefault(_name(child), _said(child))
    return found


def placed(tokens: Sequence[Token]) -> set[str]:
    """Names of the pictures that some tokens hold."""
    return {_name(child) for token in tokens for child in token.children or []} - {""}


def plate(picture: Picture, name: str, alternative: str, title: str) -> Plate:
    """A picture with the words that the notes give it, else with what the name of its file says.

    Args:
        picture: its files.
        name: of its file.
        alternative: from the notes, or "".
        title: from the notes, or "".
    """
    if title and alternative:
        return Plate(picture, alternative, title)
    return Plate(picture, "", title or alternative or readable(name))


def readable(name: str) -> str:
    """The name of a picture's file as a caption, without days and running numbers; where a camera named it, that it is a picture."""
    stem = name.rpartition(".")[0]
    plain = _DIGITS.sub(" ", stem)
    said = " ".join(re.split(r"[\W_]+", plain)).strip()
    letters = sum(letter.isalpha() for letter in said)
    if not letters or (plain != stem and letters < _SHORTEST_NAME):
        return "A picture of this batch"
    return said[:1].upper() + said[1:]


def _name(token: Token) -> str:
    return photo_name(str(token.attrs.get("src", ""))) if token.type == "image" else ""


def _said(image: Token) -> tuple[str, str]:
    return " ".join(_text(image.children or []).split()), " ".join(str(image.attrs.get("title", "")).split())


def _text(children: Sequence[Token]) -> str:
    return "".join(" " if child.type in ("softbreak", "hardbreak") else child.content or _text(child.children or []) for child in children)


def _parted(token: Token, photos: Mapping[str, Picture]) -> tuple[list[Token], list[Token]]:
    """The children of a line without its pictures, and a token for each picture; in a link its words stay."""
    kept: list[Token] = []
    apart: list[Token] = []
    within = 0
    for child in token.children or []:
        within += {"link_open": 1, "link_close": -1}.get(child.type, 0)
        name = _name(child)
        if name not in photos:
            kept.append(child)
            continue
        alternative, title = _said(child)
        shown = plate(photos[name], name, alternative, title)
        apart.append(Token("plate", "", 0, block=True, meta={"plate": shown}))
        if within:
            kept.append(Token("text", "", 0, content=alternative or shown.caption))
    return _without_outer_breaks(kept), apart


def _without_outer_breaks(children: list[Token]) -> list[Token]:
    """Nothing is left of a line that held only pictures, nor of its breaks at either end."""
    blank = [child.type in ("softbreak", "hardbreak") or (child.type == "text" and not child.content.strip()) for child in children]
    first = next((position for position, empty in enumerate(blank) if not empty), len(children))
    last = next((position for position, empty in reversed([*enumerate(blank)]) if not empty), -1)
    return children[first : last + 1]


def _drop_empty(tokens: list[Token]) -> None:
    """Take a paragraph or heading away again that held nothing but pictures."""
    opened, line = tokens[-3:-1]
    if line.type == "inline" and opened.type in ("paragraph_open", "heading_open") and not _says(line.children or []):
        del tokens[-3:]


def _says(children: Sequence[Token]) -> bool:
    return any(child.content or child.type == "image" for child in children)
