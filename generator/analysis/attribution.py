"""Why a batch missed its plan: the gap in original gravity, alcohol and volume shared out to its causes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from generator.analysis.doubt import Absent, Asking, Estimate, alone
from generator.analysis.measured import Measured
from generator.analysis.planned import Planned
from generator.science import attribution, sucrose
from generator.science._values import OutOfRangeError, Values

_POINTS = 1000.0
_TOTAL = ""
MERGED = "mash efficiency and volume"
UNEXPLAINED = "unexplained by the kettle readings"
CONTRADICTION = "the plan's own contradiction"


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause and what it did, in the unit of the whole."""

    cause: str
    effect: Estimate


@dataclass(frozen=True, slots=True)
class Attribution:
    """A gap and its causes, which add up to it."""

    unit: str
    total: Estimate
    causes: tuple[Cause, ...]
    note: str = ""
    """What was taken for granted, and which reading would part merged causes; "" where nothing."""


@dataclass(frozen=True, slots=True)
class Why:
    """The gaps of a batch; None where plan or measurement is missing."""

    original_gravity: Attribution | None = None
    abv: Attribution | None = None
    fermenter_volume: Attribution | None = None


@dataclass(frozen=True, slots=True)
class _Shares:
    """A gap and its causes as samples."""

    unit: str
    gap: Values
    causes: Sequence[tuple[str, Values]]
    note: str = ""


def why(planned: Planned, measured: Measured | None) -> Why:
    """Share out every gap of a batch that plan and readings allow."""
    return Why() if measured is None else alone(measured.sampler, asking(planned, measured))


def asking(planned: Planned, measured: Measured) -> Asking[Why]:
    """The same as a computation that asks for weighing."""
    shares = {name: found for name, share in _GAPS.items() if (found := _attempt(share, planned, measured)) is not None}
    weighed = yield {f"{name} {cause}": sample for name, found in shares.items() for cause, sample in [(_TOTAL, found.gap), *found.causes]}
    estimates = {key: one.estimate for key, one in weighed.items()}
    return Why(**{name: _attribution(name, found, estimates) for name, found in shares.items()})


def _attempt(share: Callable[[Planned, Measured], _Shares], planned: Planned, measured: Measured) -> _Shares | None:
    try:
        return share(planned, measured)
    except (Absent, OutOfRangeError):
        return None


def _attribution(name: str, shares: _Shares, estimates: dict[str, Estimate]) -> Attribution | None:
    """The shares with their doubts; None where one of them isn't a finite number."""
    keys = [f"{name} {cause}" for cause in (_TOTAL, *(cause for cause, _ in shares.causes))]
    if not all(key in estimates for key in keys):
        return None
    causes = tuple(Cause(cause, estimates[key]) for (cause, _), key in zip(shares.causes, keys[1:], strict=True))
    return Attribution(shares.unit, estimates[keys[0]], causes, shares.note)


def _log(values: Values) -> Values:
    """Logarithm of a factor; Absent where it isn't above 0 at the readings, and finite in every draw."""
    best = values if isinstance(values, (float, int)) or np.ndim(values) == 0 else values[0]
    if not best > 0.0:
        raise Absent("a factor of the extract is not above 0")
    return np.log(np.maximum(values, 1e-9 * best))


def _factors(planned: Planned, measured: Measured) -> tuple[list[tuple[str, Values]], str]:
    """ln(x₁/x₀) of every measured factor of the extract per litre, and what was taken for granted."""
    found = [
        ("grist mass", _log(measured.grist_mass) - _log(planned.view.grist_mass)),
        ("malt extract", _log(measured.extract_per_kg) - _log(planned.extract_per_kg)),
    ]
    try:
        mash = _log(measured.attempt(lambda: measured.mash_efficiency)) - _log(planned.mash_efficiency)
        volume, note = _post_boil_volume(planned, measured)
        boil = _boil(measured.boil_additions, measured.pre_boil_extract) - _boil(planned.boil_additions, planned.pre_boil_extract)
        volume_ratio = _log(planned.post_boil_volume) - _log(volume)
    except Absent as absent:
        return found, f"Mash efficiency and volume can't be parted: {absent}."
    try:
        conversion = _log(measured.attempt(lambda: measured.conversion_efficiency)) - _log(planned.conversion_efficiency)
        found += [("conversion", conversion), ("lautering", mash - conversion)]
    except Absent as absent:
        found.append(("mash efficiency", mash))
        note = f"{note} Conversion and lautering can't be parted: {absent}.".strip()
    return [*found, ("boil additions", boil), ("post-boil volume", volume_ratio)], note


