"""The checks of a plan that one key alone can't show: what is refused, what is still allowed, and that all of it is told at once."""

from pathlib import Path

import pytest

from generator.errors import Problem
from generator.records.files import Reader
from generator.records.models import Plan
from generator.records.plan import check_plan, read_plan
from generator.records.toml import TomlFile

HEAD = '[batch]\nrecipe = "Tove"\nbrewed = 2026-02-14\n'
HOPS = '[[hops]]\nname = "Leaf"\nmass = "20 g"\n'
"""To which the keys of an addition are added."""


def read(folder: Path, text: str) -> tuple[Plan | None, list[Problem]]:
    """The plan of a text, and its problems by line."""
    (folder / "plan.toml").write_text(HEAD + text, encoding="utf-8")
    reader = Reader(folder)
    found = read_plan(reader, folder / "plan.toml")
    return (found[0] if found else None), sorted(reader.problems)


def places(folder: Path, text: str) -> list[tuple[int, str]]:
    """Line, counted from the end of the head, and slug of each problem."""
    return [(problem.line - 3, problem.slug) for problem in read(folder, text)[1]]


@pytest.mark.parametrize(
    "text",
    [
        HOPS + 'alpha = "30 %"\ntime = "60 min"\n[boil]\nduration = "60 min"\n',
        HOPS + 'alpha = "5 %"\ntime = "1 h"\n[boil]\nduration = "1 h"\n',
        HOPS + 'alpha = "5 %"\ntime = "12 h"\n',
        HOPS + 'alpha = "5 %"\ntime = "0 min"\ntemperature = "20 °C"\n',
        HOPS + 'alpha = "5 %"\ntime = "90 min"\nadded = "first wort"\n[boil]\nduration = "60 min"\n',
        HOPS + 'alpha = "5 %"\nadded = "first wort"\n',
        HOPS + 'alpha = "5 %"\ntime = "24 h"\ntemperature = "40 °C"\nadded = "stand"\n',
        HOPS + 'alpha = "5 %"\ntime = "90 min"\ntemperature = "212 °F"\nadded = "stand"\n[boil]\nduration = "60 min"\n',
        HOPS + 'added = "fermenter"\ntime = "4 d"\ntemperature = "4 °C"\nalpha = "5 %"\n',
        HOPS + 'added = "fermenter"\nwhen = "pitch + 14 d"\n[package]\nwhen = "pitch + 2 wk"\n',
        HOPS + 'added = "fermenter"\nwhen = "package - 14 d"\n[package]\nwhen = "pitch + 14 d"\n',
        HOPS + 'added = "fermenter"\nwhen = "package"\n',
        '[[rest]]\ntemperature = "100 °C"\nduration = "48 h"\n',
        '[boil]\nduration = "12 h"\n',
        '[[task]]\nwhen = "boil - 60 min"\ntext = "x"\n[boil]\nduration = "60 min"\n',
        '[[task]]\nwhen = "boil - 3 h"\ntext = "x"\n',
        '[[task]]\nwhen = "boil + 90 min"\ntext = "x"\n[boil]\nduration = "60 min"\n',
        '[[task]]\nwhen = "package + 90 d"\ntext = "x"\n[package]\nwhen = "pitch + 14 d"\n',
        '[[task]]\nwhen = "pitch + 90 d"\ntext = "x"\n',
        '[[task]]\nwhen = "when the foam falls"\ntext = "x"\n',
        '[mash]\nportions = 20\ninterval = "4 h"\n',
        "[mash]\nportions = 2.0\n",
        '[liquor]\nsparge_temperature = "168 °F"\n',
        '[package]\nsugar = "sucrose"\n',
    ],
    ids=range(24),
)  # fmt: skip
def test_what_is_allowed(text: str, tmp_path: Path) -> None:
    """What lies on a limit, and what another addition or step may have, is no problem."""
    plan, problems = read(tmp_path, text)
    assert problems == []
    assert plan is not None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (HOPS + 'alpha = "30.1 %"\ntime = "60 min"\n', [(4, "out-of-range")]),
        (HOPS + 'alpha = "5 %"\ntime = "60.1 min"\n[boil]\nduration = "60 min"\n', [(5, "before-the-boil")]),
        (HOPS + 'alpha = "5 %"\ntime = "12.1 h"\n', [(5, "out-of-range")]),
        (HOPS + 'alpha = "5 %"\ntime = "24.1 h"\ntemperature = "39.9 °C"\nadded = "stand"\n', [(5, "out-of-range"), (6, "out-of-range")]),
        (HOPS + 'alpha = "5 %"\ntime = "9 min"\ntemperature = "100.1 °C"\nadded = "stand"\n', [(6, "out-of-range")]),
        (HOPS + 'added = "fermenter"\nwhen = "pitch + 14 d 1 min"\n[package]\nwhen = "pitch + 14 d"\n', [(5, "after-packaging")]),
        (HOPS + 'added = "fermenter"\nwhen = "package + 1 min"\n', [(5, "after-packaging")]),
        (HOPS + 'added = "fermenter"\nwhen = "package - 15 d"\n[package]\nwhen = "pitch + 14 d"\n', [(5, "out-of-range")]),
        (HOPS + 'added = "fermenter"\nwhen = "pitch - 1 min"\n', [(5, "out-of-range")]),
        (HOPS + 'added = "fermenter"\nwhen = "soon"\n', [(5, "wrong-value")]),
        (HOPS + 'added = "first wort"\nalpha = "5 %"\nwhen = "pitch + 1 d"\n', [(6, "wrong-value")]),
        ('[[rest]]\ntemperature = "100.1 °C"\nduration = "48.1 h"\n', [(2, "out-of-range"), (3, "out-of-range")]),
        ('[boil]\nduration = "12.1 h"\n', [(2, "out-of-range")]),
        ('[[task]]\nwhen = "boil - 60.1 min"\ntext = "x"\n[boil]\nduration = "60 min"\n', [(2, "before-the-boil")]),
        ('[[task]]\nwhen = "pitch + 14.1 d"\ntext = "x"\n[package]\nwhen = "pitch + 14 d"\n', [(2, "after-packaging")]),
        ('[mash]\ninterval = "4.1 h"\n', [(2, "out-of-range"), (2, "missing-key")]),
        ('[mash]\nportions = 1\ninterval = "1 min"\n', [(3, "wrong-value")]),
        ("[mash]\nportions = 0\n", [(2, "out-of-range")]),
        ('[liquor]\nsparge_temperature = "100.1 °C"\n', [(2, "out-of-range")]),
        ('[package]\nsugar = "honey"\nwhen = "pitch"\n', [(2, "wrong-value")]),
    ],
    ids=range(20),
)  # fmt: skip
def test_what_is_refused(text: str, found: list[tuple[int, str]], tmp_path: Path) -> None:
    """What lies just beyond a limit, or can't be at its step, is told at its line."""
    assert places(tmp_path, text) == found


