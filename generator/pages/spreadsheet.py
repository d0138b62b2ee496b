"""Tables for spreadsheets: figures.csv, and copies of the brewer's own tables in which no cell can start a formula."""

import csv
import io
import re
from collections.abc import Iterable, Iterator

from generator.analysis.figures import Figure
from generator.analysis.report import Report
from generator.records.tables import delimiter

BOM = "\N{ZERO WIDTH NO-BREAK SPACE}"
"""At the head of figures.csv: without it many spreadsheets take UTF-8 for something else, and ° for two letters."""
COLUMNS: tuple[tuple[str, str], ...] = (
    ("batch", "Folder name of the batch; its page is batches/<batch>.html."),
    ("recipe", "Name of the recipe."),
    ("brewed", "Day of the brew, or the day that it is planned for."),
    ("brewer", "Who brewed it."),
    ("figure", "Key of the figure, as in the file of a batch."),
    ("label", "Its name."),
    ("unit", "Unit of all numbers of the row."),
    ("plan", "What was planned."),
    ("predicted", "What the rest of the plan predicts."),
    ("predicted_low", "Lower end of the 95 % interval of the prediction."),
    ("predicted_high", "Upper end of it."),
    ("measured", "What the readings give."),
    ("low", "Lower end of its 95 % interval."),
    ("high", "Upper end of it."),
    ("difference", "Measured less planned."),
    ("verdict", "On plan where the plan lies inside the interval, else above plan or below plan; no plan; not measured."),
)
"""Names of the columns of figures.csv, and what they hold."""
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What makes a formula of a cell in some spreadsheet."""
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?([eE][+-]?\d+)?", re.ASCII)


def figures_csv(reports: Iterable[Report]) -> str:
    """figures.csv: one row a batch and figure, whether planned, measured or neither; numbers to ten digits.

    A long table and not a wide one: the unit stands beside each number, the columns stay the same when a figure is added,
    and filters and pivot tables make a wide one of it.
    """
    table = io.StringIO(newline="")
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerow([name for name, _ in COLUMNS])
    for report in reports:
        about = report.batch.plan.batch
        first = [report.batch.slug, about.recipe, about.brewed.isoformat(), report.batch.brewer]
        for key, figure in report.figures.items():
            writer.writerow([*map(harmless, first), key, *_cells(figure)])
    return BOM + table.getvalue()


def _cells(figure: Figure) -> Iterator[str]:
    prediction, measured = figure.prediction, figure.measured
    yield harmless(figure.entry.label)
    yield harmless(figure.entry.unit)
    yield _number(figure.plan)
    yield _number(figure.expected.predicted)
    yield _number(prediction.low if prediction else None)
    yield _number(prediction.high if prediction else None)
    yield _number(measured.value if measured else None)
    yield _number(measured.low if measured else None)
    yield _number(measured.high if measured else None)
    yield _number(figure.difference)
    yield figure.verdict


def _number(value: float | None) -> str:
    return "" if value is None else f"{value + 0.0:.10g}"  # no minus before a zero


def harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: an apostrophe goes before one that would; numbers keep their sign."""
    starts = cell.lstrip(" ").startswith(_STARTS)
    return f"'{cell}" if starts and not _NUMBER.fullmatch(cell.strip(" ")) else cell


def published_copy(content: bytes) -> bytes:
    """A table of the journal as it is published: byte for byte, unless a cell could start a formula.

    Then the table is written anew with an apostrophe before each such cell; blank lines, the order and the delimiter stay.

    Args:
        content: of the file, which was read without a problem before: UTF-8 and a whole table.
    """
    text = content.decode("utf-8-sig")
    parts = delimiter(text)
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=parts, strict=True))
    defused = [[harmless(cell) for cell in row] for row in rows]
    if defused == rows:
        return content
    table = io.StringIO(newline="")
    csv.writer(table, delimiter=parts, lineterminator="\r\n" if "\r\n" in text else "\n").writerows(defused)
    return table.getvalue().encode()
