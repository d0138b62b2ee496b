"""The fermentation as curves, rows and words."""

from generator.analysis.timeline import Fermentation, Point
from generator.charts.views import Curves, Mark
from generator.pages.contracts import FermentationRow
from generator.pages.formatting import BLANK, cell, clock, plural, short_day


def curves(fermentation: Fermentation, planned_final: float | None) -> Curves:
    """What the chart shows."""
    logged_temperature = [Mark(p.days, p.temperature) for p in fermentation.logged if p.temperature is not None]
    by_hand_temperature = [Mark(p.days, p.temperature) for p in fermentation.by_hand if p.gravity is None and p.temperature is not None]
    enough = len(by_hand_temperature) >= 2
    return Curves(
        tuple(Mark(p.days, p.gravity, p.half_width or 0.0, p.estimate) for p in fermentation.by_hand if p.gravity is not None),
        tuple(Mark(p.days, p.gravity) for p in fermentation.logged if p.gravity is not None),
        tuple(logged_temperature or (by_hand_temperature if enough else ())),
        bool(logged_temperature),
        planned_final,
    )


def rows(fermentation: Fermentation) -> tuple[FermentationRow, ...]:
    """Every reading by hand, and one row a day of a logger."""
    daily: dict[int, Point] = {}
    for point in fermentation.logged:
        daily.setdefault(int(point.days // 1), point)
    points = [(point, "hand") for point in fermentation.by_hand] + [(point, "logger") for point in daily.values()]
    return tuple(_row(point, by) for point, by in sorted(points, key=lambda pair: (pair[0].days, pair[1])))


def _row(point: Point, by: str) -> FermentationRow:
    estimate = ", an estimate" if point.estimate else ""
    return FermentationRow(
        f"{short_day(point.time)} {clock(point.time)}",
        cell(f"{point.days:.1f}".replace("-", "\N{MINUS SIGN}")),
        BLANK if point.gravity is None else cell(f"{point.gravity:.4f}"),
        BLANK if point.half_width is None else cell(f"±{point.half_width:.3f}"),
        BLANK if point.temperature is None else cell(f"{point.temperature:.1f}"),
        by + estimate,
    )


def _span(fermentation: Fermentation) -> tuple[list[Point], float]:
    hand = [point for point in fermentation.by_hand if point.gravity is not None]
    return hand, max(point.days for point in (*fermentation.by_hand, *fermentation.logged))


def caption(fermentation: Fermentation) -> tuple[str, str]:
    """What it is, and what to look at."""
    hand, days = _span(fermentation)
    first, last = hand[0], hand[-1]
    what = f"From {first.gravity:.3f} to {last.gravity:.3f} in {last.days:.0f} days." if len(hand) > 1 else f"The logger’s {days:.0f} days."
    logged = any(point.gravity is not None for point in fermentation.logged)
    dots = "Filled dots are readings of wort, open ones estimates by refractometer" if any(point.estimate for point in hand) else "Dots are readings"
    see = f"{dots}, {'whiskers' if logged else 'the pale band'} their doubt, the dashed rule the planned final gravity."
    if logged:
        see += " The thin line is the logger, as it came."
    return what, see


def description(fermentation: Fermentation, planned_final: float | None) -> str:
    """The chart in words, for those who can't see it."""
    hand, days = _span(fermentation)
    words = f"{plural(len(hand), 'reading').capitalize()} over {days:.0f} days, from {hand[0].gravity:.3f} to {hand[-1].gravity:.3f}"
    plan = f"; {planned_final:.3f} was planned" if planned_final is not None else ""
    warm = [point.temperature for point in (*fermentation.logged, *fermentation.by_hand) if point.temperature is not None]
    temperature = f". Temperatures from {min(warm):.1f} to {max(warm):.1f} °C" if warm else ""
    return f"{words}{plan}{temperature}."


def note(fermentation: Fermentation) -> str:
    """What the table leaves out."""
    if not fermentation.logged:
        return ""
    return f"Of the logger’s {len(fermentation.logged)} rows the table holds the first of each day; all of them are in gravity-log.csv."
