"""Fermentations whose truth is known, and what a hydrometer and a logger would have read of them. All of it is made up from seeds."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from generator.analysis.course import Course, course
from generator.analysis.plan_view import PlanView
from generator.records.fields import Doubt
from generator.records.gravity_log import LogRow
from generator.records.readings import Reading
from generator.science import sucrose
from tests.unit.analysis.support import batch, brewhouse, plan, read

START = datetime.fromisoformat("2026-03-01 18:00")
Vector = NDArray[np.float64]


@dataclass(frozen=True)
class Wave:
    """One stretch of fermentation: hours at which half of it is done, rate per hour, drop in °P."""

    middle: float
    rate: float
    drop: float

    def done(self, hours: Vector) -> Vector:
        """Drop up to these hours, °P."""
        return self.drop / (1.0 + np.exp(-self.rate * (hours - self.middle)))


@dataclass(frozen=True)
class Truth:
    """A fermentation as it really went: a start and its waves."""

    start: float
    waves: tuple[Wave, ...]

    def extract(self, hours: Vector) -> Vector:
        """Apparent extract, °P."""
        return self.start - sum((wave.done(hours) for wave in self.waves), np.zeros_like(hours))

    def gravity(self, hours: Vector) -> Vector:
        """SG 20/20."""
        return np.asarray(sucrose.sg_from_extract(self.extract(np.asarray(hours, dtype=float))))

    @property
    def end(self) -> float:
        """SG that is neared."""
        return float(sucrose.sg_from_extract(self.start - sum(wave.drop for wave in self.waves)))


@dataclass(frozen=True)
class Sensor:
    """What is wrong with a logger."""

    minutes: float = 15.0
    noise: float = 0.0006
    offset: float = 0.003
    drift: float = 0.0
    """SG a day."""
    spikes: int = 12
    gaps: tuple[tuple[float, float], ...] = ()
    """Hours from and to which nothing is sent."""
    jump: tuple[float, float] | None = None
    """Hour of a restart after which it reads so much higher, SG."""
    shuffled: bool = False
    """Whether rows stand out of order and some twice."""


def logged(truth: Truth, days: float, sensor: Sensor, rng: np.random.Generator) -> tuple[LogRow, ...]:
    """The rows of a logger."""
    hours = np.arange(0.0, days * 24.0, sensor.minutes / 60.0)
    for first, last in sensor.gaps:
        hours = hours[(hours < first) | (hours > last)]
    sg = truth.gravity(hours) + sensor.offset + sensor.drift * hours / 24.0 + rng.normal(0.0, sensor.noise, len(hours))
    if sensor.jump:
        sg += np.where(hours >= sensor.jump[0], sensor.jump[1], 0.0)
    struck = rng.choice(len(hours), min(sensor.spikes, len(hours) // 20), replace=False)
    sg[struck] += rng.choice([-1.0, 1.0], len(struck)) * rng.uniform(0.008, 0.04, len(struck))
    order = np.arange(len(hours))
    if sensor.shuffled:
        order = np.sort(np.r_[order, rng.choice(len(hours), len(hours) // 50)])
        swap = rng.choice(len(order) - 1, len(order) // 40, replace=False)
        order[swap], order[swap + 1] = order[swap + 1].copy(), order[swap].copy()
    celsius = 19.0 + rng.normal(0.0, 0.1, len(hours))
    return tuple(
        LogRow(line, START + timedelta(hours=float(hours[index])), round(float(np.clip(sg[index], 0.98, 1.2)), 4), round(float(celsius[index]), 1))
        for line, index in enumerate(order, 2)
    )


def by_hand(truth: Truth, at_hours: list[float], doubt: float, rng: np.random.Generator) -> tuple[Reading, ...]:
    """Hydrometer readings with a 95 % half-width of `doubt`, read to a tenth of a point."""
    rows = []
    for line, (hour, sg) in enumerate(zip(at_hours, truth.gravity(np.array(at_hours)), strict=True), 2):
        value = round(float(sg) + float(rng.normal(0.0, doubt / 1.96)), 4)
        time = (START + timedelta(hours=hour)).isoformat()
        rows.append(read(line, "fermenter", "gravity", f"{value} SG", time=time, doubt=Doubt(doubt, "SG")))
    return tuple(rows)


def understood(readings: tuple[Reading, ...] = (), log: tuple[LogRow, ...] = (), **yeast: str) -> Course:
    """The course of a batch with these readings and this logger."""
    wanted = plan(yeast=yeast) if yeast else plan()
    made = batch(wanted, readings)
    found = course(type(made)(**{**made.__dict__, "log": log}), PlanView(wanted, brewhouse()))
    assert found is not None
    return found


def tangent_lag(truth: Truth) -> float:
    """Lag by its definition: where the steepest tangent leaves the level of the start, on a fine grid of the truth."""
    hours = np.arange(0.0, 400.0, 0.01)
    extract = truth.extract(hours)
    slope = np.gradient(extract, hours)
    steepest = int(np.argmin(slope))
    return float(hours[steepest] + (truth.start - extract[steepest]) / slope[steepest])


def falling(start: float, end: float, middle: float, rate: float) -> Truth:
    """A single fermentation between two gravities."""
    first, last = (float(sucrose.extract_from_sg(sg)) for sg in (start, end))
    return Truth(first, (Wave(middle, rate, first - last),))


Scenario = Callable[[np.random.Generator], Course]


def paused(start: float, pause: float, end: float, *, middle: float, again: float, rate: float = 0.1) -> Truth:
    """A fermentation that rests at a gravity and goes on at an hour."""
    levels = [float(sucrose.extract_from_sg(sg)) for sg in (start, pause, end)]
    later = again + 3.0 / rate
    return Truth(levels[0], (Wave(middle, rate, levels[0] - levels[1]), Wave(later, rate, levels[1] - levels[2])))


def hours_of(days: float, *, every: float) -> list[float]:
    """Hours of readings, so many days apart."""
    return [24.0 * every * index for index in range(math.floor(days / every + 1e-9) + 1)]
