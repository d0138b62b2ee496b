"""One fermentation, understood: readings by hand and a logger merged, its kinetics, its state in words."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from generator.analysis.done import ExpectedEnd, Nodes, State, state
from generator.analysis.doubt import COVERAGE_FACTOR
from generator.analysis.kinetics import Kinetics, kinetics
from generator.analysis.logger import HOURS, Hand, Known, Logger, logger
from generator.analysis.measured import Measured, series
from generator.analysis.plan_view import PlanView, sg_of
from generator.analysis.timeline import PlainCorrections
from generator.records.journal import BatchRecord
from generator.records.models import Plan
from generator.records.readings import Reading
from generator.science import beer, fermentation, sucrose
from generator.science import series as of_time
from generator.science._values import OutOfRangeError
from generator.science.series import Vector

FORCED_TOLERANCE = 0.002
"""SG above the forced ferment that still counts as there."""
PLANNED_TOLERANCE, PLANNED_SHARE = 0.004, 0.08
"""SG above the planned end, or share of the planned drop if that is more: attenuation is predicted no better."""
_EVERY = 2.0 * HOURS
_MOST_NODES = 240
"""Of the merged curve."""
_STEADY = 0.00036
"""Standard uncertainty of a smoothed logger against itself, SG: over two days it is trusted to 0.001."""
_UNCOMPARED = 0.002
"""Standard uncertainty of a logger that was never compared with a hydrometer, SG."""
_SLOPE = 0.004
"""SG that a °P is, roughly."""


@dataclass(frozen=True, eq=False)
class Temperatures:
    """The temperature of the beer."""

    days: Vector
    celsius: Vector
    logged: bool
    degree_days: float | None
    """°C d above 0 °C; None with fewer than two values."""


@dataclass(frozen=True, slots=True)
class Told:
    """A row of the fermentation that is no gravity: a note, or one of the packaging."""

    day: float
    row: Reading


@dataclass(frozen=True, eq=False)
class Course:
    """One fermentation. Days count from the first gravity; gravities are SG 20/20."""

    start: datetime
    hand: Hand
    logger: Logger | None
    curve: Nodes
    """Readings by hand and the smoothed logger as one series, to be compared with one another."""
    attenuation: Vector
    """Apparent attenuation at the days of the curve, %."""
    kinetics: Kinetics
    state: State
    expected: ExpectedEnd | None
    final: Known | None
    """Where it has come to rest, with its standard error; None while it hasn't."""
    temperatures: Temperatures
    estimates: tuple[bool, ...]
    """Of each reading by hand, whether it is an estimate: by refractometer, in beer."""
    told: tuple[Told, ...]
    """Notes of the fermenter and all rows of the packaging that have a time, in its order."""

    @property
    def packaged(self) -> float | None:
        """Day of the first row of the packaging; None before it."""
        return min((told.day for told in self.told if told.row.stage == "package"), default=None)

    @property
    def logger_half_width(self) -> Vector:
        """Half-width of the 95 % interval of the corrected logger at each of its nodes, SG; empty without one."""
        if self.logger is None:
            return np.zeros(0)
        shared = self.logger.correction.doubt(self.logger.node_days) if self.logger.correction.compared else _UNCOMPARED
        return np.asarray(COVERAGE_FACTOR * np.hypot(shared, np.full(len(self.logger.node_days), self.logger.node_doubt)))

    @property
    def predicted_end(self) -> tuple[datetime, datetime, datetime] | None:
        """When it will have ended: best estimate, earliest, latest; None where that isn't predicted."""
        found = self.kinetics.predicted_end
        if found is None:
            return None
        value, low, high = (self.start + timedelta(hours=hours) for hours in (found.value, found.low, found.high))
        return value, low, high


