"""What a caution is, and what its rule may look at."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from generator.analysis.course import Course
from generator.analysis.figures import Figure
from generator.analysis.packaging import Packaging
from generator.analysis.plan_view import PlanView
from generator.analysis.reconciliation import Reconciliation
from generator.records.journal import BatchRecord
from generator.records.models import Cleaning

Severity = Literal["note", "caution", "stop"]
ROOM_M3 = 30.0
"""m³ of a small room, where the brewhouse doesn't say."""
HEAD_SPACE = 0.85
"""How full a vessel may be that foams."""


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution of a batch, at its step."""

    slug: str
    severity: Severity
    stage: str
    text: str
    source: str
    """Key of `sources`."""


@dataclass(frozen=True)
class Facts:
    """What a rule may look at."""

    batch: BatchRecord
    view: PlanView
    figures: dict[str, Figure]
    weighed: Reconciliation | None = None
    """The kettle's readings against one another."""
    packed: Packaging | None = None
    """The packaged beer and its worst case."""
    course: Course | None = None
    """The fermentation understood; None without gravities in it."""

    def best(self, key: str) -> float | None:
        """A figure as measured, else as planned."""
        figure = self.figures[key]
        return figure.measured.value if figure.measured else figure.plan

    @property
    def room(self) -> float:
        """m³ of the room of the fermenter, as the brewhouse says, else a small one."""
        return self.view.brewhouse.fermenter.room or ROOM_M3

    @property
    def room_in_words(self) -> str:
        """The room, and whether anybody measured it."""
        named = self.view.brewhouse.fermenter.room
        return f"the room of {named:.3g} m³" if named else f"a small room of {ROOM_M3:.0f} m³"

    @property
    def cleaning(self) -> Cleaning:
        """How the batch is cleaned: as its plan says, else as the brewhouse does it."""
        return self.view.plan.cleaning or self.view.brewhouse.cleaning

    @property
    def bottled(self) -> bool:
        """Whether the beer goes into bottles, or may do so: not by the plan, nor by a pressure read without priming sugar, into a keg."""
        kegged = bool(self.read("package", "pressure")) and not self.read("package", "sugar")
        return self.view.plan.package.method != "keg" and not kegged

    def read(self, stage: str, what: str) -> list[float]:
        """Every value read of a kind, as written, in its canonical unit."""
        return [row.value for row in self.batch.readings if row.stage == stage and row.what == what and row.value is not None]


@dataclass(frozen=True, slots=True)
class Rule:
    """A caution and when it stands: `says` gives its text, or None."""

    slug: str
    severity: Severity
    stage: str
    source: str
    condition: str
    """When it stands, in words, for the page that lists all rules."""
    says: Callable[[Facts], str | None]
