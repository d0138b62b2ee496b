"""The pipeline as a whole: a build that fails leaves the former site alone; one that succeeds leaves nothing of it."""

import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from generator import build as pipeline
from generator.build import build
from generator.errors import JournalError, OutputError
from tests.benchmarks.journals import generated, tiny
from tests.unit.publish.support import content, is_whole, leftovers, tree

BATCH = "2026-02-14-stout"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a tiny journal and its site; to be copied, not changed."""
    place = tmp_path_factory.mktemp("built")
    build(tiny(place / "journal"), place / "site")
    return place


@pytest.fixture
def place(built: Path, tmp_path: Path) -> Path:
    """A copy of the tiny journal and its site."""
    shutil.copytree(built, tmp_path / "place", symlinks=True)
    return tmp_path / "place"


def _write(name: str, text: str | bytes) -> Callable[[Path], None]:
    def spoil(journal: Path) -> None:
        (journal / name).parent.mkdir(exist_ok=True)
        (journal / name).write_bytes(text if isinstance(text, bytes) else text.encode())

    return spoil


def _remove(name: str) -> Callable[[Path], None]:
    return lambda journal: (journal / name).unlink()


def _link(name: str, target: str) -> Callable[[Path], None]:
    def spoil(journal: Path) -> None:
        (journal / name).unlink(missing_ok=True)
        (journal / name).symlink_to(target)

    return spoil


def _pipe(journal: Path) -> None:
    (journal / BATCH / "notes.md").unlink()
    os.mkfifo(journal / BATCH / "notes.md")


_PLAN = f"{BATCH}/plan.toml"
_READINGS = f"{BATCH}/readings.csv"
_HEAD = "time,stage,what,value,unit\n"
FAULTS: dict[str, tuple[Callable[[Path], None], str]] = {
    "broken TOML": (_write(_PLAN, "[batch\n"), "bad-toml"),
    "plan not UTF-8": (_write(_PLAN, b'[batch]\nrecipe = "\xff"\n'), "not-utf8"),
    "unknown key": (_write(_PLAN, '[batch]\nrecipe = "Stout"\nbrewed = 2026-02-14\nbrewd = 3\n'), "unknown-key"),
    "missing key": (_write(_PLAN, '[batch]\nrecipe = "Stout"\n'), "missing-key"),
    "unknown unit": (_write(_READINGS, _HEAD + "2026-02-14 09:00,mash,grist,5,stone\n"), "unit-unknown"),
    "unknown stage": (_write(_READINGS, _HEAD + "2026-02-14 09:00,lautering,grist,5,kg\n"), "unknown-stage"),
    "impossible value": (_write(_READINGS, _HEAD + "2026-02-14 09:00,mash,ph,77,\n"), "out-of-range"),
    "gravity of no wort": (_write(_READINGS, _HEAD + "2026-02-14 09:00,pre-boil,gravity,44,°P\n"), "gravity-not-computable"),
    "missing column": (_write(_READINGS, "time,what,value\n"), "missing-column"),
    "NUL in a table": (_write(_READINGS, b"time,stage,what\n\0,,\n"), "nul-byte"),
    "notes not UTF-8": (_write(f"{BATCH}/notes.md", b"\xff\xfe"), "not-utf8"),
    "notes are a pipe": (_pipe, "not-a-file"),
    "link out of the journal": (_link(f"{BATCH}/notes.md", "/etc/hostname"), "leaves-journal"),
    "no journal.toml": (_remove("journal.toml"), "missing-file"),
    "no batch": (_remove(_PLAN), "nothing-to-build"),
    "brewhouse nowhere": (_write(_PLAN, '[batch]\nrecipe = "Stout"\nbrewed = 2026-02-14\nbrewhouse = "barn"\n'), "unknown-brewhouse"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_faulty_journal_leaves_the_site(place: Path, fault: str) -> None:
    """A journal with a fault of any kind is refused; the site stays as it was, byte for byte, times included."""
    spoil, slug = FAULTS[fault]
    spoil(place / "journal")
    before = tree(place / "site")
    with pytest.raises(JournalError) as caught:
        build(place / "journal", place / "site")
    assert slug in {problem.slug for problem in caught.value.problems}
    assert tree(place / "site") == before
    assert sorted(path.name for path in place.iterdir()) == ["journal", "site"]


def test_faults_of_all_batches_come_at_once(place: Path) -> None:
    """Three faults in three files are three problems of one build."""
    for name in ("journal.toml", _PLAN, f"{BATCH}/notes.md"):
        (place / "journal" / name).write_bytes(b"\xff")
    with pytest.raises(JournalError) as caught:
        build(place / "journal", place / "site")
    assert [problem.path for problem in caught.value.problems] == [f"{BATCH}/notes.md", _PLAN, "journal.toml"]


@pytest.mark.parametrize("stage", ["report", "_files", "_assets"])
def test_fault_of_the_program_leaves_the_site(place: Path, monkeypatch: pytest.MonkeyPatch, stage: str) -> None:
    """An exception in any stage after the check leaves the site, and nothing beside it."""

    def fail(*_args: object) -> None:
        raise ZeroDivisionError

    before = tree(place / "site")
    monkeypatch.setattr(pipeline, stage, fail)
    with pytest.raises(ZeroDivisionError):
        build(place / "journal", place / "site")
    assert tree(place / "site") == before
    assert leftovers(place) == []


def test_foreign_file_is_refused_before_anything_is_computed(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that isn't ours is refused before the long part of a build."""
    (place / "site" / "mine.txt").touch()
    monkeypatch.setattr(pipeline, "report", lambda _batch: pytest.fail("computed"))
    with pytest.raises(OutputError, match=r"mine\.txt"):
        build(place / "journal", place / "site")


