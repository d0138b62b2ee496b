"""Series of a logger: medians of times, marked spikes, steps, smoothing, comparison with another instrument, thinning."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from generator.science._values import OutOfRangeError

Vector = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]

DEVIATION_PER_MAD = 1.482602218505602
"""Standard deviation over median absolute deviation of a normal distribution, 1/Φ⁻¹(3/4)."""


def medians(times: Vector, values: Vector, width: float = 0.0) -> tuple[Vector, Vector, Indices]:
    """A series in order: sorted by time, values of one time (or of one interval of time) merged to their median.

    Formula:
        (mean of tᵢ, median of xᵢ) over all i with the same whole part of tᵢ / w; with w = 0 over all i with the same tᵢ
    Args:
        times: t, in any order, shape (n,).
        values: x, shape (n,).
        width: w, of an interval, in the unit of the times; 0 merges only what has one time.
    Returns:
        Times and values, shape (m,), and how many rows each stands for. The order of the rows doesn't matter.
    Valid:
        Any finite numbers.
    Raises:
        OutOfRangeError: a width below 0, series of different length, or numbers that aren't finite.
    Source:
        tukey-1977
    """
    if len(times) != len(values) or not (np.isfinite(times).all() and np.isfinite(values).all()) or not width >= 0.0:
        raise OutOfRangeError("a series needs finite times and values, as many of the one as of the other")
    if not len(times):
        return times, values, np.zeros(0, dtype=np.intp)
    keys = np.floor(times / width) if width else times
    order = np.lexsort((values, times, keys)) if not width else np.lexsort((values, keys))
    keys, x = keys[order], values[order]
    starts = np.flatnonzero(np.r_[True, keys[1:] != keys[:-1]])
    counts = np.diff(np.r_[starts, len(keys)])
    middle = (x[starts + (counts - 1) // 2] + x[starts + counts // 2]) / 2.0
    when = np.add.reduceat(times[order], starts) / counts if width else keys[starts]
    return when, middle, counts


def _windows(size: int, window: int) -> Indices:
    """For each element the indices of the nearest `window` ones; at the ends the windows don't move on."""
    window = min(window, size)
    first = np.clip(np.arange(size) - window // 2, 0, size - window)
    return first[:, None] + np.arange(window)


def _row_medians(rows: Vector) -> Vector:
    """The median of each row, for an odd or an even number of columns."""
    size = rows.shape[1]
    low, high = (size - 1) // 2, size // 2
    ordered = np.partition(rows, (low, high), axis=1)
    return (ordered[:, low] + ordered[:, high]) / 2.0


def running_median(values: Vector, window: int) -> Vector:
    """Running median: takes out single outliers, leaves levels, slopes and steps as they are.

    Formula:
        yᵢ = median(xᵢ₋ₕ … xᵢ₊ₕ), window = 2 h + 1; at the ends the window stays within the series
    Args:
        values: x, shape (n,).
        window: odd number of values.
    Returns:
        y, shape (n,).
    Valid:
        Steps are kept where they lie more than h values apart and from the ends.
    Raises:
        OutOfRangeError: a window that is even or below 1.
    Source:
        tukey-1977
    """
    if window < 1 or window % 2 == 0:
        raise OutOfRangeError(f"a window of {window} values is not odd")
    return _row_medians(values[_windows(len(values), window)]) if len(values) else values


def spikes(values: Vector, window: int, least: float, threshold: float = 3.0) -> Flags:
    """Spikes by the identifier of Hampel: values far from the median of their neighbours, in median absolute deviations.

    Formula:
        |xᵢ − mᵢ| > k · max(1.482602218505602 · MADᵢ, s);  mᵢ and MADᵢ over the window about i
    Args:
        values: x, in the order of time, shape (n,).
        window: odd number of values.
        least: s, the smallest deviation that counts as noise, so that rounded values aren't spikes of one another.
        threshold: k.
    Returns:
        Whether each is a spike, shape (n,). Nothing is changed or left out.
    Valid:
        Spikes of fewer than half of a window; on a straight slope none is marked.
    Raises:
        OutOfRangeError: a window that is even or below 3, or s or k of 0 or less.
    Source:
        davies-gather-1993
    """
    if window < 3 or window % 2 == 0 or not least > 0.0 or not threshold > 0.0:
        raise OutOfRangeError("spikes need an odd window of 3 or more and limits above 0")
    if len(values) < 3:
        return np.zeros(len(values), dtype=np.bool_)
    around = values[_windows(len(values), window)]
    middle = _row_medians(around)
    around -= middle[:, None]
    spread = DEVIATION_PER_MAD * _row_medians(np.abs(around, out=around))
    return np.asarray(np.abs(values - middle) > threshold * np.maximum(spread, least))


def steps(values: Vector, window: int, least: float, threshold: float = 6.0) -> tuple[Indices, Vector]:
    """Steps: the level before and after differ by far more than noise and slope, and the change is made at once.

    Formula:
        Dᵢ = mean(xᵢ … xᵢ₊ₕ₋₁) − mean(xᵢ₋ₕ … xᵢ₋₁) − b h, b the slope that both halves share by least squares;  its variance is 8 σ² / h nearly
        σ = 1.482602218505602 · median|second differences| / √6;  a step where |Dᵢ| > max(s, k σ √(8 / h)) + 2 |b| is largest around and at least
        0.6 |Dᵢ| of it lie in one change or two neighbouring ones
    Args:
        values: x, in the order of time and evenly spaced, shape (n,).
        window: h, number of values before and after.
        least: s, the smallest step, in the unit of the values.
        threshold: k, in standard deviations of D.
    Returns:
        Index of the first value after each step, and its height.
    Valid:
        Steps that lie more than a window apart and from the ends.
    Raises:
        OutOfRangeError: a window below 2, or s or k of 0 or less.
    Source:
        neter-1996; davies-gather-1993
    """
    if window < 2 or not least > 0.0 or not threshold > 0.0:
        raise OutOfRangeError("steps need a window of 2 or more and limits above 0")
    if len(values) < 2 * window + 1:
        return np.zeros(0, dtype=np.intp), np.zeros(0)
    noise = DEVIATION_PER_MAD * float(np.median(np.abs(np.diff(values, 2)))) / 6.0**0.5
    limit = max(least, threshold * noise * (8.0 / window) ** 0.5)
    rows = np.lib.stride_tricks.sliding_window_view(values, 2 * window)
    away = np.tile(np.arange(window) - (window - 1) / 2.0, 2)
    usual = rows @ (away / np.sum(away**2))
    heights = rows @ np.repeat([-1.0 / window, 1.0 / window], window) - window * usual
    middle = np.diff(rows, axis=1)[:, max(window - 3, 0) : window + 2] - usual[:, None]
    sharp = np.maximum(np.max(np.abs(middle), axis=1), np.max(np.abs(middle[:, 1:] + middle[:, :-1]), axis=1))
    candidates = np.flatnonzero((np.abs(heights) > limit + 2.0 * np.abs(usual)) & (sharp > 0.6 * np.abs(heights)))
    found: dict[int, float] = {}
    taken: list[int] = []
    for index in candidates[np.argsort(-np.abs(heights[candidates]), kind="stable")].tolist():
        if all(abs(index - other) > window for other in taken):
            taken.append(index)
            near = range(max(index + window - 2, 1), min(index + window + 3, len(values)))
            at = max(near, key=lambda i: float((values[i] - values[i - 1] - usual[index]) * np.sign(heights[index])))
            found[at] = float(heights[index])
    return np.array(sorted(found), dtype=np.intp), np.array([found[at] for at in sorted(found)])


def local_line(times: Vector, values: Vector, window: int) -> tuple[Vector, Vector]:
    """Local regression: at each time the line that fits the nearest values best, near ones weighing more.

    Formula:
        minimise Σ wⱼ (xⱼ − a − b (tⱼ − tᵢ))²;  wⱼ = (1 − |tⱼ − tᵢ|³ / h³)³, h a little more than the largest distance; yᵢ = a, slope b
    Args:
        times: t, rising, shape (n,).
        values: x, shape (n,).
        window: number of values that each line is fitted to.
    Returns:
        Values y and slopes b, shape (n,).
    Valid:
        Levels and straight slopes are kept exactly. Steps are kept where the series is cut at them before.
    Raises:
        OutOfRangeError: a window below 2, or times that don't rise.
    Source:
        cleveland-1979
    """
    if window < 2:
        raise OutOfRangeError("a line needs two values at least")
    if len(times) < 2:
        return np.array(values), np.zeros(len(values))
    if not np.min(np.diff(times)) > 0.0:
        raise OutOfRangeError("a local regression needs times that rise")
    index = _windows(len(times), window)
    away = times[index] - times[:, None]
    reach = np.max(np.abs(away), axis=1, keepdims=True) * 1.0001
    weights = (1.0 - np.abs(away / reach) ** 3) ** 3
    total = weights.sum(axis=1)
    mean_t = (weights * away).sum(axis=1) / total
    near = values[index]
    base = near[:, :1]
    mean_x = (weights * (near - base)).sum(axis=1) / total  # from the first value on, so that a level stays one to the last digit
    from_mean = away - mean_t[:, None]
    slopes = (weights * from_mean * (near - base)).sum(axis=1) / (weights * from_mean**2).sum(axis=1)
    return base[:, 0] + mean_x - slopes * mean_t, slopes


class Robust(NamedTuple):
    """Coefficients of a robust regression."""

    values: Vector
    covariance: Vector
    weights: Vector
    """Of each row, from 0 to 1: below 1 where it lies far off."""


def robust_regression(design: Vector, values: Vector, uncertainties: Vector, bend: float = 1.345) -> Robust:
    """Linear regression that single wrong readings hardly move, with standard errors.

    Formula:
        minimise Σ ρ((yᵢ − xᵢ b) / uᵢ);  ρ(r) = r²/2 to |r| = k, then k |r| − k²/2;  by reweighting, wᵢ = min(1, k / |rᵢ|)
        cov = max(1, χ²/(n − p)) · (Xᵀ W X)⁻¹;  χ² = Σ wᵢ rᵢ²
    Args:
        design: x, shape (n, p), of rank p.
        values: y, shape (n,).
        uncertainties: u, standard uncertainty of each, above 0, shape (n,).
        bend: k; 1.345 keeps 95 % of the efficiency where the noise is normal.
    Returns:
        Coefficients b (p,), their covariance (p, p), weights (n,).
    Valid:
        Fewer than half of the rows wrong, and not those that alone hold a coefficient.
    Raises:
        OutOfRangeError: fewer rows than coefficients, coefficients that depend on one another, or an uncertainty of 0 or less.
    Source:
        huber-1981
    """
    rows, columns = design.shape
    if rows < columns or not np.min(uncertainties) > 0.0 or not np.isfinite(values).all():
        raise OutOfRangeError("a regression needs as many readings as coefficients, and uncertainties above 0")
    scaled, wanted = design / uncertainties[:, None], values / uncertainties
    if np.linalg.matrix_rank(scaled) < columns:
        raise OutOfRangeError("the coefficients depend on one another")
    weights: Vector = np.ones(rows)
    found: Vector = np.zeros(columns)
    for _ in range(200):
        root = np.sqrt(weights)
        latest: Vector = np.asarray(np.linalg.lstsq(scaled * root[:, None], wanted * root, rcond=None)[0], dtype=np.float64)
        off = np.abs(wanted - scaled @ latest)
        weights = np.minimum(1.0, bend / np.maximum(off, 1e-300))
        settled = bool(np.max(np.abs(latest - found)) <= 1e-13 * (1.0 + float(np.max(np.abs(latest)))))
        found = latest
        if settled:
            break
    chi_square = float(np.sum(weights * off**2))
    excess = max(1.0, chi_square / (rows - columns)) if rows > columns else 1.0
    covariance: Vector = excess * np.asarray(np.linalg.inv((scaled * weights[:, None]).T @ scaled), dtype=np.float64)
    return Robust(found, covariance, weights)


def thinned(times: Vector, values: Vector, columns: int) -> Indices:
    """Thinning for a chart: of each pixel column the first, the lowest, the highest and the last value, so no extreme is lost.

    Formula:
        column of i = whole part of (tᵢ − t₁) / (tₙ − t₁) · c, the last one in column c − 1
    Args:
        times: t, rising, shape (n,).
        values: x, shape (n,).
        columns: c, pixels that the chart is wide.
    Returns:
        Indices of at most 4 c values, rising. A line through them is drawn by the same pixels as one through all.
    Valid:
        Any rising series.
    Raises:
        OutOfRangeError: fewer than one column.
    Source:
        jugel-2014
    """
    if columns < 1:
        raise OutOfRangeError("a chart has a column at least")
    if len(times) <= 4 * columns:
        return np.arange(len(times))
    span = float(times[-1] - times[0]) or 1.0
    column = np.minimum(((times - times[0]) / span * columns).astype(np.intp), columns - 1)
    starts = np.flatnonzero(np.r_[True, column[1:] != column[:-1]])
    ends = np.r_[starts[1:], len(times)] - 1
    by_value = np.lexsort((values, column))  # stable: of equal values the first in time is lowest, the last highest
    return np.unique(np.concatenate([starts, by_value[starts], by_value[ends], ends]))
