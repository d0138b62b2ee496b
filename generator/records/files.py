"""Opening a file of the journal: regular, inside the journal, not too large, UTF-8. Anything else is a Problem."""

import os
import stat
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import Problem, Slug

MEGABYTE = 1024 * 1024
TABLE_LIMIT = 64 * MEGABYTE
TEXT_LIMIT = 4 * MEGABYTE
PHOTO_LIMIT = 40 * MEGABYTE
MOST_PROBLEMS = 10_000
"""Of one file that are listed; a file with more isn't what its name says."""


@dataclass
class Reader:
    """A journal folder being read, and the problems met so far."""

    root: Path
    problems: list[Problem] = field(default_factory=list)
    _counts: Counter[Path] = field(default_factory=Counter)

    def relative(self, path: Path) -> str:
        """The path as every message shows it."""
        return path.relative_to(self.root).as_posix()

    def problem(self, path: Path, line: int, what: str, expected: str, slug: Slug) -> None:
        """Note one problem; the first beyond `MOST_PROBLEMS` of a file says that there are more."""
        self._counts[path] += 1
        if self._counts[path] == MOST_PROBLEMS + 1:
            what, expected, slug = f"the first {MOST_PROBLEMS} problems are listed; there are more", "expected fewer", "too-many-problems"
        if not self.full(path):
            self.problems.append(Problem(self.relative(path), line, what, expected, slug))

    def full(self, path: Path) -> bool:
        """Whether so much is wrong with a file that no more is listed."""
        return self._counts[path] > MOST_PROBLEMS + 1

    def inside(self, path: Path) -> bool:
        """Whether a path stays within the journal once its links are followed; a Problem if it doesn't."""
        try:
            fault = "" if path.resolve(strict=False).is_relative_to(self.root.resolve()) else "the link leads out of the journal"
        except (OSError, RuntimeError):
            fault = "the link leads nowhere"
        if fault:
            self.problem(path, 1, fault, "expected a file or folder within the journal folder", "leaves-journal")
        return not fault

    def entries(self, folder: Path) -> list[Path]:
        """What a folder holds, by name, without hidden files; empty, with a Problem where it can't be had."""
        if not self.exists(folder) or not self.inside(folder):
            return []
        try:
            return sorted((path for path in folder.iterdir() if not path.name.startswith(".")), key=lambda path: path.name)
        except NotADirectoryError:
            self.problem(folder, 1, "this is not a folder", "expected a folder", "not-a-file")
        except OSError as error:
            reason = os.strerror(error.errno or 0).lower()
            self.problem(folder, 1, f"the folder can't be opened ({reason})", "expected a folder that you may read", "not-a-file")
        return []

    def links(self) -> None:
        """Problems for every link that leaves the journal, also where nothing is read through it."""
        for folder, folders, files in os.walk(self.root):
            folders[:] = [name for name in folders if not name.startswith(".")]
            for path in (Path(folder, name) for name in (*folders, *files) if not name.startswith(".")):
                if path.is_symlink():
                    self.inside(path)

    def exists(self, path: Path) -> bool:
        """Whether something of that name is there, be it a file, a folder or a broken link."""
        return os.path.lexists(path)

    def bytes(self, path: Path, limit: int) -> bytes | None:
        """Content of a file; None, with a Problem, if it is not a regular readable file within its limit."""
        if not self.inside(path):
            return None
        try:
            handle = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC)
        except OSError as error:
            reason = os.strerror(error.errno or 0).lower()
            self.problem(path, 1, f"the file can't be opened ({reason})", "expected a file that you may read", "not-a-file")
            return None
        about = os.fstat(handle)
        if not stat.S_ISREG(about.st_mode):
            os.close(handle)
            self.problem(path, 1, "this is not a file", "expected a file, not a folder, pipe or device", "not-a-file")
            return None
        with os.fdopen(handle, "rb") as file:
            content = file.read(limit + 1) if about.st_size <= limit else None
        if content is None or len(content) > limit:
            size = f"{max(about.st_size, limit + 1) / MEGABYTE:.1f} MB"
            self.problem(path, 1, f"the file is too large ({size})", f"expected at most {limit // MEGABYTE} MB", "file-too-large")
            return None
        return content

    def text(self, path: Path, limit: int = TEXT_LIMIT) -> str | None:
        """Text of a file without its byte-order mark; None, with a Problem, if it can't be had."""
        content = self.bytes(path, limit)
        if content is None:
            return None
        nul = content.find(b"\0")
        if nul >= 0:
            self.problem(path, _line(content[:nul]), "the text holds a NUL byte", "expected the file saved as plain text in UTF-8", "nul-byte")
            return None
        try:
            return content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            before, wrong = error.object[: error.start], error.object[error.start]
            self.problem(path, _line(before), f"byte {wrong:#04x} is not UTF-8", "expected the file saved as plain text in UTF-8", "not-utf8")
            return None


def _line(before: bytes) -> int:
    """The line on which a text of any line ending goes on."""
    return before.count(b"\n") + before.count(b"\r") - before.count(b"\r\n") + 1
