"""TOML with line numbers: tomllib reads the values, tree-sitter says where each key stands."""

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tree_sitter
import tree_sitter_toml

from generator.errors import shown
from generator.records.files import Reader

Where = tuple[str | int, ...]
_LANGUAGE = tree_sitter.Language(tree_sitter_toml.language())


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
    try:
        values = tomllib.loads(text.replace("\r\n", "\n").replace("\r", "\n"))
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        line = int(at[1]) if at else text.count("\n") + 1
        reason = re.sub(r" \(at .*\)$", "", str(error))
        reader.problem(path, line, f"this is not TOML: {shown(reason)}", 'expected lines such as key = "value" under [table] headers', "bad-toml")
        return None
    except (RecursionError, ValueError) as error:
        reason = "it is nested too deeply" if isinstance(error, RecursionError) else shown(error)
        reader.problem(path, 1, f"this is not TOML: {reason}", 'expected lines such as key = "value" under [table] headers', "bad-toml")
        return None
    return TomlFile(reader.relative(path), values, _lines(text))


def _lines(text: str) -> dict[Where, int]:
    """Line of every table header and of every key outside of nested values."""
    document = tree_sitter.Parser(_LANGUAGE).parse(text.replace("\r\n", "\n").replace("\r", "\n").encode()).root_node
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
            lines.setdefault(where, node.start_point[0] + 1)
            lines.setdefault(where[:1], node.start_point[0] + 1)
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
    """Note the line of a pair, and one level into an inline table."""
    where = table + _keys(pair.children[0])
    for end in range(len(table) + 1, len(where) + 1):
        lines.setdefault(where[:end], pair.start_point[0] + 1)
    value = pair.children[-1]
    if value.type == "inline_table":
        for child in value.children:
            if child.type == "pair":
                lines.setdefault(where + _keys(child.children[0]), child.start_point[0] + 1)


def _keys(node: tree_sitter.Node) -> Where:
    """The keys of a bare, quoted or dotted key, without recursion."""
    found: list[str] = []
    waiting = [node]
    while waiting:
        part = waiting.pop()
        if part.type == "dotted_key":
            waiting.extend(reversed([child for child in part.children if child.type.endswith("key")]))
        else:
            found.append((part.text or b"").decode(errors="replace").strip("\"'"))
    return tuple(found)
