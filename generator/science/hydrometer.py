"""The glass hydrometer: what it says in a warm sample, referred to 20 °C."""

from generator.science import sucrose, water
from generator.science._values import Values, require

GLASS_EXPANSION = 25e-6
"""Cubic expansion of soda-lime glass, 1/°C."""


def extract(reading: Values, sample_temperature: Values, calibrated_at: float = 20.0) -> Values:
    """Extract of wort from a hydrometer reading at any sample temperature.

    Formula:
        ρ = S · w(Tc) / (1 + 25e-6 · (t − Tc));  P such that ρ(P, t) = ρ
    Args:
        reading: S, the reading in SG Tc/Tc; float or array of any shape.
        sample_temperature: t, °C; broadcastable to the reading.
        calibrated_at: Tc, °C, one number.
    Returns:
        P, °P, of the broadcast shape.
    Valid:
        Samples of 10 to 60 °C; computed from −10 to 110 °C as an extrapolation: cool the sample instead.
    Raises:
        OutOfRangeError: a reading outside 0.95 to 1.30, a temperature or an extract that is not computed.
    Source:
        oiml-r-22; icumsa-sps-4
    """
    require(reading, 0.95, 1.30, "a hydrometer reading", "SG")
    density = reading * water.density(calibrated_at) / (1.0 + GLASS_EXPANSION * (sample_temperature - calibrated_at))
    return sucrose.extract_from_density(density, sample_temperature)


def sg_20(reading: Values, sample_temperature: Values, calibrated_at: float = 20.0) -> Values:
    """Specific gravity 20/20 from a hydrometer reading at any sample temperature.

    The instrument floats in wort of the sample's temperature, its glass has grown since the calibration, and its scale
    refers to water at the calibration temperature. From these the density of the warm wort follows, from the density the
    extract, from the extract the gravity at 20 °C.

    Formula:
        ρ = S · w(Tc) / (1 + 25e-6 · (t − Tc));  P such that ρ(P, t) = ρ;  SG = ρ(P, 20 °C) / w(20 °C)
    Args:
        reading: S, the reading in SG Tc/Tc; float or array of any shape.
        sample_temperature: t, °C; broadcastable to the reading.
        calibrated_at: Tc, °C, one number.
    Returns:
        SG 20/20, of the broadcast shape.
    Valid:
        Samples of 10 to 60 °C; computed from −10 to 110 °C as an extrapolation: cool the sample instead.
    Raises:
        OutOfRangeError: a reading outside 0.95 to 1.30, a temperature or an extract that is not computed.
    Source:
        oiml-r-22; icumsa-sps-4
    """
    return sucrose.sg_from_extract(extract(reading, sample_temperature, calibrated_at))
