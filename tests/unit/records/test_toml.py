"""Where a key of a TOML file stands, however it is written."""

from pathlib import Path

import pytest

from generator.records.files import Reader
from generator.records.toml import TomlFile, read

TEXT = '''# comment
title = """
two [lines]
key = 1
"""
"quoted \\u0061.b".dotted . 'key' = 1

[batch]
recipe = "x" # [not a table]
tags = [
    "a",
    # "no",
    "b",
]

[[grist]]
name = "a"
mass = { kg = 1,  g = 2 }

[[grist]]
name = """
x"""
mass = "1 kg"
[grist.more]
deep = [ [1, 2],
  [ { a = 1 },
    { a = 2 } ] ]

[a.b.c]
d = 1
[[a.b.list]]
e = 1
[[a.b.list]]
[[a.b.list.inner]]
f = 1
'''
PLACES: list[tuple[tuple[str | int, ...], int]] = [
    (("title",), 2),
    (("quoted a.b",), 6),
    (("quoted a.b", "dotted"), 6),
    (("quoted a.b", "dotted", "key"), 6),
    (("batch",), 8),
    (("batch", "recipe"), 9),
    (("batch", "missing"), 8),
    (("batch", "tags"), 10),
    (("batch", "tags", 0), 11),
    (("batch", "tags", 1), 13),
    (("grist",), 16),
    (("grist", 0), 16),
    (("grist", 0, "name"), 17),
    (("grist", 0, "mass"), 18),
    (("grist", 0, "mass", "g"), 18),
    (("grist", 0, "missing"), 16),
    (("grist", 1), 20),
    (("grist", 1, "name"), 21),
    (("grist", 1, "mass"), 23),
    (("grist", 1, "missing"), 20),
    (("grist", 1, "more", "deep"), 25),
    (("grist", 1, "more", "deep", 1, 0, "a"), 26),
    (("grist", 1, "more", "deep", 1, 1, "a"), 27),
    (("a",), 29),
    (("a", "b"), 29),
    (("a", "b", "c", "d"), 30),
    (("a", "b", "list", 0, "e"), 32),
    (("a", "b", "list", 1), 33),
    (("a", "b", "list", 1, "inner", 0, "f"), 35),
    (("missing",), 1),
    ((), 1),
]


def toml(folder: Path, content: bytes) -> TomlFile | None:
    """A file with these bytes, read."""
    (folder / "file.toml").write_bytes(content)
    return read(Reader(folder), folder / "file.toml")


def problem(folder: Path, text: str) -> tuple[int, str]:
    """Line and words of the one problem of a text."""
    (folder / "file.toml").write_text(text, encoding="utf-8", newline="")
    reader = Reader(folder)
    assert read(reader, folder / "file.toml") is None
    (found,) = reader.problems
    return found.line, found.what


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_every_key_has_its_line(ending: str, mark: str, tmp_path: Path) -> None:
    """A key has its own line, a missing one that of its table header, a missing table 1; for every line ending."""
    file = toml(tmp_path, (mark + TEXT).replace("\n", ending).encode())
    assert file is not None
    assert [(place, file.line(*place)) for place, _ in PLACES] == PLACES


def test_places_are_those_of_the_values(tmp_path: Path) -> None:
    """Every key that tomllib finds, to the depth that records have, is in the map of lines."""
    file = toml(tmp_path, TEXT.encode())
    assert file is not None
    waiting: list[tuple[tuple[str | int, ...], object]] = [((), file.values)]
    while waiting:
        where, value = waiting.pop()
        assert not where or where in file.lines, where
        items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        waiting.extend(((*where, key), inner) for key, inner in items)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a = 1\na = 2\n", 2, "a key stands twice"),
        ("a = 1\r\rb = 2\rb = 3\r", 4, "a key stands twice"),
        ("[a]\n[b]\n[a]\n", 3, "a table stands twice"),
        ("x = { a = 1, a = 2 }", 1, "a key stands twice"),
        ("a = 1\nb = 8.6 kg\n", 2, "something stands after the value"),
        ("a = 1\nb = about\n", 2, "the value can't be read"),
        ('a = "x\nb = 1\n', 1, "a quote mark is not closed in its line"),
        ('a = 1\nb = """x\n\n\n', 2, "a quote mark is never closed"),
        ('a = "C:\\Users"\n', 1, "a \\ in a text means something else here"),
        ('a = "C:\\Wort"\n', 1, "a \\ in a text means something else here"),
        ("a = 2026-02-30\n", 1, "there is no such date"),
        ("a = 1\nb\n", 2, "Expected '='"),
        ("a = \x1b\n", 1, "the value can't be read"),
        ("a = 1\nb = " + "[" * 5000, 1, "it is nested too deeply"),
        ("a = 1\nb = [\n" + "1" * 5000 + "]", 3, "a number has thousands of digits"),
        ("\n" + "a." * 200 + "b = 1", 2, "a key has a hundred parts"),
        ("x = { " + "'a' . " * 100_000 + "b = 1 }", 1, "a key has a hundred parts"),
    ],
    ids=range(17),
)
def test_faults_have_their_line_in_plain_words(text: str, line: int, words: str, tmp_path: Path) -> None:
    """What is no TOML is told at its line, in words that need no knowledge of TOML."""
    found, what = problem(tmp_path, text)
    assert (found, words in what) == (line, True), what


def test_long_texts_with_dots_are_no_keys(tmp_path: Path) -> None:
    """A row of dots, a chain of words and a list of numbers are values as any other."""
    text = 'a = "' + "." * 500 + " " + "no, a.b " * 300 + '"\nb = [' + "1.5, " * 500 + "]\n"
    assert toml(tmp_path, text.encode()) is not None
