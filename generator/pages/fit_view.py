"""Whether the mash fits its vessel, and whether the plan agrees with itself, in words and as a table."""

from collections.abc import Iterator

from generator.analysis.alternatives import THINNEST_BED, Fit, WayOut
from generator.analysis.catalogue import BY_KEY
from generator.analysis.liquor import LiquorBalance
from generator.analysis.prediction import Contradiction
from generator.pages.formatting import BLANK, cell, fixed, places_for
from generator.pages.plan_contract import GoodRow, WayRow

_TARGETS = {
    "post_boil_volume": "volume after the boil", "pre_boil_volume": "volume before the boil", "fermenter_volume": "volume",
    "mash_efficiency": "mash efficiency", "pre_boil_gravity": "gravity before the boil", "original_gravity": "original gravity",
    "final_gravity": "final gravity",
}  # fmt: skip


def contradiction(one: Contradiction) -> str:
    """A target that the rest of the plan doesn't lead to, as a sentence."""
    unit = BY_KEY[one.key].unit
    places = places_for(one.prediction.half_width, unit)
    shown = "" if unit == "SG" else f" {unit}"
    doubt = f"{round(1000.0 * one.prediction.half_width) or 1} points" if unit == "SG" else f"{fixed(one.prediction.half_width, places)}{shown}"
    return (
        f"The plan contradicts itself: its target {_TARGETS[one.key]} is {fixed(one.target, places)}{shown}, "
        f"the rest of it leads to {fixed(one.prediction.value, places)}{shown}, give or take {doubt}."
    )


def fit_sentences(fit: Fit | None) -> Iterator[str]:
    """How full the vessel is."""
    if fit is None or (fit.capacity is None and fit.grain_capacity is None):
        return
    if fit.excess:
        yield f"The mash needs {fit.planned.space:.1f} L and the vessel holds {fit.capacity:.1f} L: {fit.excess:.1f} L too much."
    elif fit.capacity is not None:
        yield f"The mash takes {fit.planned.space:.1f} L of the vessel’s {fit.capacity:.1f} L."
    if fit.excess_grain:
        yield f"{fit.planned.grist:.2f} kg of grain is {fit.excess_grain:.2f} kg more than the vessel is made for."
    at_once, in_portions = fit.while_adding
    if fit.capacity is not None and not fit.excess and at_once > fit.capacity:
        stands = f"Tipped in at once, the dry grain would stand up to {at_once:.1f} L before it settles"
        if in_portions >= at_once:
            yield f"{stands}: stir it in by portions."
        elif in_portions > fit.capacity:
            yield f"{stands}; even in the plan’s portions up to {in_portions:.1f} L, so stir each one in slowly."
        else:
            yield f"{stands}; in the plan’s portions it stays below {in_portions:.1f} L."


def liquor_sentences(liquor: LiquorBalance | None) -> Iterator[str]:
    """Whether the liquor gives the volume before the boil, and whether the mash can be stirred."""
    if liquor is None:
        return
    if not liquor.agrees:
        short = liquor.missing > 0.0
        amount = f"{abs(liquor.missing):.1f} L {'less' if short else 'more'}"
        todo = "sparge with that much more" if short else "leave that much out"
        yield f"The liquor gives {liquor.run_off:.1f} L before the boil, {amount} than the plan wants: {todo}."
    if liquor.bed < THINNEST_BED:
        yield f"Only {liquor.bed:.1f} L of liquor for each kg of grist stand above the dead space: hard to stir and to recirculate."


def liquor_rows(liquor: LiquorBalance | None) -> tuple[GoodRow, ...]:
    """The litres from the liquor to the fermenter, each with what it is."""
    if liquor is None:
        return ()
    hot = "" if liquor.strike is None else f"{liquor.strike:.1f} L when it is hot"
    kept = f"the drained grain keeps {liquor.retained:.1f} L of wort; malt and extract give back the rest"
    rows = [
        ("Mash liquor", liquor.mash, hot),
        ("Sparge liquor", liquor.sparge, ""),
        ("Not coming back", -(liquor.mash + liquor.sparge - liquor.run_off), kept),
        ("Before the boil", liquor.run_off, f"planned {liquor.pre_boil:.1f} L"),
        ("Evaporated", -liquor.evaporated, ""),
        ("Left in kettle and hoses", -liquor.losses, ""),
        ("Into the fermenter", liquor.run_off - liquor.evaporated - liquor.losses, f"planned {liquor.fermenter:.1f} L"),
    ]
    return tuple(GoodRow(name, f"{fixed(litres, 1)} L", detail) for name, litres, detail in rows if litres or detail)


def way_rows(fit: Fit | None) -> tuple[WayRow, ...]:
    """The plan as it is, then each way out; nothing where the mash fits."""
    if fit is None or not fit.ways:
        return ()
    planned = WayOut("As planned", "It doesn’t fit", fit.planned)
    return tuple(_row(way) for way in (planned, *fit.ways) if way.outcome is not None)


def closed_ways(fit: Fit | None) -> tuple[tuple[str, str], ...]:
    """What would not help here, with the reason."""
    return () if fit is None else tuple((way.name, way.why_not) for way in fit.ways if way.outcome is None)


def _row(way: WayOut) -> WayRow:
    out = way.outcome
    if out is None:
        return WayRow(way.name, way.does, BLANK, BLANK, "", BLANK, BLANK)
    return WayRow(
        way.name, way.does, cell(f"{out.grist:.2f}"), cell(f"{out.volume:.1f}"), f"{out.gravity:.3f}",
        cell(f"{out.mash_efficiency:.1f}"), cell(f"{out.space:.1f}"),
    )  # fmt: skip
