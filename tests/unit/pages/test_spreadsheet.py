"""Tables for spreadsheets: complete, and no cell that starts a formula."""

import csv
import io
from pathlib import Path

import pytest

from generator.analysis.catalogue import FIGURES
from generator.analysis.report import Report, report
from generator.pages.spreadsheet import BOM, COLUMNS, figures_csv, harmless, published_copy
from generator.records.journal import load
from tests.conftest import DEMO


@pytest.fixture(scope="module")
def reports() -> list[Report]:
    """Three batches of the demo."""
    journal = load(DEMO)
    return [report(batch, journal.settings) for batch in journal.batches[:3]]


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix(BOM), newline="")))


def test_table_holds_every_figure_of_every_batch(reports: list[Report]) -> None:
    """One row a batch and figure, in their order, with all numbers to ten digits."""
    rows = _rows(figures_csv(reports))
    assert [(row["batch"], row["figure"]) for row in rows] == [(one.batch.slug, entry.key) for one in reports for entry in FIGURES]
    known = {one.batch.slug: one.figures for one in reports}
    numbers = 0
    for row in rows:
        figure = known[row["batch"]][row["figure"]]
        estimate = figure.measured
        values = {
            "plan": figure.plan, "predicted": figure.expected.predicted, "difference": figure.difference,
            "measured": estimate and estimate.value, "low": estimate and estimate.low, "high": estimate and estimate.high,
            "predicted_low": figure.prediction and figure.prediction.low, "predicted_high": figure.prediction and figure.prediction.high,
        }  # fmt: skip
        for name, value in values.items():
            assert (row[name] == "") == (value is None), (row["figure"], name)
            if value is not None:
                assert float(row[name]) == pytest.approx(value, rel=1e-9, abs=1e-9)
                numbers += 1
        assert row["verdict"] == figure.verdict
        assert (row["label"], row["unit"]) == (figure.entry.label, figure.entry.unit)
    assert numbers > 200


def test_table_is_as_spreadsheets_like_it(reports: list[Report]) -> None:
    """A byte-order mark, the columns of the data page, CR LF after each row (RFC 4180); the same again the same."""
    text = figures_csv(reports)
    assert text.encode().startswith(b"\xef\xbb\xbfbatch,recipe,")
    assert text.removeprefix(BOM).split("\r\n")[0] == ",".join(name for name, _ in COLUMNS)
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert text == figures_csv(reports)


def test_table_of_no_batch() -> None:
    """Without batches there is the head."""
    assert _rows(figures_csv([])) == []


@pytest.mark.parametrize(
    "cell", ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", "-", "+", "-2 °C", " =1", '=HYPERLINK("x")', "--1", "-1;2"]
)
def test_formulas_are_defused(cell: str) -> None:
    """A text that some spreadsheet would compute gets an apostrophe, and nothing else happens to it."""
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["", "Stout", "-1", "+1.5", "-0,5", "-1e-05", "1-2", "a=b", "2026-02-14 09:10", "'=1", " -3 ", "20 °C", "e@x"])
def test_harmless_cells_stay(cell: str) -> None:
    """Negative numbers stay numbers; what doesn't begin like a formula stays as it is."""
    assert harmless(cell) == cell


def test_names_that_are_formulas(tmp_path: Path) -> None:
    """A recipe and a brewer called like formulas are text in the table."""
    (tmp_path / "b").mkdir()
    (tmp_path / "journal.toml").write_text("title = 'J'\nbrewer = '@b'\n", encoding="utf-8")
    (tmp_path / "b" / "plan.toml").write_text("[batch]\nrecipe = '=cmd|x'\nbrewed = 2026-01-02\n", encoding="utf-8")
    rows = _rows(figures_csv([report(batch) for batch in load(tmp_path).batches]))
    assert {(row["recipe"], row["brewer"]) for row in rows} == {("'=cmd|x", "'@b")}


@pytest.mark.parametrize(
    "content",
    [
        b'time,stage,what,value,unit,note\r\n2026-01-01,mash,grist,-5,kg,"a, b"\r\n\r\n',
        b"\xef\xbb\xbftime;stage;what\n2026-01-01;mash;note\n",
        'time,stage,what,note\n2026,mash,note,"two\nlines – é"'.encode(),
    ],
)
def test_tables_without_formulas_are_copied(content: bytes) -> None:
    """Byte for byte, with byte-order mark, quotes, blank lines and line ends as they are."""
    assert published_copy(content) is content


def test_tables_with_formulas_are_defused() -> None:
    """Only the cells that could start one change; delimiter, order and other cells stay."""
    assert published_copy(b'a;b;c\n=1;"+x;y";-2\n\n"@""q""";z;\n') == b'a;b;c\n\'=1;"\'+x;y";-2\n\n"\'@""q""";z;\n'
    assert published_copy(b"\xef\xbb\xbfa,b\r\n=1,\xc3\xa9\r\n") == "a,b\r\n'=1,é\r\n".encode()
    assert published_copy(b'a,b\n"=1\n+2",3\n') == b'a,b\n"\'=1\n+2",3\n'


def test_tables_of_the_demo_are_published_as_they_are() -> None:
    """Nothing in the demo's tables looks like a formula."""
    tables = [path for name in ("readings.csv", "gravity-log.csv") for path in DEMO.glob(f"*/{name}")]
    assert len(tables) > 5
    assert all(published_copy(path.read_bytes()) == path.read_bytes() for path in tables)
