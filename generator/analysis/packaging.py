"""The packaged beer: its gas and pressure, what it could still make of them, its rating, and the volumes on the way."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from generator.analysis.cellar_ledger import beer_volume
from generator.analysis.course import expected_end
from generator.analysis.done import ExpectedEnd
from generator.analysis.doubt import NOT_FINITE, Absent, Asking, Estimate, alone
from generator.analysis.measured import Measured
from generator.analysis.planned import Planned, best_of
from generator.records.models import Package
from generator.records.readings import Reading
from generator.science import beer, packaging
from generator.science._values import Values
from generator.science.carbonation import GRAMS_PER_VOLUME
from generator.science.keg import ATMOSPHERE, keg_carbonation, keg_pressure

COLD, ROOM, HOT = 4.0, 20.0, 35.0
"""°C for which the pressure is told, beside the plan's storage."""
SOLUBLE = (-1.0, 40.0)
"""°C between which the solubility was measured."""
BEER_HOLDS = 0.94
"""Least share of the gas that beer holds of what water does; the worst case counts with it."""
KEG_TEMPERATURES = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0, 25.0)
KEG_VOLUMES = (1.6, 1.8, 2.0, 2.2, 2.4, 2.6, 2.8, 3.0, 3.5)
Verdict = Literal["below the rating", "within doubt of the rating", "above the rating"]


@dataclass(frozen=True, slots=True)
class Pressure:
    """Gauge pressure in the closed bottle or keg, bar."""

    temperature: float
    """°C."""
    gauge: Estimate
    """Of the carbonation achieved, by the solubility in water, without air."""
    worst: Estimate
    """With all that `Packaging.counted` names."""
    extrapolated: bool
    """Whether the solubility was never measured at this temperature."""


@dataclass(frozen=True, slots=True)
class Further:
    """What would come of it if the beer fermented on to its end."""

    end: ExpectedEnd
    points: Estimate
    """Gravity above that end, 0.001 SG."""
    gas: Estimate
    """vol; 0 where nothing is left."""


@dataclass(frozen=True, slots=True)
class Rating:
    """The worst case beside what the plan says of the bottles or of the keg."""

    kind: Literal["carbonation", "pressure"]
    rated: float
    """vol, or bar."""
    worst: Estimate
    temperature: float | None
    """°C of a pressure: the hottest that is told."""
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Balance:
    """Volumes from the fermenter to the package, L at 20 °C; the lost ones are below 0 where the readings leave no room for them."""

    wort: Estimate | None = None
    beer: Estimate | None = None
    """Of the same wort fermented, by mass; without gas and yeast it is a little less."""
    packaged: Estimate | None = None
    contraction: Estimate | None = None
    """Wort less beer."""
    left: Estimate | None = None
    """Beer less packaged: in the yeast, hoses and samples."""
    loss: Estimate | None = None
    """Wort less packaged, both of the above."""


@dataclass(frozen=True, slots=True)
class KegTable:
    """Gauge pressures that keep a carbonation, bar; below 0 where the beer holds more in the open."""

    temperatures: tuple[float, ...]
    """°C, one a row."""
    volumes: tuple[float, ...]
    """vol, one a column; the planned carbonation is among them."""
    pressures: tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class Packaging:
    """A batch in its bottles or in its keg."""

    method: Literal["bottle", "keg"]
    head_space: float
    """% of the brimful vessel."""
    carbonation: Estimate | None = None
    """vol; in a keg what the pressure read holds once it has come to rest."""
    extrapolated: bool = False
    """Whether the solubility was never measured at the temperature that the carbonation counts with."""
    further: Further | None = None
    worst_carbonation: Estimate | None = None
    """vol, with what could still ferment."""
    pressures: tuple[Pressure, ...] = ()
    counted: tuple[str, ...] = ()
    """What the worst pressures count, in words."""
    ratings: tuple[Rating, ...] = ()
    balance: Balance = Balance()
    keg_table: KegTable | None = None
    """None for bottles."""
    absent: dict[str, str] = field(default_factory=dict)
    """Why `carbonation`, `further` or a volume of the balance, by its field, can't be had."""


