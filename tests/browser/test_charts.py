"""Charts as drawn: no label on another, on a line or out of sight; in both widths and schemes, and at the edges of what is read."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from generator.charts import attenuation, attribution, fermentation, history, ledger
from generator.charts.chart import Chart
from generator.charts.views import Bar, Curves, Dot, Drop, Effect, Event, Mark, Pace
from generator.pages.render import drawing
from tests.browser.conftest import opened


def _fermentation(
    *points: tuple[float, float],
    plan: float | None = 1.012,
    logged: int = 0,
    warm: tuple[float, ...] = (),
    doubt: float = 0.001,
    told: tuple[tuple[float, str], ...] = (),
) -> Chart:
    hand = tuple(Mark(days, value, doubt) for days, value in points)
    log = tuple(Mark(0.1 * n, 1.012 + 0.05 * 0.9**n, 2.0 * doubt) for n in range(logged))
    spikes = tuple(Mark(mark.days, mark.value + side * 0.03) for mark in log[2::25] for side in (-1, 1))
    temperature = tuple(Mark(float(n), value) for n, value in enumerate(warm))
    events = tuple(Event(day, text, planned="planned" in text) for day, text in told)
    gaps = ((9.0, 9.1),) if logged else ()
    curves = Curves(hand, log, temperature, temperature_is_logged=False, planned_final=plan, spikes=spikes, gaps=gaps, events=events)
    return fermentation.draw(curves, "words")


def _rate(*rates: float, logged: int = 0, reached: tuple[float, ...] = (1.0, 1.2, 4.0)) -> Chart:
    drops = tuple(Drop(2.0 * n, 2.0 * n + 2.0, rate, 0.4) for n, rate in enumerate(rates))
    log = tuple(Mark(0.1 * n, 20.0 * 0.97**n - 0.5) for n in range(logged))
    events = tuple(Event(day, name) for day, name in zip(reached, ("lag over", "half of the drop", "nine tenths"), strict=False))
    return attenuation.draw(Pace(drops, log, (), events, (0.0, max(2.0 * len(rates), 0.1 * logged, 1.0))), "words")


def _ledger(scale: float, *, gain: bool = False, doubt: float = 0.02, plan: float = 1.1, stages: int = 5) -> Chart:
    levels = [1.0, 0.95, 0.85, 1.2 if gain else 0.84, 0.8][:stages]
    bars: list[Bar] = []
    for number, level in enumerate(levels):
        kg = scale * level
        bars.append(Bar("In the fermenter", kg, is_stage=True, low=kg * (1 - doubt), high=kg * (1 + doubt), plan=kg * plan))
        if number < len(levels) - 1:
            bars.append(Bar("left in the grain, kettle and hoses", scale * (levels[number + 1] - level), is_stage=False))
    return ledger.draw(bars, "words")


def _history(*values: float | None, spread: float = 1.0) -> Chart:
    dots = [Dot("Sep 2025", v, None if v is None else v - spread, None if v is None else v + spread, 70.0) for v in values]
    return history.draw(dots, "Mash efficiency, %", "words")


def _causes(*values: float, doubt: float = 1.0) -> Chart:
    names = ("unexplained by the kettle readings", "mash efficiency and volume", "the plan’s own contradiction", "lautering")
    effects = [Effect(names[n % 4], value, value - doubt, value + doubt) for n, value in enumerate(values)]
    total = sum(values)
    return attribution.draw(effects, Effect("all causes together", total, total - doubt, total + doubt), "causes", "points", "words")


CHARTS = {
    "two readings": _fermentation((0, 1.050), (10, 1.012)),
    "two close readings": _fermentation((0, 1.050), (0.2, 1.049)),
    "one reading and a logger": _fermentation((0, 1.062), logged=300),
    "only a logger": _fermentation(logged=300),
    "above plan": _fermentation((0, 1.080), (5, 1.040), (20, 1.038), (30, 1.038)),
    "below plan": _fermentation((0, 1.080), (5, 1.010), (20, 1.002), (30, 0.998), plan=1.012),
    "on plan": _fermentation((0, 1.050), (5, 1.012), (20, 1.012), plan=1.012),
    "rising": _fermentation((0, 1.010), (5, 1.012), (20, 1.050), plan=1.012),
    "no plan": _fermentation((0, 1.050), (3, 1.020), (10, 1.012), plan=None),
    "plan above the wort": _fermentation((0, 1.010), (3, 1.009), plan=1.060),
    "much doubt": _fermentation((0, 1.050), (3, 1.020), (10, 1.012), doubt=0.02),
    "a year": _fermentation((0, 1.090), (30, 1.030), (365, 1.020), warm=(18.0, 18.2)),
    "logger and hand": _fermentation((0, 1.062), (3, 1.050), (12, 1.040), (29, 1.012), logged=300, warm=(18, 22, 12)),
    "many readings": _fermentation(*[(day, 1.050 - 0.002 * day) for day in range(19)], warm=(20.0,) * 19),
    "freezing": _fermentation((0, 1.050), (9, 1.012), warm=(-1.5, 0.0, 20.0)),
    "events at both ends": _fermentation((0, 1.062), (29, 1.012), told=((0.0, "Slurry poured in as it was"), (29.0, "packaged"))),
    "events in a crowd": _fermentation(
        (0, 1.062), (3, 1.050), (29, 1.012), logged=290, warm=(18, 22),
        told=(*((0.4 * n, f"Something happened, number {n}") for n in range(12)), (7.0, "dry hops planned"), (29.0, "packaged")),
    ),
    "one event": _fermentation((0, 1.050), (9, 1.012), warm=(18, 22), told=((4.0, "Dry hops"),)),
    "the rate in steps": _rate(10.0, 5.0, 0.2, -0.3),
    "the rate of a logger": _rate(logged=140),
    "nothing drops": _rate(0.0, 0.0, reached=()),
    "a large brew": _ledger(123.4),
    "a jar": _ledger(0.012),
    "sugar in the boil": _ledger(4.0, gain=True),
    "much doubt in the ledger": _ledger(4.0, doubt=0.4),
    "plan far off": _ledger(4.0, plan=2.5),
    "two stages": _ledger(4.0, stages=2),
    "all causes down": _causes(-16.0, -5.0, -1.0, -0.1),
    "all causes up": _causes(30.0, 5.0, 0.4, 0.0),
    "causes that cancel": _causes(20.0, -20.0, 3.0, -3.0, 0.0, 0.0),
    "no cause at all": _causes(0.0, 0.0, doubt=0.0),
    "much doubt of a cause": _causes(-3.0, 1.0, doubt=40.0),
    "two batches": _history(70.0, 72.0),
    "twenty batches": _history(*[60.0 + n % 7 for n in range(20)]),
    "unread batches": _history(None, 70.0, None, 71.0),
    "equal batches": _history(70.0, 70.0, spread=0.0),
    "far apart": _history(12.0, 99.0, spread=9.0),
}  # fmt: skip


def test_charts_of_the_demo(page: Page, paths: list[Path], chart_faults: str) -> None:
    """Every chart of the demo, wide and narrow, in both schemes."""
    seen = 0
    for path in [path for path in paths if "<svg" in path.read_text(encoding="utf-8")]:
        opened(page, path)
        for width in (1280, 360):
            page.set_viewport_size({"width": width, "height": 800})
            for scheme in ("light", "dark"):
                page.emulate_media(color_scheme=scheme)
                seen += page.locator("svg.chart:visible").count()
                assert page.evaluate(chart_faults) == [], (path.name, width, scheme)
    print(f"{seen} charts")
    assert seen >= 80


@pytest.mark.parametrize("width", [1280, 360])
def test_charts_at_the_edges(page: Page, demo_site: Path, tmp_path: Path, chart_faults: str, width: int) -> None:
    """Few readings, tiny and large brews, plans that are far off: each drawn in the site's own style."""
    (tmp_path / "assets").symlink_to(demo_site / "assets")
    sheets = "".join(f'<link rel="stylesheet" href="assets/css/{name}.css">' for name in ("tokens", "base", "layout", "components"))
    pictures = "".join(f"<h2>{name}</h2><figure>{drawing(chart, 'wide')}{drawing(chart, 'narrow')}</figure>" for name, chart in CHARTS.items())
    head = '<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>x</title>'
    (tmp_path / "charts.html").write_text(head + sheets + pictures, encoding="utf-8")
    page.set_viewport_size({"width": width, "height": 800})
    opened(page, tmp_path / "charts.html")
    assert page.locator("svg.chart:visible").count() == len(CHARTS)
    names = page.evaluate("[...document.querySelectorAll('svg.chart')].map(svg => svg.parentElement.previousElementSibling.textContent)")
    page.evaluate("names => document.querySelectorAll('svg.chart').forEach((svg, n) => { svg.querySelector('title').id = names[n]; })", names)
    assert page.evaluate(chart_faults) == []


