"""The account: planned, read, difference and doubt of each figure, rounded together."""

from dataclasses import dataclass

from generator.analysis.catalogue import FIGURES, GROUPS, Entry
from generator.analysis.figures import Figure
from generator.pages.formatting import BLANK, Cell, cell, fixed, number_word, places_for, signed

_CLOSING = ("brewhouse_efficiency", "abv")
_MAIN = frozenset(
    (
        "grist_mass", "conversion_efficiency", "lauter_efficiency", "mash_efficiency", "pre_boil_volume", "pre_boil_gravity", "post_boil_volume",
        "evaporation_rate", "fermenter_volume", "original_gravity", "final_gravity", "apparent_attenuation", "carbonation", *_CLOSING,
    )
)  # fmt: skip
_MORE_IS_BETTER = frozenset(
    ("conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency", "original_gravity", "pre_boil_gravity", "abv")
)


@dataclass(frozen=True, slots=True)
class Row:
    """One figure in the account."""

    key: str
    label: str
    unit: str
    plan: Cell
    plan_from: str
    """`target`, `predicted`, or nothing where nothing was planned."""
    read: Cell
    difference: Cell
    verdict: str
    tone: str
    """`short`, `gain` or `quiet`."""
    doubt: Cell


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one heading."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Account:
    """The account of a batch."""

    groups: tuple[Group, ...]
    closing: tuple[Row, ...]
    """Under the rule that closes the account."""
    further: tuple[Row, ...]
    """Figures that don't stand in the account itself."""
    missing: tuple[tuple[str, str], ...]
    """Figures of the account that couldn't be measured, with the reason."""


def account(figures: dict[str, Figure], *, brewed: bool) -> Account:
    """The account of a batch from its figures; rows of which nothing is known are left out."""
    known = [entry for entry in FIGURES if figures[entry.key].plan is not None or figures[entry.key].measured is not None]
    groups = tuple(
        Group(title, _rows(figures, [e for e in known if e.group == title and e.key in _MAIN and e.key not in _CLOSING], brewed=brewed))
        for title in GROUPS
    )
    missing = [
        (entry.label, figures[entry.key].why_absent or "")
        for entry in FIGURES
        if brewed and entry.key in _MAIN and figures[entry.key].measured is None
    ]
    return Account(
        tuple(group for group in groups if group.rows),
        _rows(figures, [entry for entry in known if entry.key in _CLOSING], brewed=brewed),
        _rows(figures, [entry for entry in known if entry.key not in _MAIN], brewed=brewed),
        tuple(missing),
    )


def _rows(figures: dict[str, Figure], entries: list[Entry], *, brewed: bool) -> tuple[Row, ...]:
    return tuple(row(figures[entry.key], brewed=brewed) for entry in entries)


def row(figure: Figure, *, brewed: bool = True) -> Row:
    """One figure rounded: no digit that the doubt swallows, and the difference is that of the printed numbers."""
    entry, measured, plan = figure.entry, figure.measured, figure.plan
    half_width = measured.half_width if measured else None if brewed else _of_prediction(figure)
    places = places_for(half_width, entry.unit)
    difference = None
    if measured is not None and plan is not None:
        difference = round(measured.value, places) - round(plan, places)
    verdict, tone = _verdict(figure, difference)
    return Row(
        entry.key, entry.label, entry.unit,
        BLANK if plan is None else cell(fixed(plan, places)),
        figure.expected.plan_from or "",
        BLANK if measured is None else cell(fixed(measured.value, places)),
        BLANK if difference is None else cell(signed(difference, places)),
        verdict, tone,
        _doubt(half_width, places),
    )  # fmt: skip


def _doubt(half_width: float | None, places: int) -> Cell:
    """A doubt as fine as its figure, or one digit finer where it would look like none."""
    if half_width is None:
        return BLANK
    text = fixed(half_width, places if float(fixed(half_width, places)) else places + 1)
    return cell("±" + text) if float(text) else BLANK


def _of_prediction(figure: Figure) -> float | None:
    """Half-width of a plan that is a prediction; None where there is no doubt in it."""
    if figure.prediction is None or figure.expected.plan_from != "predicted":
        return None
    return figure.prediction.half_width or None


def _verdict(figure: Figure, difference: float | None) -> tuple[str, str]:
    verdict = figure.verdict
    if verdict == "not measured":
        return ("not read" if figure.why_absent and not figure.entry.planned_only else "", "quiet")
    if verdict in ("on plan", "no plan"):
        return verdict, "quiet"
    low = verdict == "below plan"
    tone = ("short" if low else "gain") if figure.entry.key in _MORE_IS_BETTER else "plain"
    steps = round(abs(difference or 0.0) * 1000.0)
    if figure.entry.unit == "SG" and steps:
        words = ("below", "above") if figure.entry.key == "final_gravity" else ("short", "over")
        return f"{steps} point{'' if steps == 1 else 's'} {words[0 if low else 1]}", tone
    return verdict, tone


def points_in_words(steps: int) -> str:
    """Points in words: one point, five points."""
    return f"{number_word(steps)} point{'' if steps == 1 else 's'}"
