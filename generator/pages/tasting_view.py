"""Tastings side by side, how they drift, and what a glass holds."""

from datetime import datetime

from markupsafe import Markup

from generator.analysis.report import Report
from generator.analysis.tasting import HIGHEST, HIGHEST_TOTAL, MONTH, Drift, Serving, Sitting, Tasting
from generator.pages.cellar_contract import ScoreRow, TastingView
from generator.pages.formatting import BLANK, Cell, cell, day_month, fixed, number_word, places_for, short_day, signed

_ENERGY = "kJ"


def tasting_view(report: Report, notes: Markup) -> TastingView:
    """All of the section.

    Args:
        report: of the batch.
        notes: what the brewer wrote of the tasting.
    """
    found = report.tastings
    scored = [one for one in found.sittings if one.scores]
    years = len({one.time.year for one in scored if one.time}) > 1
    packed = any(row.stage in ("package", "tasting") for row in report.batch.readings)
    return TastingView(
        _caption(found),
        tuple((_day(one.time, with_year=years), _age(one)) for one in scored),
        tuple(_scores(scored, what, most) for what, most in HIGHEST.items() if any(what in one.scores for one in scored)),
        _total(scored),
        _drift(found.drift),
        _glass(report.serving) if packed else "",
        tuple((_when(one), "; ".join(_closed(note) for note in one.notes)) for one in found.sittings if one.notes),
        notes,
    )


def _closed(note: str) -> str:
    return note.rstrip(".")


def _day(time: datetime | None, *, with_year: bool) -> str:
    if time is None:
        return "no day"
    return f"{short_day(time)} {time.year}" if with_year else short_day(time)


def _age(one: Sitting) -> str:
    return "" if one.age is None else f"day {fixed(round(one.age), 0)}"


def _when(one: Sitting) -> str:
    return "Without a day" if one.time is None else f"{day_month(one.time)} {one.time.year}"


def _caption(found: Tasting) -> str:
    return f"Scores; days count from the {'packaging' if found.age_from == 'packaging' else 'day of brewing'}"


def _score(value: float | None) -> Cell:
    return BLANK if value is None else cell(f"{value:g}")


def _scores(scored: list[Sitting], what: str, most: float) -> ScoreRow:
    return ScoreRow(what.capitalize(), tuple(_score(one.scores.get(what)) for one in scored), _score(most))


def _total(scored: list[Sitting]) -> ScoreRow | None:
    if all(one.total is None for one in scored):
        return None
    return ScoreRow("Sum", tuple(_score(one.total) for one in scored), _score(HIGHEST_TOTAL))


def _points(value: float) -> str:
    """Points in words where they are whole, in digits where they aren't."""
    count = abs(value)
    return f"{number_word(round(count)) if count == round(count) else f'{count:g}'} {'point' if count == 1 else 'points'}"


def _drift(found: Drift | None) -> str:
    """What age did to it, in one sentence or two."""
    if found is None:
        return ""
    days = round(found.days)
    since = f"in {days} day{'' if days == 1 else 's'}"
    if not found.total:
        words = f"The sum is the same {since}"
    else:
        words = f"It {'gained' if found.total > 0 else 'lost'} {_points(found.total)} of {HIGHEST_TOTAL:g} {since}"
    changes = ", ".join(f"{what} {signed(change, 0 if change == round(change) else 1)}" for what, change in found.scores.items() if change)
    words += f": {changes}." if changes else "."
    slope = found.slope
    if slope is not None:
        way = "rises" if slope.value > 0 else "falls"
        words += f" A straight line through {number_word(slope.freedom + 2)} tastings {way} by {abs(slope.value):.1f} points in {MONTH:g} days "
        words += f"(standard error {slope.error:.1f})."
    return words


def _glass(found: Serving | None) -> str:
    """What a glass holds: alcohol, standard drinks by the journal's own measure, energy."""
    if found is None:
        return ""
    held = []
    if found.alcohol is not None:
        places = min(places_for(found.alcohol.half_width, "g"), 1)
        grams = f"{fixed(found.alcohol.value, places)} g of alcohol (±{fixed(found.alcohol.half_width, places)})"
        if found.drinks is not None and found.standard_drink:
            drinks = fixed(found.drinks.value, 1)
            grams += (
                f", which is {drinks} standard {'drink' if drinks == '1.0' else 'drinks'} of {found.standard_drink:g} g as this journal counts them"
            )
        held.append(grams)
    if found.energy is not None:
        held.append(f"{_rounded(found.energy.value, found.energy.half_width)} {_ENERGY}")
    return f"A glass of {_litres(found.litres)} holds {', and '.join(held)}." if held else ""


def _rounded(value: float, half_width: float) -> str:
    """To tens where the doubt is that large."""
    return fixed(round(value, -1 if half_width >= 3.0 else 0), 0)


def _litres(litres: float) -> str:
    return f"{1000.0 * litres:.0f} mL" if litres < 1.0 else f"{litres:g} L"