def course(batch: BatchRecord, view: PlanView, measured: Measured | None = None) -> Course | None:
    """Understand the fermentation of a batch; None where no gravity with a time was read or logged.

    Args:
        batch: the records.
        view: the plan beside its brewhouse.
        measured: the measured side; None makes one of the batch's readings.
    """
    measured = measured or Measured(view, batch.readings)
    plain = PlainCorrections(measured)
    rows = [row for row in series(measured.rows("fermenter", "gravity") + measured.rows("package", "gravity")) if row.time and plain.of(row)]
    warm = [row for row in series(measured.rows("fermenter", "temperature")) if row.time and row.value is not None]
    told = [row for row in batch.readings if row.time and (row.stage == "package" or (row.stage == "fermenter" and row.is_note))]
    log = [row for row in batch.log if row.gravity is not None or row.temperature is not None]
    hand_times, log_times = _clocks([row.time for row in (*rows, *warm, *told) if row.time], [row.time for row in log])
    gravity = np.array([np.nan if row.gravity is None else row.gravity for row in log], dtype=float)
    celsius = np.array([np.nan if row.temperature is None else row.temperature for row in log], dtype=float)
    if not rows and not np.isfinite(gravity).any():
        return None
    start = hand_times[0] if rows else min(time for time, row in zip(log_times, log, strict=True) if row.gravity is not None)
    hand = _hand(plain, rows, _days(hand_times[: len(rows)], start))
    heard = tuple(Told(_day(time, start), row) for time, row in zip(hand_times[len(rows) + len(warm) :], told, strict=True))
    last = min((one.day for one in heard if one.row.stage == "package"), default=np.inf)
    days = _days(log_times, start)
    known, warmth = np.isfinite(gravity), np.isfinite(celsius)
    logged = logger(days[known], gravity[known], hand, last + HOURS)
    if warmth.any():
        temperatures = _temperatures(days[warmth], celsius[warmth], last, logged=True)
    else:
        by_hand = np.array([row.value for row in warm], dtype=float)
        temperatures = _temperatures(_days(hand_times[len(rows) : len(rows) + len(warm)], start), by_hand, last, logged=False)
    found = _course(view.plan, start, hand, logged, temperatures)
    estimates = tuple(row.unit == "°Bx" and row != plain.original_row for row in rows)
    return None if found is None else replace(found, estimates=estimates, told=tuple(sorted(heard, key=lambda one: (one.day, one.row.line))))


def _day(time: datetime, start: datetime) -> float:
    return (time - start).total_seconds() / 86400.0


def _days(times: Sequence[datetime], start: datetime) -> Vector:
    return np.array([(time - start).total_seconds() for time in times], dtype=float) / 86400.0


def _clocks(hand: list[datetime], log: list[datetime]) -> tuple[list[datetime], list[datetime]]:
    """Times that can be compared: UTC where all have an offset, else the clock on the wall of the first of their kind.

    A logger whose times have offsets runs on evenly where the clocks change: only its first offset counts.
    """
    aware = [all(time.tzinfo is not None for time in times) for times in (hand, log)]
    if all(aware):
        return [_utc(time) for time in hand], [_utc(time) for time in log]
    hand_wall = _wall(hand)
    if aware[1] and log:
        offset = log[0].utcoffset() or timedelta(0)
        return hand_wall, [_utc(time) + offset for time in log]
    return hand_wall, _wall(log)


def _wall(times: list[datetime]) -> list[datetime]:
    return [time if time.tzinfo is None else time.replace(tzinfo=None) for time in times]


def _utc(time: datetime) -> datetime:
    return time.astimezone(UTC).replace(tzinfo=None)


def _hand(plain: PlainCorrections, rows: list[Reading], days: Vector) -> Hand:
    gravity = np.array([plain.of(row) for row in rows], dtype=float)
    doubt = np.array([plain.half_width_in_sg(row) for row in rows], dtype=float) / COVERAGE_FACTOR
    return Hand(days, gravity, np.maximum(doubt, 1e-5))


def _temperatures(days: Vector, celsius: Vector, last: float, *, logged: bool) -> Temperatures:
    days, celsius, _ = of_time.medians(days, celsius)
    inside = (days >= -HOURS) & (days <= last + HOURS)
    days, celsius = days[inside], celsius[inside]
    total = fermentation.degree_days(days, celsius) if len(days) > 1 else None
    return Temperatures(days, celsius, logged, total)


