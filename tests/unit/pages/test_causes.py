"""What moved the gravity, in words: one cause or several, short or over, real or not, parted or merged."""

import pytest

from generator.analysis.attribution import CONTRADICTION, MERGED, UNEXPLAINED, Attribution, Cause
from generator.analysis.doubt import Estimate
from generator.analysis.figures import Figure
from generator.pages.causes import advice, causes
from generator.pages.statement import statement
from tests.unit.pages.support import figure, figures, reports

NBSP = "\N{NO-BREAK SPACE}"


def shared(**effects: float | tuple[float, float]) -> Attribution:
    """A gap from its causes: a number is a real effect, a pair an effect and a half-width."""
    names = {"volume": "post-boil volume", "grist": "grist mass", "malt": "malt extract", "mash": "mash efficiency", "boil": "boil additions"}
    names |= {"left": UNEXPLAINED, "plan": CONTRADICTION, "merged": MERGED}
    found = []
    for key, effect in effects.items():
        value, half = effect if isinstance(effect, tuple) else (effect, abs(effect) / 4)
        found.append(Cause(names.get(key, key), Estimate(value, value - half, value + half)))
    total = sum(cause.effect.value for cause in found)
    return Attribution("points", Estimate(total, total - 1.0, total + 1.0), tuple(found))


def gravity(gap: float) -> Figure:
    """An original gravity planned at 1.060 and read so many points off, ± one point."""
    return figure("original_gravity", 1.060, 1.060 + gap / 1000.0, 0.001)


def gap(found: Attribution) -> float:
    """The whole of it, points."""
    return found.total.value


SHORT = [
    (shared(lautering=-5.0), "Poorer lautering took five points."),
    (shared(lautering=-1.4), "Poorer lautering took one point."),
    (shared(conversion=-3.0), "Poorer conversion took three points."),
    (shared(mash=-4.0), "A lower mash efficiency took four points."),
    (shared(volume=-4.0), "Too much wort after the boil took four points."),
    (shared(grist=-2.0), "A lighter grist took two points."),
    (shared(boil=-2.0), "The boil additions took two points."),
    (shared(left=-3.0), "What the kettle readings leave unexplained took three points."),
    (shared(plan=-6.0), "The plan’s own contradiction took six points."),
    (shared(merged=-5.0), "Mash efficiency and volume together took five points."),
    (shared(lautering=-5.0, conversion=-2.0), "Poorer lautering took five points and poorer conversion two."),
    (shared(lautering=-5.0, conversion=-3.0, grist=-2.0), "Poorer lautering took five points, poorer conversion three and a lighter grist two."),
    (shared(lautering=-8.0, volume=3.0), "Poorer lautering took eight points; less wort after the boil gave back three points."),
    (
        shared(lautering=-9.0, volume=3.0, grist=2.0),
        "Poorer lautering took nine points; less wort after the boil gave back three points and a heavier grist two.",
    ),
    (shared(lautering=-16.0, volume=4.0), "Poorer lautering took 16 points; less wort after the boil gave back four points."),
    (
        shared(lautering=-2.0, conversion=(-1.5, 2.0), left=(-1.5, 2.0)),
        "Poorer lautering took two points; the rest is shared by causes too small to tell apart.",
    ),
    (shared(lautering=(-3.0, 4.0), conversion=(-2.0, 3.0)), "No single cause of it stands clear of the doubts."),
    (
        shared(lautering=(-6.0, 7.0), grist=1.0),
        "No single cause of it stands clear of the doubts; a heavier grist gave back one point.",
    ),
    (shared(lautering=-4.0, grist=-0.3), "Poorer lautering took four points."),
]
OVER = [
    (shared(conversion=3.0), "Better conversion gave three points."),
    (shared(lautering=4.0), "Better lautering gave four points."),
    (shared(mash=2.0), "A higher mash efficiency gave two points."),
    (shared(volume=6.0), "Less wort after the boil gave six points."),
    (shared(grist=2.0), "A heavier grist gave two points."),
    (shared(merged=7.0), "Mash efficiency and volume together gave seven points."),
    (shared(conversion=5.0, boil=-2.0), "Better conversion gave five points; the boil additions took back two points."),
    (shared(conversion=3.0, lautering=2.0), "Better conversion gave three points and better lautering two."),
    (shared(conversion=(2.0, 2.5), lautering=(1.0, 2.0)), "No single cause of it stands clear of the doubts."),
]
EVEN = [
    (shared(lautering=-4.0, volume=4.2), "Poorer lautering took four points and less wort after the boil gave four points, which nearly cancel."),
    (shared(lautering=(-0.3, 1.0)), ""),
    (shared(lautering=-0.9), ""),
]


