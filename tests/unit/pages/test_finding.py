"""The pages that lead to batches: the front of a large journal, years, recipes, ingredients."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest

from generator.analysis.report import Report
from generator.pages import lists
from generator.pages.finding_contract import IngredientPage, IngredientsPage
from generator.pages.ingredients import MOST, ingredient_pages, uses
from generator.pages.lists import FRONT
from generator.pages.render import render
from generator.pages.site_map import SiteMap, order
from generator.records.models import Hop, JournalSettings, Plan, Yeast
from tests.unit.pages.support import reports

SETTINGS = JournalSettings(title="Many", brewer="Nobody")


@cache
def _one() -> Report:
    return reports()["2025-10-04-halfpenny-toll-1"]


def _made(number: int, brewed: date, recipe: str = "Plain", **changes: object) -> Report:
    """A batch of the demo under another name, date and recipe; its figures don't matter here."""
    batch = _one().batch
    about = batch.plan.batch.model_copy(update={"brewed": brewed, "recipe": recipe, "title": "", "follows": None})
    plan = batch.plan.model_copy(update={"batch": about, **changes})
    return replace(_one(), batch=replace(batch, slug=f"batch-{number:03d}", plan=plan))


def _site(*made: Report) -> SiteMap:
    return SiteMap(SETTINGS, order(list(made)))


def _years(*counts: int, last: int = 2026) -> SiteMap:
    """So many batches in the last year, the one before, and so on."""
    days = [date(last - year, 1, 1) + timedelta(days=number) for year, count in enumerate(counts) for number in range(count)]
    return _site(*(_made(number, day, f"Recipe {number % 40}") for number, day in enumerate(days)))


@pytest.mark.parametrize(
    ("counts", "shown", "caption"),
    [
        ((3, 4), {"2026": 3, "2025": 4}, "Every batch, the newest first"),
        ((10, 20), {"2026": 10, "2025": 20}, "Every batch, the newest first"),
        ((10, 21, 1), {"2026": 10}, "The newest ten batches"),
        ((45, 2), {"2026": FRONT}, "The newest 30 batches"),
    ],
)
def test_the_front_page_holds_the_newest_years(counts: tuple[int, ...], shown: dict[str, int], caption: str) -> None:
    """As many whole years as there is room for, of a year that is too long its newest batches, and a link to every year."""
    page = lists.index_page(_years(*counts))
    assert {year.title: len(year.rows) for year in page.years} == shown
    assert page.caption == caption
    assert [(link.text, link.href) for link in page.all_years] == [(str(2026 - n), f"years/{2026 - n}.html") for n in range(len(counts))]
    days = [row.key for year in page.years for row in year.rows]
    assert days == sorted(days, reverse=True)


def test_every_batch_is_on_the_page_of_its_year() -> None:
    """Each year has a page with all of its batches, linked to the other years."""
    site = _years(45, 2, 1)
    pages = lists.year_pages(site)
    assert list(pages) == ["years/2026.html", "years/2025.html", "years/2024.html"]
    assert [sum(len(year.rows) for year in page.years) for page in pages.values()] == [45, 2, 1]
    assert pages["years/2025.html"].others == (("2026", "2026.html"), ("2024", "2024.html"))
    html = render(pages["years/2024.html"])
    assert 'href="../batches/batch-047.html"' in html
    assert "<h1>2024</h1>" in html


def test_a_front_page_of_many_recipes_names_the_latest() -> None:
    """The front page names a dozen recipes, the page of recipes all of them."""
    site = _years(45, 2)
    page = lists.index_page(site)
    assert len(page.recipes) == 12
    assert page.more_recipes == "All 40 recipes"
    everything = lists.recipes_page(site)
    assert [row.name for row in everything.recipes] == [batches[-1].batch.plan.batch.recipe for batches in site.recipes.values()]
    assert sum(row.batches for row in everything.recipes) == 47
    assert everything.recipes[0].newest == ("2026-02-14", "Feb 2026")


def test_an_empty_journal_has_a_front_page() -> None:
    """Nothing published yet: no years, no recipes, no ingredients, and every page renders."""
    site = _site()
    assert lists.index_page(site).years == ()
    assert all(render(page) for page in lists.finding_pages(site).values())


