"""Finding in the browser: tables that sort and leave rows out, and the search, from the folder, by keyboard and by hostile words."""

import json
import re
import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from generator.build import build
from generator.pages.words import fold, words
from tests.browser.conftest import opened
from tests.browser.test_axe import _violations
from tests.site import hostile
from tests.unit.imaging.samples import quarters, saved

BATCHES = "tbody:visible tr:visible:not(.year) th"


def _titles(page: Page) -> list[str]:
    return [text.strip() for text in page.locator(BATCHES).all_inner_texts()]


def _column(page: Page, number: int) -> list[str]:
    return [text.strip() for text in page.locator(f"tbody:visible tr:visible:not(.year) > :nth-child({number})").all_inner_texts()]


def _sort(page: Page, head: str) -> str | None:
    """Press the button of a column; gives what its head then says."""
    page.locator("thead button", has_text=head).press("Enter")
    return page.locator("thead th", has_text=head).get_attribute("aria-sort")


def test_a_head_sorts_its_column_and_gives_the_table_back(page: Page, kinds: dict[str, Path]) -> None:
    """Upwards, downwards, then by years as before; rows without a value last; the head says which."""
    opened(page, kinds["index"])
    before = _titles(page)
    original = re.sub(r"\s+<", "<", page.locator("table").inner_html())
    assert page.locator("thead th[aria-sort]").get_attribute("aria-sort") == "descending"
    assert _sort(page, "Read") == "ascending"
    assert page.locator("thead th[aria-sort]").count() == 1
    read = [text for text in _column(page, 5) if text]
    assert read == sorted(read)
    assert len(read) == 10
    assert _column(page, 5)[10:] == ["", ""]
    assert page.locator(".year:visible").count() == 0
    assert page.locator("tbody:visible td").first.inner_text().split()[-1] in ("2025", "2026")  # the year that stood above
    assert _sort(page, "Read") == "descending"
    assert [text for text in _column(page, 5) if text] == read[::-1]
    assert _column(page, 5)[10:] == ["", ""]
    assert _sort(page, "Read") is None
    assert _titles(page) == before
    assert re.sub(r"\s+<", "<", page.locator("table").inner_html()) == original


def test_differences_sort_by_size_and_days_by_time(page: Page, kinds: dict[str, Path]) -> None:
    """−12 comes before −5 and +3 after 0; the day turns round first, because the newest stands on top already."""
    opened(page, kinds["index"])
    newest = _titles(page)
    _sort(page, "Difference")
    steps = [int(text.split()[0].replace("\N{MINUS SIGN}", "-")) for text in _column(page, 6) if text and text != "planned"]
    assert steps == sorted(steps)
    assert len(steps) == 10
    assert _sort(page, "Brewed") == "ascending"
    assert _titles(page) == newest[::-1]
    assert _sort(page, "Brewed") == "descending"
    assert _titles(page) == newest
    assert page.locator(".year:visible").count() == 3


def test_the_field_leaves_rows_with_all_words(page: Page, kinds: dict[str, Path]) -> None:
    """Rows that lack a word go, and years that have none left; the count is told; an empty field brings all back."""
    opened(page, kinds["index"])
    field, said = page.get_by_label("Show only rows with"), page.locator(".tools [role=status]")
    everything = _titles(page)
    field.fill("FÓG 2026")
    assert _titles(page) == ["Fog Bell, fourth", "Fog Bell, third", "Fog Bell, second"]
    assert page.locator(".year:visible").all_inner_texts() == ["2026"]
    assert said.inner_text() == "3 of 12 batches"
    _sort(page, "Batch")
    assert _titles(page) == ["Fog Bell, fourth", "Fog Bell, second", "Fog Bell, third"]
    field.fill("nothing like it")
    assert _titles(page) == []
    assert said.inner_text() == "0 of 12 batches"
    field.fill("")
    assert sorted(_titles(page)) == sorted(everything)
    assert said.inner_text() == ""


def test_recipes_sort_by_how_often_they_were_brewed(page: Page, kinds: dict[str, Path]) -> None:
    """The table of recipes sorts by name, by count and by month."""
    opened(page, kinds["recipes"])
    _sort(page, "Batches")
    assert _sort(page, "Batches") == "descending"
    assert _column(page, 2)[0] == "5"
    _sort(page, "Recipe")
    assert _titles(page) == sorted(_titles(page))
    assert len(_titles(page)) == 5


def _look(page: Page, query: str) -> list[str]:
    page.get_by_label("Words to find").fill(query)
    page.get_by_label("Words to find").press("Enter")
    return page.locator(".results li > a").all_inner_texts()


