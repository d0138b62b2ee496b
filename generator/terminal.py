"""The brew day's numbers as one page of a terminal, from 60 columns, with or without colour."""

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from rich.box import Box
from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from generator.analysis.cautions import Caution
from generator.analysis.report import Report
from generator.errors import printable
from generator.pages import fit_view
from generator.pages.formatting import fixed, long_date, places_for, signed
from generator.planning.numbers import BrewDay, Number, Portion, brew_day

_NARROWEST, _WIDEST = 50, 100
_GAP = 2
_HALF = (_WIDEST - _GAP) // 2
_LONG_UNIT = 6
"""Characters; a longer unit stands in the label, so that the numbers keep narrow columns."""
_NONE = "–"
_PREDICTED = ", predicted"
_RULED = Box("    \n    \n ── \n    \n    \n    \n    \n    \n")
"""A rule under the heads, and no other."""
_FIGURE = 9
"""Least width of a column of numbers, so that they stand below one another in all tables."""
_SEVERITIES = {"stop": "bold red", "caution": "bold", "note": ""}


def page(report: Report, width: int, *, colour: bool) -> str:
    """The plan of a batch in numbers.

    Args:
        report: of the batch without its readings.
        width: columns of the terminal.
        colour: whether the terminal takes bold and colour.
    """
    day = brew_day(report)
    left = [_portions("Goods", day.goods), _portions("Hops", day.hops), *map(_section, day.sections[:1])]
    right = list(map(_section, day.sections[1:]))
    parts = [
        _head(report), _side_by_side([part for part in left if part], right, width), *_judgement(report), *_left_open(day),
        *_cautions(report.cautions, ()),
    ]  # fmt: skip
    return _printed(parts, width, colour=colour)


def comparison(before: Report, after: Report, changes: Sequence[str], width: int, *, colour: bool) -> str:
    """What changes on the brew day when the plan is changed.

    Args:
        before: of the batch as planned, without its readings.
        after: of the batch with the changes.
        changes: as they were given.
        width: columns of the terminal.
        colour: whether the terminal takes bold and colour.
    """
    old, new = _flat(brew_day(before)), _flat(brew_day(after))
    parts: list[RenderableType] = [
        _head(after),
        Text("\n".join(f"{'if' if not number else 'and'} {_safe(text)}" for number, text in enumerate(changes))),
    ]
    table, same = _table("", "plan", "changed", "difference"), 0
    pairs = {key: _pair(old.get(key), new.get(key)) for key in [*new, *(key for key in old if key not in new)]}
    for (title, name), texts in pairs.items():
        if texts == pairs.get((title, name.removesuffix(_PREDICTED))) and name.endswith(_PREDICTED):
            continue
        if texts[0] == texts[1]:
            same += not name.endswith(_PREDICTED)
        else:
            table.add_row(Text(_safe(_label(new.get((title, name)) or old.get((title, name))))), *map(Text, texts))
    if table.row_count:
        parts.append(table)
    parts.append(Text(f"{same} number{'s' if same != 1 else ''} of the brew day stay{'' if same != 1 else 's'} as planned; the file is as it was."))
    parts += _cautions(after.cautions, tuple(caution for caution in before.cautions if caution not in after.cautions), before.cautions)
    return _printed(parts, width, colour=colour)


def _printed(parts: Sequence[RenderableType], width: int, *, colour: bool) -> str:
    """The parts as text; what surrounds the process is not asked, the caller has done that."""
    console = Console(
        file=io.StringIO(), width=max(_NARROWEST, min(width, _WIDEST)), color_system="standard" if colour else None, force_terminal=colour,
        no_color=not colour, legacy_windows=False, markup=False, emoji=False, highlight=False, _environ={},
    )  # fmt: skip
    with console.capture() as captured:
        console.print(*(Padding(part, (0, 0, 1, 0)) for part in parts), sep="")
    return re.sub(r" +$", "", captured.get(), flags=re.MULTILINE).rstrip("\n")


def _safe(text: str) -> str:
    return printable(text)


def _head(report: Report) -> Text:
    about, house = report.batch.plan.batch, report.batch.brewhouse
    title = about.title or about.recipe
    facts = [about.recipe if about.recipe != title else "", long_date(about.brewed), house.name if house else "", report.batch.slug]
    return Text(_safe(title), "bold").append(Text("\n" + _safe(" · ".join(fact for fact in facts if fact)), "not bold"))


