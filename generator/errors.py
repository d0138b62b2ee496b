"""Problems are data: what is wrong, where, what was expected. All of them, before anything is written."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal, get_args

Slug = Literal[
    "after-packaging",
    "ambiguous-comma",
    "bad-csv",
    "bad-toml",
    "before-the-boil",
    "circular-follows",
    "date-unreadable",
    "duplicate-column",
    "duplicate-slug",
    "file-too-large",
    "folder-name",
    "gravity-not-computable",
    "leaves-journal",
    "missing-column",
    "missing-file",
    "missing-key",
    "name-clash",
    "nothing-to-build",
    "not-a-file",
    "not-a-number",
    "not-positive",
    "not-utf8",
    "nul-byte",
    "out-of-range",
    "photo-damaged",
    "photo-kind",
    "photo-name",
    "photo-path",
    "photo-too-large",
    "stages-out-of-order",
    "time-missing",
    "time-unreadable",
    "too-many-cells",
    "too-many-problems",
    "unit-missing",
    "unit-unknown",
    "unknown-brewhouse",
    "unknown-column",
    "unknown-follows",
    "unknown-key",
    "unknown-reading",
    "unknown-stage",
    "unknown-step",
    "value-missing",
    "wrong-type",
    "wrong-value",
]
SLUGS: tuple[str, ...] = get_args(Slug)

_UNSHOWABLE = ("Cc", "Cf", "Cs", "Zl", "Zp")
"""Categories of control, bidi and invisible characters, of lone surrogates, and of line ends."""
_LONGEST_QUOTE = 80
_MOST_NAMES = 12


def printable(text: str) -> str:
    """The text without a character that a terminal might obey, hide or turn around."""
    if text.isascii() and text.isprintable():
        return text
    return "".join("\N{REPLACEMENT CHARACTER}" if unicodedata.category(character) in _UNSHOWABLE else character for character in text)


def shown(value: object) -> str:
    """A piece of the user's input as a message quotes it: printable, not endless, tables and lists by their name."""
    match value:
        case bool():
            return str(value).lower()
        case dict():
            return "a table"
        case list() | tuple():
            return "a list"
        case int() if abs(value) >= 10**_LONGEST_QUOTE:
            return "a number of too many digits"
    text = str(value)
    return printable(text if len(text) <= _LONGEST_QUOTE else text[: _LONGEST_QUOTE - 1] + "…")


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One fault of the input, at one place."""

    path: str
    """Relative to the journal, with forward slashes."""
    line: int
    what: str
    expected: str
    slug: Slug

    def __str__(self) -> str:
        return printable(f"{self.path}:{self.line}: {self.what}; {self.expected} [{self.slug}]")


class JournalError(Exception):
    """The journal cannot be built; carries every problem found."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__("\n".join(map(str, self.problems)))


class OutputError(Exception):
    """The site cannot be written; what was published stands untouched. The text says why and what to do."""

    def __init__(self, message: str, status: int = 73) -> None:
        self.status = status
        super().__init__(message)


def nearest(word: str, known: Sequence[str]) -> str:
    """What to write instead of an unknown word: the nearest known one, else all of them."""
    names = {name.casefold(): name for name in reversed(known)}
    close = get_close_matches(word.strip().casefold()[:_LONGEST_QUOTE], names, n=1, cutoff=0.65)
    if close:
        return f"did you mean '{shown(names[close[0]])}'?"
    some = ", ".join(map(shown, known[:_MOST_NAMES])) + (", …" if len(known) > _MOST_NAMES else "")
    return f"expected {'one of ' if len(known) > 1 else ''}{some}" if known else "expected nothing of the kind here"
