"""The fermentation as curves, rows and words."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from generator.analysis.course import Course
from generator.analysis.doubt import COVERAGE_FACTOR
from generator.analysis.pace import paces, rates
from generator.analysis.report import Report
from generator.charts.views import Curves, Drop, Event, Mark, Pace
from generator.pages.course_contract import FermentationRow
from generator.pages.formatting import BLANK, Cell, cell, clock, fixed, plural, short_day
from generator.records.models import Hop
from generator.records.schedule import DAY, moment
from generator.science import series

_COLUMNS = 600
"""Of the widest chart: more can't be seen."""
_NEAR = 1.0
"""Days: a written event so near to a planned one stands for it."""


def shown(course: Course | None) -> bool:
    """Whether there is enough of it to draw."""
    return course is not None and len(course.curve.days) > 1


def curves(course: Course, planned_final: float | None, hops: Sequence[Hop] = ()) -> Curves:
    """What the chart shows.

    Args:
        course: the fermentation.
        planned_final: final gravity by the plan, SG.
        hops: of the plan, whose dry hops are events.
    """
    log, expected = course.logger, course.expected
    forced = expected is not None and expected.origin == "the forced ferment"
    days, celsius = course.temperatures.days, course.temperatures.celsius
    kept = series.thinned(days, celsius, _COLUMNS) if len(days) > 1 else np.zeros(0, dtype=np.intp)
    return Curves(
        tuple(Mark(*values) for values in zip(*_hand(course), course.estimates, strict=True)),
        ()
        if log is None
        else tuple(Mark(*values) for values in zip(_list(log.node_days), _list(log.smooth), _list(course.logger_half_width), strict=True)),
        tuple(Mark(float(days[index]), float(celsius[index])) for index in kept),
        course.temperatures.logged,
        expected.gravity if expected is not None and (forced or planned_final is None) else planned_final,
        "expected" if forced else "planned",
        _spikes(course),
        log.gaps if log else (),
        events(course, hops),
    )


def _list(values: series.Vector) -> list[float]:
    return [float(value) for value in values]


def _hand(course: Course) -> tuple[list[float], list[float], list[float]]:
    return _list(course.hand.days), _list(course.hand.gravity), _list(COVERAGE_FACTOR * course.hand.doubt)


def _spikes(course: Course) -> tuple[Mark, ...]:
    """The marked rows where they lie once the logger is corrected."""
    log = course.logger
    if log is None or not log.spike.any():
        return ()
    days = log.days[log.spike]
    values = log.gravity[log.spike] - log.correction.at(days)
    kept = series.thinned(days, values, _COLUMNS)
    return tuple(Mark(float(days[index]), float(values[index])) for index in kept)


def events(course: Course, hops: Sequence[Hop]) -> tuple[Event, ...]:
    """What was noted, the packaging, and dry hops that were planned where nothing was noted near them; those within the chart."""
    noted = [Event(one.day, _clause(one.row.note)) for one in course.told if one.row.is_note and one.row.stage == "fermenter" and one.row.note]
    if course.packaged is not None:
        noted.append(Event(course.packaged, "packaged"))
    planned = [Event(day, "dry hops planned", planned=True) for day in _dry_hops(course, hops)]
    free = [one for one in planned if not any(abs(one.days - other.days) < _NEAR for other in noted)]
    last = max(float(course.curve.days[-1]), *(one.days for one in noted), 0.0)
    return tuple(sorted((one for one in [*noted, *free] if -1.0 <= one.days <= last), key=lambda one: (one.days, one.text)))


def _clause(note: str) -> str:
    """The first clause of a note, so that it fits a label; the timeline holds the whole."""
    for sign in (";", ",", ". "):
        note = note.split(sign, 1)[0]
    return note.strip().rstrip(".")


def _dry_hops(course: Course, hops: Sequence[Hop]) -> list[float]:
    found = set()
    for hop in hops:
        when = moment(hop.when) if hop.added == "fermenter" and hop.when else None
        origin = None if when is None else {"pitch": 0.0, "package": course.packaged}.get(when.step)
        if when is not None and origin is not None:
            found.add(round(origin + when.minutes / DAY, 3))
    return sorted(found)


def pace(course: Course, curve: Curves) -> Pace | None:
    """What the chart of the rate shows; None with fewer than three readings and no logger."""
    drops = paces(course)
    if course.logger is None and len(drops) < 2:
        return None
    names = ((course.kinetics.lag, "lag over"), (course.kinetics.half, "half of the drop"), (course.kinetics.nine_tenths, "nine tenths"))
    reached = tuple(Event(found.value / 24.0, name) for found, name in names if found is not None and 0.0 <= found.value / 24.0 <= curve.span[1])
    if course.logger is None:
        steps = tuple(Drop(one.first, one.last, 1000.0 * one.rate, 1000.0 * one.half_width) for one in drops)
        return Pace(steps, (), (), reached, curve.span)
    slopes = tuple(Mark(day, 1000.0 * rate) for day, rate in zip(_list(course.logger.node_days), _list(rates(course.logger)), strict=True))
    return Pace((), slopes, course.logger.gaps, reached, curve.span)


