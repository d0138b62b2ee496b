"""One fermentation: what is merged, marked and left out, what is said, and why something isn't known."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest

from generator.analysis.course import course, expected_end
from generator.analysis.plan_view import PlanView
from generator.records.gravity_log import LogRow
from tests.unit.analysis.ferments import START, Sensor, by_hand, falling, hours_of, logged, understood
from tests.unit.analysis.support import batch, brewhouse, plan, read

TRUTH = falling(1.052, 1.011, 45.0, 0.11)


def rng() -> np.random.Generator:
    """Noise that is the same in every test."""
    return np.random.default_rng(77)


def test_nothing_read_is_no_course() -> None:
    """Without any gravity that has a time there is nothing to understand."""
    wanted = plan()
    assert course(batch(wanted), PlanView(wanted, brewhouse())) is None
    row = read(2, "fermenter", "temperature", "19 °C", time="2026-03-01 18:00")
    assert course(batch(wanted, (row,)), PlanView(wanted, brewhouse())) is None


def test_one_gravity_says_nothing_of_the_state() -> None:
    """A single reading is a course of an unknown state, with what to do."""
    found = understood(by_hand(TRUTH, [0.0], 0.001, rng()))
    assert (found.state.slug, found.kinetics.method) == ("unknown", "interpolation")
    assert "two days apart" in found.state.check


def test_spikes_are_marked_and_kept() -> None:
    """All rows are still there, the struck ones are marked, and hardly any other."""
    log = logged(TRUTH, 10.0, Sensor(spikes=0), rng())
    struck = {100: 0.02, 101: -0.015, 500: 0.012, 800: -0.03}
    spoilt = tuple(row._replace(gravity=(row.gravity or 0.0) + struck.get(index, 0.0)) for index, row in enumerate(log))
    found = understood((), spoilt)
    assert found.logger is not None
    assert len(found.logger.days) == len(log)
    assert all(found.logger.spike[index] for index in struck)
    assert int(found.logger.spike.sum()) < 0.02 * len(log)


def test_the_order_of_rows_and_double_rows_change_nothing() -> None:
    """Shuffled rows, each of them twice, give the same smoothed series to the last bit, and are counted."""
    log = logged(TRUTH, 8.0, Sensor(minutes=30.0), rng())
    mixed = [row for row in log for _ in range(2)]
    rng().shuffle(mixed)  # type: ignore[arg-type]
    plain, shuffled = understood((), log).logger, understood((), tuple(mixed)).logger
    assert plain is not None
    assert shuffled is not None
    assert plain.smooth.tolist() == shuffled.smooth.tolist()
    assert (plain.duplicates, shuffled.duplicates) == (0, len(log))
    assert (plain.out_of_order, shuffled.out_of_order > 0) == (0, True)


def test_offset_and_drift_come_with_standard_errors() -> None:
    """A logger 4 points high that climbs 0.3 points a day is found out by the hydrometer, within three standard errors."""
    log = logged(TRUTH, 14.0, Sensor(offset=0.004, drift=3e-4), rng())
    found = understood(by_hand(TRUTH, hours_of(14.0, every=2.0), 0.0006, rng()), log).logger
    assert found is not None
    correction = found.correction
    assert correction.offset is not None
    assert correction.drift is not None
    assert correction.compared == 8
    for known, truth in ((correction.offset, 0.004), (correction.drift, 3e-4)):
        assert known.error is not None
        assert abs(known.value - truth) < 3.0 * known.error
        assert known.error < 0.0004


def test_a_restart_of_the_logger_is_a_step_and_is_corrected() -> None:
    """A jump by 8 points is found within half an hour and to a point, and the plateau after it stays level with the truth."""
    log = logged(TRUTH, 12.0, Sensor(offset=0.0, jump=(150.0, 0.008)), rng())
    found = understood(by_hand(TRUTH, hours_of(12.0, every=3.0), 0.001, rng()), log).logger
    assert found is not None
    assert found.correction.steps == pytest.approx([150.0 / 24.0], abs=0.6 / 24.0)
    assert found.correction.heights[0].value == pytest.approx(0.008, abs=0.001)
    assert found.smooth[-20:] == pytest.approx(TRUTH.gravity(found.node_days[-20:] * 24.0), abs=0.0008)


def test_gaps_are_known() -> None:
    """The hours in which nothing was sent."""
    found = understood((), logged(TRUTH, 8.0, Sensor(gaps=((50.0, 60.0),)), rng())).logger
    assert found is not None
    assert [(round(24 * first), round(24 * last)) for first, last in found.gaps] == [(50, 60)]


def test_water_before_and_air_after_are_left_out() -> None:
    """Rows of a float in water the day before, or after packaging, belong to no fermentation; they are counted."""
    log = logged(TRUTH, 8.0, Sensor(), rng())
    before = tuple(LogRow(1, START - timedelta(hours=hour), 1.000, 20.0) for hour in range(2, 12))
    after = tuple(LogRow(1, START + timedelta(days=8.5, hours=hour), 0.990, 20.0) for hour in range(10))
    packaged = read(9, "package", "gravity", "1.011", time=(START + timedelta(days=8.1)).isoformat())
    found = understood((*by_hand(TRUTH, [0.0, 96.0], 0.001, rng()), packaged), (*before, *log, *after))
    assert found.logger is not None
    assert found.logger.left_out == 20
    assert found.logger.days[-1] < 8.1


def test_offsets_of_time_run_on_evenly_where_the_clocks_change() -> None:
    """Rows with offsets on either side of a clock change lie as far apart as they were; hand readings without offset share the first clock."""
    winter, summer = timezone(timedelta(hours=1)), timezone(timedelta(hours=2))
    start = datetime(2026, 3, 28, 12, 0, tzinfo=winter)
    log = []
    for row in logged(TRUTH, 3.0, Sensor(minutes=60.0, spikes=0), rng()):
        time = start + (row.time - START)
        log.append(row._replace(time=time.astimezone(summer if time >= datetime(2026, 3, 29, 1, 0, tzinfo=UTC) else winter)))
    hand = read(2, "fermenter", "gravity", "1.052", time="2026-03-28 12:00")
    found = understood((hand,), tuple(log)).logger
    assert found is not None
    assert np.diff(found.days) == pytest.approx(np.full(len(log) - 1, 1.0 / 24.0))
    assert found.days[0] == pytest.approx(0.0)


def test_stuck_and_stable_differ_by_what_is_expected() -> None:
    """The same beer at rest is done or stopped early, by a forced ferment, by the yeast, and by the target of the plan."""
    rows = by_hand(falling(1.052, 1.016, 40.0, 0.12), hours_of(10.0, every=1.0), 0.001, rng())
    assert understood(rows, forced_gravity="1.0155").state.slug == "stable"
    stuck = understood(rows, forced_gravity="1.012").state
    assert stuck.slug == "stopped-early"
    assert "the forced ferment" in stuck.why
    assert "rouse" in stuck.check
    assert understood(rows, attenuation="68 %").state.slug == "stable"
    assert understood(rows, attenuation="82 %").state.slug == "stopped-early"


def test_what_is_expected_and_from_where() -> None:
    """A forced ferment goes before a target, and a target before the yeast's attenuation."""
    yeast = {"attenuation": "75 %"}
    by_yeast = expected_end(plan(yeast=yeast), 1.050)
    assert by_yeast is not None
    assert by_yeast.gravity == pytest.approx(1.0121, abs=2e-4)  # 12.39 °P · 0.25 = 3.10 °P
    target = {"final_gravity": "1.010"}
    both = expected_end(plan(yeast=yeast, target=target), 1.050)
    forced = expected_end(plan(yeast={**yeast, "forced_gravity": "1.008"}, target=target), 1.050)
    assert (both and both.gravity, forced and forced.gravity) == (1.010, 1.008)
    assert expected_end(plan(), 1.050) is None


