"""Tastings: sittings, ages, totals, drift; and what a glass holds."""

from dataclasses import replace

import numpy as np
import pytest

from generator.analysis.tasting import HIGHEST, HIGHEST_TOTAL, serving, tasting
from generator.records.models import JournalSettings
from generator.records.readings import Reading
from tests.unit.analysis.support import batch, measured, plan, read

NAMES = ("aroma", "appearance", "flavour", "mouthfeel", "overall")
PACKAGED = read(2, "package", "volume", "18 L", time="2026-01-20 12:00")


def sitting(line: int, time: str, *scores: float) -> tuple[Reading, ...]:
    """Rows of one tasting, from the first score on."""
    return tuple(read(line + place, "tasting", what, f"{score:g}", time=time) for place, (what, score) in enumerate(zip(NAMES, scores, strict=False)))


def note(line: int, text: str, time: str = "") -> Reading:
    """Words of a tasting."""
    return replace(read(line, "tasting", "aroma", "1", time=time), what="note", value=None, note=text)


FIRST = sitting(10, "2026-02-19 12:00", 9, 3, 16, 4, 8)
SECOND = sitting(20, "2026-03-21 12:00", 8, 3, 15, 4, 8)
THIRD = sitting(30, "2026-05-20 12:00", 7, 2, 12, 3, 6)


def test_weights_of_the_sheet() -> None:
    """12, 3, 20, 5 and 10 make 50, in this order."""
    assert dict(zip(NAMES, (12.0, 3.0, 20.0, 5.0, 10.0), strict=True)) == HIGHEST
    assert tuple(HIGHEST) == NAMES
    assert HIGHEST_TOTAL == 50.0


def test_sittings_by_age() -> None:
    """Two tastings, 30 and 60 days after packaging, in whatever order they were written; notes stand with theirs."""
    rows = (PACKAGED, *SECOND, note(26, "Flat", "2026-03-21 12:30"), *FIRST, note(40, "Fresh", "2026-02-19 12:00"))
    found = tasting(batch(plan(), rows))
    assert [(one.age, one.total, one.notes) for one in found.sittings] == [(30.0, 40.0, ("Fresh",)), (60.0, 38.0, ("Flat",))]
    assert found.age_from == "packaging"
    assert found.drift is not None
    assert (found.drift.days, found.drift.total, found.drift.slope) == (30.0, -2.0, None)
    assert found.drift.scores == {"aroma": -1.0, "appearance": 0.0, "flavour": -1.0, "mouthfeel": 0.0, "overall": 0.0}


def test_slope_with_its_standard_error() -> None:
    """Three tastings: the line and its standard error by the normal equations, told for 30 days."""
    found = tasting(batch(plan(), (PACKAGED, *FIRST, *SECOND, *THIRD))).drift
    assert found is not None
    assert found.slope is not None
    ages, totals = np.array([30.0, 60.0, 120.0]), np.array([40.0, 38.0, 30.0])
    design = np.column_stack([np.ones(3), ages])
    fit, residual, *_ = np.linalg.lstsq(design, totals, rcond=None)
    covariance = float(residual[0]) / 1.0 * np.linalg.inv(design.T @ design)
    assert found.slope.value == pytest.approx(30.0 * float(fit[1]), rel=1e-9)
    assert found.slope.error == pytest.approx(30.0 * float(covariance[1, 1]) ** 0.5, rel=1e-9)
    assert found.slope.freedom == 1
    assert found.total == -10.0


def test_a_sitting_takes_two_hours() -> None:
    """Rows up to two hours after the first belong to it, the later of a score stands; what comes later is another."""
    late = read(50, "tasting", "aroma", "11", time="2026-02-19 14:00")
    (one,) = tasting(batch(plan(), (PACKAGED, *FIRST, late))).sittings
    assert one.scores["aroma"] == 11.0
    later = replace(late, time=late.time.replace(minute=1) if late.time else None)
    assert [len(each.scores) for each in tasting(batch(plan(), (PACKAGED, *FIRST, later))).sittings] == [5, 1]