def expected_end(plan: Plan, original_gravity: float) -> ExpectedEnd | None:
    """Where a fermentation should end: by a forced ferment, by the yeast's attenuation, or by the plan's target; None without any."""
    if plan.yeast.forced_gravity is not None:
        return ExpectedEnd(sg_of(plan.yeast.forced_gravity), "the forced ferment", FORCED_TOLERANCE)
    gravity, origin = None, ""
    if plan.target.final_gravity is not None:
        gravity, origin = sg_of(plan.target.final_gravity), "the plan’s final gravity"
    elif plan.yeast.attenuation is not None:
        extract = float(sucrose.extract_from_sg(original_gravity)) * (1.0 - plan.yeast.attenuation / 100.0)
        gravity, origin = float(sucrose.sg_from_extract(extract)), "the planned attenuation"
    if gravity is None:
        return None
    return ExpectedEnd(gravity, origin, max(PLANNED_TOLERANCE, PLANNED_SHARE * (original_gravity - gravity)))


def _course(plan: Plan, start: datetime, hand: Hand, logged: Logger | None, temperatures: Temperatures) -> Course | None:
    curve = merged(hand, logged)
    if not len(curve.days):
        return None
    expected = expected_end(plan, float(curve.gravity[0]))
    now = state(curve, start, expected)
    final = None if now.level is None else _final(now.level, now.since_day or 0.0, curve, logged)
    hours, extract, doubt = _extracts(hand, logged, curve)
    end = None if now.level is None else float(sucrose.extract_from_sg(now.level.value))
    found = kinetics(hours, extract, doubt, end, running=now.slug in ("active", "slowing"))
    return Course(start, hand, logged, curve, _attenuation(curve), found, now, expected, final, temperatures, (), ())


def merged(hand: Hand, logged: Logger | None) -> Nodes:
    """Readings by hand and the smoothed logger as one series; where the logger was compared with readings it stands for them."""
    if logged is None:
        return Nodes(*hand)
    nodes = logged.node_days
    every = max(_EVERY, float(nodes[-1] - nodes[0]) / _MOST_NODES)
    index = np.unique(np.r_[np.searchsorted(nodes, np.arange(nodes[0], nodes[-1], every)), len(nodes) - 1])
    near = np.min(np.abs(hand.days[:, None] - nodes[None, :]), axis=1) <= 1.5 * _EVERY
    own = hand.doubt if logged.correction.compared else np.hypot(hand.doubt, _UNCOMPARED)
    steady = np.full(len(index), max(logged.node_doubt, _STEADY))
    days = np.r_[hand.days[~near], nodes[index]]
    order = np.argsort(days, kind="stable")
    gravity = np.r_[hand.gravity[~near], logged.smooth[index]]
    return Nodes(days[order], gravity[order], np.r_[own[~near], steady][order])


def _final(level: Known, since: float, curve: Nodes, logged: Logger | None) -> Known:
    """The level with all its doubt: that of the comparison with readings by hand too."""
    if logged is None:
        return level
    middle = np.array([(since + float(curve.days[-1])) / 2.0])
    shared = float(logged.correction.doubt(middle)[0]) if logged.correction.compared else _UNCOMPARED
    return Known(level.value, float(np.hypot(level.error or 0.0, shared)))


def _extracts(hand: Hand, logged: Logger | None, curve: Nodes) -> tuple[Vector, Vector, Vector]:
    """Hours, apparent extract and its standard uncertainty, not smoothed: what curves are fitted to."""
    if logged is None:
        days, gravity, doubt = curve
    else:
        beside = np.isin(hand.days, curve.days)  # those that the logger doesn't stand for
        days = np.r_[logged.node_days, hand.days[beside]]
        gravity = np.r_[logged.medians, hand.gravity[beside]]
        doubt = np.r_[np.full(len(logged.node_days), logged.node_doubt), hand.doubt[beside]]
    days, gravity, doubt = (part[np.argsort(days, kind="stable")] for part in (days, gravity, doubt))
    try:
        return days * 24.0, np.asarray(sucrose.extract_from_sg(gravity)), doubt / _SLOPE
    except OutOfRangeError:
        return np.zeros(0), np.zeros(0), np.zeros(0)


def _attenuation(curve: Nodes) -> Vector:
    try:
        extract = np.asarray(sucrose.extract_from_sg(curve.gravity))
        return np.asarray(beer.apparent_attenuation(extract[0], extract))
    except OutOfRangeError:
        return np.full(len(curve.days), np.nan)
