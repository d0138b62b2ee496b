"""Where the fermenter's extract went: a table whose printed parts add up to the gram, and the sentence that matters."""

from generator.analysis.cellar_ledger import ALCOHOL, RESIDUAL, CellarLedger, Part, Split
from generator.analysis.doubt import Estimate
from generator.analysis.report import Report
from generator.pages.cellar_contract import CellarRow, CellarView
from generator.pages.formatting import BLANK, Cell, cell, fixed

_NAMES = {ALCOHOL: "Alcohol", "carbon dioxide": "Carbon dioxide", "yeast": "Yeast", RESIDUAL: "Left in the beer"}
_NBSP = "\N{NO-BREAK SPACE}"


def cellar_view(report: Report) -> CellarView | None:
    """The ledger from the fermenter on; None where nothing of it can be told."""
    found = report.cellar
    if found.extract is None or len(found.parts) < len(_NAMES):
        return None
    whole = round(found.extract.mass.value, 3)
    parts = _closing([part.mass.value for part in found.parts], whole)
    plans = _plans(found)
    splits = {split.name: split for split in found.splits}
    rows: list[CellarRow] = []
    for part, kg, plan in zip(found.parts, parts, plans, strict=True):
        rows.append(_row(_NAMES[part.name], kg, plan, part.mass, whole))
        rows += _details(splits.get(part.name), kg, whole)
    total = _row("Extract of the fermenter", whole, found.extract.plan, found.extract.mass, whole)
    return CellarView((_first(found), *_second(found), *found.remarks), tuple(rows), total)


def _closing(parts: list[float], whole: float) -> list[float]:
    """Parts to the gram, the last of which takes what rounding leaves."""
    first = [round(part, 3) for part in parts[:-1]]
    return [*first, round(whole - sum(first), 3)]


def _plans(found: CellarLedger) -> list[float | None]:
    whole = found.extract.plan if found.extract else None
    plans = [part.plan for part in found.parts]
    known = [plan for plan in plans if plan is not None]
    return plans if whole is None or len(known) < len(plans) else list(_closing(known, round(whole, 3)))


def _details(split: Split | None, kg: float, whole: float) -> list[CellarRow]:
    if split is None:
        return []
    packaged = round(split.packaged.value, 3)
    return [
        _row("packaged", packaged, None, split.packaged, whole, is_detail=True),
        _row("left behind", round(kg - packaged, 3), None, split.lost, whole, is_detail=True),
    ]


def _row(name: str, kg: float, plan: float | None, mass: Estimate, whole: float, *, is_detail: bool = False) -> CellarRow:
    return CellarRow(name, is_detail, _kg(plan), _kg(kg), cell(fixed(100.0 * kg / whole, 1)) if whole > 0 else BLANK, cell(f"±{mass.half_width:.3f}"))


def _kg(value: float | None) -> Cell:
    return BLANK if value is None else cell(fixed(value, 3))


def _shares(values: dict[str, float], whole: float) -> str:
    share = {name: f"{100.0 * values[name] / whole:.0f}{_NBSP}%" for name in values}
    return (
        f"{share[ALCOHOL]} became alcohol, {share['carbon dioxide']} carbon dioxide and {share['yeast']} yeast; {share[RESIDUAL]} stayed in the beer"
    )


def _first(found: CellarLedger) -> str:
    """Of so much extract these shares became this, beside the plan's."""
    whole = found.extract.mass.value if found.extract else 0.0
    read = {part.name: part.mass.value for part in found.parts}
    return f"Of the {whole:.2f}{_NBSP}kg of extract that went into the fermenter {_shares(read, whole)}{_beside_plan(found)}."


def _beside_plan(found: CellarLedger) -> str:
    """What the plan left in the beer, where it tells."""
    left, extract = _part(found, RESIDUAL), found.extract
    if left.plan is None or extract is None or not extract.plan:
        return ""
    planned, read = f"{100.0 * left.plan / extract.plan:.0f}{_NBSP}%", f"{100.0 * left.mass.value / extract.mass.value:.0f}{_NBSP}%"
    return ", as planned" if planned == read else f", where the plan left {planned}"


def _part(found: CellarLedger, name: str) -> Part:
    return next(part for part in found.parts if part.name == name)


def _second(found: CellarLedger) -> list[str]:
    """What the packages hold, or why that can't be told."""
    splits = {split.name: split for split in found.splits}
    if len(splits) < 2:
        why = found.absent.get("packaged")
        return [f"What was packaged of it can’t be told: {why}."] if why else []
    alcohol, extract = splits[ALCOHOL], splits[RESIDUAL]
    held = f"{fixed(alcohol.packaged.value, 2)}{_NBSP}kg of alcohol and {fixed(extract.packaged.value, 2)}{_NBSP}kg of extract were packaged"
    lost = alcohol.lost.value + extract.lost.value
    if round(lost, 2) <= 0:
        return [f"{held}."]
    return [f"{held}; {fixed(alcohol.lost.value, 2)}{_NBSP}kg and {fixed(extract.lost.value, 2)}{_NBSP}kg stayed behind."]
