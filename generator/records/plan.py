"""plan.toml: the checks that one key alone can't show.

They look at the values as written, and only at what can be read: so they tell what is wrong also of a plan that has other faults.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator import units
from generator.errors import Slug, shown
from generator.records.checked import checked, dotted, missing
from generator.records.fields import one_line
from generator.records.files import Reader
from generator.records.models import Plan
from generator.records.schedule import DAY, LONGEST_BOIL, ROUNDING, Moment, duration, moment
from generator.records.toml import TomlFile, Where, read
from generator.units import Kind, QuantityError

Table = dict[str, Any]
_NEEDED = {"boil": ("alpha", "time"), "first wort": ("alpha",), "stand": ("alpha", "temperature", "time"), "fermenter": ()}
"""By `added` of hops."""
_COLDEST_STAND, _BOILING = 40.0, 100.0
"""°C. Colder wort makes no hop bitter, and none is hotter."""


@dataclass(frozen=True, slots=True)
class _Fault:
    """What is wrong with a key."""

    where: Where
    what: str
    expected: str
    slug: Slug

    @classmethod
    def of(cls, where: Where, what: str, expected: str, slug: Slug) -> "_Fault":
        """A fault whose words begin with the name of the key, as people count."""
        return cls(where, f"{dotted(where)}: {what}", f"expected {expected}", slug)


def read_plan(reader: Reader, path: Path) -> tuple[Plan, TomlFile] | None:
    """A plan with its file; None, with Problems, if it can't stand."""
    file = read(reader, path)
    plan = None if file is None else check_plan(reader, file)
    return None if file is None or plan is None else (plan, file)


def check_plan(reader: Reader, file: TomlFile) -> Plan | None:
    """The plan of a file that is TOML; None where its values make none. Every fault becomes a Problem."""
    plan = checked(reader, file, Plan)
    for check in _CHECKS:
        for fault in check(file.values):
            reader.problem(reader.root / file.path, file.line(*fault.where), fault.what, fault.expected, fault.slug)
    return plan


def _table(values: Table, name: str) -> Table:
    found = values.get(name)
    return found if isinstance(found, dict) else {}


def _tables(values: Table, name: str) -> Iterator[tuple[Where, Table]]:
    found = values.get(name)
    for position, table in enumerate(found if isinstance(found, list) else ()):
        if isinstance(table, dict):
            yield (name, position), table


def _amount(table: Table, key: str, kind: Kind) -> float | None:
    """The quantity of a key; None where there is none, or another check refuses it."""
    try:
        return units.parse(table[key], kind).value if isinstance(table.get(key), str) else None
    except QuantityError:
        return None


def _moment(table: Table) -> Moment | None:
    try:
        return moment(one_line(table["when"])) if isinstance(table.get("when"), str) else None
    except QuantityError:
        return None


def _boil(values: Table) -> float | None:
    """Minutes of the planned boil, where they can be read and can be meant."""
    minutes = _amount(_table(values, "boil"), "duration", units.DURATION)
    return minutes if minutes is not None and minutes <= LONGEST_BOIL else None


def _packaged(values: Table) -> float | None:
    """Minutes from the pitch to the packaging, where the plan says so."""
    told = _moment(_table(values, "package"))
    return told.minutes if told is not None and told.step == "pitch" and told.minutes >= 0 else None


def _portions(values: Table) -> Iterator[_Fault]:
    """An interval lies between portions."""
    mash = _table(values, "mash")
    if "interval" in mash and mash.get("portions", 1) == 1:
        if "portions" in mash:
            yield _Fault.of(("mash", "interval"), "it lies between portions, and there is one", "two portions or more, or no interval", "wrong-value")
        else:
            yield _Fault(("mash", "interval"), *missing(("mash", "portions")), "missing-key")


