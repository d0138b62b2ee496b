"""A logger floating in the fermenter: gravity-log.csv with its offset, noise, gaps and spikes."""

import random
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from tests.demo.truth import Course


@dataclass(frozen=True, slots=True)
class Logger:
    """One logger in one fermenter."""

    seed: int
    start: datetime
    days: float
    minutes: int
    offset: float
    """SG; the float was set in tap water and never checked since."""
    temperatures: tuple[tuple[float, float], ...]
    """Days since the start and °C, straight lines in between."""
    gaps: tuple[tuple[float, float], ...] = ()
    """Days from and to which nothing was sent."""
    spikes: tuple[tuple[float, float], ...] = ()
    """Day and SG: foam or hops on the float for one row."""
    noise: float = 0.0003
    """SG, standard deviation of one row."""
    jitter: float = 0.06
    """°C."""

    def _sent(self, day: float) -> bool:
        return not any(start < day < end for start, end in self.gaps)

    def _spike(self, day: float) -> float:
        half = self.minutes / 2880.0
        return sum(size for at, size in self.spikes if abs(at - day) <= half)

    def text(self, course: Course) -> str:
        """Return gravity-log.csv."""
        draw = random.Random(self.seed)
        days, celsius = zip(*self.temperatures, strict=True)
        lines = ["time,gravity,temperature"]
        for row in range(int(self.days * 1440 / self.minutes) + 1):
            time = self.start + timedelta(minutes=row * self.minutes)
            day = row * self.minutes / 1440.0
            sg = course.gravity(course.day(time)) + self.offset + draw.gauss(0.0, self.noise) + self._spike(day)
            temperature = float(np.interp(day, days, celsius)) + draw.gauss(0.0, self.jitter)
            if self._sent(day):
                lines.append(f"{time:%Y-%m-%d %H:%M},{sg:.4f},{temperature:.1f}")
        return "\n".join(lines) + "\n"
