"""How a check makes the arguments of a function of a row, and chooses the rows in which it is meant."""

from collections.abc import Callable
from functools import wraps

from tests.reference.runner import Row
from tests.reference.science import Function

LITRES_PER_US_GALLON = 3.785411784
GRAMS_PER_OUNCE = 28.349523125


def times(factor: float) -> Callable[[float, Row], float]:
    """A conversion by a factor."""
    return lambda value, _: value * factor


def cell(column: str, factor: float) -> Callable[[Row], float]:
    """A column in another unit."""
    return lambda row: factor * row.number(column)


def text(name: str) -> Callable[[Row], object]:
    """An argument that is a word and no column."""
    return lambda _: name


def at_most(column: str, limit: float) -> Callable[[Row], bool]:
    """The rows in which a column doesn't exceed a limit."""
    return lambda row: row.number(column) <= limit


def is_row(column: str, *texts: str) -> Callable[[Row], bool]:
    """The rows in which a column has one of these texts."""
    return lambda row: row[column] in texts


def field(function: Function, name: str | int) -> Function:
    """A function that gives several numbers, for one of them by its name or place."""

    @wraps(function)
    def one(*arguments: object) -> object:
        given = function(*arguments)
        return given[name] if isinstance(name, int) else getattr(given, name)

    return one
