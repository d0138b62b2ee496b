"""A batch understood: all that its page and its JSON say."""

from dataclasses import dataclass

from generator.analysis import attribution, cellar_ledger, figures, ledger, packaging, tasting
from generator.analysis.alternatives import Fit, fit
from generator.analysis.assumptions import assumptions
from generator.analysis.attribution import Why
from generator.analysis.cautions import Caution, Facts, cautions
from generator.analysis.cellar_ledger import CellarLedger
from generator.analysis.course import Course, course
from generator.analysis.doubt import Estimate, together
from generator.analysis.figures import Figure
from generator.analysis.ledger import Ledger
from generator.analysis.liquor import LiquorBalance, liquor_balance
from generator.analysis.measured import Measured
from generator.analysis.packaging import Packaging
from generator.analysis.plan_view import DEFAULT_BREWHOUSE, PlanView, sg_of
from generator.analysis.planned import Planned
from generator.analysis.prediction import Contradiction, contradictions
from generator.analysis.reconciliation import Reconciliation, reconciliation
from generator.analysis.tasting import Serving, Tasting
from generator.analysis.timeline import Entry, PlainCorrections, timeline
from generator.errors import Problem
from generator.records.journal import BatchRecord
from generator.records.models import JournalSettings
from generator.records.readings import Reading
from generator.science import refractometer, sucrose

HIGHEST_EXTRACT = 40.0
"""°P: above it a gravity can't be told from a mistake."""


@dataclass(frozen=True)
class Report:
    """One batch: as recorded, and all that follows from it."""

    batch: BatchRecord
    view: PlanView
    figures: dict[str, Figure]
    ledger: Ledger
    why: Why
    """The gaps to the plan and their causes."""
    fit: Fit | None
    """The mash against its vessel; None where the plan doesn't tell."""
    liquor: LiquorBalance | None
    """The litres of the plan, from the liquor to the fermenter."""
    contradictions: tuple[Contradiction, ...]
    """Targets that the rest of the plan doesn't lead to."""
    weighed: Reconciliation | None
    """The kettle's readings against one another."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    timeline: tuple[Entry, ...]
    course: Course | None
    """The fermentation understood; None without gravities in it."""
    packaged: Packaging
    cellar: CellarLedger
    """Where the extract of the fermenter went."""
    tastings: Tasting
    serving: Serving | None
    """What a glass holds, where the journal says how large it is."""

    @property
    def brewed(self) -> bool:
        """Whether anything was read yet."""
        return bool(self.timeline)

    @property
    def lessons(self) -> tuple[str, ...]:
        """The lessons of the notes, without markup."""
        return tuple(lesson.text for lesson in self.batch.notes.lessons)


def problems(batch: BatchRecord) -> list[Problem]:
    """What only science can find wrong: gravities that no wort of up to 40 °P has."""
    found = []
    view = PlanView(batch.plan, batch.brewhouse or DEFAULT_BREWHOUSE)
    plain = PlainCorrections(Measured(view, batch.readings))
    for row in batch.readings:
        if row.what == "gravity" and row.value is not None and not _computable(plain, row, view):
            what = f"the gravity {row.written} is more than {HIGHEST_EXTRACT:g} °P once referred to 20 °C"
            found.append(Problem(batch.readings_path, row.line, what, f"expected at most {HIGHEST_EXTRACT:g} °P", "gravity-not-computable"))
    for key in ("original_gravity", "final_gravity", "pre_boil_gravity"):
        target = getattr(batch.plan.target, key)
        if target is not None and not -16.0 < float(sucrose.extract_from_sg(sg_of(target))) <= HIGHEST_EXTRACT:
            line = batch.plan_file.line("target", key)
            what = f"target.{key} is more than {HIGHEST_EXTRACT:g} °P"
            found.append(Problem(batch.plan_file.path, line, what, f"expected at most {HIGHEST_EXTRACT:g} °P", "gravity-not-computable"))
    return found


def _computable(plain: PlainCorrections, row: Reading, view: PlanView) -> bool:
    """Whether a gravity reading lies where the tables of wort reach; estimates of beer are judged by their figure."""
    if row.unit == "°Bx":
        factor = view.brewhouse.instruments.refractometer_wort_factor
        return float(refractometer.extract_before_fermentation(row.value or 0.0, factor)) <= HIGHEST_EXTRACT
    sg = plain.of(row)
    return sg is not None and float(sucrose.extract_from_sg(sg)) <= HIGHEST_EXTRACT


def report(batch: BatchRecord, settings: JournalSettings | None = None) -> Report:
    """Understand one batch. Its gravities must be computable: see `problems`.

    Args:
        batch: as recorded.
        settings: of its journal, which say how large a glass is.
    """
    view = PlanView(batch.plan, batch.brewhouse or DEFAULT_BREWHOUSE)
    planned = Planned(view)
    measured = Measured(view, batch.readings) if batch.readings else None
    known, books, causes, packed, cellar = _understood(planned, measured)
    glass = (settings.serving, settings.standard_drink) if settings else (None, None)
    weighed, curve = reconciliation(measured), course(batch, view, measured)
    return Report(
        batch, view, known, books, causes, fit(planned), liquor_balance(planned), contradictions(_targets(known), _predictions(known)), weighed,
        cautions(Facts(batch, view, known, weighed, packed, curve)),
        assumptions(batch, view, measured, _boil_gravity(known)),
        timeline(batch, measured), curve, packed, cellar,
        tasting.tasting(batch), tasting.serving(measured, *glass),
    )  # fmt: skip


def _understood(planned: Planned, measured: Measured | None) -> tuple[dict[str, Figure], Ledger, Why, Packaging, CellarLedger]:
    """Figures, ledgers, causes and package, with all their doubts weighed at once."""
    if measured is None:
        nothing = packaging.packaged(planned, None), cellar_ledger.cellar_ledger(planned, None)
        return figures.figures(planned, None), Ledger(), Why(), *nothing
    parts = (figures, ledger, attribution, packaging, cellar_ledger)
    known, books, causes, packed, cellar = together(measured.sampler, *(part.asking(planned, measured) for part in parts))
    return known, books, causes, packed, cellar


def _targets(known: dict[str, Figure]) -> dict[str, float]:
    return {key: figure.plan for key, figure in known.items() if figure.plan is not None and figure.expected.plan_from == "target"}


def _predictions(known: dict[str, Figure]) -> dict[str, Estimate]:
    return {key: figure.prediction for key, figure in known.items() if figure.prediction is not None}


def _boil_gravity(known: dict[str, Figure]) -> float | None:
    """Mean gravity of the boil behind the bitterness, as read, else as planned; None without hops."""
    bitterness = known["bitterness"]
    if not (bitterness.plan or (bitterness.measured and bitterness.measured.value)):
        return None
    ends = [figure.measured.value if figure.measured else figure.plan for figure in (known["pre_boil_gravity"], known["original_gravity"])]
    return None if ends[0] is None or ends[1] is None else (ends[0] + ends[1]) / 2.0