def _brewed_with(number: int, hops: list[tuple[str, float]], yeast: str = "") -> Report:
    added = tuple(Hop(name=name, mass=f"{grams} g", alpha="5 %", time="60 min") for name, grams in hops)  # type: ignore[arg-type]
    plan: dict[str, object] = {"hops": added, "yeast": Yeast(name=yeast), "grist": ()}
    return _made(number, date(2026, 1, 1) + timedelta(days=number), **plan)


def _all(site: SiteMap) -> IngredientsPage:
    page = ingredient_pages(site)["ingredients.html"]
    assert isinstance(page, IngredientsPage)
    return page


def test_additions_of_one_name_are_added_up() -> None:
    """Two additions of a hop are one entry with their sum, also with other capitals and spaces; the yeast has no amount."""
    used = uses(_brewed_with(1, [("East Kent Goldings", 30), ("Fuggles", 10), ("east  kent goldings", 12)], " Ale yeast "))
    assert [(one.name, one.kind, None if one.mass is None else round(one.mass, 6)) for one in used] == [
        ("East Kent Goldings", "hops", 0.042), ("Fuggles", "hops", 0.01), ("Ale yeast", "yeast", None),
    ]  # fmt: skip


def test_names_in_other_capitals_are_one() -> None:
    """Spellings are merged under that of most batches, and stand from A to Z without regard to accents and capitals."""
    site = _site(
        _brewed_with(1, [("saaz", 20), ("Élan", 5)]), _brewed_with(2, [("Saaz", 30)]), _brewed_with(3, [("SAAZ", 10), ("7C", 8), ("zeus", 1)]),
        _brewed_with(4, [("Saaz", 40)], "Saaz"),
    )  # fmt: skip
    letters = _all(site).letters
    assert [(letter.title, [(entry.name, entry.kind) for entry in letter.entries]) for letter in letters] == [
        ("E", [("Élan", "hops")]), ("S", [("Saaz", "hops"), ("Saaz", "yeast")]), ("Z", [("zeus", "hops")]), ("0–9", [("7C", "hops")]),
    ]  # fmt: skip
    hop = letters[1].entries[0]
    assert [(use.href, use.amount, use.day) for use in hop.uses] == [
        ("batches/batch-004.html", "40 g", "5 Jan 2026"), ("batches/batch-003.html", "10 g", "4 Jan 2026"),
        ("batches/batch-002.html", "30 g", "3 Jan 2026"), ("batches/batch-001.html", "20 g", "2 Jan 2026"),
    ]  # fmt: skip


def test_an_ingredient_of_many_batches_has_a_page_of_its_own() -> None:
    """The common page names the newest dozen and leads to the rest; pages of two kinds of one name don't collide."""
    site = _site(*(_brewed_with(number, [("Citrine", 20)], "Citrine") for number in range(MOST + 3)), _brewed_with(99, [("Rare", 5)]))
    pages = ingredient_pages(site)
    assert list(pages) == ["ingredients.html", "ingredients/citrine.html", "ingredients/citrine-yeast.html"]
    entries = _all(site).letters[0].entries
    assert [(len(entry.uses), entry.more, entry.href) for entry in entries] == [
        (MOST, "all 15 batches", "ingredients/citrine.html"), (MOST, "all 15 batches", "ingredients/citrine-yeast.html"),
    ]  # fmt: skip
    own = pages["ingredients/citrine.html"]
    assert isinstance(own, IngredientPage)
    assert len(own.uses) == MOST + 3
    assert own.under == "Hops, in 15 batches from Jan 2026 to Jan 2026"
    assert 'data-key="20.0"' in render(own)


def test_plans_of_the_demo_are_all_there() -> None:
    """Every good, hop and yeast of every plan of the demo stands under its letter with a link to its batch."""
    site = SiteMap(SETTINGS, order(list(reports().values())))
    links = {(entry.name.casefold(), use.href) for letter in _all(site).letters for entry in letter.entries for use in entry.uses}
    wanted = set()
    for report in site.reports:
        plan: Plan = report.batch.plan
        for name in [*(good.name for good in plan.grist), *(hop.name for hop in plan.hops), plan.yeast.name]:
            if name:
                wanted.add((name.casefold(), f"batches/{report.batch.slug}.html"))
    assert links == wanted
    assert len(wanted) > 60
