"""Where the extract of the fermenter went: into alcohol, carbon dioxide and yeast, or into the beer, and how much of that was packaged."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial

import numpy as np

from generator.analysis.doubt import NOT_FINITE, Absent, Asking, Estimate, Weighed, alone
from generator.analysis.measured import Measured
from generator.analysis.planned import Planned, best_of
from generator.science import beer, packaging, sucrose, water
from generator.science._values import Values

FERMENTER, RESIDUAL, ALCOHOL = "fermenter", "residual extract", "alcohol"
PARTS = (ALCOHOL, "carbon dioxide", "yeast", RESIDUAL)
"""What the extract became; together they weigh as much as it did."""
SHARED = (RESIDUAL, ALCOHOL)
"""What the packages hold, and what stays behind."""
_PACKAGED, _LOST = "packaged", "lost"


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the extract, kg."""

    name: str
    mass: Estimate
    plan: float | None = None


@dataclass(frozen=True, slots=True)
class Split:
    """One part of the beer, kg: in the packages, and left in the fermenter, in hoses and in samples."""

    name: str
    packaged: Estimate
    lost: Estimate
    """Below 0 where more was packaged than the readings leave room for."""


@dataclass(frozen=True)
class CellarLedger:
    """The ledger from the fermenter on; its parts add up to the extract of the fermenter."""

    extract: Part | None = None
    parts: tuple[Part, ...] = ()
    splits: tuple[Split, ...] = ()
    absent: dict[str, str] = field(default_factory=dict)
    """Why a part can't be had, by its name; `packaged` for the splits."""
    remarks: tuple[str, ...] = ()


def cellar_ledger(planned: Planned, measured: Measured | None) -> CellarLedger:
    """The ledger of a batch; empty where it isn't brewed."""
    return CellarLedger() if measured is None else alone(measured.sampler, asking(planned, measured))


def asking(planned: Planned, measured: Measured) -> Asking[CellarLedger]:
    """The same as a computation that asks for weighing."""
    samples, absent = _samples(measured)
    weighed = yield samples
    absent |= {name: NOT_FINITE for name in samples if name not in weighed}
    plan = _plan(planned)
    extract = Part(FERMENTER, weighed[FERMENTER].estimate, plan.get(FERMENTER)) if FERMENTER in weighed else None
    parts = tuple(Part(name, weighed[name].estimate, plan.get(name)) for name in PARTS if name in weighed)
    return CellarLedger(extract, parts, _splits(weighed), absent, _remarks(measured, weighed))


def beer_mass(side: Measured | Planned) -> Values:
    """kg of beer that the wort of the fermenter became."""
    return packaging.beer_mass(side.fermenter_volume * sucrose.density(side.original_extract), side.abw)


def beer_volume(side: Measured | Planned) -> Values:
    """L of it at 20 °C: a little less than the wort was."""
    return beer_mass(side) / (side.final_gravity * water.density(water.REFERENCE_TEMPERATURE))


def fermented(side: Measured | Planned) -> dict[str, Values]:
    """kg of each part: Balling's balance on the whole beer."""
    mass = beer_mass(side)
    alcohol = mass * side.abw / 100.0
    made = (alcohol, beer.CO2_PER_ALCOHOL * alcohol, beer.YEAST_PER_ALCOHOL * alcohol, mass * side.real_extract / 100.0)
    return dict(zip(PARTS, made, strict=True))


def _samples(measured: Measured) -> tuple[dict[str, Values], dict[str, str]]:
    """What can be had, as samples, and why the rest can't."""
    samples: dict[str, Values] = {}
    absent: dict[str, str] = {}
    try:
        samples[FERMENTER] = measured.attempt(lambda: measured.fermenter_extract)
    except Absent as reason:
        absent[FERMENTER] = str(reason)
    try:
        parts = measured.attempt(partial(fermented, measured))
    except Absent as reason:
        return samples, absent | dict.fromkeys((*PARTS, _PACKAGED), str(reason))
    samples |= parts
    try:
        share = measured.attempt(lambda: measured.package_volume / beer_volume(measured))
    except Absent as reason:
        return samples, absent | {_PACKAGED: str(reason)}
    for name in SHARED:
        samples[f"{name} {_PACKAGED}"] = parts[name] * share
        samples[f"{name} {_LOST}"] = parts[name] * (1.0 - share)
    return samples, absent


def _splits(weighed: Mapping[str, Weighed]) -> tuple[Split, ...]:
    found = []
    for name in SHARED:
        packaged, lost = weighed.get(f"{name} {_PACKAGED}"), weighed.get(f"{name} {_LOST}")
        if packaged and lost:
            found.append(Split(name, packaged.estimate, lost.estimate))
    return tuple(found)


def _plan(planned: Planned) -> dict[str, float]:
    """The parts by the plan; what it doesn't tell is left out."""
    try:
        found = {FERMENTER: planned.fermenter_extract} | fermented(planned)
    except (Absent, ValueError):
        return {}
    return {name: best_of(sample) for name, sample in found.items() if np.isfinite(best_of(sample))}


def _remarks(measured: Measured, weighed: Mapping[str, Weighed]) -> tuple[str, ...]:
    """What a reader must know of these numbers."""
    found = []
    added = [good.name for good in measured.view.plan.grist if good.added == "fermenter"]
    if added:
        found.append(f"Added to the fermenter and not counted: {', '.join(added)}.")
    lost = weighed.get(f"{RESIDUAL} {_LOST}")
    if lost and lost.estimate.value < 0.0:
        beyond = "within their doubt" if lost.estimate.high >= 0.0 else "by more than their doubt"
        found.append(f"By the readings more was packaged than the fermenter held, {beyond}.")
    return tuple(found)
