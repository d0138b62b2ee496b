"""The account: rounded together, with a word for each difference."""

import pytest

from generator.analysis.catalogue import FIGURES
from generator.pages.account import account, points_in_words, row
from tests.unit.pages.support import figure, figures


def test_difference_is_that_of_the_printed_numbers() -> None:
    """1.0524 and 1.0516 print as 1.052 and 1.052: the difference is 0, not 0.001."""
    shown = row(figure("original_gravity", 1.0524, 1.0516, 0.001))
    assert (shown.plan.text, shown.read.text, shown.difference.text, shown.doubt.text) == ("1.052", "1.052", "0.000", "±0.001")


@pytest.mark.parametrize(
    ("key", "plan", "read", "half_width", "verdict", "tone"),
    [
        ("original_gravity", 1.050, 1.0505, 0.001, "on plan", "quiet"),
        ("original_gravity", 1.050, 1.045, 0.001, "5 points short", "short"),
        ("original_gravity", 1.050, 1.052, 0.001, "2 points over", "gain"),
        ("original_gravity", 1.050, 1.051, 0.0008, "1 point over", "gain"),
        ("pre_boil_gravity", 1.050, 1.040, 0.001, "10 points short", "short"),
        ("final_gravity", 1.012, 1.009, 0.001, "3 points below", "plain"),
        ("final_gravity", 1.012, 1.020, 0.001, "8 points above", "plain"),
        ("mash_efficiency", 80.0, 70.0, 2.0, "below plan", "short"),
        ("fermenter_volume", 20.0, 18.0, 0.4, "below plan", "plain"),
        ("abv", 5.0, 5.5, 0.2, "above plan", "gain"),
        ("abv", None, 5.5, 0.2, "no plan", "quiet"),
    ],
)  # fmt: skip
def test_verdicts(key: str, plan: float | None, read: float, half_width: float, verdict: str, tone: str) -> None:
    """Points for gravities, above and below for the rest; colour repeats what a word says."""
    shown = row(figure(key, plan, read, half_width))
    assert (shown.verdict, shown.tone) == (verdict, tone)


def test_unread_and_planned_only() -> None:
    """What could have been read says so; what is only planned says nothing."""
    assert row(figure("abv", 5.0)).verdict == "not read"
    assert row(figure("strike_temperature", 71.0)).verdict == ""
    assert row(figure("abv", 5.0)).read.text == row(figure("abv", 5.0)).doubt.text == ""


def test_every_known_figure_stands_once() -> None:
    """No figure is lost between the account, its closing rows and the further figures, and none stands twice."""
    made = account(figures(*[figure(entry.key, 1.0, 1.0, 0.1) for entry in FIGURES]), brewed=True)
    keys = [shown.key for group in made.groups for shown in group.rows] + [shown.key for shown in (*made.closing, *made.further)]
    assert sorted(keys) == sorted(entry.key for entry in FIGURES)
    assert made.missing == ()
    assert all(group.rows for group in made.groups)


def test_what_is_missing_is_named_with_its_reason() -> None:
    """Of a brewed batch each main figure that wasn't read is listed; of a planned one none is."""
    known = figures(figure("final_gravity", 1.010, why="no second gravity was read"))
    assert ("Final gravity", "no second gravity was read") in account(known, brewed=True).missing
    assert account(known, brewed=False).missing == ()


def test_where_the_plan_comes_from() -> None:
    """A planned figure says whether it is a target."""
    assert row(figure("abv", 5.0)).plan_from == "target"
    assert row(figure("abv")).plan_from == ""


def test_points_in_words() -> None:
    """One point, two points."""
    assert (points_in_words(1), points_in_words(2), points_in_words(19)) == ("one point", "two points", "19 points")
