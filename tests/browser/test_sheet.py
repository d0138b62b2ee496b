"""The brew sheet on paper and on a phone: two pages at most, nothing split, black ink, one column where there is room for one."""

import io
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from tests.browser.conftest import opened
from tests.browser.test_axe import _violations

SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
HOPS = "".join(
    f'[[hops]]\nname = "Hop {n} of a name that a grower thought of"\nmass = "{n + 1} g"\nalpha = "5 %"\ntime = "{n} min"\n' for n in range(40)
)
MALT = '[[grist]]\nname = "Pale malt, floor malted, from the field behind the church"\nmass = "4.125 kg"\nextract = "80 %"\n'
ODD = {
    "bare": "",
    "sugar": '[[grist]]\nname = "Sugar"\nmass = "1 kg"\nextract = "100 %"\nmoisture = "0 %"\nadded = "boil"\n[package]\nmethod = "keg"\n',
    "forty": f'[mash]\nportions = 4\n[liquor]\nmash = "15 L"\n[boil]\nduration = "60 min"\n{MALT}{HOPS}',
    "long": f'title = "{"A title that does not end " * 6}"\n{MALT}[[task]]\nwhen = "some day"\ntext = "{"Unbreakable" * 12}"\n',
}
"""Plans at the edges: nothing but what is required, no mash, forty hops, long words."""


@pytest.fixture
def odd(make_site: Callable[[dict[str, str]], Path]) -> list[Path]:
    """Their sheets."""
    files = {f"{name}/plan.toml": f'[batch]\nrecipe = "{name}"\nbrewed = 2026-01-01\n{plan}' for name, plan in ODD.items()}
    return sorted(make_site({"journal.toml": 'title = "Odd"\n', **files}).rglob("*-sheet.html"))


@pytest.fixture(scope="session")
def sheets(demo_site: Path) -> list[Path]:
    """Every brew sheet of the demo."""
    return sorted(demo_site.rglob("*-sheet.html"))


