"""Kinetics and series against certified values, closed forms and general libraries: [P] published, [C] computed here."""

import numpy as np
import pytest
from scipy.ndimage import median_filter
from scipy.optimize import curve_fit, least_squares
from scipy.signal import savgol_filter
from scipy.stats import median_abs_deviation

from generator.science import fermentation, series
from generator.science._values import OutOfRangeError
from tests.reference.runner import read
from tests.reference.science import stands_for

REFERENCE = (2.60, 12.60, 0.110, 30.0)
"""Pe, Pi, B, M of fermentation_model_reference.csv."""


def columns(table: str, *names: str) -> list[np.ndarray]:
    """Columns of a reference table as arrays."""
    rows = read(table).rows
    return [np.array([row.number(name) for row in rows]) for name in names]


@stands_for(fermentation.fit_logistic)
def test_certified_values_of_a_nonlinear_regression() -> None:
    """[P] NIST StRD Rat42: three parameters and their standard deviations, to 1e-6 of each."""
    x, y = columns("strd_rat42", "x", "y")
    found = fermentation.fit_logistic(x, y, start=0.0)
    slopes = np.array([0.0, 0.0, found.middle, found.rate])  # of b2 = B M
    b = [found.end, found.rate * found.middle, found.rate]
    deviations = [found.errors[0], float(slopes @ found.covariance @ slopes) ** 0.5, found.errors[2]]
    assert b == pytest.approx([72.462237576, 2.6180768402, 0.067359200066], rel=1e-6)
    assert deviations == pytest.approx([1.7340283401, 0.088295217536, 0.0034465663377], rel=1e-6)
    assert found.deviation**2 * found.freedom == pytest.approx(8.0565229338, rel=1e-6)


@stands_for(fermentation.fit_logistic)
def test_parameters_of_a_curve_without_noise_come_back() -> None:
    """[C] The logistic reference curve gives its four parameters back to 1e-6, in any order of its rows."""
    t, p = columns("fermentation_model_reference", "t_h", "logistic_P")
    for order in (slice(None), slice(None, None, -1)):
        assert fermentation.fit_logistic(t[order], p[order])[:4] == pytest.approx(REFERENCE, rel=1e-6)


def test_standard_errors_are_those_of_a_general_library() -> None:
    """Four parameters, noise and weights: scipy's curve_fit, started at the truth, gives the same parameters and covariance."""
    rng = np.random.default_rng(5)
    t = np.linspace(0.0, 120.0, 30)
    u = np.where(t > 60.0, 0.05, 0.1)
    p = np.asarray(fermentation.logistic(t, *REFERENCE)) + rng.normal(0.0, u)
    found = fermentation.fit_logistic(t, p, u)
    values, covariance = curve_fit(lambda t, e, s, b, m: e + (s - e) / (1.0 + np.exp(b * (t - m))), t, p, REFERENCE, u)
    assert found[:4] == pytest.approx(values.tolist(), rel=1e-6)
    assert found.covariance == pytest.approx(covariance, rel=1e-3, abs=1e-12)


@stands_for(fermentation.fastest_drop, fermentation.lag, fermentation.time_until_within, fermentation.time_to_share)
def test_times_of_the_reference_curve() -> None:
    """[C] Closed form beside the table: fastest 0.2750 °P/h, lag 11.818 h, within 0.1 °P at 71.774 h; shares by the curve itself."""
    end, start, rate, middle = REFERENCE
    assert fermentation.fastest_drop(end, start, rate) == pytest.approx(0.2750, abs=5e-5)
    assert fermentation.lag(rate, middle) == pytest.approx(11.818, abs=5e-4)
    assert fermentation.time_until_within(0.1, start - end, rate, middle) == pytest.approx(71.774, abs=5e-4)
    for share in (0.1, 0.5, 0.9):
        at = fermentation.time_to_share(share, rate, middle)
        assert fermentation.logistic(at, *REFERENCE) == pytest.approx(start - share * (start - end), abs=1e-9)


