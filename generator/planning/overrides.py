"""Changes on trial: KEY=VALUE upon a plan, checked as the file is, with the file left as it was."""

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, get_origin

import tomlkit

from generator.analysis.report import problems
from generator.errors import JournalError, Problem, nearest, shown
from generator.planning.batches import Found
from generator.records.files import TEXT_LIMIT, Reader
from generator.records.journal import BatchRecord
from generator.records.models import Plan
from generator.records.plan import read_plan
from generator.records.toml import TomlFile, Where, read

SET = "--set"
"""Stands as the path of a problem that a change brings in; its line is the how manieth change it was."""
_CHANGE = re.compile(r"""\s*((?:"[^"]*"|'[^']*'|[^"'=])+?)\s*=(.*)""", re.DOTALL)
_PART = re.compile(r"""\s*(?:"([^"]*)"|'([^']*)'|([^."'\s](?:[^."']*[^."'\s])?))\s*(?:\.|\Z)""")
_FORM = 'expected KEY=VALUE, as in target.volume="15 L", grist.1.mass="6 kg" or hops."Fuggles".mass="50 g"'


class NoChangeError(ValueError):
    """A text is not of the form KEY=VALUE."""


@dataclass(frozen=True, slots=True)
class Change:
    """A value for one key of a plan; an empty one leaves the key out."""

    number: int
    """The how manieth it is, from 1."""
    key: tuple[str, ...]
    value: str

    @property
    def name(self) -> str:
        """The key as people write it."""
        return shown(".".join(self.key))


@dataclass(frozen=True)
class Draft:
    """A plan on trial: its batch as the analysis takes it, and the text of its file."""

    batch: BatchRecord
    text: str


def parse(texts: Sequence[str]) -> tuple[Change, ...]:
    """Read changes such as target.volume="15 L".

    Raises:
        NoChangeError: a text is not of that form.
    """
    return tuple(_change(number, text) for number, text in enumerate(texts, 1))


def _change(number: int, text: str) -> Change:
    split = _CHANGE.fullmatch(text)
    key, position = [], 0
    while split is not None and position < len(split[1]):
        part = _PART.match(split[1], position)
        if part is None:
            split = None
            break
        key.append(next(found for found in part.groups() if found is not None))
        position = part.end()
    if split is None or split[1].rstrip().endswith("."):
        raise NoChangeError(f"'{shown(text)}' changes nothing; {_FORM}")
    return Change(number, tuple(key), _unquoted(split[2].strip()))


def _unquoted(value: str) -> str:
    """The value without the quotes of TOML, which a shell may have left on it."""
    plain = _as_toml(value) if value[:1] in ("'", '"') else None
    return plain if isinstance(plain, str) else value


def _as_toml(value: str) -> Any:
    """What the value means in a TOML file; None where it means nothing there."""
    try:
        found = tomllib.loads(f"value = {value}")
    except (ValueError, RecursionError):
        return None
    return found["value"] if len(found) == 1 else None


class Overlay(Reader):
    """Reads a journal with another text in the place of one file."""

    def __init__(self, root: Path, path: Path, text: str) -> None:
        super().__init__(root)
        self._path, self._text = path, text

    def text(self, path: Path, limit: int = TEXT_LIMIT) -> str | None:
        """Text of a file, or the one that stands in for it."""
        return self._text if path == self._path else super().text(path, limit)


def plan_text(found: Found) -> str:
    """Text of the plan's file, its lines ended alike."""
    return (Reader(found.root).text(found.plan_path) or "").replace("\r\n", "\n").replace("\r", "\n")


def changed(found: Found, changes: Sequence[Change]) -> Draft:
    """The plan with the changes in it.

    Raises:
        JournalError: a key is unknown, or the plan would not pass as a file; the problems name the change.
    """
    typed: dict[int, Any] = {}
    draft, faults = _tried(found, changes, typed)
    other = {change.number: _as_toml(change.value) for change in changes if (change.number, "wrong-type") in {(at.line, at.slug) for at in faults}}
    typed = {number: value for number, value in other.items() if value is not None}
    if typed:  # numbers, yes or no, and lists stand without quotes in the file
        draft, faults = _tried(found, changes, typed)
    if draft is None or faults:
        raise JournalError(faults)
    return draft


