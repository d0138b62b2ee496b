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


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, or was planned, on its day."""

    days: float
    text: str
    planned: bool = False


@dataclass(frozen=True)
class Curves:
    """All that the chart of a fermentation shows."""

    by_hand: tuple[Mark, ...]
    logged: tuple[Mark, ...]
    """The logger, corrected and smoothed, with its doubt."""
    temperature: tuple[Mark, ...]
    temperature_is_logged: bool
    planned_final: float | None
    """Where it should end."""
    meant: str = "planned"
    """Whether that was planned or is expected of a forced ferment."""
    spikes: tuple[Mark, ...] = ()
    gaps: tuple[tuple[float, float], ...] = ()
    """Days from and to which nothing was logged."""
    events: tuple[Event, ...] = ()

    @property
    def span(self) -> tuple[float, float]:
        """First and last day of all that is shown; a day at least."""
        days = [one.days for part in (self.by_hand, self.logged, self.temperature, self.events) for one in part]
        return min(0.0, *days), max(1.0, *days)


@dataclass(frozen=True, slots=True)
class Drop:
    """Points a day from one reading to the next, with the half-width of its doubt."""

    first: float
    last: float
    rate: float
    half_width: float


@dataclass(frozen=True)
class Pace:
    """How fast the gravity dropped: between readings, or all along a logger."""

    drops: tuple[Drop, ...]
    logged: tuple[Mark, ...]
    gaps: tuple[tuple[float, float], ...]
    reached: tuple[Event, ...]
    span: tuple[float, float]
    """First and last day of the chart that it stands under."""


@dataclass(frozen=True, slots=True)
class Dot:
    """One batch."""

    label: str
    """Month and year, such as "Nov 2025"."""
    value: float | None
    low: float | None
    high: float | None
    plan: float | None
