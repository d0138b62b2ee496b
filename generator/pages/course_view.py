"""Is it done, and how did it go: the state of a fermentation as sentences, its numbers and its pace as tables."""

from datetime import datetime
from typing import Literal

from generator.analysis.course import Course
from generator.analysis.doubt import COVERAGE_FACTOR
from generator.analysis.logger import Known, Logger
from generator.analysis.pace import paces
from generator.analysis.report import Report
from generator.charts.chart import Chart
from generator.pages import fermentation_view
from generator.pages.course_contract import CourseView, NumberRow, PaceRow
from generator.pages.formatting import BLANK, cell, day_month, fixed, places_for, plural, signed

Unit = Literal["h", "°P a day", "SG", "points", "points a day"]
_PLAIN: dict[Unit, int] = {"h": 0, "°P a day": 1, "SG": 3, "points": 1, "points a day": 1}
_MOST: dict[Unit, int] = {"h": 1, "°P a day": 2, "SG": 4, "points": 1, "points a day": 2}
_RUNNING = ("active", "slowing")
_COVERED = 0.5
"""Share of the fermentation whose temperature must be known for degree-days to say anything."""


def course_view(report: Report, chart: Chart | None, rate: Chart | None) -> CourseView | None:
    """All of the fermentation that a batch page shows; None where there is nothing to draw.

    Args:
        report: of the batch.
        chart: gravity and temperature.
        rate: the drop a day.
    """
    course = report.course
    if course is None or chart is None:
        return None
    curve = fermentation_view.curves(course, fermentation_view.planned_final(report), report.batch.plan.hops)
    return CourseView(
        chart,
        rate,
        _state(course),
        course.state.why,
        course.state.slug == "stable",
        _check(course),
        _end(course),
        fermentation_view.caption(course, curve),
        (
            _fastest(course),
            "The line is the logger, over the day about each point."
            if course.logger
            else "One level from each reading to the next, the pale band its doubt.",
        ),
        numbers(course),
        notes(course),
        tuple(_pace_rows(course)),
        fermentation_view.rows(course),
        fermentation_view.note(course),
    )


def _state(course: Course) -> str:
    words = course.state.words if course.state.slug != "unknown" else "not to be told yet"
    return f"{words[:1].upper()}{words[1:]}."


def _check(course: Course) -> str:
    """What to look at while something can be done; of a packaged beer only how it was packaged."""
    if course.packaged is None:
        return course.state.check
    return "" if course.state.slug == "stable" else "It was packaged in this state."


def _end(course: Course) -> str:
    """When it should end, while it runs."""
    end = course.predicted_end
    if end is None or not _runs(course):
        return ""
    value, low, high = (day_month(time) for time in end)
    return f"By its curve it ends on {value}{'' if low == high else f', between {low} and {high}'}."


def _runs(course: Course) -> bool:
    return course.state.slug in _RUNNING and course.packaged is None


def _fastest(course: Course) -> str:
    """What the chart of the rate is."""
    found = paces(course)
    if not found:
        return "How fast it went."
    fastest = max(found, key=lambda one: one.rate)
    return f"Fastest from day {fixed(fastest.first, 1)} to day {fixed(fastest.last, 1)}, {fixed(1000.0 * fastest.rate, 0)} points a day."


def _number(name: str, known: Known | None, unit: Unit, factor: float = 1.0, *, sign: bool = False) -> list[NumberRow]:
    """One row with its doubt where that is known; nothing where the number isn't."""
    if known is None:
        return []
    half_width = None if known.error is None else COVERAGE_FACTOR * factor * known.error
    places = _PLAIN[unit] if half_width is None else min(places_for(half_width, unit), _MOST[unit])
    value = (signed if sign else fixed)(factor * known.value, places)
    return [NumberRow(name, cell(value), unit, BLANK if half_width is None else cell(f"±{half_width:.{places}f}"))]