def _tried(found: Found, changes: Sequence[Change], typed: dict[int, Any]) -> tuple[Draft | None, list[Problem]]:
    """The plan with the changes in it, where it can stand, and what is wrong with it; `typed` values replace texts."""
    document = tomlkit.parse(plan_text(found))
    places: dict[int, Where] = {}
    faults = []
    for change in changes:
        place = _apply(document, change, typed.get(change.number, change.value))
        if isinstance(place, Problem):
            faults.append(place)
        else:
            places[change.number] = place
    text = tomlkit.dumps(document) if changes else plan_text(found)
    batch, further = drafted(found, text)
    file = read(Overlay(found.root, found.plan_path, text), found.plan_path)
    faults += [_by_change(fault, places, file) for fault in further]
    return (Draft(batch, text) if batch else None), faults


def _apply(document: tomlkit.TOMLDocument, change: Change, value: Any) -> Where | Problem:
    """Put one value in its place; tells the place, as lines of a file are looked up by."""
    table: Any = document
    where: Where = ()
    for depth, part in enumerate(change.key[:-1]):
        step = _entry(table, part, change, depth) if isinstance(table, list) else part
        if isinstance(step, Problem):
            return step
        if isinstance(table, dict) and part not in table:
            if depth == 0 and _is_list(part):
                return _fault(change, f"the plan has no [[{shown(part)}]]", "expected a key of what stands in it")
            table[part] = tomlkit.table()
        table, where = table[step], (*where, step)
    last = change.key[-1]
    if not isinstance(table, dict):
        return _fault(change, f"{change.name} is no key", "expected a table and a key in it, as in target.volume, or an entry as in grist.1.mass")
    if change.value:
        table[last] = value
    else:
        table.pop(last, None)
    return (*where, last)


def _is_list(part: str) -> bool:
    return part in Plan.model_fields and get_origin(Plan.model_fields[part].annotation) is tuple


def _entry(entries: list[Any], part: str, change: Change, depth: int) -> int | Problem:
    """Index of an entry of a list by its number from 1, or by its name."""
    table = shown(".".join(change.key[:depth]))
    if re.fullmatch(r"[0-9]{1,4}", part) and 1 <= int(part) <= len(entries):
        return int(part) - 1
    names = [str(entry["name"]) if isinstance(entry, dict) and "name" in entry else "" for entry in entries]
    same = [index for index, name in enumerate(names) if name.strip().casefold() == part.strip().casefold()]
    if len(same) == 1:
        return same[0]
    if same:
        numbers = ", ".join(str(index + 1) for index in same)
        return _fault(change, f"'{shown(part)}' stands {len(same)} times in [[{table}]]", f"expected its number: one of {numbers}")
    hint = nearest(part, [name for name in names if name]) if any(names) and not part.isdigit() else f"expected a number from 1 to {len(entries)}"
    return _fault(change, f"[[{table}]] has no '{shown(part)}'", hint)


def _fault(change: Change, what: str, expected: str) -> Problem:
    return Problem(SET, change.number, what, expected, "unknown-key")


def _by_change(fault: Problem, places: dict[int, Where], file: TomlFile | None) -> Problem:
    """A problem of the changed plan, put down to the change that stands on its line, else to the last one in its table, else to the last."""
    lines = {number: file.line(*where) for number, where in places.items()} if file else {}
    tables = {number: file.line(*where[:-1]) for number, where in places.items()} if file else {}
    on_line = [number for number in lines if fault.line == lines[number]]
    in_table = [number for number in tables if fault.line == tables[number]]
    return replace(fault, path=SET, line=(on_line or in_table or list(places) or [1])[-1])


def drafted(found: Found, text: str) -> tuple[BatchRecord | None, list[Problem]]:
    """The batch with another text of its plan, without its readings, and what is wrong with it."""
    reader = Overlay(found.root, found.plan_path, text)
    planned = read_plan(reader, found.plan_path)
    if planned is None:
        return None, reader.problems
    plan, file = planned
    batch = replace(found.unread, plan=plan, plan_file=file)
    if plan.batch.brewhouse != found.batch.plan.batch.brewhouse:
        batch = replace(batch, brewhouse=_brewhouse(found, reader, plan, file))
    follows = plan.batch.follows
    if follows is not None and follows not in found.slugs:
        line = file.line("batch", "follows")
        reader.problem(found.plan_path, line, f"no batch is called '{shown(follows)}'", nearest(follows, found.slugs), "unknown-follows")
    return batch, reader.problems or problems(batch)


def _brewhouse(found: Found, reader: Reader, plan: Plan, file: TomlFile) -> Any:
    wanted = plan.batch.brewhouse
    if wanted is None:
        return None
    house, names = found.brewhouse(reader, wanted)
    if house is None:
        what = f"the brewhouse '{shown(wanted)}' isn't in brewhouses/"
        reader.problem(found.plan_path, file.line("batch", "brewhouse"), what, nearest(wanted, sorted(names)), "unknown-brewhouse")
    return house
