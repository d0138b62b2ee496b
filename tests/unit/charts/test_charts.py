"""What the charts say about their data: labels, gaps, thinning, scales."""

import math
import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.charts import attenuation, attribution, fermentation, history, lane, ledger
from generator.charts.chart import Chart, Drawing
from generator.charts.fermentation import segments, thinned
from generator.charts.views import Bar, Curves, Dot, Drop, Effect, Event, Mark, Pace


def _labels(drawing: Drawing) -> list[str]:
    return re.findall(r"<text[^>]*>([^<]*)</text>", drawing.body)


def _both(chart: Chart) -> list[list[str]]:
    return [_labels(chart.wide), _labels(chart.narrow)]


def _bars(*kg: float) -> list[Bar]:
    names = ("stage", "change")
    return [Bar(names[n % 2], value, is_stage=n % 2 == 0, low=value * 0.98, high=value * 1.02, plan=value) for n, value in enumerate(kg)]


def test_every_bar_of_the_ledger_is_labelled() -> None:
    """Name, kilograms with a sign for changes, and the share of the first stage; in both widths."""
    chart = ledger.draw(_bars(4.0, -1.0, 3.0, 0.5, 3.5), "words")
    for labels in _both(chart):
        rows = [" ".join(labels[n : n + 3]).replace("\N{THIN SPACE}", " ") for n in range(0, len(labels), 3)]
        assert rows == ["stage 4.000 100.0 %", "change −1.000 25.0 %", "stage 3.000 75.0 %", "change +0.500 12.5 %", "stage 3.500 87.5 %"]


def test_a_ledger_of_nothing_has_no_shares() -> None:
    """Without extract there is no share of it, and nothing divides by zero."""
    for labels in _both(ledger.draw([Bar("a", 0.0, is_stage=True), Bar("b", 0.0, is_stage=False), Bar("c", 0.0, is_stage=True)], "words")):
        assert labels == ["a", "0.000", "b", "0.000", "c", "0.000"]


@settings(deadline=None, max_examples=25)
@given(st.lists(st.floats(0.01, 500.0), min_size=2, max_size=5))
def test_bars_stay_in_the_drawing(levels: list[float]) -> None:
    """Whatever the levels, no bar leaves the sheet."""
    kg = [levels[0]]
    for before, after in pairwise(levels):
        kg += [after - before, after]
    for drawing in (ledger.draw(_bars(*kg), "words").wide, ledger.draw(_bars(*kg), "words").narrow):
        xs = [float(x) for d in re.findall(r' d="([^"]*)"', drawing.body) for x in re.findall(r"[ML](-?[\d.]+) ", d)]
        assert min(xs) >= -1.0
        assert max(xs) <= drawing.width + 1.0


def _curves(*marks: tuple[float, float], logged: tuple[Mark, ...] = (), warm: tuple[Mark, ...] = (), plan: float | None = 1.012) -> Curves:
    return Curves(tuple(Mark(*mark, 0.001) for mark in marks), logged, warm, temperature_is_logged=bool(logged), planned_final=plan)


def test_first_last_and_plan_are_labelled() -> None:
    """The labels that a reader looks for stand at the data; on a narrow page the first is short."""
    wide, narrow = _both(fermentation.draw(_curves((0, 1.05), (5, 1.02), (14, 1.0117)), "words"))
    assert {"1.050 into the fermenter", "1.012 at the end", "planned 1.012", "days after pitching"} <= set(wide)
    assert {"1.050", "1.012 at the end", "planned 1.012"} <= set(narrow)


def test_what_is_not_known_is_not_labelled() -> None:
    """One reading has no end, no plan has no rule, no temperature has no axis."""
    logged = tuple(Mark(n / 10, 1.05 - n / 5000) for n in range(100))
    for labels in _both(fermentation.draw(_curves((0, 1.05), logged=logged, plan=None), "words")):
        assert "1.030 at the end" in labels
        assert not [label for label in labels if "planned" in label or "°C" in label]
    for labels in _both(fermentation.draw(_curves((0, 1.05), plan=None), "words")):
        assert not [label for label in labels if "end" in label]
    for labels in _both(fermentation.draw(_curves(logged=logged, plan=None), "words")):
        assert "Gravity, SG 20/20" in labels
        assert "1.030 at the end" in labels


