"""What went into the batches: goods, hops and yeasts from A to Z, each with its batches."""

from collections import Counter
from dataclasses import dataclass, field

from generator.analysis.report import Report
from generator.pages.finding_contract import Ingredient, IngredientPage, IngredientsPage, Letter, Use
from generator.pages.formatting import mass, month_year, plural, short_day, slugify
from generator.pages.site_map import SiteMap, batch_path, href, title
from generator.pages.words import fold

PATH = "ingredients.html"
MOST = 12
"""Batches of one ingredient that the page of all of them names; more have a page of their own."""
_GOODS, _HOPS, _YEAST = "malt, grain or sugar", "hops", "yeast"


@dataclass(slots=True)
class _Found:
    """One ingredient, as its batches write it."""

    kind: str
    spellings: Counter[str] = field(default_factory=Counter)
    batches: list[tuple[Report, float | None]] = field(default_factory=list)

    @property
    def name(self) -> str:
        """As most batches spell it, the newest where as many spell it otherwise."""
        return self.spellings.most_common(1)[0][0]


@dataclass(frozen=True, slots=True)
class Used:
    """One ingredient of one batch."""

    name: str
    kind: str
    mass: float | None
    """kg; None where the plan names no amount."""


def uses(report: Report) -> tuple[Used, ...]:
    """What went into a batch, in the order of its plan; several additions of one name are one."""
    plan = report.batch.plan
    named = [(good.name, _GOODS, good.mass) for good in plan.grist] + [(hop.name, _HOPS, hop.mass) for hop in plan.hops]
    masses: dict[tuple[str, str], float] = {}
    names: dict[tuple[str, str], str] = {}
    for name, kind, kilograms in named:
        key = _key(name, kind)
        names.setdefault(key, _tidy(name))
        masses[key] = masses.get(key, 0.0) + kilograms
    found = [Used(name, key[1], masses[key]) for key, name in names.items()]
    return (*found, Used(_tidy(plan.yeast.name), _YEAST, None)) if _tidy(plan.yeast.name) else tuple(found)


def _tidy(name: str) -> str:
    return " ".join(name.split())


def _key(name: str, kind: str) -> tuple[str, str]:
    """What two spellings of one ingredient share."""
    return _tidy(name).casefold(), kind


def _all(site: SiteMap) -> list[_Found]:
    """Every ingredient, from A to Z; one spelt with other capitals or spaces is the same."""
    found: dict[tuple[str, str], _Found] = {}
    for report in site.reports:
        for used in uses(report):
            one = found.setdefault(_key(used.name, used.kind), _Found(used.kind))
            one.spellings[used.name] += 1
            one.batches.append((report, used.mass))
    return sorted(found.values(), key=lambda one: (_letter(one.name) == "0–9", fold(one.name), one.name, one.kind))


def _letter(name: str) -> str:
    """The letter that a name stands under."""
    first = next((letter for letter in fold(name) if letter.isalnum()), "")
    return first.upper() if first.isalpha() else "0–9"


def _paths(found: list[_Found]) -> dict[int, str]:
    """Pages of the ingredients with many batches, by their place; no two of one name."""
    taken: set[str] = set()
    paths = {}
    for number, one in enumerate(found):
        if len(one.batches) > MOST:
            name = stem = slugify(one.name)
            while name in taken:
                name = f"{stem}-{one.kind.split()[-1]}" if name == stem else f"{name}-again"
            taken.add(name)
            paths[number] = f"ingredients/{name}.html"
    return paths


def ingredient_pages(site: SiteMap) -> dict[str, IngredientsPage | IngredientPage]:
    """ingredients.html, and ingredients/<name>.html of each one in many batches."""
    found = _all(site)
    paths = _paths(found)
    letters: dict[str, list[Ingredient]] = {}
    for number, one in enumerate(found):
        shown = tuple(_use(report, kilograms, "") for report, kilograms in one.batches[:MOST])
        rest = len(one.batches) - len(shown)
        more = f"all {len(one.batches)} batches" if rest else ""
        letters.setdefault(_letter(one.name), []).append(Ingredient(one.name, one.kind, shown, more, href(paths.get(number, ""))))
    count = f"{plural(len(found), 'name').capitalize()}, each with the batches that used it" if found else "No batch names any yet"
    page = IngredientsPage(
        site.shell("Ingredients", "Every malt, grain, sugar, hop and yeast used, from A to Z, with its batches.", PATH, PATH),
        "Ingredients",
        count,
        tuple(Letter(letter, f"letter-{number}", tuple(entries)) for number, (letter, entries) in enumerate(letters.items(), 1)),
    )
    return {PATH: page} | {path: _page(site, found[number], path) for number, path in paths.items()}


def _use(report: Report, kilograms: float | None, root: str) -> Use:
    brewed = report.batch.plan.batch.brewed
    amount, grams = ("", "") if kilograms is None else (mass(kilograms), f"{kilograms * 1000.0:.1f}")
    return Use(title(report), root + href(batch_path(report.batch.slug)), brewed.isoformat(), f"{short_day(brewed)} {brewed.year}", amount, grams)


def _page(site: SiteMap, one: _Found, path: str) -> IngredientPage:
    """The page of one ingredient: the newest batch first."""
    oldest, newest = (month_year(report.batch.plan.batch.brewed) for report in (one.batches[-1][0], one.batches[0][0]))
    return IngredientPage(
        site.shell(f"{one.name}, {one.kind}", f"All batches with {one.name} ({one.kind}).", path),
        one.name,
        f"{one.kind.capitalize()}, in {plural(len(one.batches), 'batch', 'batches')} from {oldest} to {newest}",
        tuple(_use(report, kilograms, "../") for report, kilograms in one.batches),
    )
