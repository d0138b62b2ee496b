"""Build beside the target, then swap: a failed or killed build leaves the former site whole.

The site carries a manifest of the files that a build made. A folder that holds anything else is refused, but for the
few dotfiles that people keep in a published folder; these are carried over.
"""

import ctypes
import errno
import fcntl
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from generator.errors import OutputError, shown

MANIFEST = "wortledger-site.json"
KEPT = (".gitignore", ".gitattributes", ".nojekyll", ".htaccess", "CNAME")
"""Names at the top of a site that no build makes and none removes."""
_STAGING, _LEFT = ".wortledger-new-", ".wortledger-old-"
_EXCHANGE, _AT_FDCWD = 2, -100
_NO_EXCHANGE = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM)
_BUSY, _CANNOT = 75, 73


def publish(target: Path, files: Mapping[str, bytes]) -> None:
    """Make the site at `target` hold exactly these files, at once.

    Args:
        target: folder of the site; made where it isn't there.
        files: path within the site (with forward slashes) to content.

    Raises:
        OutputError: the target isn't ours, is busy, or can't be written; it stands as it was.
    """
    target = Path.cwd() / target
    if target.is_symlink():
        raise OutputError(f"{target} is a link; name the folder that it leads to")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with _locked(target):
            _sweep(target)
            refuse_foreign(target)
            _stage_and_swap(target, files)
    except OSError as error:
        where = error.filename or target
        raise OutputError(f"{shown(where)} can't be written ({error.strerror or error}); the former site stands", 74) from error


@contextmanager
def _locked(target: Path) -> Iterator[None]:
    """Hold the lock beside the target; the system lets go of it when the holder dies."""
    path = target.parent / f".{target.name}.lock"
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o644)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise OutputError(f"another build is writing {target}; wait for it to end", _BUSY) from error
        if not path.exists() or path.stat().st_ino != os.fstat(handle).st_ino:  # its former holder has just removed it
            raise OutputError(f"another build has just written {target}; try again", _BUSY)
        try:
            yield
        finally:
            path.unlink(missing_ok=True)
    finally:
        os.close(handle)


def _sweep(target: Path) -> None:
    """Remove what killed builds left, and put back a site caught between two renames."""
    parent = target.parent
    left = sorted(parent.glob(f"{_LEFT}{target.name}-*"))
    if left and not target.exists():
        left.pop().rename(target)
    for folder in [*left, *parent.glob(f"{_STAGING}{target.name}-*")]:
        shutil.rmtree(folder, ignore_errors=True)


def refuse_foreign(target: Path) -> None:
    """Refuse a target that holds anything a build didn't make.

    Raises:
        OutputError: naming the first such files.
    """
    if not target.exists():
        return
    if not target.is_dir():
        raise OutputError(f"{target} is not a folder; choose another --out")
    own = _manifest(target)
    foreign = sorted(path for path in _content(target) if path not in own and path not in KEPT)
    if foreign:
        some = ", ".join(shown(path) for path in foreign[:3]) + (", …" if len(foreign) > 3 else "")
        raise OutputError(
            f"{target} holds {len(foreign)} file{'s' if len(foreign) > 1 else ''} that no build made ({some}); move them away or choose another --out"
        )


def _manifest(target: Path) -> set[str]:
    """The files that the last build made; none where there is no manifest."""
    try:
        known = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
        return {MANIFEST, *known["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _content(target: Path) -> Iterator[str]:
    """Every file and link below a folder; links are not followed."""
    for folder, folders, files in os.walk(target):
        here = Path(folder)
        linked = [name for name in folders if (here / name).is_symlink()]
        for name in [*files, *linked]:
            yield (here / name).relative_to(target).as_posix()


def manifest(files: Mapping[str, bytes]) -> bytes:
    """The manifest of a site: each file with the hash of its content."""
    hashes = {path: hashlib.sha256(content).hexdigest() for path, content in sorted(files.items())}
    return (json.dumps({"made_by": "wortledger", "files": hashes}, indent=1, ensure_ascii=False) + "\n").encode()


def _stage_and_swap(target: Path, files: Mapping[str, bytes]) -> None:
    staging = Path(tempfile.mkdtemp(prefix=f"{_STAGING}{target.name}-", dir=target.parent))
    try:
        staging.chmod(0o755)
        for path, content in files.items():
            _write(staging / path, content)
        _write(staging / MANIFEST, manifest(files))
        for name in KEPT:
            if (target / name).is_file():
                shutil.copy2(target / name, staging / name)
        for folder, _, _ in os.walk(staging):
            _flush(Path(folder))
        if target.exists():
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
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
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
    aside = Path(tempfile.mkdtemp(prefix=f"{_LEFT}{old.name}-", dir=old.parent))
    aside.rmdir()
    old.rename(aside)
    new.rename(old)
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