def test_everything_is_told_at_once(tmp_path: Path) -> None:
    """A fault of one key hides neither the faults between keys nor those of other additions, and isn't told twice."""
    text = HOPS + 'alpha = "50 %"\ntime = "90 min"\ncolour = "green"\n' + HOPS + 'added = "stand"\ntime = "soon"\n[boil]\nduration = "60 min"\n'
    assert places(tmp_path, text) == [
        (4, "out-of-range"),
        (5, "before-the-boil"),
        (6, "unknown-key"),
        (7, "missing-key"),
        (7, "missing-key"),
        (11, "wrong-value"),
    ]


def test_an_unreadable_boil_is_no_limit(tmp_path: Path) -> None:
    """Where the boil or the packaging can't be read, nothing is compared with it."""
    hops = HOPS + 'alpha = "5 %"\ntime = "90 min"\n' + HOPS + 'added = "fermenter"\nwhen = "pitch + 60 d"\n'
    assert places(tmp_path, hops + '[boil]\nduration = "an hour"\n[package]\nwhen = "some day"\n') == [(12, "wrong-value"), (14, "wrong-value")]


@pytest.mark.parametrize("name", ["mash", "boil", "package", "hops", "task"])
@pytest.mark.parametrize("value", [7, "x", [], [7], {}, [[]], [{}], {"when": 7}, [{"when": [], "added": {}, "time": {}}], None])
def test_tables_of_the_wrong_type_are_told(name: str, value: object, tmp_path: Path) -> None:
    """Whatever stands where a table should be, the checks between keys don't stumble over it."""
    reader = Reader(tmp_path)
    file = TomlFile("plan.toml", {"batch": {"recipe": "Tove", "brewed": "2026-02-14"}, name: value}, {})
    assert check_plan(reader, file) is not None or reader.problems


def test_new_keys_are_read(tmp_path: Path) -> None:
    """Portions, their interval, the sparge liquor's temperature and the days of the fermentation come with their values."""
    text = '[mash]\nportions = 3\ninterval = "10 min"\n[liquor]\nsparge_temperature = "168 °F"\n[package]\nwhen = "pitch + 14 d"\n'
    plan, _ = read(tmp_path, text + HOPS + 'added = "fermenter"\nwhen = "package  - 3 d"\n')
    assert plan is not None
    assert (plan.mash.portions, plan.mash.interval) == (3, 10.0)
    assert plan.liquor.sparge_temperature == pytest.approx((168 - 32) / 1.8, abs=1e-9)
    assert (plan.package.when, plan.hops[0].when) == ("pitch + 14 d", "package - 3 d")