def numbers(course: Course) -> tuple[NumberRow, ...]:
    """How it went, in numbers: what isn't known has no row."""
    found, rows = course.kinetics, []
    rows += _number("Lag", found.lag, "h")
    rows += _number("Fastest drop", found.fastest, "°P a day", 24.0)
    rows += _number("Fastest drop after", found.fastest_at, "h")
    rows += _number("Half of the drop after", found.half, "h")
    rows += _number("90 % of the drop after", found.nine_tenths, "h")
    rows += _number("At rest at", course.final, "SG")
    rows += _warmth(course)
    end = course.predicted_end
    if end is not None and _runs(course):
        rows.append(NumberRow("Predicted end", cell(day_month(end[0])), "", cell(_between(*end[1:]))))
    return (*rows, *(_logger(course.logger) if course.logger else ()))


def _between(low: datetime, high: datetime) -> str:
    return f"{day_month(low)} to {day_month(high)}"


def _warmth(course: Course) -> list[NumberRow]:
    """Degree-days, where the temperature is known for most of the time."""
    warm, whole = course.temperatures, float(course.curve.days[-1] - course.curve.days[0])
    if warm.degree_days is None or float(warm.days[-1] - warm.days[0]) < _COVERED * whole:
        return []
    name = f"Degree-days above 0 °C, day {fixed(float(warm.days[0]), 1)} to {fixed(float(warm.days[-1]), 1)}"
    return [NumberRow(name, cell(fixed(warm.degree_days, 0)), "°C d", BLANK)]


def _logger(logger: Logger) -> list[NumberRow]:
    """How the logger compares with the readings by hand."""
    correction, rows = logger.correction, []
    rows += _number("Logger above the readings at pitching", correction.offset, "points", 1000.0, sign=True)
    rows += _number("Its drift", correction.drift, "points a day", 1000.0, sign=True)
    for day, height in zip(correction.steps, correction.heights, strict=True):
        rows += _number(f"Its jump on day {fixed(day, 1)}", height, "points", 1000.0, sign=True)
    rows.append(NumberRow("Scatter of one row", cell(f"{1000.0 * logger.noise:.1f}"), "points", BLANK))
    return rows


def notes(course: Course) -> tuple[str, ...]:
    """Where the numbers come from, what isn't told, and what was found in the log."""
    found, log = course.kinetics, course.logger
    said = ["By a logistic curve." if found.method == "logistic" else f"Read off between the readings, without a fitted curve: {found.why}."]
    if _runs(course) and found.predicted_end is None:
        said.append(f"No end is predicted: {found.why_no_prediction}.")
    return (*said, *(_of_logger(log) if log else ()))


def _of_logger(log: Logger) -> list[str]:
    spikes = int(log.spike.sum())
    parts = [f"{len(log.days)} times", f"{plural(spikes, 'spike')} marked and kept out of the curve"]
    parts += [f"{plural(log.duplicates, 'row')} beyond the first of a time"] if log.duplicates else []
    parts += [f"{plural(log.out_of_order, 'row')} out of order"] if log.out_of_order else []
    parts += [f"{plural(log.left_out, 'row')} from before the first reading or after the packaging left out"] if log.left_out else []
    said = [f"Of the logger: {'; '.join(parts)}."]
    if log.gaps:
        said.append(
            f"Nothing was logged from {', '.join(f'day {fixed(start, 1)} to {fixed(end, 1)}' for start, end in log.gaps[:_MOST_GAPS])}{_more(log)}."
        )
    if not log.correction.compared:
        said.append("No reading by hand lies beside the log, so its offset isn’t known.")
    elif not log.correction.with_drift:
        said.append(f"No drift is told from zero by {plural(log.correction.compared, 'reading')} beside the log.")
    return said


_MOST_GAPS = 6


def _more(log: Logger) -> str:
    return "" if len(log.gaps) <= _MOST_GAPS else f", and {plural(len(log.gaps) - _MOST_GAPS, 'time')} more"


def _pace_rows(course: Course) -> list[PaceRow]:
    return [
        PaceRow(
            cell(fixed(one.last, 1)), cell(f"{one.gravity:.4f}"), cell(fixed(one.attenuation, 0)),
            cell(fixed(1000.0 * one.rate, 1)), cell(f"±{1000.0 * one.half_width:.1f}"),
        )
        for one in paces(course)
    ]  # fmt: skip
