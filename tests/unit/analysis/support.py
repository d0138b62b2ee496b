"""Small batches made in memory."""

from datetime import date, datetime
from pathlib import Path
from typing import Any

from generator.analysis.figures import Figure, figures
from generator.analysis.measured import Measured
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from generator.records.fields import Doubt
from generator.records.journal import BatchRecord
from generator.records.models import Brewhouse, Plan
from generator.records.readings import Reading
from generator.records.toml import TomlFile
from generator.records.vocabulary import READINGS

_UNITS = {"L": "liter", "kg": "kilogram", "°C": "degC", "min": "minute"}


def plan(**tables: Any) -> Plan:
    """A plan with its recipe and day filled in."""
    return Plan.model_validate({"batch": {"recipe": "Test", "brewed": date(2026, 1, 1)}, **tables})


def brewhouse(**tables: Any) -> Brewhouse:
    """A brewhouse with its name filled in."""
    return Brewhouse.model_validate({"name": "Test", **tables})


def good(mass: str, extract: str = "80 %", **more: str) -> dict[str, Any]:
    """One of the goods."""
    return {"name": "Malt", "mass": mass, "extract": extract, **more}


def read(line: int, stage: str, what: str, text: str, *, at: float | None = None, time: str = "", doubt: Doubt | None = None) -> Reading:
    """A reading from "24.5 L", "1.050", "15.7 °P"."""
    value, _, unit = text.partition(" ")
    assert what in READINGS[stage]
    when = datetime.fromisoformat(time) if time else None
    return Reading(line, stage, what, float(value), _UNITS.get(unit, unit or "SG"), text, at, doubt, when)


def batch(wanted: Plan, readings: tuple[Reading, ...] = (), house: Brewhouse | None = None) -> BatchRecord:
    """A batch in memory."""
    return BatchRecord("test", Path("test"), "Somebody", wanted, TomlFile("test/plan.toml", {}, {}), house, readings)


def known(wanted: Plan, readings: tuple[Reading, ...] = (), house: Brewhouse | None = None) -> dict[str, Figure]:
    """All figures of a batch in memory."""
    view = PlanView(wanted, house or brewhouse())
    return figures(Planned(view), Measured(view, readings) if readings else None)


def measured(wanted: Plan, readings: tuple[Reading, ...], house: Brewhouse | None = None) -> Measured:
    """The measured side of a batch in memory."""
    return Measured(PlanView(wanted, house or brewhouse()), readings)
