"""The data file of each batch: the format that others read."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from generator.analysis.catalogue import FIGURES
from tests.conftest import DEMO

KEYS = {"format", "slug", "recipe", "brewed", "brewer", "figures", "ledger", "attribution", "cautions", "assumptions", "lessons"}
FIGURE = {"label", "unit", "plan", "plan_from", "predicted", "measured", "low", "high", "difference", "verdict", "why_absent"}
VERDICTS = {"on plan", "above plan", "below plan", "no plan", "not measured"}
STAGES = ["potential", "first wort", "pre-boil", "post-boil", "fermenter"]
SLUGS = sorted(path.parent.name for path in DEMO.glob("*/plan.toml"))
KNOWN = {
    "grist_mass", "potential_extract", "conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency", "pre_boil_volume",
    "post_boil_volume", "fermenter_volume", "package_volume", "pre_boil_gravity", "original_gravity", "final_gravity", "original_extract",
    "apparent_extract", "real_extract", "evaporation_rate", "apparent_attenuation", "real_attenuation", "abw", "abv", "energy", "bitterness",
    "colour", "strike_temperature", "mash_space", "apparent_absorption", "pitch_rate", "carbonation", "priming_sugar",
}  # fmt: skip


def _refuse(name: str) -> float:
    raise AssertionError(name)


@pytest.fixture(params=SLUGS)
def document(request: pytest.FixtureRequest, demo_site: Path) -> dict[str, Any]:
    """The data file of one batch; reading it refuses NaN and infinities."""
    raw = (demo_site / f"batches/{request.param}.json").read_text(encoding="utf-8")
    found: dict[str, Any] = json.loads(raw, parse_constant=_refuse)
    assert raw == json.dumps(found, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    assert found["slug"] == request.param
    return found


def test_every_figure_is_there(document: dict[str, Any]) -> None:
    """All keys of the format, and all figures, each with all its keys."""
    assert set(document) >= KEYS
    assert document["format"] == "1"
    assert date.fromisoformat(document["brewed"])
    assert set(document["figures"]) == KNOWN == {entry.key for entry in FIGURES}
    for key, figure in document["figures"].items():
        assert set(figure) >= FIGURE, key
        assert figure["verdict"] in VERDICTS, key


def test_figures_agree_with_themselves(document: dict[str, Any]) -> None:
    """The interval holds the value, the difference is read minus plan, the verdict follows, what is absent has a reason."""
    for key, figure in document["figures"].items():
        measured, plan = figure["measured"], figure["plan"]
        assert (figure["plan_from"] is None) == (plan is None), key
        if measured is None:
            assert figure["low"] is figure["high"] is figure["difference"] is None, key
            assert figure["verdict"] == "not measured", key
            assert figure["why_absent"], key
            continue
        assert figure["why_absent"] is None, key
        assert figure["low"] <= measured <= figure["high"], key
        if plan is None:
            assert figure["verdict"] == "no plan", key
        else:
            assert figure["difference"] == pytest.approx(measured - plan, abs=1e-12), key
            inside = figure["low"] <= plan <= figure["high"]
            assert figure["verdict"] == ("on plan" if inside else "above plan" if measured > plan else "below plan"), key


def test_percentages_are_percent_numbers(document: dict[str, Any]) -> None:
    """62 % is written 62.0: no share of a mash or a beer lies below 2."""
    for key, figure in document["figures"].items():
        if figure["unit"].startswith("%"):
            values = [figure[name] for name in ("plan", "predicted", "measured") if figure[name] is not None]
            assert all(2.0 < value < 105.0 for value in values), key


def test_ledger_and_attribution(document: dict[str, Any]) -> None:
    """Stages in the order of a brew, each with its interval; the parts of an attribution sum to its total."""
    stages = [stage["stage"] for stage in document["ledger"]]
    assert stages == [stage for stage in STAGES if stage in stages]
    assert all(stage["low"] <= stage["extract_kg"] <= stage["high"] for stage in document["ledger"])
    for part in (document["attribution"] or {}).values():
        if part is not None:
            assert sum(piece["value"] for piece in part["parts"]) == pytest.approx(part["total"], abs=1e-9)
            assert all(piece["low"] <= piece["value"] <= piece["high"] for piece in part["parts"])


def test_cautions_have_a_source_and_texts_are_texts(document: dict[str, Any]) -> None:
    """A caution says what, how grave, and from where; assumptions and lessons are sentences; no lesson is the heading over them."""
    for caution in document["cautions"]:
        assert set(caution) >= {"slug", "severity", "text", "source"}
        assert caution["severity"] in ("note", "caution", "stop")
        assert caution["source"]
        assert caution["text"].endswith(".")
    assert all(text.endswith(".") for text in document["assumptions"])
    assert all(text.strip() and text.strip().lower() != "lessons" for text in document["lessons"])
