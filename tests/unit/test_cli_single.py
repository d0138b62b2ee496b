"""`wortledger single`: where it writes, what it refuses, and how it exits."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.pages.embed import MARK
from tests.benchmarks.journals import tiny
from tests.site.dom import parse, text
from tests.unit.publish.support import tree

BATCH = "2026-02-14-stout"


def call(*arguments: object) -> Result:
    """The command in this process."""
    return CliRunner().invoke(main, ["single", *map(str, arguments)], prog_name="wortledger")


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, with a journal of one batch beside it."""
    tiny(tmp_path / "batches")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_by_slug_into_a_file_of_that_name(place: Path) -> None:
    """The file is called as the batch is, its size is told, and the journal stays as it was."""
    before = tree(place / "batches")
    result = call(BATCH)
    assert (result.exit_code, result.stderr) == (0, "")
    written = place / f"{BATCH}.html"
    assert result.stdout == f"{written.stat().st_size / 1000:,.0f} kB: {BATCH}.html\n"
    page = parse(written.read_text(encoding="utf-8"))
    assert BATCH[:10] in text(next(page.all("title")))
    assert tree(place / "batches") == before
    assert sorted(path.name for path in place.iterdir()) == [f"{BATCH}.html", "batches"]


def test_every_way_gives_the_same_bytes(place: Path) -> None:
    """By slug or folder, into a file or to stdout, in another folder: the same file; with -q nothing is said."""
    assert call(BATCH, "-q").stdout == ""
    wanted = (place / f"{BATCH}.html").read_bytes()
    assert call(place / "batches" / BATCH, "-o", "by-folder.html").exit_code == 0
    assert (place / "by-folder.html").read_bytes() == wanted
    assert call(BATCH, "-o", "-").stdout_bytes == wanted
    shutil.copytree(place / "batches", place / "elsewhere" / "mine")
    assert call(BATCH, "--journal", place / "elsewhere" / "mine", "--out", "other.html").exit_code == 0
    assert (place / "other.html").read_bytes() == wanted


def test_only_its_own_file_is_replaced(place: Path) -> None:
    """Called again it writes anew; a file that it didn't make is refused with status 73 and stands."""
    assert call(BATCH).exit_code == 0
    assert MARK in (place / f"{BATCH}.html").read_text(encoding="utf-8")
    assert call(BATCH).exit_code == 0
    (place / "mine.html").write_text("mine", encoding="utf-8")
    result = call(BATCH, "-o", "mine.html")
    assert (result.exit_code, result.stdout) == (73, "")
    assert result.stderr == "wortledger: mine.html is there and wasn't made by this command; move it away or choose another --out\n"
    assert (place / "mine.html").read_text(encoding="utf-8") == "mine"


def test_no_such_batch(place: Path) -> None:
    """A mistyped batch is wrong usage, and the nearest is named; a journal that isn't there is a problem."""
    result = call("stoud")
    assert result.exit_code == 2
    assert f"no batch 'stoud' in this journal; did you mean '{BATCH}'?" in result.stderr or BATCH in result.stderr
    assert call(BATCH, "-j", "nowhere").exit_code == 1
    assert sorted(path.name for path in place.iterdir()) == ["batches"]


def test_problems_of_the_journal(place: Path) -> None:
    """A journal with problems gives them all and no file."""
    (place / "batches" / BATCH / "plan.toml").write_text("[batch\n", encoding="utf-8")
    result = call(BATCH)
    assert result.exit_code == 1
    assert f"{BATCH}/plan.toml:1: " in result.stderr
    assert not (place / f"{BATCH}.html").exists()


def test_no_folder_to_write_to(place: Path) -> None:
    """A folder that isn't there is status 74."""
    result = call(BATCH, "-o", place / "gone" / "a.html")
    assert result.exit_code == 74
    assert "can't be written" in result.stderr


def test_draft_has_no_links_to_what_is_not_published(place: Path) -> None:
    """A draft can be sent round; no link of it leads into the journal, though the journal has an address."""
    settings, plan = place / "batches" / "journal.toml", place / "batches" / BATCH / "plan.toml"
    settings.write_text(settings.read_text(encoding="utf-8") + 'base_url = "https://j.example"\n', encoding="utf-8")
    assert "https://j.example" in call(BATCH, "-o", "-").stdout
    shutil.copytree(place / "batches" / BATCH, place / "batches" / "other")
    plan.write_text(plan.read_text(encoding="utf-8").replace("[batch]\n", "[batch]\ndraft = true\n"), encoding="utf-8")
    result = call(BATCH, "-o", "-")
    assert result.exit_code == 0
    assert "j.example" not in result.stdout
