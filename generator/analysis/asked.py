"""The readings that the ledger lives on: at which step each is taken, what the plan expects of it, and what was read."""

from collections.abc import Callable
from dataclasses import dataclass

from generator.analysis.brew_day import Kind
from generator.analysis.doubt import Absent
from generator.analysis.measured import Measured, series
from generator.analysis.planned import Planned
from generator.analysis.report import Report
from generator.records.readings import Reading
from generator.records.vocabulary import READINGS
from generator.science import hydrometer, mash, sucrose, water
from generator.science._values import OutOfRangeError

AFTER_LAUTERING, OFF_THE_BOIL = 70.0, 98.0
"""°C at which a volume is likely to be read before and after the boil; the volumes beside the boxes are told for these."""
SAMPLES = (10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
"""°C of samples for which the hydrometer's correction is told."""
_USUAL_GRAVITY = 1.050
MOST_CHECKS = 4
"""Gravities on the way that are shown; the others are counted."""
_FEWER = (1.0, 0.95, 0.9)
"""Shares of the planned volume for which the priming sugar is told."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One reading that is wanted."""

    stage: str
    what: str
    unit: str
    expected: float | None = None
    """By the plan, in the unit, a volume at 20 °C; None where the plan says nothing of it."""
    sample: float | None = None
    """°C at which it is likely to be read; None where it needs no temperature."""
    there: float | None = None
    """What the expected volume comes to at that temperature, L."""
    rows: tuple[Reading, ...] = ()
    """As read: the row that stands, or all rows of what adds up."""


def hot(litres: float, celsius: float) -> float:
    """What litres of liquor or wort at 20 °C come to at another temperature."""
    return litres / float(water.volume_at_20(1.0, celsius))


class Wanted:
    """What is to be read in one batch, by step."""

    def __init__(self, report: Report) -> None:
        self._report = report
        self._planned = Planned(report.view)
        self._measured = Measured(report.view, report.batch.readings)
        self._cool = report.view.brewhouse.instruments.hydrometer_calibrated_at
        later = series(self._measured.rows("fermenter", "gravity"))[1:]
        self._checks, self._last = tuple(later[:-2]), tuple(later[-2:])

    def at(self, kind: Kind) -> tuple[Asked, ...]:
        """The readings of a step."""
        makers: dict[Kind, Callable[[], tuple[Asked, ...]]] = {
            "prepare": lambda: (self._one("mash", "liquor", "L", self._report.view.plan.liquor.mash, warm=20.0),),
            "mash-in": lambda: (self._one("mash", "grist", "kg", self._plan("grist_mass")),),
            "run-off": self._run_off,
            "kettle": lambda: self._kettle("pre-boil", AFTER_LAUTERING, self._plan("pre_boil_gravity")),
            "boil-end": self._boil_end,
            "pitch": self._pitch,
            "check": lambda: tuple(self._gravity("fermenter", None, (row,)) for row in self._checks[:MOST_CHECKS]) or (self._unread,),
            "still": self._still,
            "package": self._package,
        }
        return makers[kind]() if kind in makers else ()

    @property
    def _unread(self) -> Asked:
        return self._gravity("fermenter", None, ())

    @property
    def more_checks(self) -> int:
        """How many gravities on the way aren't shown."""
        return max(0, len(self._checks) - MOST_CHECKS)

    def settled(self) -> tuple[Asked, ...]:
        """Temperature and pH of the mash once all grain is in."""
        target = self._report.view.plan.target
        rests = self._report.view.plan.rest
        wanted = target.mash_temperature if target.mash_temperature is not None or not rests else rests[0].temperature
        return (self._one("mash", "temperature", "°C", wanted), self._one("mash", "ph", "pH", target.mash_ph))

    def _plan(self, key: str) -> float | None:
        return self._report.figures[key].plan

    def _rows(self, stage: str, what: str) -> tuple[Reading, ...]:
        if READINGS[stage][what].adds_up:
            return tuple(sorted(self._measured.rows(stage, what), key=lambda row: row.line))
        row = self._measured.standing(stage, what)
        return () if row is None else (row,)

    def _one(self, stage: str, what: str, unit: str, expected: float | None, *, warm: float | None = None) -> Asked:
        there = None
        if unit == "L" and warm is not None and expected is not None:
            there = hot(expected, warm)
        return Asked(stage, what, unit, expected, warm, there, self._rows(stage, what))

    def _gravity(self, stage: str, expected: float | None, rows: tuple[Reading, ...]) -> Asked:
        """A gravity in SG, or in °P where it was read so or, unread, where the plan's own target is written so."""
        target = self._report.view.plan.target.original_gravity
        by_extract = rows[0].unit == "°P" if rows else target is not None and target.unit == "°P"
        if not by_extract:
            return Asked(stage, "gravity", "SG", expected, self._cool, None, rows)
        return Asked(stage, "gravity", "°P", None if expected is None else float(sucrose.extract_from_sg(expected)), self._cool, None, rows)

    def _run_off(self) -> tuple[Asked, ...]:
        liquor = self._report.view.plan.liquor
        found = [self._gravity("first-wort", self.first_wort(), self._rows("first-wort", "gravity"))]
        if liquor.sparge > 0.0 or self._rows("sparge", "liquor"):
            found.append(self._one("sparge", "liquor", "L", liquor.sparge, warm=20.0))
            found.append(self._one("sparge", "temperature", "°C", liquor.sparge_temperature))
        return tuple(found)

    def first_wort(self) -> float | None:
        """Expected gravity of the first wort; None where the plan doesn't give it."""
        view = self._report.view
        try:
            grist = view.grist_mass
            ratio = view.mash_liquor * float(water.density(20.0)) / grist
            conversion = self._planned.conversion_efficiency / 100.0
            extract = mash.first_wort(ratio, self._planned.extract_per_kg, view.moisture_per_kg, conversion)
            return float(sucrose.sg_from_extract(extract))
        except (Absent, OutOfRangeError):
            return None

    def _kettle(self, stage: str, warm: float, gravity: float | None) -> tuple[Asked, ...]:
        volume = self._one(stage, "volume", "L", self._plan(f"{stage.replace('-', '_')}_volume"), warm=warm)
        return (volume, self._gravity(stage, gravity, self._rows(stage, "gravity")))

    def _boil_end(self) -> tuple[Asked, ...]:
        duration = self._one("boil", "duration", "min", self._report.view.plan.boil.duration)
        return (duration, *self._kettle("post-boil", OFF_THE_BOIL, self._plan("original_gravity")))

    def _pitch(self) -> tuple[Asked, ...]:
        first = series(self._measured.rows("fermenter", "gravity"))[:1]
        volume = self._one("fermenter", "volume", "L", self._plan("fermenter_volume"), warm=20.0)
        return (volume, self._gravity("fermenter", self._plan("original_gravity"), tuple(first)))

    def _still(self) -> tuple[Asked, ...]:
        final = self._plan("final_gravity")
        before = self._last[:-1] if len(self._last) == 2 else self._last
        return (self._gravity("fermenter", final, before), self._gravity("fermenter", final, self._last[1:]))

    def _package(self) -> tuple[Asked, ...]:
        package = self._report.view.plan.package
        found = [self._one("package", "volume", "L", None, warm=20.0)]
        found.append(self._gravity("package", self._plan("final_gravity"), self._rows("package", "gravity")))
        found.append(self._one("package", "temperature", "°C", package.temperature))
        if package.method == "keg":
            found.append(self._one("package", "pressure", "bar", None))
        else:
            found.append(self._one("package", "sugar", "g", self._plan("priming_sugar")))
        return tuple(found)

    def priming(self) -> tuple[tuple[float, float], ...]:
        """Litres packaged, from the planned volume down, and the priming sugar for each, g; nothing for a keg or where it can't be had."""
        volume = self._plan("fermenter_volume")
        if volume is None or self._report.view.plan.package.method == "keg":
            return ()
        litres = sorted({round(2.0 * volume * share) / 2.0 for share in _FEWER}, reverse=True)
        try:
            return tuple((one, float(self._planned.priming_sugar(one))) for one in litres if one > 0.0)
        except (Absent, OutOfRangeError):
            return ()

    def hot_strike(self) -> tuple[float, float] | None:
        """Temperature of the strike liquor, and the litres that it fills there."""
        strike, liquor = self._plan("strike_temperature"), self._report.view.plan.liquor.mash
        if strike is None or liquor is None or not 0.0 <= strike <= 100.0:
            return None
        return strike, hot(liquor, strike)

    def corrections(self) -> tuple[tuple[float, float], ...]:
        """°C of a sample, and what the hydrometer's correction adds to a wort of the planned gravity, SG."""
        reading = round(self._plan("original_gravity") or _USUAL_GRAVITY, 3)
        try:
            return tuple((at, float(hydrometer.sg_20(reading, at, self._cool)) - reading) for at in SAMPLES)
        except OutOfRangeError:
            return ()
