"""Problems as they are printed: safe, sorted, and with a hint."""

import unicodedata

import pytest

from generator.errors import SLUGS, JournalError, Problem, nearest, printable, shown


@pytest.mark.parametrize(
    "character", ["\x00", "\x07", "\x1b", "\n", "\r", "\x7f", "\x9b", "\u00ad", "\u061c", "\u200b", "\u200f", "\u2028", "\u202e"]
)
def test_controls_are_replaced(character: str) -> None:
    """A character that a terminal obeys, hides or turns around is shown as a replacement."""
    assert shown(f"a{character}b") == printable(f"a{character}b") == "a\ufffdb"


def test_no_character_of_a_dangerous_category_is_printed() -> None:
    """Of all characters, no control, format, surrogate or line separator comes through, and every letter does."""
    everything = "".join(map(chr, range(0x110000)))
    categories = {unicodedata.category(character) for character in printable(everything)}
    assert categories.isdisjoint({"Cc", "Cf", "Cs", "Zl", "Zp"})
    letters = "".join(character for character in everything if character.isalnum())
    assert printable(letters) == letters


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "true"),
        ({"a": 1}, "a table"),
        ([1], "a list"),
        (1.5, "1.5"),
        (10**5000, "a number of too many digits"),
        (-(10**5000), "a number of too many digits"),
        ("m³ °P", "m³ °P"),
        ("x" * 80, "x" * 80),
        ("x" * 81, "x" * 79 + "…"),
    ],
    ids=range(9),
)
def test_values_are_shown_in_the_brewers_words(value: object, text: str) -> None:
    """Tables and lists go by their name, numbers of TOML as TOML writes them, and nothing is endless."""
    assert shown(value) == text


@pytest.mark.parametrize(
    ("word", "hint"),
    [
        ("colour", "did you mean 'colour'?"),
        ("Color", "did you mean 'colour'?"),
        ("extarct", "did you mean 'extract'?"),
        ("mas", "did you mean 'mass'?"),
        ("zzz", "expected one of name, mass, extract, colour"),
        ("", "expected one of name, mass, extract, colour"),
    ],
)
def test_nearest_known_word(word: str, hint: str) -> None:
    """A mistyped word gets the nearest known one; what resembles nothing gets all of them."""
    assert nearest(word, ("name", "mass", "extract", "colour")) == hint


def test_nearest_of_few_many_and_none() -> None:
    """One known word stands alone, more than twelve are cut, and none is said."""
    assert nearest("zzz", ("name",)) == "expected name"
    assert nearest("zzz", [f"tove-{number}" for number in range(13)]).endswith("tove-11, …")
    assert nearest("zzz", ()) == "expected nothing of the kind here"
    assert nearest("TOVE-1", ("Tove-1",)) == "did you mean 'Tove-1'?"


def test_nearest_is_quick_on_endless_words() -> None:
    """A word of a million letters is looked up as any other."""
    assert nearest("colour" * 200_000, ("name", "colour")).startswith("expected")


def test_problem_is_one_line() -> None:
    """A problem prints as path:line: what; expected [slug], on one line whatever its parts hold."""
    assert str(Problem("a/plan.toml", 3, "wrong", "right", "wrong-value")) == "a/plan.toml:3: wrong; right [wrong-value]"
    assert str(Problem("a\nb", 3, "x\x1by", "\u202e", "wrong-value")) == "a\ufffdb:3: x\ufffdy; \ufffd [wrong-value]"


def test_problems_are_sorted_and_told_once() -> None:
    """An error carries its problems by file and line as a number, each once."""
    made = [Problem(path, line, "w", "e", "wrong-value") for path, line in (("b", 1), ("a", 10), ("a", 9), ("a", 10))]
    error = JournalError(made)
    assert [(problem.path, problem.line) for problem in error.problems] == [("a", 9), ("a", 10), ("b", 1)]
    assert str(error).count("\n") == 2


def test_slugs_are_slugs() -> None:
    """Slugs are lower-case words with hyphens, and none stands twice."""
    assert len(set(SLUGS)) == len(SLUGS)
    assert all(part.isalnum() and part == part.lower() for slug in SLUGS for part in slug.split("-"))
