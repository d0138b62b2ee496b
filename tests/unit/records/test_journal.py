"""A journal as a whole: what is found, what is told at once, and that one fault causes no second one."""

import os
from pathlib import Path

import pytest

from generator.analysis.report import problems
from generator.errors import JournalError, Problem
from generator.records import files
from generator.records.files import Reader
from generator.records.journal import BatchRecord, load

PLAN = '[batch]\nrecipe = "Tove"\nbrewed = 2026-02-14\n'


def write(root: Path, texts: dict[str, str]) -> Path:
    """A journal of these files."""
    for name, text in {"journal.toml": 'title = "x"\n', **texts}.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def faults(root: Path) -> list[tuple[str, int, str]]:
    """Path, line and slug of each problem of a journal."""
    with pytest.raises(JournalError) as caught:
        load(root)
    return [(problem.path, problem.line, problem.slug) for problem in caught.value.problems]


def test_folder_that_is_not_there(tmp_path: Path) -> None:
    """A missing folder is a problem by its name."""
    assert faults(tmp_path / "nowhere") == [("nowhere", 1, "missing-file")]


def test_batches_come_by_slug_and_drafts_apart(tmp_path: Path) -> None:
    """Batches are sorted by slug across members, and drafts are named apart."""
    journal = load(write(tmp_path, {"b/plan.toml": PLAN, "members/x/a/plan.toml": PLAN, "c/plan.toml": PLAN + "draft = true\n"}))
    assert ([batch.slug for batch in journal.batches], journal.drafts) == (["a", "b"], ("c",))
    assert journal.batches[1].readings_path == "b/readings.csv"


def test_problems_of_science_come_with_the_others(tmp_path: Path) -> None:
    """What a further check finds stands among the problems of the files, also of drafts, but not of batches whose brewhouse can't be read."""
    strong = "stage,what,value\npost-boil,gravity,1.190\n"
    root = write(
        tmp_path,
        {
            "brewhouses/good.toml": 'name = "x"\n',
            "brewhouses/bad.toml": "name = 1\n",
            "a/plan.toml": PLAN + 'brewhouse = "good"\n', "a/readings.csv": strong,
            "b/plan.toml": PLAN + 'brewhouse = "bad"\n', "b/readings.csv": strong,
            "c/plan.toml": PLAN + "draft = true\n", "c/readings.csv": strong,
        },
    )  # fmt: skip
    with pytest.raises(JournalError) as caught:
        load(root, problems)
    found = [(problem.path, problem.slug) for problem in caught.value.problems]
    computed = "gravity-not-computable"
    assert found == [("a/readings.csv", computed), ("brewhouses/bad.toml", "wrong-type"), ("c/readings.csv", computed)]


def test_further_check_sees_every_batch_once(tmp_path: Path) -> None:
    """A further check is asked about each batch that could be read, once."""
    seen: list[str] = []

    def further(batch: BatchRecord) -> list[Problem]:
        seen.append(batch.slug)
        return []

    load(write(tmp_path, {"b/plan.toml": PLAN, "a/plan.toml": PLAN, "members/x/c/plan.toml": PLAN}), further)
    assert sorted(seen) == ["a", "b", "c"]


@pytest.mark.parametrize("fault", ["not TOML", "colour = 1\n" + PLAN, PLAN + "x = 1\n"])
def test_faulty_plan_causes_no_second_fault(fault: str, tmp_path: Path) -> None:
    """A batch whose plan is wrong can still be followed, and keeps its name from others."""
    root = write(tmp_path, {"a/plan.toml": fault, "b/plan.toml": PLAN + 'follows = "a"\n', "members/x/a/plan.toml": PLAN})
    assert [(path, slug) for path, _, slug in faults(root) if path != "a/plan.toml"] == [("members/x/a/plan.toml", "duplicate-slug")]


def test_readings_of_a_faulty_plan_are_read(tmp_path: Path) -> None:
    """Readings, log and notes are checked whether the plan is good or not."""
    texts = {"a/plan.toml": "x", "a/readings.csv": "x", "a/gravity-log.csv": "x", "a/notes.md": "![x](/x)"}
    assert {path for path, _, _ in faults(write(tmp_path, texts))} == set(texts)


