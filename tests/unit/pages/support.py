"""Figures made by hand, and journals of one batch."""

from pathlib import Path

from generator.analysis.catalogue import BY_KEY, FIGURES
from generator.analysis.doubt import Estimate
from generator.analysis.figures import Figure
from generator.analysis.planned import Expected
from generator.analysis.report import Report, report
from generator.records.journal import load
from tests.conftest import DEMO


def figure(key: str, plan: float | None = None, read: float | None = None, half_width: float = 0.001, why: str | None = "it was not read") -> Figure:
    """A figure as planned and as read, with an even doubt."""
    expected = Expected(plan, None if plan is None else "target", plan)
    measured = None if read is None else Estimate(read, read - half_width, read + half_width)
    return Figure(BY_KEY[key], expected, measured, why if measured is None else None)


def figures(*known: Figure) -> dict[str, Figure]:
    """All figures of the catalogue, of which only some are known."""
    return {entry.key: figure(entry.key) for entry in FIGURES} | {one.entry.key: one for one in known}


def reports(journal: Path = DEMO) -> dict[str, Report]:
    """Every batch of a journal by its slug."""
    return {batch.slug: report(batch) for batch in load(journal).batches}
