"""Times told from a step of the brew: "mash + 15 min", "boil - 10 min", "pitch + 2 d"."""

import re
from dataclasses import dataclass

from generator import units
from generator.errors import nearest, shown
from generator.units import QuantityError

STEPS = ("mash", "sparge", "boil", "stand", "chill", "pitch", "package")
"""In the order of a brew."""
HOUR, DAY = 60.0, 1440.0
LONGEST_BOIL = 12 * HOUR
"""Minutes; whatever claims to be longer was mistyped."""
ROUNDING = 1e-9
"""Minutes that a limit yields, so that the conversion of a unit does no harm."""
_BREW_DAY, _STARTER, _KEEPING = 48 * HOUR, 14 * DAY, 730 * DAY
_EARLIEST = {"boil": LONGEST_BOIL, "pitch": _STARTER, "package": _KEEPING}
_LATEST = {"pitch": _KEEPING, "package": _KEEPING}
"""Minutes before and after a step beyond which a time is absurd; `_BREW_DAY` for the others."""
_NOUNS = {"package": "packaging"}
_HYPHENS = str.maketrans({"\N{MINUS SIGN}": "-", "\N{EN DASH}": "-"})
_FORM = re.compile(r"([^\W\d_]+(?:-[^\W\d_]+)*)(?:\s*([+-])\s*(.+))?")
_AMOUNT = re.compile(r"(?:-?\d[\d.,]*\s*[^\W\d_]+\.?\s*)+")
_WITHOUT_UNIT = re.compile(r"-?\d[\d.,]*")


@dataclass(frozen=True, slots=True)
class Moment:
    """A time of the brew, told from one of its steps."""

    step: str
    """One of `STEPS`."""
    minutes: float
    """From the beginning of the step, or from its end; below 0 before it."""
    from_end: bool
    """Told from the end of the step: "boil - 10 min" is ten minutes before the end of the boil, as the times of hops are."""


def moment(text: str) -> Moment | None:
    """The time that a text tells; None for free words, which stay as they are written.

    "mash + 15 min" and "mash - 30 min" are told from the beginning of the mash. Only "boil - 10 min" is told from an end.

    Args:
        text: a step of `STEPS`, alone or with + or - and a duration; any words.

    Raises:
        QuantityError: a word, a sign, a number and a unit, but no such step or unit, or a time that can't be meant.
    """
    match = _FORM.fullmatch(text.translate(_HYPHENS).strip())
    if match is None:
        return None
    word, sign, amount = match.groups()
    step = word.casefold()
    if sign is None:
        return Moment(step, 0.0, from_end=False) if step in STEPS else None
    if not _AMOUNT.fullmatch(amount) and not (step in STEPS and _WITHOUT_UNIT.fullmatch(amount)):
        return None
    if step not in STEPS:
        raise QuantityError(f"'{shown(word)}' is no step of a brew", nearest(word, STEPS), "unknown-step")
    minutes = units.parse(amount, units.DURATION_OR_NONE).value
    _meant(text, step, minutes, later=sign == "+")
    return Moment(step, minutes if sign == "+" else 0.0 - minutes, from_end=sign == "-" and step == "boil")


def _meant(text: str, step: str, minutes: float, *, later: bool) -> None:
    """Refuse a time so far from its step that it was mistyped."""
    limit = (_LATEST if later else _EARLIEST).get(step, _BREW_DAY)
    if minutes <= limit + ROUNDING:
        return
    what = f"'{shown(text)}' is too {'late' if later else 'early'}"
    place = "the end of the boil" if step == "boil" and not later else f"the {_NOUNS.get(step, step)}"
    hint = ', or a time told from the pitch, as in "pitch - 4 d"' if step == "mash" and not later else ""
    raise QuantityError(what, f"expected at most {duration(limit)} {'after' if later else 'before'} {place}{hint}", "out-of-range")


def duration(minutes: float) -> str:
    """Minutes in the unit that suits them: "45 min", "12 h", "14 d"."""
    for unit, size, least in (("d", DAY, 3 * DAY), ("h", HOUR, 3 * HOUR)):
        if minutes >= least:
            return f"{minutes / size:.4g} {unit}"
    return f"{minutes:.4g} min"
