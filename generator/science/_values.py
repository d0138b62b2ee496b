"""What every function of this package takes and gives: a float, or an array of any shape."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

Values = float | NDArray[np.float64]


class OutOfRangeError(ValueError):
    """A value lies where the published formula says nothing."""


def require(values: Values, low: float, high: float, what: str, unit: str) -> None:
    """Raise OutOfRangeError unless every element of `values` lies in low..high."""
    least, most = (values, values) if isinstance(values, (float, int)) else (values.min(), values.max())
    if not (least >= low and most <= high):  # NaN fails this too
        worst = least if not least >= low else most
        raise OutOfRangeError(f"{what} of {float(worst):g} {unit} is outside {low:g} to {high:g} {unit}")


def polynomial(coefficients: Sequence[Values], x: Values) -> Values:
    """c₀ + c₁ x + c₂ x² + …, from the highest power down; two coefficients at least.

    Arrays are worked on in place: with thousands of draws, making new ones would cost more than the arithmetic.
    """
    value = coefficients[-1] * x
    for coefficient in reversed(coefficients[1:-1]):
        value += coefficient
        value *= x
    value += coefficients[0]
    return value


def polynomial_and_slope(coefficients: Sequence[Values], x: Values) -> tuple[Values, Values]:
    """The same and its derivative by x; three coefficients at least."""
    slope = coefficients[-1] * x
    value = slope + coefficients[-2]
    slope = slope + value
    for coefficient in reversed(coefficients[1:-2]):
        value *= x
        value += coefficient
        slope *= x
        slope += value
    value *= x
    value += coefficients[0]
    return value, slope


def newton(
    value_and_slope: Callable[[Values], tuple[Values, Values]],
    target: Values,
    guess: Values,
    tolerance: float = 1e-12,
    most_steps: int = 30,
) -> Values:
    """Solve value(x) = target element by element for a smooth monotonic function.

    Args:
        value_and_slope: x to (value, derivative), elementwise.
        target: wanted values, any shape.
        guess: where to start, broadcastable to the target.
        tolerance: largest step, in units of x, at which the solution stands. With a true derivative the error left is
            of the order of its square.
        most_steps: steps after which OutOfRangeError is raised.

    Raises:
        OutOfRangeError: the iteration does not settle, so no solution lies near the guess.
    """
    x = guess
    for _ in range(most_steps):
        value, slope = value_and_slope(x)
        step = (value - target) / slope
        x = x - step
        if (abs(step) if isinstance(step, float) else np.max(np.abs(step))) < tolerance:
            return x
    raise OutOfRangeError("no solution was found near the physical range")
