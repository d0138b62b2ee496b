"""Kinetics of a fermentation: the logistic curve of the apparent extract, its fit, and the times that follow from it."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares
from scipy.special import expit

from generator.science._values import OutOfRangeError, Values, require

Vector = NDArray[np.float64]

WORST_MISFIT = 0.04
"""Largest root mean square deviation from a fitted curve, as a share of its drop, at which the curve still describes the data."""
_LOOSEST = 0.5
"""Largest standard error of the rate, as a share of it, at which it counts as known."""
_ENDS = 0.04
"""Share of the drop that is too near to either level to tell the rate."""
_RATE = (1e-6, 100.0)


def logistic(time: Values, end: Values, start: Values, rate: Values, middle: Values) -> Values:
    """Apparent extract during a fermentation: it leaves one level slowly, falls fastest half way, and nears another level.

    Formula:
        P(t) = Pe + (Pi − Pe) / (1 + e^(B (t − M)))
    Args:
        time: t, h after pitching; float or array.
        end: Pe, the level that is neared in the end, °P; broadcastable.
        start: Pi, the level before, °P, an asymptote and not P(0); broadcastable.
        rate: B, 1/h; broadcastable.
        middle: M, h after pitching, when half of the drop is done; broadcastable.
    Returns:
        P, °P.
    Valid:
        B from 1e-6 to 100 1/h; a description of single fermentations, no prediction of one that hasn't begun.
    Raises:
        OutOfRangeError: B outside this range.
    Source:
        speers-2003
    """
    require(rate, *_RATE, "a rate of fermentation", "1/h")
    share: Values = expit(-rate * (time - middle))
    return end + (start - end) * share


def fastest_drop(end: Values, start: Values, rate: Values) -> Values:
    """Fastest drop of the apparent extract, at the middle of the logistic curve.

    Formula:
        −dP/dt (M) = B (Pi − Pe) / 4
    Args:
        end: Pe, °P; float or array.
        start: Pi, °P; broadcastable.
        rate: B, 1/h; broadcastable.
    Returns:
        Drop, °P/h.
    Valid:
        B from 1e-6 to 100 1/h.
    Raises:
        OutOfRangeError: B outside this range.
    Source:
        speers-2003
    """
    require(rate, *_RATE, "a rate of fermentation", "1/h")
    return rate * (start - end) / 4.0


def lag(rate: Values, middle: Values) -> Values:
    """Lag: when the tangent at the fastest drop leaves the level of the start.

    Formula:
        λ = M − 2 / B
    Args:
        rate: B, 1/h; float or array.
        middle: M, h after pitching; broadcastable.
    Returns:
        λ, h after pitching; below 0 where the drop began before pitching was noted.
    Valid:
        B from 1e-6 to 100 1/h.
    Raises:
        OutOfRangeError: B outside this range.
    Source:
        speers-2003; zwietering-1990
    """
    require(rate, *_RATE, "a rate of fermentation", "1/h")
    return middle - 2.0 / rate


def time_to_share(share: Values, rate: Values, middle: Values) -> Values:
    """When a share of the whole drop is done.

    Formula:
        t = M + ln(s / (1 − s)) / B
    Args:
        share: s, above 0 and below 1; float or array.
        rate: B, 1/h; broadcastable.
        middle: M, h after pitching; broadcastable.
    Returns:
        t, h after pitching.
    Valid:
        s from 1e-6 to 1 − 1e-6, B from 1e-6 to 100 1/h.
    Raises:
        OutOfRangeError: a value outside these ranges.
    Source:
        speers-2003
    """
    require(share, 1e-6, 1.0 - 1e-6, "a share of the drop", "")
    require(rate, *_RATE, "a rate of fermentation", "1/h")
    return middle + np.log(share / (1.0 - share)) / rate


def time_until_within(distance: Values, drop: Values, rate: Values, middle: Values) -> Values:
    """When the apparent extract has come within a distance of the level of the end.

    Formula:
        t = M + ln((Pi − Pe) / d − 1) / B
    Args:
        distance: d, °P; float or array.
        drop: Pi − Pe, °P; broadcastable.
        rate: B, 1/h; broadcastable.
        middle: M, h after pitching; broadcastable.
    Returns:
        t, h after pitching.
    Valid:
        d from 0.001 to 10 °P, at most 0.999 of the drop; a drop of up to 65 °P; B from 1e-6 to 100 1/h.
    Raises:
        OutOfRangeError: a value outside these ranges.
    Source:
        speers-2003
    """
    require(distance, 0.001, 10.0, "a distance to the end", "°P")
    require(drop, 1e-6, 65.0, "a drop of the extract", "°P")
    require(distance / drop, 0.0, 0.999, "a distance to the end, as a share of the drop,", "")
    require(rate, *_RATE, "a rate of fermentation", "1/h")
    return middle + np.log(drop / distance - 1.0) / rate


def degree_days(times: Vector, temperatures: Vector, base: float = 0.0) -> float:
    """Degree-days: the temperature above a base, summed over time, straight lines in between.

    Formula:
        D = sum of (T − T₀) · Δt wherever T is above T₀, straight between readings
    Args:
        times: t, days, rising, shape (n,).
        temperatures: T, °C, shape (n,).
        base: T₀, °C.
    Returns:
        D, °C d.
    Valid:
        Any series of two values at least; the trapezium rule, exact where no line crosses the base.
    Raises:
        OutOfRangeError: fewer than two values, times that don't rise, or numbers that aren't finite.
    Source:
        mcmaster-wilhelm-1997
    """
    if len(times) < 2 or len(times) != len(temperatures) or not (np.isfinite(times).all() and np.isfinite(temperatures).all()):
        raise OutOfRangeError("degree-days need two temperatures with their times at least")
    if np.min(np.diff(times)) < 0.0:
        raise OutOfRangeError("degree-days need times that rise")
    above = np.maximum(temperatures - base, 0.0)
    return float(np.sum((above[1:] + above[:-1]) / 2.0 * np.diff(times)))


class Logistic(NamedTuple):
    """A fitted logistic curve."""

    end: float
    start: float
    rate: float
    middle: float
    covariance: Vector
    """Of end, start, rate and middle, shape (4, 4); 0 for a level that was given."""
    deviation: float
    """Residual standard deviation, in the unit of the values, or in uncertainties where they were given."""
    misfit: float
    """Root mean square deviation as a share of the drop."""
    freedom: int
    """Degrees of freedom."""

    @property
    def errors(self) -> Vector:
        """Standard errors of end, start, rate and middle."""
        return np.asarray(np.sqrt(np.diag(self.covariance)))


def fit_logistic(times: Vector, values: Vector, uncertainties: Vector | None = None, start: float | None = None) -> Logistic:
    """The logistic curve that fits readings best, with the standard errors of its parameters; refused where they don't support it.

    Formula:
        minimise Σ ((Pᵢ − P(tᵢ)) / uᵢ)² over Pe, Pi, B > 0, M;  cov = s² (Jᵀ J)⁻¹;  s² = Σ (…)² / (n − 4)
    Args:
        times: t, h, in any order, shape (n,).
        values: P, °P (or any measure that goes from one level to another), shape (n,).
        uncertainties: u, relative to one another, above 0, shape (n,); left out, all are alike.
        start: Pi where it is known, so that three parameters are left.
    Returns:
        The parameters, their covariance, the residual deviation.
    Valid:
        One rise or fall. Six readings at least; a deviation of at most 4 % of the drop; a rate known to 50 %. The standard errors
        are those of the fit made linear at the minimum.
    Raises:
        OutOfRangeError: with the reason, where the readings don't support the fit.
    Source:
        speers-2003; levenberg-marquardt
    """
    weights = np.ones_like(values) if uncertainties is None else 1.0 / uncertainties
    free = 4 if start is None else 3
    if len(times) < free + 2:
        raise OutOfRangeError(f"{len(times)} readings are too few for a curve of {free} parameters; it takes {free + 2}")
    if not all(np.isfinite(part).all() for part in (times, values, weights)):
        raise OutOfRangeError("the readings to fit aren't finite")
    span = float(np.ptp(times))
    if span <= 0.0 or float(np.ptp(values)) <= 0.0:
        raise OutOfRangeError("the readings don't change")
    best: tuple[Vector, float] | None = None
    for guess in _guesses(times, values, start):
        found = _solve(times / span, values, weights, np.array([*guess[:2], guess[2] * span, guess[3] / span]), start)
        if found is not None and (best is None or found[1] < best[1] * (1.0 - 1e-9)):
            best = found
    if best is None:
        raise OutOfRangeError("the fit found no curve")
    return _judged(best[0], times / span, values, weights, span, start)


_SETTLED = {"ftol": 1e-15, "xtol": 1e-15, "gtol": 1e-15}
_MOST_STEPS = 300
"""Evaluations from one start; a curve that the readings determine settles in a tenth of them."""


def _guesses(times: Vector, values: Vector, start: float | None) -> list[tuple[float, float, float, float]]:
    """Where to begin: levels from the ends of the series, the middle where it crosses half of the drop, the rate from its quarters."""
    order = np.argsort(times, kind="stable")
    t, v = times[order], values[order]
    some = max(1, len(v) // 20)
    first = float(np.median(v[:some])) if start is None else start
    last = float(np.median(v[-some:]))
    done = np.maximum.accumulate((v - first) / (last - first) if last != first else np.zeros_like(v))
    quarter, half, three = (float(t[min(int(np.searchsorted(done, share)), len(t) - 1)]) for share in (0.25, 0.5, 0.75))
    width = max(three - quarter, float(np.ptp(t)) / 50.0)
    rate = 2.0 * np.log(3.0) / width
    further = last + 0.5 * (last - first)
    return [
        (last, first, rate, half),
        (last, first, 2.5 * rate, half),
        (last, first, 0.4 * rate, half),
        (further, first, rate, three),
        (further, first, 0.5 * rate, float(t[-1])),
    ]


def _solve(times: Vector, values: Vector, weights: Vector, guess: Vector, start: float | None) -> tuple[Vector, float] | None:
    """The least squares from one guess, on a time scale of 1; None where it doesn't settle on a positive rate."""
    keep = [0, 1, 2, 3] if start is None else [0, 2, 3]

    def whole(free: Vector) -> Vector:
        return free if start is None else np.array([free[0], start, free[1], free[2]])

    def residuals(free: Vector) -> Vector:
        end, first, rate, middle = whole(free)
        return np.asarray((end + (first - end) * expit(-rate * (times - middle)) - values) * weights)

    def slopes(free: Vector) -> Vector:
        return _jacobian(times, weights, whole(free))[:, keep]

    with np.errstate(over="ignore", invalid="ignore"):
        try:
            found = least_squares(residuals, guess[keep], slopes, method="lm", x_scale="jac", **_SETTLED, max_nfev=_MOST_STEPS)
        except (ValueError, np.linalg.LinAlgError):
            return None
    point = whole(np.asarray(found.x))
    if found.status <= 0 or not np.isfinite(point).all() or point[2] <= 0.0:
        return None
    return point, float(2.0 * found.cost)