@pytest.mark.parametrize(("found", "sentence"), [*SHORT, *OVER, *EVEN], ids=lambda value: value[:60] if isinstance(value, str) else "")
def test_causes_in_a_sentence(found: Attribution, sentence: str) -> None:
    """Names and whole points, the largest first, and what worked against them."""
    assert causes(gravity(gap(found)), found) == sentence


def test_nothing_to_explain_says_nothing() -> None:
    """Without a plan, a reading or an attribution there is no sentence and no advice."""
    found = shared(lautering=-5.0)
    assert causes(gravity(-5.0), None) == ""
    assert causes(figure("original_gravity", None, 1.055), found) == ""
    assert causes(figure("original_gravity", 1.060, None), found) == ""
    assert advice(figures(gravity(-5.0)), None) == ""
    assert advice(figures(gravity(0.2)), found) == ""


ADVICE = [
    (shared(lautering=-5.0), f"run off and sparge more slowly, with a bed that drains evenly (70{NBSP}% this time)"),
    (shared(conversion=-5.0), f"look at the crush, the mash pH and the gravity of the first wort before the sparge (85{NBSP}% this time)"),
    (shared(mash=-5.0), f"read the gravity of the first wort, which parts conversion from lautering (60{NBSP}% this time)"),
    (shared(volume=-5.0), f"boil about 40 minutes longer, or start with 2.0{NBSP}L less"),
    (shared(grist=-5.0), "weigh the grist as planned"),
    (shared(boil=-5.0), "weigh the boil additions as planned"),
    (shared(left=-5.0), "read both kettle volumes again, each with its temperature: they don't agree with the gravities"),
    (shared(plan=-5.0), "plan for the 1.060 that the rest of the plan predicts"),
    (shared(merged=-5.0), "read volume and gravity before the boil, which part the mash from the boil"),
    (shared(conversion=5.0), f"plan with the conversion that this brewhouse gives (85{NBSP}% this time)"),
    (shared(lautering=5.0), f"plan with the lautering that this brewhouse gives (70{NBSP}% this time)"),
    (shared(mash=5.0), f"plan with less grist (60{NBSP}% this time)"),
    (shared(volume=5.0), "boil less long or start with more wort"),
    (shared(lautering=(-5.0, 6.0)), "mark the kettle every litre and read the gravities at 20 °C, so that a cause can stand clear"),
]


@pytest.mark.parametrize(("found", "words"), ADVICE, ids=lambda value: value[:50] if isinstance(value, str) else "")
def test_advice_follows_the_largest_cause(found: Attribution, words: str) -> None:
    """What to do next time, with the figure of this brew."""
    known = figures(
        gravity(gap(found)),
        figure("lauter_efficiency", 85.0, 70.0, 2.0),
        figure("conversion_efficiency", 95.0, 85.0, 2.0),
        figure("mash_efficiency", 80.0, 60.0, 2.0),
        figure("post_boil_volume", 20.0, 22.0, 0.4),
        figure("evaporation_rate", 3.0, 3.0, 0.4),
    )
    assert advice(known, found) == f"Next time: {words}."


def test_less_wort_than_planned_needs_no_longer_boil() -> None:
    """Where the volume is not above the plan no minutes are invented."""
    found = shared(volume=-5.0)
    known = figures(gravity(-5.0), figure("post_boil_volume", 22.0, 20.0, 0.4), figure("evaporation_rate", 3.0, 3.0, 0.4))
    assert advice(known, found) == "Next time: boil down to the planned volume before the last hops."


def test_the_demo_names_its_causes() -> None:
    """The first strong stout lost its points in the lautering, and is told what to do."""
    wort, beer, more = statement(reports()["2025-11-15-fog-bell-1"])
    assert wort.startswith("Planned at 1.100, the wort came out at 1.088: twelve points short")
    assert "Poorer lautering took 16 points" in wort
    assert beer.startswith("It went down to 1.021")
    assert more.startswith("Next time: run off and sparge more slowly")
