"""Writing one page as a file of its own: whole or not at all, and never over a file of somebody else."""

import os
import tempfile
from pathlib import Path

from generator.errors import OutputError
from generator.publish.staging import MANIFEST, named

_HEAD = 65536
"""Bytes of a file in which its mark is looked for."""
_CANNOT = 74


def write_one(target: Path, content: bytes, mark: bytes) -> None:
    """Put a file in its place at once.

    Args:
        target: the file; its folder must be there.
        content: of the file.
        mark: what a file holds near its beginning that may be replaced.

    Raises:
        OutputError: the target is a file of another kind, lies within a built site, or can't be written; it stands as it was.
    """
    try:
        _refuse_foreign(target, mark)
        _replace(target, content)
    except OSError as error:
        raise OutputError(f"{named(target)} can't be written ({error.strerror or error})", _CANNOT) from error


def _refuse_foreign(target: Path, mark: bytes) -> None:
    place = Path(os.path.realpath(target.parent))
    if any((folder / MANIFEST).exists() for folder in (place, *place.parents)):
        raise OutputError(f"{named(target)} would lie within a built site, which the next build would refuse then; choose another --out")
    if not os.path.lexists(target):
        return
    if target.is_symlink() or not target.is_file():
        raise OutputError(f"{named(target)} is there and is no file; choose another --out")
    with target.open("rb") as file:
        ours = mark in file.read(_HEAD)
    if not ours:
        raise OutputError(f"{named(target)} is there and wasn't made by this command; move it away or choose another --out")


def _replace(target: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=".wortledger-", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        Path(name).chmod(0o666 & ~mask)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
