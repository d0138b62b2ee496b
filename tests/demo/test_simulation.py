"""The demo journal is what its simulator writes, and its plans don't contradict themselves."""

from pathlib import Path

import pytest

from generator.science import hydrometer, refractometer, sucrose
from tests.demo import simulate
from tests.demo.instruments import hydrometer_reading, refractometer_reading
from tests.demo.plans import JOURNAL, predict
from tests.demo.scenario import Scenario
from tests.demo.scenarios import SCENARIOS

SIMULATED = {"plan.toml", "readings.csv", "gravity-log.csv"}


def _files(journal: Path) -> dict[str, bytes]:
    return {str(path.relative_to(journal)): path.read_bytes() for path in journal.glob("*/*") if path.name in SIMULATED}


def test_simulation_reproduces_the_journal_byte_for_byte(tmp_path: Path) -> None:
    """Running the simulator changes no file of the journal, and no simulated file lacks its scenario."""
    simulate.write(tmp_path)
    assert _files(tmp_path) == _files(JOURNAL)


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda scenario: str(scenario.slug))
def test_targets_agree_with_the_prediction(scenario: Scenario) -> None:
    """Targets lie within 2 points and 0.7 L of what brewhouse, liquor and grist predict."""
    predicted = predict(scenario.plan)
    assert scenario.plan.target("original_gravity") == pytest.approx(predicted.original_gravity, abs=0.002)
    assert scenario.plan.target("final_gravity") == pytest.approx(predicted.final_gravity, abs=0.002)
    assert predicted.run_off == pytest.approx(predicted.pre_boil_volume, abs=0.7)


@pytest.mark.parametrize("sample", [10.0, 20.0, 38.0])
def test_hydrometer_reading_is_the_inverse_of_the_correction(sample: float) -> None:
    """A simulated reading is corrected back to the true gravity."""
    reading = hydrometer_reading(1.0612, sample, 15.56)
    assert float(hydrometer.sg_20(reading, sample, 15.56)) == pytest.approx(1.0612, abs=1e-9)


def test_refractometer_reading_is_the_inverse_of_the_estimate() -> None:
    """A simulated reading of beer gives the true gravity back."""
    brix = refractometer_reading(1.011, 1.074, 1.04)
    extract = float(sucrose.extract_from_sg(1.074))
    assert float(refractometer.sg_after_fermentation(brix, extract, 1.04)) == pytest.approx(1.011, abs=1e-5)
