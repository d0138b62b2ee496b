"""What the pages that lead to batches may show: years, recipes, ingredients, search."""

from dataclasses import dataclass

from generator.pages.contracts import Shell, Year


@dataclass(frozen=True, slots=True)
class YearPage:
    """years/<year>.html."""

    shell: Shell
    heading: str
    under: str
    years: tuple[Year, ...]
    """One."""
    others: tuple[tuple[str, str], ...]
    """What it is, href: the years beside it."""


@dataclass(frozen=True, slots=True)
class RecipeRow:
    """One recipe in the table of all."""

    name: str
    href: str
    batches: int
    first: tuple[str, str]
    """As a key to sort by, and in words."""
    newest: tuple[str, str]


@dataclass(frozen=True, slots=True)
class RecipesPage:
    """recipes.html."""

    shell: Shell
    heading: str
    under: str
    recipes: tuple[RecipeRow, ...]


@dataclass(frozen=True, slots=True)
class Use:
    """One batch that an ingredient went into."""

    title: str
    href: str
    key: str
    """Its day, to sort by."""
    day: str
    amount: str
    """As the plan says, "" where it doesn't."""
    grams: str
    """The same, to sort by."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One name with its newest batches."""

    name: str
    kind: str
    uses: tuple[Use, ...]
    more: str
    """What the page of all its batches is called, "" where all stand here."""
    href: str


@dataclass(frozen=True, slots=True)
class Letter:
    """The names under one letter."""

    title: str
    anchor: str
    entries: tuple[Ingredient, ...]


@dataclass(frozen=True, slots=True)
class IngredientsPage:
    """ingredients.html."""

    shell: Shell
    heading: str
    under: str
    letters: tuple[Letter, ...]


@dataclass(frozen=True, slots=True)
class IngredientPage:
    """ingredients/<name>.html, of one in many batches."""

    shell: Shell
    heading: str
    under: str
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class SearchPage:
    """search.html."""

    shell: Shell
    heading: str
    under: str


FindingPage = YearPage | RecipesPage | IngredientsPage | IngredientPage | SearchPage
FINDING_TEMPLATES: dict[type, str] = {
    YearPage: "pages/year.html",
    RecipesPage: "pages/recipes.html",
    IngredientsPage: "pages/ingredients.html",
    IngredientPage: "pages/ingredient.html",
    SearchPage: "pages/search.html",
}
