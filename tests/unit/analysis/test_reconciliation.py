"""Reconciliation and intervals on simulated batches whose truth is known."""

from dataclasses import dataclass

import numpy as np
import pytest

from generator.analysis.cautions import Facts, cautions, change_in_words
from generator.analysis.figures import Figure, figures
from generator.analysis.measured import Measured
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from generator.analysis.reconciliation import Reconciliation, reconciliation
from generator.records.readings import Reading
from generator.science import sucrose
from tests.unit.analysis.support import batch, brewhouse, good, plan, read

HOUSE = brewhouse(boil={"evaporation": "3 L/h"}, instruments={"gravity": "0.001 SG", "volume": "2 %", "mass": "0.5 %", "extract": "1.5 %"})
PLAN = plan(grist=[good("6 kg", "80 %", moisture="0 %")], liquor={"mash": "20 L"}, boil={"duration": "60 min"})


@dataclass(frozen=True)
class Truth:
    """What really happened in the kettle: 60 minutes, nothing added, nothing lost but water."""

    pre_volume: float = 26.0
    extract: float = 3.9
    evaporation: float = 3.0

    @property
    def pre_gravity(self) -> float:
        """SG before the boil."""
        return float(sucrose.sg_of_extract_mass(self.extract, self.pre_volume))

    @property
    def post_gravity(self) -> float:
        """SG after the boil."""
        return float(sucrose.sg_of_extract_mass(self.extract, self.pre_volume - self.evaporation))

    def readings(self, noise: np.random.Generator | None = None, **wrong: float) -> tuple[Reading, ...]:
        """What instruments of the stated doubts read; `wrong` adds to a reading by name."""
        volume = 0.02 / 1.96

        def off(scale: float) -> float:
            return 0.0 if noise is None else float(noise.normal(0.0, scale))

        pre = self.pre_volume * (1.0 + off(volume)) + wrong.get("pre_volume", 0.0)
        post = (self.pre_volume - self.evaporation) * (1.0 + off(volume)) + wrong.get("post_volume", 0.0)
        gravities = [sg + off(0.001 / 1.96) for sg in (self.pre_gravity, self.post_gravity, self.post_gravity)]
        return (
            read(2, "mash", "grist", f"{6.0 * (1.0 + off(0.005 / 1.96))!r} kg"),
            read(3, "pre-boil", "volume", f"{pre!r} L"),
            read(4, "pre-boil", "gravity", f"{gravities[0] + wrong.get('pre_gravity', 0.0)!r}"),
            read(5, "post-boil", "volume", f"{post!r} L"),
            read(6, "post-boil", "gravity", f"{gravities[1] + wrong.get('post_gravity', 0.0)!r}"),
            read(7, "fermenter", "gravity", f"{gravities[2]!r}", time="2026-01-01 15:00"),
            read(8, "fermenter", "volume", f"{20.0 * (1.0 + off(volume))!r} L"),
        )


def weigh(readings: tuple[Reading, ...]) -> Reconciliation:
    """The kettle's readings against one another."""
    found = reconciliation(Measured(PlanView(PLAN, HOUSE), readings))
    assert found is not None
    return found


def test_readings_that_agree_stay_as_they_are() -> None:
    """Without noise nothing is adjusted and nothing contradicts."""
    found = weigh(Truth().readings())
    assert found.chi_square == pytest.approx(0.0, abs=1e-6)
    assert [row.reconciled for row in found.rows] == pytest.approx([row.read.value for row in found.rows], abs=1e-6)
    assert found.balances == 3


