"""What each page may show: one frozen dataclass a page. A template uses these fields and nothing else."""

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from generator.charts.chart import Chart
from generator.pages.account import Account
from generator.pages.cellar_contract import CellarView, PackageView, TastingView
from generator.pages.course_contract import CourseView
from generator.pages.formatting import Cell
from generator.pages.methods import Chapter
from generator.pages.photo_contract import Plate
from generator.pages.plan_contract import PlanSection
from generator.pages.safety import Hazard, RuleView
from generator.pages.sheet_contract import Liquor, SheetStep, Weighing
from generator.sources import Source


@dataclass(frozen=True, slots=True)
class Link:
    """Somewhere to go."""

    text: str
    href: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Shell:
    """What surrounds every page."""

    journal: str
    language: str
    title: str
    """Of the browser's window: unique in the site."""
    description: str
    root: str
    """From this page to the site's root: "" or "../"."""
    navigation: tuple[Link, ...]
    here: str
    """href of the current entry of the navigation, "" for none."""
    canonical: str = ""
    feed: str = ""
    json_feed: str = ""
    kind: str = "website"
    """In the terms of Open Graph."""
    image: str = ""
    """Absolute address of a picture that stands for the page."""
    linked: dict[str, Any] | None = None
    """What the page is about, in the terms of schema.org."""


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution as shown."""

    severity: str
    word: str
    text: str
    source: str
    href: str


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One line of the ledger table."""

    name: str
    is_stage: bool
    plan: Cell
    read: Cell
    share: Cell
    doubt: Cell
    tone: str


@dataclass(frozen=True, slots=True)
class TimelineRow:
    """One line of the timeline."""

    time: str
    what: str
    unit: str
    read: Cell
    at: Cell
    at_20: Cell
    note: str
    superseded: bool


@dataclass(frozen=True, slots=True)
class Day:
    """The rows of one day, or those without a time."""

    title: str
    rows: tuple[TimelineRow, ...]


@dataclass(frozen=True, slots=True)
class CauseRow:
    """One cause of a gap, or the whole of it."""

    cause: str
    effect: Cell
    doubt: Cell
    is_total: bool


@dataclass(frozen=True, slots=True)
class WeighedRow:
    """One reading of the kettle beside what the balances make of it."""

    name: str
    unit: str
    read: Cell
    reconciled: Cell
    change: Cell
    test: Cell
    suspect: bool


@dataclass(frozen=True, slots=True)
class DoubtRow:
    """Where the doubt of one figure comes from: shares in per cent, in the order of the instruments."""

    label: str
    unit: str
    doubt: Cell
    shares: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class WhyView:
    """Why a batch missed its plan, and how far its readings can be believed."""

    heading: str
    caption: tuple[str, str]
    rows: tuple[CauseRow, ...]
    note: str
    """What was taken for granted, and which reading would part merged causes."""
    alcohol: tuple[CauseRow, ...]
    litres: tuple[CauseRow, ...]
    weighed: tuple[WeighedRow, ...]
    verdict: str
    """Whether the readings of the kettle agree, in words."""
    doubts: tuple[DoubtRow, ...]
    instruments: tuple[str, ...]
    hint: str
    """What would narrow the doubt most."""


@dataclass(frozen=True, slots=True)
class BatchCharts:
    """The drawings of a batch page; None for one that has nothing to show."""

    ledger: Chart | None
    """Where the ledger has two stages or more."""
    causes: Chart | None
    """Where the original gravity has a plan and a reading."""
    fermentation: Chart | None
    """Where there is a curve."""
    rate: Chart | None = None
    """Where there are three readings or a logger."""


