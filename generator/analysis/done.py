"""Is it done? The state of a fermentation in words, from the doubts of its readings."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

import numpy as np

from generator.analysis.doubt import COVERAGE_FACTOR
from generator.analysis.logger import Known
from generator.science.series import Vector

SOURCE = "terminal-gravity-rule"
"""Key of `sources`."""
Slug = Literal["not-started", "active", "slowing", "stable", "stopped-early", "dropping-again", "unknown"]
REST = 2.0
"""Days that two readings must lie apart to show that nothing drops any more."""
_LEAST = REST - 1.0 / 86400.0
"""A second less, for days are binary fractions."""
_SMALLEST_DROP = 0.0007
"""SG: a trend that readings over two days must show before it counts against rest."""
_AGAIN = 0.001
"""SG beyond the doubt by which a beer that had come to rest must have dropped to be dropping again."""
_WHILE = 0.5
"""Days for which more than one reading may lie off without ending a rest."""
_SLOW = 0.25
"""Share of the fastest drop below which a fermentation is slowing."""
_LEAST_ATTENUATION = 0.55
"""Apparent attenuation below which a beer without any expectation counts as stopped early: less than any class of yeast leaves."""


class Nodes(NamedTuple):
    """A fermentation as points to be compared with one another, in the order of time."""

    days: Vector
    gravity: Vector
    doubt: Vector
    """Standard uncertainty against one another, SG."""


@dataclass(frozen=True, slots=True)
class ExpectedEnd:
    """Where the fermentation should end."""

    gravity: float
    """SG 20/20."""
    origin: str
    """Where that stands, as in `the forced ferment`."""
    tolerance: float
    """SG above it that still counts as there."""


@dataclass(frozen=True, slots=True)
class State:
    """The state at the last reading."""

    slug: Slug
    words: str
    since: datetime | None
    why: str
    check: str
    """What to look at or to do; blank where nothing is."""
    level: Known | None = None
    """SG at which it has come to rest, with its standard error."""
    since_day: float | None = None


class _Rest(NamedTuple):
    first: int
    last: int
    level: float

    def days(self, nodes: Nodes) -> float:
        return float(nodes.days[self.last] - nodes.days[self.first])


def state(nodes: Nodes, start: datetime, expected: ExpectedEnd | None) -> State:
    """The state of a fermentation in words.

    Args:
        nodes: hand readings and the smoothed logger.
        start: time of day 0.
        expected: where it should end, if that is known.
    """
    if len(nodes.days) < 2:
        return State("unknown", "unknown", None, "There are fewer than two gravities with a time.", "Read the gravity twice, two days apart.")
    final = _rest_before(nodes, len(nodes.days) - 1)
    fallen = float(nodes.gravity[0]) - (final.level if final else float(nodes.gravity[-1]))
    if fallen <= max(_doubt_of_difference(nodes, 0, -1), 0.0015):
        return _not_started(nodes)
    earlier = _earlier_rest(nodes, final)
    if final is not None:
        return _at_rest(nodes, start, expected, final, earlier)
    if earlier is not None:
        return _again(nodes, start, expected, earlier)
    return _running(nodes, start)


def _doubt_of_difference(nodes: Nodes, one: int, other: int) -> float:
    return COVERAGE_FACTOR * float(np.hypot(nodes.doubt[one], nodes.doubt[other]))


def _rest_before(nodes: Nodes, last: int) -> _Rest | None:
    """The longest stretch up to a node in which all agree within doubt, if it lasts two days; None otherwise."""
    t, g, u = nodes.days[: last + 1], nodes.gravity[: last + 1], nodes.doubt[: last + 1]
    if t[-1] - t[0] < _LEAST:
        return None
    first = _agreeing(t, g, u)
    while first < last and t[-1] - t[first] >= _LEAST:
        if not _drops(t[first:], g[first:], u[first:]):
            return _Rest(first, last, float(np.median(g[first:])))
        first += max(1, (last - first) // 8)
    return None


def _agreeing(t: Vector, g: Vector, u: Vector) -> int:
    """The first of the readings that agree with the mean of those after them, back from the last; a short while may lie off."""
    times, values, doubts = t.tolist(), g.tolist(), u.tolist()
    first = len(values) - 1
    mean, count, missed = values[first], 1, 0
    for index in range(first - 1, -1, -1):
        if abs(values[index] - mean) <= COVERAGE_FACTOR * doubts[index] * (1.0 + 1.0 / count) ** 0.5:
            count += 1
            mean += (values[index] - mean) / count
            first, missed = index, 0
        else:
            missed += 1
            if missed > 1 and times[first] - times[index] > _WHILE:
                break
    return first


def _drops(t: Vector, g: Vector, u: Vector) -> bool:
    """Whether a line through the stretch falls by more than its doubt and by more than anyone minds in two days."""
    if len(t) < 3:
        return False
    weights = 1.0 / u**2
    away = t - np.average(t, weights=weights)
    moment = float(np.sum(weights * away**2))
    slope = float(np.sum(weights * away * g)) / moment
    drop = -slope * float(t[-1] - t[0])
    return bool(drop > max(2.0 * float(np.sqrt(1.0 / moment)) * float(t[-1] - t[0]), _SMALLEST_DROP))


def _earlier_rest(nodes: Nodes, final: _Rest | None) -> _Rest | None:
    """The latest stretch of rest amid the fermentation that ended in a clear drop; None where there was none."""
    lowest = final.level if final else float(nodes.gravity[-1])
    total = float(nodes.gravity[0]) - lowest
    for last in range((final.first if final else len(nodes.days)) - 1, 0, -1):
        above = float(nodes.gravity[last]) - lowest
        if above <= _doubt_of_difference(nodes, last, -1) + _AGAIN or total - above < max(0.005, 0.2 * total):
            continue
        rest = _rest_before(nodes, last)
        if rest is None:
            continue
        within = max(float(nodes.gravity[rest.first] - nodes.gravity[last]), 0.0) / rest.days(nodes)
        later = final.first if final else len(nodes.days) - 1
        after = above / max(float(nodes.days[later] - nodes.days[last]), 0.25)
        if after > 2.0 * within:
            return rest
    return None


def _day(start: datetime, day: float) -> datetime:
    return start + timedelta(days=day)


def _named(start: datetime, day: float) -> str:
    when = _day(start, day)
    return f"{when.day} {when:%B}"


def _not_started(nodes: Nodes) -> State:
    days = float(nodes.days[-1])
    why = f"In {days:.1f} days the gravity has dropped by no more than its doubt, from {nodes.gravity[0]:.3f} to {nodes.gravity[-1]:.3f}."
    check = "" if days < 1.5 else "Look at the temperature of the beer and whether the yeast was alive; after two days without a drop pitch again."
    return State("not-started", "not started", None, why, check)


def _rate(nodes: Nodes) -> tuple[float, float]:
    """Drop a day, SG: of the last day (or the last two readings), and the fastest over half a day (or between two readings)."""
    t, g = nodes.days, nodes.gravity
    rates = [0.0]
    for first in range(len(t) - 1):
        then = min(int(np.searchsorted(t, t[first] + 0.5)), len(t) - 1)
        if t[then] - t[first] >= 0.25:
            rates.append(float(g[first] - g[then]) / float(t[then] - t[first]))
    back = max(min(int(np.searchsorted(t, t[-1] - 1.0, side="right")) - 1, len(t) - 2), 0)
    span = max(float(t[-1] - t[back]), 0.04)
    return float(g[back] - g[-1]) / span, max(rates)


def _running(nodes: Nodes, start: datetime) -> State:
    now, fastest = _rate(nodes)
    last = f"{nodes.gravity[-1]:.3f} on {_named(start, float(nodes.days[-1]))}"
    if now < _SLOW * fastest:
        why = f"The gravity drops by {1000 * max(now, 0.0):.1f} points a day, after up to {1000 * fastest:.1f}; the last is {last}."
        return State("slowing", "slowing", None, why, "Read again: two readings two days apart that agree within their doubt show that it is done.")
    return State("active", "active", None, f"The gravity drops by {1000 * now:.1f} points a day; the last is {last}.", "")


def _level(nodes: Nodes, rest: _Rest) -> Known:
    doubts = nodes.doubt[rest.first : rest.last + 1]
    return Known(rest.level, float(np.sum(doubts**-2.0) ** -0.5))


def _too_high(nodes: Nodes, level: float, expected: ExpectedEnd | None) -> str:
    """Why a level is too high for an end; blank where it isn't."""
    if expected is not None:
        above = level - expected.gravity
        far = above > expected.tolerance
        return f"That is {1000 * above:.0f} points above {expected.gravity:.3f}, which {expected.origin} lets expect." if far else ""
    attenuation = (float(nodes.gravity[0]) - level) / max(float(nodes.gravity[0]) - 1.0, 1e-6)
    if attenuation >= _LEAST_ATTENUATION:
        return ""
    return f"Only {100 * attenuation:.0f} % of the gravity above 1.000 is gone, less than any usual yeast leaves; the plan says nothing of the end."