@pytest.mark.parametrize(
    ("wrong", "name", "words"),
    [
        ({"pre_volume": 2.3}, "volume before the boil", "2.3 L less"),
        ({"pre_volume": -2.5}, "volume before the boil", "2.5 L more"),
        ({"post_volume": 2.5}, "volume after the boil", "2.5 L less"),
        ({"pre_gravity": -0.008}, "gravity before the boil", "8 points more"),
        ({"post_gravity": 0.006}, "gravity after the boil", "6 points less"),
    ],
)
def test_a_wrong_reading_is_named(wrong: dict[str, float], name: str, words: str) -> None:
    """The reading that was put wrong is the suspect, with about the amount that was added."""
    readings = Truth().readings(**wrong)
    found = weigh(readings)
    assert found.contradictory
    assert found.suspect.name == name
    view = PlanView(PLAN, HOUSE)
    known = figures(Planned(view), Measured(view, readings))
    texts = {caution.slug: caution.text for caution in cautions(Facts(batch(PLAN, readings, HOUSE), view, known, found))}
    assert name in texts["readings-contradict"]
    assert found.suspect.alone == pytest.approx(-next(iter(wrong.values())), rel=0.1)
    assert change_in_words(found.suspect) == words
    assert words in texts["readings-contradict"]


def test_a_caution_needs_a_contradiction_beyond_doubt() -> None:
    """A pre-boil volume half a litre off is within the doubts; two litres and a half are not."""
    assert not weigh(Truth().readings(pre_volume=0.5)).contradictory
    assert weigh(Truth().readings(pre_volume=2.5)).contradictory


def test_a_wrong_volume_is_named_in_spite_of_noise() -> None:
    """Of 60 noisy batches with the volume before the boil 3 L too high, nine in ten are contradictory and name it."""
    noise = np.random.default_rng(7)
    found = [weigh(Truth().readings(noise, pre_volume=3.0)) for _ in range(60)]
    assert sum(one.contradictory for one in found) >= 50
    assert sum(one.contradictory and one.suspect.name == "volume before the boil" for one in found) >= 45


def test_nothing_to_weigh_is_nothing() -> None:
    """One gravity and one volume over-determine nothing."""
    readings = tuple(row for row in Truth().readings() if row.stage == "pre-boil")
    assert reconciliation(Measured(PlanView(PLAN, HOUSE), readings)) is None
    assert reconciliation(None) is None


def truth_of(true: Truth) -> dict[str, float]:
    """Figures as they truly were."""
    fermenter = float(sucrose.extract_mass(20.0, true.post_gravity))
    return {
        "mash_efficiency": 100.0 * true.extract / (6.0 * 0.8),
        "pre_boil_volume": true.pre_volume,
        "post_boil_volume": true.pre_volume - true.evaporation,
        "original_gravity": true.post_gravity,
        "evaporation_rate": true.evaporation,
        "brewhouse_efficiency": 100.0 * fermenter / (6.0 * 0.8),
    }


def covers(figure: Figure, value: float) -> bool:
    """Whether the interval holds the truth."""
    assert figure.measured is not None
    return figure.measured.low <= value <= figure.measured.high


def test_honest_noise_on_two_hundred_batches() -> None:
    """Contradictions in no more than 8 % of honest batches; 95 % intervals cover the truth in 92 to 98 % of cases."""
    # the malt's true extract differs from the stated one by its doubt too, the evaporation from the brewhouse's by the doubt taken for it
    noise = np.random.default_rng(20260214)
    contradictions, covered, cases = 0, 0, 0
    for _ in range(200):
        malt = 1.0 + noise.normal(0.0, 0.015 / 1.96)
        true = Truth(noise.uniform(22.0, 30.0), noise.uniform(2.5, 4.5), 3.0 * (1.0 + noise.normal(0.0, 0.25 / 1.96)))
        readings = true.readings(noise)
        view = PlanView(PLAN, HOUSE)
        measured = Measured(view, readings)
        known = figures(Planned(view), measured)
        found = reconciliation(measured)
        assert found is not None
        contradictions += found.contradictory
        for key, value in truth_of(true).items():
            covered += covers(known[key], value / malt if "efficiency" in key else value)
            cases += 1
    assert contradictions <= 16
    assert 0.92 <= covered / cases <= 0.98
