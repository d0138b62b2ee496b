"""Whole pages of two fixed journals, one brewed and one planned, against the pages that were accepted.

A change of a template or a chart shows here as a diff. If it is meant: `python -m tests.golden.accept`.
"""

import difflib
import json
import math
from typing import Any

import pytest

from tests.golden.pages import JOURNALS, built, expected

ACCEPT = "If this is meant, run: python -m tests.golden.accept"


@pytest.fixture(scope="module", params=JOURNALS)
def pair(request: pytest.FixtureRequest) -> tuple[dict[str, str], dict[str, str]]:
    """Files as accepted and as made now."""
    return expected(request.param), built(request.param)


def difference(before: str, after: str, name: str) -> str:
    """The changed lines of a file with a line around them, long ones cut."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), f"expected/{name}", f"now/{name}", n=1, lineterm="")
    return "\n".join(line[:300] for line in list(lines)[:60])


def _differing(before: Any, after: Any, place: str = "") -> list[str]:
    """Where two JSON values differ; numbers may differ by the last digits of another library's sums."""
    if isinstance(before, dict) and isinstance(after, dict):
        keys = sorted({*before, *after})
        return [text for key in keys for text in _differing(before.get(key, "absent"), after.get(key, "absent"), f"{place}/{key}")]
    if isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        return [text for number, pair in enumerate(zip(before, after, strict=True)) for text in _differing(*pair, f"{place}/{number}")]
    if isinstance(before, float) and isinstance(after, float) and math.isclose(before, after, rel_tol=1e-6, abs_tol=1e-9):
        return []
    return [] if before == after else [f"{place}: {before!r} became {after!r}"]


def test_the_same_files(pair: tuple[dict[str, str], dict[str, str]]) -> None:
    """No page appears or goes without being accepted."""
    before, after = pair
    assert set(before) == set(after), ACCEPT


def test_pages_are_as_accepted(pair: tuple[dict[str, str], dict[str, str]]) -> None:
    """Every page, to the byte."""
    before, after = pair
    changes = [difference(before[name], text, name) for name, text in after.items() if name.endswith(".html") and before.get(name, "") != text]
    if changes:
        pytest.fail("\n\n".join([*changes, ACCEPT]), pytrace=False)


def test_data_is_as_accepted(pair: tuple[dict[str, str], dict[str, str]]) -> None:
    """Every figure, to a millionth of itself."""
    before, after = pair
    names = [name for name in after if name.endswith(".json")]
    changes = [text for name in names for text in _differing(json.loads(before.get(name, "{}")), json.loads(after[name]), name)]
    if changes:
        pytest.fail("\n".join([*changes[:40], ACCEPT]), pytrace=False)


def test_a_change_would_be_seen() -> None:
    """One changed digit, one missing key and one more row are each found, a difference in the tenth digit isn't."""
    assert "+b" in difference("a\nx", "b\nx", "page")
    assert _differing({"a": 1.0, "b": [1, 2]}, {"a": 1.00001, "b": [1, 2, 3], "c": None}) != []
    assert len(_differing({"a": 1.0}, {"a": 2.0, "b": 1})) == 2
    assert _differing({"a": 1.0}, {"a": 1.0 + 1e-10}) == []
