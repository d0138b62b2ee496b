"""What the pages say to other programs, and the table of all figures, on the demo site and on a hostile one."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from generator.build import build
from tests.site import hostile
from tests.site.dom import Page, parsed, text


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of a journal that carries code in every field, with an address."""
    folder = tmp_path_factory.mktemp("odd")
    for name, content in hostile.journal().items():
        if name.endswith("notes.md"):
            continue  # nothing of them goes to other programs
        path = folder / "journal" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8", newline="")
    build(folder / "journal", folder / "site")
    return folder / "site"


def _graph(page: Page) -> dict[str, str]:
    metas = [meta for meta in page.all("meta") if meta.get("property")]
    found = {meta.attrib["property"]: meta.attrib["content"] for meta in metas}
    assert len(found) == len(metas), page.path
    return found


def _blocks(page: Page) -> list[Any]:
    return [json.loads(script.text or "") for script in page.all("script") if script.get("type") == "application/ld+json"]


def _is_batch(page: Page) -> bool:
    return page.path.startswith("batches/") and not page.path.endswith("-sheet.html")


def test_open_graph_says_what_the_page_says(pages: dict[str, Page]) -> None:
    """Title, description, type and journal on each page as on the page itself; no address where there is none."""
    for page in pages.values():
        found = _graph(page)
        assert set(found) == {"og:type", "og:title", "og:description", "og:site_name"}, page.path
        assert found["og:title"] == text(next(page.all("h1"))), page.path
        assert found["og:description"] == next(meta.get("content") for meta in page.all("meta") if meta.get("name") == "description")
        assert found["og:type"] == ("article" if _is_batch(page) else "website"), page.path


def test_linked_data_can_be_read(pages: dict[str, Page]) -> None:
    """A batch page has one Article, the data page one Dataset, other pages nothing; each is JSON."""
    for page in pages.values():
        kinds = [block["@type"] for block in _blocks(page)]
        assert kinds == (["Article"] if _is_batch(page) else ["Dataset"] if page.path == "data.html" else []), page.path


def test_hostile_texts_stay_within_the_data(odd: Path) -> None:
    """No title ends the block early: it holds no angle bracket, and what it says is the heading of the page, letter by letter."""
    count = 0
    for page in parsed(odd).values():
        for block in _blocks(page):
            count += 1
            assert block["@context"] == "https://schema.org"
            if _is_batch(page):
                assert " ".join(block["headline"].split()) == text(next(page.all("h1")))
    assert count > 10
    for path in odd.rglob("*.html"):
        for block in path.read_text(encoding="utf-8").split('<script type="application/ld+json">')[1:]:
            assert not set(block.partition("</script>")[0]) & set("<>&'")


def test_table_has_the_numbers_of_the_data_files(demo_site: Path) -> None:
    """figures.csv and the file of each batch agree in every number and verdict."""
    rows = list(csv.DictReader(io.StringIO((demo_site / "figures.csv").read_text(encoding="utf-8-sig"), newline="")))
    documents = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in (demo_site / "batches").glob("*.json")}
    assert len(rows) == sum(len(document["figures"]) for document in documents.values())
    for row in rows:
        figure = documents[row["batch"]]["figures"][row["figure"]]
        assert row["verdict"] == figure["verdict"]
        for name in ("plan", "predicted", "predicted_low", "predicted_high", "measured", "low", "high", "difference"):
            wanted = "" if figure[name] is None else pytest.approx(figure[name], rel=1e-9, abs=1e-9)
            assert (float(row[name]) if row[name] else "") == wanted, (row["batch"], row["figure"], name)


def test_no_cell_of_the_odd_table_is_a_formula(odd: Path) -> None:
    """Nor of the published readings: every cell that begins like one is a number or has an apostrophe before it."""
    tables = [odd / "figures.csv", *odd.rglob("readings.csv")]
    assert len(tables) > 5
    for path in tables:
        for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")):
            for cell in row:
                assert not cell.startswith(("=", "@", "\t", "\r")), path
                if cell.startswith(("+", "-")):
                    float(cell)


def test_data_page_leads_to_all_data(pages: dict[str, Page]) -> None:
    """The table, the file of each batch and the licences of the fonts are linked; each page leads to the data page."""
    links = {element.get("href") for element in pages["data.html"].all("a")}
    assert {"figures.csv", "assets/fonts/OFL-source-sans.md", "assets/fonts/OFL-source-serif.md"} <= links
    assert {path.replace(".html", ".json") for path in pages if _is_batch(pages[path])} <= links
    assert "feed.xml" not in links
    for page in pages.values():
        assert any((element.get("href") or "").endswith("data.html") for element in page.all("a")), page.path
