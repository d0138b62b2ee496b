"""The same journal gives the same bytes: in another folder, zone, language, and with other hash seeds."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.conftest import DEMO


def tree(site: Path) -> dict[str, str]:
    """Every file of a site with the hash of its content."""
    return {path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(site.rglob("*")) if path.is_file()}


def test_two_builds_are_alike(tmp_path: Path, demo_site: Path) -> None:
    """A build by another process, elsewhere and with all that could differ different, gives the very tree of the first."""
    journal = tmp_path / "an odd näme" / "journal"
    shutil.copytree(DEMO, journal)
    changed = os.environ | {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Chatham", "LANG": "C", "LC_ALL": "C", "COLUMNS": "40", "SOURCE_DATE_EPOCH": "1"}
    command = [sys.executable, "-m", "generator", "build", str(journal), "--out", str(tmp_path / "site"), "--quiet"]
    done = subprocess.run(command, env=changed, cwd=DEMO.parent, capture_output=True, text=True, timeout=120, check=False)
    assert (done.returncode, done.stdout) == (0, ""), done.stderr
    assert tree(tmp_path / "site") == tree(demo_site)


def test_tree_sees_a_difference(tmp_path: Path) -> None:
    """The comparison would see one changed byte and one more file."""
    (tmp_path / "a").write_bytes(b"1")
    before = tree(tmp_path)
    (tmp_path / "a").write_bytes(b"2")
    assert tree(tmp_path) != before
    (tmp_path / "a").write_bytes(b"1")
    (tmp_path / "b").write_bytes(b"")
    assert tree(tmp_path) != before


def test_no_page_holds_where_or_when_it_was_built(demo_site: Path) -> None:
    """No file of the site names the folder of the build or the machine."""
    for path in demo_site.rglob("*"):
        if path.suffix in (".html", ".json", ".css", ".svg", ".xml"):
            words = path.read_text(encoding="utf-8")
            assert str(DEMO.parent) not in words, path.name
            assert str(demo_site) not in words, path.name