def _printed(page: Page, path: Path, size: str) -> list[list[str]]:
    """The printed pages of a sheet, each as its lines of text."""
    pdf = opened(page, path).pdf(format=size)
    return [[line for line in sheet.extract_text().splitlines() if line.strip()] for sheet in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_sheet_fits_two_pages(page: Page, sheets: list[Path], size: str) -> None:
    """Each batch of the demo on two pages at most, the last of them with more than five lines."""
    assert len(sheets) >= 11
    for path in sheets:
        printed = _printed(page, path, size)
        assert 1 <= len(printed) <= 2, path.name
        assert len(printed[-1]) > 5, path.name


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_odd_sheets_end_well(page: Page, odd: list[Path], size: str) -> None:
    """However long a plan is, no page is left empty or with a handful of lines; a short one has two pages at most."""
    assert [path.name.partition("-")[0] for path in odd] == sorted(ODD)
    for path in odd:
        printed = _printed(page, path, size)
        assert all(len(lines) > 5 for lines in printed), (path.name, [len(lines) for lines in printed])
        assert len(printed) <= 2 or path.name.startswith("forty")


def test_every_step_reaches_the_paper_whole(page: Page, sheets: list[Path]) -> None:
    """The title of each step and the label of its last box are printed on one page."""
    steps = """[...document.querySelectorAll('.steps > li')].map(li => [li.querySelector('strong').textContent,
        [...li.querySelectorAll('dt')].map(dt => dt.firstChild.textContent.trim()).pop() || ''])"""
    for path in sheets[:3]:
        printed = [unicodedata.normalize("NFKC", " ".join(" ".join(lines).split())) for lines in _printed(page, path, "A4")]  # no ligatures
        for title, label in page.evaluate(steps):
            assert any(title in text and label in text for text in printed), (path.name, title, label)


def test_nothing_is_split(page: Page, sheets: list[Path]) -> None:
    """No page break inside a step, a row of a table, a box or a caution."""
    opened(page, sheets[0], media="print")
    script = "[...document.querySelectorAll('.steps > li, tr, .entries > div, .say')].map(e => getComputedStyle(e).breakInside)"
    found = page.evaluate(script)
    assert len(found) > 40
    assert set(found) == {"avoid"}


def test_black_ink_is_enough(page: Page, sheets: list[Path]) -> None:
    """Printed from a dark screen, every text and every line that is written on is grey or black, dark enough to be read."""
    opened(page, sheets[-1], media="print", color_scheme="dark")
    script = """[...document.querySelectorAll('main *')].filter(e => e.getClientRects().length).flatMap(e => {
        const style = getComputedStyle(e), box = e.matches('.blank, .tick, .wall, .say');
        return [style.color, ...(box ? [style.borderBottomColor, style.borderLeftColor] : [])];
    }).map(c => c.match(/\\d+/g).slice(0, 3).map(Number))"""
    colours = page.evaluate(script)
    assert len(colours) > 300
    assert {tuple(colour) for colour in colours if len(set(colour)) > 1 or colour[0] > 110} == set()


def test_boxes_are_large_enough_to_write_in(page: Page, sheets: list[Path]) -> None:
    """On paper a box for a reading is at least 18 mm by 6.5 mm, and a box to tick at least 2 mm."""
    opened(page, sheets[-1], media="print")
    page.set_viewport_size({"width": 680, "height": 1000})  # the width between the margins of A4
    script = "s => [...document.querySelectorAll(s)].map(e => e.getBoundingClientRect()).map(r => [r.width * 25.4 / 96, r.height * 25.4 / 96])"
    boxes, ticks = page.evaluate(script, "dt + .blank"), page.evaluate(script, ".tick")
    assert len(boxes) >= 18
    assert all(width >= 18.0 and height >= 6.5 for width, height in boxes)
    assert all(width >= 2.0 and height >= 2.0 for width, height in ticks)


@pytest.mark.parametrize("width", [320, 360])
def test_a_phone_shows_one_column(page: Page, sheets: list[Path], odd: list[Path], width: int) -> None:
    """Nothing sticks out to the side, and the parts of each step stand one below the other."""
    page.set_viewport_size({"width": width, "height": 700})
    lefts = (
        "[...document.querySelectorAll('.steps > li')].map(li => new Set([...li.children].map(e => Math.round(e.getBoundingClientRect().left))).size)"
    )
    for path in [*sheets, *odd]:
        opened(page, path)
        assert page.evaluate(SIDEWAYS) <= 0, path.name
        assert set(page.evaluate(lefts)) == {1}, path.name


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_violation(page: Page, sheets: list[Path], scheme: str) -> None:
    """Nothing that axe calls a violation, for a plan and for a brewed batch."""
    for path in (sheets[-1], sheets[0]):
        assert _violations(opened(page, path, color_scheme=scheme)) == [], path.name


def test_sheet_and_report_lead_to_each_other(page: Page, sheets: list[Path]) -> None:
    """A click leads from the batch to its sheet and back."""
    opened(page, sheets[-1])
    page.get_by_role("link", name="The batch", exact=True).click()
    assert page.url.endswith(sheets[-1].name.replace("-sheet", ""))
    page.get_by_role("link", name="The brew sheet", exact=True).click()
    assert page.url.endswith(sheets[-1].name)


def test_the_tree_of_a_reader_who_listens(page: Page, sheets: list[Path]) -> None:
    """Boxes to tick are silent; an empty box says that it isn't read yet, and the lines for notes say nothing."""
    opened(page, sheets[-1])
    assert page.locator(".tick").count() == page.locator(".tick[aria-hidden=true]").count() > 20
    assert page.locator(".blank .unread").count() == page.locator(".blank").count()
    assert page.locator(".lines[aria-hidden=true]").count() == 1
