"""Where things stand in the site: paths, titles and the order of batches of a recipe."""

from dataclasses import dataclass
from functools import cached_property
from urllib.parse import quote

from generator.analysis.report import Report
from generator.pages.contracts import Link, Shell
from generator.pages.formatting import slugify
from generator.records.models import JournalSettings


@dataclass(frozen=True)
class SiteMap:
    """All batches of a journal, and where each page is."""

    settings: JournalSettings
    reports: tuple[Report, ...]
    """The newest first."""

    @cached_property
    def recipes(self) -> dict[str, list[Report]]:
        """Batches by the file name of their recipe, the oldest first; recipes in the order of their newest batch."""
        found: dict[str, list[Report]] = {}
        for report in self.reports:
            found.setdefault(slugify(report.batch.plan.batch.recipe), []).insert(0, report)
        return found

    @cached_property
    def by_slug(self) -> dict[str, Report]:
        """Batches by slug."""
        return {report.batch.slug: report for report in self.reports}

    def siblings(self, report: Report) -> list[Report]:
        """All batches of the same recipe, the oldest first."""
        return self.recipes[slugify(report.batch.plan.batch.recipe)]

    def shell(self, title: str, description: str, path: str, here: str = "") -> Shell:
        """What surrounds the page at `path`."""
        root = "../" * path.count("/")
        base = self.settings.base_url.rstrip("/")
        navigation = (
            Link("Batches", "index.html"), Link("Ingredients", "ingredients.html"), Link("Lessons", "lessons.html"),
            Link("Methods", "methods.html"), Link("Safety", "safety.html"), Link("Search", "search.html"),
        )  # fmt: skip
        journal = self.settings.title
        return Shell(
            journal, self.settings.language or "en", title if title == journal else f"{title} – {journal}", description, root, navigation, here,
            f"{base}/{quote(path)}" if base else "", f"{base}/feed.xml" if base else "", f"{base}/feed.json" if base else "",
        )  # fmt: skip


def order(reports: list[Report]) -> tuple[Report, ...]:
    """The newest first, then by slug."""
    by_slug = sorted(reports, key=lambda report: report.batch.slug)
    return tuple(sorted(by_slug, key=lambda report: report.batch.plan.batch.brewed, reverse=True))


def title(report: Report) -> str:
    """What a batch is called."""
    about = report.batch.plan.batch
    return about.title or about.recipe


def batch_path(slug: str) -> str:
    """Path of a batch page."""
    return f"batches/{slug}.html"


def sheet_path(slug: str) -> str:
    """Path of a brew sheet."""
    return f"batches/{slug}-sheet.html"


def href(path: str) -> str:
    """A path as a link from the site's root."""
    return quote(path)


def recipe_path(recipe: str) -> str:
    """Path of a recipe's page."""
    return f"recipes/{slugify(recipe)}.html"


def year_path(year: str) -> str:
    """Path of a year's page."""
    return f"years/{year}.html"
