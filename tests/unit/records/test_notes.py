"""Notes: the lessons are taken out, the photos are looked at."""

from pathlib import Path

import pytest

from generator.records import notes
from generator.records.files import Reader
from generator.records.notes import Notes


def read(folder: Path, text: str) -> tuple[Notes, list[tuple[int, str]]]:
    """The notes of a batch, and line and words of their problems."""
    batch = folder / "tove-1"
    batch.mkdir(exist_ok=True)
    (batch / "notes.md").write_text(text, encoding="utf-8", newline="")
    reader = Reader(folder)
    found = notes.read(reader, batch / "notes.md")
    assert found is not None
    return found, [(problem.line, problem.what) for problem in reader.problems]


@pytest.mark.parametrize(
    ("text", "lessons"),
    [
        ("", []),
        ("## Lessons\n\n- one\n- two\n", [(3, "one"), (4, "two")]),
        ("Lessons\n---\n1. one\n2. two\n", [(3, "one"), (4, "two")]),
        ("# LESSONS #\n* one\n  on two lines\n", [(2, "one on two lines")]),
        ("## Lessons\n- *one* `a*b` [c](https://example.org) ![d](photos/d.jpg)\n", [(2, "one a*b c d")]),
        ("## Lessons\n- one\n  - within\n", [(2, "one"), (3, "within")]),
        ("## Lessons\n- one\n\n  a second paragraph\n- two\n", [(2, "one"), (5, "two")]),
        ("## Lessons\n-\n\na paragraph\n", []),
        ("## Lessons\n- one\n\n## Tasting\n- bitter\n", [(2, "one")]),
        ("## Lessons\n- one\n\n### Tasting\n- bitter\n\n## Lessons\n- two\n", [(2, "one"), (8, "two")]),
        ("- not one\n\n## Lessons learned\n- nor this\n", []),
        ("## Lessons\nA paragraph is none.\n", []),
        ("> ## Lessons\n> - quoted\n", []),
        ("## Lessons\n- one[^1]\n\n[^1]: a footnote\n", [(2, "one")]),
    ],
    ids=range(14),
)
def test_lessons(text: str, lessons: list[tuple[int, str]], tmp_path: Path) -> None:
    """The items of the lists under a heading Lessons, with their lines and without markup; nothing else."""
    assert [(lesson.line, lesson.text) for lesson in read(tmp_path, text)[0].lessons] == lessons


def test_lessons_keep_their_markdown(tmp_path: Path) -> None:
    """The page can render a lesson as it was written."""
    assert read(tmp_path, "## Lessons\n- *one* `x`\n")[0].lessons[0].markdown == "*one* `x`"


@pytest.mark.parametrize(
    "target",
    [
        "photos/x.jpg",
        "./photos/x.jpg",
        "x.jpg",
        "photos/../x.jpg",
        "photos/a%20b.jpg",
        "https://example.org/../x.jpg",
        "HTTP://e.org/x",
    ],
)
def test_photos_that_may_stand(target: str, tmp_path: Path) -> None:
    """A photo in the folder of the batch, and one that lies elsewhere on the web."""
    assert read(tmp_path, f"![x]({target})\n")[1] == []


@pytest.mark.parametrize(
    "target",
    ["../x.jpg", "photos/../../x.jpg", "/x.jpg", "..%2fx.jpg", "%2e%2e/x.jpg", "..\\x.jpg", "\\x.jpg", "C:\\x.jpg", "c:/x.jpg",
     "file:///x.jpg", "photos/%00.jpg", "photos/../../a:b.jpg"],
)  # fmt: skip
def test_photos_that_leave_their_batch(target: str, tmp_path: Path) -> None:
    """A photo outside of its batch is a problem, however its path is written."""
    ((line, what),) = read(tmp_path, f"Text.\n\nMore\n![x]({target})\n")[1]
    assert line == 4
    assert "lies outside of its batch" in what


def test_photo_by_reference(tmp_path: Path) -> None:
    """A photo whose path stands elsewhere in the notes is found as well."""
    assert [line for line, _ in read(tmp_path, "![x][there]\n\n[there]: ../x.jpg\n")[1]] == [1]


def test_photo_behind_a_link(tmp_path: Path) -> None:
    """A link within the batch that leads out of it is a problem for the photo."""
    (tmp_path / "x.jpg").write_bytes(b"")
    (tmp_path / "tove-1").mkdir()
    (tmp_path / "tove-1" / "y.jpg").symlink_to("../x.jpg")
    assert len(read(tmp_path, "![x](y.jpg)\n")[1]) == 1


def test_control_characters_leave_the_notes(tmp_path: Path) -> None:
    """No character that a page may not hold stays in the notes; line ends do."""
    found, _ = read(tmp_path, "a\x1b[31mb\n\x7f\tc\r\nd")
    assert found.markdown == "a\ufffd[31mb\n\ufffd\tc\r\nd"


def test_notes_nested_too_deeply(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the parser run out of depth, that is a problem and no crash."""

    class Shallow:
        def parse(self, _text: str) -> None:
            raise RecursionError

    monkeypatch.setattr(notes, "parser", Shallow)
    (tmp_path / "notes.md").write_text("x", encoding="utf-8")
    reader = Reader(tmp_path)
    assert notes.read(reader, tmp_path / "notes.md") is None
    assert [(problem.line, problem.slug) for problem in reader.problems] == [(1, "wrong-value")]