def _table(title: str, *heads: str) -> Table:
    table = Table(box=_RULED, expand=True, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold", show_edge=False)
    table.add_column(title, ratio=1, overflow="fold")
    for head in heads:
        table.add_column(head, justify="right", no_wrap=True, min_width=_FIGURE)
    return table


def _portions(title: str, portions: Sequence[Portion]) -> Table | None:
    if not portions:
        return None
    table = _table(title, "mass", "share" if title == "Goods" else "gives")
    for portion in portions:
        gives = portion.gives
        table.add_row(Text(_safe(_named(portion))), _number(portion.mass, "kg"), _number(gives.plan, gives.unit) if gives else "")
    return table


def _named(portion: Portion) -> str:
    return ", ".join(filter(None, (portion.label, portion.when)))


def _section(section: tuple[str, Sequence[Number]]) -> Table:
    title, numbers = section
    further = [_further(number) for number in numbers]
    table = _table(title, "plan", "predicted" if any(further) and not any(number.limit for number in numbers) else "")
    for number, text in zip(numbers, further, strict=True):
        table.add_row(Text(_label(number)), _number(number.plan, number.unit), Text(text, "bold" if text.startswith("over") else ""))
    return table


def _further(number: Number) -> str:
    """What stands beside a planned number: what the vessel holds, or what the rest of the plan predicts, if that is something else."""
    if number.limit is not None:
        over = number.plan is not None and number.plan > number.limit
        return f"{'over' if over else 'of'} {number.limit:.3g} {number.unit}"
    if number.predicted is None:
        return ""
    doubt = "" if number.half_width is None else f"±{fixed(number.half_width, places_for(number.half_width, number.unit))}"
    predicted = _number(number.predicted, number.unit)
    return f"{'' if predicted == _number(number.plan, number.unit) else predicted} {doubt}".strip()


def _side_by_side(left: Sequence[RenderableType], right: Sequence[RenderableType], width: int) -> RenderableType:
    """Two columns where they fit, else one below the other."""
    if width < _WIDEST or not left or not right:
        return _stacked([*left, *right])
    grid = Table.grid(padding=(0, _GAP, 0, 0), pad_edge=False)
    grid.add_column(width=_HALF)
    grid.add_column(width=_HALF)
    grid.add_row(_stacked(left), _stacked(right))
    return grid


def _stacked(parts: Sequence[RenderableType]) -> Group:
    return Group(*(Padding(part, (0, 0, 1, 0)) for part in parts[:-1]), *parts[-1:])


def _left_open(day: BrewDay) -> Iterator[RenderableType]:
    """Figures that the plan can't tell, by their reason."""
    reasons: dict[str, list[str]] = {}
    for label, why in day.open:
        reasons.setdefault(why, []).append(label)
    if reasons:
        text = Text("Not known from this plan", "bold")
        for why, labels in reasons.items():
            text.append(f"\n{', '.join(labels)}: {_safe(why)}.", "not bold")
        yield text


def _cautions(standing: Sequence[Caution], gone: Sequence[Caution], before: Sequence[Caution] | None = None) -> Iterator[RenderableType]:
    """The cautions, the gravest word first; beside a changed plan also which are new, and which no longer stand."""
    slugs = {caution.slug for caution in standing}
    known = None if before is None else {caution.slug for caution in before}
    table = Table(box=_RULED, expand=True, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold", show_edge=False)
    table.add_column("Cautions", no_wrap=True)
    table.add_column("", ratio=1, overflow="fold")
    for caution in standing:
        new = known is not None and caution.slug not in known
        table.add_row(Text(caution.severity, _SEVERITIES[caution.severity]), Text(("New: " if new else "") + _safe(caution.text)))
    for caution in gone:
        if caution.slug not in slugs:
            table.add_row(Text("gone"), Text(_safe(caution.text)))
    if table.row_count:
        yield table


def _judgement(report: Report) -> Iterator[RenderableType]:
    """Whether the plan agrees with itself and fits its vessel, and what would make it fit."""
    sentences = [*map(fit_view.contradiction, report.contradictions), *fit_view.fit_sentences(report.fit), *fit_view.liquor_sentences(report.liquor)]
    if sentences:
        yield Text("\n".join(sentences))
    rows = fit_view.way_rows(report.fit)
    if rows:
        table = _table("What would make it fit", "grist", "beer", "gravity", "room")
        for row in rows:
            does = f"{row.name}: {row.does}" if row.does else row.name
            table.add_row(Text(does), f"{row.grist.text} kg", f"{row.volume.text} L", row.gravity, f"{row.space.text} L")
        yield table
    for name, reason in fit_view.closed_ways(report.fit):
        yield Text(f"{name}: not here; {reason}.")


def _flat(day: BrewDay) -> dict[tuple[str, str], Number]:
    """Every number of the day under a key that a changed plan shares."""
    found: dict[tuple[str, str], Number] = {}
    for kind, portions in (("goods", day.goods), ("hops", day.hops)):
        for position, portion in enumerate(portions):
            label = _named(portion)
            found[kind, f"{position}"] = Number(label, "kg", portion.mass)
            if portion.gives:
                found[kind, f"{position} gives"] = replace(portion.gives, label=f"{label}, {portion.gives.label}")
    for title, numbers in day.sections:
        for number in numbers:
            found[title, number.label] = number
            if number.predicted is not None:
                found[title, number.label + _PREDICTED] = replace(number, label=number.label + _PREDICTED, plan=number.predicted)
    return found


def _pair(before: Number | None, after: Number | None) -> tuple[str, str, str]:
    """Two numbers and the difference of what is printed of them, all in one unit."""
    unit = (after or before or Number("", "", None)).unit
    values = [None if number is None else number.plan for number in (before, after)]
    factor = 1.0
    if unit == "kg" and all(value is None or value < 0.9995 for value in values):
        unit, factor = "g", 1000.0
    places = places_for(None, unit)
    rounded = [None if value is None else round(value * factor, places) for value in values]
    texts = [_NONE if value is None else _with_unit(fixed(value, places), unit) for value in rounded]
    known = [value for value in rounded if value is not None]
    return texts[0], texts[1], _with_unit(signed(known[1] - known[0], places), unit) if len(known) == 2 else ""


def _number(value: float | None, unit: str) -> str:
    """A number with its unit; small masses in grams."""
    if value is None:
        return _NONE
    if unit == "kg" and value < 0.9995:
        value, unit = value * 1000.0, "g"
    return _with_unit(fixed(value, places_for(None, unit)), unit)


def _with_unit(number: str, unit: str) -> str:
    return number if unit == "SG" or len(unit) > _LONG_UNIT else f"{number} {unit}"


def _label(number: Number | None) -> str:
    if number is None:
        return ""
    return f"{number.label}, {number.unit}" if len(number.unit) > _LONG_UNIT else number.label
