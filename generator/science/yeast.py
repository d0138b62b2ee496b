"""Yeast: the rate at which it is pitched."""

from generator.science._values import Values, require


def pitch_rate(cells: Values, volume: Values, original_extract: Values) -> Values:
    """Pitching rate.

    Formula:
        r = cells / 10⁶ / (1000 V) / OE
    Args:
        cells: viable cells; float or array.
        volume: V, L of wort at 20 °C; broadcastable.
        original_extract: OE, °P; broadcastable.
    Returns:
        10⁶ cells per mL and °P.
    Valid:
        V and OE above 0; texts pitch ales at 0.75 to 1.0 and lagers at 1.25 to 1.5.
    Raises:
        OutOfRangeError: a volume or an extract of 0 or less.
    Source:
        pitching-rule
    """
    require(volume, 1e-9, 1e9, "a volume of wort", "L")
    require(original_extract, 1e-6, 65.0, "an original extract", "°P")
    return cells / 1e6 / (1000.0 * volume) / original_extract
