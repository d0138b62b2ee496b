"""notes.md: the story. Reading takes the lessons out of it and looks at where its photos lie."""

from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from urllib.parse import unquote

from markdown_it.token import Token

from generator.errors import shown
from generator.markup import parser
from generator.records.files import Reader


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


NO_NOTES = Notes()


def read(reader: Reader, path: Path) -> Notes | None:
    """The notes of a batch; Problems for photos that lie outside of it."""
    text = reader.text(path)
    if text is None:
        return None
    try:
        tokens = parser().parse(text)
    except RecursionError:
        reader.problem(path, 1, "the notes are nested too deeply", "expected fewer levels of lists and quotes", "wrong-value")
        return None
    _check_photos(reader, path, tokens)
    return Notes(text, _lessons(tokens))


def _lessons(tokens: list[Token]) -> tuple[Lesson, ...]:
    """The first paragraph of each item of the lists under the heading Lessons."""
    found: list[Lesson] = []
    inside, fresh = False, False
    for position, token in enumerate(tokens):
        if token.type == "heading_open":
            inside = tokens[position + 1].content.strip().lower() == "lessons"
        elif token.type == "list_item_open":
            fresh = True
        elif inside and fresh and token.type == "inline":
            found.append(Lesson((token.map or [0])[0] + 1, token.content, _plain(token)))
            fresh = False
    return tuple(found)


def _plain(token: Token) -> str:
    parts = [" " if child.type in ("softbreak", "hardbreak") else child.content for child in token.children or []]
    return " ".join("".join(parts).split())


def _check_photos(reader: Reader, path: Path, tokens: list[Token]) -> None:
    for token in tokens:
        for child in token.children or []:
            if child.type != "image":
                continue
            target = unquote(str(child.attrs.get("src", "")))
            if ":" in target or target.startswith("//"):
                continue  # remote pictures are shown as links, never fetched
            parts = PurePosixPath(target.replace("\\", "/")).parts
            if target.startswith(("/", "\\")) or ".." in parts or not _stays(path.parent, target):
                line = (token.map or [0])[0] + 1
                reader.problem(
                    path, line, f"the photo '{shown(target)}' lies outside of its batch", "expected a path such as photos/mash.jpg", "photo-path"
                )


def _stays(folder: Path, target: str) -> bool:
    try:
        return (folder / target).resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        return False
