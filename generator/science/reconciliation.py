"""Reconciliation of readings that over-determine the truth: weighted least squares under balances."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtrc

from generator.science._values import OutOfRangeError

Vector = NDArray[np.float64]


class Reconciled(NamedTuple):
    """Readings made to agree, and how hard that was."""

    values: Vector
    """The nearest values that keep every balance."""
    chi_square: float
    """Sum of the squared adjustments in standard uncertainties."""
    probability: float
    """That honest readings would disagree by as much or more."""
    test: Vector
    """Measurement test of each reading: its adjustment over the standard deviation that adjustments have by honest noise."""
    alone: Vector
    """By how much each reading would have to differ if it alone were wrong."""


def reconcile(readings: Vector, uncertainties: Vector, balances: Vector, constants: Vector) -> Reconciled:
    """Readings reconciled with linear balances.

    The adjustments are the smallest, each weighed by its uncertainty, that close every balance. Their sum of squares follows a
    chi-square distribution with one degree of freedom a balance if nothing is wrong.

    Formula:
        x̂ = x − Σ Aᵀ (A Σ Aᵀ)⁻¹ (A x − b);  χ² = (A x − b)ᵀ (A Σ Aᵀ)⁻¹ (A x − b);  zᵢ = (x̂ᵢ − xᵢ) / √(Σ Aᵀ (A Σ Aᵀ)⁻¹ A Σ)ᵢᵢ
    Args:
        readings: x, shape (n,).
        uncertainties: standard uncertainty of each, above 0, shape (n,); Σ holds their squares.
        balances: A, shape (k, n), of rank k.
        constants: b, shape (k,).
    Returns:
        values (n,), chi-square, its probability, measurement tests (n,), and the change of each reading alone (n,).
    Valid:
        Independent, roughly normal readings and nearly linear balances; for others linearise and repeat.
    Raises:
        OutOfRangeError: an uncertainty of 0 or less, balances that depend on one another, or numbers that aren't finite.
    Source:
        kuehn-davidson-1961; narasimhan-jordache-2000
    """
    everything = (readings, uncertainties, balances, constants)
    if not all(np.isfinite(part).all() for part in everything) or np.min(uncertainties) <= 0.0:
        raise OutOfRangeError("the readings to reconcile need finite values and uncertainties above 0")
    variances = uncertainties**2
    spread = balances * variances @ balances.T
    if np.linalg.matrix_rank(spread) < len(balances):
        raise OutOfRangeError("the balances depend on one another")
    imbalance = balances @ readings - constants
    weighed = np.linalg.solve(spread, np.column_stack([imbalance, balances]))
    adjustment = -variances * (balances.T @ weighed[:, 0])
    explained = variances * np.einsum("kn,kn->n", balances, weighed[:, 1:])  # Var(adjustment) / variance, from 0 to 1
    known = explained > 1e-12
    test = np.where(known, adjustment / np.sqrt(np.where(known, variances * explained, 1.0)), 0.0)
    alone = np.where(known, adjustment / np.where(known, explained, 1.0), 0.0)
    chi_square = float(imbalance @ weighed[:, 0])
    return Reconciled(readings + adjustment, chi_square, float(chdtrc(len(balances), chi_square)), test, alone)