@pytest.mark.parametrize(
    ("t", "p", "reason"),
    [
        ([0, 10, 20, 30, 40], [12, 10, 7, 4, 3], "too few"),
        ([0, 10, 20, 30, 40, 50, 60], [12.0] * 7, "don't change"),
        ([0, 10, 20, 30, 40, 50, np.nan], [12, 11, 9, 6, 4, 3, 3], "finite"),
        (list(range(0, 80, 10)), [12, 3, 12, 3, 12, 3, 12, 3], "no curve|don't tell|% of the drop|outside"),
        ([0, 1, 2, 3, 100, 101, 102, 103], [12, 12, 12, 12, 3, 3, 3, 3], "don't tell"),
        (list(range(0, 180, 10)), [12, 12, 11, 8.5, 7.6, 7.5, 7.5, 7.5, 7.5, 7.5, 7.5, 7.4, 6.5, 4, 3.1, 3, 3, 3], "no curve|% of the drop"),
        (list(range(0, 160, 10)), [13, 11, 13, 10, 8.5, 5, 5, 2.2, 4, 2, 4, 2, 4, 2, 4, 2], "more than 4 %"),
    ],
    ids=["five readings", "no change", "not a number", "up and down", "nothing between", "two waves", "far off"],
)
def test_a_fit_is_refused_with_its_reason(t: list[float], p: list[float], reason: str) -> None:
    """Readings that don't support the curve give none."""
    with pytest.raises(OutOfRangeError, match=reason):
        fermentation.fit_logistic(np.array(t, dtype=float), np.array(p, dtype=float))


@stands_for(fermentation.degree_days)
def test_degree_days_by_hand() -> None:
    """[C by hand] Two days rising from 10 to 20 °C and one at 20: 30 + 20 °C d, 15 + 15 above 5 °C less; nothing below the base."""
    t, celsius = np.array([0.0, 2.0, 3.0]), np.array([10.0, 20.0, 20.0])
    assert fermentation.degree_days(t, celsius) == pytest.approx(50.0)
    assert fermentation.degree_days(t, celsius, 5.0) == pytest.approx(35.0)
    assert fermentation.degree_days(t, celsius, 25.0) == 0.0
    with pytest.raises(OutOfRangeError):
        fermentation.degree_days(t[::-1], celsius)


@stands_for(series.medians)
def test_medians_of_times() -> None:
    """Rows of one time, in any order, become their median; intervals likewise, by numpy's median."""
    rng = np.random.default_rng(2)
    t, x = rng.integers(0, 20, 300) / 4.0, rng.normal(0.0, 1.0, 300)
    for width in (0.0, 1.0):
        key = np.floor(t) if width else t
        days, middle, counts = series.medians(t, x, width)
        shuffled = rng.permutation(300)
        again = series.medians(t[shuffled], x[shuffled], width)
        assert middle.tolist() == [float(np.median(x[key == one])) for one in np.unique(key)]
        assert middle.tolist() == again[1].tolist()
        assert (np.all(np.diff(days) > 0.0), int(counts.sum())) == (True, 300)


@stands_for(series.running_median)
def test_running_median_is_that_of_a_general_library() -> None:
    """Within the series scipy's median filter gives the same; a step of any height stays where it is."""
    x = np.random.default_rng(3).normal(0.0, 1.0, 100)
    assert series.running_median(x, 7)[3:-3].tolist() == median_filter(x, 7)[3:-3].tolist()
    step = np.repeat([0.0, 5.0], 20)
    assert series.running_median(step, 7).tolist() == step.tolist()


@stands_for(series.spikes)
def test_spikes_are_those_of_the_definition() -> None:
    """The identifier written out with scipy's scaled median absolute deviation marks the same values."""
    x = np.random.default_rng(4).standard_t(2, 400)
    wanted = []
    for index in range(400):
        near = x[min(max(index - 5, 0), 389) : min(max(index - 5, 0), 389) + 11]
        wanted.append(abs(x[index] - np.median(near)) > 3.0 * max(float(median_abs_deviation(near, scale="normal")), 0.2))
    assert series.spikes(x, 11, 0.2).tolist() == wanted
    assert 10 < sum(wanted) < 200


