"""How fast a fermentation went, reading by reading."""

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from generator.analysis.course import Course
from generator.analysis.doubt import COVERAGE_FACTOR
from generator.analysis.logger import Logger
from generator.science import series
from generator.science.series import Vector

_LEAST, _LEAST_LOGGED = 0.25, 1.0
"""Days between two readings, and between two points of a logger, that tell a rate apart from doubt."""


class Pace(NamedTuple):
    """From one reading, or point of a logger, to the next."""

    first: float
    """Day."""
    last: float
    gravity: float
    """SG at its end."""
    attenuation: float
    """Apparent, at its end, %."""
    rate: float
    """Drop, SG a day."""
    half_width: float
    """Of its 95 % interval, SG a day."""


def rates(logger: Logger) -> Vector:
    """The drop at each node of a logger, SG a day, by a line through the day about it; over a gap and a step no line is drawn."""
    found = np.zeros(len(logger.node_days))
    ends = [start for start, _ in logger.gaps] + list(logger.correction.steps)
    parts = np.unique(np.searchsorted(logger.node_days, [*(end + 1e-9 for end in ends), -np.inf, np.inf]))
    for start, end in pairwise(parts.tolist()):
        days = logger.node_days[start:end]
        window = int(np.clip(round(1.0 / float(np.median(np.diff(days)))), 4, 96)) + 1 if len(days) > 1 else 1
        found[start:end] = -series.local_line(days, logger.smooth[start:end], window)[1] if len(days) > 1 else 0.0
    return found


def paces(course: Course) -> tuple[Pace, ...]:
    """The drop a day between readings a quarter of a day or more apart; of a logger between points a day apart."""
    days, gravity, doubt = course.curve
    least = _LEAST if course.logger is None else _LEAST_LOGGED
    chosen = [0]
    for index, day in enumerate(days.tolist()):
        if day - days[chosen[-1]] >= least - 1e-9:
            chosen.append(index)
    found = []
    for before, after in pairwise(chosen):
        lasted = float(days[after] - days[before])
        half_width = COVERAGE_FACTOR * float(np.hypot(doubt[before], doubt[after])) / lasted
        rate = float(gravity[before] - gravity[after]) / lasted
        found.append(Pace(float(days[before]), float(days[after]), float(gravity[after]), float(course.attenuation[after]), rate, half_width))
    return tuple(found)
