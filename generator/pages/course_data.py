"""The fermentation in the JSON of a batch."""

from typing import Any

from generator.analysis.course import Course
from generator.analysis.kinetics import Kinetics
from generator.analysis.logger import Known, Logger


def course_data(course: Course | None) -> dict[str, Any] | None:
    """State, end, kinetics and logger; days count from `start`, gravities are SG 20/20. None without a fermentation."""
    if course is None:
        return None
    state, expected, end = course.state, course.expected, course.predicted_end
    return {
        "start": course.start.isoformat(),
        "state": {
            "slug": state.slug,
            "words": state.words,
            "since": state.since.isoformat() if state.since else None,
            "why": state.why,
            "check": state.check,
        },
        "expected": {"gravity": expected.gravity, "origin": expected.origin, "tolerance": expected.tolerance} if expected else None,
        "final": _known(course.final),
        "degree_days": course.temperatures.degree_days,
        "predicted_end": dict(zip(("value", "low", "high"), (time.isoformat() for time in end), strict=True)) if end else None,
        "kinetics": _kinetics(course.kinetics),
        "logger": _logger(course.logger) if course.logger else None,
    }


def _known(found: Known | None) -> dict[str, float | None] | None:
    return None if found is None else {"value": found.value, "standard_error": found.error}


def _kinetics(found: Kinetics) -> dict[str, Any]:
    """Times in hours after the first gravity, the fastest drop in °P/h."""
    return {
        "method": found.method,
        "why_no_curve": found.why or None,
        "lag": _known(found.lag),
        "fastest_at": _known(found.fastest_at),
        "fastest": _known(found.fastest),
        "half": _known(found.half),
        "nine_tenths": _known(found.nine_tenths),
        "why_no_prediction": found.why_no_prediction or None,
    }


def _logger(log: Logger) -> dict[str, Any]:
    correction = log.correction
    return {
        "times": len(log.days),
        "spikes": int(log.spike.sum()),
        "duplicates": log.duplicates,
        "out_of_order": log.out_of_order,
        "left_out": log.left_out,
        "noise": log.noise,
        "gaps": [list(gap) for gap in log.gaps],
        "compared": correction.compared,
        "offset": _known(correction.offset),
        "drift": _known(correction.drift),
        "steps": [{"day": day, "height": _known(height)} for day, height in zip(correction.steps, correction.heights, strict=True)],
    }