def test_no_spike_on_a_slope_a_level_or_a_step() -> None:
    """Nothing is marked on a straight slope, on a level of rounded values, or at a step that lasts."""
    slope = 1.050 - 0.0004 * np.arange(200)
    level = np.round(1.0123 + np.random.default_rng(6).normal(0.0, 0.00005, 200), 4)
    step = np.repeat([1.050, 1.060], 50)
    assert not any(series.spikes(x, 11, 0.0005).any() for x in (slope, level, step))


@stands_for(series.steps)
def test_steps_are_found_where_they_were_made() -> None:
    """Two steps amid noise on a slope: place to one value, height to three standard errors; none without them."""
    rng = np.random.default_rng(7)
    x = 1.050 - 1e-4 * np.arange(400) + rng.normal(0.0, 3e-4, 400)
    assert not len(series.steps(x, 8, 0.0025)[0])
    x[120:] += 0.008
    x[300:] -= 0.006
    at, heights = series.steps(x, 8, 0.0025)
    assert np.abs(at - [120, 300]).max() <= 1
    assert heights == pytest.approx([0.008, -0.006], abs=1e-3)


@stands_for(series.local_line)
def test_local_regression_keeps_lines_and_agrees_with_a_general_library() -> None:
    """Exact on lines and levels; with all weights alike it would be a filter of scipy, from which the tricube differs little."""
    t = np.cumsum(np.random.default_rng(8).uniform(0.5, 1.5, 60))
    values, slopes = series.local_line(t, 3.0 - 0.2 * t, 9)
    assert values == pytest.approx(3.0 - 0.2 * t, abs=1e-12)
    assert slopes == pytest.approx(np.full(60, -0.2), abs=1e-12)
    assert series.local_line(t, np.full(60, 1.0123), 9)[0].tolist() == [1.0123] * 60
    wave = np.sin(np.arange(200) / 15.0)
    smooth, slope = series.local_line(np.arange(200.0), wave, 9)
    assert smooth[5:-5] == pytest.approx(savgol_filter(wave, 9, 1)[5:-5], abs=0.01)
    assert slope[5:-5] == pytest.approx(np.cos(np.arange(200) / 15.0)[5:-5] / 15.0, abs=0.001)


@stands_for(series.robust_regression)
def test_robust_regression_is_that_of_a_general_library() -> None:
    """scipy's least squares with Huber's loss gives the same line; without outliers it is the plain one with its standard errors."""
    rng = np.random.default_rng(9)
    t = np.linspace(0.0, 10.0, 20)
    design = np.column_stack([np.ones(20), t])
    y = 3.0 + 0.5 * t + rng.normal(0.0, 0.1, 20)
    y[[4, 11]] += 3.0
    u = np.full(20, 0.1)
    found = series.robust_regression(design, y, u)
    library = least_squares(lambda b: (y - design @ b) / u, [0.0, 0.0], loss="huber", f_scale=1.345, xtol=1e-14, ftol=1e-14, gtol=1e-12)
    assert found.values == pytest.approx(library.x, abs=1e-6)
    assert found.values == pytest.approx([3.0, 0.5], abs=0.15)
    calm = series.robust_regression(design, design @ [3.0, 0.5], u)
    assert calm.values == pytest.approx([3.0, 0.5], abs=1e-9)
    assert calm.covariance == pytest.approx(np.linalg.inv(design.T @ design) * 0.01, rel=1e-9)


@stands_for(series.thinned)
def test_thinning_keeps_every_extreme_of_every_column() -> None:
    """By the definition, column by column: the first, the last, a lowest and a highest value are all kept, and little else."""
    rng = np.random.default_rng(10)
    t = np.sort(rng.uniform(0.0, 30.0, 20_000))
    x = rng.normal(0.0, 1.0, 20_000)
    kept = series.thinned(t, x, 100)
    assert len(kept) <= 400
    assert np.all(np.diff(kept) > 0)
    column = np.minimum(((t - t[0]) / (t[-1] - t[0]) * 100).astype(int), 99)
    for one in range(100):
        inside = np.flatnonzero(column == one)
        left = kept[column[kept] == one]
        assert (left[0], left[-1]) == (inside[0], inside[-1])
        assert (x[left].min(), x[left].max()) == (x[inside].min(), x[inside].max())
