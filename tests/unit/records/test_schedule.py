"""Times told from a step of the brew: what is read, what stays free words, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator import units
from generator.errors import SLUGS
from generator.records.schedule import STEPS, Moment, duration, moment
from generator.units import QuantityError

WORDS = [*STEPS, "mahs", "Boil", "mash-in", "when", "½", "x"]
SIGNS = ["+", "-", "\N{MINUS SIGN}", "\N{EN DASH}", "\N{EM DASH}", "±", "+-", ""]
AMOUNTS = ["10", "2.5", "1,5", "0", "-3", "1e9", "9" * 400, "..", "١٢", "1 d 12", "nan", ""]
UNITS = [*units.DURATION.aliases, "minuets", "kg", "d.", "d or so", ""]
SPACES = st.sampled_from(["", " ", "  ", "\t", "\N{NO-BREAK SPACE}"])
LIKE_TIMES = st.tuples(st.sampled_from(WORDS), SPACES, st.sampled_from(SIGNS), SPACES, st.sampled_from(AMOUNTS), SPACES, st.sampled_from(UNITS))


def tried(text: str) -> Moment | QuantityError | None:
    """What a text tells, or why it is refused."""
    try:
        return moment(text)
    except QuantityError as error:
        return error


@pytest.mark.parametrize(
    ("text", "step", "minutes", "from_end"),
    [
        ("mash", "mash", 0.0, False),
        ("boil", "boil", 0.0, False),
        ("mash + 15 min", "mash", 15.0, False),
        ("mash - 30 min", "mash", -30.0, False),
        ("boil + 10 min", "boil", 10.0, False),
        ("boil - 10 min", "boil", -10.0, True),
        ("boil - 0 min", "boil", 0.0, True),
        ("stand - 5 min", "stand", -5.0, False),
        ("pitch + 2 d", "pitch", 2 * 1440.0, False),
        ("pitch - 4 d", "pitch", -4 * 1440.0, False),
        ("pitch + 1 d 12 h", "pitch", 36 * 60.0, False),
        ("package - 1.5 wk", "package", -1.5 * 7 * 1440.0, False),
        ("package + 14 days", "package", 14 * 1440.0, False),
        (" Boil\N{EN DASH}10 mins. ", "boil", -10.0, True),
        ("SPARGE \N{MINUS SIGN} 1 hour", "sparge", -60.0, False),
        ("chill+90s", "chill", 1.5, False),
    ],
)
def test_times(text: str, step: str, minutes: float, from_end: bool) -> None:
    """A step, alone or with a time, is read; only before the end of the boil is told from an end."""
    assert moment(text) == Moment(step, minutes, from_end)


@pytest.mark.parametrize(
    "text",
    [
        "", "when the foam falls", "evening", "day 3", "12:30", "boil - when it foams", "boil - 10 min before the end", "pitch + 4-5 d",
        "mash +", "+ 15 min", "first wort + 5 min", "mash-in", "after 2 - 3 days", "boil ± 10 min", "mash + 15 min + 5 min",
        "pitch + two days", "boil \N{EM DASH} 10 min",
    ],
)  # fmt: skip
def test_free_words(text: str) -> None:
    """What doesn't have the form of a time stays as it is written."""
    assert moment(text) is None


@pytest.mark.parametrize(
    ("text", "slug", "words"),
    [
        ("mahs + 15 min", "unknown-step", "did you mean 'mash'?"),
        ("flameout + 5 min", "unknown-step", "expected one of mash, sparge, boil, stand, chill, pitch, package"),
        ("mash-in + 5 min", "unknown-step", "did you mean 'mash'?"),
        ("boil - 10 minuets", "unit-unknown", "did you mean 'minutes'?"),
        ("boil - 10 kg", "unit-unknown", "expected a duration"),
        ("boil - 10", "unit-missing", "expected a duration"),
        ("mash + 2,5 h", "not-a-number", "decimal point"),
        ("mash + -15 min", "not-positive", "0 or more"),
        ("mash + 1 h -15 min", "wrong-value", "expected a duration"),
        ("pitch + 99999999 wk", "out-of-range", "expected 0 to"),
    ],
)
def test_times_that_are_refused(text: str, slug: str, words: str) -> None:
    """What has the form of a time must have a known step, a known unit and a time that isn't negative."""
    with pytest.raises(QuantityError) as caught:
        moment(text)
    assert caught.value.slug == slug
    assert words in caught.value.expected