def test_estimates_are_hollow() -> None:
    """A refractometer's estimate is an open dot: paper inside, blue round it."""
    sure = fermentation.draw(_curves((0, 1.05), (9, 1.01)), "words").wide.body
    estimate = Curves((Mark(0, 1.05), Mark(9, 1.01, 0.003, estimate=True)), (), (), temperature_is_logged=False, planned_final=None)
    assert 'class="f-paper s-blue"' not in sure
    assert fermentation.draw(estimate, "words").wide.body.count('class="f-paper s-blue"') == 1


def test_a_logger_is_drawn_in_its_doubt_and_parted_at_gaps() -> None:
    """A band and a line for each stretch, the spikes as open squares at the edge of the drawing, a whisker for each reading by hand."""
    logged = tuple(Mark(n / 10, 1.05 - n / 3000, 0.001) for n in range(100))
    curves = Curves(
        (Mark(0, 1.05, 0.001), Mark(9, 1.021, 0.001)), logged, (), temperature_is_logged=True, planned_final=1.02, meant="expected",
        spikes=(Mark(3.3, 1.15), Mark(4.1, 0.98)), gaps=((5.0, 5.1),),
    )  # fmt: skip
    for drawing in (fermentation.draw(curves, "words").wide, fermentation.draw(curves, "words").narrow):
        assert drawing.body.count('class="f-band"') == 2
        assert drawing.body.count('class="f-paper s-quiet"') == 2
        assert drawing.body.count('stroke-width="1.3"') == 2 * 3
        assert "expected 1.020" in _labels(drawing)
    assert [len(part) for part in segments(logged, ((5.0, 5.1),))] == [51, 49]
    assert segments((), ()) == []


def test_a_long_logger_is_a_small_drawing() -> None:
    """Three thousand points that wriggle, as many temperatures and spikes: both drawings together stay under 60 KB."""
    logged = tuple(Mark(n / 200, 1.05 - n / 90000 + 0.001 * math.sin(n), 0.001) for n in range(3000))
    warm = tuple(Mark(n / 200, 20.0 + math.sin(1.7 * n)) for n in range(3000))
    curves = Curves((), logged, warm, temperature_is_logged=True, planned_final=1.012, spikes=logged)
    chart = fermentation.draw(curves, "words")
    assert len(chart.wide.body) + len(chart.narrow.body) < 60_000


EVENTS = tuple(Event(day, text) for day, text in ((0.1, "Slurry five weeks old"), (2.1, "Probe taped back"), (11.0, "Roused"), (49.7, "packaged")))


@pytest.mark.parametrize(
    "events", [EVENTS, EVENTS[:1], tuple(Event(float(n), f"event {n}") for n in range(12)), (Event(0.0, "x" * 60), Event(50.0, "y" * 60))]
)
def test_labels_of_events_keep_apart(events: tuple[Event, ...]) -> None:
    """No two labels share a place, none is crossed by the tick of another, all lie within the chart; every event keeps its tick."""
    found = lane.placed(events, lambda day: 46.0 + 5.4 * day, (46.0, 318.0), 5, 24)
    assert len(found) == len(events)
    shown = [one for one in found if one.row is not None]
    assert shown
    for one in shown:
        assert one.ends[0] >= 46.0
        assert one.ends[1] <= 318.0
        for other in shown:
            if other is not one and other.row == one.row:
                assert one.ends[1] < other.ends[0] or other.ends[1] < one.ends[0]
            if other.row is not None and one.row is not None and other.row > one.row:
                assert not one.ends[0] < other.x < one.ends[1]


def test_events_take_as_few_rows_as_they_need() -> None:
    """Far apart they share one row, close together they take a row each, and without any there is no room taken."""
    assert lane.height(lane.placed((Event(0, "a"), Event(40, "b")), lambda day: 46.0 + 5.4 * day, (46.0, 318.0), 5, 24)) == lane.ROW
    assert lane.height(lane.placed(EVENTS[:2], lambda day: 46.0 + 5.4 * day, (46.0, 318.0), 5, 24)) == 2 * lane.ROW
    assert lane.height(()) == 0.0


