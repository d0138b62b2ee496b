"""What the charts show, without matplotlib: pages make these, charts draw them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Effect:
    """One cause, or the total, with its doubt."""

    name: str
    value: float
    low: float
    high: float
