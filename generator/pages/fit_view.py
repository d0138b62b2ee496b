"""Whether the mash fits its vessel, and whether the plan agrees with itself, in words and as a table."""

from collections.abc import Iterator

from generator.analysis.alternatives import Fit, WayOut
from generator.analysis.catalogue import BY_KEY
from generator.analysis.prediction import Contradiction
from generator.pages.formatting import BLANK, cell, fixed, places_for
from generator.pages.plan_contract import WayRow

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
