"""Each page by itself: it parses, it names itself, its headings and tables can be walked, its pictures can be heard."""

from collections import Counter
from itertools import pairwise
from xml.etree.ElementTree import Element

import pytest
from html5lib.html5parser import ParseError

from tests.site.dom import HEADINGS, Page, parse, text

KINDS = {
    "data.html",
    "index.html",
    "lessons.html",
    "methods.html",
    "safety.html",
    "ingredients.html",
    "recipes.html",
    "search.html",
    "batches",
    "recipes",
    "years",
}


def test_every_kind_of_page_is_there(pages: dict[str, Page]) -> None:
    """The demo site holds every kind of page, so that the other tests see them all."""
    assert {path.partition("/")[0] for path in pages} >= KINDS


def test_strict_parser_refuses_broken_markup() -> None:
    """The parser behind these tests would see a fault: pages that parse are well formed."""
    with pytest.raises(ParseError):
        parse("<!DOCTYPE html><html lang=en><title>x</title><p><b>bold</p></b>")


def test_titles_and_descriptions_are_unique(pages: dict[str, Page]) -> None:
    """No two pages have the same title or description, and none is empty."""
    titles = Counter(text(next(page.all("title"))) for page in pages.values())
    metas = [meta for page in pages.values() for meta in page.all("meta") if meta.get("name") == "description"]
    descriptions = Counter(meta.get("content", "").strip() for meta in metas)
    for found in (titles, descriptions):
        assert "" not in found
        assert found.total() == len(pages)
        assert found.most_common(1)[0][1] == 1


def test_language_encoding_and_viewport(pages: dict[str, Page]) -> None:
    """Each page says its language, its encoding, and that it fits a phone."""
    for page in pages.values():
        metas = [meta.attrib for meta in page.all("meta")]
        assert page.root.get("lang") == "en", page.path
        assert {"charset": "utf-8"} in metas, page.path
        assert any(meta.get("name") == "viewport" for meta in metas), page.path


def test_headings_are_never_skipped(pages: dict[str, Page]) -> None:
    """One h1 a page, first of all headings; no level is left out on the way down; none is empty."""
    for page in pages.values():
        headings = list(page.all(*HEADINGS))
        levels = [int(str(heading.tag)[1]) for heading in headings]
        assert levels[0] == 1, page.path
        assert levels.count(1) == 1, page.path
        assert all(after <= before + 1 for before, after in pairwise(levels)), page.path
        assert all(text(heading) for heading in headings), page.path


def test_ids_are_unique_and_references_resolve(pages: dict[str, Page]) -> None:
    """No id stands twice in a page, and whatever aria-labelledby or aria-describedby names is there."""
    seen = 0
    for page in pages.values():
        assert len(set(page.ids)) == len(page.ids), page.path
        for element in page.elements:
            names = f"{element.get('aria-labelledby', '')} {element.get('aria-describedby', '')}".split()
            assert set(names) <= set(page.ids), (page.path, names)
            seen += len(names)
    assert seen > 100


def test_sections_are_named(pages: dict[str, Page]) -> None:
    """Every section, aside, nav and figure has a name of its own; a picture's is its caption."""
    for page in pages.values():
        for element in page.all("section", "aside", "nav", "figure"):
            captioned = element.get("class") == "plate" and any(text(caption) for caption in element.iter("figcaption"))
            assert element.get("aria-labelledby") or element.get("aria-label") or captioned, (page.path, element.attrib)


def _charts(page: Page) -> list[Element]:
    """Every svg but the swatch, whose words stand beside it."""
    return [svg for svg in page.all("svg") if (svg.get("class"), svg.get("aria-hidden")) != ("swatch", "true")]


def test_pictures_have_words(pages: dict[str, Page]) -> None:
    """Every img has an alt, and every svg is an image named by its own title and description, which aren't empty."""
    charts = 0
    for page in pages.values():
        assert all(image.get("alt") is not None for image in page.all("img")), page.path
        for svg in _charts(page):
            charts += 1
            words = {child.get("id"): text(child) for child in svg if child.tag in ("title", "desc")}
            assert svg.get("role") == "img", page.path
            assert svg.get("aria-labelledby", "").split() == list(words), page.path
            assert len(words) == 2, page.path
            assert all(words.values()), page.path
    assert charts >= 40


def test_figures_have_captions_and_every_chart_stands_in_one(pages: dict[str, Page]) -> None:
    """A chart stands in a figure whose caption names it."""
    for page in pages.values():
        for figure in page.all("figure"):
            captions = [child for child in figure if child.tag == "figcaption"]
            assert [caption.get("id") for caption in captions] == [figure.get("aria-labelledby")], page.path
        for svg in _charts(page):
            assert any(parent.tag == "figure" for parent in page.ancestors(svg)), page.path


def test_tables_have_captions_and_scopes(pages: dict[str, Page]) -> None:
    """Every table but those of the notes has a caption; every th has a scope; every row of a body has its heading."""
    count = 0
    for page in pages.values():
        for table in page.all("table"):
            count += 1
            own = "of-notes" not in table.get("class", "")
            caption = table.find("caption")
            assert not own or (caption is not None and text(caption)), page.path
            assert all(head.get("scope") in ("col", "row", "colgroup", "rowgroup") for head in table.iter("th")), page.path
            rows = [row for body in table.findall("tbody") + table.findall("tfoot") for row in body.findall("tr")]
            assert not own or all(row.find("th") is not None for row in rows), (page.path, text(table)[:80])
    print(f"{count} tables")
    assert count > 60


def test_rows_are_as_wide_as_their_heads(pages: dict[str, Page]) -> None:
    """Every row of a table spans as many columns as its head."""
    for page in pages.values():
        for table in page.all("table"):
            widths = {sum(int(cell.get("colspan", "1")) for cell in row) for row in table.iter("tr")}
            assert len(widths) == 1, (page.path, text(table)[:80], widths)