def test_a_missing_score_leaves_no_total() -> None:
    """Four of five scores are no 50; the missing one is named, and the drift does without that tasting."""
    rows = (PACKAGED, *FIRST, *SECOND[:4])
    found = tasting(batch(plan(), rows))
    assert found.sittings[1].total is None
    assert found.sittings[1].missing == ("overall",)
    assert found.drift is None


def test_age_since_brewing_and_without_a_time() -> None:
    """Without a time of packaging the age counts from the day of brewing; a tasting without a time has no age and comes last."""
    untimed = tuple(replace(row, time=None, line=row.line + 30) for row in FIRST)
    found = tasting(batch(plan(), (*untimed, *SECOND)))
    assert found.age_from == "brewing"
    assert [one.age for one in found.sittings] == [79.5, None]
    assert found.sittings[1].total == 40.0
    assert found.drift is None


def test_clocks_with_offsets() -> None:
    """Where every time has an offset, ages count in true hours: noon at +02:00 is 11 o'clock at +01:00."""
    rows = (read(2, "package", "volume", "18 L", time="2026-03-01 12:00+01:00"), *sitting(10, "2026-04-01 12:00+02:00", 9, 3, 16, 4, 8))
    (one,) = tasting(batch(plan(), rows)).sittings
    assert one.age == pytest.approx(31.0 - 1.0 / 24.0)


def test_nothing_was_tasted() -> None:
    """No rows, no sittings."""
    assert tasting(batch(plan(), (PACKAGED,))).sittings == ()


BEER = (read(3, "fermenter", "gravity", "1.048", time="2026-01-01 12:00"), read(4, "fermenter", "gravity", "1.010", time="2026-01-15 12:00"))


def test_what_a_glass_holds() -> None:
    """0.33 L of 5.0 % vol hold 13.0 g of alcohol, 1.3 units of 10 g; the energy is that of 100 mL times 3.3."""
    side = measured(plan(), BEER)
    found = serving(side, 0.33, 0.010)
    assert found is not None
    assert found.alcohol is not None
    assert found.drinks is not None
    assert found.energy is not None
    abv, energy = float(np.ravel(side.abv)[0]), float(np.ravel(side.energy)[0])
    assert found.alcohol.value == pytest.approx(0.33 * abv * 7.892391, rel=1e-9)
    assert found.alcohol.value == pytest.approx(13.0, abs=0.2)
    assert found.drinks.value == pytest.approx(found.alcohol.value / 10.0)
    assert found.drinks.low == pytest.approx(found.alcohol.low / 10.0)
    assert found.energy.value == pytest.approx(3.3 * energy)
    assert found.alcohol.low < found.alcohol.value < found.alcohol.high


def test_no_unit_is_assumed() -> None:
    """Without a local definition there are grams alone; without a glass nothing; without a beer the reason."""
    side = measured(plan(), BEER)
    found = serving(side, 0.5)
    assert found is not None
    assert (found.drinks, found.standard_drink) == (None, None)
    assert found.alcohol is not None
    assert serving(side, None) is None
    assert serving(None, 0.5) is None
    young = serving(measured(plan(), BEER[:1]), 0.5, 0.010)
    assert young is not None
    assert (young.alcohol, young.drinks, young.energy) == (None, None, None)
    assert set(young.absent) == {"alcohol", "energy"}


def test_keys_of_the_journal() -> None:
    """Glass and unit are read with their units: litres, and kilograms of pure alcohol."""
    settings = JournalSettings.model_validate({"title": "x", "serving": "0.33 L", "standard_drink": "10 g"})
    assert (settings.serving, settings.standard_drink) == (0.33, 0.010)
    assert (JournalSettings(title="x").serving, JournalSettings(title="x").standard_drink) == (None, None)
