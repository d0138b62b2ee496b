"""Chromium: the one on PATH, else Playwright's own. Pages are opened from the folder, as a reader with a memory stick would."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.install import found

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync",
]  # fmt: skip


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in this folder opens a browser."""
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here):
            item.add_marker("browser")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a worker."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found(), args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A fresh page, 1280 px wide."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def paths(demo_site: Path, kinds: dict[str, Path]) -> list[Path]:
    """One page of every kind, and of the others every second: tests/site looks at all of them."""
    others = sorted(set(demo_site.rglob("*.html")) - set(kinds.values()))
    return sorted([*kinds.values(), *others[::2]])


@pytest.fixture(scope="session")
def kinds(demo_site: Path) -> dict[str, Path]:
    """One page of every kind; of batches a planned one, a strong one, and one with a logger."""
    names = {
        "index": "index.html", "lessons": "lessons.html", "methods": "methods.html", "safety": "safety.html", "recipe": "recipes/fog-bell.html",
        "year": "years/2026.html", "recipes": "recipes.html", "ingredients": "ingredients.html", "search": "search.html", "data": "data.html",
        "planned": "batches/2026-12-12-fog-bell-4.html", "strong": "batches/2025-11-15-fog-bell-1.html",
        "logged": "batches/2026-03-28-far-bank-1.html", "stuck": "batches/2026-07-11-long-rope-2.html",
    }  # fmt: skip
    return {kind: demo_site / name for kind, name in names.items()}


@pytest.fixture(scope="session")
def chart_faults() -> str:
    """The script that looks at charts: gives a list of texts."""
    return (Path(__file__).parent / "page_script.js").read_text(encoding="utf-8")


def opened(page: Page, path: Path, **media: Any) -> Page:
    """A page of the site with its fonts there."""
    if media:
        page.emulate_media(**media)
    page.goto(path.as_uri())
    page.evaluate("document.fonts.ready")
    return page
