"""Attribution of a difference to the factors of a product, and of a sum to its terms."""

import numpy as np

from generator.science._values import Values, require

_NEARLY_EQUAL = 1e-7


def logarithmic_mean(a: Values, b: Values) -> Values:
    """Logarithmic mean of two positive numbers.

    Formula:
        L(a, b) = (a − b) / ln(a/b), L(a, a) = a
    Args:
        a: above 0; float or array.
        b: above 0; broadcastable.
    Returns:
        L, of the broadcast shape.
    Valid:
        Positive numbers.
    Raises:
        OutOfRangeError: a number of 0 or less.
    Source:
        ang-2005
    """
    require(a, 1e-300, 1e300, "a number", "")
    require(b, 1e-300, 1e300, "a number", "")
    log_ratio = np.log(a / b)
    same = log_ratio == 0.0
    return b * np.where(same, 1.0, np.expm1(log_ratio) / np.where(same, 1.0, log_ratio))[()]  # keeps its digits near a = b


def product_weight(gap: Values, log_ratio: Values, slope: Values) -> Values:
    """Weight of the logarithms of a product's factors in the difference that they make.

    The additive logarithmic-mean Divisia index: a difference in any smooth function of a product is shared out by the
    logarithms of the factors' changes. It is exact, independent of their order, and reversible in time.

    Formula:
        g = Δ / ln(c₁/c₀), in the limit c₁ = c₀ the slope d/d(ln c); each factor gets g · ln(x₁/x₀)
    Args:
        gap: Δ, the difference to be shared out; float or array.
        log_ratio: ln(c₁/c₀) of the product; broadcastable.
        slope: of the quantity by ln c at c₀, for the limit; broadcastable.
    Returns:
        g, in the unit of the difference.
    Valid:
        Positive products. The method is one of several that are exact: a Shapley value of the same product differs by parts in ten thousand for
        the small changes of brewing.
    Raises:
        OutOfRangeError: a log ratio that is not finite.
    Source:
        ang-2005
    """
    require(log_ratio, -700.0, 700.0, "a log ratio", "")
    close = np.abs(log_ratio) < _NEARLY_EQUAL
    return np.where(close, slope, gap / np.where(close, 1.0, log_ratio))[()]
