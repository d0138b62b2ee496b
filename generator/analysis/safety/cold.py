"""Cautions of the fermentation: gas, warm pitches, wort that waits, and beer that stopped."""

from generator.analysis.reconciliation import Adjusted
from generator.analysis.safety.facts import HEAD_SPACE, Facts, Rule
from generator.records.readings import wall_clock
from generator.science import beer, sucrose

CO2_LIMIT_PPM = 5000.0
CO2_LITRES_PER_GRAM = 24.055 / 44.0095
"""At 20 °C and 1 atm, ideal gas."""
WARM_PITCH_C = 28.0
SHORT_ATTENUATION = 10.0
LONGEST_WAIT_H = 24.0
LOW_ACID_PH = 4.6
"""Above it the spores of botulism grow."""


def carbon_dioxide_grams(facts: Facts) -> float | None:
    """g of carbon dioxide that the fermentation gives off, by Balling's balance."""
    volume, original, abw = facts.best("fermenter_volume"), facts.best("original_gravity"), facts.best("abw")
    if volume is None or original is None or abw is None:
        return None
    extract = float(sucrose.extract_mass(volume, original))
    original_extract = float(sucrose.extract_from_sg(original))
    if original_extract <= 0.0:
        return None
    wort_kg = 100.0 * extract / original_extract
    beer_kg = wort_kg / (1.0 + (beer.EXTRACT_PER_ALCOHOL - 1.0) * abw / 100.0)
    return 1000.0 * beer_kg * beer.CO2_PER_ALCOHOL * abw / 100.0


def ppm_of_gas(grams: float, room: float) -> float:
    """Carbon dioxide shut into a room of so many m³, parts per million by volume."""
    return grams * CO2_LITRES_PER_GRAM / (room * 1000.0) * 1e6


def _room(facts: Facts) -> str | None:
    grams = carbon_dioxide_grams(facts)
    if grams is None:
        return None
    ppm = ppm_of_gas(grams, facts.room)
    if ppm <= CO2_LIMIT_PPM:
        return None
    return (
        f"The fermentation gives off {grams:.0f} g of carbon dioxide, {grams * CO2_LITRES_PER_GRAM:.0f} L. Shut into {facts.room_in_words} that is "
        f"{ppm / 1e4:.1f} %, against a limit of 0.5 % for a working day. It gathers low: air cupboards, cellars and chest freezers."
    )


def _warm_pitch(facts: Facts) -> str | None:
    yeast = facts.view.plan.yeast
    if yeast.warm_tolerant or yeast.temperature is None or yeast.temperature <= WARM_PITCH_C:
        return None
    return (
        f"The yeast is pitched at {yeast.temperature:.0f} °C. Most strains give fusel and solvent notes above {WARM_PITCH_C:.0f} °C; "
        "where the strain is known to like it, the plan says warm_tolerant."
    )


def hours_without_yeast(facts: Facts) -> float | None:
    """From the last reading of the boil to the first of the fermenter, or as planned, whichever is longer; None where neither is known."""
    timed = [(row.stage, row.time) for row in facts.batch.readings if row.time is not None]
    clock = list(zip([stage for stage, _ in timed], wall_clock([time for _, time in timed]), strict=True))
    boiled = [time for stage, time in clock if stage in ("boil", "post-boil")]
    fermenter = [time for stage, time in clock if stage == "fermenter"]
    hours = [(min(fermenter) - max(boiled)).total_seconds() / 3600.0] if boiled and fermenter else []
    wait = facts.view.plan.yeast.wait
    return max(hours + ([] if wait is None else [wait / 60.0]), default=None)


def _held_warm(facts: Facts) -> str | None:
    hours = hours_without_yeast(facts)
    acid = [ph for stage in ("post-boil", "fermenter") for ph in facts.read(stage, "ph")]
    if hours is None or hours <= LONGEST_WAIT_H or (acid and min(acid) <= LOW_ACID_PH):
        return None
    return (
        f"From the boil to the fermenter or its yeast it is {hours:.0f} hours. Sealed and warm, wort above pH {LOW_ACID_PH} lets the spores of "
        f"botulism grow, "
        "which survive the boil. Pitch on the same day, or keep the wort below 3 °C; pour away what stood warm for days."
    )


def _short(facts: Facts) -> str | None:
    figure = facts.figures["apparent_attenuation"]
    if figure.measured is None or figure.plan is None or figure.measured.value > figure.plan - SHORT_ATTENUATION:
        return None
    return (
        f"The beer stopped {figure.plan - figure.measured.value:.0f} points of attenuation short. It may start again: don't bottle before a forced "
        "ferment or a week without change, or keep it cold and vented."
    )


def _brimming(facts: Facts) -> str | None:
    volume, capacity = facts.best("fermenter_volume"), facts.view.brewhouse.fermenter.capacity
    if volume is None or capacity is None or volume <= HEAD_SPACE * capacity:
        return None
    return (
        f"{volume:.1f} L fill {100 * volume / capacity:.0f} % of the fermenter: foam will come. "
        "Fit a wide blow-off tube; a blocked lock builds pressure."
    )


def change_in_words(suspect: Adjusted) -> str:
    """By how much a suspect reading would have to differ: 2.3 L less."""
    amount = abs(suspect.alone)
    way = "less" if suspect.alone < 0 else "more"
    if suspect.unit == "SG":
        steps = round(amount * 1000.0)
        return f"{steps} point{'' if steps == 1 else 's'} {way}"
    return f"{amount:.{3 if suspect.unit == 'kg' else 1}f} {suspect.unit} {way}"


def _contradiction(facts: Facts) -> str | None:
    if facts.weighed is None or not facts.weighed.contradictory:
        return None
    suspect = facts.weighed.suspect
    return (
        "The readings of the kettle contradict one another beyond their doubts, so no figure that uses them can be trusted. "
        f"The {suspect.name} is the hardest to believe: it would have to be {change_in_words(suspect)}."
    )


RECORDS: tuple[Rule, ...] = (
    Rule(
        "readings-contradict", "caution", "boil", "narasimhan-jordache-2000",
        "the readings of the kettle contradict one another beyond their doubts", _contradiction,
    ),
)  # fmt: skip
RULES: tuple[Rule, ...] = (
    Rule(
        "warm-pitch", "caution", "fermenter", "common-practice",
        f"a pitch above {WARM_PITCH_C:.0f} °C of a yeast not said to be warm-tolerant", _warm_pitch,
    ),
    Rule(
        "wort-held", "stop", "fermenter", "botulism-low-acid",
        f"more than {LONGEST_WAIT_H:.0f} hours from the boil to the fermenter, read or planned, unless the pH is {LOW_ACID_PH} or less", _held_warm,
    ),
    Rule("full-fermenter", "note", "fermenter", "common-practice", f"the wort fills more than {100 * HEAD_SPACE:.0f} % of the fermenter", _brimming),
    Rule(
        "carbon-dioxide", "caution", "fermenter", "niosh-npg-co2",
        f"the gas of the fermentation, shut into its room, would be more than {CO2_LIMIT_PPM:.0f} ppm", _room,
    ),
)  # fmt: skip
STOPPED = Rule(
    "stopped-short", "caution", "package", "common-practice", f"{SHORT_ATTENUATION:.0f} points of apparent attenuation less than planned", _short
)
