"""Which columns of the tables of fermentation and of nonlinear regression must come out of which function."""

from generator.science import fermentation
from tests.reference.runner import Check

_REFERENCE = (2.60, 12.60, 0.110, 30.0)
"""Pe, Pi, B and M that the table's first line states."""
_RAT42 = (72.462237576, 0.0, 0.067359200066, 2.6180768402 / 0.067359200066)
"""The certified b1, b3 and b2/b3 as Pe, B and M; Pi is 0."""

KINETICS = [
    Check("fermentation_model_reference", "logistic_P", fermentation.logistic, ("t_h", *_REFERENCE), 6e-11, "degP"),
    Check("strd_rat42", "y", fermentation.logistic, ("x", *_RAT42), 2.0, "", origin="published", note="data about the certified curve"),
]