def test_foreign_file_that_comes_during_the_build_is_spared(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file put into the site while it is being built stops the swap."""
    assets = pipeline._assets

    def meddled() -> dict[str, bytes]:
        (place / "site" / "mine.txt").write_text("mine", encoding="utf-8")
        return assets()

    monkeypatch.setattr(pipeline, "_assets", meddled)
    with pytest.raises(OutputError, match=r"mine\.txt"):
        build(place / "journal", place / "site")
    assert (place / "site" / "mine.txt").read_text(encoding="utf-8") == "mine"


def test_another_build_is_turned_away_before_anything_is_computed(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The site is claimed for the whole build, so that an older state of the journal can't overtake a newer one."""
    report, inner = pipeline.report, []

    def nested(batch: object, settings: object) -> object:
        if not inner:
            inner.append(True)
            with pytest.raises(OutputError) as caught:
                build(place / "journal", place / "site")
            assert caught.value.status == 75
        return report(batch, settings)  # type: ignore[arg-type]

    monkeypatch.setattr(pipeline, "report", nested)
    build(place / "journal", place / "site")
    assert inner


def test_pages_of_a_renamed_batch_vanish(place: Path) -> None:
    """A batch that is renamed takes its pages, its JSON and its files along."""
    site = place / "site"
    before = set(content(site))
    (place / "journal" / BATCH).rename(place / "journal" / "2026-02-14-porter")
    build(place / "journal", site)
    after = set(content(site))
    pages = {f"batches/{BATCH}.html", f"batches/{BATCH}-sheet.html", f"batches/{BATCH}.json", f"batches/{BATCH}/plan.toml"}
    assert {path for path in before if BATCH in path} == pages
    assert after == {path.replace(BATCH, "2026-02-14-porter") for path in before}
    assert not (site / "batches" / BATCH).exists()
    assert is_whole(site)


def test_same_journal_same_bytes(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second build, elsewhere and in another time zone, gives the same bytes."""
    with monkeypatch.context() as elsewhere:
        elsewhere.setenv("TZ", "Pacific/Auckland")
        time.tzset()
        build(place / "journal", place / "again")
    time.tzset()
    assert content(place / "again") == content(place / "site")


def test_counts_and_drafts(place: Path) -> None:
    """The result counts what was published, and names drafts, which leave no trace in the site."""
    draft = place / "journal" / "2026-03-01-secret"
    shutil.copytree(place / "journal" / BATCH, draft)
    plan = (draft / "plan.toml").read_text(encoding="utf-8").replace("[batch]\n", "[batch]\ndraft = true\n")
    (draft / "plan.toml").write_text(plan, encoding="utf-8")
    result = build(place / "journal", place / "site")
    pages = [path for path in content(place / "site") if path.endswith(".html")]
    assert (result.batches, result.pages, result.drafts) == (1, len(pages), ("2026-03-01-secret",))
    assert result.index == place / "site" / "index.html"
    assert result.index.is_file()
    assert not any("secret" in path or b"secret" in data for path, data in content(place / "site").items())


def test_charts_and_downloads(tmp_path: Path) -> None:
    """A batch with readings gets its charts, and its own files as they are."""
    journal = generated(tmp_path / "journal", 1)
    (batch,) = (path for path in journal.iterdir() if (path / "plan.toml").exists())
    (batch / "gravity-log.csv").write_text("time,gravity,temperature\n2020-01-05 10:00,1.050,20\n", encoding="utf-8")
    build(journal, tmp_path / "site")
    page = (tmp_path / "site" / "batches" / f"{batch.name}.html").read_text(encoding="utf-8")
    assert page.count("<svg") >= 4
    for name in ("plan.toml", "readings.csv", "gravity-log.csv"):
        assert (tmp_path / "site" / "batches" / batch.name / name).read_bytes() == (batch / name).read_bytes()


def test_published_tables_start_no_formula(tmp_path: Path) -> None:
    """A note that a spreadsheet would compute is published with an apostrophe; the journal's own file stays."""
    journal = tiny(tmp_path / "journal")
    table = 'time,stage,what,value,unit,note\n2026-02-14 09:00,mash,grist,5,kg,"=HYPERLINK(1)"\n'
    (journal / BATCH / "readings.csv").write_text(table, encoding="utf-8")
    build(journal, tmp_path / "site")
    published = (tmp_path / "site" / "batches" / BATCH / "readings.csv").read_text(encoding="utf-8")
    assert published == table.replace('"=HYPERLINK(1)"', "'=HYPERLINK(1)")
    assert (journal / BATCH / "readings.csv").read_text(encoding="utf-8") == table


def test_feed_and_sitemap_need_an_address(place: Path) -> None:
    """feed.xml, feed.json and sitemap.xml are there with a base_url, and only then."""
    assert not {"feed.xml", "feed.json", "sitemap.xml"} & set(content(place / "site"))
    (place / "journal" / "journal.toml").write_text('title = "Tiny"\nbase_url = "https://example.org/beer/"\n', encoding="utf-8")
    build(place / "journal", place / "site")
    assert {"feed.xml", "feed.json", "sitemap.xml"} <= set(content(place / "site"))


def test_assets_are_the_static_files(place: Path) -> None:
    """Everything below templates/static is in assets/, and beside it only the index of words, which the build makes."""
    static = pipeline.templates_dir() / "static"
    wanted = {f"assets/{path.relative_to(static).as_posix()}": path.read_bytes() for path in static.rglob("*") if path.is_file()}
    assert wanted
    found = {path: data for path, data in content(place / "site").items() if path.startswith("assets/")}
    assert found.pop("assets/search-index.js").startswith(b"var wortledgerIndex = {")
    assert found == wanted


def test_steps_are_announced_and_counted(place: Path) -> None:
    """The hook for a progress bar is told each stage, and of each batch when it is done."""
    told: list[str] = []

    @contextmanager
    def step(name: str, steps: int) -> Iterator[Callable[[], None]]:
        told.append(f"{name} {steps}")
        yield lambda: told.append("done")

    build(place / "journal", place / "site", step)
    assert told == ["Computing 1", "done", "Drawing and writing 1", "done"]


def test_permissions_of_a_site(tmp_path: Path) -> None:
    """Under the usual umask every file is 0644 and every folder 0755, whatever the modes in the journal are."""
    journal = tiny(tmp_path / "journal")
    (journal / BATCH / "plan.toml").chmod(0o600)
    former = os.umask(0o022)
    try:
        build(journal, tmp_path / "site")
    finally:
        os.umask(former)
    for path in [tmp_path / "site", *(tmp_path / "site").rglob("*")]:
        assert path.stat().st_mode & 0o7777 == (0o755 if path.is_dir() else 0o644), path
