"""Lifting: the weight that most people can lift without harm."""

from typing import NamedTuple

import numpy as np

from generator.science._values import Values, require


class LiftGeometry(NamedTuple):
    """How a load is lifted: lengths in cm, angle in degrees."""

    horizontal: Values
    """From the ankles to the hands."""
    vertical: Values
    """From the floor to the hands at the start."""
    travel: Values
    """How far up or down."""
    asymmetry: Values = 0.0
    """Turn of the trunk, degrees."""
    frequency: Values = 1.0
    """Multiplier for repetition; 1 for a single lift."""
    coupling: Values = 1.0
    """Multiplier for the grip; 1 for good handles, 0.9 for poor ones."""


def recommended_weight(lift: LiftGeometry) -> Values:
    """Recommended weight limit of a lift.

    Formula:
        RWL = 23 · (25/H) · (1 − 0.003 · |V − 75|) · (0.82 + 4.5/D) · (1 − 0.0032 A) · FM · CM
    Args:
        lift: H horizontal, V vertical, D travel in cm, A asymmetry in degrees, FM frequency and CM coupling; each a float or array.
    Returns:
        kg, of the broadcast shape.
    Valid:
        H of 25 to 63 cm, V of 0 to 175 cm, D of 25 to 175 cm, A of 0 to 135°; not for hot, slippery or spilling loads, which call for less.
    Raises:
        OutOfRangeError: a geometry outside these.
    Source:
        niosh-94-110
    """
    require(lift.horizontal, 25.0, 63.0, "a horizontal reach", "cm")
    require(lift.vertical, 0.0, 175.0, "a height", "cm")
    require(lift.travel, 25.0, 175.0, "a travel", "cm")
    require(lift.asymmetry, 0.0, 135.0, "a turn", "degrees")
    reach = 25.0 / lift.horizontal
    height = 1.0 - 0.003 * np.abs(lift.vertical - 75.0)
    travel = 0.82 + 4.5 / lift.travel
    return 23.0 * reach * height * travel * (1.0 - 0.0032 * lift.asymmetry) * lift.frequency * lift.coupling