def packaged(planned: Planned, measured: Measured | None) -> Packaging:
    """The packaged beer of a batch; its method and keg table alone where it isn't brewed."""
    return alone(measured.sampler, asking(planned, measured)) if measured is not None else _unbrewed(planned)


def asking(planned: Planned, measured: Measured) -> Asking[Packaging]:
    """The same as a computation that asks for weighing."""
    package, keg = measured.view.plan.package, kegged(measured)
    samples, absent = _Samples(measured).all()
    weighed = yield samples
    absent |= {key: NOT_FINITE for key in samples if key not in weighed}
    found = {key: one.estimate for key, one in weighed.items()}
    end = _end(measured) if "further" in found and "points" in found else None
    pressures = _pressures(found, _temperatures(package))
    return Packaging(
        "keg" if keg else "bottle",
        package.head_space,
        found.get("carbonation"),
        "carbonation" in found and _extrapolated(_packed_at(measured)),
        Further(end, found["points"], found["further"]) if end else None,
        found.get("worst"),
        pressures,
        _counted(end) if pressures else (),
        _ratings(package, found.get("worst"), pressures, keg=keg),
        Balance(**{key: found[key] for key in Balance.__dataclass_fields__ if key in found}),
        keg_table(planned) if keg else None,
        absent,
    )


def _unbrewed(planned: Planned) -> Packaging:
    package = planned.view.plan.package
    return Packaging(package.method or "bottle", package.head_space, keg_table=keg_table(planned) if package.method == "keg" else None)


def kegged(measured: Measured) -> bool:
    """Whether the beer went into a keg: by the plan, or by a pressure that was read where no sugar was given."""
    by_pressure = measured.standing("package", "pressure") is not None and measured.standing("package", "sugar") is None
    return measured.view.plan.package.method == "keg" or by_pressure


def _temperatures(package: Package) -> tuple[float, ...]:
    kept = () if package.storage is None else (package.storage,)
    return tuple(sorted({COLD, ROOM, HOT, *kept}))


def _extrapolated(celsius: float | None) -> bool:
    return celsius is not None and not SOLUBLE[0] <= celsius <= SOLUBLE[1]


def _packed_at(measured: Measured) -> float | None:
    """°C at packaging: read, else planned."""
    row = measured.standing("package", "temperature")
    return measured.view.plan.package.temperature if row is None else row.value


def _end(measured: Measured) -> ExpectedEnd | None:
    return expected_end(measured.view.plan, best_of(measured.original_gravity))


