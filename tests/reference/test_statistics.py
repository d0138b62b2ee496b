"""Doubt, attribution and reconciliation against published examples: [P] printed and seen, [C] computed here, [M] from memory."""

from itertools import permutations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.special import ndtr
from uncertainties import ufloat
from uncertainties.umath import log as ulog

from generator.analysis.doubt import COVERAGE_FACTOR, Sampler, estimate
from generator.science import attribution, beer, mash, reconciliation, sucrose
from generator.science._values import OutOfRangeError, Values
from tests.reference.science import stands_for

Draws = NDArray[np.float64]


def standard_normal(sampler: Sampler) -> Draws:
    """One more standard normal variable of the sampler."""
    return np.asarray(sampler.normal(0.0, COVERAGE_FACTOR))


def rectangular(sampler: Sampler, half_width: float) -> Draws:
    """A rectangular variable about 0, from a normal one through its distribution function."""
    return half_width * (2.0 * ndtr(standard_normal(sampler)) - 1.0)


def interval(sampler: Sampler, draws: Values) -> tuple[float, float]:
    """The 95 % interval, as figures get it."""
    found = sampler.weigh({"": draws})[""].estimate
    return found.low, found.high


@pytest.mark.parametrize(
    ("scales", "low", "high"),
    [((1.0, 1.0, 1.0, 1.0), -3.88, 3.88), ((1.0, 1.0, 1.0, 10.0), -17.0, 17.0)],
    ids=["9.2.3 four alike", "9.2.4 one ten times wider"],
)
def test_sums_of_rectangular_quantities(scales: tuple[float, ...], low: float, high: float) -> None:
    """[M] JCGM 101:2008 clauses 9.2.3 and 9.2.4, printed intervals; the exact value of the first is 3.8794 (Irwin-Hall)."""
    sampler = Sampler()
    total = sum((rectangular(sampler, scale * 3.0**0.5) for scale in scales), np.zeros(1))
    assert interval(sampler, total) == (pytest.approx(low, abs=0.04 * max(scales)), pytest.approx(high, abs=0.04 * max(scales)))
    assert float(np.std(total[1:])) == pytest.approx(sum(scale**2 for scale in scales) ** 0.5, rel=0.01)


def test_sum_of_normal_quantities() -> None:
    """[M] JCGM 101:2008 clause 9.2.2: four standard normals, u = 2.00, interval ±3.92."""
    sampler = Sampler()
    total = sum((standard_normal(sampler) for _ in range(4)), np.zeros(1))
    assert interval(sampler, total) == (pytest.approx(-3.92, abs=0.03), pytest.approx(3.92, abs=0.03))


def test_end_gauge_of_the_guide() -> None:
    """[P] JCGM 100:2008 H.1: 50 000 838 nm, u = 34 nm with the second-order terms that a first-order budget (32 nm) leaves out."""
    sampler = Sampler()
    standard = 50_000_623.0 + 25.0 * standard_normal(sampler)
    difference = 215.0 + sum((u * standard_normal(sampler) for u in (5.8, 3.9, 6.7)), np.zeros(1))
    expansion = 11.5e-6 + rectangular(sampler, 2e-6)
    expansions_apart = rectangular(sampler, 1e-6)
    temperature = -0.1 + 0.2 * standard_normal(sampler) + 0.5 * np.sin(np.pi * (ndtr(standard_normal(sampler)) - 0.5))
    temperatures_apart = rectangular(sampler, 0.05)
    gauge = standard + difference - standard * (expansions_apart * temperature + expansion * temperatures_apart)
    assert gauge[0] == pytest.approx(50_000_838.0)
    assert float(np.std(gauge[1:])) == pytest.approx(34.0, abs=0.5)


def test_a_nearly_linear_model_agrees_with_linear_propagation() -> None:
    """The `uncertainties` package propagates mash efficiency to first order; here the model is nearly linear."""
    sampler = Sampler()
    volume, sg, potential = sampler.normal(25.0, 0.5), sampler.normal(1.050, 0.001), sampler.normal(4.0, 0.06)
    sampled = estimate(mash.percent_of(sucrose.extract_mass(volume, sg), potential))
    slope = (float(sucrose.extract_mass(1.0, 1.0501)) - float(sucrose.extract_mass(1.0, 1.0499))) / 0.0002
    per_litre = float(sucrose.extract_mass(1.0, 1.050)) + slope * (ufloat(1.050, 0.001 / COVERAGE_FACTOR) - 1.050)
    linear = 100.0 * ufloat(25.0, 0.5 / COVERAGE_FACTOR) * per_litre / ufloat(4.0, 0.06 / COVERAGE_FACTOR)
    assert sampled.value == pytest.approx(linear.nominal_value, rel=1e-6)
    assert sampled.half_width == pytest.approx(COVERAGE_FACTOR * linear.std_dev, rel=0.01)


