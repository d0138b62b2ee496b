"""Which folders a build may replace, and what it keeps of them."""

import json
import os
from pathlib import Path

import pytest

from generator.build import build
from generator.errors import OutputError
from generator.publish.staging import KEPT, MANIFEST, claimed, publish
from tests.benchmarks.journals import tiny
from tests.unit.publish.support import NEW, OLD, content, is_whole, leftovers, tree


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A site that an earlier build made."""
    target = tmp_path / "site"
    publish(target, OLD)
    return target


def test_makes_a_site_with_parents(tmp_path: Path) -> None:
    """A target that isn't there is made, its parents too, and nothing is left beside it."""
    target = tmp_path / "far" / "away" / "site"
    publish(target, NEW)
    assert content(target) == NEW
    assert is_whole(target)
    assert leftovers(target.parent) == []


def test_replaces_its_own_site(site: Path) -> None:
    """The new site holds the new files only: pages that are gone vanish, and so do their folders."""
    publish(site, NEW)
    assert content(site) == NEW
    assert not (site / "batches" / "one").exists()
    assert is_whole(site)
    assert leftovers(site.parent) == []


def test_same_files_same_bytes(site: Path) -> None:
    """Publishing the same twice gives the same bytes, manifest included."""
    before = (site / MANIFEST).read_bytes()
    publish(site, dict(reversed(OLD.items())))
    assert (site / MANIFEST).read_bytes() == before


@pytest.mark.parametrize("name", ["mine.txt", "batches/mine.html", ".git", ".git/config", "batches/.gitignore", "deep/er/mine", "ünï códe", "a\nb"])
def test_foreign_file_is_refused_by_name(site: Path, name: str) -> None:
    """A file that no build made is named, status 73, and nothing is touched."""
    (site / name).parent.mkdir(parents=True, exist_ok=True)
    (site / name).write_text("mine", encoding="utf-8")
    before = tree(site)
    with pytest.raises(OutputError) as caught:
        publish(site, NEW)
    assert name.replace("\n", "\N{REPLACEMENT CHARACTER}") in str(caught.value)
    assert "\n" not in str(caught.value)
    assert str(site) in str(caught.value)
    assert caught.value.status == 73
    assert tree(site) == before
    assert leftovers(site.parent) == []


def test_many_foreign_files_are_counted(site: Path) -> None:
    """Three of many foreign files are named, the rest counted."""
    for number in range(5):
        (site / f"mine-{number}").touch()
    with pytest.raises(OutputError, match=r"5 files that no build made \(mine-0, mine-1, mine-2, …\)"):
        publish(site, NEW)


@pytest.mark.parametrize("link", ["file", "folder", "broken"])
def test_foreign_links_are_refused_and_not_followed(site: Path, tmp_path: Path, link: str) -> None:
    """A link in the site is foreign, whatever it leads to; what it leads to stays."""
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "treasure").write_text("mine", encoding="utf-8")
    (site / "link").symlink_to({"file": elsewhere / "treasure", "folder": elsewhere, "broken": tmp_path / "nothing"}[link])
    with pytest.raises(OutputError, match=r"1 file that no build made \(link\)"):
        publish(site, NEW)
    assert (site / "link").is_symlink()
    assert (elsewhere / "treasure").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    "damage",
    ["", "{", "[]", "null", "1", '{"files": 3}', '{"files": ["index.html"]}', '{"made_by": "somebody", "files": {"index.html": ""}}', "[" * 100_000],
)
def test_damaged_manifest_makes_a_site_foreign(site: Path, damage: str) -> None:
    """Without a manifest that is ours, nothing in the folder is."""
    (site / MANIFEST).write_text(damage, encoding="utf-8")
    before = tree(site)
    with pytest.raises(OutputError, match="that no build made") as caught:
        publish(site, NEW)
    assert caught.value.status == 73
    assert tree(site) == before


def test_binary_manifest_makes_a_site_foreign(site: Path) -> None:
    """A manifest that isn't text is no manifest."""
    (site / MANIFEST).write_bytes(b"\xff\x00\xfe")
    with pytest.raises(OutputError, match="that no build made"):
        publish(site, NEW)


def test_missing_manifest_makes_a_site_foreign(site: Path) -> None:
    """A folder of pages without a manifest is somebody else's."""
    (site / MANIFEST).unlink()
    with pytest.raises(OutputError, match=r"4 files that no build made \(assets/base.css, "):
        publish(site, NEW)
    assert content(site) == OLD


