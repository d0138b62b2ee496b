"""What a chart writes beside its bars stands in the table below it, to the digit."""

import re
from itertools import pairwise

from tests.site.dom import Page, text

NUMBER = re.compile(r"[+−]?\d+\.\d+")


def _figure_and_table(page: Page, name: str) -> tuple[list[str], list[str]]:
    """Labels of both drawings of a chart, and cells of its table."""
    labels = [text(label) for svg in page.all("svg") if svg.get("aria-labelledby", "").startswith(name) for label in svg.iter("text")]
    caption = page.by_id(f"{name}-table")
    table = next(parent for parent in page.ancestors(caption) if parent.tag == "table")
    return labels, [text(cell) for cell in table.iter() if cell.tag in ("td", "th")]


def _with(pages: dict[str, Page], name: str) -> list[Page]:
    return [page for page in pages.values() if f"{name}-table" in page.ids]


def test_every_number_of_the_ledger_chart_stands_in_its_table(pages: dict[str, Page]) -> None:
    """Names, kilograms and shares of both drawings are cells of the table."""
    count = 0
    for page in _with(pages, "ledger"):
        labels, cells = _figure_and_table(page, "ledger")
        for label in labels:
            count += 1
            assert label.removesuffix("%").strip() in cells, (page.path, label)
    print(f"{count} labels")
    assert count >= 10 * 2 * 20


def test_ledger_adds_up_as_printed(pages: dict[str, Page]) -> None:
    """From one printed stage the printed changes lead to the next, to the gram."""
    for page in _with(pages, "ledger"):
        caption = page.by_id("ledger-table")
        table = next(parent for parent in page.ancestors(caption) if parent.tag == "table")
        rows = [(row.get("class"), [text(cell) for cell in row]) for body in table.findall("tbody") for row in body]
        level, stages = None, 0
        for kind, (_, _, read, *_) in rows:
            grams = round(1000 * float(read.replace("−", "-")))
            if kind == "total":
                assert level in (None, grams), page.path
                level, stages = grams, stages + 1
            else:
                assert level is not None
                level += grams
        assert stages >= 3, page.path


def test_gravities_of_the_fermentation_chart_stand_in_its_table(pages: dict[str, Page]) -> None:
    """The first and the last gravity written in the chart are readings of the table, rounded to a point."""
    count = 0
    for page in _with(pages, "fermentation"):
        labels, cells = _figure_and_table(page, "fermentation")
        read = [float(cell) for cell in cells if re.fullmatch(r"[01]\.\d{4}", cell)]
        for label in labels:
            if label.endswith(("at the end", "into the fermenter")):
                count += 1
                assert any(abs(float(label.split()[0]) - gravity) < 0.00056 for gravity in read), (page.path, label)
    assert count >= 10 * 3


def test_readings_of_the_fermentation_table_are_in_order(pages: dict[str, Page]) -> None:
    """The days of the table never go back."""
    for page in _with(pages, "fermentation"):
        caption = page.by_id("fermentation-table")
        table = next(parent for parent in page.ancestors(caption) if parent.tag == "table")
        days = [float(text(row[1]).replace("−", "-")) for row in table.iter("tr") if row[0].get("scope") == "row"]
        assert len(days) >= 2, page.path
        assert all(before <= after for before, after in pairwise(days)), page.path


def test_no_number_is_printed_as_nothing(pages: dict[str, Page]) -> None:
    """No page shows nan, inf, None, a Python float's tail or a minus before a zero."""
    for page in pages.values():
        for element in page.all("p", "td", "th", "dd", "li", "text", "figcaption", "desc", "caption"):
            words = text(element)
            if page.path == "data.html":  # the page that says what null means
                words = words.replace("null", "")
            assert not re.search(r"\b(nan|inf|NaN|null|undefined|True|False)\b|\bNone\b(?!,)", words), (page.path, words)
            assert page.path == "methods.html" or not re.search(r"\d\.\d{7,}|−0(\.0+)?(?![\d.])|(?<![\w.-])-\d", words), (page.path, words)
