"""The steps of the brew sheet in words: what to do, what goes in, what to read, and which caution stands there."""

from collections.abc import Callable, Iterable

from generator.analysis.asked import Asked, Wanted
from generator.analysis.brew_day import Day, Kind, Step
from generator.analysis.cautions import Caution
from generator.analysis.report import Report
from generator.charts.chart import MINUS
from generator.pages import sheet_words as words
from generator.pages.formatting import clock, fixed, mass, plural, short_day
from generator.pages.sheet_contract import Box, SheetCaution, SheetStep
from generator.sources import SOURCES

_SEVERITY = {"note": "Note", "caution": "Caution", "stop": "Stop"}
_STEP_OF: dict[str, tuple[Kind, ...]] = {
    "mash": ("mash-in",), "first-wort": ("run-off",), "sparge": ("run-off",), "pre-boil": ("kettle",), "boil": ("boil",), "post-boil": ("boil-end",),
    "fermenter": ("pitch",), "package": ("package",), "tasting": ("package",),
}  # fmt: skip
"""Where the caution of a stage stands; one of another stage, or whose step isn't on the sheet, stands at the first step."""


def steps(report: Report, day: Day, wanted: Wanted) -> tuple[SheetStep, ...]:
    """Every step of the sheet."""
    return tuple(_Steps(report, day, wanted).all())