@pytest.mark.parametrize("name", KEPT)
def test_kept_files_survive(site: Path, name: str) -> None:
    """The files that people keep in a published folder are carried over with content, mode and time."""
    kept = site / name
    kept.write_text("kept\n", encoding="utf-8")
    kept.chmod(0o600)
    os.utime(kept, ns=(1_000_000_000, 2_000_000_000))
    publish(site, NEW)
    assert content(site) == NEW | {name: b"kept\n"}
    assert (kept.stat().st_mode & 0o777, kept.stat().st_mtime_ns) == (0o600, 2_000_000_000)


def test_kept_link_stays_a_link(site: Path) -> None:
    """A kept file that is a link, even a broken one, is carried over as a link."""
    (site / ".htaccess").symlink_to("nowhere/at/all")
    publish(site, NEW)
    assert (site / ".htaccess").readlink() == Path("nowhere/at/all")


@pytest.mark.parametrize("kept", [(), (".gitignore",), KEPT])
def test_empty_folder_is_a_fine_target(tmp_path: Path, kept: tuple[str, ...]) -> None:
    """An empty folder, or one with kept files only, becomes the site."""
    target = tmp_path / "site"
    target.mkdir()
    for name in kept:
        (target / name).write_text("kept", encoding="utf-8")
    publish(target, NEW)
    assert content(target) == NEW | dict.fromkeys(kept, b"kept")


@pytest.mark.parametrize("leads_to", ["site", "nothing"])
def test_link_as_target_is_refused(site: Path, leads_to: str) -> None:
    """A target that is a link is refused, also a broken one, and also where it leads to a site of ours."""
    before = tree(site)
    link = site.parent / "link"
    link.symlink_to(site.parent / leads_to)
    with pytest.raises(OutputError, match="is a link; name the folder that it leads to") as caught:
        publish(link, NEW)
    assert caught.value.status == 73
    assert link.is_symlink()
    assert tree(site) == before


def test_loop_of_links_is_refused(tmp_path: Path) -> None:
    """Links that lead to each other end in a message."""
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(OutputError, match="is a link"):
        publish(tmp_path / "a", NEW)
    with pytest.raises(OutputError, match="can't be written") as caught:
        publish(tmp_path / "a" / "site", NEW)
    assert caught.value.status == 74


def test_site_below_a_link_is_fine(site: Path, tmp_path: Path) -> None:
    """Only the last name of the target must not be a link."""
    (tmp_path / "way").symlink_to(site.parent)
    publish(tmp_path / "way" / "site", NEW)
    assert content(site) == NEW


def test_file_as_target_is_refused(tmp_path: Path) -> None:
    """A target that is a file is refused and stays."""
    target = tmp_path / "site"
    target.write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="is not a folder; choose another --out"):
        publish(target, NEW)
    assert target.read_text(encoding="utf-8") == "mine"


def test_file_as_parent_is_told(tmp_path: Path) -> None:
    """A parent that is a file is named, status 74."""
    (tmp_path / "file").touch()
    with pytest.raises(OutputError, match=rf"{tmp_path}/file.* can't be written \(.*\); the former site stands") as caught:
        publish(tmp_path / "file" / "site", NEW)
    assert caught.value.status == 74


def test_name_too_long_is_told(tmp_path: Path) -> None:
    """A name that the file system refuses ends in one line."""
    with pytest.raises(OutputError, match=r"can't be written \(File name too long\)") as caught:
        publish(tmp_path / ("n" * 250), NEW)
    assert caught.value.status == 74
    assert list(tmp_path.iterdir()) == []


def test_place_that_cannot_be_written_is_told() -> None:
    """A place where nobody may make a file is named, status 74."""
    with pytest.raises(OutputError, match=r"^/proc/\.site\.lock can't be written \(.+\); the former site stands$") as caught:
        publish(Path("/proc/site"), NEW)
    assert caught.value.status == 74


