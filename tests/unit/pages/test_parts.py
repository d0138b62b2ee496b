"""Smaller makers of pages: formulas, the ledger's words, the plan, the timeline, the site map."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest
from jinja2 import UndefinedError

from generator.charts.views import Bar
from generator.pages import ledger_view
from generator.pages.formatting import mass
from generator.pages.formula import formula
from generator.pages.plan_rows import plan_section
from generator.pages.render import drawing, environment
from generator.pages.timeline_view import days
from tests.unit.pages.support import reports


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("m³", "m<sup>3</sup>"), ("Σᵢₖ bᵢₖ pᵏ⁻¹", "Σ<sub>ik</sub> b<sub>ik</sub> p<sup>k−1</sup>"), ("a < b & c", "a &lt; b &amp; c"),
        ("20 °C", "20 °C"),
        ("7.99e-3 t", "7.99·10<sup>−3</sup> t"), ("1e6 cells", "1·10<sup>6</sup> cells"),
        ("the2e", "the2e"), ("", ""), ("x²<b>", "x<sup>2</sup>&lt;b&gt;"),
    ],
)  # fmt: skip
def test_formulas(text: str, html: str) -> None:
    """Raised and lowered letters become markup; everything else is escaped."""
    assert str(formula(text)) == html


def _bar(name: str, kg: float, *, stage: bool, plan: float | None = None) -> Bar:
    return Bar(name, kg, stage, kg - 0.02, kg + 0.02, plan)


def test_the_ledger_in_words() -> None:
    """The largest loss is named with its share of the grist and of the plan's."""
    bars = [_bar("In the grist", 4.0, stage=True, plan=4.0), _bar("not converted", -0.2, stage=False, plan=-0.2)]
    bars += [_bar("left in the grain", -0.8, stage=False, plan=-0.4), _bar("In the fermenter", 3.0, stage=True, plan=3.4)]
    what, see = ledger_view.caption(bars)
    assert what == "Where 4.000 kg of extract went."
    assert see == "The largest loss is what was left in the grain: 20 %, where the plan allowed 10 %."
    words = "In the grist: 4.000 kg; not converted: −0.200 kg; left in the grain: −0.800 kg; In the fermenter: 3.000 kg."
    assert ledger_view.description(bars) == words
    shown = ledger_view.rows(bars)
    assert [row.tone for row in shown] == ["", "short", "short", ""]
    assert shown[2].share.text == "20.0"
    assert shown[2].doubt.text == "±0.020"


def test_a_ledger_without_plan_or_loss() -> None:
    """Without a plan no share is claimed for it; without a loss none is named."""
    gain = [_bar("First wort", 3.0, stage=True), _bar("added at the boil", 0.5, stage=False), _bar("In the fermenter", 3.5, stage=True)]
    assert ledger_view.caption(gain) == ("Where 3.000 kg of extract went.", "")
    loss = [_bar("First wort", 3.0, stage=True), _bar("lost on the way", -0.3, stage=False), _bar("In the fermenter", 2.7, stage=True)]
    assert ledger_view.caption(loss)[1] == "The largest loss is what was lost on the way: 10 %."
    assert ledger_view.rows([]) == ()


def test_the_plan_in_rows() -> None:
    """Shares of the mash, where each hop goes, the day in order; a minus is a minus."""
    plan = plan_section(reports()["2026-07-11-long-rope-2"])
    assert [row.detail for row in plan.goods] == ["94 %", "6 %", "into the boil"]
    assert plan.hops[0].detail == "60 min before the end, 5.6 % alpha"
    assert [row.name for row in plan.steps][:5] == ["Mash liquor", "Rest 1", "Rest 2", "Sparge liquor", "Boil"]
    assert "boil − 15 min" in [row.detail for row in plan.steps]
    assert (mass(0.0451), mass(0.9996), mass(4.8)) == ("45 g", "1.00 kg", "4.80 kg")


def test_the_timeline_by_day() -> None:
    """Days in order, each once; a reading as written and as used; an event as its text."""
    found = days(reports()["2026-07-11-long-rope-2"].timeline)
    titles = [day.title for day in found]
    assert titles[0] == "Saturday 11 July 2026"
    assert len(set(titles)) == len(titles)
    rows = [row for day in found for row in day.rows]
    warm = next(row for row in rows if row.what == "volume after the boil")
    assert (warm.read.text, warm.at.text, warm.at_20.text, warm.unit) == ("21.25", "98", "20.43", "L")
    assert any(row.what.startswith("Slurry five weeks old") and not row.read.whole for row in rows)
    assert any(row.what == "score for aroma" for row in rows)


def test_readings_without_a_time_are_said_to_be() -> None:
    """A row without a time stands under its own head."""
    entry = next(entry for entry in reports()["2026-07-11-long-rope-2"].timeline if not entry.reading.is_note)
    (day,) = days((replace(entry, reading=replace(entry.reading, time=None), at_20=None, superseded=True),))
    assert day.title == "Without a time"
    assert day.rows[0].superseded
    assert day.rows[0].time == ""


def test_a_missing_field_is_an_error() -> None:
    """A template that asks for what isn't there fails instead of printing nothing."""
    with pytest.raises(UndefinedError):
        environment().from_string("{{ absent }}").render()


def test_everything_is_escaped() -> None:
    """Text in a template and in a chart's words is text."""
    assert environment().from_string("{{ x }}").render(x="<b>") == "&lt;b&gt;"
    chart = SimpleNamespace(name="n", title='"><script>', description="<b>", wide=SimpleNamespace(width=1, height=1, body="<path/>"))
    assert "<script>" not in drawing(cast("Any", chart), "wide")
    assert "<path/>" in drawing(cast("Any", chart), "wide")