def test_search_finds_what_is_written(page: Page, kinds: dict[str, Path]) -> None:
    """Words of the story, of lessons, of ingredients and titles, and figures by their number, each says where it was found."""
    opened(page, kinds["search"])
    assert page.locator(".results li").count() == 0
    assert _look(page, "standpipe crooked") == ["Fog Bell, first"]
    assert page.locator(".found").inner_text() == "Notes: standpipe, crooked."
    assert page.locator("#search [role=status]").inner_text() == "One batch found."
    assert "Fog Bell, first" in _look(page, "EFFICIÉNCY bitter")
    assert set(_look(page, "flaked oats")) == {"Fog Bell, first", "Fog Bell, second", "Fog Bell, third"}
    assert page.locator(".found").first.inner_text().startswith("Ingredients: Flaked oats")
    assert _look(page, "original gravity 1.088") == ["Fog Bell, first"]
    assert "Figures: Original gravity 1.088" in page.locator(".found").inner_text()
    _look(page, "final gravity 1.088")
    assert page.locator("#search [role=status]").inner_text().startswith("No batch has all of these words.")
    assert _look(page, "first fog")[0] == "Fog Bell, first"


def test_search_says_what_it_did_not_find(page: Page, kinds: dict[str, Path]) -> None:
    """Words that nobody wrote, words that everybody wrote, and words that no one batch has together."""
    opened(page, kinds["search"])
    said = page.locator("#search [role=status]")
    assert _look(page, "xyzzy") == []
    assert said.inner_text() == "No batch has any of these words."
    assert _look(page, "the and") == []
    assert said.inner_text() == "These words are in every story."
    assert _look(page, "standpipe crooked xyzzy") == ["Fog Bell, first"]
    assert said.inner_text() == "No batch has all of these words. One comes nearest."
    assert _look(page, "") == []
    assert said.inner_text() == ""


def test_links_of_the_results_lead_to_batches_and_back(page: Page, kinds: dict[str, Path]) -> None:
    """A result opens its batch; the way back leads to the same results; an address can ask by itself."""
    opened(page, kinds["search"])
    found = _look(page, "flaked oats")
    page.locator(".results a").first.click()
    assert page.locator("h1").inner_text() == found[0]
    page.go_back()
    assert page.locator(".results li > a").all_inner_texts() == found
    page.goto("about:blank")
    page.goto(kinds["search"].as_uri() + "#q=crooked%20standpipe")
    assert page.get_by_label("Words to find").input_value() == "crooked standpipe"
    assert page.locator(".results li > a").all_inner_texts() == ["Fog Bell, first"]
    page.goto(kinds["search"].as_uri() + "#q=%E0%A4%A")
    assert page.get_by_label("Words to find").input_value() == ""


def test_browser_and_build_fold_alike(page: Page, kinds: dict[str, Path]) -> None:
    """Each letter and digit that Python knows becomes the same word in the browser, and so does a text."""
    opened(page, kinds["search"])
    letters = [chr(code) for code in range(0x20, 0x2FA1E) if unicodedata.category(chr(code))[0] in "LN"]
    assert len(letters) > 100_000
    made = page.evaluate("letters => letters.map(wortledgerWords.fold)", letters)
    assert [letter for letter, mine in zip(letters, made, strict=True) if fold(letter) != mine] == []
    text = "Über 1,064 °P – „Märzen“ d'été, 5 kg, ŁÓDŹ 麦芽 ½ x_y 12.5.3"
    theirs = page.evaluate("text => wortledgerWords.words(text)", text)
    assert [word for word in theirs if word in words(text)] == words(text)


def test_browser_reads_the_whole_index(page: Page, kinds: dict[str, Path]) -> None:
    """Unpacked, every word of the index finds the batches that the build wrote down for it."""
    from generator.pages.search import _postings
    from generator.pages.site_map import order
    from tests.unit.pages.support import reports

    opened(page, kinds["search"])
    script = "() => new wortledgerSearch.Index(wortledgerIndex, () => '').words"
    found = {entry["word"]: (entry["notes"], entry["lessons"]) for entry in page.evaluate(script)}
    assert found == _postings(order(list(reports().values())))
    assert len(found) > 700