@pytest.mark.parametrize(
    ("most", "beyond", "words"),
    [
        ("mash - 48 h", "mash - 49 h", "at most 48 h before the mash"),
        ("mash + 2 d", "mash + 2 d 1 s", "at most 48 h after the mash"),
        ("boil - 12 h", "boil - 721 min", "at most 12 h before the end of the boil"),
        ("boil + 48 h", "boil + 3 d", "at most 48 h after the boil"),
        ("pitch - 14 d", "pitch - 15 d", "at most 14 d before the pitch"),
        ("pitch + 730 d", "pitch + 105 wk", "at most 730 d after the pitch"),
        ("package - 730 d", "package - 731 d", "at most 730 d before the packaging"),
        ("package + 730 d", "package + 731 d", "at most 730 d after the packaging"),
    ],
)
def test_absurd_times(most: str, beyond: str, words: str) -> None:
    """A time may be as far from its step as can be meant, and not farther."""
    assert moment(most) is not None
    with pytest.raises(QuantityError) as caught:
        moment(beyond)
    assert caught.value.slug == "out-of-range"
    assert words in caught.value.expected


@settings(deadline=None, database=None, derandomize=True, max_examples=600)
@given(text=st.one_of(st.text(max_size=60), LIKE_TIMES.map("".join), st.text("0123456789 .,-+dhe", max_size=400).map("pitch + ".__add__)))
def test_any_text_is_a_time_free_words_or_refused(text: str) -> None:
    """Whatever is written, the answer is a time within its bounds, None, or a refusal with a known slug and words."""
    told = tried(text)
    if isinstance(told, QuantityError):
        assert told.slug in SLUGS
        assert told.what
        assert told.expected
    elif told is not None:
        assert told.step in STEPS
        assert abs(told.minutes) <= 730 * 1440.0 + 1e-9
        assert not told.from_end or (told.step == "boil" and told.minutes <= 0)


@settings(deadline=None, database=None, derandomize=True, max_examples=300)
@given(step=st.sampled_from(STEPS), minutes=st.floats(0, 700), later=st.booleans(), spaces=SPACES)
def test_a_written_time_is_read_back(step: str, minutes: float, later: bool, spaces: str) -> None:
    """A time written from a number is that number, in whatever way the spaces stand."""
    told = moment(f"{step}{spaces}{'+' if later else '-'}{spaces}{minutes:.6f} min")
    assert told == Moment(step, pytest.approx(minutes if later else -minutes, abs=1e-6), step == "boil" and not later)


@pytest.mark.parametrize("text", ["1" * 2000, "pitch + " + "1 d" * 600, "a-" * 1000, "pitch + " + "1." * 900, "pitch +" + " " * 1900 + "x"])
def test_long_texts_take_no_time(text: str) -> None:
    """The longest texts that a plan may hold are read or refused without trying every way of splitting them."""
    told = tried(text)
    assert told is None or (isinstance(told, QuantityError) and told.slug in ("not-a-number", "out-of-range", "wrong-value"))


@pytest.mark.parametrize(
    ("minutes", "text"), [(45, "45 min"), (90, "90 min"), (180, "3 h"), (2880, "48 h"), (4320, "3 d"), (20160, "14 d"), (0.5, "0.5 min")]
)
def test_durations_in_words(minutes: float, text: str) -> None:
    """A duration is shown in the unit that suits it."""
    assert duration(minutes) == text
