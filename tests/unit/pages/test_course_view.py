"""The fermentation on a page: state, curve, events, numbers and rows, in words and as data."""

import json
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from generator.analysis.course import Course, Told
from generator.analysis.logger import Known
from generator.charts.chart import Chart, Drawing
from generator.pages import course_view, fermentation_view
from generator.pages.course_data import course_data
from generator.records.models import Hop
from generator.records.readings import Reading
from tests.unit.analysis.ferments import START, Sensor, by_hand, falling, hours_of, logged, understood
from tests.unit.analysis.support import read
from tests.unit.pages.support import reports

TRUTH = falling(1.052, 1.011, 45.0, 0.11)
CHART = Chart("fermentation", "title", "words", Drawing(1, 1, ""), Drawing(1, 1, ""))


def rng() -> np.random.Generator:
    """Noise that is the same in every test."""
    return np.random.default_rng(3)


def hand(*days: float, doubt: float = 0.001) -> tuple[Reading, ...]:
    """Readings of the truth by hydrometer."""
    return by_hand(TRUTH, [24.0 * day for day in days], doubt, rng())


def told(course: Course, *events: tuple[float, str, str]) -> Course:
    """The course with events: day, stage, and a note or nothing."""
    rows = [
        Told(day, Reading(50 + index, stage, "note" if note else "volume", None, "", "", note=note))
        for index, (day, stage, note) in enumerate(events)
    ]
    return replace(course, told=tuple(rows))


def shown(course: Course) -> Any:
    """The view of a page whose batch went so."""
    found = course_view.course_view(replace(reports()["2026-07-11-long-rope-2"], course=course), CHART, None)
    assert found is not None
    return found


def test_by_hand_in_words() -> None:
    """Dots and band; estimates are named as such; temperatures by hand stand in rows of their own."""
    bricks = [
        replace(read(2 + index, "fermenter", "gravity", f"{brix} °Bx"), time=START + timedelta(days=3.0 * index))
        for index, brix in enumerate((13.0, 7.0, 6.4))
    ]
    warm = read(9, "fermenter", "temperature", "21 °C", time="2026-03-02 18:00")
    course = understood((*bricks, warm))
    curve = fermentation_view.curves(course, 1.011)
    what, see = fermentation_view.caption(course, curve)
    assert what.startswith("From 1.05")
    assert what.endswith(" in 6 days.")
    assert see == (
        "Filled dots are readings of wort, open ones estimates by refractometer, the pale band their doubt; "
        "the dashed rule is the planned final gravity."
    )
    assert [row.by for row in fermentation_view.rows(course)] == ["hand", "hand", "hand, an estimate", "hand, an estimate"]
    assert [row.temperature.text for row in fermentation_view.rows(course)] == ["", "21.0", "", ""]
    assert fermentation_view.description(course, curve).startswith("Three readings over 6 days, from 1.05")
    assert fermentation_view.description(course, curve).endswith("; 1.011 was planned.")
    assert fermentation_view.note(course) == ""


def test_a_logger_in_words() -> None:
    """With a logger: whiskers, the corrected line in its band, spikes, one row of the table a day, and what is left out."""
    course = understood(hand(0.0, 3.0, 6.0, 9.0), logged(TRUTH, 9.5, Sensor(spikes=5), rng()))
    curve = fermentation_view.curves(course, None)
    _, see = fermentation_view.caption(course, curve)
    assert see.startswith(
        "Dots are readings, whiskers their doubt; the line is the logger, corrected by them, in the band of its doubt; small squares"
    )
    assert len(fermentation_view.rows(course)) == 4 + 10
    assert "912 rows the table holds one point a day" in fermentation_view.note(course)
    assert curve.temperature_is_logged
    assert len(curve.spikes) >= 5
    assert [mark.half_width for mark in curve.logged] == course.logger_half_width.tolist()
    alone = understood((), logged(TRUTH, 9.5, Sensor(spikes=0, noise=0.0003), rng()))
    _, see = fermentation_view.caption(alone, fermentation_view.curves(alone, None))
    assert see.startswith("The line is the logger, never compared with a reading")
    assert not fermentation_view.shown(understood(hand(0.0)))


