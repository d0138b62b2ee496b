"""Whether the readings show that the gravity was stable when the beer was packaged."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from generator.analysis.measured import Measured
from generator.analysis.safety.facts import Facts
from generator.analysis.timeline import PlainCorrections
from generator.records.readings import wall_clock

APART = timedelta(hours=48)
_WINDOW = timedelta(hours=12)
_LOGGER_DOUBT = 0.001
"""SG; of the median of half a day."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A gravity at 20 °C, with its time and the half-width of its 95 % interval."""

    time: datetime
    sg: float
    half_width: float


def agrees(seen: Sequence[Seen]) -> bool:
    """Whether the last gravity agrees, within both doubts, with one of 48 hours earlier or more."""
    last = seen[-1]
    return any(last.time - one.time >= APART and abs(last.sg - one.sg) <= math.hypot(last.half_width, one.half_width) for one in seen[:-1])


def not_shown_stable(facts: Facts) -> str | None:
    """Why the readings don't show a stable gravity at the packaging; None where they do, or nothing was packaged yet."""
    if not any(row.stage == "package" for row in facts.batch.readings):
        return None
    by_hand, logged = _gravities(facts)
    if any(agrees(seen) for seen in (by_hand, logged) if seen):
        return None
    if len(by_hand) < 2:
        return "no two gravities with their times were read after the fermentation began"
    last, before = by_hand[-1], by_hand[-2]
    if last.time - by_hand[0].time < APART:
        return f"all gravities after the first lie within {(last.time - by_hand[0].time).total_seconds() / 3600.0:.0f} hours"
    hours = (last.time - before.time).total_seconds() / 3600.0
    return f"the last two gravities are {before.sg:.3f} and {last.sg:.3f}, {hours:.0f} hours apart"


def _gravities(facts: Facts) -> tuple[list[Seen], list[Seen]]:
    """Gravities of the beer up to the packaging, the first of the fermenter left out: by hand, and the medians of a logger."""
    plain = PlainCorrections(Measured(facts.view, facts.batch.readings))
    rows = [row for row in facts.batch.readings if row.time is not None and row.stage in ("fermenter", "package")]
    log = [row for row in facts.batch.log if row.gravity is not None]
    clock = wall_clock([row.time for row in rows if row.time] + [row.time for row in log])
    times = clock[: len(rows)]
    packaged = min((time for row, time in zip(rows, times, strict=True) if row.stage == "package"), default=datetime.max)  # noqa: DTZ901
    by_hand = [
        Seen(time, sg, plain.half_width_in_sg(row))
        for row, time in zip(rows, times, strict=True)
        if row.what == "gravity" and row != plain.original_row and (sg := plain.of(row)) is not None
    ]
    logged = [(time, row.gravity) for row, time in zip(log, clock[len(rows) :], strict=True) if row.gravity is not None and time <= packaged]
    return sorted((one for one in by_hand if one.time <= packaged + _WINDOW), key=lambda one: one.time), _medians(logged)


def _medians(logged: list[tuple[datetime, float]]) -> list[Seen]:
    """A logger's gravity in its last half day, and in the half day that ends 48 hours before that begins."""
    if not logged:
        return []
    end = max(time for time, _ in logged)
    seen = []
    for until in (end - APART - _WINDOW, end):
        values = [gravity for time, gravity in logged if until - _WINDOW <= time <= until]
        if values:
            seen.append(Seen(until, statistics.median(values), _LOGGER_DOUBT))
    return seen if len(seen) == 2 else []
