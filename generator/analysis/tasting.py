"""How it tasted: every sitting with its scores, its age and its words; how they drift; what a glass holds."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from scipy.stats import linregress

from generator.analysis.doubt import Absent, Asking, Estimate, Weighed, alone
from generator.analysis.measured import Measured
from generator.records.journal import BatchRecord
from generator.records.readings import Reading, wall_clock
from generator.records.vocabulary import READINGS
from generator.science import packaging
from generator.science._values import Values

HIGHEST = {what: wanted.score_of for what, wanted in READINGS["tasting"].items() if wanted.score_of}
"""The highest score by its name."""
HIGHEST_TOTAL = sum(HIGHEST.values())
MONTH = 30.0
"""Days over which a slope is told."""
_SITTING = timedelta(hours=2)
"""Rows no later than this after the first one belong to one sitting."""


@dataclass(frozen=True, slots=True)
class Sitting:
    """One tasting."""

    time: datetime | None
    """On the clock of the journal; None where no time was written."""
    scores: dict[str, float]
    """In the order of the score sheet."""
    missing: tuple[str, ...]
    """Scores that weren't given."""
    notes: tuple[str, ...]
    age: float | None
    """Days since the beer was packaged or, where that has no time, since it was brewed."""

    @property
    def total(self) -> float | None:
        """Of 50; None while a score is missing."""
        return None if self.missing else sum(self.scores.values())


class Slope(NamedTuple):
    """A straight line through the totals: points in 30 days."""

    value: float
    error: float
    """Standard error."""
    freedom: int
    """Tastings beyond the two that a line needs."""


@dataclass(frozen=True, slots=True)
class Drift:
    """How the score went with age."""

    days: float
    """Between the first and the last complete tasting."""
    total: float
    """Last less first, points."""
    scores: dict[str, float]
    """The same of each score."""
    slope: Slope | None
    """None with fewer than three tastings."""


@dataclass(frozen=True)
class Tasting:
    """All tastings of a batch, the oldest first and one without a time last."""

    sittings: tuple[Sitting, ...] = ()
    age_from: Literal["packaging", "brewing"] = "packaging"
    drift: Drift | None = None
    """None unless it was tasted more than once, with all scores and at different ages."""


@dataclass(frozen=True, slots=True)
class Serving:
    """What one glass holds."""

    litres: float
    alcohol: Estimate | None = None
    """g."""
    standard_drink: float | None = None
    """g of alcohol that count as one locally; None where the journal doesn't say."""
    drinks: Estimate | None = None
    energy: Estimate | None = None
    """kJ."""
    absent: dict[str, str] = field(default_factory=dict)
    """Why `alcohol` or `energy` can't be had."""


def tasting(batch: BatchRecord) -> Tasting:
    """All tastings of a batch."""
    rows = sorted((row for row in batch.readings if row.stage == "tasting"), key=lambda row: row.line)
    packaged = [row.time for row in batch.readings if row.stage == "package" and row.time is not None]
    timed = [row for row in rows if row.time is not None]
    clock = wall_clock(packaged + [row.time for row in timed if row.time is not None])
    brewed = datetime.combine(batch.plan.batch.brewed, datetime.min.time())
    born = min(clock[: len(packaged)], default=brewed)
    sittings = [_sitting(group, time, born) for time, group in _groups(timed, clock[len(packaged) :])]
    untimed = [row for row in rows if row.time is None]
    if untimed:
        sittings.append(_sitting(untimed, None, born))
    return Tasting(tuple(sittings), "packaging" if packaged else "brewing", _drift(sittings))


def _groups(rows: list[Reading], clock: list[datetime]) -> list[tuple[datetime, list[Reading]]]:
    """Rows by sitting, each with the time of its first one."""
    groups: list[tuple[datetime, list[Reading]]] = []
    for time, _, row in sorted(zip(clock, (row.line for row in rows), rows, strict=True), key=lambda one: one[:2]):
        if not groups or time - groups[-1][0] > _SITTING:
            groups.append((time, []))
        groups[-1][1].append(row)
    return groups


def _sitting(rows: list[Reading], time: datetime | None, born: datetime) -> Sitting:
    given = {row.what: row.value for row in rows if row.value is not None}  # the later row stands
    scores = {what: given[what] for what in HIGHEST if what in given}
    age = None if time is None else (time - born).total_seconds() / 86400.0
    notes = tuple(row.note for row in rows if row.note)
    return Sitting(time, scores, tuple(what for what in HIGHEST if what not in scores), notes, age)


def _drift(sittings: list[Sitting]) -> Drift | None:
    points = [(one.age, one.total, one) for one in sittings if one.age is not None and one.total is not None]
    if len(points) < 2 or points[-1][0] <= points[0][0]:
        return None
    (first_age, first_total, first), (last_age, last_total, last) = points[0], points[-1]
    changes = {what: last.scores[what] - first.scores[what] for what in HIGHEST}
    slope = None
    if len(points) > 2:
        line = linregress([age for age, _, _ in points], [total for _, total, _ in points])
        slope = Slope(MONTH * float(line.slope), MONTH * float(line.stderr), len(points) - 2)
    return Drift(last_age - first_age, last_total - first_total, changes, slope)


def serving(measured: Measured | None, litres: float | None, standard_drink: float | None = None) -> Serving | None:
    """What a glass holds; None where the journal doesn't say how large it is, or the batch isn't brewed.

    Args:
        measured: the readings' values.
        litres: of one serving.
        standard_drink: kg of alcohol that count as one, as the journal holds it.
    """
    if measured is None or litres is None:
        return None
    return alone(measured.sampler, serving_asking(measured, litres, standard_drink))


def serving_asking(measured: Measured, litres: float, standard_drink: float | None = None) -> Asking[Serving]:
    """The same as a computation that asks for weighing."""
    grams = None if standard_drink is None else 1000.0 * standard_drink
    makers: dict[str, Callable[[], Values]] = {
        "alcohol": lambda: packaging.alcohol_of_serving(litres, measured.abv),
        "energy": lambda: 10.0 * litres * measured.energy,
    }
    samples: dict[str, Values] = {}
    absent: dict[str, str] = {}
    for key, make in makers.items():
        try:
            samples[key] = measured.attempt(make)
        except Absent as reason:
            absent[key] = str(reason)
    weighed = yield samples
    alcohol, energy = _estimate(weighed, "alcohol"), _estimate(weighed, "energy")
    drinks = None
    if alcohol is not None and grams:
        drinks = Estimate(alcohol.value / grams, alcohol.low / grams, alcohol.high / grams)
    return Serving(litres, alcohol, grams, drinks, energy, absent)


def _estimate(weighed: Mapping[str, Weighed], key: str) -> Estimate | None:
    return weighed[key].estimate if key in weighed else None
