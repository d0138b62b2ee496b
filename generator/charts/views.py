"""What the charts show, without matplotlib: pages make these, charts draw them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Effect:
    """One cause, or the total, with its doubt."""

    name: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Bar:
    """One row: a stage with its level, or a change between two stages."""

    name: str
    kg: float
    is_stage: bool
    low: float | None = None
    high: float | None = None
    plan: float | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """One value at a time: days, value, half-width of its doubt, and whether it is an estimate."""

    days: float
    value: float
    half_width: float = 0.0
    estimate: bool = False


@dataclass(frozen=True)
class Curves:
    """All that the chart shows."""

    by_hand: tuple[Mark, ...]
    logged: tuple[Mark, ...]
    temperature: tuple[Mark, ...]
    temperature_is_logged: bool
    planned_final: float | None


@dataclass(frozen=True, slots=True)
class Dot:
    """One batch."""

    label: str
    """Month and year, such as "Nov 2025"."""
    value: float | None
    low: float | None
    high: float | None
    plan: float | None