class _Samples:
    """All samples of one batch, and why the others can't be had."""

    def __init__(self, measured: Measured) -> None:
        self._measured = measured
        self._found: dict[str, Values] = {}
        self._absent: dict[str, str] = {}

    def all(self) -> tuple[dict[str, Values], dict[str, str]]:
        """By key: those of `Balance`, `carbonation`, `points`, `further`, `worst`, and a gauge and a worst pressure a temperature."""
        measured = self._measured
        wort, beer_made, filled = (
            self._try("wort", lambda: measured.fermenter_volume),
            self._try("beer", lambda: beer_volume(measured)),
            self._try("packaged", lambda: measured.package_volume),
        )
        self._less("contraction", wort, beer_made)
        self._less("left", beer_made, filled)
        self._less("loss", wort, filled)
        gas = self._try("carbonation", self._carbonation)
        self._try("points", lambda: 1000.0 * (measured.final_gravity - self._expected().gravity))
        further = self._try("further", self._further)
        if gas is not None:
            worst = self._try("worst", lambda: gas + (0.0 if further is None else further))
            for temperature in _temperatures(measured.view.plan.package):
                self._pressures(temperature, gas, gas if worst is None else worst)
        return self._found, self._absent

    def _try(self, key: str, compute: Callable[[], Values]) -> Values | None:
        try:
            self._found[key] = self._measured.attempt(compute)
        except Absent as absent:
            self._absent[key] = str(absent)
        return self._found.get(key)

    def _less(self, key: str, more: Values | None, less: Values | None) -> None:
        """A difference, where both are there: the reasons stand with them."""
        if more is not None and less is not None:
            self._found[key] = more - less

    def _carbonation(self) -> Values:
        measured = self._measured
        if not kegged(measured):
            return measured.carbonation
        pressure = measured.standing("package", "pressure")
        if pressure is None:
            raise Absent("the pressure in the keg was not read")
        return keg_carbonation(measured.at_20.amount(pressure), self._of_keg(pressure))

    def _of_keg(self, pressure: Reading) -> Values:
        """°C of the keg: beside its pressure, else as read at packaging."""
        measured = self._measured
        beside = measured.at_20.temperature(pressure)
        if beside is not None:
            return beside
        row = measured.standing("package", "temperature")
        if row is None:
            raise Absent("the temperature of the keg was not read")
        return measured.sampler.normal(row.value or 0.0, measured.at_20.half_width(row), -10.0, 110.0, source="thermometer")

    def _expected(self) -> ExpectedEnd:
        end = _end(self._measured)
        if end is None:
            raise Absent("nothing says where the beer should end; a forced ferment would tell")
        return end

    def _further(self) -> Values:
        """vol of gas from the beer's gravity down to its end; the end is taken as exact."""
        measured, end = self._measured, self._expected().gravity
        if np.max(measured.final_gravity) <= end:
            return 0.0
        end_abw = beer.alcohol_by_weight(measured.original_extract, end)
        return packaging.further_gas(measured.abw, end_abw, measured.final_gravity) / GRAMS_PER_VOLUME

    def _pressures(self, temperature: float, gas: Values, worst: Values) -> None:
        space = self._measured.view.plan.package.head_space
        self._try(_key("gauge", temperature), lambda: packaging.bottle_pressure(gas, temperature, space, 1.0, 0.0))
        self._try(_key("worst", temperature), lambda: packaging.bottle_pressure(worst, temperature, space, BEER_HOLDS, ATMOSPHERE))


def _key(kind: str, temperature: float) -> str:
    return f"{kind} at {temperature!r}"


def _pressures(found: Mapping[str, Estimate], temperatures: tuple[float, ...]) -> tuple[Pressure, ...]:
    pairs = ((one, found.get(_key("gauge", one)), found.get(_key("worst", one))) for one in temperatures)
    return tuple(Pressure(one, gauge, worst, _extrapolated(one)) for one, gauge, worst in pairs if gauge and worst)


def _counted(end: ExpectedEnd | None) -> tuple[str, ...]:
    beside = ("an atmosphere of air shut in", f"beer that holds {100 * (1.0 - BEER_HOLDS):.0f} % less gas than water")
    return beside if end is None else (f"all that ferments down to {end.gravity:.3f}, by {end.origin}", *beside)


def _ratings(package: Package, worst: Estimate | None, pressures: tuple[Pressure, ...], *, keg: bool) -> tuple[Rating, ...]:
    found = []
    if not keg and package.bottle_volumes is not None and worst is not None:
        found.append(Rating("carbonation", package.bottle_volumes, worst, None, _verdict(worst, package.bottle_volumes)))
    rated = package.keg_pressure if keg else package.bottle_pressure
    if rated is not None and pressures:
        hottest = pressures[-1]
        found.append(Rating("pressure", rated, hottest.worst, hottest.temperature, _verdict(hottest.worst, rated)))
    return tuple(found)


def _verdict(worst: Estimate, rated: float) -> Verdict:
    if worst.high <= rated:
        return "below the rating"
    return "above the rating" if worst.low > rated else "within doubt of the rating"


def keg_table(planned: Planned) -> KegTable:
    """Pressures by temperature and carbonation, the planned carbonation among them."""
    wanted = planned.view.plan.target.carbonation
    volumes = tuple(sorted({*KEG_VOLUMES, *(() if wanted is None or wanted > 10.0 else (wanted,))}))
    rows = tuple(tuple(float(keg_pressure(volume, celsius)) for volume in volumes) for celsius in KEG_TEMPERATURES)
    return KegTable(KEG_TEMPERATURES, volumes, rows)
