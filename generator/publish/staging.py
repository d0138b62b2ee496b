"""Build beside the target, then swap: a failed or killed build leaves the former site whole.

The site carries a manifest of the files that a build made. A folder that holds anything else is refused, but for the
few dotfiles that people keep in a published folder; these are carried over.

Beside the target `site` lie, while a build is at it, the lock `.site.lock`, the new site `.wortledger-new-site`, and,
where the file system can't exchange two folders, the former one as `.wortledger-old-site`.
"""

import ctypes
import errno
import fcntl
import hashlib
import json
import os
import shutil
import stat
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from functools import partial
from pathlib import Path
from typing import NoReturn

from generator.errors import OutputError, shown

MANIFEST = "wortledger-site.json"
KEPT = (".gitignore", ".gitattributes", ".nojekyll", ".htaccess", "CNAME")
"""Names at the top of a site that no build makes and none removes."""
_MAKER = "wortledger"
_EXCHANGE, _AT_FDCWD = 2, -100
_NO_EXCHANGE = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM)
_NO_FLUSH = (errno.EINVAL, errno.ENOTSUP, errno.EBADF)
_BUSY, _CANNOT = 75, 74


@contextmanager
def claimed(target: Path) -> Iterator[Callable[[Mapping[str, bytes]], None]]:
    """Hold the place of a site for one build: locked, rid of what killed builds left, and known to be ours.

    Args:
        target: folder of the site; made where it isn't there.

    Yields:
        A function that makes the site hold exactly these files, at once: path within the site (with forward slashes)
        to content.

    Raises:
        OutputError: the target isn't ours, is busy, or can't be written; it stands as it was.
    """
    with ExitStack() as held:
        with _told(target):
            if target.is_symlink():
                raise OutputError(f"{named(target)} is a link; name the folder that it leads to")
            target = Path(os.path.realpath(target))
            target.parent.mkdir(parents=True, exist_ok=True)
            held.enter_context(_locked(target))
            _sweep(target)
            _refuse_foreign(target)
        yield partial(_publish, target)


def publish(target: Path, files: Mapping[str, bytes]) -> None:
    """Claim a target and make the site there hold exactly these files, at once.

    Args:
        target: folder of the site; made where it isn't there.
        files: path within the site (with forward slashes) to content.

    Raises:
        OutputError: the target isn't ours, is busy, or can't be written; it stands as it was.
    """
    with claimed(target) as replace:
        replace(files)


def named(path: Path) -> str:
    """A path as it may be printed: whole, but no control characters."""
    return "/".join(shown(part) for part in path.as_posix().split("/"))


def _publish(target: Path, files: Mapping[str, bytes]) -> None:
    with _told(target):
        _refuse_foreign(target)  # again: the build took a while
        _stage_and_swap(target, files)


@contextmanager
def _told(target: Path) -> Iterator[None]:
    """Say which path the system refused, and why."""
    try:
        yield
    except OSError as error:
        where = Path(os.fsdecode(error.filename)) if isinstance(error.filename, str | bytes) else target
        hint = "; a mount can't be swapped, name a folder within it" if error.errno == errno.EBUSY else ""
        raise OutputError(f"{named(where)} can't be written ({error.strerror or error}){hint}; the former site stands", _CANNOT) from error


@contextmanager
def _locked(target: Path) -> Iterator[None]:
    """Hold the lock beside the target; the system lets go of it when the holder dies."""
    path = target.parent / f".{target.name}.lock"
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC | os.O_NOFOLLOW, 0o644)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise OutputError(f"another build is writing {named(target)}; wait for it to end", _BUSY) from error
        if not _is_at(handle, path):  # its former holder has just removed it
            raise OutputError(f"another build has just written {named(target)}; try again", _BUSY)
        try:
            yield
        finally:
            path.unlink(missing_ok=True)
    finally:
        os.close(handle)


