"""What the tests of publishing share: sites of known files, and looking whether a site is whole."""

import hashlib
import json
import os
import stat
from pathlib import Path

from generator.publish.staging import MANIFEST

OLD = {"index.html": b"old", "assets/base.css": b"old {}", "batches/one.html": b"old one", "batches/one/plan.toml": b"old plan"}
NEW = {"index.html": b"new", "assets/base.css": b"new {}", "batches/two.html": b"new two"}


def tree(folder: Path) -> dict[str, tuple[int, int, bytes]]:
    """Everything below a folder and the folder itself: mode, time of change, content."""
    found = {}
    for path in [folder, *sorted(folder.rglob("*"))]:
        about = path.lstat()
        content = os.fsencode(path.readlink()) if path.is_symlink() else path.read_bytes() if path.is_file() else b""
        found[path.relative_to(folder).as_posix()] = (stat.S_IFMT(about.st_mode) | stat.S_IMODE(about.st_mode), about.st_mtime_ns, content)
    return found


def content(folder: Path) -> dict[str, bytes]:
    """The files below a folder but for the manifest."""
    files = (path for path in folder.rglob("*") if path.is_file() and path.name != MANIFEST)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def is_whole(site: Path) -> bool:
    """Whether a site holds exactly the files of its manifest, each with the hash that stands there."""
    known = json.loads((site / MANIFEST).read_text(encoding="utf-8"))["files"]
    return known == {path: hashlib.sha256(data).hexdigest() for path, data in content(site).items()}


def leftovers(parent: Path) -> list[str]:
    """What builds may leave beside a site."""
    return sorted(path.name for path in parent.iterdir() if path.name.startswith((".wortledger", ".")))