def _boil(additions: Values, pre_boil_extract: Values) -> Values:
    """Logarithm of the factor by which boil additions raise the extract."""
    return _log(1.0 + additions / pre_boil_extract)


def _post_boil_volume(planned: Planned, measured: Measured) -> tuple[Values, str]:
    """As read; else what the planned evaporation leaves of the volume before the boil."""
    if measured.standing("post-boil", "volume") is not None:
        return measured.post_boil_volume, ""
    volume = measured.pre_boil_volume - planned.likely_evaporation * measured.boil_hours
    return volume, "The volume after the boil was not read: it was taken as the volume before it less the planned evaporation."


def _original_gravity(planned: Planned, measured: Measured) -> _Shares:
    sg_1, sg_0 = measured.attempt(lambda: measured.original_gravity), planned.original_gravity
    c_1, c_0 = sucrose.extract_of_wort(1.0, measured.original_extract), sucrose.extract_of_wort(1.0, planned.original_extract)
    log_ratio = _log(c_1) - _log(c_0)
    gap = _POINTS * (sg_1 - sg_0)
    weight = attribution.product_weight(gap, log_ratio, _POINTS * sucrose.sg_slope(c_0) * c_0)
    factors, note = _factors(planned, measured)
    causes = [(cause, weight * log) for cause, log in factors]
    left = log_ratio - sum((log for _, log in factors), 0.0)
    if len(factors) == 2:
        return _Shares("points", gap, [*causes, (MERGED, weight * left)], note)
    contradiction = -_log(c_0 * planned.post_boil_volume / (planned.pre_boil_extract + planned.boil_additions))
    return _Shares("points", gap, [*causes, (UNEXPLAINED, weight * (left - contradiction)), (CONTRADICTION, weight * contradiction)], note)


def _alcohol(planned: Planned, measured: Measured) -> _Shares:
    abv_1, abv_0 = measured.attempt(lambda: measured.abv), planned.abv
    if abv_0 <= 0.0 or not np.ravel(abv_1)[0] > 0.0:
        raise Absent("there is no alcohol to share out")
    floor = 1e-9 * abv_0
    abv_1 = np.maximum(abv_1, floor)
    mean = attribution.logarithmic_mean(abv_1, abv_0)
    extract = _log(measured.original_extract) - _log(planned.original_extract)
    attenuation = np.log(abv_1 / abv_0) - extract
    return _Shares("% vol", abv_1 - abv_0, [("original gravity", mean * extract), ("attenuation", mean * attenuation)])


def _volume(planned: Planned, measured: Measured) -> _Shares:
    """Litres into the fermenter: liquor less what the grain held, what evaporated, and what stayed in kettle and hoses."""
    liquor = measured.liquor("mash") + measured.liquor("sparge") - planned.view.mash_liquor - planned.view.plan.liquor.sparge
    pre = measured.attempt(lambda: measured.pre_boil_volume) - planned.pre_boil_volume
    post = measured.attempt(lambda: measured.post_boil_volume) - planned.post_boil_volume
    gap = measured.attempt(lambda: measured.fermenter_volume) - planned.fermenter_volume
    causes = [("liquor", liquor), ("grain absorption", pre - liquor), ("evaporation", post - pre), ("kettle and hose losses", gap - post)]
    return _Shares("L", gap, causes)


_GAPS: dict[str, Callable[[Planned, Measured], _Shares]] = {"original_gravity": _original_gravity, "abv": _alcohol, "fermenter_volume": _volume}