def test_a_shared_volume_must_not_count_twice() -> None:
    """Extract and volume of the kettle come from one reading: `uncertainties`, which tracks that, agrees; independent draws don't."""
    sampler = Sampler()
    kettle, fermenter = sampler.normal(20.0, 0.4), sampler.normal(18.0, 0.36)
    kept = 0.2 * kettle * (1.0 - fermenter / kettle)
    k, f = ufloat(20.0, 0.4 / COVERAGE_FACTOR), ufloat(18.0, 0.36 / COVERAGE_FACTOR)
    tracked = 0.2 * k * (1.0 - f / k)
    apart = 0.2 * ufloat(20.0, 0.4 / COVERAGE_FACTOR) * (1.0 - f / k)
    assert estimate(kept).half_width == pytest.approx(COVERAGE_FACTOR * tracked.std_dev, rel=0.01)
    assert estimate(kept).half_width != pytest.approx(COVERAGE_FACTOR * apart.std_dev, rel=0.002)


def test_alcohol_of_a_beer_agrees_with_linear_propagation() -> None:
    """First-order propagation of the hydrometer's doubt through the alcohol model, with slopes by finite differences."""
    sampler = Sampler()
    original, final = sampler.normal(1.080, 0.001), sampler.normal(1.018, 0.001)
    sampled = estimate(beer.alcohol_by_weight(sucrose.extract_from_sg(original), final))

    def abw(og: float, fg: float) -> float:
        return float(beer.alcohol_by_weight(sucrose.extract_from_sg(og), fg))

    by_og = (abw(1.0801, 1.018) - abw(1.0799, 1.018)) / 0.0002
    by_fg = (abw(1.080, 1.0181) - abw(1.080, 1.0179)) / 0.0002
    assert sampled.half_width == pytest.approx(0.001 * (by_og**2 + by_fg**2) ** 0.5, rel=0.01)


@stands_for(attribution.logarithmic_mean)
def test_two_sectors_of_the_energy_literature() -> None:
    """[M data, C values] Ang, Energy Policy 33 (2005) 867: 50 to 96 units of energy by activity, structure and intensity."""
    output = np.array([[10.0, 40.0], [40.0, 40.0]])
    energy = np.array([[30.0, 20.0], [80.0, 16.0]])
    total = output.sum(axis=1, keepdims=True)
    mean = attribution.logarithmic_mean(energy[1], energy[0])
    effects = [float(np.sum(mean * np.log(x[1] / x[0]))) for x in (total * np.ones(2), output / total, energy / output)]
    assert effects == pytest.approx([32.384638, 38.284867, -24.669505], abs=1e-6)
    assert sum(effects) == pytest.approx(46.0, abs=1e-12)


BEFORE, AFTER = (5.0, 0.768, 0.95, 0.88), (4.9, 0.768, 0.92, 0.84)
"""Grist, potential, conversion, lautering: kilograms of extract as their product."""


def shapley(before: tuple[float, ...], after: tuple[float, ...]) -> list[float]:
    """Each factor's mean effect over all orders of changing them one by one (Shapley 1953)."""
    effects = [0.0] * len(before)
    orders = list(permutations(range(len(before))))
    for order in orders:
        current = list(before)
        for factor in order:
            was = float(np.prod(current))
            current[factor] = after[factor]
            effects[factor] += (float(np.prod(current)) - was) / len(orders)
    return effects


@stands_for(attribution.product_weight)
def test_a_product_of_brewing_factors() -> None:
    """[C] The logarithmic-mean shares of a grist-to-kettle product, and its Shapley value, which differs by parts in ten thousand."""
    ratio = float(np.log(np.prod(AFTER) / np.prod(BEFORE)))
    gap = float(np.prod(AFTER) - np.prod(BEFORE))
    weight = attribution.product_weight(gap, ratio, 0.0)
    shares = [float(weight * np.log(after / before)) for before, after in zip(BEFORE, AFTER, strict=True)]
    assert shares == pytest.approx([-0.061754, 0.0, -0.098085, -0.142199], abs=1e-6)
    assert sum(shares) == pytest.approx(gap, abs=1e-12)
    assert shares == pytest.approx(shapley(BEFORE, AFTER), abs=3e-5)


def test_shares_are_reversible_and_need_no_order() -> None:
    """From after to before every share changes its sign and nothing else."""
    forth = attribution.product_weight(0.3, 0.1, 3.0) * np.log(1.2)
    back = attribution.product_weight(-0.3, -0.1, 3.0) * np.log(1 / 1.2)
    assert forth == pytest.approx(-back)
    assert float(attribution.product_weight(0.3, 0.1, 3.0)) == float(attribution.product_weight(-0.3, -0.1, 3.0))


