"""The front page, the page of a recipe, and the lessons."""

from collections.abc import Iterable

from generator.analysis.report import Report
from generator.charts.chart import Chart
from generator.charts.views import Dot
from generator.pages import notes, search
from generator.pages.account import row
from generator.pages.contracts import IndexPage, LessonGroup, LessonsPage, LessonView, Link, RecipePage, RegisterRow, Year
from generator.pages.finding_contract import FindingPage, RecipeRow, RecipesPage, YearPage
from generator.pages.formatting import BLANK, Cell, cell, fixed, month_year, number_word, places_for, plural, short_day
from generator.pages.ingredients import ingredient_pages
from generator.pages.site_map import SiteMap, batch_path, href, recipe_path, title, year_path
from generator.pages.statement import summary

_NEWEST_LESSONS = 3
FRONT = 30
"""Batches that the front page has room for."""
_FRONT_RECIPES = 12


def index_page(site: SiteMap) -> IndexPage:
    """index.html."""
    settings = site.settings
    lessons = [lesson for report in site.reports for lesson in _lessons(report, "")]
    planned = [report for report in site.reports if not report.brewed]
    brewed = [report for report in site.reports if report.brewed]
    shown, newest = lessons[:_NEWEST_LESSONS], _front(site)
    note = (
        f"The {number_word(len(shown))} newest of {number_word(len(lessons))}, each with the batch that taught it."
        if len(lessons) > len(shown)
        else ""
    )
    return IndexPage(
        site.shell(
            settings.title, settings.description or f"The brewing journal of {settings.brewer or settings.title}.", "index.html", "index.html"
        ),
        settings.title,
        f"Kept by {settings.brewer}" if settings.brewer else "A brewing journal",
        _statement(site),
        _link(planned[-1], "", summary(planned[-1])) if planned else None,
        _link(brewed[0], "", summary(brewed[0])) if brewed else None,
        years(newest, "", settings.brewer),
        "Every batch, the newest first" if len(newest) == len(site.reports) else f"The newest {number_word(len(newest))} batches",
        tuple(Link(year, year_path(year), plural(len(reports), "batch", "batches")) for year, reports in _by_year(site).items()),
        tuple(
            Link(batches[-1].batch.plan.batch.recipe, href(f"recipes/{key}.html"), plural(len(batches), "batch", "batches"))
            for key, batches in list(site.recipes.items())[:_FRONT_RECIPES]
        ),
        f"All {number_word(len(site.recipes))} recipes" if len(site.recipes) > _FRONT_RECIPES else "The recipes as a table",
        tuple(shown),
        note,
    )


def _by_year(site: SiteMap) -> dict[str, list[Report]]:
    """Batches by year, the newest first."""
    found: dict[str, list[Report]] = {}
    for report in site.reports:
        found.setdefault(str(report.batch.plan.batch.brewed.year), []).append(report)
    return found


def _front(site: SiteMap) -> list[Report]:
    """The batches of the newest years, as many whole years as the front page has room for; of a year too long its newest."""
    first, *others = _by_year(site).values() or [[]]
    newest = first[:FRONT]
    for reports in others:
        if len(newest) + len(reports) > FRONT:
            break
        newest += reports
    return newest


def year_pages(site: SiteMap) -> dict[str, YearPage]:
    """years/<year>.html of every year."""
    found = _by_year(site)
    pages = {}
    for year, reports in found.items():
        path = year_path(year)
        pages[path] = YearPage(
            site.shell(f"Batches of {year}", f"Every batch brewed or planned in {year}, the newest first.", path),
            year,
            plural(len(reports), "batch", "batches").capitalize(),
            years(reports, "../", site.settings.brewer),
            tuple((other, f"{other}.html") for other in found if other != year),
        )
    return pages


def finding_pages(site: SiteMap) -> dict[str, FindingPage]:
    """Every page that only leads to batches, by its path."""
    return {**year_pages(site), "recipes.html": recipes_page(site), **ingredient_pages(site), search.PATH: search.search_page(site)}


def recipes_page(site: SiteMap) -> RecipesPage:
    """recipes.html: every recipe, the one brewed last first."""
    rows = tuple(
        RecipeRow(batches[-1].batch.plan.batch.recipe, href(f"recipes/{key}.html"), len(batches), _month(batches[0]), _month(batches[-1]))
        for key, batches in site.recipes.items()
    )
    return RecipesPage(
        site.shell("Recipes", f"Every recipe of {site.settings.title}, with how often it was brewed.", "recipes.html"),
        "Recipes",
        f"{plural(len(rows), 'recipe').capitalize()}, the one brewed last first",
        rows,
    )


def _month(report: Report) -> tuple[str, str]:
    day = report.batch.plan.batch.brewed
    return day.isoformat(), month_year(day)


def _link(report: Report, root: str, note: str) -> Link:
    return Link(title(report), root + href(batch_path(report.batch.slug)), note)


def _statement(site: SiteMap) -> str:
    """How the journal stands, in words."""
    count = plural(len(site.reports), "batch", "batches").capitalize()
    first = f"{count} of {plural(len(site.recipes), 'recipe')}."
    verdicts = [report.figures["original_gravity"].verdict for report in site.reports]
    words = {"on plan": "on plan", "below plan": "short", "above plan": "over"}
    counts = [(sum(verdict == key for verdict in verdicts), word) for key, word in words.items()]
    known = [(count, f"{number_word(count)} {word}") for count, word in counts if count]
    if not known:
        return first
    *most, last = [words for _, words in known]
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"{first} Of the original gravities {listed.replace(' ', ' was ' if known[0][0] == 1 else ' were ', 1)}."


