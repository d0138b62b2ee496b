"""A plan for another volume: the same beer, as far as the plan predicts it, in the words and units of the brewer's own file."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

import tomlkit
from scipy.optimize import fixed_point

from generator import units
from generator.analysis.doubt import Absent
from generator.analysis.plan_view import DEFAULT_BREWHOUSE, PlanView
from generator.analysis.planned import Planned
from generator.errors import JournalError, Problem
from generator.planning.batches import Found
from generator.planning.overrides import Draft, drafted
from generator.records.models import Brewhouse, Good, Hop, Plan
from generator.records.toml import Where
from generator.science._values import OutOfRangeError
from generator.units import Kind, QuantityError

SCALE = "--scale"
"""Stands as the path of a problem that scaling brings in."""
_VOLUMES = ("volume", "pre_boil_volume", "post_boil_volume")
_FINENESS = {units.MASS.name: 0.002, units.VOLUME.name: 0.0025}
"""Largest share of a quantity that rounding may change: far less than the doubt of a scale or a dipstick."""
Row = TypeVar("Row", Good, Hop)
_COMPOUND = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(\s*)([^\d\s+.-][^\d]*?)(\s*)(?=$|[+-]?\.?\d)", re.ASCII)
_UNCOMPUTED = (Absent, OutOfRangeError)


@dataclass(frozen=True, slots=True)
class Scaling:
    """By what each part of a plan is multiplied, and what that holds constant."""

    volume: float
    """New over planned volume into the fermenter; yeast and what goes into the fermenter follow it."""
    goods: float
    hops: float
    liquor: float
    shift: float
    """L that the volumes in the kettle change by: losses and evaporation stay."""
    held: tuple[str, ...]


def scaled(found: Found, draft: Draft, wanted: str) -> str:
    """Text of the plan scaled to another volume into the fermenter.

    Args:
        found: the batch.
        draft: its plan, as it stands or changed on trial.
        wanted: the volume with its unit.

    Raises:
        JournalError: the volume can't be read, the plan tells none, or the scaled plan can't stand.
    """
    try:
        volume = units.parse(wanted, units.VOLUME).value
    except QuantityError as error:
        raise JournalError([Problem(SCALE, 1, error.what, error.expected, error.slug)]) from error
    batch = draft.batch
    house = batch.brewhouse or DEFAULT_BREWHOUSE
    planned = Planned(PlanView(batch.plan, house))
    try:
        before = float(planned.fermenter_volume)
    except _UNCOMPUTED as error:
        line = batch.plan_file.line("target", "volume")
        raise JournalError(
            [Problem(batch.plan_file.path, line, f"{error}, so it can't be scaled", 'expected a line such as volume = "19 L"', "missing-key")]
        ) from error
    scaling = solved(planned, house, volume, before)
    document = tomlkit.parse(draft.text)
    _write(document, _trial(batch.plan, scaling), wanted)
    text = _head(scaling, house, before, wanted) + tomlkit.dumps(document)
    faults = drafted(found, text)[1]
    if faults:
        raise JournalError([Problem(SCALE, 1, f"the scaled plan can't stand: {fault.what}", fault.expected, fault.slug) for fault in faults])
    return text


def solved(planned: Planned, house: Brewhouse, volume: float, before: float) -> Scaling:
    """The factors for a volume into the fermenter.

    Losses and evaporation belong to the brewhouse, so the volumes in the kettle change by as many litres as the beer. Goods are
    scaled until the wort after the boil holds as much extract in a litre as before: more grist in a litre of wort drains worse,
    which is solved for. The liquor follows, with the same absorption; the hops are scaled until the bitterness is the same.
    """
    plan, ratio, shift = planned.view.plan, volume / before, volume - before
    held = []
    goods = liquor = hops = ratio
    try:
        gravity, wort = planned.predicted_original_gravity, planned.post_boil_volume
        wanted = (planned.pre_boil_extract + planned.boil_additions) * (wort + shift) / wort

        def towards(factor: float) -> float:
            """The factor, bettered by how much of the extract it gives."""
            trial = Planned(PlanView(_trial(plan, Scaling(ratio, factor, 1.0, _liquor(planned, factor, shift), shift, ())), house))
            return float(factor * wanted / (trial.pre_boil_extract + trial.boil_additions))

        goods = float(fixed_point(towards, (wort + shift) / wort, xtol=1e-10, maxiter=200, method="iteration"))
        held.append(f"the predicted original gravity, {gravity:.4f}, and the shares of the goods")
    except (*_UNCOMPUTED, RuntimeError, ZeroDivisionError):
        held.append("the goods in a litre of beer; the plan predicts no original gravity to hold")
    liquor = _liquor(planned, goods, shift)
    if plan.liquor.mash is not None:
        held.append("the share of the sparge in the liquor, and the litres that a kilogram of grist keeps")
    try:
        bitterness = float(planned.bitterness)
        trial = Planned(PlanView(_trial(plan, Scaling(ratio, goods, 1.0, liquor, shift, ())), house))
        hops = bitterness / float(trial.bitterness)
        held.append(f"the predicted bitterness, {bitterness:.1f} IBU, and the shares of the hops")
    except (*_UNCOMPUTED, ZeroDivisionError):
        held.append("the hops in a litre of beer")
    return Scaling(ratio, goods, hops, liquor, shift, tuple(held))


def _liquor(planned: Planned, goods: float, shift: float) -> float:
    """Factor of both liquors: for the wort before the boil, and for what so much grist keeps."""
    try:
        before = planned.view.mash_liquor + planned.view.plan.liquor.sparge
        kept = before - planned.pre_boil_volume
        return float((planned.pre_boil_volume + shift + goods * kept) / before)
    except _UNCOMPUTED:
        return goods


def _trial(plan: Plan, scaling: Scaling) -> Plan:
    """The plan with its quantities scaled, unrounded."""

    def parts(rows: tuple[Row, ...], factor: float) -> tuple[Row, ...]:
        return tuple(row.model_copy(update={"mass": row.mass * (scaling.volume if row.added == "fermenter" else factor)}) for row in rows)

    target, liquor, cells = plan.target, plan.liquor, plan.yeast.cells
    volumes = {key: getattr(target, key) + scaling.shift for key in _VOLUMES if getattr(target, key) is not None}
    mash = None if liquor.mash is None else liquor.mash * scaling.liquor
    return plan.model_copy(
        update={
            "target": target.model_copy(update=volumes),
            "grist": parts(plan.grist, scaling.goods),
            "hops": parts(plan.hops, scaling.hops),
            "liquor": liquor.model_copy(update={"mash": mash, "sparge": liquor.sparge * scaling.liquor}),
            "yeast": plan.yeast.model_copy(update={"cells": None if cells is None else cells * scaling.volume}),
        }
    )


def _amounts(plan: Plan) -> Iterator[tuple[Where, Kind, float]]:
    """Every mass and volume of a plan that scaling changes, with its place and kind."""
    for key in _VOLUMES:
        if getattr(plan.target, key) is not None:
            yield ("target", key), units.VOLUME, getattr(plan.target, key)
    for position, row in enumerate(plan.grist):
        yield ("grist", position, "mass"), units.MASS, row.mass
    for position, hop in enumerate(plan.hops):
        yield ("hops", position, "mass"), units.MASS, hop.mass
    if plan.liquor.mash is not None:
        yield ("liquor", "mash"), units.VOLUME, plan.liquor.mash
    if plan.liquor.sparge > 0.0:
        yield ("liquor", "sparge"), units.VOLUME_OR_NONE, plan.liquor.sparge


def _write(document: Any, plan: Plan, wanted: str) -> None:
    """Put the quantities of the scaled plan in the places of the old ones."""
    for where, kind, value in _amounts(plan):
        table = document
        for step in where[:-1]:
            table = table[step]
        table[where[-1]] = like(str(table[where[-1]]), kind, value)
    if plan.target.volume is not None:
        document["target"]["volume"] = " ".join(wanted.split())
    if plan.yeast.cells is not None:
        document["yeast"]["cells"] = _cells(document["yeast"]["cells"], plan.yeast.cells)


def _cells(written: Any, value: float) -> Any:
    """A number of cells to three digits, as a text, a whole number or a number, as it was."""
    rounded = float(f"{value:.3g}")
    if isinstance(written, str):
        exponent = re.search(r"[eE][+]?(\d+)\s*$", written)
        power = int(exponent[1]) if exponent else 0
        return f"{rounded / 10.0**power:.6g}e{power}" if exponent else f"{rounded:.0f}"
    return int(rounded) if isinstance(written, int) else rounded


def like(written: str, kind: Kind, value: float) -> str:
    """A mass or volume in the units that another was written in, rounded to what can be weighed or poured.

    Args:
        written: "6.1 kg", "19 lb 2 oz"; a quantity that could be read.
        kind: its kind.
        value: the new one, in the canonical unit of the kind.
    """
    parts = _COMPOUND.findall(written.strip())
    sizes = [units.convert(1.0, kind.unit(unit), kind.canonical) for _, _, unit, _ in parts]
    places = _places(value / sizes[-1], _FINENESS[kind.name])
    steps = round(value / sizes[-1], places)
    texts = []
    for (_, gap, unit, after), size in zip(parts[:-1], sizes[:-1], strict=True):
        whole = math.floor(steps * sizes[-1] / size + 1e-9)
        steps -= whole * size / sizes[-1]
        texts.append(f"{whole}{gap}{unit}{after}")
    _, gap, unit, _ = parts[-1]
    texts.append(f"{_plain(steps, places)}{gap}{unit}")
    return "".join(texts)


def _plain(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _places(value: float, fineness: float) -> int:
    """Digits after the point that change a value by no more than that share of it."""
    return max(0, math.ceil(-math.log10(2.0 * fineness * value))) if value > 0.0 else 0


def _head(scaling: Scaling, house: Brewhouse, before: float, wanted: str) -> str:
    """What was done, as comments above the plan."""
    evaporation, losses = house.boil.evaporation, house.boil.kettle_loss + house.transfer.loss
    lines = [
        f"Scaled by wortledger from {before:.4g} L to {' '.join(wanted.split())} into the fermenter.",
        *(f"Held constant: {text}." for text in scaling.held),
        f"Not scaled: losses of {losses:.3g} L and evaporation of {evaporation:.3g} L/h, which are the brewhouse's; times and temperatures.",
        f"Factors: goods {scaling.goods:.4f}, liquor {scaling.liquor:.4f}, hops {scaling.hops:.4f}, yeast and dry hops {scaling.volume:.4f}.",
    ]
    return "".join(f"# {line}\n" for line in lines) + "\n"
