"""The ledger from the fermenter on: it closes in every draw, and says what is missing and why."""

from typing import Any

import numpy as np
import pytest

from generator.analysis.cellar_ledger import PARTS, CellarLedger, beer_mass, beer_volume, cellar_ledger, fermented
from generator.analysis.planned import Planned
from generator.records.readings import Reading
from generator.science import sucrose
from tests.unit.analysis.support import good, measured, plan, read

ROWS = (
    read(2, "fermenter", "volume", "20 L"),
    read(3, "fermenter", "gravity", "12.0 °P", time="2026-01-01 12:00"),
    read(4, "fermenter", "gravity", "3.0 °P", time="2026-01-15 12:00"),
    read(5, "package", "volume", "18 L"),
)


def books(rows: tuple[Reading, ...] = ROWS, **tables: Any) -> CellarLedger:
    """The ledger of a batch in memory."""
    side = measured(plan(**tables), rows)
    return cellar_ledger(Planned(side.view), side)


def mass(found: CellarLedger, name: str) -> float:
    """kg of one part."""
    return next(part.mass.value for part in found.parts if part.name == name)


def test_twelve_plato_to_three() -> None:
    """[C] 12 °P to 3 °P apparent: 3.73 g of alcohol, 3.57 g of carbon dioxide, 0.41 g of yeast with 100 g of beer, 36 g/L of gas."""
    found, side = books(), measured(plan(), ROWS)
    beer = 20 * 1.0464 / (1 + 0.0357 + 0.0041)  # kg; 12 °P weighs 1.0464 kg/L
    assert float(np.ravel(beer_mass(side))[0]) == pytest.approx(beer, rel=2e-4)
    for name, share in (("alcohol", 3.73), ("carbon dioxide", 3.57), ("yeast", 0.41)):
        assert mass(found, name) == pytest.approx(beer * share / 100.0, abs=0.0011)
    assert 1000.0 * mass(found, "carbon dioxide") / float(np.ravel(beer_volume(side))[0]) == pytest.approx(36.0, abs=0.5)
    assert [part.name for part in found.parts] == list(PARTS)
    assert all(part.mass.low < part.mass.value < part.mass.high for part in found.parts)


def test_the_ledger_closes_in_every_draw() -> None:
    """The parts weigh as much as the extract of the fermenter, and packaged and lost as much as the part, to 1e-9 of it."""
    side = measured(plan(), ROWS)
    parts = fermented(side)
    total = sum(parts.values(), 0.0)
    assert np.max(np.abs(total / side.fermenter_extract - 1.0)) < 1e-9
    assert np.ptp(side.fermenter_extract) > 0.1  # the draws do differ
    found = books()
    assert found.extract is not None
    assert sum(part.mass.value for part in found.parts) == pytest.approx(found.extract.mass.value, rel=1e-9)
    for split in found.splits:
        assert split.packaged.value + split.lost.value == pytest.approx(mass(found, split.name), rel=1e-9)


def test_what_was_packaged_is_shared_by_volume() -> None:
    """18 L of the 19.93 L that 20 L of wort become hold 90.3 % of the residual extract and of the alcohol."""
    found = books()
    for split in found.splits:
        assert split.packaged.value / mass(found, split.name) == pytest.approx(18 / 19.93, abs=5e-4)


def test_volume_of_the_beer_by_its_mass() -> None:
    """Mass of the wort less gas and yeast, over the density of the beer of 3 °P apparent, 1.0099 kg/L [P, sucrose]."""
    side = measured(plan(), ROWS)
    volume = float(np.ravel(beer_volume(side))[0])
    assert volume == pytest.approx(20 * 1.0464 / 1.0398 / 1.0099, rel=3e-4)
    assert volume * float(sucrose.density(3.0)) == pytest.approx(float(np.ravel(beer_mass(side))[0]), rel=1e-9)


def test_plan_of_each_part() -> None:
    """A plan of the same wort and beer gives the same parts."""
    found = books(target={"volume": "20 L", "original_gravity": "12 °P", "final_gravity": "3 °P"})
    assert found.extract is not None
    assert found.extract.plan == pytest.approx(found.extract.mass.value, rel=1e-6)
    for part in found.parts:
        assert part.plan == pytest.approx(part.mass.value, rel=1e-4)
    assert all(part.plan is None for part in books().parts)


def test_what_is_absent_and_why() -> None:
    """Without a final gravity there are no parts, without a packaged volume no splits, and each has its reason."""
    young = books((*ROWS[:2],))
    assert young.extract is not None
    assert young.parts == young.splits == ()
    assert young.absent["alcohol"] == "no gravity was read after the first one in the fermenter"
    unpackaged = books(ROWS[:3])
    assert len(unpackaged.parts) == 4
    assert unpackaged.splits == ()
    assert unpackaged.absent == {"packaged": "the volume packaged was not read"}
    assert "fermenter" in books(ROWS[1:]).absent


def test_more_packaged_than_there_was() -> None:
    """A loss below 0 is shown as it is, and said: 20.2 L within the doubt of the volumes, 24 L beyond it."""
    within, beyond = (books((*ROWS[:3], read(5, "package", "volume", text))) for text in ("20.2 L", "24 L"))
    assert within.splits[0].lost.value < 0.0
    assert within.remarks == ("By the readings more was packaged than the fermenter held, within their doubt.",)
    assert beyond.remarks == ("By the readings more was packaged than the fermenter held, by more than their doubt.",)
    assert books().remarks == ()


def test_goods_added_to_the_fermenter() -> None:
    """They are in no figure, and the ledger says so by name."""
    added = good("0.5 kg", "100 %", moisture="0 %", added="fermenter") | {"name": "Candy sugar"}
    assert books(grist=[added]).remarks == ("Added to the fermenter and not counted: Candy sugar.",)


def test_a_batch_that_is_not_brewed() -> None:
    """It has no ledger."""
    assert cellar_ledger(Planned(measured(plan(), ROWS).view), None) == CellarLedger()
