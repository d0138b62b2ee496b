"""How a fermentation went: lag, fastest drop, half and nine tenths of the drop, by a logistic curve, else between readings."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.special import stdtrit

from generator.analysis.logger import Known
from generator.science import fermentation, series
from generator.science._values import OutOfRangeError
from generator.science.fermentation import Logistic
from generator.science.series import Vector

DISTANCE = 0.1
"""°P: so near to its end a fermentation counts as ended in a prediction."""
_MANY = 40
"""Nodes from which on the shape of the curve itself can be seen."""
_SHAPE = 0.012
"""Misfit, as a share of the drop, beyond which a dense series is better told by itself than by a logistic curve."""
_VAGUE = 12.0
"""h: standard error of the middle of the curve, or of the lag, beyond which it isn't known; also the earliest lag before pitching."""
_WIDEST = 240.0
"""h: half-width of an interval that says nothing any more."""


@dataclass(frozen=True, slots=True)
class Predicted:
    """When a fermentation will have ended, hours after pitching: best estimate and 95 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class Kinetics:
    """Times in hours after pitching, extracts in °P, rates in °P/h."""

    method: Literal["logistic", "interpolation"]
    why: str
    """Why no logistic curve stands behind it, as a clause; blank where one does."""
    curve: Logistic | None
    lag: Known | None
    fastest_at: Known | None
    fastest: Known | None
    half: Known | None
    nine_tenths: Known | None
    predicted_end: Predicted | None
    why_no_prediction: str


def kinetics(hours: Vector, extract: Vector, doubt: Vector, end: float | None, *, running: bool) -> Kinetics:
    """Kinetics of one fermentation.

    Args:
        hours: after pitching, rising.
        extract: apparent extract, °P.
        doubt: standard uncertainty of each, °P.
        end: extract at which it has come to rest; None while it runs.
        running: whether its end is to be predicted.
    """
    try:
        curve = _fitted(hours, extract, doubt)
    except OutOfRangeError as error:
        return _between(hours, extract, end, str(error))
    predicted, why = None, "it isn't running"
    if running:
        predicted, why = _prediction(curve, hours)
    rate, middle = curve.rate, curve.middle
    lag = _derived(float(fermentation.lag(rate, middle)), np.array([0.0, 0.0, 2.0 / rate**2, 1.0]), curve)
    return Kinetics(
        "logistic", "", curve,
        None if (lag.error or 0.0) > _VAGUE or lag.value < -_VAGUE else lag,
        Known(middle, float(curve.errors[3])),
        _derived(float(fermentation.fastest_drop(curve.end, curve.start, rate)), _slope_of_fastest(curve), curve),
        Known(middle, float(curve.errors[3])),
        _derived(float(fermentation.time_to_share(0.9, rate, middle)), np.array([0.0, 0.0, -np.log(9.0) / rate**2, 1.0]), curve),
        predicted, why,
    )  # fmt: skip


def _fitted(hours: Vector, extract: Vector, doubt: Vector) -> Logistic:
    drop = float(np.max(extract) - extract[-1]) if len(extract) else 0.0
    if drop < 0.5 or (len(extract) and drop < 4.0 * float(np.median(doubt))):
        raise OutOfRangeError("the extract hasn't dropped by so much that a curve could be told from the doubt of the readings")
    curve = fermentation.fit_logistic(hours, extract, doubt)
    if curve.start - curve.end < 0.5:
        raise OutOfRangeError("the best curve rises or stays")
    if curve.errors[3] > min(_VAGUE, 0.2 * curve.middle):
        raise OutOfRangeError("the readings don't tell when half of it was done")
    beyond_noise = curve.misfit * max(1.0 - curve.deviation**-2.0, 0.0) ** 0.5
    if len(hours) >= _MANY and beyond_noise > _SHAPE:
        raise OutOfRangeError(f"the series lies {100.0 * beyond_noise:.1f} % of the drop from the best curve, so it is told by itself")
    return curve


def _derived(value: float, slopes: Vector, curve: Logistic) -> Known:
    return Known(value, float(np.sqrt(max(float(slopes @ curve.covariance @ slopes), 0.0))))


def _slope_of_fastest(curve: Logistic) -> Vector:
    return np.array([-curve.rate / 4.0, curve.rate / 4.0, (curve.start - curve.end) / 4.0, 0.0])


def _prediction(curve: Logistic, hours: Vector) -> tuple[Predicted | None, str]:
    """When the curve has come within 0.1 °P of its end; the interval from the covariance of the fit, to first order."""
    drop = curve.start - curve.end
    if curve.middle > hours[-1]:
        return None, "it hasn't passed its fastest drop yet"
    value = float(fermentation.time_until_within(DISTANCE, drop, curve.rate, curve.middle))
    by_drop = 1.0 / (curve.rate * (drop - DISTANCE))
    slopes = np.array([-by_drop, by_drop, -(value - curve.middle) / curve.rate, 1.0])
    half_width = float(stdtrit(curve.freedom, 0.975)) * (_derived(value, slopes, curve).error or 0.0)
    if half_width > _WIDEST:
        return None, "the readings don't tell yet where it will end"
    return Predicted(value, value - half_width, value + half_width), ""


def _between(hours: Vector, extract: Vector, end: float | None, why: str) -> Kinetics:
    """Times read off between readings; lag and fastest drop only where the readings are dense."""
    nothing = "without a fitted curve nothing is predicted"
    hours, extract, _ = series.medians(hours, extract)
    if len(hours) < 2:
        return Kinetics("interpolation", why, None, None, None, None, None, None, None, nothing)
    start = float(np.max(extract[: max(1, len(extract) // 50)])) if len(extract) < _MANY else float(np.median(extract[hours <= hours[0] + 2.0]))
    at, rate = _steepest(hours, extract)
    dense = len(hours) >= _MANY and rate > 0.0
    level = float(np.interp(at, hours, extract))
    half = nine_tenths = None
    if end is not None and start - end > DISTANCE:
        half, nine_tenths = (_crossing(hours, extract, start - share * (start - end)) for share in (0.5, 0.9))
    return Kinetics(
        "interpolation", why, None,
        Known(at - (start - level) / rate) if dense else None,
        Known(at) if rate > 0.0 else None, Known(rate) if rate > 0.0 else None, half, nine_tenths, None, nothing,
    )  # fmt: skip


def _steepest(hours: Vector, extract: Vector) -> tuple[float, float]:
    """Where and how fast the extract falls fastest: by lines through six hours of a dense series, else between two readings."""
    if len(hours) < _MANY:
        rates = -np.diff(extract) / np.maximum(np.diff(hours), 1.0)
        index = int(np.argmax(rates))
        return float(hours[index] + hours[index + 1]) / 2.0, float(rates[index])
    window = int(np.clip(round(6.0 / float(np.median(np.diff(hours)))), 4, 24)) + 1
    _, slopes = series.local_line(hours, series.running_median(extract, 5), window)
    index = int(np.argmin(slopes))
    return float(hours[index]), float(-slopes[index])


def _crossing(hours: Vector, extract: Vector, level: float) -> Known | None:
    """When the extract first comes down to a level, straight lines in between."""
    below = np.flatnonzero(extract <= level)
    if not len(below):
        return None
    index = int(below[0])
    if index == 0:
        return Known(float(hours[0]))
    before, after = extract[index - 1], extract[index]
    return Known(float(hours[index - 1] + (before - level) / (before - after) * (hours[index] - hours[index - 1])))