def test_nothing_expected_is_said() -> None:
    """A beer at rest without any expectation is stable and told to be compared; a very sweet one is not done."""
    sound = understood(by_hand(TRUTH, hours_of(10.0, every=1.0), 0.001, rng())).state
    assert (sound.slug, "forced ferment" in sound.check) == ("stable", True)
    sweet = understood(by_hand(falling(1.060, 1.035, 40.0, 0.12), hours_of(10.0, every=1.0), 0.001, rng())).state
    assert sweet.slug == "stopped-early"


def test_two_readings_less_than_two_days_apart_prove_nothing() -> None:
    """Equal readings 40 hours apart are slowing, at 48 hours stable."""
    early = [read(2, "fermenter", "gravity", "1.052", time="2026-03-01 18:00"), read(3, "fermenter", "gravity", "1.012", time="2026-03-08 18:00")]
    for hours, slug in ((40, "slowing"), (48, "stable")):
        time = datetime(2026, 3, 8, 18, 0, tzinfo=None) + timedelta(hours=hours)  # noqa: DTZ001
        assert understood((*early, read(4, "fermenter", "gravity", "1.012", time=time.isoformat()))).state.slug == slug


def test_few_readings_are_interpolated_and_say_why() -> None:
    """Three readings: half of the drop lies on the straight line between two of them."""
    times = ("2026-03-01 18:00", "2026-03-05 18:00", "2026-03-08 18:00")
    rows = tuple(
        read(line, "fermenter", "gravity", sg, time=time) for line, (sg, time) in enumerate(zip(("1.050", "1.010", "1.010"), times, strict=True), 2)
    )
    found = understood(rows, attenuation="80 %").kinetics
    assert (found.method, found.lag, found.curve) == ("interpolation", None, None)
    assert "too few" in found.why
    assert found.half is not None
    assert found.half.value == pytest.approx(48.0, abs=0.01)