@dataclass(frozen=True, slots=True)
class BatchPage:
    """batches/<slug>.html."""

    shell: Shell
    heading: str
    under: str
    sheet: Link
    """The brew sheet."""
    statement: tuple[str, ...]
    summary: str
    facts: tuple[tuple[str, str, str], ...]
    """Term, text, href or ""."""
    brewed: bool
    account: Account
    cautions: dict[str, tuple[CautionView, ...]]
    """By section: plan, account, fermentation, package."""
    ledger: Chart | None
    ledger_caption: tuple[str, str]
    """What it is, and what to see."""
    ledger_rows: tuple[LedgerRow, ...]
    causes: Chart | None
    """What moved the original gravity."""
    why: WhyView
    fermentation: CourseView | None
    plan: PlanSection
    story: Markup
    gallery: tuple[Plate, ...]
    """The pictures that the notes don't place."""
    package: PackageView | None
    cellar: CellarView | None
    tasting: TastingView
    lessons: tuple[Markup, ...]
    timeline: tuple[Day, ...]
    assumptions: tuple[str, ...]
    files: tuple[Link, ...]
    neighbours: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class SheetPage:
    """batches/<slug>-sheet.html."""

    shell: Shell
    heading: str
    under: str
    batch: Link
    statement: str
    clock: str
    """What 0:00 is, and what the clock allows for."""
    portions: int
    goods: tuple[Weighing, ...]
    grist: Cell | None
    """All mashed goods, kg."""
    portion: str
    """kg in one portion of it, "" where there is one."""
    hops: tuple[Weighing, ...]
    yeast: str
    liquors: tuple[Liquor, ...]
    calibrated: str
    """At which temperature the hydrometer is right."""
    corrections: tuple[tuple[str, str], ...]
    """°C of a sample, and the points to add."""
    steps: tuple[SheetStep, ...]
    free: tuple[tuple[str, str], ...]
    """Tasks without a time on the clock: when, in the brewer's words, and what."""
    events: tuple[tuple[str, str], ...]
    """What was noted on the way: when, and what."""


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One batch in a table of batches."""

    key: str
    """Its day, to sort by."""
    day: Cell
    title: str
    href: str
    brewer: str
    litres: Cell
    plan: str
    read: str
    difference: Cell
    verdict: str
    tone: str
    efficiency: Cell
    final: str
    abv: Cell


@dataclass(frozen=True, slots=True)
class Year:
    """The batches of one year."""

    title: str
    rows: tuple[RegisterRow, ...]


@dataclass(frozen=True, slots=True)
class LessonView:
    """One lesson and the batch that taught it."""

    html: Markup
    title: str
    href: str


@dataclass(frozen=True, slots=True)
class IndexPage:
    """index.html."""

    shell: Shell
    heading: str
    under: str
    statement: str
    next_brew: Link | None
    latest: Link | None
    years: tuple[Year, ...]
    """The newest; all of them where they are few."""
    caption: str
    """Of the register."""
    all_years: tuple[Link, ...]
    recipes: tuple[Link, ...]
    """Those brewed last."""
    more_recipes: str
    """What the page of all recipes is called."""
    lessons: tuple[LessonView, ...]
    lessons_note: str


@dataclass(frozen=True, slots=True)
class RecipePage:
    """recipes/<recipe>.html."""

    shell: Shell
    heading: str
    under: str
    history: Chart | None
    history_caption: tuple[str, str]
    years: tuple[Year, ...]
    lessons: tuple[LessonView, ...]


@dataclass(frozen=True, slots=True)
class LessonGroup:
    """The lessons of one recipe."""

    title: str
    href: str
    lessons: tuple[LessonView, ...]


@dataclass(frozen=True, slots=True)
class LessonsPage:
    """lessons.html."""

    shell: Shell
    heading: str
    under: str
    groups: tuple[LessonGroup, ...]


@dataclass(frozen=True, slots=True)
class MethodsPage:
    """methods.html."""

    shell: Shell
    heading: str
    under: str
    draws: str
    """How many draws the doubts are made of."""
    fewer_draws: str
    """How many those of predictions are made of."""
    thinnest: str
    """L of liquor per kg of grist that a way out keeps at least."""
    doubt_source: str
    chapters: tuple[Chapter, ...]
    sources: dict[str, Source]


@dataclass(frozen=True, slots=True)
class SafetyPage:
    """safety.html."""

    shell: Shell
    heading: str
    under: str
    hazards: tuple[Hazard, ...]
    rules: dict[str, tuple[RuleView, ...]]
    """The rules of this journal about each hazard, by its anchor."""
    sources: dict[str, Source]


Page = BatchPage | SheetPage | IndexPage | RecipePage | LessonsPage | MethodsPage | SafetyPage
TEMPLATES: dict[type, str] = {
    BatchPage: "pages/batch.html",
    SheetPage: "pages/sheet.html",
    IndexPage: "pages/index.html",
    RecipePage: "pages/recipe.html",
    LessonsPage: "pages/lessons.html",
    MethodsPage: "pages/methods.html",
    SafetyPage: "pages/safety.html",
}
