"""The data page names every key that a batch's file has, and no other."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from generator.analysis.report import report
from generator.pages.data import batch_json
from generator.pages.data_keys import PARTS, VARYING, leaves
from generator.records.journal import load
from tests.conftest import DEMO
from tests.golden.pages import HERE

RARE = {
    "cellar_ledger.absent.*", "cellar_ledger.remarks[]", "fermentation.logger.drift.value", "fermentation.logger.drift.standard_error",
    "fermentation.logger.steps[].day", "fermentation.logger.steps[].height.value", "fermentation.logger.steps[].height.standard_error",
    "fermentation.predicted_end.value", "fermentation.predicted_end.low", "fermentation.predicted_end.high", "serving.absent.*",
    "tastings.drift.slope[]", "tastings.sittings[].missing[]",
}  # fmt: skip
"""Keys that no batch at hand has: what broke, what isn't over yet, what was tasted often."""


def paths(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of a document with its path, as the data page writes it."""
    if isinstance(value, dict) and value:
        for key, below in value.items():
            yield from paths(below, f"{path}.{'*' if path in VARYING else key}".lstrip("."))
    elif isinstance(value, list) and value:
        for below in value:
            yield from paths(below, f"{path}[]")
    else:
        yield path, value


@pytest.fixture(scope="module")
def documents() -> dict[str, Any]:
    """The data of every batch of the demo and of the fixed journals."""
    journals: list[Path] = [DEMO, *sorted((HERE / "journals").iterdir())]
    read = [load(root) for root in journals]
    return {batch.slug: json.loads(batch_json(report(batch, one.settings))) for one in read for batch in one.batches}


def test_every_key_is_described(documents: dict[str, Any]) -> None:
    """Each value has a description; where something is null or empty, what could stand there has."""
    known = {leaf for part in PARTS for leaf in leaves(part)}
    missing = set()
    for document in documents.values():
        for path, value in paths(document):
            could = value in (None, [], {}) and any(leaf.startswith((f"{path}.", f"{path}[")) for leaf in known)
            if path not in known and not could:
                missing.add(path)
    assert missing == set()


def test_no_description_is_left_over(documents: dict[str, Any]) -> None:
    """Each described key occurs in some file, but for those that are known to be rare."""
    seen = {path for document in documents.values() for path, _ in paths(document)}
    known = {leaf for part in PARTS for leaf in leaves(part)}
    assert known - seen == RARE & known
    assert len(known) > 150


def test_descriptions_are_sentences() -> None:
    """Each part and each key stands once and is told in a sentence."""
    names = [leaf for part in PARTS for leaf in leaves(part)]
    assert len(set(names)) == len(names)
    for part in PARTS:
        assert part.meaning.endswith(".")
        assert all(key.meaning.endswith(".") for key in part.keys)


def test_a_new_key_would_be_seen() -> None:
    """Paths tell lists, varying tables and empty values."""
    document = {"figures": {"abv": {"plan": 1}}, "ledger": [], "fit": {"ways": [{"name": "x"}, {"new": None}]}}
    assert [path for path, _ in paths(document)] == ["figures.*.plan", "ledger", "fit.ways[].name", "fit.ways[].new"]