def _hops(values: Table) -> Iterator[_Fault]:
    """Each addition of hops has the keys that it needs, and comes when it can."""
    boil, packaged = _boil(values), _packaged(values)
    for where, hop in _tables(values, "hops"):
        added = hop.get("added", "boil")
        if not isinstance(added, str) or added not in _NEEDED:
            continue
        for key in _NEEDED[added]:
            if key not in hop:
                what, expected = missing((*where, key))
                yield _Fault(where, f'{what} (added = "{added}")', expected, "missing-key")
        if added == "boil":
            yield from _boiled(where, hop, boil)
        elif added == "stand":
            yield from _stood(where, hop)
        if added == "fermenter":
            yield from _dry(where, hop, packaged)
        elif "when" in hop:
            expected = 'added = "fermenter", or only a time: the minutes of heat before the end of the boil'
            yield _Fault.of((*where, "when"), f'hops with added = "{added}" have no day', expected, "wrong-value")


def _boiled(where: Where, hop: Table, boil: float | None) -> Iterator[_Fault]:
    """Hops boil no longer than the wort."""
    minutes = _amount(hop, "time", units.DURATION_OR_NONE)
    if minutes is None or minutes <= (boil or LONGEST_BOIL) + ROUNDING:
        return
    at, written = (*where, "time"), f"'{shown(hop['time'])}'"
    if boil is None:
        yield _Fault.of(at, f"{written} is longer than any boil", f"at most {duration(LONGEST_BOIL)} before its end", "out-of-range")
    else:
        yield _Fault.of(at, f"{written} is longer than the boil", f"at most {duration(boil)}, or a longer duration of [boil]", "before-the-boil")


def _stood(where: Where, hop: Table) -> Iterator[_Fault]:
    """A stand is hot, but doesn't boil, and ends within a day."""
    minutes, temperature = _amount(hop, "time", units.DURATION_OR_NONE), _amount(hop, "temperature", units.TEMPERATURE)
    if minutes is not None and minutes > DAY + ROUNDING:
        yield _Fault.of((*where, "time"), f"'{shown(hop['time'])}' is out of range for a stand", "at most 24 h", "out-of-range")
    if temperature is not None and not _COLDEST_STAND - ROUNDING <= temperature <= _BOILING + ROUNDING:
        what = f"'{shown(hop['temperature'])}' is out of range for a stand"
        yield _Fault.of((*where, "temperature"), what, f"{_COLDEST_STAND:g} to {_BOILING:g} °C", "out-of-range")


def _dry(where: Where, hop: Table, packaged: float | None) -> Iterator[_Fault]:
    """Hops go into the fermenter after the pitch, and before the beer leaves it."""
    told = _moment(hop)
    if told is None:
        return
    at, written = (*where, "when"), f"'{shown(hop['when'])}'"
    if told.step == "package" and told.minutes > 0:
        yield _Fault.of(at, f"{written} is after the packaging", 'a time before it, as in "package - 3 d"', "after-packaging")
    elif told.step == "package" and packaged is not None and packaged + told.minutes < 0:
        yield _Fault.of(at, f"{written} is before the pitch", f"at most {duration(packaged)} before the packaging", "out-of-range")
    elif told.step == "pitch" and packaged is not None and told.minutes > packaged:
        expected = f'a time before it, at most "pitch + {duration(packaged)}"'
        yield _Fault.of(at, f"{written} is after the packaging", expected, "after-packaging")


def _tasks(values: Table) -> Iterator[_Fault]:
    """A task comes after the boil has begun if it is told from its end, and before the packaging if it is told from the pitch."""
    boil, packaged = _boil(values), _packaged(values)
    for where, task in _tables(values, "task"):
        told = _moment(task)
        if told is None:
            continue
        at, written = (*where, "when"), f"'{shown(task['when'])}'"
        if told.from_end and boil is not None and -told.minutes > boil + ROUNDING:
            expected = f'at most "boil - {duration(boil)}", or a time told from an earlier step, as in "mash + 90 min"'
            yield _Fault.of(at, f"{written} is before the boil begins", expected, "before-the-boil")
        elif told.step == "pitch" and packaged is not None and told.minutes > packaged:
            expected = f'an earlier time, or one told from the packaging, as in "package + {duration(told.minutes - packaged)}"'
            yield _Fault.of(at, f"{written} is after the packaging", expected, "after-packaging")


_CHECKS: tuple[Callable[[Table], Iterator[_Fault]], ...] = (_portions, _hops, _tasks)