@pytest.mark.parametrize(
    ("text", "cut"), [("Dry hops", "Dry hops"), ("Foam in the airlock jar and hose", "Foam in the airlock…"), ("x" * 40, "x" * 23 + "…")]
)
def test_long_labels_are_cut_at_a_word(text: str, cut: str) -> None:
    """At most so many letters, an ellipsis where something was cut."""
    assert lane.shortened(text, 24) == cut


def test_the_rate_between_readings_is_steps_and_along_a_logger_a_line() -> None:
    """One band a step; a logger has none, and is parted at its gaps; reached shares are labelled."""
    half = (Event(2.0, "half of the drop"),)
    steps = attenuation.draw(Pace((Drop(0, 3, 10.0, 0.5), Drop(3, 9, 0.2, 0.3)), (), (), half, (0.0, 9.0)), "words")
    log = attenuation.draw(Pace((), tuple(Mark(n / 10, 10.0 - n / 10) for n in range(100)), ((5.0, 5.1),), half, (0.0, 9.9)), "words")
    assert [drawing.body.count('class="f-band"') for drawing in (steps.wide, log.wide)] == [2, 0]
    assert [drawing.body.count('class="f-none s-blue"') for drawing in (steps.wide, log.wide)] == [1, 2]
    for labels in (*_both(steps), *_both(log)):
        assert {"Drop of gravity, points a day", "half of the drop", "days after pitching"} <= set(labels)


@given(st.lists(st.floats(0.99, 1.1), min_size=1, max_size=400), st.integers(1, 30))
def test_thinning_keeps_the_extremes(values: list[float], columns: int) -> None:
    """First, last, lowest and highest of all survive, the order too, and no more than four a column are left."""
    marks = [Mark(float(n), value) for n, value in enumerate(values)]
    thin = thinned(marks, columns)
    assert len(thin) <= max(4 * columns, min(len(marks), 4 * columns))
    assert (thin[0], thin[-1]) == (marks[0], marks[-1])
    assert {min(values), max(values)} <= {mark.value for mark in thin}
    assert [mark.days for mark in thin] == sorted({mark.days for mark in thin})


def test_history_draws_what_was_read_and_planned() -> None:
    """A batch that wasn't read has its plan and its month, no dot."""
    dots = [Dot("Nov 2025", 64.0, 62.0, 66.0, 79.0), Dot("Dec 2026", None, None, None, 73.0)]
    drawing = history.draw(dots, "Mash efficiency, %", "words").wide
    assert drawing.body.count('class="f-paper s-ink"') == 2
    assert drawing.body.count('class="f-blue s-paper"') == 1
    assert {"Nov", "2025", "Dec", "2026", "Mash efficiency, %"} <= set(_labels(drawing))


@pytest.mark.parametrize("count", [1, 3, 12, 60])
def test_months_thin_out(count: int) -> None:
    """However many batches, months don't run into one another."""
    dots = [Dot(f"{('Jan', 'Feb', 'Mar')[n % 3]} 2026", 70.0 + n, 69.0 + n, 71.0 + n, None) for n in range(count)]
    narrow = [label for label in _labels(history.draw(dots, "x", "words").narrow) if label == "2026"]
    assert 1 <= len(narrow) <= 4


def test_every_cause_is_labelled_and_the_total_last() -> None:
    """Name and signed points of each cause in order, then the total; a whisker only where there is doubt."""
    causes = [Effect("lautering", -16.2, -18.0, -14.0), Effect("malt extract", 0.02, 0.02, 0.02)]
    chart = attribution.draw(causes, Effect("all causes together", -16.2, -17.0, -15.0), "causes", "points", "words")
    for labels in _both(chart):
        assert labels[:6] == ["lautering", "−16.2", "malt extract", "0.0", "all causes together", "−16.2"]
        assert labels[-1] == "points"
    without = attribution.draw(causes[1:], Effect("all causes together", 0.02, 0.02, 0.02), "causes", "points", "words")
    assert chart.wide.body.count('stroke-width="1.2"') == 2 * 3
    assert without.wide.body.count('stroke-width="1.2"') == 0
