"""batches/<slug>.json: every figure of a batch, unrounded, for whoever wants to compute with it."""

import json
from dataclasses import asdict
from typing import Any

from generator.analysis.alternatives import Fit
from generator.analysis.attribution import Attribution
from generator.analysis.figures import Figure
from generator.analysis.reconciliation import Reconciliation
from generator.analysis.report import Report
from generator.pages.cellar_data import cellar_data
from generator.pages.course_data import course_data
from generator.sources import citation

FORMAT = "1"


def batch_json(report: Report) -> str:
    """The report as JSON: keys sorted, no NaN, the same input gives the same bytes."""
    about = report.batch.plan.batch
    document = {
        "format": FORMAT,
        "slug": report.batch.slug,
        "recipe": about.recipe,
        "brewed": about.brewed.isoformat(),
        "brewer": report.batch.brewer,
        "figures": {key: _figure(figure) for key, figure in report.figures.items()},
        "ledger": [
            {"stage": stage.stage, "extract_kg": stage.extract.value, "low": stage.extract.low, "high": stage.extract.high}
            for stage in report.ledger.stages
        ],
        "attribution": {
            "original_gravity": _attribution(report.why.original_gravity),
            "abv": _attribution(report.why.abv),
            "fermenter_volume": _attribution(report.why.fermenter_volume),
        },
        "doubt_sources": {key: figure.doubt_sources for key, figure in report.figures.items() if figure.doubt_sources},
        "reconciliation": _reconciliation(report.weighed),
        "contradictions": [
            {"figure": one.key, "target": one.target, "predicted": one.prediction.value, "low": one.prediction.low, "high": one.prediction.high}
            for one in report.contradictions
        ],
        "fit": _fit(report.fit),
        "fermentation": course_data(report.course),
        "liquor": asdict(report.liquor) if report.liquor else None,
        "cautions": [
            {"slug": caution.slug, "severity": caution.severity, "text": caution.text, "source": citation(caution.source)}
            for caution in report.cautions
        ],
        "assumptions": list(report.assumptions),
        "lessons": list(report.lessons),
        **cellar_data(report),
    }
    return json.dumps(document, ensure_ascii=False, indent=1, sort_keys=True, allow_nan=False) + "\n"


def _attribution(found: Attribution | None) -> dict[str, Any] | None:
    if found is None:
        return None
    parts = [{"cause": part.cause, "value": part.effect.value, "low": part.effect.low, "high": part.effect.high} for part in found.causes]
    return {"unit": found.unit, "total": found.total.value, "low": found.total.low, "high": found.total.high, "parts": parts, "note": found.note}


def _reconciliation(found: Reconciliation | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "chi_square": found.chi_square,
        "balances": found.balances,
        "probability": found.probability,
        "contradictory": found.contradictory,
        "suspect": found.suspect.name if found.contradictory else None,
        "readings": [
            {"name": row.name, "unit": row.unit, "read": row.read.value, "reconciled": row.reconciled, "test": row.test, "alone": row.alone}
            for row in found.rows
        ],
    }


def _fit(fit: Fit | None) -> dict[str, Any] | None:
    """The mash against its vessel; ways out only where it doesn't fit."""
    if fit is None:
        return None
    ways = [{"name": way.name, "does": way.does, "why_not": way.why_not, "outcome": asdict(way.outcome) if way.outcome else None} for way in fit.ways]
    at_once, in_portions = fit.while_adding
    return {
        "planned": asdict(fit.planned),
        "capacity": fit.capacity,
        "grain_capacity": fit.grain_capacity,
        "excess": fit.excess,
        "excess_grain": fit.excess_grain,
        "while_adding": {"at_once": at_once, "in_portions": in_portions},
        "ways": ways,
    }


def _figure(figure: Figure) -> dict[str, Any]:
    measured = figure.measured
    return {
        "label": figure.entry.label,
        "unit": figure.entry.unit,
        "plan": figure.plan,
        "plan_from": figure.expected.plan_from,
        "predicted": figure.expected.predicted,
        "predicted_low": figure.prediction.low if figure.prediction else None,
        "predicted_high": figure.prediction.high if figure.prediction else None,
        "measured": measured.value if measured else None,
        "low": measured.low if measured else None,
        "high": measured.high if measured else None,
        "difference": figure.difference,
        "verdict": figure.verdict,
        "why_absent": figure.why_absent,
    }
