"""Doubt: what the samples must do, against closed forms."""

import math

import numpy as np
import pytest

from generator.analysis.doubt import Absent, Sampler, estimate
from generator.records.fields import Doubt
from tests.unit.analysis.support import brewhouse, good, known, plan, read


def test_the_reading_itself_is_the_best_estimate() -> None:
    """Element 0 is the reading; the interval is its doubt, symmetric."""
    found = estimate(Sampler().normal(20.0, 0.4))
    assert found.value == 20.0
    assert (found.low, found.high) == (pytest.approx(19.6, abs=0.002), pytest.approx(20.4, abs=0.002))


def test_independent_doubts_add_in_quadrature() -> None:
    """Two independent readings: half-widths 3 and 4 give 5 (JCGM 100, closed form)."""
    sampler = Sampler()
    total = sampler.normal(100.0, 3.0) + sampler.normal(200.0, 4.0)
    assert estimate(total).half_width == pytest.approx(5.0, rel=0.01)


def test_a_reading_used_twice_counts_once() -> None:
    """The same sample cancels in a quotient with itself; two independent ones don't."""
    sampler = Sampler()
    one, other = sampler.normal(20.0, 0.4), sampler.normal(20.0, 0.4)
    assert estimate(one / one).half_width == 0.0
    assert estimate(one / other).half_width == pytest.approx(0.02 * math.sqrt(2.0), rel=0.02)


def test_four_normals_of_the_supplement() -> None:
    """JCGM 101 clause 9.2.2: four standard normals sum to ±3.92 (printed value from memory)."""
    sampler = Sampler()
    total = sum((sampler.normal(0.0, 1.959964) for _ in range(4)), 0.0)
    found = sampler.weigh({"total": total})["total"].estimate
    assert (found.low, found.high) == (pytest.approx(-3.92, abs=0.03), pytest.approx(3.92, abs=0.03))


def test_columns_are_uncorrelated() -> None:
    """No two of a hundred readings share their draws, also beyond the first block of columns."""
    sampler = Sampler()
    draws = np.array([sampler.normal(0.0, 1.0) for _ in range(100)])[:, 1:]
    correlation = np.corrcoef(draws) - np.eye(100)
    assert np.abs(correlation).max() < 0.05


def test_draws_stay_where_something_could_be_read() -> None:
    """A draw outside of the physical range is set to its end; the reading stays."""
    sample = Sampler().normal(0.1, 1.0, low=0.0)
    assert np.min(sample) == 0.0
    assert estimate(sample).value == 0.1


def test_no_number_is_absent() -> None:
    """A sample that isn't finite is absent, never NaN."""
    with pytest.raises(Absent):
        estimate(np.array([1.0, np.nan, 2.0]))


def test_shared_volume_narrows_the_evaporation_of_a_repeat() -> None:
    """Mash efficiency and its potential share the grist: the extract before the boil over the potential keeps only what differs."""
    wanted = plan(grist=[good("5 kg")])
    rows = (read(2, "pre-boil", "volume", "25 L"), read(3, "pre-boil", "gravity", "1.050"))
    house = brewhouse(instruments={"extract": "0.000001 %", "mass": "5 %", "gravity": "0.000001 SG", "volume": "0.000001 %"})
    figures = known(wanted, rows, house)
    efficiency, grist = figures["mash_efficiency"].measured, figures["grist_mass"].measured
    assert efficiency is not None
    assert grist is not None
    assert efficiency.half_width / efficiency.value == pytest.approx(grist.half_width / grist.value, rel=0.02)


def test_lautering_ignores_what_conversion_and_mash_efficiency_share() -> None:
    """Both stand over the same potential: an unknown malt extract leaves their quotient as it is."""
    wanted = plan(grist=[good("5 kg")], liquor={"mash": "15 L"})
    rows = (
        read(2, "pre-boil", "volume", "25 L", doubt=Doubt(1e-6, "%")),
        read(3, "pre-boil", "gravity", "1.050", doubt=Doubt(1e-6, "SG")),
        read(4, "first-wort", "gravity", "1.075", doubt=Doubt(1e-6, "SG")),
        read(5, "mash", "liquor", "15 L", doubt=Doubt(1e-6, "%")),
        read(6, "mash", "grist", "5 kg", doubt=Doubt(1e-6, "%")),
    )
    figures = known(wanted, rows, brewhouse(instruments={"extract": "5 %"}))
    conversion, lauter = figures["conversion_efficiency"].measured, figures["lauter_efficiency"].measured
    assert conversion is not None
    assert lauter is not None
    assert conversion.half_width > 4.0
    assert lauter.half_width < 0.005  # 1e-6 SG of 0.05 is left


def test_the_control_variate_takes_out_the_sampling_error() -> None:
    """For a linear figure the weighed interval is the exact one, closer than the plain quantiles of the same draws."""
    sampler = Sampler()
    total = sum((sampler.normal(0.0, half) for half in (1.0, 2.0, 0.5, 1.5)), 0.0)
    exact = math.sqrt(1.0 + 4.0 + 0.25 + 2.25)
    weighed, plain = sampler.weigh({"": total})[""].estimate, estimate(total)
    assert weighed.high == pytest.approx(exact, rel=0.002)
    assert abs(weighed.high - exact) <= abs(plain.high - exact)


def test_shares_of_the_variance_add_up_by_source() -> None:
    """9 of 10 parts of the variance from one instrument, two readings of it taken together; to first order they sum to 1."""
    sampler = Sampler()
    volumes = sampler.normal(0.0, 1.0, source="volumes") + sampler.normal(0.0, math.sqrt(8.0), source="volumes")
    total = volumes + sampler.normal(0.0, 1.0, source="scales")
    shares = sampler.weigh({"": total})[""].shares
    assert list(shares) == ["volumes", "scales"]
    assert shares["volumes"] == pytest.approx(0.9, abs=0.01)
    assert sum(shares.values()) == pytest.approx(1.0, abs=0.02)


def test_a_figure_that_is_not_finite_is_left_out() -> None:
    """The others are weighed all the same."""
    sampler = Sampler()
    found = sampler.weigh({"good": sampler.normal(1.0, 0.1), "bad": np.array([1.0, np.inf]), "plain": 2.0})
    assert list(found) == ["good", "plain"]
    assert found["plain"].estimate.half_width == 0.0
