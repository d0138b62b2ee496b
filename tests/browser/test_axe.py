"""The rules of axe-core on every kind of page, in both schemes and on a phone."""

from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import opened

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
KINDS = (
    "index",
    "lessons",
    "methods",
    "safety",
    "recipe",
    "planned",
    "strong",
    "logged",
    "stuck",
    "year",
    "recipes",
    "ingredients",
    "search",
    "data",
)


def _violations(page: Page) -> list[tuple[str, Any]]:
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]}).response["violations"]
    return [(rule["id"], [node["html"][:120] for node in rule["nodes"][:3]]) for rule in found]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", KINDS)
def test_no_violation(page: Page, kinds: dict[str, Path], kind: str, scheme: str) -> None:
    """Nothing that axe calls a violation, folded tables open; dark pages at the width of a phone."""
    if scheme == "dark":
        page.set_viewport_size({"width": 360, "height": 800})
    opened(page, kinds[kind], color_scheme=scheme)
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
    assert _violations(page) == []


def test_axe_sees_a_fault(page: Page, tmp_path: Path) -> None:
    """The check can fail: a picture without words, a pale text and a page without a language are found."""
    bad = tmp_path / "bad.html"
    pale = '<p style="color:#ccc;background:#fff">pale</p>'
    bad.write_text(f'<!DOCTYPE html><html><title>x</title><main><h1>x</h1>{pale}<img src="x">', encoding="utf-8")
    assert {name for name, _ in _violations(opened(page, bad))} >= {"html-has-lang", "image-alt", "color-contrast"}