def test_temperature_gives_degree_days() -> None:
    """Ten days at 20 °C are 200 °C d; attenuation starts at 0 and ends at that of the readings."""
    log = tuple(replace_temperature(row) for row in logged(TRUTH, 10.0, Sensor(), rng()))
    found = understood(by_hand(TRUTH, [0.0], 0.001, rng()), log)
    assert found.temperatures.logged
    assert found.temperatures.degree_days == pytest.approx(20.0 * 10.0, rel=0.005)
    assert found.attenuation[0] == pytest.approx(0.0)
    assert found.attenuation[-1] == pytest.approx(78.0, abs=3.0)  # 12.86 to 2.82 °P


def replace_temperature(row: LogRow) -> LogRow:
    """The row at 20 °C."""
    return row._replace(temperature=20.0)


def test_the_end_is_dated_while_it_runs() -> None:
    """A running fermentation has an end with its interval in dates; one at rest has none."""
    running = understood((), logged(TRUTH, 2.8, Sensor(offset=0.0, spikes=0), rng()))
    assert running.predicted_end is not None
    value, low, high = running.predicted_end
    assert START < low < value < high
    done = understood((), logged(TRUTH, 10.0, Sensor(offset=0.0), rng()))
    assert done.predicted_end is None
    assert done.final is not None


def test_nothing_is_changed_by_a_second_look() -> None:
    """Same input, same result, and the records stay as they were."""
    log = logged(TRUTH, 6.0, Sensor(), rng())
    wanted = plan()
    made = replace(batch(wanted, by_hand(TRUTH, [0.0, 100.0], 0.001, rng())), log=log)
    one, other = (course(made, PlanView(wanted, brewhouse())) for _ in range(2))
    assert one is not None
    assert other is not None
    assert (one.state, one.curve.gravity.tolist()) == (other.state, other.curve.gravity.tolist())
    assert made.log == log


def test_a_vague_curve_is_not_used() -> None:
    """Seven readings of which one stands amid the drop don't tell when half was done, and no lag is made up."""
    hours = (0, 60, 168, 240, 360, 480, 600)
    sg = ("1.052", "1.022", "1.013", "1.012", "1.012", "1.011", "1.012")
    times = [(START + timedelta(hours=hour)).isoformat() for hour in hours]
    rows = tuple(read(line, "fermenter", "gravity", value, time=time) for line, (value, time) in enumerate(zip(sg, times, strict=True), 2))
    found = understood(rows).kinetics
    assert (found.method, found.lag) == ("interpolation", None)
    assert found.why
    assert found.half is not None
    assert 30.0 < found.half.value < 60.0


def test_two_days_to_the_minute_are_two_days() -> None:
    """Readings exactly 48 hours apart show rest, whatever the day of the first is as a binary fraction; 47.9 hours don't."""
    for hours, slug in ((48.0, "stable"), (47.9, "slowing")):
        for first in range(100, 200, 7):
            rows = [
                read(line, "fermenter", "gravity", f"{sg} SG", time=(START + timedelta(hours=hour)).isoformat())
                for line, (hour, sg) in enumerate(((0.0, 1.050), (first / 3.0, 1.010), (first / 3.0 + hours, 1.010)), 2)
            ]
            assert understood(tuple(rows)).state.slug == slug, (hours, first)


def test_what_was_noted_and_packaged_has_its_day() -> None:
    """Notes of the fermenter and rows of the packaging are told in order of time; notes of the brew day aren't."""
    rows = by_hand(TRUTH, [0.0, 96.0], 0.001, rng())
    noted = [
        replace(read(40 + index, "package", "volume", "19 L", time=(START + timedelta(hours=hour)).isoformat()), **changes)
        for index, (hour, changes) in enumerate(
            ((97.0, {}), (24.0, {"stage": "fermenter", "what": "note", "note": "Foam"}), (-2.0, {"stage": "boil", "what": "note", "note": "Cold"}))
        )
    ]
    found = understood((*rows, *noted))
    assert [(one.day, one.row.note) for one in found.told] == [(1.0, "Foam"), (pytest.approx(97.0 / 24.0), "")]
    assert found.packaged == pytest.approx(97.0 / 24.0)
    assert found.estimates == (False, False)


def test_the_doubt_of_a_corrected_logger_holds_that_of_its_comparison() -> None:
    """With many readings beside it the half-width lies near their standard error; never compared it is two points and more."""
    log = logged(TRUTH, 14.0, Sensor(offset=0.004), rng())
    beside = understood(by_hand(TRUTH, hours_of(14.0, every=2.0), 0.0006, rng()), log)
    alone = understood((), log)
    assert beside.logger is not None
    assert beside.logger.correction.offset is not None
    error = beside.logger.correction.offset.error
    assert error is not None
    assert 1.96 * error * 0.999 <= float(beside.logger_half_width.max()) < 0.0015
    assert float(alone.logger_half_width.min()) > 1.95 * 0.002
    assert len(alone.logger_half_width) == len(alone.logger.node_days if alone.logger else ())
