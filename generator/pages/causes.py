"""Causes in words: what moved the gravity, and what to do next time."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.analysis.attribution import CONTRADICTION, MERGED, UNEXPLAINED, Attribution, Cause
from generator.analysis.figures import Figure
from generator.pages.formatting import fixed, number_word

NBSP = "\N{NO-BREAK SPACE}"
LEAST_POINTS = 0.5
"""Causes below are left out of sentences: nobody reads half a point."""
_MOST_SHARE = 0.75
_NAMES: dict[str, tuple[str, str]] = {
    "grist mass": ("a lighter grist", "a heavier grist"),
    "malt extract": ("the extract of the malt", "the extract of the malt"),
    "conversion": ("poorer conversion", "better conversion"),
    "lautering": ("poorer lautering", "better lautering"),
    "mash efficiency": ("a lower mash efficiency", "a higher mash efficiency"),
    "boil additions": ("the boil additions", "the boil additions"),
    "post-boil volume": ("too much wort after the boil", "less wort after the boil"),
    UNEXPLAINED: ("what the kettle readings leave unexplained", "what the kettle readings leave unexplained"),
    CONTRADICTION: ("the plan’s own contradiction", "the plan’s own contradiction"),
    MERGED: ("mash efficiency and volume together", "mash efficiency and volume together"),
}
"""As a subject, where it took points and where it gave some."""


@dataclass(frozen=True, slots=True)
class _Moved:
    """A cause in a sentence: what it is called and how many points it moved, without sign."""

    name: str
    points: float
    cause: str


def real(found: Attribution) -> list[Cause]:
    """Causes whose interval stays clear of zero, the largest first."""
    clear = [cause for cause in found.causes if cause.effect.low * cause.effect.high > 0.0 and abs(cause.effect.value) >= LEAST_POINTS]
    return sorted(clear, key=lambda cause: -abs(cause.effect.value))


def _split(found: Attribution, gap: float) -> tuple[list[_Moved], list[_Moved]]:
    """Real causes that made the gap, and those that worked against it."""
    made: list[_Moved] = []
    against: list[_Moved] = []
    for cause in real(found):
        value = cause.effect.value
        moved = _Moved(_NAMES[cause.cause][0 if value < 0 else 1], abs(value), cause.cause)
        (made if value * gap > 0 else against).append(moved)
    return made, against


def points(value: float) -> str:
    """Whole points in words."""
    steps = round(value)
    return f"{number_word(steps)} point{'' if steps == 1 else 's'}"


def _list(moved: Sequence[_Moved], verb: str) -> str:
    """Causes with their points: poorer lautering took 16 points and poorer conversion three."""
    first, *rest = moved
    parts = [f"{first.name} {verb} {points(first.points)}", *(f"{one.name} {number_word(round(one.points))}" for one in rest)]
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + "."


def causes(figure: Figure, found: Attribution | None) -> str:
    """What made the gap of the original gravity, in one sentence; "" where there is nothing to say."""
    if found is None or figure.verdict not in ("below plan", "above plan", "on plan"):
        return ""
    gap = found.total.value
    if figure.verdict == "on plan":
        return _cancelled(found)
    made, against = _split(found, gap)
    made_it, undid = ("took", "gave back") if gap < 0 else ("gave", "took back")
    back = _list(against, undid) if against else ""
    if not made:
        nothing = "No single cause of it stands clear of the doubts"
        return f"{nothing}; {back}." if back else f"{nothing}."
    rest = ""
    if sum(one.points for one in made) - sum(one.points for one in against) < _MOST_SHARE * abs(gap):
        rest = "; the rest is shared by causes too small to tell apart"
    return _sentence(_list(made, made_it) + (f"; {back}" if back else "") + rest)


def _cancelled(found: Attribution) -> str:
    """Two real causes that met in the middle of a plan."""
    took = [_Moved(_NAMES[c.cause][0], -c.effect.value, c.cause) for c in real(found) if c.effect.value < 0]
    gave = [_Moved(_NAMES[c.cause][1], c.effect.value, c.cause) for c in real(found) if c.effect.value > 0]
    if not took or not gave:
        return ""
    return _sentence(f"{_list(took, 'took')} and {_list(gave, 'gave')}, which nearly cancel")


def advice(figures: dict[str, Figure], found: Attribution | None) -> str:
    """What to do next time, from the largest real cause; "" where nothing is to be done."""
    figure = figures["original_gravity"]
    if found is None or figure.verdict not in ("below plan", "above plan"):
        return ""
    gap = found.total.value
    made, _ = _split(found, gap)
    if not made:
        return "Next time: mark the kettle every litre and read the gravities at 20 °C, so that a cause can stand clear."
    text = _SHORT[made[0].cause](figures) if gap < 0 else _OVER[made[0].cause](figures)
    return f"Next time: {text}."


def _percent(figures: dict[str, Figure], key: str) -> str:
    measured = figures[key].measured
    return "" if measured is None else f" ({fixed(measured.value, 0)}{NBSP}% this time)"


def _boil_longer(figures: dict[str, Figure]) -> str:
    volume, rate = figures["post_boil_volume"], figures["evaporation_rate"]
    excess = None if volume.difference is None else volume.difference
    per_hour = rate.measured.value if rate.measured else rate.plan
    if excess is None or excess <= 0.0 or not per_hour or per_hour <= 0.0:
        return "boil down to the planned volume before the last hops"
    return f"boil about {60.0 * excess / per_hour:.0f} minutes longer, or start with {fixed(excess, 1)}{NBSP}L less"


def _predicted(figures: dict[str, Figure]) -> str:
    predicted = figures["original_gravity"].expected.predicted
    return "make the targets agree" if predicted is None else f"plan for the {fixed(predicted, 3)} that the rest of the plan predicts"


Advice = Callable[[dict[str, Figure]], str]
_SHORT: dict[str, Advice] = {
    "grist mass": lambda _: "weigh the grist as planned",
    "malt extract": lambda _: "take the extract from the maltster's sheet of this lot",
    "conversion": lambda f: (
        "look at the crush, the mash pH and the gravity of the first wort before the sparge" + _percent(f, "conversion_efficiency")
    ),
    "lautering": lambda f: "run off and sparge more slowly, with a bed that drains evenly" + _percent(f, "lauter_efficiency"),
    "mash efficiency": lambda f: "read the gravity of the first wort, which parts conversion from lautering" + _percent(f, "mash_efficiency"),
    "boil additions": lambda _: "weigh the boil additions as planned",
    "post-boil volume": _boil_longer,
    UNEXPLAINED: lambda _: "read both kettle volumes again, each with its temperature: they don't agree with the gravities",
    CONTRADICTION: _predicted,
    MERGED: lambda _: "read volume and gravity before the boil, which part the mash from the boil",
}
_OVER: dict[str, Advice] = {
    **_SHORT,
    "grist mass": lambda _: "weigh the grist as planned",
    "conversion": lambda f: "plan with the conversion that this brewhouse gives" + _percent(f, "conversion_efficiency"),
    "lautering": lambda f: "plan with the lautering that this brewhouse gives" + _percent(f, "lauter_efficiency"),
    "mash efficiency": lambda f: "plan with less grist" + _percent(f, "mash_efficiency"),
    "post-boil volume": lambda _: "boil less long or start with more wort",
}
