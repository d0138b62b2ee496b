"""Cautions of bottles, kegs and cylinders."""

from generator.analysis.safety.cold import CO2_LIMIT_PPM, STOPPED, ppm_of_gas
from generator.analysis.safety.facts import Facts, Rule
from generator.analysis.safety.stable import not_shown_stable
from generator.science import sucrose
from generator.science.carbonation import GRAMS_PER_VOLUME
from generator.science.keg import keg_pressure

BEWARE_VOLUMES, STOP_VOLUMES = 3.0, 4.0
CO2_PER_POINT = 0.97
"""g/L of carbon dioxide from each further point of gravity."""
LEFT_POINTS = 2.0
KEG_BAR = 4.0
CYLINDER_G = 2000.0
WARM_STORAGE_C, COOL_C = 25.0, 20.0
SHOCK_K = 42.0
_MOST_VOLUMES = 10.0
"""To which `keg_pressure` reaches."""


def _volumes(facts: Facts) -> float | None:
    return facts.best("carbonation") if facts.bottled else None


def _unrated(facts: Facts) -> float | None:
    """Carbonation of bottles that nobody rated."""
    return None if facts.view.plan.package.bottle_volumes is not None else _volumes(facts)


def _lively(facts: Facts) -> str | None:
    volumes = _unrated(facts)
    if volumes is None or not BEWARE_VOLUMES < volumes <= STOP_VOLUMES:
        return None
    return f"{volumes:.1f} volumes is more than ordinary beer bottles should hold: sound, unscratched, heavy glass only, kept in a box."


def _bursting(facts: Facts) -> str | None:
    volumes = _unrated(facts)
    if volumes is None or volumes <= STOP_VOLUMES:
        return None
    return (
        f"{volumes:.1f} volumes can burst bottles. Don't bottle in ordinary beer glass; open bottles already filled cold, in a box, "
        "with eye protection."
    )


def _over_rating(facts: Facts) -> str | None:
    volumes, rated = _volumes(facts), facts.view.plan.package.bottle_volumes
    if volumes is None or rated is None or volumes <= rated:
        return None
    return (
        f"{volumes:.2f} volumes are more than the {rated:.2f} that the plan says these bottles are rated for. Prime less, or use stronger bottles; "
        f"open bottles "
        "already filled cold, in a box, with eye protection."
    )


def _points_left(facts: Facts) -> float:
    """Points of gravity between the beer and its plan; 0 where it isn't known."""
    figure = facts.figures["final_gravity"]
    return 0.0 if figure.measured is None or figure.plan is None else 1000.0 * (figure.measured.value - figure.plan)


def _unfinished(facts: Facts) -> str | None:
    volumes, left = _volumes(facts), _points_left(facts)
    limit = facts.view.plan.package.bottle_volumes or STOP_VOLUMES
    if volumes is None or left <= LEFT_POINTS or volumes > limit:
        return None
    reached = volumes + left * CO2_PER_POINT / GRAMS_PER_VOLUME
    if reached <= limit:
        return None
    return (
        f"The beer is {left:.0f} points above its planned final gravity. Should the yeast take them up in the bottle, {volumes:.1f} volumes become "
        f"{reached:.1f}, and {limit:.1f} is the limit here. Check with a forced ferment, keep the bottles cold and in a box, and open one each week."
    )


def _unstable(facts: Facts) -> str | None:
    bottled = facts.bottled and (facts.view.plan.package.method == "bottle" or facts.read("package", "sugar"))
    why = not_shown_stable(facts) if bottled else None
    if why is None:
        return None
    return (
        f"The beer was bottled, and the readings don't show that its gravity was stable: {why}. Bottle when two gravities at least 48 hours apart "
        f"agree within "
        f"their doubt. "
        "Bottles already filled: keep them cold and in a box, and open one with eye protection."
    )


def _keg(facts: Facts) -> str | None:
    read, rated = facts.read("package", "pressure"), facts.view.plan.package.keg_pressure
    if facts.bottled or not read or max(read) <= (rated or KEG_BAR):
        return None
    limit = (
        f"the {rated:.2g} bar that the plan says it is rated for"
        if rated
        else f"{KEG_BAR:.0f} bar, this journal's own limit for a keg without a rating"
    )
    return (
        f"{max(read):.1f} bar in the keg are more than {limit}. Close the gas, let the pressure off by the relief valve, and look at the regulator; "
        "never block a relief valve."
    )


