"""Pure water: its density and the thermal contraction of a measured volume."""

from generator.science._values import Values, polynomial, require

REFERENCE_TEMPERATURE = 20.0
"""°C at which every volume and gravity of this project is stated."""

_NUMERATOR = (999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12)
_DENOMINATOR = 16.887236e-3


def density(temperature: Values) -> Values:
    """Density of water.

    Air-free water at ordinary pressure, on the temperature scale of 1990. It is the water term of the sucrose density below.

    Formula:
        w = (999.83952 + 16.952577 t − 7.9905127e-3 t² − 46.241757e-6 t³ + 105.84601e-9 t⁴ − 281.03006e-12 t⁵) / (1 + 16.887236e-3 t) / 1000
    Args:
        temperature: t, °C; float or array of any shape.
    Returns:
        w, kg/L, of the same shape.
    Valid:
        0 to 100 °C; computed as an extrapolation from −10 to 110 °C.
    Raises:
        OutOfRangeError: a temperature outside −10 to 110 °C.
    Source:
        bettin-spieweck-1990
    """
    require(temperature, -10.0, 110.0, "a water temperature", "°C")
    return polynomial(_NUMERATOR, temperature) / (1000.0 + 1000.0 * _DENOMINATOR * temperature)


def volume_at_20(volume: Values, temperature: Values) -> Values:
    """Volume at 20 °C of a liquid measured warm.

    Wort contracts on cooling nearly as water does; the mass stays, so the volume changes with the density of water.

    Formula:
        V₂₀ = V · w(t) / w(20 °C)
    Args:
        volume: V as read, L; float or array.
        temperature: t of the measured liquid, °C; broadcastable to the volume.
    Returns:
        V₂₀, L at 20 °C.
    Valid:
        0 to 100 °C; worts of 12 °P contract up to 0.07 percentage points more than water.
    Raises:
        OutOfRangeError: a temperature outside −10 to 110 °C.
    Source:
        bettin-spieweck-1990
    """
    return volume * density(temperature) / density(REFERENCE_TEMPERATURE)
