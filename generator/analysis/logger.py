"""A logger in the fermenter: its series in order, spikes and steps marked, smoothed, and compared with the readings by hand."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from generator.science import series
from generator.science.series import Flags, Indices, Vector

HOURS = 1.0 / 24.0
"""An hour in days."""
_INTERVAL = 0.5 * HOURS
_MOST_NODES = 3000
_GAP = 3.0 * HOURS
_REACH = 6.0 * HOURS
"""Length of the stretch that the smoothing looks at."""
_ROUNDED = 0.0005
"""SG: deviation that no logger's row counts as a spike for."""
LEAST_STEP = 0.0025
"""SG: a smaller jump isn't told from fermentation."""
_STEP_DOUBT = 0.0005
_NEAR = 2.0 * HOURS
"""How near a row must be for a reading by hand to be compared with the logger."""
_CLOCK_DOUBT = 0.25 * HOURS
"""Standard uncertainty of the time written beside a reading."""


@dataclass(frozen=True, slots=True)
class Known:
    """A number with its standard error; None where it isn't known."""

    value: float
    error: float | None = None


class Hand(NamedTuple):
    """Readings by hand, referred to 20 °C, in the order of time."""

    days: Vector
    gravity: Vector
    doubt: Vector
    """Standard uncertainty, SG."""


class Correction(NamedTuple):
    """What the logger shows above the readings by hand: offset, drift and steps."""

    steps: tuple[float, ...]
    """Days at which it jumped."""
    with_drift: bool
    fit: series.Robust
    compared: int

    def _design(self, days: Vector) -> Vector:
        return _design(days, self.steps, offset=self.compared > 0, drift=self.with_drift)

    def at(self, days: Vector) -> Vector:
        """To be taken off the logger, SG."""
        return np.asarray(self._design(days) @ self.fit.values)

    def doubt(self, days: Vector) -> Vector:
        """Standard error of the correction, SG."""
        design = self._design(days)
        return np.asarray(np.sqrt(np.maximum(np.einsum("ij,jk,ik->i", design, self.fit.covariance, design), 0.0)))

    def _known(self, index: int) -> Known:
        return Known(float(self.fit.values[index]), float(self.fit.covariance[index, index] ** 0.5))

    @property
    def offset(self) -> Known | None:
        """SG at pitching; None without readings by hand."""
        return self._known(0) if self.compared else None

    @property
    def drift(self) -> Known | None:
        """SG a day; None where it isn't told from 0."""
        return self._known(1) if self.with_drift else None

    @property
    def heights(self) -> tuple[Known, ...]:
        """SG of each step."""
        first = int(self.compared > 0) + int(self.with_drift)
        return tuple(self._known(first + index) for index in range(len(self.steps)))


@dataclass(frozen=True, eq=False)
class Logger:
    """The gravity of one logger. Nothing of it is deleted: spikes are marked."""

    days: Vector
    """Since pitching, rising, one row a time."""
    gravity: Vector
    """SG as logged; the median where several rows have one time."""
    spike: Flags
    duplicates: int
    """Rows beyond the first of a time."""
    out_of_order: int
    """Rows that stand after one of a later time."""
    left_out: int
    """Rows from before pitching or after packaging."""
    noise: float
    """Standard deviation of one row, SG."""
    gaps: tuple[tuple[float, float], ...]
    """Days from and to which nothing was logged."""
    node_days: Vector
    """Where the series was gathered, half an hour apart or as the rows are."""
    medians: Vector
    """SG there, corrected but not smoothed."""
    smooth: Vector
    """SG there, corrected and smoothed."""
    slope: Vector
    """SG a day."""
    correction: Correction

    @property
    def node_doubt(self) -> float:
        """Standard uncertainty of a node against another, SG."""
        rows = max(len(self.days) / max(len(self.node_days), 1), 1.0)
        return float(max(self.noise / rows**0.5, 1e-4))


def logger(days: Vector, gravity: Vector, hand: Hand, last: float = np.inf) -> Logger | None:
    """Understand a logger; None with fewer than two rows between pitching and packaging.

    Args:
        days: since pitching, in the order of the file.
        gravity: SG, finite.
        hand: readings by hand.
        last: day of packaging.
    """
    first = -HOURS if len(hand.days) else -np.inf
    inside = (days >= first) & (days <= last)
    out_of_order = int(np.count_nonzero(days < np.maximum.accumulate(days))) if len(days) else 0
    t, x, counts = series.medians(days[inside], gravity[inside])
    if len(t) < 2:
        return None
    spike = series.spikes(x, 11, _ROUNDED)
    nodes, middle, spike = _gathered(t, x, spike)
    pieces, steps = _pieces(nodes, middle)
    smooth, slope = _smoothed(nodes, middle, pieces)
    noise = series.DEVIATION_PER_MAD * float(np.median(np.abs(np.diff(x)))) / 2.0**0.5
    correction = _correction(nodes, smooth, slope, hand, steps)
    taken_off = correction.at(nodes)
    drift = correction.drift.value if correction.drift else 0.0
    return Logger(
        t, x, spike, int(np.sum(counts - 1)), out_of_order, int(np.count_nonzero(~inside)), noise, _gaps(nodes),
        nodes, middle - taken_off, smooth - taken_off, slope - drift, correction,
    )  # fmt: skip


