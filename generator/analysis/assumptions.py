"""What had to be assumed: said in words beside the figures, so that a reader can disagree."""

from collections.abc import Iterable, Iterator

from generator.analysis.measured import Measured
from generator.analysis.plan_view import PlanView
from generator.errors import shown
from generator.markup import photo_name
from generator.records.journal import BatchRecord
from generator.records.models import Instruments
from generator.records.readings import Reading

_HOTTEST_SAMPLE, _COLDEST_SAMPLE = 60.0, 10.0
_BITTERNESS_LIMIT = 1.090
_INSTRUMENTS = {
    "gravity": "the hydrometer", "refractometer": "the refractometer", "volume": "volumes", "mass": "masses",
    "temperature": "temperatures", "extract": "a malt's stated extract",
}  # fmt: skip


def assumptions(batch: BatchRecord, view: PlanView, measured: Measured | None, boil_gravity: float | None) -> tuple[str, ...]:
    """Every assumption behind the figures of a batch.

    Args:
        batch: as read.
        view: its plan beside its brewhouse.
        measured: its readings' figures; None where it isn't brewed.
        boil_gravity: SG that the bitterness was computed with, None where it wasn't.
    """
    found = list(_of_plan(batch, view))
    if measured is not None:
        found += _of_readings(measured)
        found += _of_rows(batch, view.brewhouse.instruments)
    if boil_gravity is not None and boil_gravity > _BITTERNESS_LIMIT:
        found.append(f"The bitterness is extrapolated: the boil stood at {boil_gravity:.3f}, the formula was fitted up to {_BITTERNESS_LIMIT:.3f}.")
    return tuple(found)


def _of_plan(batch: BatchRecord, view: PlanView) -> Iterator[str]:
    if batch.brewhouse is None:
        yield "No brewhouse is named: the usual losses, calibration and doubts were taken."
    else:
        usual = [words for key, words in _INSTRUMENTS.items() if key not in view.brewhouse.instruments.model_fields_set]
        if usual:
            yield f"The brewhouse gives no doubt for {_listed(usual)}: the usual one was taken."
    colourless = [good.name for good in view.mashed + view.boiled if good.colour is None]
    if colourless and len(colourless) < len(view.mashed + view.boiled):
        yield f"{_listed(colourless)} {_have(colourless)} no colour in the plan and {_count(colourless)} as none."
    there = {photo.name for photo in batch.photos}
    missing = [shown(reference.target) for reference in batch.notes.photos if photo_name(reference.target) not in there]
    if missing:
        yield f"The notes place {_listed(missing)}, which {'is' if len(missing) == 1 else 'are'} not in photos/: the words stand alone."
    later = [good.name for good in view.plan.grist if good.added == "fermenter"]
    if later:
        yield f"{_listed(later)}, added to the fermenter, {_stand(later)} in no figure."


def _of_readings(measured: Measured) -> Iterator[str]:
    if measured.standing("mash", "grist") is None and measured.view.mashed:
        yield "The grist was not weighed: it counts as planned."
    if not measured.rows("mash", "liquor") and measured.view.plan.liquor.mash is not None:
        yield "The mash liquor was not read: it counts as planned."
    if not measured.rows("sparge", "liquor") and measured.view.plan.liquor.sparge > 0.0:
        yield "The sparge liquor was not read: it counts as planned."
    if measured.standing("boil", "duration") is None and measured.view.plan.boil.duration is not None:
        yield "The duration of the boil was not read: it counts as planned."
    if not measured.rows("fermenter", "gravity") and measured.standing("post-boil", "gravity") is not None:
        yield "No gravity was read in the fermenter: that after the boil is the original gravity."
    if any(row.unit == "°Bx" and row.stage in ("fermenter", "package") for row in measured.readings):
        yield "Refractometer readings of fermenting or finished beer are estimates, with ±0.003 SG of doubt for the model on top of the instrument's."


def _of_rows(batch: BatchRecord, instruments: Instruments) -> Iterator[str]:
    rows = [row for row in batch.readings if not row.is_note]
    cold = [row for row in rows if row.unit == "liter" and row.at is None]
    if cold:
        yield f"{_lines(cold).capitalize()}: the volume was taken as read at 20 °C; no temperature was written beside it."
    plain = [row for row in rows if row.what == "gravity" and row.unit != "°Bx" and row.at is None]
    if plain:
        yield (
            f"{_lines(plain).capitalize()}: the gravity was taken as read at the hydrometer's calibration temperature, "
            f"{instruments.hydrometer_calibrated_at:.4g} °C; no temperature was written beside it."
        )
    extreme = [row for row in rows if row.what == "gravity" and row.at is not None and not _COLDEST_SAMPLE <= row.at <= _HOTTEST_SAMPLE]
    if extreme:
        where = _lines(extreme).capitalize()
        yield f"{where}: the sample was outside of 10 to 60 °C, where the correction is an extrapolation. Bring samples near 20 °C."
    beyond = [row for row in rows if row.unit == "liter" and row.at is not None and not 0.0 <= row.at <= 100.0]
    if beyond:
        yield f"{_lines(beyond).capitalize()}: the volume was outside of 0 to 100 °C, where its contraction is an extrapolation."
    commas = [row for row in batch.readings if row.comma]
    if commas:
        yield f"{_lines(commas).capitalize()}: decimal commas were read as decimal points."


def _lines(rows: list[Reading]) -> str:
    """The lines of some rows in words: lines 3, 5 to 7 of the readings."""
    numbers = sorted(row.line for row in rows)
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [str(run[0]) if len(run) == 1 else f"{run[0]} and {run[1]}" if len(run) == 2 else f"{run[0]} to {run[-1]}" for run in runs]
    return f"line{'s' if len(numbers) > 1 else ''} {', '.join(parts)} of the readings"


def _listed(words: Iterable[str]) -> str:
    *most, last = list(words)
    return f"{', '.join(most)} and {last}" if most else last


def _have(names: list[str]) -> str:
    return "has" if len(names) == 1 else "have"


def _count(names: list[str]) -> str:
    return "counts" if len(names) == 1 else "count"


def _stand(names: list[str]) -> str:
    return "stands" if len(names) == 1 else "stand"
