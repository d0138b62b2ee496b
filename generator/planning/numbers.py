"""What a brewer needs on the day, as numbers: from goods and liquor to priming sugar, each with plan and prediction."""

from dataclasses import dataclass

from generator.analysis.catalogue import BY_KEY
from generator.analysis.cautions import Facts, wet_grain
from generator.analysis.doubt import Absent
from generator.analysis.plan_view import PlanView
from generator.analysis.report import Report
from generator.records.models import Hop
from generator.science._values import OutOfRangeError


@dataclass(frozen=True, slots=True)
class Number:
    """One number of the brew day."""

    label: str
    unit: str
    plan: float | None
    predicted: float | None = None
    """What the rest of the plan predicts; beside a target that may be something else."""
    limit: float | None = None
    """What the vessel holds of it."""
    key: str = ""
    """Of the figure, where it is one."""
    half_width: float | None = None
    """Of the prediction's 95 % interval."""


@dataclass(frozen=True, slots=True)
class Portion:
    """Something to weigh, and what it gives."""

    label: str
    when: str
    mass: float
    """kg."""
    gives: Number | None
    """Share of the mashed goods, or bitterness."""


@dataclass(frozen=True, slots=True)
class BrewDay:
    """The numbers of a brew day, in its order."""

    goods: tuple[Portion, ...]
    hops: tuple[Portion, ...]
    sections: tuple[tuple[str, tuple[Number, ...]], ...]
    open: tuple[tuple[str, str], ...]
    """Figures that the plan can't tell, with the reason."""


_SECTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Volumes and gravities", (
        "pre_boil_volume", "pre_boil_gravity", "evaporation_rate", "post_boil_volume", "fermenter_volume", "original_gravity", "original_extract",
    )),
    ("Extract", (
        "potential_extract", "conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency", "apparent_absorption",
    )),
    ("Beer", (
        "pitch_rate", "final_gravity", "apparent_attenuation", "abv", "bitterness", "colour", "energy", "carbonation", "priming_sugar",
    )),
)  # fmt: skip


def brew_day(report: Report) -> BrewDay:
    """The numbers of a batch's plan."""
    sections = (("Liquor and mash", _liquor(report)), *((title, tuple(_figure(report, key) for key in keys)) for title, keys in _SECTIONS))
    shown = [number for _, numbers in sections for number in numbers]
    missing = tuple((number.label, report.figures[number.key].expected.why_absent or "") for number in shown if number.key and number.plan is None)
    kept = tuple((title, tuple(number for number in numbers if number.plan is not None)) for title, numbers in sections)
    return BrewDay(_goods(report), _hops(report), tuple((title, numbers) for title, numbers in kept if numbers), missing)


def _figure(report: Report, key: str, limit: float | None = None) -> Number:
    entry, expected = BY_KEY[key], report.figures[key].expected
    prediction = report.figures[key].prediction
    half_width = prediction.half_width if prediction and prediction.half_width > 0.0 else None
    return Number(entry.label, entry.unit, expected.plan, expected.predicted, limit, key, half_width)


def _liquor(report: Report) -> tuple[Number, ...]:
    """What is heated and mashed, beside what the vessel holds."""
    plan, vessel = report.batch.plan, report.view.brewhouse.mash
    rests = [Number("Rest" if len(plan.rest) == 1 else f"Rest {number}", "°C", rest.temperature) for number, rest in enumerate(plan.rest, 1)]
    return (
        Number("Mash liquor", "L", plan.liquor.mash),
        _figure(report, "strike_temperature"),
        *rests,
        Number("Portions of grain", "", float(plan.mash.portions) if plan.mash.portions > 1 else None),
        Number("Sparge liquor", "L", plan.liquor.sparge or None),
        Number("Sparge liquor's temperature", "°C", plan.liquor.sparge_temperature),
        _figure(report, "mash_space", vessel.capacity),
        _figure(report, "grist_mass", vessel.grain_capacity),
        Number("Grain when drained", "kg", wet_grain(Facts(report.batch, report.view, report.figures))),
    )


def _goods(report: Report) -> tuple[Portion, ...]:
    total = sum(good.mass for good in report.view.mashed)
    return tuple(
        Portion(good.name, "", good.mass, Number("share", "%", 100.0 * good.mass / total))
        if good.added == "mash"
        else Portion(good.name, f"into the {good.added}", good.mass, None)
        for good in report.batch.plan.grist
    )


def _hops(report: Report) -> tuple[Portion, ...]:
    return tuple(Portion(hop.name, _when(hop), hop.mass, _bitterness(report, hop)) for hop in report.batch.plan.hops)


def _when(hop: Hop) -> str:
    minutes = f"{hop.time or 0.0:.0f} min"
    if hop.added == "stand":
        return f"stand {minutes}, {hop.temperature or 0.0:.0f} °C"
    return {"boil": minutes, "first wort": "first wort", "fermenter": "fermenter"}[hop.added]


def _bitterness(report: Report, hop: Hop) -> Number | None:
    """What one addition gives of the planned bitterness; None where that can't be computed, or nothing is given."""
    value = hop_bitterness(report, hop)
    return None if value is None else Number("bitterness", "IBU", value)


def hop_bitterness(report: Report, hop: Hop) -> float | None:
    """IBU of one addition by the plan; None where that can't be computed, or nothing is given."""
    figures = {key: report.figures[key].plan for key in ("pre_boil_gravity", "original_gravity", "post_boil_volume")}
    before, original, volume = figures.values()
    if hop.added == "fermenter" or before is None or original is None or volume is None:
        return None
    alone = PlanView(report.batch.plan.model_copy(update={"hops": (hop,)}), report.view.brewhouse)
    try:
        return float(alone.bitterness(before, original, volume, lambda: alone.boil_hours))
    except (Absent, OutOfRangeError):
        return None