@pytest.mark.parametrize("text", ["", "name = 1", "x", 'name = "x"\n[mash]\nx = 1\n'])
def test_faulty_brewhouse_causes_no_second_fault(text: str, tmp_path: Path) -> None:
    """A batch in a brewhouse that can't be read is not at fault."""
    root = write(tmp_path, {"brewhouses/h.toml": text, "a/plan.toml": PLAN + 'brewhouse = "h"\n'})
    assert {path for path, _, _ in faults(root)} == {"brewhouses/h.toml"}


def test_circles_are_told_to_those_within(tmp_path: Path) -> None:
    """Each batch of a circle is told, one that only leads into it is not."""
    root = write(
        tmp_path,
        {f"{slug}/plan.toml": f'{PLAN}follows = "{follows}"\n' for slug, follows in (("a", "b"), ("b", "c"), ("c", "b"), ("d", "d"))},
    )
    assert [path for path, _, slug in faults(root) if slug == "circular-follows"] == ["b/plan.toml", "c/plan.toml", "d/plan.toml"]


@pytest.mark.parametrize("name", ["a#b", "a?b", "a%b", "a&b", "a\\b", "a:b", "ab ", "ab.", "a\tb", "a\x1bb", "a\u202eb", "a\u200bb"])
def test_folders_that_cannot_name_a_page(name: str, tmp_path: Path) -> None:
    """A name that an address or a file system reads differently is told."""
    assert [slug for _, _, slug in faults(write(tmp_path, {f"{name}/plan.toml": PLAN}))] == ["folder-name"]


@pytest.mark.parametrize(
    ("first", "second"),
    [("tove", "Tove"), ("m\u00e4rzen", "ma\u0308rzen"), ("STRASSE", "stra\u00dfe"), ("tove", "tove-sheet"), ("tove", "Tove-Sheet")],
)
def test_names_that_clash(first: str, second: str, tmp_path: Path) -> None:
    """Two names that a file system may take for one, or for the name of a brew sheet, are told."""
    root = write(tmp_path, {f"{first}/plan.toml": PLAN, f"members/x/{second}/plan.toml": PLAN})
    assert [slug for _, _, slug in faults(root)] == ["name-clash"]


def test_sheet_alone_is_a_name(tmp_path: Path) -> None:
    """A batch may be called a sheet as long as there is no batch whose sheet it would be."""
    assert [batch.slug for batch in load(write(tmp_path, {"tove-sheet/plan.toml": PLAN})).batches] == ["tove-sheet"]


def test_folder_that_cannot_be_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder without permission is a problem, and no batch vanishes in silence."""
    root = write(tmp_path, {"a/plan.toml": PLAN, "b/plan.toml": PLAN})
    listed = Path.iterdir

    def locked(self: Path) -> object:
        if self.name == "b":
            raise PermissionError(13, os.strerror(13))
        return listed(self)

    monkeypatch.setattr(Path, "iterdir", locked)
    assert faults(root) == [("b", 1, "not-a-file")]


def test_file_that_cannot_be_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file without permission is a problem with the system's reason."""
    root = write(tmp_path, {"a/plan.toml": PLAN})

    def locked(path: Path, flags: int) -> int:
        raise PermissionError(13, os.strerror(13), str(path), flags)

    monkeypatch.setattr(files.os, "open", locked)
    with pytest.raises(JournalError) as caught:
        load(root)
    assert "permission denied" in str(caught.value)


def test_file_that_grows_while_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that is longer than it said is refused, not read without end."""
    (tmp_path / "x").write_bytes(b"x" * 11)
    stat = os.fstat

    def shorter(handle: int) -> os.stat_result:
        values = list(stat(handle))
        values[6] = 1
        return os.stat_result(values)

    monkeypatch.setattr(files.os, "fstat", shorter)
    reader = Reader(tmp_path)
    assert reader.bytes(tmp_path / "x", 10) is None
    assert [problem.slug for problem in reader.problems] == ["file-too-large"]


def test_list_of_problems_ends(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond the limit a file's problems are only said to go on; those of other files are still told."""
    monkeypatch.setattr(files, "MOST_PROBLEMS", 3)
    reader = Reader(tmp_path)
    for line in range(1, 10):
        reader.problem(tmp_path / "a", line, "w", "e", "wrong-value")
    reader.problem(tmp_path / "b", 1, "w", "e", "wrong-value")
    assert [(problem.path, problem.slug) for problem in reader.problems[2:]] == [
        ("a", "wrong-value"),
        ("a", "too-many-problems"),
        ("b", "wrong-value"),
    ]
    assert (reader.full(tmp_path / "a"), reader.full(tmp_path / "b")) == (True, False)
