"""plan.toml: the checks that one key alone can't show."""

from pathlib import Path

from generator.records.checked import checked, missing
from generator.records.files import Reader
from generator.records.models import Hop, Plan
from generator.records.toml import TomlFile, read


def read_plan(reader: Reader, path: Path) -> tuple[Plan, TomlFile] | None:
    """A plan with its file; None, with Problems, if it can't stand."""
    file = read(reader, path)
    if file is None:
        return None
    plan = checked(reader, file, Plan)
    if plan is None:
        return None
    for position, hop in enumerate(plan.hops):
        for key in _needed(hop):
            what, expected = missing(("hops", position, key))
            reader.problem(path, file.line("hops", position), f'{what} (added = "{hop.added}")', expected, "missing-key")
    return plan, file


def _needed(hop: Hop) -> list[str]:
    """Keys that this addition of hops needs and lacks."""
    needed = {
        "alpha": hop.alpha is None and hop.added != "fermenter",
        "time": hop.time is None and hop.added in ("boil", "stand"),
        "temperature": hop.temperature is None and hop.added == "stand",
    }
    return [key for key, missing in needed.items() if missing]