def test_nothing_written_becomes_markup(page: Page, tmp_path: Path) -> None:
    """A journal of hostile texts: each result shows its title letter by letter, and nothing of it runs or is fetched."""
    for name, content in hostile.journal().items():
        path = tmp_path / "journal" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8", newline="")
    (tmp_path / "journal" / "bräu_麦-1" / "photos").mkdir()
    for name in hostile.PHOTOS:
        (tmp_path / "journal" / "bräu_麦-1" / "photos" / name).write_bytes(saved(quarters(), "JPEG"))
    build(tmp_path / "journal", tmp_path / "site")
    script = (tmp_path / "site" / "assets" / "search-index.js").read_text(encoding="utf-8")
    assert not any(letter in script for letter in "<>&\u2028\u2029")
    heard: list[str] = []
    page.on("console", lambda message: heard.append(message.text))
    page.on("dialog", lambda dialog: heard.append(dialog.message))
    opened(page, tmp_path / "site" / "search.html")
    titles: list[Any] = json.loads(script.removeprefix("var wortledgerIndex = ").removesuffix(";\n"))["batches"]
    found = _look(page, "script alert img svg onerror src 2026")
    assert len(found) >= 3
    assert set(found) <= {" ".join(str(row[1]).split()) for row in titles} | {str(row[1]) for row in titles}
    assert page.locator("#search :is(img, svg, script, iframe)").count() == 0
    opened(page, tmp_path / "site" / "index.html")
    page.get_by_label("Show only rows with").fill("<script>")
    _sort(page, "Batch")
    assert heard == []


def test_fields_stay_on_the_screen(page: Page, kinds: dict[str, Path]) -> None:
    """Fields, marks of order and the list of years aren't printed; tables and results are."""
    opened(page, kinds["index"], media="print")
    assert page.locator(".tools").count() == 1
    assert page.locator(".tools:visible").count() == 0
    assert page.locator(".jumps:visible").count() == 0
    assert page.locator("table.register:visible").count() == 1
    assert page.evaluate("getComputedStyle(document.querySelector('[aria-sort] button'), '::after').content") == "none"
    page.goto(kinds["search"].as_uri() + "#q=fog")
    assert page.locator(".results li:visible").count() == 5
    assert page.locator("form:visible, #how:visible").count() == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_after_use(page: Page, kinds: dict[str, Path], scheme: str) -> None:
    """Sorted, filtered, and with results, in both schemes, dark on a phone: no violation, nothing sideways."""
    if scheme == "dark":
        page.set_viewport_size({"width": 320, "height": 700})
    opened(page, kinds["index"], color_scheme=scheme)
    page.get_by_label("Show only rows with").fill("fog")
    _sort(page, "Read")
    assert _violations(page) == []
    sideways = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(sideways) == 0
    page.goto(kinds["search"].as_uri() + "#q=fog")
    assert page.locator(".results li").count() == 5
    assert _violations(page) == []
    assert page.evaluate(sideways) == 0


def test_fields_and_heads_show_their_focus(page: Page, kinds: dict[str, Path]) -> None:
    """Field, buttons of the heads, and results are stops in their order, each with an outline."""
    opened(page, kinds["index"])
    page.get_by_label("Show only rows with").focus()
    script = """() => { const at = document.activeElement, style = getComputedStyle(at);
        return [at.tagName, parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== 'none']; }"""
    stops = []
    for _ in range(11):
        stops.append(page.evaluate(script))
        page.keyboard.press("Tab")
    assert stops == [["INPUT", True], *[["BUTTON", True]] * 9, ["A", True]]


def test_pages_without_javascript_have_no_dead_controls(browser: Browser, kinds: dict[str, Path]) -> None:
    """With JavaScript off no field, no button and no form stands there to be tried in vain."""
    context = browser.new_context(java_script_enabled=False)
    plain = context.new_page()
    for kind in ("index", "recipe", "year", "recipes", "search"):
        plain.goto(kinds[kind].as_uri())
        assert plain.locator("button, input, form, .tools").count() == 0, kind
    assert plain.locator("#search a").count() == 4
    context.close()


def test_a_small_table_has_no_field(page: Page, make_site: Callable[[dict[str, str]], Path]) -> None:
    """One batch needs no field to be found; its heads sort all the same, and a language no browser knows does no harm."""
    site = make_site({"journal.toml": "title = 'J'\nlanguage = '??'\n", "a/plan.toml": "[batch]\nrecipe = 'R'\nbrewed = 2026-01-02\n"})
    heard: list[str] = []
    page.on("pageerror", lambda error: heard.append(str(error)))
    opened(page, site / "index.html")
    assert page.locator(".tools").count() == 0
    assert _sort(page, "Batch") == "ascending"
    assert _titles(page) == ["R"]
    assert heard == []
