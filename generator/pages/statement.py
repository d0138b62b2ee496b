"""The statement at the head of a batch page: what a brewer would say, made from the figures."""

from generator.analysis.figures import Figure
from generator.analysis.report import Report
from generator.pages.account import points_in_words
from generator.pages.causes import advice, causes
from generator.pages.formatting import fixed, long_date, places_for

NBSP = "\N{NO-BREAK SPACE}"


def statement(report: Report) -> tuple[str, ...]:
    """One to three sentences: planned, read, whether the difference is real, what became of it."""
    figures = report.figures
    if not report.brewed:
        return _planned(report)
    gravity = report.why.original_gravity
    wort = " ".join(text for text in (_wort(figures), causes(figures["original_gravity"], gravity)) if text)
    return tuple(text for text in (wort, _beer(figures), advice(figures, gravity)) if text)


def summary(report: Report) -> str:
    """The first sentence, for lists, feeds and descriptions."""
    if report.brewed:
        return _wort(report.figures)
    sentences = statement(report)
    return sentences[0] if sentences else report.batch.plan.batch.summary or "Nothing was read that a figure could be made of."


def _planned(report: Report) -> tuple[str, ...]:
    volume, original = report.figures["fermenter_volume"].plan, report.figures["original_gravity"].plan
    final, abv = report.figures["final_gravity"].plan, report.figures["abv"].plan
    parts = [f"{fixed(volume, 1)}{NBSP}L" if volume is not None else "", f"at {fixed(original, 3)}" if original is not None else ""]
    what = " ".join(part for part in parts if part)
    first = f"Planned for {long_date(report.batch.plan.batch.brewed)}{': ' + what if what else ''}."
    if final is None:
        return (first,)
    holds = f" and hold {fixed(abv, 1)}{NBSP}%{NBSP}vol" if abv is not None else ""
    return (first, f"It is to ferment to {fixed(final, 3)}{holds}.")


def _gravities(figure: Figure) -> tuple[str, str, int]:
    """Read and planned as printed, and the points between them."""
    measured, plan = figure.measured, figure.plan
    if measured is None:
        return "", "", 0
    places = places_for(measured.half_width, "SG")
    steps = 0 if plan is None else round((round(measured.value, places) - round(plan, places)) * 1000.0)
    return fixed(measured.value, places), "" if plan is None else fixed(plan, places), steps


def _wort(figures: dict[str, Figure]) -> str:
    figure = figures["original_gravity"]
    if figure.measured is None:
        return "The original gravity was not read, so nothing can be said of the extract."
    read, plan, steps = _gravities(figure)
    doubt = fixed(figure.measured.half_width, places_for(figure.measured.half_width, "SG"))
    if not plan:
        return f"The wort came out at {read}, give or take {doubt}; no gravity was planned."
    if figure.verdict == "on plan":
        return f"Planned at {plan}, the wort came out at {read}: on plan, within the doubt of ±{doubt}."
    if not steps:
        return f"Planned at {plan}, the wort came out at {read}, a little {'below' if figure.verdict == 'below plan' else 'above'} the plan."
    way = "short" if steps < 0 else "over"
    return f"Planned at {plan}, the wort came out at {read}: {points_in_words(abs(steps))} {way}, more than the reading can be doubted by."


def _beer(figures: dict[str, Figure]) -> str:
    final, abv = figures["final_gravity"], figures["abv"]
    if final.measured is None:
        return "No final gravity was read yet."
    read, plan, steps = _gravities(final)
    if not plan:
        first = f"It fermented to {read}"
    elif final.verdict == "on plan" or not steps:
        first = f"It fermented as planned to {read}"
    else:
        way, side = ("went down to", "below") if steps < 0 else ("stopped at", "above")
        first = f"It {way} {read}, {points_in_words(abs(steps))} {side} the planned {plan},"
    if abv.measured is None:
        return first.rstrip(",") + "."
    places = min(places_for(abv.measured.half_width, "% vol"), 1)
    holds = fixed(abv.measured.value, places)
    meant = "" if abv.plan is None or abv.verdict == "on plan" or fixed(abv.plan, places) == holds else f" where {fixed(abv.plan, places)} was meant"
    return f"{first} and holds {holds}{NBSP}%{NBSP}vol{meant}."
