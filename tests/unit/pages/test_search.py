"""The index of words: folding, packing and what is in it."""

import json
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.pages import search
from generator.pages.search import DIGITS, LESSONS, packed, script_json, texts
from generator.pages.site_map import SiteMap, order
from generator.pages.words import LONGEST, STOP_WORDS, fold, words
from generator.records.models import JournalSettings
from generator.records.notes import Notes
from tests.benchmarks.finding import stories
from tests.unit.pages.support import reports


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Kölsch, Crème BRÛLÉE", ["kolsch", "creme", "brulee"]), ("Straße ŁÓDŹ smørrebrød", ["strasse", "lodz", "smorrebrod"]),
        ("It was 1,064, then 1.012 at 20 °C; 5 l", ["1.064", "1.012", "20", "5"]), ("the and of a b", []),
        ("half-way don't __x__ 麦芽 x", ["half", "way", "don", "麦芽"]), ("ΣΟΦΟΣ", ["σοφοσ"]), ("", []), ("w" * 90, ["w" * LONGEST]),
    ],
)  # fmt: skip
def test_words(text: str, expected: list[str]) -> None:
    """Words come without capitals and accents; decimal numbers whole; stop words and single letters not at all."""
    assert words(text) == expected


@given(st.text())
def test_folding_twice_changes_nothing(text: str) -> None:
    """A folded text is folded, and no word of it holds a sign of the postings."""
    assert fold(fold(text)) == fold(text)
    assert not set("".join(words(text))) & set(DIGITS + LESSONS)


def _numbers(signs: str) -> list[int]:
    """The gaps of the postings, read back by the rule that the index states."""
    found, before, carried = [], -1, 0
    for sign in signs:
        digit = DIGITS.index(sign)
        if digit >= 40:
            carried = carried * (len(DIGITS) - 40) + digit - 39
        else:
            before += carried * 40 + digit + 1
            found.append(before)
            carried = 0
    return found


def _unpacked(text: str) -> dict[str, tuple[list[int], list[int]]]:
    """The packed words, read back."""
    signs = f"[{re.escape(DIGITS + LESSONS)}]"
    found, before = {}, ""
    for shared, rest, postings in re.findall(rf"([0-9a-z])((?:(?!{signs}).)+)({signs}+)", text, re.DOTALL):
        before = before[: int(shared, 36)] + rest
        story, _, lessons = postings.partition(LESSONS)
        found[before] = (_numbers(story), _numbers(lessons))
    return found


_PLACES = st.sets(st.integers(0, 5000), max_size=30).map(sorted)
_WORDS = st.text(max_size=60).map(words).filter(bool).map(lambda found: found[0])


@given(st.dictionaries(_WORDS, st.tuples(_PLACES, _PLACES).filter(any), max_size=30))
def test_packing_loses_nothing(postings: dict[str, tuple[list[int], list[int]]]) -> None:
    """Whatever the words and batches, they can be read back from the packed text."""
    assert _unpacked(packed(postings)) == postings


def test_packing_by_hand() -> None:
    """Shared beginnings become a sign, batches become gaps (39 is `=`, 42 is 1·40 + 2, so `?C`), lessons follow their mark."""
    assert packed({"mash": ([0, 1, 41], []), "mashed": ([42], [3]), "malt": ([], [0])}) == "0malt~A2shAA=4ed?C~D"
    assert packed({"malt": ([], [0]), "mash": ([0, 1, 2], [])}) == "0malt~A2shAAA"
    assert _numbers("AAA") == [0, 1, 2]


def test_nothing_in_the_index_ends_a_script() -> None:
    """Markup, line separators and lone surrogates are escaped, and JSON gives them back."""
    text = "</script><!-- & \u2028\u2029 \x85 \ud800 é"
    made = script_json({"x": text})
    assert not re.search("[<>&\u2028\u2029\x85\ud800]", made)
    assert json.loads(made) == {"x": text}


def _index() -> tuple[SiteMap, dict[str, Any]]:
    site = SiteMap(JournalSettings(title="Demo", brewer="Hanne Orrock"), order(list(reports().values())))
    script = search.index(site)
    assert script.startswith("var wortledgerIndex = {")
    assert script.endswith("};\n")
    return site, json.loads(script.removeprefix("var wortledgerIndex = ").removesuffix(";\n"))


def test_every_word_of_the_demo_is_in_its_index() -> None:
    """Each batch can be found by each word of its story and its lessons, and by no other word."""
    site, made = _index()
    found = _unpacked(made["words"])
    for number, report in enumerate(site.reports):
        for place, text in enumerate(texts(report)):
            assert {word for word, lists in found.items() if number in lists[place]} == set(words(text)), report.batch.slug
    assert len(found) > 700
    assert not STOP_WORDS & set(found)


def test_batches_of_the_index_are_those_of_the_register() -> None:
    """Titles, days, ingredients and printed figures stand with each batch; a planned one has its plan."""
    site, made = _index()
    assert [row[0] for row in made["batches"]] == [report.batch.slug for report in site.reports]
    rows = {row[0]: row for row in made["batches"]}
    _, title, recipe, brewed, brewer, names, figures = rows["2025-11-15-fog-bell-1"]
    assert (title, made["recipes"][recipe], brewed, brewer) == ("Fog Bell, first", "Fog Bell", "2025-11-15", "")
    assert {"Pale malt", "Brown malt", "Roasted barley", "Flaked oats"} < {made["names"][name] for name in names}
    shown = dict(zip(made["labels"], figures.split("|"), strict=True))
    assert shown["Original gravity"] == "1.088"
    assert shown["Alcohol, % vol"].startswith("8.")
    assert rows["2026-12-12-fog-bell-4"][6].startswith("1.096|")


def test_lessons_are_parted_from_the_story() -> None:
    """A word of the lessons alone is not taken for one of the story; addresses and markup are no words."""
    site, _ = _index()
    story, lessons = texts(site.by_slug["2025-11-15-fog-bell-1"])
    assert "two fingers between the bed" in lessons
    assert "two fingers" not in story
    assert "dried fig" in story
    assert "#" not in story


def test_the_index_of_a_hundred_batches_is_small() -> None:
    """A hundred batches, each with 600 words of English that no other has, take less than 60 KB, before gzip."""
    one = reports()["2025-11-15-fog-bell-1"]
    made = [
        replace(one, batch=replace(one.batch, slug=f"2025-11-15-fog-bell-{number}", notes=Notes(story))) for number, story in enumerate(stories(100))
    ]
    script = search.index(SiteMap(JournalSettings(title="Many"), order(made)))
    assert len(_unpacked(json.loads(script[len("var wortledgerIndex = ") : -2])["words"])) > 2500
    assert 30_000 < len(script.encode()) < 60_000