SEEDED = {
    "has contrast": '<text class="f-rule" x="10" y="20">pale</text>',
    "touch": '<text class="f-ink" x="10" y="20">one</text><text class="f-ink" x="14" y="24">two</text>',
    "lies on a rgb": '<path class="f-none s-blue" d="M0 15L200 16"/><text class="f-ink" x="10" y="20">on a line</text>',
    "lies on a f-blue": '<path class="f-blue" d="M0 5L60 5L60 30L0 30z"/><text class="f-ink" x="10" y="20">on a mark</text>',
    "leaves the drawing": '<text class="f-ink" x="190" y="20">over the edge</text>',
    "mark has contrast": '<path class="f-paper s-paper" d="M0 5L60 30"/>',
}  # fmt: skip


@pytest.mark.parametrize("fault", SEEDED)
def test_the_script_sees_a_fault(page: Page, demo_site: Path, tmp_path: Path, chart_faults: str, fault: str) -> None:
    """Each kind of fault, put into a drawing on purpose, is found; the same drawing without it has none."""
    (tmp_path / "assets").symlink_to(demo_site / "assets")
    sheets = "".join(f'<link rel="stylesheet" href="assets/css/{name}.css">' for name in ("tokens", "base", "components"))
    found = []
    for body in ("", SEEDED[fault]):
        fine = '<text class="f-ink" x="10" y="90">fine</text>'
        svg = f'<svg class="chart wide" viewBox="0 0 200 100" width="200"><title id="t">x</title>{body}{fine}</svg>'
        (tmp_path / "chart.html").write_text(f"<!DOCTYPE html><meta charset=utf-8><title>x</title>{sheets}{svg}", encoding="utf-8")
        found.append(opened(page, tmp_path / "chart.html").evaluate(chart_faults))
    assert found[0] == []
    assert any(fault in text for text in found[1]), found[1]
