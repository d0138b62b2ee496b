"""Cautions of burners and mains, of dust, and of what has to be lifted."""

from generator.analysis.safety.facts import ROOM_M3, Facts, Rule
from generator.analysis.safety.hot import SCALD_C, hottest
from generator.science import water
from generator.science.lifting import LiftGeometry, recommended_weight

IDEAL_LIFT_KG = 23.0
ARM_LENGTH = LiftGeometry(horizontal=40.0, vertical=75.0, travel=60.0, coupling=0.9)
"""cm; a basket lifted out of a vessel on a bench."""
KETTLE_LIFT = LiftGeometry(horizontal=40.0, vertical=75.0, travel=25.0, coupling=0.9)
"""cm; a kettle moved from a bench to a bench."""
DUST_LIMIT_MG_M3 = 4.0
DUSTY_GRIST_KG = 5.0
KILOJOULES_PER_KG_K, KILOJOULES_PER_KWH = 4.186, 3600.0
COLD_C, BOILING_C = 20.0, 100.0


def wet_grain(facts: Facts) -> float | None:
    """kg of drained grain: what is left of the dry matter, and the wort in it."""
    grist = facts.best("grist_mass")
    if grist is None:
        return None
    extract = facts.best("potential_extract") or 0.0
    return grist - extract + grist * facts.view.brewhouse.mash.retention * 1.04


def _lifting(facts: Facts) -> str | None:
    wet = wet_grain(facts)
    limit = recommended_weight(ARM_LENGTH)
    if wet is None or wet <= limit:
        return None
    return (
        f"The drained grain weighs about {wet:.0f} kg, hot and dripping. {IDEAL_LIFT_KG:.0f} kg is the limit for an ideal lift close to the body; "
        f"out of a vessel at arm's length it is {limit:.1f} kg. Use a hoist or a second person, or scoop it out."
    )


def _wort_mass(facts: Facts, volume: str, gravity: str) -> float | None:
    litres, sg = facts.best(volume), facts.best(gravity)
    return None if litres is None else litres * (sg or 1.0) * float(water.density(20.0))


def _hot_transfer(facts: Facts) -> str | None:
    wort, limit = _wort_mass(facts, "pre_boil_volume", "pre_boil_gravity"), recommended_weight(KETTLE_LIFT)
    if wort is None or wort <= limit or hottest(facts) < SCALD_C:
        return None
    return (
        f"About {wort:.0f} kg of hot wort have to go into the kettle and out of it. {limit:.1f} kg, vessel and all, is the limit from bench to "
        f"bench, and "
        "that is for a load that can't spill: run it off by a tap, or pump it through hoses made for boiling liquid. Close the tap before a hose "
        "comes off."
    )


def _heavy_fermenter(facts: Facts) -> str | None:
    wort = _wort_mass(facts, "fermenter_volume", "original_gravity")
    if wort is None or wort <= IDEAL_LIFT_KG:
        return None
    return (
        f"The wort in the fermenter weighs {wort:.1f} kg without the vessel, and {IDEAL_LIFT_KG:.0f} kg is the limit of an ideal lift. "
        "Fill it where it is to stay, or lift it with somebody; never carry glass by its neck."
    )


def _carbon_monoxide(facts: Facts) -> str | None:
    kettle = facts.view.brewhouse.boil
    if kettle.heat not in ("gas", "solid fuel") or not kettle.indoors:
        return None
    return (
        f"The brewhouse says: heated with {kettle.heat}, indoors. Burners and charcoal give off carbon monoxide, which nobody smells; 50 ppm is the "
        f"limit for "
        "a working day, and open doors don't keep it below. Burn outdoors only. A fixed cooker with its flue is for the installer and local gas "
        "codes to judge."
    )


def _burner(facts: Facts) -> str | None:
    kettle = facts.view.brewhouse.boil
    if kettle.heat not in ("gas", "solid fuel") or kettle.indoors:
        return None
    return (
        f"The kettle is heated with {kettle.heat}: outdoors only, away from walls and anything that burns, on level ground, never left alone. Keep a "
        f"cylinder "
        "upright and away from the flame, test its joints with soapy water, and follow local gas codes."
    )


def _electricity(facts: Facts) -> str | None:
    litres = facts.best("pre_boil_volume")
    if facts.view.brewhouse.boil.heat != "electric" or litres is None:
        return None
    energy = litres * float(water.density(COLD_C)) * KILOJOULES_PER_KG_K * (BOILING_C - COLD_C) / KILOJOULES_PER_KWH
    return (
        f"Bringing {litres:.1f} L from 20 °C to the boil takes {energy:.1f} kWh: look at the rating of the circuit. Earthed vessel, a "
        f"residual-current device "
        "of at most 30 mA, the element covered before it is switched on, cables off the wet floor. Fixed wiring is for licensed electricians."
    )


def _dust(facts: Facts) -> str | None:
    grist = facts.best("grist_mass")
    if grist is None or grist <= DUSTY_GRIST_KG:
        return None
    return (
        f"If the {grist:.1f} kg of grist are milled at home: {DUST_LIMIT_MG_M3 * ROOM_M3 / 1000.0:.2g} g of dust afloat in a small room of "
        f"{ROOM_M3:.0f} m³ reach "
        f"{DUST_LIMIT_MG_M3:.0f} mg/m³, a limit for a working day. Flour sensitises lungs and burns when afloat: mill in moving air, with a mask, no "
        f"flame near."
    )


RULES: tuple[Rule, ...] = (
    Rule("grain-dust", "note", "mash", "niosh-npg-dust", f"more than {DUSTY_GRIST_KG:.0f} kg of grist (this journal's own threshold)", _dust),
    Rule("wet-grain", "caution", "mash", "niosh-94-110", "the drained grain is heavier than the recommended lift at arm's length", _lifting),
    Rule("carbon-monoxide", "stop", "boil", "cpsc-co", "the kettle is heated with gas or solid fuel, indoors", _carbon_monoxide),
    Rule("burner", "caution", "boil", "cpsc-co", "the kettle is heated with gas or solid fuel, and not said to be indoors", _burner),
    Rule("electricity", "caution", "boil", "nec-210-8", "the kettle is heated electrically", _electricity),
    Rule("hot-transfer", "caution", "boil", "niosh-94-110", "hot wort heavier than the recommended lift from bench to bench", _hot_transfer),
    Rule("heavy-fermenter", "note", "fermenter", "niosh-94-110", f"wort of more than {IDEAL_LIFT_KG:.0f} kg in the fermenter", _heavy_fermenter),
)