def test_where_it_should_end_is_planned_or_expected() -> None:
    """A forced ferment tells more than the plan; without one the plan's final gravity is drawn, and without a plan nothing."""
    rows = hand(0.0, 5.0, 9.0)
    forced = fermentation_view.curves(understood(rows, forced_gravity="1.012"), 1.010)
    planned = fermentation_view.curves(understood(rows), 1.010)
    assert (forced.planned_final, forced.meant) == (pytest.approx(1.012, abs=1e-4), "expected")
    assert (planned.planned_final, planned.meant) == (1.010, "planned")
    assert fermentation_view.curves(understood(rows), None).planned_final is None


def test_events_are_notes_the_packaging_and_planned_dry_hops() -> None:
    """The first clause of a note; a planned addition only where nothing was noted within a day of it; told from pitch or from packaging."""
    course = told(
        understood(hand(0.0, 5.0, 14.0)),
        (2.0, "fermenter", "Foam; hose fitted."),
        (14.0, "package", ""),
        (14.1, "package", ""),
        (14.2, "package", "x"),
    )
    hops = [
        Hop.model_validate({"name": "Cascade", "mass": "50 g", "added": "fermenter", "when": when})
        for when in ("pitch + 7 d", "pitch + 7 d", "package - 3 d", "pitch + 2 d")
    ]
    found = fermentation_view.events(course, hops)
    assert [(one.days, one.text, one.planned) for one in found] == [
        (2.0, "Foam", False), (7.0, "dry hops planned", True), (11.0, "dry hops planned", True), (14.0, "packaged", False),
    ]  # fmt: skip
    assert fermentation_view.events(replace(course, told=course.told[:1]), hops[2:3]) == fermentation_view.events(
        replace(course, told=course.told[:1]), ()
    )


def test_the_state_is_a_sentence_and_says_what_to_check() -> None:
    """Before the packaging what to look at; after it only that it was packaged so, and nothing where it was stable."""
    stuck = understood(by_hand(falling(1.052, 1.030, 30.0, 0.2), hours_of(12.0, every=2.0), 0.001, rng()), attenuation="78 %")
    assert shown(stuck).state.startswith("Stopped early on ")
    assert shown(stuck).check.startswith("Don’t bottle.")
    assert not shown(stuck).settled
    packed = told(stuck, (12.0, "package", ""))
    assert shown(packed).check == "It was packaged in this state."
    done = understood(by_hand(TRUTH, hours_of(14.0, every=2.0), 0.001, rng()), attenuation="78 %")
    assert (shown(told(done, (14.0, "package", ""))).check, shown(done).settled) == ("", True)
    assert shown(understood(hand(0.0))).state == "Not to be told yet."
    assert course_view.course_view(replace(reports()["2026-07-11-long-rope-2"], course=None), CHART, None) is None
    assert course_view.course_view(reports()["2026-07-11-long-rope-2"], None, None) is None


def test_an_end_is_predicted_only_while_it_runs() -> None:
    """Running, with a curve: a date between two dates, which hold the truth; at rest or packaged: none."""
    running = understood(by_hand(TRUTH, hours_of(3.4, every=0.2), 0.0008, rng()))
    view = shown(running)
    assert view.state in ("Active.", "Slowing.")
    assert view.end.startswith("By its curve it ends on ")
    rows = {row.name: row for row in view.numbers}
    assert rows["Predicted end"].value.text in view.end
    assert view.numbers_notes == ("By a logistic curve.",)
    assert shown(told(running, (3.4, "package", ""))).end == ""
    assert "Predicted end" not in {row.name for row in shown(told(running, (3.4, "package", ""))).numbers}
    few = shown(understood(hand(0.0, 1.5, 3.0)))
    assert few.end == ""
    assert few.numbers_notes[1] == "No end is predicted: without a fitted curve nothing is predicted."


def test_numbers_carry_no_more_digits_than_their_doubt() -> None:
    """Each with 95 % where its standard error is known; what isn't known has no row."""
    known = understood(by_hand(TRUTH, hours_of(12.0, every=0.5), 0.001, rng()))
    rows = {row.name: row for row in course_view.numbers(known)}
    half = known.kinetics.half
    assert half is not None
    assert half.error is not None
    assert rows["Half of the drop after"].doubt.text == f"±{1.959964 * half.error:.1f}"
    assert float(rows["Half of the drop after"].value.text) == pytest.approx(45.0, abs=1.0)
    assert rows["Half of the drop after"].unit == "h"
    bare = replace(known, kinetics=replace(known.kinetics, half=None, lag=Known(20.4)))
    rows = {row.name: row for row in course_view.numbers(bare)}
    assert "Half of the drop after" not in rows
    assert (rows["Lag"].value.text, rows["Lag"].doubt.text) == ("20", "")