def test_the_limit_of_no_gap_is_the_slope() -> None:
    """Where nothing changed on the whole, factors that cancel are shared by the slope: continuous with the formula."""
    assert attribution.product_weight(0.0, 0.0, 3.0) == 3.0
    assert attribution.logarithmic_mean(2.0, 2.0) == 2.0
    assert float(attribution.logarithmic_mean(2.0, 2.0 * (1 + 2e-7))) == pytest.approx(2.0 * (1 + 1e-7), rel=1e-12)


BYPASS = np.array(
    [[1, -1, -1, 0, 0, 0], [0, 1, 0, -1, 0, 0], [0, 0, 1, 0, -1, 0], [0, 0, 0, 1, 1, -1]], dtype=float
)  # fmt: skip
"""A heat exchanger with a bypass: six flows, four balances."""
FLOWS = np.array([101.91, 64.45, 34.65, 64.20, 36.44, 98.88])


@stands_for(reconciliation.reconcile)
def test_heat_exchanger_with_bypass() -> None:
    """[M, recomputed] Narasimhan and Jordache 2000, first example: reconciled flows 100.22, 64.50, 35.72."""
    found = reconciliation.reconcile(FLOWS, np.ones(6), BYPASS, np.zeros(4))
    assert found.values == pytest.approx([100.22, 64.50, 35.72, 64.50, 35.72, 100.22], abs=0.005)
    assert BYPASS @ found.values == pytest.approx(np.zeros(4), abs=1e-12)
    # by hand: the sum of squared adjustments over unit variances
    assert found.chi_square == pytest.approx(float(np.sum((found.values - FLOWS) ** 2)), rel=1e-12)


@stands_for(reconciliation.reconcile)
def test_two_scales_by_hand() -> None:
    """[C by hand] 10 ± 1 and 13 ± 2 of one thing: 10.6, chi-square 3²/(1 + 4) = 1.8, and either would have to differ by 3."""
    found = reconciliation.reconcile(np.array([10.0, 13.0]), np.array([1.0, 2.0]), np.array([[1.0, -1.0]]), np.zeros(1))
    assert found.values == pytest.approx([10.6, 10.6])
    assert found.chi_square == pytest.approx(1.8)
    assert found.probability == pytest.approx(0.1797, abs=1e-4)  # chi-square table, one degree of freedom
    assert found.alone == pytest.approx([3.0, -3.0])
    assert np.abs(found.test) == pytest.approx([1.8**0.5, 1.8**0.5])


def test_a_gross_error_is_named() -> None:
    """A flow read 12 too high is the one that fails the measurement test, and is told how far it is off."""
    wrong = np.array([100.0, 64.0, 36.0, 64.0, 48.0, 100.0])
    found = reconciliation.reconcile(wrong, np.ones(6), BYPASS, np.zeros(4))
    assert int(np.argmax(np.abs(found.test))) == 4
    assert found.alone[4] == pytest.approx(-12.0)
    assert found.probability < 1e-6


@pytest.mark.parametrize(
    ("uncertainties", "balances"),
    [([1.0, 0.0], [[1.0, -1.0]]), ([1.0, 1.0], [[1.0, -1.0], [2.0, -2.0]]), ([1.0, np.nan], [[1.0, -1.0]])],
    ids=["no uncertainty", "one balance twice", "not a number"],
)
def test_what_cannot_be_reconciled_is_refused(uncertainties: list[float], balances: list[list[float]]) -> None:
    """An error, never a silent answer."""
    with pytest.raises(OutOfRangeError):
        reconciliation.reconcile(np.array([1.0, 2.0]), np.array(uncertainties), np.array(balances), np.zeros(len(balances)))


@stands_for(sucrose.sg_slope)
def test_slope_of_gravity_by_extract() -> None:
    """Rise of SG with extract: a pound in a US gallon is 46.1 points, so 0.3849 per g/mL near there (CRC densities, [C])."""
    # CRC 102nd ed.: 10 % 1.0381 and 12 % 1.0465 g/mL at 20 °C over 0.9982
    crc = (1.0465 - 1.0381) / 0.9982 / (0.12 * 1.0465 - 0.10 * 1.0381)
    assert sucrose.sg_slope(0.115) == pytest.approx(crc, rel=0.01)


def test_logarithms_are_those_of_the_tracking_package() -> None:
    """The share of a factor with a doubt, to first order, by `uncertainties`."""
    sampler = Sampler()
    grist = sampler.normal(5.1, 0.05)
    share = estimate(40.0 * (np.log(grist) - np.log(5.0)))
    tracked = 40.0 * ulog(ufloat(5.1, 0.05 / COVERAGE_FACTOR) / 5.0)
    assert share.half_width == pytest.approx(COVERAGE_FACTOR * tracked.std_dev, rel=0.01)
