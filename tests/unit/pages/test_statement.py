"""The sentences at the head of a page: true to the figures, one for each way a brew can go."""

from dataclasses import replace

import pytest

from generator.analysis.figures import Figure
from generator.analysis.report import Report
from generator.pages.statement import statement, summary
from tests.unit.pages.support import figure, figures, reports


@pytest.fixture(scope="module")
def some() -> dict[str, Report]:
    """The demo's reports."""
    return reports()


def _said(some: dict[str, Report], *known: Figure) -> tuple[str, ...]:
    return statement(replace(some["2025-11-15-fog-bell-1"], figures=figures(*known)))


@pytest.mark.parametrize(
    ("plan", "read", "doubt", "sentence"),
    [
        (1.050, 1.0502, 0.001, "Planned at 1.050, the wort came out at 1.050: on plan, within the doubt of ±0.001."),
        (1.050, 1.045, 0.001, "Planned at 1.050, the wort came out at 1.045: five points short, more than the reading can be doubted by."),
        (1.050, 1.051, 0.0008, "Planned at 1.050, the wort came out at 1.051: one point over, more than the reading can be doubted by."),
        (1.0501, 1.0503, 0.0001, "Planned at 1.0501, the wort came out at 1.0503"),
        (None, 1.045, 0.001, "The wort came out at 1.045, give or take 0.001; no gravity was planned."),
        (1.050, None, 0.001, "The original gravity was not read, so nothing can be said of the extract."),
    ],
)  # fmt: skip
def test_of_the_wort(some: dict[str, Report], plan: float | None, read: float | None, doubt: float, sentence: str) -> None:
    """Planned, read, and whether the difference is more than the doubt."""
    assert _said(some, figure("original_gravity", plan, read, doubt))[0].startswith(sentence)


@pytest.mark.parametrize(
    ("plan", "read", "abv", "sentence"),
    [
        (1.012, 1.0123, (5.0, 5.05), "It fermented as planned to 1.012 and holds 5.0 % vol."),
        (1.012, 1.020, (5.0, 4.0), "It stopped at 1.020, eight points above the planned 1.012, and holds 4.0 % vol where 5.0 was meant."),
        (1.012, 1.008, (5.0, 5.6), "It went down to 1.008, four points below the planned 1.012, and holds 5.6 % vol where 5.0 was meant."),
        (1.012, 1.020, None, "It stopped at 1.020, eight points above the planned 1.012."),
        (None, 1.011, None, "It fermented to 1.011."),
        (1.012, None, None, "No final gravity was read yet."),
    ],
)  # fmt: skip
def test_of_the_beer(some: dict[str, Report], plan: float | None, read: float | None, abv: tuple[float, float] | None, sentence: str) -> None:
    """Where it stopped, and the alcohol with what was meant only where the difference is real."""
    known = [figure("original_gravity", 1.05, 1.05), figure("final_gravity", plan, read, 0.001)]
    known += [figure("abv", *abv, 0.19)] if abv else []
    assert sentence.replace(" % vol", "\N{NO-BREAK SPACE}%\N{NO-BREAK SPACE}vol") in _said(some, *known)


def test_a_plan_says_when_and_what(some: dict[str, Report]) -> None:
    """A batch that isn't brewed speaks of its day and its targets, and of less where less is known."""
    planned = some["2026-12-12-fog-bell-4"]
    assert statement(planned)[0].startswith("Planned for Saturday 12 December 2026: ")
    bare = replace(planned, figures=figures())
    assert statement(bare) == ("Planned for Saturday 12 December 2026.",)


def test_every_sentence_of_the_demo_is_one(some: dict[str, Report]) -> None:
    """Each begins with a capital, ends with a full stop, and has no double space or stray sign."""
    for one in some.values():
        for sentence in statement(one):
            assert sentence[0].isupper()
            assert sentence.endswith(".")
            assert "  " not in sentence
            assert ".." not in sentence
            assert " ," not in sentence
        assert statement(one)[0].startswith(summary(one))