class _Steps:
    def __init__(self, report: Report, day: Day, wanted: Wanted) -> None:
        self._report, self._day, self._wanted = report, day, wanted
        self._plan = report.batch.plan
        self._kinds = [step.kind for step in day.steps]
        self._settles = max((n for n, kind in enumerate(self._kinds) if kind in ("mash-in", "portion")), default=-1)

    def all(self) -> Iterable[SheetStep]:
        """Each step with its texts, boxes and cautions."""
        for number, step in enumerate(self._day.steps):
            first = self._kinds.index(step.kind) == number
            asked = self._wanted.at(step.kind) if first else ()
            if number == self._settles:
                asked += self._wanted.settled()
            done = self._done(asked)
            yield SheetStep(
                words.when(step), "" if done else words.date_of(step, self._plan.batch.brewed), done, self._title(step), tuple(self._says(step)),
                tuple(self._adds(step)), tuple(self._box(step, n, one) for n, one in enumerate(asked)),
                self._cautions(step.kind) if first else (),
            )  # fmt: skip

    def _title(self, step: Step) -> str:
        if step.kind == "task":
            return step.text
        if step.of > 1 and step.kind in ("mash-in", "portion"):
            return f"{words.TITLES['mash-in']}, portion {step.number} of {step.of}"
        return words.TITLES[step.kind]

    def _done(self, asked: tuple[Asked, ...]) -> str:
        """The clock of the first reading of a step, with its day where that isn't the brew day; "" where it isn't known."""
        times = sorted((row.time for one in asked for row in one.rows if row.time is not None), key=lambda time: time.replace(tzinfo=None))
        if not times:
            return ""
        day = "" if times[0].date() == self._plan.batch.brewed else f"{short_day(times[0])}, "
        return day + clock(times[0])

    # what to do

    def _says(self, step: Step) -> Iterable[str]:
        makers: dict[Kind, Callable[[Step], Iterable[str]]] = {
            "prepare": self._prepare, "mash-in": self._mash_in, "portion": self._portion, "rest": self._rest, "run-off": self._run_off,
            "kettle": self._kettle, "boil": self._boil, "addition": self._addition, "boil-end": self._boil_end, "stand": self._stand,
            "chill": self._chill, "pitch": self._pitch, "check": self._check, "later": self._later, "still": self._still, "package": self._package,
        }  # fmt: skip
        return [text for text in makers[step.kind](step) if text] if step.kind in makers else self._task(step)

    def _task(self, step: Step) -> Iterable[str]:
        return [f"{words.lasting(step.before_end)} before the end of the boil."] if step.before_end is not None else []

    def _prepare(self, _step: Step) -> Iterable[str]:
        liquor, hot = self._plan.liquor, self._wanted.hot_strike()
        if liquor.mash is not None:
            heat = f": heat to {fixed(hot[0], 1)} °C, where it fills {fixed(hot[1], 1)} L" if hot else ""
            yield f"{fixed(liquor.mash, 1)} L of mash liquor, measured cold{heat}."
        else:
            yield "The plan gives no mash liquor."
        run_off = self._day.of("run-off")
        if liquor.sparge > 0.0 and run_off is not None:
            at = "" if liquor.sparge_temperature is None else f" at {words.degrees(liquor.sparge_temperature)}"
            yield f"{fixed(liquor.sparge, 1)} L of sparge liquor{at}, ready by {words.on_the_clock(run_off.minutes)}."

    def _mash_in(self, step: Step) -> Iterable[str]:
        grist = self._report.figures["grist_mass"].plan
        if grist is not None:
            amount = mass(grist / step.of)
            yield f"Stir in {amount} of grain at {words.degrees(self._plan.liquor.grain_temperature)} until no dry clot is left."
        space, capacity = self._report.figures["mash_space"].plan, self._report.view.brewhouse.mash.capacity
        if space is not None:
            if capacity is None:
                yield f"The mash takes {fixed(space, 1)} L."
            elif space > capacity:
                yield f"The mash needs {fixed(space, 1)} L, and the vessel holds {fixed(capacity, 1)} L."
            else:
                yield f"The mash takes {fixed(space, 1)} L of the vessel’s {fixed(capacity, 1)} L."
        yield words.hold(step)

    def _portion(self, step: Step) -> Iterable[str]:
        grist = self._report.figures["grist_mass"].plan
        if grist is not None:
            yield f"Stir in {mass(grist / step.of)}, once the grain before it has settled."
        yield words.hold(step)

    def _rest(self, step: Step) -> Iterable[str]:
        yield words.hold(step)

    def _run_off(self, _step: Step) -> Iterable[str]:
        yield "Stir or run some wort back, then draw a sample of the first wort, before any sparge liquor goes on; cool it and read it."
        liquor = self._plan.liquor
        if liquor.sparge > 0.0:
            at = "" if liquor.sparge_temperature is None else f" at {words.degrees(liquor.sparge_temperature)}"
            yield f"Run off, then sparge with {fixed(liquor.sparge, 1)} L{at}."
        else:
            yield "Run off; this plan has no sparge."

    def _kettle(self, step: Step) -> Iterable[str]:
        yield "Stir the wort, read its volume as it stands, and its gravity from a cooled sample."
        if step.goods:
            yield "These go into the kettle only after the readings, and before the end of the boil:"

    def _boil(self, step: Step) -> Iterable[str]:
        yield "The plan gives no length of the boil." if step.duration is None else f"Boil for {words.lasting(step.duration)} with the lid off."

    def _addition(self, step: Step) -> Iterable[str]:
        yield f"{words.lasting(step.before_end)} before the end." if step.before_end else "At the end of the boil."

    def _boil_end(self, _step: Step) -> Iterable[str]:
        yield "Read volume and temperature while the wort is hot and still, and the gravity from a cooled sample."

    def _stand(self, step: Step) -> Iterable[str]:
        yield f"At {words.degrees(step.temperature or 0.0)}, {words.lasting(step.before_end or 0.0)} in all."

    def _chill(self, step: Step) -> Iterable[str]:
        yield "Cool the wort" + ("." if step.temperature is None else f" to {words.degrees(step.temperature)}.")

    def _pitch(self, _step: Step) -> Iterable[str]:
        yield "Run the wort into the fermenter; read volume and gravity before the yeast goes in, with day and time."
        yield words.pitched(self._plan)

    def _check(self, _step: Step) -> Iterable[str]:
        yield "Read the gravity, with day and time: has it begun to fall?"
        if self._wanted.more_checks:
            yield f"{plural(self._wanted.more_checks, 'more reading').capitalize()} in the timeline of the batch."

    def _later(self, step: Step) -> Iterable[str]:
        if step.hops and step.undated:
            yield "The plan gives no day."

    def _still(self, _step: Step) -> Iterable[str]:
        yield "Two readings at least 48 h apart, each with day and time. Package only if they agree and lie near the plan."

    def _package(self, _step: Step) -> Iterable[str]:
        carbonation = self._report.figures["carbonation"].plan
        wanted = "" if carbonation is None else f" to {fixed(carbonation, 1)} volumes"
        if self._plan.package.method == "keg":
            yield f"Keg{wanted}. Read volume, gravity and pressure."
            return
        sugar = {"dextrose": "dextrose (glucose monohydrate)", "sucrose": "sucrose", None: "sugar"}[self._plan.package.sugar]
        amounts = ", ".join(f"{fixed(grams, 0)} g for {fixed(litres, 1)} L" for litres, grams in self._wanted.priming())
        yield f"Bottle with {sugar}{wanted}" + (f": {amounts}." if amounts else ".")

    # what goes in

    def _adds(self, step: Step) -> Iterable[str]:
        if step.kind in ("kettle", "later"):
            yield from (words.good(one) for one in step.goods)
        yield from (words.hop(one) for one in step.hops)

    # what to read

    def _box(self, step: Step, number: int, asked: Asked) -> Box:
        names = {"pitch": ("", "Original gravity"), "still": ("Final gravity", "The same, 48 h later")}
        label = names[step.kind][number] if step.kind in names else ""
        if step.kind in ("check", "still") and asked.rows and asked.rows[0].time:
            label = f"Gravity, {short_day(asked.rows[0].time)}"
        sample = asked.unit in ("SG", "°P", "L") and not (asked.what == "liquor" and not any(row.at is not None for row in asked.rows))
        at = {words.degrees(row.at) for row in asked.rows if row.at is not None}
        read, unit = _written(asked)
        degrees = at.pop().removesuffix(" °C") if len(at) == 1 else ""
        return Box(label or words.label(asked), words.planned(asked), unit, read, sample, degrees, words.why(asked))

    def _cautions(self, kind: Kind) -> tuple[SheetCaution, ...]:
        return tuple(_caution(caution) for caution in self._report.cautions if self._place(caution.stage) == kind)

    def _place(self, stage: str) -> Kind:
        return next((kind for kind in _STEP_OF.get(stage, ()) if kind in self._kinds), self._kinds[0])


def _caution(caution: Caution) -> SheetCaution:
    source = SOURCES[caution.source]
    who = "our own rule" if source.authors == "this project" else source.authors
    year = f" ({source.year})" if source.year[:1].isdigit() and source.authors != "this project" else ""
    return SheetCaution(caution.severity, _SEVERITY[caution.severity], caution.text, who[:1].upper() + who[1:] + year)


def _written(asked: Asked) -> tuple[str, str]:
    """The readings of a box as they stand in the file, parts of a sum one by one, and their unit."""
    units = {row.written.partition(" ")[2] for row in asked.rows}
    unit = units.pop() if len(units) == 1 else ""
    values = [(row.written.removesuffix(f" {unit}") if unit else row.written).replace("-", MINUS) for row in asked.rows]
    return " + ".join(values), unit or asked.unit