def _cylinder(facts: Facts) -> str | None:
    ppm = ppm_of_gas(CYLINDER_G, facts.room)
    if facts.bottled or ppm <= CO2_LIMIT_PPM:
        return None
    return (
        f"A cylinder of {CYLINDER_G / 1000.0:.0f} kg that leaks empty brings {facts.room_in_words} to {ppm / 1e4:.1f} % of carbon dioxide; 0.5 % is "
        f"the limit for a working "
        "day. Chain it upright, test the joints with soapy water, close it when nobody pours, and air the room."
    )


def _warm_bottles(facts: Facts) -> str | None:
    volumes, storage = _volumes(facts), facts.view.plan.package.storage
    if volumes is None or storage is None or storage <= WARM_STORAGE_C or volumes > _MOST_VOLUMES:
        return None
    warm, cool = (float(keg_pressure(volumes, temperature)) for temperature in (storage, COOL_C))
    return (
        f"At {storage:.0f} °C the {volumes:.1f} volumes press with about {warm:.1f} bar, against {cool:.1f} at {COOL_C:.0f} °C, and the yeast finds "
        f"what it left before. "
        "Keep the bottles cool, dark and in a closed box; never in a car or in the sun."
    )


def freezing_point(facts: Facts) -> float | None:
    """°C at which the beer begins to freeze; None where its alcohol isn't known."""
    abw, original = facts.best("abw"), facts.best("original_gravity")
    if abw is None or original is None:
        return None
    return -(0.42 * abw + 0.04 * float(sucrose.extract_from_sg(original)) + 0.2)


def _frozen(facts: Facts) -> str | None:
    point, storage = freezing_point(facts), facts.view.plan.package.storage
    if not facts.bottled or storage is None or point is None or storage > point:
        return None
    return (
        f"At {storage:.1f} °C the beer freezes, for that begins at about {point:.1f} °C. Ice takes more room than beer and bursts the bottle, often "
        f"on thawing: "
        "leave frozen bottles in a box until they are liquid."
    )


def _shock(facts: Facts) -> str | None:
    hot, cold = facts.cleaning.temperature, facts.view.plan.package.temperature
    if facts.view.plan.package.method != "bottle" or hot is None or cold is None or hot - cold <= SHOCK_K:
        return None
    return (
        f"Glass that comes from {hot:.0f} °C and takes beer of {cold:.0f} °C falls by {hot - cold:.0f} K at once; containers are commonly tested for "
        f"{SHOCK_K:.0f} K, when new. "
        "Let bottles cool first, and never pour hot liquor into cold glass."
    )


_BOTTLES = "project-bottle-rule"
RULES: tuple[Rule, ...] = (
    STOPPED,
    Rule(
        "unstable-gravity", "stop", "package", "terminal-gravity",
        "bottled, and no two gravities of the beer at least 48 hours apart agree within their doubts", _unstable,
    ),
    Rule(
        "lively-bottles", "caution", "package", _BOTTLES,
        f"more than {BEWARE_VOLUMES:.0f} and up to {STOP_VOLUMES:.0f} volumes in bottles without a stated rating", _lively,
    ),
    Rule("bursting-bottles", "stop", "package", _BOTTLES, f"more than {STOP_VOLUMES:.0f} volumes in bottles without a stated rating", _bursting),
    Rule("over-rating", "stop", "package", _BOTTLES, "more volumes than the bottles are said to be rated for", _over_rating),
    Rule(
        "unfinished-bottles", "caution", "package", "further-fermentation",
        f"bottled more than {LEFT_POINTS:.0f} points above the planned final gravity, and these would carry it over the rating, or over "
        f"{STOP_VOLUMES:.0f} volumes", _unfinished,
    ),
    Rule("warm-bottles", "caution", "package", "project-storage-rule", f"bottles kept above {WARM_STORAGE_C:.0f} °C", _warm_bottles),
    Rule("frozen-bottles", "caution", "package", "beer-freezing", "bottles kept at or below the freezing point of the beer", _frozen),
    Rule("thermal-shock", "caution", "package", "astm-c149", f"bottles more than {SHOCK_K:.0f} K hotter than the beer that fills them", _shock),
    Rule(
        "keg-pressure", "stop", "package", "project-keg-rule", f"more pressure than the keg is said to be rated for, or than {KEG_BAR:.0f} bar", _keg,
    ),
    Rule(
        "gas-cylinder", "note", "package", "niosh-npg-co2",
        f"a keg, and a room that a leaking cylinder of {CYLINDER_G / 1000.0:.0f} kg would bring above {CO2_LIMIT_PPM:.0f} ppm", _cylinder,
    ),
)  # fmt: skip