def _jacobian(times: Vector, weights: Vector, point: Vector) -> Vector:
    end, first, rate, middle = (float(value) for value in point)
    left: Vector = expit(-rate * (times - middle))
    bend = (first - end) * left * (1.0 - left)
    return np.asarray(np.column_stack([1.0 - left, left, -bend * (times - middle), bend * rate]) * weights[:, None])


def _judged(point: Vector, times: Vector, values: Vector, weights: Vector, span: float, start: float | None) -> Logistic:
    """The curve with its standard errors, on the true time scale; OutOfRangeError where the data don't support it."""
    keep = [0, 1, 2, 3] if start is None else [0, 2, 3]
    end, first, rate, middle = (float(value) for value in point)
    off = end + (first - end) * expit(-rate * (times - middle)) - values
    freedom = len(values) - len(keep)
    deviation = float(np.sqrt(np.sum((off * weights) ** 2) / freedom))
    misfit = float(np.sqrt(np.sum((off * weights) ** 2) / np.sum(weights**2))) / max(abs(first - end), 1e-300)
    if misfit > WORST_MISFIT:
        raise OutOfRangeError(f"the readings lie {100.0 * misfit:.1f} % of the drop from the best curve, more than {100.0 * WORST_MISFIT:g} %")
    done = expit(rate * (times - middle))
    if np.count_nonzero((done > _ENDS) & (done < 1.0 - _ENDS)) < 2:
        raise OutOfRangeError("too few readings lie between the two levels, so they don't tell how fast the fermentation went")
    scale = np.array([1.0, 1.0, 1.0 / span, span])
    design = _jacobian(times, weights, point)[:, keep] * (1.0 / scale[keep])
    norms = np.sqrt(np.sum(design**2, axis=0))
    if not (np.isfinite(norms).all() and np.min(norms) > 0.0) or np.linalg.cond(design / norms) > 1e7:
        raise OutOfRangeError("the readings don't tell the parameters of the curve from one another")
    inverse = np.linalg.inv((design / norms).T @ (design / norms)) / np.outer(norms, norms)
    covariance = np.zeros((4, 4))
    covariance[np.ix_(keep, keep)] = inverse * deviation**2
    if covariance[2, 2] ** 0.5 > _LOOSEST * rate / span:
        raise OutOfRangeError("the readings don't tell how fast the fermentation went")
    if not -0.5 <= middle - float(np.min(times)) <= 1.5:
        raise OutOfRangeError("the middle of the curve lies outside of the readings")
    return Logistic(end, first, rate / span, middle * span, covariance, deviation, misfit, freedom)