def _at_rest(nodes: Nodes, start: datetime, expected: ExpectedEnd | None, rest: _Rest, earlier: _Rest | None) -> State:
    since = float(nodes.days[rest.first])
    on = _named(start, since)
    why = f"Over {rest.days(nodes):.1f} days, to {_named(start, float(nodes.days[-1]))}, the gravity has stayed at {rest.level:.3f} within its doubt."
    too_high = _too_high(nodes, rest.level, expected)
    level = _level(nodes, rest)
    if too_high:
        check = (
            "Don’t bottle. Check the reading, the temperature and, if there is one, a forced ferment; rouse the yeast, warm the beer by 2 to 3 °C, "
            "and pitch fresh yeast that is fermenting if nothing moves in three days."
        )
        return State("stopped-early", f"stopped early on {on}", _day(start, since), f"{why} {too_high}", check, level, since)
    check = ""
    if expected is not None:
        off = 1000 * (rest.level - expected.gravity)
        why += f" {expected.gravity:.3f} is expected by {expected.origin}."
        if off < -1000 * expected.tolerance:
            check = "It is lower than expected: taste for sourness and phenols, and think of a yeast that ferments dextrins before bottling."
    else:
        check = "Nothing says where it should end; a forced ferment would."
    if earlier is not None:
        why += f" Before, it had rested at {earlier.level:.3f} until {_named(start, float(nodes.days[earlier.last]))}."
    return State("stable", f"stable since {on}", _day(start, since), why, check, level, since)


def _again(nodes: Nodes, start: datetime, expected: ExpectedEnd | None, earlier: _Rest) -> State:
    since = float(nodes.days[earlier.last])
    on = _named(start, since)
    why = f"It had rested at {earlier.level:.3f} for {earlier.days(nodes):.1f} days and has dropped to {nodes.gravity[-1]:.3f} since {on}."
    if _too_high(nodes, earlier.level, expected):
        check = "It had stopped above its end and goes on: let it finish, and read until two readings two days apart agree."
    else:
        check = (
            "Don’t bottle. A beer that drops after it had come to rest may be infected, hold a diastatic yeast, or be fed by enzymes of dry hops: "
            "taste it, look for a film, and keep it from other beers."
        )
    return State("dropping-again", f"dropping again since {on}", _day(start, since), why, check, None, since)