def _is_at(handle: int, path: Path) -> bool:
    """Whether an open file is still the one of that name."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat())
    except FileNotFoundError:
        return False


def _new_beside(target: Path) -> Path:
    return target.parent / f".wortledger-new-{target.name}"


def _old_beside(target: Path) -> Path:
    return target.parent / f".wortledger-old-{target.name}"


def _sweep(target: Path) -> None:
    """Remove what killed builds left, and put back a site caught between two renames."""
    new, old = _new_beside(target), _old_beside(target)
    if old.is_dir() and not os.path.lexists(target):
        old.rename(target)
    for folder in (new, old):
        shutil.rmtree(folder, ignore_errors=True)


def _refuse_foreign(target: Path) -> None:
    """Refuse a target that holds anything a build didn't make."""
    if not target.exists():
        return
    if not target.is_dir():
        raise OutputError(f"{named(target)} is not a folder; choose another --out")
    own = _manifest(target)
    foreign = sorted(path for path in _content(target) if path not in own and path not in KEPT)
    if foreign:
        some = ", ".join(shown(path) for path in foreign[:3]) + (", …" if len(foreign) > 3 else "")
        count = f"{len(foreign)} file{'s' if len(foreign) > 1 else ''}"
        raise OutputError(f"{named(target)} holds {count} that no build made ({some}); move them away or choose another --out")


def _manifest(target: Path) -> set[str]:
    """The files that the last build made; none where there is no manifest of ours."""
    try:
        known = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
    except (FileNotFoundError, IsADirectoryError, ValueError, RecursionError):
        return set()
    if not isinstance(known, dict) or known.get("made_by") != _MAKER or not isinstance(known.get("files"), dict):
        return set()
    return {MANIFEST, *known["files"]}


def _content(target: Path) -> Iterator[str]:
    """Every file and link below a folder; links are not followed."""
    for folder, folders, files in os.walk(target, onerror=_raised):
        here = Path(folder)
        linked = [name for name in folders if (here / name).is_symlink()]
        for name in [*files, *linked]:
            yield (here / name).relative_to(target).as_posix()


def _raised(error: OSError) -> NoReturn:
    raise error


def manifest(files: Mapping[str, bytes]) -> bytes:
    """The manifest of a site: each file with the hash of its content."""
    hashes = {path: hashlib.sha256(content).hexdigest() for path, content in sorted(files.items())}
    return (json.dumps({"made_by": _MAKER, "files": hashes}, indent=1, ensure_ascii=False) + "\n").encode()


def _stage_and_swap(target: Path, files: Mapping[str, bytes]) -> None:
    staging = _new_beside(target)
    staging.mkdir()
    try:
        for path, content in files.items():
            _write(staging / path, content)
        _write(staging / MANIFEST, manifest(files))
        for name in KEPT:
            if os.path.lexists(target / name):
                shutil.copy2(target / name, staging / name, follow_symlinks=False)
        for folder, _, _ in os.walk(staging):
            _flush(Path(folder))
        if target.exists():
            staging.chmod(stat.S_IMODE(target.stat().st_mode))
            _exchange(staging, target)
        else:
            staging.rename(target)
        _flush(target.parent)
    finally:
        shutil.rmtree(staging, ignore_errors=True)


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _flush(folder: Path) -> None:
    """Have the names in a folder written out, where the file system can."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in _NO_FLUSH:
            raise
    finally:
        os.close(handle)


def _exchange(new: Path, old: Path) -> None:
    """Exchange two folders in one step; where the file system can't, in two renames that `_sweep` repairs."""
    try:
        if _renameat2(new, old):
            return
    except OSError as error:
        if error.errno not in _NO_EXCHANGE:
            raise
    aside = _old_beside(old)
    try:
        old.rename(aside)
        new.rename(old)
    except BaseException:
        if not old.exists():
            aside.rename(old)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _renameat2(new: Path, old: Path) -> bool:
    """Whether the kernel's exchange of two names was there to be called; OSError where it refuses."""
    function = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if function is None:
        return False
    if function(_AT_FDCWD, os.fsencode(new), _AT_FDCWD, os.fsencode(old), _EXCHANGE) != 0:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number), str(old))
    return True