def rows(course: Course) -> tuple[FermentationRow, ...]:
    """Every reading by hand, and one row a day of a logger."""
    found = [
        (day, _row(course, day, "hand" + ", an estimate" * guess, sg, doubt))
        for day, sg, doubt, guess in zip(*_hand(course), course.estimates, strict=True)
    ]
    warm = course.temperatures
    if not warm.logged:
        found += [(float(day), _row(course, float(day), "hand", celsius=float(value))) for day, value in zip(warm.days, warm.celsius, strict=True)]
    found += _logged(course)
    return tuple(row for _, row in sorted(found, key=lambda pair: pair[0]))


def _logged(course: Course) -> list[tuple[float, FermentationRow]]:
    """Of each day of a logger the first point, corrected and smoothed."""
    log, warm, found = course.logger, course.temperatures, []
    if log is None:
        return []
    _, firsts = np.unique(np.floor(log.node_days), return_index=True)
    for index in firsts:
        day = float(log.node_days[index])
        near = int(np.argmin(np.abs(warm.days - day))) if warm.logged else 0
        celsius = float(warm.celsius[near]) if warm.logged else None
        found.append((day, _row(course, day, "logger", float(log.smooth[index]), float(course.logger_half_width[index]), celsius)))
    return found


def _row(course: Course, day: float, by: str, sg: float | None = None, doubt: float | None = None, celsius: float | None = None) -> FermentationRow:
    when = course.start + timedelta(days=day) + timedelta(seconds=0.5)
    return FermentationRow(
        f"{short_day(when)} {clock(when)}",
        cell(fixed(day, 1)),
        _optional(sg, "{:.4f}"),
        _optional(doubt, "±{:.3f}"),
        BLANK if celsius is None else cell(fixed(celsius, 1)),
        by,
    )


def _optional(value: float | None, form: str) -> Cell:
    return BLANK if value is None else cell(form.format(value))


def _ends(course: Course) -> tuple[float, float, float]:
    """First and last gravity, by hand where one was read, and the days between."""
    hand = len(course.hand.days) > 1
    days, gravity = (course.hand.days, course.hand.gravity) if hand else (course.curve.days, course.curve.gravity)
    return float(gravity[0]), float(gravity[-1]), float(days[-1] - days[0])


def caption(course: Course, curve: Curves) -> tuple[str, str]:
    """What it is, and what to look at."""
    first, last, days = _ends(course)
    dots = "Filled dots are readings of wort, open ones estimates by refractometer" if any(course.estimates) else "Dots are readings"
    logged = course.logger is not None
    parts = [f"{dots}, {'whiskers' if logged else 'the pale band'} their doubt"] if len(course.hand.days) else []
    if course.logger is not None:
        corrected = "corrected by them" if course.logger.correction.compared else "never compared with a reading"
        parts.append(f"the line is the logger, {corrected}, in the band of its doubt")
    if curve.spikes:
        parts.append("small squares are its spikes")
    if curve.planned_final is not None:
        parts.append(f"the dashed rule is the {curve.meant} final gravity")
    see = "; ".join(parts)
    return f"From {first:.3f} to {last:.3f} in {_days(days)}.", f"{see[:1].upper()}{see[1:]}."


def _days(days: float) -> str:
    return f"{days:.1f} days" if days < 2.0 else f"{days:.0f} days"


def description(course: Course, curve: Curves) -> str:
    """The chart in words, for those who can't see it."""
    first, last, days = _ends(course)
    hand = plural(len(course.hand.days), "reading").capitalize()
    words = f"{hand}{' and a logger' if course.logger else ''} over {_days(days)}, from {first:.3f} to {last:.3f}"
    plan = f"; {curve.planned_final:.3f} was {curve.meant}" if curve.planned_final is not None else ""
    told = f". Events: {'; '.join(f'day {one.days:.1f}, {one.text}' for one in curve.events)}" if curve.events else ""
    warm = course.temperatures.celsius
    temperature = f". Temperatures from {fixed(float(warm.min()), 1)} to {fixed(float(warm.max()), 1)} °C" if len(warm) > 1 else ""
    return f"{words}{plan}{temperature}{told}."


def rate_description(course: Course) -> str:
    """The chart of the rate in words."""
    drops = paces(course)
    if not drops:
        return "Less than a day was logged."
    fastest = max(drops, key=lambda one: one.rate)
    return (
        f"The drop is largest from day {fixed(fastest.first, 1)} to day {fixed(fastest.last, 1)}: {fixed(1000.0 * fastest.rate, 1)} points a day; "
        f"at the end it is {fixed(1000.0 * drops[-1].rate, 1)}."
    )


def note(course: Course) -> str:
    """What the table leaves out."""
    if course.logger is None:
        return ""
    return (
        f"Of the logger’s {len(course.logger.days)} rows the table holds one point a day, corrected and smoothed; all of them are in gravity-log.csv."
    )


def planned_final(report: Report) -> float | None:
    """The final gravity by the plan."""
    return report.figures["final_gravity"].plan