def years(reports: Iterable[Report], root: str, keeper: str) -> tuple[Year, ...]:
    """A register of batches by year, in the order given; brewers other than the journal's keeper are named."""
    found: list[tuple[str, list[RegisterRow]]] = []
    for report in reports:
        year = str(report.batch.plan.batch.brewed.year)
        if not found or found[-1][0] != year:
            found.append((year, []))
        found[-1][1].append(_register_row(report, root, keeper))
    return tuple(Year(year, tuple(rows)) for year, rows in found)


def _register_row(report: Report, root: str, keeper: str) -> RegisterRow:
    figures = report.figures
    gravity = row(figures["original_gravity"])
    volume, final, abv = figures["fermenter_volume"], figures["final_gravity"], figures["abv"]
    steps = "" if not gravity.difference.text else _steps(gravity.difference.text)
    verdict = {"short": "short", "gain": "over"}.get(gravity.tone, gravity.verdict) if report.brewed else "planned"
    brewed = report.batch.plan.batch.brewed
    day, _, month = short_day(brewed).partition(" ")
    brewer = "" if report.batch.brewer == keeper else report.batch.brewer
    return RegisterRow(
        brewed.isoformat(), Cell(day, " " + month), title(report), root + href(batch_path(report.batch.slug)), brewer,
        _value(volume.measured.value if volume.measured else volume.plan, 1), gravity.plan.text, gravity.read.text, cell(steps),
        verdict if gravity.difference.text or not report.brewed else "", gravity.tone,
        _value(figures["mash_efficiency"].measured.value if figures["mash_efficiency"].measured else None, 1),
        row(final).read.text, _value(abv.measured.value if abv.measured else None, 1),
    )  # fmt: skip


def _steps(difference: str) -> str:
    """A difference of printed gravities in points: "−0.005" is −5."""
    sign, digits = difference[0] if not difference[0].isdigit() else "", difference.lstrip("+\N{MINUS SIGN}")
    value = float(digits) * 1000.0
    return sign + (f"{value:.0f}" if abs(value - round(value)) < 1e-6 else f"{value:.1f}")


def _value(value: float | None, places: int) -> Cell:
    return BLANK if value is None else cell(fixed(value, places))


def _lessons(report: Report, root: str) -> list[LessonView]:
    link = root + href(batch_path(report.batch.slug))
    return [LessonView(notes.inline(lesson.markdown), title(report), link) for lesson in report.batch.notes.lessons]


def history_figure(batches: list[Report]) -> str | None:
    """The figure that a recipe's history shows: mash efficiency where two batches have it, else original gravity."""
    for key in ("mash_efficiency", "original_gravity"):
        if sum(report.figures[key].measured is not None for report in batches) >= 2:
            return key
    return None


def history_dots(batches: list[Report], key: str) -> list[Dot]:
    """A recipe's batches as dots of its history."""
    dots = []
    for report in batches:
        figure = report.figures[key]
        estimate = figure.measured
        value, low, high = (estimate.value, estimate.low, estimate.high) if estimate else (None, None, None)
        dots.append(Dot(month_year(report.batch.plan.batch.brewed), value, low, high, figure.plan))
    return dots


def history_description(batches: list[Report], key: str) -> str:
    """A recipe's history in words."""
    parts = []
    for report in batches:
        figure = report.figures[key]
        if figure.measured:
            places = places_for(figure.measured.half_width, figure.entry.unit)
            doubt = fixed(figure.measured.half_width, places)
            parts.append(f"{fixed(figure.measured.value, places)} in {month_year(report.batch.plan.batch.brewed)}, give or take {doubt}")
    return f"{batches[0].figures[key].entry.label}: {'; '.join(parts)}."


def recipe_page(site: SiteMap, key: str, history: Chart | None) -> RecipePage:
    """recipes/<recipe>.html: the newest batch first."""
    batches = site.recipes[key]
    name = batches[-1].batch.plan.batch.recipe
    figure = history_figure(batches)
    caption = ("", "")
    if figure and history:
        caption = (
            f"{batches[0].figures[figure].entry.label}, batch after batch.",
            "Dots are what was read, whiskers its doubt, open marks what was planned.",
        )
    return RecipePage(
        site.shell(f"{name}, the recipe", f"All batches of {name}, side by side.", recipe_path(name)),
        name,
        f"{plural(len(batches), 'batch', 'batches').capitalize()}, {_span(batches)}",
        history,
        caption,
        years(reversed(batches), "../", site.settings.brewer),
        tuple(lesson for report in reversed(batches) for lesson in _lessons(report, "../")),
    )


def _span(batches: list[Report]) -> str:
    first, last = (month_year(report.batch.plan.batch.brewed) for report in (batches[0], batches[-1]))
    return first if first == last else f"{first} to {last}"


def lessons_page(site: SiteMap) -> LessonsPage:
    """lessons.html: by recipe, the newest batch first."""
    groups = tuple(
        LessonGroup(
            batches[-1].batch.plan.batch.recipe, href(f"recipes/{key}.html"), tuple(x for report in reversed(batches) for x in _lessons(report, ""))
        )
        for key, batches in site.recipes.items()
    )
    count = sum(len(group.lessons) for group in groups)
    return LessonsPage(
        site.shell("Lessons", "What each batch taught, by recipe.", "lessons.html", "lessons.html"),
        "Lessons",
        f"{plural(count, 'lesson').capitalize()}, each with the batch that taught it" if count else "No batch has a list under a heading Lessons yet",
        tuple(group for group in groups if group.lessons),
    )