def test_degree_days_need_most_of_the_time() -> None:
    """Two temperatures of one night in a fortnight aren't the warmth of a fermentation; those of most of it are, with their days."""
    night = [
        read(40, "fermenter", "temperature", "20 °C", time="2026-03-02 18:00"),
        read(41, "fermenter", "temperature", "20 °C", time="2026-03-03 06:00"),
    ]
    whole = [night[0], replace(night[1], time=START + timedelta(days=11))]
    assert not [row for row in course_view.numbers(understood((*hand(0.0, 12.0), *night))) if "Degree-days" in row.name]
    found = next(row for row in course_view.numbers(understood((*hand(0.0, 12.0), *whole))) if "Degree-days" in row.name)
    assert (found.name, found.value.text, found.unit) == ("Degree-days above 0 °C, day 1.0 to 11.0", "200", "°C d")


def test_a_logger_in_numbers() -> None:
    """Offset, jump and scatter as rows; spikes, gaps, double and left-out rows in sentences."""
    sensor = Sensor(offset=0.004, jump=(150.0, 0.008), gaps=((60.0, 70.0),), shuffled=True, spikes=6)
    course = understood(by_hand(TRUTH, hours_of(12.0, every=2.0), 0.0006, rng()), logged(TRUTH, 12.0, sensor, rng()))
    rows = {row.name: row for row in course_view.numbers(course)}
    assert float(rows["Logger above the readings at pitching"].value.text) == pytest.approx(4.0, abs=1.0)
    jump = next(row for name, row in rows.items() if name.startswith("Its jump on day 6."))
    assert (float(jump.value.text), jump.unit) == (pytest.approx(8.0, abs=1.0), "points")
    assert float(rows["Scatter of one row"].value.text) == pytest.approx(0.6, abs=0.1)
    text = " ".join(course_view.notes(course))
    assert "rows beyond the first of a time" in text
    assert "rows out of order" in text
    assert "spikes marked and kept out of the curve" in text
    assert "Nothing was logged from day 2.5 to 2.9." in text
    assert "so its offset isn’t known" in " ".join(course_view.notes(understood((), logged(TRUTH, 9.0, Sensor(), rng()))))


def test_the_rate_is_drawn_of_three_readings_or_a_logger() -> None:
    """Two readings give one level, which is no course of anything; reached shares are events of the chart."""
    two, three = understood(hand(0.0, 6.0)), understood(hand(0.0, 2.0, 6.0))
    assert fermentation_view.pace(two, fermentation_view.curves(two, None)) is None
    pace = fermentation_view.pace(three, fermentation_view.curves(three, None))
    assert pace is not None
    assert [(drop.first, drop.last) for drop in pace.drops] == [(0.0, 2.0), (2.0, 6.0)]
    assert fermentation_view.rate_description(three).startswith("The drop is largest from day 0.0 to day 2.0: ")
    course = understood(hand(0.0, 3.0, 6.0, 9.0), logged(TRUTH, 9.5, Sensor(), rng()))
    pace = fermentation_view.pace(course, fermentation_view.curves(course, None))
    assert pace is not None
    assert {event.text for event in pace.reached} == {"lag over", "half of the drop", "nine tenths"}
    assert len(pace.logged) == len(course.logger.node_days if course.logger else ())


def test_the_fermentation_as_data() -> None:
    """State, kinetics and the logger's correction, unrounded, as JSON without NaN; null without a fermentation."""
    course = understood(hand(0.0, 3.0, 6.0, 9.0), logged(TRUTH, 9.5, Sensor(), rng()), attenuation="78 %")
    found = course_data(course)
    assert found is not None
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["state"]["slug"] == course.state.slug
    assert found["state"]["words"] == course.state.words
    assert found["kinetics"]["half"]["value"] == (course.kinetics.half.value if course.kinetics.half else None)
    assert found["logger"]["offset"]["value"] == (
        course.logger.correction.offset.value if course.logger and course.logger.correction.offset else None
    )
    assert found["logger"]["times"] == 912
    assert course_data(None) is None
    running = course_data(understood(by_hand(TRUTH, hours_of(3.4, every=0.2), 0.0008, rng())))
    assert running is not None
    assert running["predicted_end"]["low"] < running["predicted_end"]["value"] < running["predicted_end"]["high"]
    assert running["logger"] is None
