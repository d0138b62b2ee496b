"""Stage by stage: what the plan expected of each reading, and what was read."""

from collections.abc import Iterator

from generator.analysis.asked import Asked, Wanted
from generator.analysis.brew_day import Kind
from generator.analysis.report import Report
from generator.pages import sheet_words
from generator.pages.plan_contract import StageRow

_KINDS: tuple[tuple[str, tuple[Kind, ...]], ...] = (
    ("Mash", ("prepare", "mash-in")),
    ("Run-off", ("run-off",)),
    ("Before the boil", ("kettle",)),
    ("After the boil", ("boil-end",)),
    ("Fermenter", ("pitch", "still")),
    ("Package", ("package",)),
)
UNREAD = "not read"


def stage_rows(report: Report) -> tuple[StageRow, ...]:
    """Every reading that the plan expects something of, or that was read; nothing for a batch not brewed yet."""
    return tuple(_rows(report)) if report.brewed else ()


def _rows(report: Report) -> Iterator[StageRow]:
    wanted = Wanted(report)
    for stage, kinds in _KINDS:
        asked = [one for kind in kinds for one in (*wanted.at(kind), *(wanted.settled() if kind == "mash-in" else ()))]
        shown = [one for one in asked if one.rows or one.expected is not None]
        for number, one in enumerate(shown):
            yield StageRow("" if number else stage, sheet_words.label(one), sheet_words.planned(one), _read(one))


def _read(one: Asked) -> str:
    """The rows as written, each with the temperature beside it."""
    texts = [row.written + (f" at {sheet_words.degrees(row.at)}" if row.at is not None else "") for row in one.rows]
    return " + ".join(texts) or UNREAD
