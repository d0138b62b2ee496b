"""Whether a mash fits, and the ways out; their numbers are checked in tests/reference/test_ways_out.py."""

from typing import Any

import pytest

from generator.analysis.alternatives import Fit, fit
from generator.analysis.planned import Planned
from generator.pages.fit_view import closed_ways, fit_sentences, way_rows
from tests.unit.analysis.test_prediction import view


def found(house: dict[str, Any] | None = None, **changes: Any) -> Fit:
    """The fit of the plan of test_prediction with changes: 16 L and 5 kg take 19.7 L."""
    result = fit(Planned(view(house, **changes)))
    assert result is not None
    return result


def test_a_mash_that_fits_has_no_ways_out() -> None:
    """Room is told, and nothing else."""
    fits = found({"mash": {"capacity": "35 L"}})
    assert (fits.excess, fits.excess_grain, fits.ways) == (0.0, 0.0, ())
    assert list(fit_sentences(fits)) == ["The mash takes 19.7 L of the vessel’s 35.0 L."]
    assert way_rows(fits) == ()


def test_without_a_vessel_nothing_is_said() -> None:
    """A brewhouse that tells no capacity can't be overfilled."""
    assert list(fit_sentences(found())) == []


def test_too_large_by_litres() -> None:
    """The excess is that of the figure over the capacity; every way out fits or says why not."""
    fits = found({"mash": {"capacity": "17 L"}})
    assert fits.excess == pytest.approx(fits.planned.space - 17.0, abs=1e-12)
    assert [way.name for way in fits.ways] == [
        "Less grist", "A smaller batch", "Liquor held back", "Two mashes, one in the other’s wort", "A longer boil",
    ]  # fmt: skip
    for way in fits.ways:
        assert (way.outcome is None) == bool(way.why_not)
        assert way.outcome is None or way.outcome.space <= 17.0 + 1e-6
    rows = way_rows(fits)
    assert rows[0].name == "As planned"
    assert len(rows) - 1 + len(closed_ways(fits)) == 5


def test_too_much_grain() -> None:
    """Less liquor doesn't help where the grain itself is too much."""
    fits = found({"mash": {"grain_capacity": "4.5 kg"}})
    assert fits.excess_grain == pytest.approx(0.5, abs=1e-12)
    closed = dict(closed_ways(fits))
    assert "grain alone" in closed["Liquor held back"]
    less = next(way for way in fits.ways if way.name == "Less grist")
    assert less.outcome is not None
    assert less.outcome.grist == pytest.approx(4.5, abs=1e-9)


def test_portions_keep_the_level_down() -> None:
    """Dry grain tipped in at once stands over the rim; in portions it doesn't, or still does, and the page says which."""
    house = {"mash": {"capacity": "22 L"}}
    assert "stir it in by portions" in " ".join(fit_sentences(found(house)))
    assert "stays below 21.2 L" in " ".join(fit_sentences(found(house, mash={"portions": 5})))
    assert "even in the plan’s portions" in " ".join(fit_sentences(found(house, mash={"portions": 2})))


@pytest.mark.parametrize("missing", ["liquor", "rest", "grist", "boil"])
def test_a_plan_that_does_not_tell(missing: str) -> None:
    """Without liquor, rest, goods or boil nothing can be said."""
    assert fit(Planned(view(**{missing: [] if missing in ("rest", "grist") else {}}))) is None
