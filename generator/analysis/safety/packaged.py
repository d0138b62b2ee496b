"""Cautions of bottles, kegs and cylinders."""

from dataclasses import dataclass

from generator.analysis.packaging import HOT
from generator.analysis.safety.cold import CO2_LIMIT_PPM, STOPPED, ppm_of_gas
from generator.analysis.safety.facts import Facts, Rule
from generator.analysis.safety.stable import not_shown_stable
from generator.science import sucrose
from generator.science.keg import keg_pressure

BEWARE_VOLUMES, STOP_VOLUMES = 3.0, 4.0
KEG_BAR = 4.0
CYLINDER_G = 2000.0
WARM_STORAGE_C, COOL_C = 25.0, 20.0
SHOCK_K = 42.0
_MOST_VOLUMES = 10.0
"""To which `keg_pressure` reaches."""
_OVER = "Let the beer ferment out and prime less, or use stronger bottles; open bottles already filled cold, in a box, with eye protection."


def _volumes(facts: Facts) -> float | None:
    return facts.best("carbonation") if facts.bottled else None


@dataclass(frozen=True, slots=True)
class _Worst:
    """The gas of the bottles with all that may still ferment, vol."""

    volumes: float
    highest: float
    """With as much left to ferment as the doubt of the gravity allows."""
    words: str
    """The volumes, with their parts where something is left."""


def _worst(facts: Facts) -> _Worst | None:
    """What the bottles reach; before the packaging nothing but what is planned."""
    volumes = _volumes(facts)
    if volumes is None:
        return None
    further = facts.packed.further if facts.packed and any(row.stage == "package" for row in facts.batch.readings) else None
    if further is None:
        return _Worst(volumes, volumes, f"{volumes:.1f} volumes")
    total, left = volumes + further.gas.value, f"{further.gas.value:.1f}"
    parts = f" ({volumes:.1f}, and {left} from what may still ferment down to {further.end.gravity:.3f}, by {further.end.origin})"
    return _Worst(total, volumes + further.gas.high, f"{total:.1f} volumes" + (parts if float(left) else ""))


def _unrated(facts: Facts) -> _Worst | None:
    """The worst case of bottles that nobody rated, or whose rated pressure can't be compared yet."""
    judged = facts.view.plan.package.bottle_volumes is not None or (facts.packed is not None and facts.packed.ratings)
    return None if judged else _worst(facts)


def _lively(facts: Facts) -> str | None:
    worst = _unrated(facts)
    if worst is None or not BEWARE_VOLUMES < worst.volumes <= STOP_VOLUMES:
        return None
    return f"{worst.words} is more than ordinary beer bottles should hold: sound, unscratched, heavy glass only, kept in a box."


def _bursting(facts: Facts) -> str | None:
    worst = _unrated(facts)
    if worst is None or worst.volumes <= STOP_VOLUMES:
        return None
    return f"{worst.words} can burst bottles. Don't bottle in ordinary beer glass; open bottles already filled cold, in a box, with eye protection."


def _over_rating(facts: Facts) -> str | None:
    worst, rated = _worst(facts), facts.view.plan.package.bottle_volumes
    if worst is not None and rated is not None and worst.volumes > rated:
        return f"{worst.words} are more than the {rated:.2f} that the plan says these bottles are rated for. {_OVER}"
    too_much = _over_pressure(facts)
    return f"{too_much} {_OVER}" if too_much else None


def _over_pressure(facts: Facts) -> str:
    """Whether the worst pressure is more than the bottles are rated for, in words; blank where it isn't."""
    rating = next((one for one in facts.packed.ratings if one.kind == "pressure"), None) if facts.packed and facts.bottled else None
    if facts.packed is None or rating is None or rating.worst.value <= rating.rated:
        return ""
    return (
        f"At {rating.temperature:.0f} °C these bottles may hold {rating.worst.value:.1f} bar, more than the {rating.rated:.1f} bar that the plan "
        f"says they are rated for. That counts {'; '.join(facts.packed.counted)}."
    )


def _unfinished(facts: Facts) -> str | None:
    worst, volumes = _worst(facts), _volumes(facts)
    limit = facts.view.plan.package.bottle_volumes or STOP_VOLUMES
    if worst is None or not worst.volumes <= limit < worst.highest:
        return None
    further = facts.packed.further if facts.packed else None
    if further is None or volumes is None:
        return None
    return (
        f"Within the doubt of its gravity the beer may stand {further.points.high:.1f} points above {further.end.gravity:.3f}, its end by "
        f"{further.end.origin}. Should the yeast take them up in the bottle, {volumes:.1f} volumes become {worst.highest:.1f}, and {limit:.1f} is "
        "the limit here. Check with a forced ferment, keep the bottles cold and in a box, and open one each week."
    )


def _unstable(facts: Facts) -> str | None:
    bottled = facts.bottled and (facts.view.plan.package.method == "bottle" or facts.read("package", "sugar"))
    why = not_shown_stable(facts) if bottled else None
    if why is None:
        return None
    return (
        f"The beer was bottled, and the readings don't show that its gravity was stable: {why} Bottle when two gravities at least 48 hours apart "
        "agree within their doubt, near where it should end. "
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
        "bottled before the readings show a stable gravity: 48 hours within their doubts, and near its expected end", _unstable,
    ),
    Rule(
        "lively-bottles", "caution", "package", _BOTTLES,
        f"more than {BEWARE_VOLUMES:.0f} and up to {STOP_VOLUMES:.0f} volumes, what may still ferment counted, in bottles without a stated rating",
        _lively,
    ),
    Rule(
        "bursting-bottles", "stop", "package", _BOTTLES,
        f"more than {STOP_VOLUMES:.0f} volumes, what may still ferment counted, in bottles without a stated rating", _bursting,
    ),
    Rule(
        "over-rating", "stop", "package", _BOTTLES,
        f"more volumes, or at {HOT:.0f} °C more pressure, than the bottles are said to be rated for, what may still ferment counted", _over_rating,
    ),
    Rule(
        "unfinished-bottles", "caution", "package", "further-fermentation",
        f"bottled, and within the doubt of its gravity the beer may still ferment to more than the rating, or than {STOP_VOLUMES:.0f} volumes",
        _unfinished,
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
