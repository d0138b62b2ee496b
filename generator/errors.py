"""Problems are data: what is wrong, where, what was expected. All of them, before anything is written."""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal, get_args

Slug = Literal[
    "ambiguous-comma",
    "bad-csv",
    "bad-toml",
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
    "photo-path",
    "stages-out-of-order",
    "time-missing",
    "time-unreadable",
    "too-many-cells",
    "unit-missing",
    "unit-unknown",
    "unknown-brewhouse",
    "unknown-column",
    "unknown-follows",
    "unknown-key",
    "unknown-reading",
    "unknown-stage",
    "value-missing",
    "wrong-type",
    "wrong-value",
]
SLUGS: tuple[str, ...] = get_args(Slug)

_UNSHOWABLE = re.compile(r"[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]")
_LONGEST_QUOTE = 80
_MOST_NAMES = 12


def shown(text: object) -> str:
    """A piece of the user's input as it may be printed: no control or bidi characters, not endless."""
    clean = _UNSHOWABLE.sub("\N{REPLACEMENT CHARACTER}", str(text))
    return clean if len(clean) <= _LONGEST_QUOTE else clean[: _LONGEST_QUOTE - 1] + "…"


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
        return f"{shown(self.path)}:{self.line}: {self.what}; {self.expected} [{self.slug}]"


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


def nearest(word: str, known: list[str] | tuple[str, ...]) -> str:
    """What to write instead of an unknown word: the nearest known one, else all of them."""
    close = get_close_matches(word.strip().lower(), known, n=1, cutoff=0.5)
    if close:
        return f"did you mean '{close[0]}'?"
    some = ", ".join(known[:_MOST_NAMES]) + (", …" if len(known) > _MOST_NAMES else "")
    return f"expected one of {some}" if known else "nothing is known here"
