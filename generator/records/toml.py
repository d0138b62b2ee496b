"""TOML with line numbers: tomllib reads the values, tree-sitter says where each key stands."""

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tree_sitter
import tree_sitter_toml

from generator.errors import Slug, shown
from generator.records.files import Reader

Where = tuple[str | int, ...]
_LANGUAGE = tree_sitter.Language(tree_sitter_toml.language())
_DEEPEST = 8
"""Levels of keys whose lines are told; no record has as many."""
_EXPECTED = 'expected lines such as key = "value" under [table] headers'
_FAULTS = {
    "Cannot overwrite": ("a key stands twice", "expected each key once in its table"),
    "Duplicate inline": ("a key stands twice", "expected each key once in its table"),
    "twice": ("a table stands twice", "expected each [table] once; several of a kind are [[table]]"),
    "namespace": ("a table or key stands twice", "expected each [table] and each key once"),
    "after a statement": ("something stands after the value", 'expected text and quantities in quotes, as in mass = "8.6 kg"'),
    "Invalid value": ("the value can't be read", 'expected text and quantities in quotes, as in mass = "8.6 kg"'),
    "Illegal character '\\n'": ("a quote mark is not closed in its line", 'expected "..." or, over several lines, """..."""'),
    "Unterminated string": ("a quote mark is never closed", 'expected "..." or, over several lines, """..."""'),
    "Unescaped": ("a \\ in a text means something else here", "expected it doubled, or the text in '...'"),
    "Invalid hex": ("a \\ in a text means something else here", "expected it doubled, or the text in '...'"),
    "Invalid date": ("there is no such date", "expected a date as in 2026-02-14"),
}
"""Words of tomllib, to ours and to what was expected."""
_ENDLESS_KEY = re.compile(r"""(?<![\w"'.-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){100}""", re.ASCII)
_ENDLESS_NUMBER = re.compile(r"(?<!\d)[\d_]{4300}", re.ASCII)


@dataclass(frozen=True)
class TomlFile:
    """A parsed TOML file: its values, and the line of each key."""

    path: str
    """Relative to the journal."""
    values: dict[str, Any]
    lines: dict[Where, int]

    def line(self, *where: str | int) -> int:
        """Line of a key; of its table if the key is missing; 1 if that is missing too."""
        for end in range(len(where), 0, -1):
            if where[:end] in self.lines:
                return self.lines[where[:end]]
        return 1


def read(reader: Reader, path: Path) -> TomlFile | None:
    """Parse a TOML file of the journal; None, with a Problem, if it isn't one."""
    text = reader.text(path)
    if text is None:
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    found = _parsed(text)
    if isinstance(found, dict):
        return TomlFile(reader.relative(path), found, _lines(text))
    line, reason, expected, slug = found
    reader.problem(path, line, f"this is not TOML: {reason}" if slug == "bad-toml" else reason, expected, slug)
    return None


def _parsed(text: str) -> dict[str, Any] | tuple[int, str, str, Slug]:
    """The values of a text, or the line, what is wrong, what was expected, and the slug."""
    endless = _ENDLESS_KEY.search(text)
    if endless:
        return _line_at(text, endless.start()), "a key has a hundred parts", _EXPECTED, "bad-toml"
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        at = re.search(r" \(at line (\d+), column \d+\)$", str(error))
        line = int(at[1]) if at else _line_at(text, len(text.rstrip()))
        said = re.sub(r" \(at [^)]*\)$", "", str(error))
        reason, expected = next((words for part, words in _FAULTS.items() if part in said), (shown(said), _EXPECTED))
        return line, reason, expected, "bad-toml"
    except RecursionError:
        return 1, "it is nested too deeply", _EXPECTED, "bad-toml"
    except ValueError:
        endless = _ENDLESS_NUMBER.search(text)
        return _line_at(text, endless.start() if endless else 0), "a number has thousands of digits", "expected a finite number", "not-a-number"


def _line_at(text: str, position: int) -> int:
    return text.count("\n", 0, position) + 1


def _lines(text: str) -> dict[Where, int]:
    """Line of every table header and of every key, also within inline tables and arrays."""
    document = tree_sitter.Parser(_LANGUAGE).parse(text.encode()).root_node
    lines: dict[Where, int] = {}
    counts: dict[Where, int] = {}
    for node in document.children:
        if node.type == "pair":
            _note(lines, (), node)
        elif node.type in ("table", "table_array_element"):
            header = next(child for child in node.children if child.type.endswith("key"))
            where: Where = _expanded(_keys(header), counts)
            if node.type == "table_array_element":
                counts[where] = counts.get(where, -1) + 1
                where = (*where, counts[where])
            for end in range(len(where), 0, -1):
                lines.setdefault(where[:end], node.start_point[0] + 1)
            for child in node.children:
                if child.type == "pair":
                    _note(lines, where, child)
    return lines


def _expanded(keys: Where, counts: dict[Where, int]) -> Where:
    """A header's keys, with the index of each array of tables that they lead through."""
    where: Where = ()
    for position, key in enumerate(keys):
        where = (*where, key)
        if where in counts and position < len(keys) - 1:
            where = (*where, counts[where])
    return where


def _note(lines: dict[Where, int], table: Where, pair: tree_sitter.Node) -> None:
    """Note the line of a pair and of the keys within its value, without recursion."""
    waiting: list[tuple[Where, tree_sitter.Node]] = [(table, pair)]
    while waiting:
        where, node = waiting.pop()
        if node.type == "pair":
            keys = _keys(node.children[0])
            for end in range(len(where) + len(keys), len(where), -1):
                lines.setdefault((*where, *keys)[:end], node.start_point[0] + 1)
            where, node = (*where, *keys), node.children[-1]
        else:
            lines.setdefault(where, node.start_point[0] + 1)
        if len(where) < _DEEPEST and node.type == "inline_table":
            waiting.extend((where, child) for child in node.children if child.type == "pair")
        elif len(where) < _DEEPEST and node.type == "array":
            items = [child for child in node.named_children if child.type != "comment"]
            waiting.extend(((*where, position), child) for position, child in enumerate(items))


def _keys(node: tree_sitter.Node) -> Where:
    """The keys of a bare, quoted or dotted key, without recursion."""
    found: list[str] = []
    waiting = [node]
    while waiting:
        part = waiting.pop()
        if part.type == "dotted_key":
            waiting.extend(reversed([child for child in part.children if child.type.endswith("key")]))
        else:
            found.append(_key((part.text or b"").decode(errors="replace")))
    return tuple(found)


def _key(written: str) -> str:
    """A key as written, without its quotes and escapes."""
    if "\\" in written and written.startswith('"'):
        return next(iter(tomllib.loads(f"{written} = 0")))
    return written[1:-1] if written[:1] in ("'", '"') else written
