"""The package, the cellar's ledger, tastings and a glass, as a data file holds them."""

from dataclasses import asdict
from datetime import datetime
from typing import Any

from generator.analysis.report import Report


def cellar_data(report: Report) -> dict[str, Any]:
    """By the keys of the data file: unrounded, times in ISO 8601."""
    return {
        "package": _plain(asdict(report.packaged)),
        "cellar_ledger": _plain(asdict(report.cellar)),
        "tastings": _plain(asdict(report.tastings)) | {"totals": [one.total for one in report.tastings.sittings]},
        "serving": None if report.serving is None else _plain(asdict(report.serving)),
    }


def _plain(value: Any) -> Any:
    """Times as texts, at any depth."""
    if isinstance(value, datetime):
        return value.isoformat(sep=" ")
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return value
