"""A plan as the scenarios state it, and its plan.toml."""

from dataclasses import dataclass, field, fields
from datetime import date

Value = str | float | date | tuple[str, ...] | bool


@dataclass(frozen=True, slots=True)
class Good:
    """One [[grist]] table; quantities are strings with their unit."""

    name: str
    mass: str
    extract: str
    colour: str
    moisture: str = ""
    added: str = ""


@dataclass(frozen=True, slots=True)
class Hop:
    """One [[hops]] table."""

    name: str
    mass: str
    alpha: str = ""
    time: str = ""
    added: str = ""
    temperature: str = ""
    when: str = ""
    """Of hops in the fermenter."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The whole plan; blank strings are left out of the file."""

    batch: dict[str, Value]
    target: dict[str, Value]
    grist: tuple[Good, ...]
    liquor: dict[str, str]
    rests: tuple[tuple[str, str], ...]
    """Temperature and duration of each."""
    boil: str
    hops: tuple[Hop, ...]
    yeast: dict[str, Value]
    tasks: tuple[tuple[str, str], ...]
    """When and what."""
    package: dict[str, str]
    mash: dict[str, Value] = field(default_factory=dict)
    """Portions of the grain and the time between them; no table where it goes in at once."""

    def toml(self) -> str:
        """Return plan.toml."""
        tables = [
            _table("[batch]", self.batch),
            _table("[target]", self.target),
            *(_table("[[grist]]", _filled(good)) for good in self.grist),
            *([_table("[mash]", self.mash)] if self.mash else []),
            _table("[liquor]", dict(self.liquor)),
            *(_table("[[rest]]", {"temperature": celsius, "duration": time}) for celsius, time in self.rests),
            _table("[boil]", {"duration": self.boil}),
            *(_table("[[hops]]", _filled(hop)) for hop in self.hops),
            _table("[yeast]", self.yeast),
            *(_table("[[task]]", {"when": when, "text": text}) for when, text in self.tasks),
            _table("[package]", dict(self.package)),
        ]
        return "\n".join(tables)


def _filled(row: Good | Hop) -> dict[str, Value]:
    values = {column.name: getattr(row, column.name) for column in fields(row)}
    return {name: value for name, value in values.items() if value != ""}


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return f"[{', '.join(_value(item) for item in value)}]"
    if isinstance(value, str):
        escaped = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{escaped}"'
    return repr(value)


def _table(header: str, values: dict[str, Value]) -> str:
    return "\n".join([header, *(f"{key} = {_value(value)}" for key, value in values.items())]) + "\n"
