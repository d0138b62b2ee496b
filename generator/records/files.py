"""Opening a file of the journal: regular, inside the journal, not too large, UTF-8. Anything else is a Problem."""

import os
import stat
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import Problem, Slug

MEGABYTE = 1024 * 1024
TABLE_LIMIT = 64 * MEGABYTE
TEXT_LIMIT = 4 * MEGABYTE


@dataclass
class Reader:
    """A journal folder being read, and the problems met so far."""

    root: Path
    problems: list[Problem] = field(default_factory=list)

    def relative(self, path: Path) -> str:
        """The path as every message shows it."""
        return path.relative_to(self.root).as_posix()

    def problem(self, path: Path, line: int, what: str, expected: str, slug: Slug) -> None:
        """Note one problem."""
        self.problems.append(Problem(self.relative(path), line, what, expected, slug))

    def inside(self, path: Path) -> bool:
        """Whether a path stays within the journal once its links are followed; a Problem if it doesn't."""
        try:
            real = path.resolve(strict=False)
            stays = real.is_relative_to(self.root.resolve())
        except (OSError, RuntimeError):
            stays = False
        if not stays:
            self.problem(path, 1, "the link leads out of the journal", "expected a file or folder within the journal folder", "leaves-journal")
        return stays

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
            self.problem(path, 1, f"the file can't be opened ({os.strerror(error.errno or 0)})", "expected a readable file", "not-a-file")
            return None
        with os.fdopen(handle, "rb") as file:
            about = os.fstat(handle)
            if not stat.S_ISREG(about.st_mode):
                self.problem(path, 1, "this is not a file", "expected a file, not a folder, pipe or device", "not-a-file")
                return None
            content = file.read(limit + 1) if about.st_size <= limit else None
        if content is None or len(content) > limit:
            size = f"{about.st_size / MEGABYTE:.0f} MB"
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
            self.problem(path, content.count(b"\n", 0, nul) + 1, "the text holds a NUL byte", "expected plain UTF-8 text", "nul-byte")
            return None
        try:
            return content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = content.count(b"\n", 0, error.start) + 1
            self.problem(path, line, f"byte {content[error.start]:#04x} is not UTF-8", "expected the file saved as UTF-8", "not-utf8")
            return None
