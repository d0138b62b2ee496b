"""One file, whole or not at all, and only over a file that this made."""

import os
import stat
from pathlib import Path

import pytest

from generator.errors import OutputError
from generator.publish.one_file import write_one
from generator.publish.staging import MANIFEST

MARK = b"<mine>"


def test_a_new_file(tmp_path: Path) -> None:
    """It is there with its content and the usual mode, and nothing else is."""
    former = os.umask(0o022)
    try:
        write_one(tmp_path / "a.html", b"x<mine>", MARK)
    finally:
        os.umask(former)
    assert (tmp_path / "a.html").read_bytes() == b"x<mine>"
    assert stat.S_IMODE((tmp_path / "a.html").stat().st_mode) == 0o644
    assert [path.name for path in tmp_path.iterdir()] == ["a.html"]


def test_own_file_is_replaced_and_another_is_not(tmp_path: Path) -> None:
    """The mark decides; a file without it stands, byte for byte."""
    target = tmp_path / "a.html"
    target.write_bytes(b"old <mine>")
    write_one(target, b"new <mine>", MARK)
    assert target.read_bytes() == b"new <mine>"
    target.write_bytes(b"my thesis")
    with pytest.raises(OutputError, match="wasn't made by this command") as caught:
        write_one(target, b"new <mine>", MARK)
    assert caught.value.status == 73
    assert target.read_bytes() == b"my thesis"


def test_links_and_folders_are_refused(tmp_path: Path) -> None:
    """Neither a link, a broken one too, nor a folder is written through or over."""
    (tmp_path / "link.html").symlink_to("nowhere.html")
    (tmp_path / "folder.html").mkdir()
    for name in ("link.html", "folder.html"):
        with pytest.raises(OutputError, match="is no file"):
            write_one(tmp_path / name, b"x", MARK)
    assert not (tmp_path / "nowhere.html").exists()


def test_a_built_site_is_no_place(tmp_path: Path) -> None:
    """Within a site the file would stop the next build, so it is refused there at any depth."""
    (tmp_path / "site" / "batches").mkdir(parents=True)
    (tmp_path / "site" / MANIFEST).write_text("{}", encoding="utf-8")
    with pytest.raises(OutputError, match="within a built site"):
        write_one(tmp_path / "site" / "batches" / "a.html", b"x", MARK)


def test_no_folder_no_file(tmp_path: Path) -> None:
    """A folder that isn't there is told, with status 74."""
    with pytest.raises(OutputError, match=r"gone/a\.html can't be written \(No such file") as caught:
        write_one(tmp_path / "gone" / "a.html", b"x", MARK)
    assert caught.value.status == 74


def test_a_failure_leaves_the_former_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the disk gives up half-way, the former file stands and nothing lies beside it."""
    target = tmp_path / "a.html"
    write_one(target, b"old <mine>", MARK)

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left"):
        write_one(target, b"new <mine>", MARK)
    assert target.read_bytes() == b"old <mine>"
    assert [path.name for path in tmp_path.iterdir()] == ["a.html"]
