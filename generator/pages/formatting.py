"""Rounding, signs, dates and number words: one place, so that no two numbers of a page disagree."""

import math
import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime

from generator.charts.chart import MINUS

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_ORDINALS = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth", "Eleventh", "Twelfth")
_MOST_DECIMALS = {"SG": 4, "kg": 3, "L": 2, "%": 1, "°P": 2, "% vol": 2, "% mass": 2, "vol": 2, "g": 1, "°C": 1, "IBU": 0, "EBC": 0, "L/h": 2}
_PLAIN_DECIMALS = {
    "": 0,
    "SG": 3,
    "kg": 2,
    "L": 1,
    "%": 1,
    "°P": 1,
    "% vol": 1,
    "% mass": 1,
    "vol": 1,
    "g": 0,
    "IBU": 0,
    "EBC": 0,
    "kJ/100 mL": 0,
    "°C": 1,
}


def places_for(half_width: float | None, unit: str) -> int:
    """Digits after the point that a doubt leaves standing.

    The doubt is given to one digit, or to two if it begins with a 1 or a 2. A gravity has three
    digits, and four only where it is known that well.
    """
    if unit == "SG":
        return 4 if half_width is not None and half_width < 0.0005 else 3
    if half_width is None or half_width <= 0.0:
        return _PLAIN_DECIMALS.get(unit, 2)
    exponent = math.floor(math.log10(half_width))
    leading = half_width / 10.0**exponent
    return max(0, min(_MOST_DECIMALS.get(unit, 3), -exponent + (1 if leading < 2.95 else 0)))


def fixed(value: float, places: int) -> str:
    """A number with its minus sign; never a minus before a zero."""
    text = f"{abs(value):.{places}f}"
    return MINUS + text if value < 0 and float(text) else text


def mass(kilograms: float) -> str:
    """A mass as it is weighed: grams below one kilogram."""
    return f"{kilograms * 1000.0:.0f} g" if kilograms < 0.9995 else f"{kilograms:.2f} kg"


def signed(value: float, places: int) -> str:
    """A difference: its sign always shown, but for zero."""
    text = f"{abs(value):.{places}f}"
    if not float(text):
        return text
    return ("+" if value > 0 else MINUS) + text


def points(value: float) -> int:
    """A difference of gravities in points (0.001 SG), as the printed figures show it."""
    return round(value * 1000.0)


def number_word(count: int) -> str:
    """Small numbers in words."""
    return _NUMBERS[count] if 0 <= count < len(_NUMBERS) else str(count)


def ordinal(count: int) -> str:
    """First, Second, … then 13th."""
    if 0 < count < len(_ORDINALS):
        return _ORDINALS[count]
    suffix = "th" if 10 <= count % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")
    return f"{count}{suffix}"


def plural(count: int, word: str, many: str = "") -> str:
    """A count in words: one batch, 13 batches."""
    return f"{number_word(count)} {word if count == 1 else many or word + 's'}"


def long_date(day: date) -> str:
    """Saturday 17 October 2026."""
    return f"{_DAYS[day.weekday()]} {day_month(day)} {day.year}"


def day_month(day: date) -> str:
    """17 October."""
    return f"{day.day} {_MONTHS[day.month - 1]}"


def short_day(day: date) -> str:
    """17 Oct."""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}"


def month_year(day: date) -> str:
    """Oct 2026."""
    return f"{_MONTHS[day.month - 1][:3]} {day.year}"


def clock(time: datetime) -> str:
    """09:05."""
    return f"{time.hour:02d}:{time.minute:02d}"


def slugify(name: str) -> str:
    """A name as a file name: lower case, letters and digits of any script, hyphens between."""
    text = unicodedata.normalize("NFKC", name).casefold()
    return re.sub(r"[^\w]+|_+", "-", text).strip("-") or "recipe"


@dataclass(frozen=True, slots=True)
class Cell:
    """A number of a table, split where its column is aligned."""

    whole: str
    rest: str = ""

    @property
    def text(self) -> str:
        """The number as one text."""
        return self.whole + self.rest


BLANK = Cell("")


def cell(text: str) -> Cell:
    """A number text split at its decimal sign."""
    whole, point, rest = text.partition(".")
    return Cell(whole, point + rest)
