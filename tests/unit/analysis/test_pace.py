"""The drop a day: between readings, along a logger, and its doubt."""

import numpy as np
import pytest

from generator.analysis.pace import paces, rates
from tests.unit.analysis.ferments import Sensor, by_hand, falling, hours_of, logged, understood
from tests.unit.analysis.support import read

TRUTH = falling(1.052, 1.011, 45.0, 0.11)


def test_the_drop_between_two_readings() -> None:
    """12 points in three days are 4 a day, give or take both doubts in quadrature over the days; ten minutes later is no reading of its own."""
    rows = [(0, "2026-03-01T18:00", 1.050), (1, "2026-03-04T18:00", 1.038), (2, "2026-03-04T18:10", 1.036)]
    found = paces(understood(tuple(read(2 + line, "fermenter", "gravity", f"{sg} SG", time=time) for line, time, sg in rows)))
    assert len(found) == 1
    assert (found[0].first, found[0].last) == (0.0, 3.0)
    assert found[0].rate == pytest.approx(0.004, rel=0.01)
    assert found[0].half_width == pytest.approx(0.001 * 2.0**0.5 / 3.0, rel=0.02)


def test_drops_add_up_to_the_whole() -> None:
    """Rates times their days give back the fall from the first gravity to the last."""
    course = understood(by_hand(TRUTH, hours_of(12.0, every=1.5), 0.001, np.random.default_rng(5)))
    found = paces(course)
    assert sum(one.rate * (one.last - one.first) for one in found) == pytest.approx(float(course.hand.gravity[0] - course.hand.gravity[-1]))
    assert [one.attenuation for one in found] == course.attenuation[1:].tolist()


def test_the_rate_along_a_logger_is_that_of_the_truth() -> None:
    """Within a point a day of the known slope, but for the first and last day, a gap and a jump between; no point is missing."""
    sensor = Sensor(noise=0.0005, gaps=((130.0, 140.0),), jump=(200.0, 0.006))
    readings = by_hand(TRUTH, hours_of(12.0, every=3.0), 0.001, np.random.default_rng(6))
    course = understood(readings, logged(TRUTH, 12.0, sensor, np.random.default_rng(7)))
    assert course.logger is not None
    days, found = course.logger.node_days, rates(course.logger)
    hours = days * 24.0
    truth = (TRUTH.gravity(hours - 0.5) - TRUTH.gravity(hours + 0.5)) * 24.0
    steady = hours > 90.0
    for edge in (130.0, 140.0, 200.0, 288.0):
        steady &= np.abs(hours - edge) > 14.0
    assert len(found) == len(days)
    assert float(np.abs(found - truth)[steady].max()) < 0.001
    assert float(found.max()) == pytest.approx(float(truth.max()), rel=0.1)