def _gathered(t: Vector, x: Vector, spike: Flags) -> tuple[Vector, Vector, Flags]:
    """Medians of half-hours without spikes; spikes that last longer are found among them and marked row by row."""
    width = max(_INTERVAL, float(t[-1] - t[0]) / _MOST_NODES)
    good = ~spike
    nodes, middle, _ = series.medians(t[good], x[good], width)
    wrong = series.spikes(middle, 9, _ROUNDED)
    if not wrong.any() or wrong.all():
        return nodes, middle, spike
    usual = np.interp(t, nodes[~wrong], middle[~wrong])
    in_wrong = np.isin(np.floor(t / width), np.floor(nodes[wrong] / width))
    spike = spike | (in_wrong & (np.abs(x - usual) > 3.0 * _ROUNDED))
    nodes, middle, _ = series.medians(t[~spike], x[~spike], width)
    return nodes, middle, spike


def _gap_length(nodes: Vector) -> float:
    return max(_GAP, 5.0 * float(np.median(np.diff(nodes)))) if len(nodes) > 1 else _GAP


def _gaps(nodes: Vector) -> tuple[tuple[float, float], ...]:
    found = np.flatnonzero(np.diff(nodes) > _gap_length(nodes))
    return tuple((float(nodes[index]), float(nodes[index + 1])) for index in found)


def _pieces(nodes: Vector, middle: Vector) -> tuple[list[slice], list[tuple[float, float]]]:
    """Stretches without gap and step, and the steps as (day, height). A rise over a gap is a step too: beer doesn't rise."""
    gaps = np.flatnonzero(np.diff(nodes) > _gap_length(nodes)) + 1
    ends: list[int] = []
    steps: list[tuple[float, float]] = []
    for start, end in zip([0, *gaps.tolist()], [*gaps.tolist(), len(nodes)], strict=True):
        if start:
            rise = float(np.median(middle[start : start + 6]) - np.median(middle[max(0, start - 6) : start]))
            if rise > LEAST_STEP:
                steps.append((float(nodes[start]), rise))
        at, heights = series.steps(middle[start:end], 8, LEAST_STEP)
        steps += [(float(nodes[start + index]), float(height)) for index, height in zip(at, heights, strict=True)]
        ends += [start, *(start + at).tolist()]
    return [slice(start, end) for start, end in zip(ends, [*ends[1:], len(nodes)], strict=True)], steps


def _smoothed(nodes: Vector, middle: Vector, pieces: list[slice]) -> tuple[Vector, Vector]:
    smooth, slope = np.array(middle), np.zeros(len(middle))
    spacing = float(np.median(np.diff(nodes))) if len(nodes) > 1 else _REACH
    window = int(np.clip(round(_REACH / spacing), 4, 24)) + 1
    for piece in pieces:
        calm = series.running_median(middle[piece], 3)
        smooth[piece], slope[piece] = series.local_line(nodes[piece], calm, window)
    return smooth, slope


def _design(days: Vector, steps: tuple[float, ...], *, offset: bool, drift: bool) -> Vector:
    columns = [np.ones(len(days))] * offset + [np.asarray(days, dtype=float)] * drift
    columns += [(days >= step).astype(float) for step in steps]
    return np.column_stack(columns) if columns else np.zeros((len(days), 0))


def _correction(nodes: Vector, smooth: Vector, slope: Vector, hand: Hand, steps: list[tuple[float, float]]) -> Correction:
    """Offset, drift and steps, from the differences to readings by hand and from the jumps themselves."""
    near: Indices = np.clip(np.searchsorted(nodes, hand.days), 1, len(nodes) - 1) if len(nodes) > 1 else np.zeros(len(hand.days), dtype=np.intp)
    away = np.minimum(np.abs(nodes[near] - hand.days), np.abs(nodes[near - 1] - hand.days))
    for day, _ in steps:
        away = np.where(np.abs(hand.days - day) < HOURS, np.inf, away)
    use = away <= _NEAR
    days = hand.days[use]
    differences = np.interp(days, nodes, smooth) - hand.gravity[use]
    doubts = np.hypot(hand.doubt[use], np.abs(np.interp(days, nodes, slope)) * _CLOCK_DOUBT)
    doubts = np.hypot(doubts, 1e-4)
    at = tuple(day for day, _ in steps)
    if len(days) >= 3 and float(np.ptp(days)) >= 2.0:
        with_drift = _fitted(days, differences, doubts, steps, drift=True)
        if abs(with_drift.values[1]) > 2.0 * with_drift.covariance[1, 1] ** 0.5:
            return Correction(at, True, with_drift, len(days))
    return Correction(at, False, _fitted(days, differences, doubts, steps, drift=False), len(days))


def _fitted(days: Vector, differences: Vector, doubts: Vector, steps: list[tuple[float, float]], *, drift: bool) -> series.Robust:
    offset = len(days) > 0
    design = _design(days, tuple(day for day, _ in steps), offset=offset, drift=drift)
    jumps = np.zeros((len(steps), design.shape[1]))
    jumps[:, design.shape[1] - len(steps) :] = np.eye(len(steps))
    rows = np.vstack([design, jumps])
    if not rows.size:
        return series.Robust(np.zeros(0), np.zeros((0, 0)), np.zeros(0))
    values = np.concatenate([differences, [height for _, height in steps]])
    return series.robust_regression(rows, values, np.concatenate([doubts, np.full(len(steps), _STEP_DOUBT)]))