def test_folder_that_cannot_be_looked_into_is_told(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder within the site whose content can't be listed may hold anything: it stops the build."""
    look = os.scandir

    def closed(path: str) -> object:
        if Path(path).name == "batches":
            raise PermissionError(13, "Permission denied", path)
        return look(path)

    monkeypatch.setattr(os, "scandir", closed)
    with pytest.raises(OutputError, match=r"/batches can't be written \(Permission denied\)"):
        publish(site, NEW)
    monkeypatch.undo()
    assert content(site) == OLD


@pytest.mark.parametrize("name", ["with space", "ümläut", "🍺", "-o", "[a-z]*", "back\\slash", "n" * 200])
def test_odd_names_of_the_site(tmp_path: Path, name: str) -> None:
    """A site may be called whatever the file system allows, and be built twice."""
    publish(tmp_path / name, OLD)
    publish(tmp_path / name, NEW)
    assert content(tmp_path / name) == NEW
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_neighbours_are_built_at_the_same_time(tmp_path: Path) -> None:
    """Two sites beside each other can be built at once: neither locks, stages nor sweeps in the other's place."""
    with claimed(tmp_path / "site") as replace, claimed(tmp_path / "site-2") as replace_other:
        replace(OLD)
        replace_other(NEW)
    (tmp_path / ".wortledger-new-site").mkdir()
    publish(tmp_path / "site-2", OLD)
    assert (tmp_path / ".wortledger-new-site").exists()
    assert content(tmp_path / "site") == content(tmp_path / "site-2") == OLD


def test_site_of_another_maker_is_foreign(site: Path) -> None:
    """A manifest like ours, but made by something else, doesn't make its files ours."""
    known = json.loads((site / MANIFEST).read_text(encoding="utf-8"))
    (site / MANIFEST).write_text(json.dumps(known | {"made_by": "somebody"}), encoding="utf-8")
    with pytest.raises(OutputError, match="that no build made"):
        publish(site, NEW)


def test_neighbour_with_a_longer_name_is_left_alone(tmp_path: Path) -> None:
    """Building `site` doesn't sweep what a build of `site-2` beside it is writing, nor take its former site for its own."""
    for name in (".wortledger-new-site-2", ".wortledger-old-site-2"):
        publish(tmp_path / name, OLD)
    publish(tmp_path / "site", NEW)
    assert content(tmp_path / ".wortledger-new-site-2") == content(tmp_path / ".wortledger-old-site-2") == OLD
    assert content(tmp_path / "site") == NEW


def test_relative_target(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A relative target lies below the folder one is in, `..` included."""
    monkeypatch.chdir(site.parent)
    publish(Path("site"), NEW)
    assert content(site) == NEW
    (site.parent / "sub").mkdir()
    monkeypatch.chdir(site.parent / "sub")
    publish(Path("../site"), OLD)
    assert content(site) == OLD
    assert leftovers(site.parent) == []


@pytest.mark.parametrize("mask", [0o022, 0o027, 0o077])
def test_modes_follow_the_umask(tmp_path: Path, mask: int) -> None:
    """Files and folders of a new site have the modes that the umask gives."""
    former = os.umask(mask)
    try:
        publish(tmp_path / "site", NEW)
    finally:
        os.umask(former)
    for path in [tmp_path / "site", *(tmp_path / "site").rglob("*")]:
        assert path.stat().st_mode & 0o777 == (0o777 if path.is_dir() else 0o666) & ~mask, path


def test_mode_of_an_existing_site_is_kept(site: Path) -> None:
    """A site that its owner opened or closed to others stays so."""
    site.chmod(0o2750)
    publish(site, NEW)
    assert site.stat().st_mode & 0o7777 == 0o2750


def _apart(tmp_path: Path, where: str) -> tuple[Path, Path]:
    """A journal in some home, and a target that overlaps with something dear."""
    home = tmp_path / "world" / "home"
    home.mkdir(parents=True)
    journal = tiny(tmp_path / "beer" / "journal")
    targets = {
        "journal": journal,
        "batch": journal / "2026-02-14-stout",
        "within": journal / "site",
        "around": journal.parent,
        "home": home,
        "above home": home.parent,
        "here": tmp_path / "here" / "deeper",
        "above here": tmp_path / "here",
        "root": Path("/"),
        "dot": Path(),
        "dots": Path(".."),
        "by a link": tmp_path / "link" / "site",
    }
    (tmp_path / "here" / "deeper").mkdir(parents=True)
    (tmp_path / "link").symlink_to(journal)
    return journal, targets[where]


@pytest.mark.parametrize(
    "where",
    ["journal", "batch", "within", "around", "home", "above home", "here", "above here", "root", "dot", "dots", "by a link"],
)
def test_dear_places_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, where: str) -> None:
    """A site never takes the place of the journal, a part of it, what holds it, home, / or the folder one is in."""
    journal, target = _apart(tmp_path, where)
    monkeypatch.setenv("HOME", str(tmp_path / "world" / "home"))
    monkeypatch.chdir(tmp_path / "here" / "deeper")
    before = tree(tmp_path)
    with pytest.raises(OutputError, match=r"must lie apart|the folder you are in|your home") as caught:
        build(journal, target)
    assert caught.value.status == 73
    assert tree(tmp_path) == before


def test_empty_home_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Even an empty home isn't taken for a new site."""
    (tmp_path / "home").mkdir()
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    with pytest.raises(OutputError, match="would take the place of your home"):
        build(tiny(tmp_path / "journal"), tmp_path / "home")


def test_manifest_names_every_file_once(site: Path) -> None:
    """The manifest says who made it and lists the files but for itself."""
    known = json.loads((site / MANIFEST).read_text(encoding="utf-8"))
    assert known["made_by"] == "wortledger"
    assert sorted(known["files"]) == sorted(OLD)
