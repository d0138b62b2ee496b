"""Cautions of the hot side: full vessels, hot liquid, steam."""

from generator.analysis.safety.facts import HEAD_SPACE, ROOM_M3, Facts, Rule
from generator.science import water

SCALD_C = 55.0
STEAM_C = 60.0
"""A splash burns skin through in 30 seconds at the first, in 5 at the second."""
SATURATED_G_PER_M3 = 17.3
"""g of water vapour that a cubic metre of air holds at 20 °C."""


def hottest(facts: Facts) -> float:
    """°C of the hottest liquid of the brew, planned or read; a boil is 100 °C."""
    rests = [rest.temperature for rest in facts.view.plan.rest]
    read = [row.value or 0.0 for row in facts.batch.readings if row.what == "temperature" and row.stage != "tasting"]
    return max([*rests, *read, 100.0 if facts.view.plan.boil.duration else 0.0])


def _scald(facts: Facts) -> str | None:
    warmest = hottest(facts)
    if warmest < SCALD_C:
        return None
    return (
        f"Liquor and wort of this brew reach {warmest:.0f} °C; at 60 °C they burn skin through in 5 seconds. "
        "Move them by hose or tap, never by lifting the vessel; closed shoes, gloves, no children near."
    )


def _overfull_mash(facts: Facts) -> str | None:
    space, capacity = facts.figures["mash_space"].plan, facts.view.brewhouse.mash.capacity
    if space is None or capacity is None or space <= capacity:
        return None
    return f"The mash needs {space:.1f} L and the vessel holds {capacity:.1f} L: it would run over by {space - capacity:.1f} L."


def _overfull_basket(facts: Facts) -> str | None:
    grist, capacity = facts.best("grist_mass"), facts.view.brewhouse.mash.grain_capacity
    if grist is None or capacity is None or grist <= capacity:
        return None
    return f"{grist:.2f} kg of grist is more than the {capacity:.2f} kg that the vessel is made for: the bed may not drain and may lift over the rim."


def kettle_fill(facts: Facts) -> tuple[float, float] | None:
    """L of the wort before the boil when it is hot, and of the kettle; None where either isn't known."""
    volume, capacity = facts.best("pre_boil_volume"), facts.view.brewhouse.boil.capacity
    if volume is None or capacity is None:
        return None
    return volume * float(water.density(20.0)) / float(water.density(98.0)), capacity


def _boil_over(facts: Facts) -> str | None:
    fill = kettle_fill(facts)
    if fill is None or not HEAD_SPACE * fill[1] < fill[0] <= fill[1]:
        return None
    return (
        f"The hot wort fills {100 * fill[0] / fill[1]:.0f} % of the kettle. Below 15 % of head space it boils over at the first foam or the hops: "
        "stay beside it, no lid, a hand on the heat."
    )


def _overfull_kettle(facts: Facts) -> str | None:
    fill = kettle_fill(facts)
    if fill is None or fill[0] <= fill[1]:
        return None
    return f"The wort is {fill[0]:.1f} L when hot and the kettle holds {fill[1]:.1f} L. Hold some back."


def _lid(facts: Facts) -> str | None:
    stands = [hop.temperature for hop in facts.view.plan.hops if hop.added == "stand" and hop.temperature is not None]
    if not stands or max(stands) < STEAM_C:
        return None
    return (
        f"The hops stand in wort of {max(stands):.0f} °C. Where a lid keeps the heat in, open it away from you: the steam under it burns as the wort "
        f"does. "
        "Never close a vessel that still boils."
    )


def _evaporated(facts: Facts) -> float | None:
    """L that the boil drives off: planned or read before it, less after it."""
    before, after = facts.best("pre_boil_volume"), facts.best("post_boil_volume")
    return None if before is None or after is None else before - after


def _steam(facts: Facts) -> str | None:
    litres = _evaporated(facts)
    held = SATURATED_G_PER_M3 * ROOM_M3 / 1000.0
    if not facts.view.brewhouse.boil.indoors or litres is None or litres <= held:
        return None
    return (
        f"The boil drives {litres:.1f} L of water into the house; the air of a small room of {ROOM_M3:.0f} m³ holds {held:.1f} L at 20 °C, and the "
        f"rest "
        "runs down walls, sockets and windows. Lead it out with a hood or a fan at an open window."
    )


RULES: tuple[Rule, ...] = (
    Rule("overfull-mash", "stop", "mash", "palmer-ch16", "the planned mash needs more room than the vessel has", _overfull_mash),
    Rule("overfull-basket", "caution", "mash", "common-practice", "the grist is heavier than the grain capacity of the vessel", _overfull_basket),
    Rule("scald", "caution", "mash", "moritz-henriques-1947", f"liquor or wort of {SCALD_C:.0f} °C or more", _scald),
    Rule(
        "overfull-kettle", "stop", "boil", "boil-over-practice", "the wort before the boil, when hot, is more than the kettle holds", _overfull_kettle
    ),
    Rule("boil-over", "caution", "boil", "boil-over-practice", f"the hot wort fills more than {100 * HEAD_SPACE:.0f} % of the kettle", _boil_over),
    Rule("lid", "note", "boil", "moritz-henriques-1947", f"hops stand in wort of {STEAM_C:.0f} °C or more", _lid),
    Rule("steam", "caution", "boil", "iapws-97", "a boil indoors drives off more water than the air of a small room can hold", _steam),
)
