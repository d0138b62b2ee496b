"""Cautions: rules as data. Each has a threshold with two tests, a source, and defers to local codes."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from generator.analysis.figures import Figure
from generator.analysis.plan_view import PlanView
from generator.analysis.reconciliation import Adjusted, Reconciliation
from generator.records.journal import BatchRecord
from generator.science import beer, sucrose, water
from generator.science.lifting import LiftGeometry, recommended_weight

Severity = Literal["note", "caution", "stop"]
CO2_LIMIT_PPM = 5000.0
ROOM_M3 = 30.0
CO2_LITRES_PER_GRAM = 24.055 / 44.0095
"""At 20 °C and 1 atm, ideal gas."""
IDEAL_LIFT_KG = 23.0
ARM_LENGTH = LiftGeometry(horizontal=40.0, vertical=75.0, travel=60.0, coupling=0.9)
"""cm; a basket lifted out of a vessel on a bench."""
SCALD_C = 55.0
HEAD_SPACE = 0.85
WARM_PITCH_C = 28.0
BEWARE_VOLUMES, STOP_VOLUMES = 3.0, 4.0
SHORT_ATTENUATION = 10.0


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution of a batch, at its step."""

    slug: str
    severity: Severity
    stage: str
    text: str
    source: str
    """Key of `sources`."""


@dataclass(frozen=True)
class Facts:
    """What a rule may look at."""

    batch: BatchRecord
    view: PlanView
    figures: dict[str, Figure]
    weighed: Reconciliation | None = None
    """The kettle's readings against one another."""

    def best(self, key: str) -> float | None:
        """A figure as measured, else as planned."""
        figure = self.figures[key]
        return figure.measured.value if figure.measured else figure.plan


@dataclass(frozen=True, slots=True)
class Rule:
    """A caution and when it stands: `says` gives its text, or None."""

    slug: str
    severity: Severity
    stage: str
    source: str
    says: Callable[[Facts], str | None]


def _hottest(facts: Facts) -> float:
    rests = [rest.temperature for rest in facts.view.plan.rest]
    read = [row.value or 0.0 for row in facts.batch.readings if row.what == "temperature" and row.stage != "tasting"]
    return max([*rests, *read, 100.0 if facts.view.plan.boil.duration else 0.0])


def _scald(facts: Facts) -> str | None:
    hottest = _hottest(facts)
    if hottest < SCALD_C:
        return None
    return (
        f"Liquor and wort of this brew reach {hottest:.0f} °C; at 60 °C they burn skin through in 5 seconds. "
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


def _kettle_fill(facts: Facts) -> tuple[float, float] | None:
    volume, capacity = facts.best("pre_boil_volume"), facts.view.brewhouse.boil.capacity
    if volume is None or capacity is None:
        return None
    return volume * float(water.density(20.0)) / float(water.density(98.0)), capacity


def _boil_over(facts: Facts) -> str | None:
    fill = _kettle_fill(facts)
    if fill is None or not HEAD_SPACE * fill[1] < fill[0] <= fill[1]:
        return None
    return (
        f"The hot wort fills {100 * fill[0] / fill[1]:.0f} % of the kettle. Below 15 % of head space it boils over at the first foam or the hops: "
        "stay beside it, no lid, a hand on the heat."
    )


def _overfull_kettle(facts: Facts) -> str | None:
    fill = _kettle_fill(facts)
    if fill is None or fill[0] <= fill[1]:
        return None
    return f"The wort is {fill[0]:.1f} L when hot and the kettle holds {fill[1]:.1f} L. Hold some back."


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


def _room(facts: Facts) -> str | None:
    grams = carbon_dioxide_grams(facts)
    if grams is None:
        return None
    litres = grams * CO2_LITRES_PER_GRAM
    ppm = litres / (ROOM_M3 * 1000.0) * 1e6
    if ppm <= CO2_LIMIT_PPM:
        return None
    return (
        f"The fermentation gives off {grams:.0f} g of carbon dioxide, {litres:.0f} L. Shut into a room of {ROOM_M3:.0f} m³ that is "
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


def _volumes(facts: Facts) -> float | None:
    return None if facts.view.plan.package.method == "keg" else facts.best("carbonation")


def _lively(facts: Facts) -> str | None:
    volumes = _volumes(facts)
    if volumes is None or not BEWARE_VOLUMES < volumes <= STOP_VOLUMES:
        return None
    return f"{volumes:.1f} volumes is more than ordinary beer bottles should hold: sound, unscratched, heavy glass only, kept in a box."


def _bursting(facts: Facts) -> str | None:
    volumes = _volumes(facts)
    if volumes is None or volumes <= STOP_VOLUMES:
        return None
    return (
        f"{volumes:.1f} volumes can burst bottles. Don't bottle in ordinary beer glass; open bottles already filled cold, in a box, "
        "with eye protection."
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


RULES: tuple[Rule, ...] = (
    Rule("readings-contradict", "caution", "boil", "narasimhan-jordache-2000", _contradiction),
    Rule("overfull-mash", "stop", "mash", "palmer-ch16", _overfull_mash),
    Rule("overfull-basket", "caution", "mash", "common-practice", _overfull_basket),
    Rule("scald", "caution", "mash", "moritz-henriques-1947", _scald),
    Rule("wet-grain", "caution", "mash", "niosh-94-110", _lifting),
    Rule("overfull-kettle", "stop", "boil", "boil-over-practice", _overfull_kettle),
    Rule("boil-over", "caution", "boil", "boil-over-practice", _boil_over),
    Rule("warm-pitch", "caution", "fermenter", "common-practice", _warm_pitch),
    Rule("full-fermenter", "note", "fermenter", "common-practice", _brimming),
    Rule("carbon-dioxide", "caution", "fermenter", "niosh-npg-co2", _room),
    Rule("stopped-short", "caution", "package", "common-practice", _short),
    Rule("lively-bottles", "caution", "package", "project-bottle-rule", _lively),
    Rule("bursting-bottles", "stop", "package", "project-bottle-rule", _bursting),
)


def cautions(facts: Facts) -> tuple[Caution, ...]:
    """The cautions that stand for a batch, in the order of a brew."""
    return tuple(Caution(rule.slug, rule.severity, rule.stage, text, rule.source) for rule in RULES if (text := rule.says(facts)) is not None)
