"""The packaged beer in words and rows: gas, pressure, worst case, rating, volumes; before the packaging what helps to plan it."""

from generator.analysis.doubt import Estimate
from generator.analysis.packaging import KegTable, Packaging, Pressure, Rating
from generator.analysis.report import Report
from generator.charts.chart import signed
from generator.pages.cellar_contract import KegTableRow, KegTableView, PackageView, PressureRow, VolumeRow
from generator.pages.formatting import cell, fixed, places_for

_SUGARS = {"dextrose": "dextrose", "sucrose": "sucrose", None: "sugar"}
_CLOSE = 0.05
"""vol: less gas than that isn't told."""


def package_view(report: Report) -> PackageView | None:
    """The section of the package; None where there is nothing to say."""
    found = report.packaged
    table = _keg_table(report, found.keg_table)
    if not any(row.stage == "package" for row in report.batch.readings):
        words = _planned(report)
        return (
            PackageView(is_packaged=False, vessel=found.method, sentences=words, counted="", pressures=(), on_the_way="", volumes=(), keg=table)
            if words or table
            else None
        )
    words = (*_gas(report), *_worst(found), *_ratings(report))
    return PackageView(
        is_packaged=True, vessel=found.method, sentences=words, counted=_counted(found), pressures=_pressures(report),
        on_the_way=_volumes_in_words(found), volumes=_volumes(found), keg=table,
    )  # fmt: skip


# before the packaging


def _planned(report: Report) -> tuple[str, ...]:
    """Priming sugar for the planned carbonation, or the pressure that keeps it."""
    wanted, package = report.figures["carbonation"].plan, report.batch.plan.package
    sugar = report.figures["priming_sugar"].plan
    if report.packaged.method == "keg":
        return _wanted_pressure(report)
    litres = report.figures["fermenter_volume"]
    volume = litres.measured.value if litres.measured else litres.plan
    if wanted is None or sugar is None or package.temperature is None or not litres.plan or volume is None:
        return ()
    each = sugar / litres.plan
    return (
        f"{fixed(wanted, 1)} volumes at {fixed(package.temperature, 0)} °C take {fixed(each, 1)} g of {_SUGARS[package.sugar]} a litre: "
        f"{fixed(each * volume, 0)} g for the {fixed(volume, 1)} L of the fermenter, less for what stays behind in it.",
    )


def _wanted_pressure(report: Report) -> tuple[str, ...]:
    """The planned carbonation's own row of the table, in words."""
    table, wanted = report.packaged.keg_table, report.figures["carbonation"].plan
    if table is None or wanted is None or wanted not in table.volumes:
        return ()
    column = table.volumes.index(wanted)
    told = [(celsius, row[column]) for celsius, row in zip(table.temperatures, table.pressures, strict=True) if celsius in (2.0, 8.0, 12.0, 20.0)]
    words = [f"{_pressure(bar)} bar at {celsius:.0f} °C" for celsius, bar in told if bar >= _CLOSE]
    return (f"The planned {fixed(wanted, 1)} volumes want {', '.join(words)}.",) if words else ()


# what it holds


def _with_doubt(found: Estimate, unit: str, most: int = 2) -> str:
    places = min(places_for(found.half_width, unit), most)
    return f"{fixed(found.value, places)}\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}{fixed(found.half_width, places)}"


def _gas(report: Report) -> tuple[str, ...]:
    """Carbonation achieved beside the planned one, or why it can't be told."""
    found, plan = report.packaged, report.figures["carbonation"].plan
    if found.carbonation is None:
        why = found.absent.get("carbonation", "")
        return (f"How much gas the beer holds can’t be told: {why}.",) if why else ()
    beside = "" if plan is None else f"; the plan was {fixed(plan, 1)}"
    how = " once the keg has come to rest" if found.method == "keg" else ", from what stayed dissolved and the sugar"
    beyond = ", counted beyond the temperatures of the measured solubility" if found.extrapolated else ""
    words = f"{_with_doubt(found.carbonation, 'vol')} volumes of carbon dioxide{how}{_keg_reading(report)}{beyond}{beside}."
    return (words, *_wanted_pressure(report)) if found.method == "keg" else (words,)


def _keg_reading(report: Report) -> str:
    """What was read at the keg."""
    if report.packaged.method != "keg":
        return ""
    rows = {row.what: row.value for row in report.batch.readings if row.stage == "package" and row.value is not None}
    if "pressure" not in rows or "temperature" not in rows:
        return ""
    return f", by {fixed(rows['pressure'], 1)} bar read at {fixed(rows['temperature'], 0)} °C"


def _worst(found: Packaging) -> tuple[str, ...]:
    """What it could come to, and of what."""
    if found.further is None:
        reason = found.absent.get("further") or found.absent.get("points")
        return (f"What may still ferment isn’t counted: {reason}.",) if reason else ()
    further, end = found.further, f"{found.further.end.gravity:.3f}, its end by {found.further.end.origin}"
    if further.gas.high < _CLOSE:
        return (f"It stands at or below {end}: no further gas is counted.",)
    volumes, worst = found.carbonation, found.worst_carbonation
    if further.points.low <= 0.0:
        in_all = "" if worst is None else f", {fixed(worst.high, 1)} in all"
        return (f"Within its doubt it has reached {end}; that doubt leaves room for {fixed(further.gas.high, 1)} volumes more{in_all}.",)
    points = fixed(further.points.value, 0 if further.points.half_width >= 0.5 else 1)
    start = f"It stands {points} {'point' if points == '1' else 'points'} above {end}"
    if volumes is None or worst is None:
        return (f"{start}: {fixed(further.gas.value, 1)} volumes more, should the yeast take them up.",)
    become = f"{fixed(volumes.value, 1)} volumes become {fixed(worst.value, 1)}"
    return (f"{start}. Should the yeast take them up, {become}, within doubt up to {fixed(worst.high, 1)}.",)


def _counted(found: Packaging) -> str:
    return f"The worst case counts {'; '.join(found.counted)}." if found.counted else ""


def _pressures(report: Report) -> tuple[PressureRow, ...]:
    found = report.packaged.pressures
    places = min((min(places_for(one.gauge.half_width, "bar"), 2) for one in found), default=2)
    return tuple(_pressure_row(one, places, report.batch.plan.package.storage) for one in found)


def _pressure_row(one: Pressure, places: int, storage: float | None) -> PressureRow:
    remarks = ["as stored"] if one.temperature == storage else []
    remarks += ["extrapolated"] if one.extrapolated else []
    return PressureRow(
        f"{fixed(one.temperature, 0)} °C",
        ", ".join(remarks),
        cell(fixed(one.gauge.value, places)),
        cell(f"±{fixed(one.gauge.half_width, places)}"),
        cell(fixed(one.worst.value, 1)),
        cell(fixed(one.worst.high, 1)),
    )


def _ratings(report: Report) -> tuple[str, ...]:
    """The worst case beside what bottles or keg are said to hold."""
    found = report.packaged
    vessel = "keg is" if found.method == "keg" else "bottles are"
    if not found.ratings:
        return (f"The plan doesn’t say what the {vessel} rated for.",) if found.pressures else ()
    return tuple(_rating(one, vessel) for one in found.ratings)


def _rating(one: Rating, vessel: str) -> str:
    unit = "volumes" if one.kind == "carbonation" else "bar"
    at = "" if one.temperature is None else f" at {fixed(one.temperature, 0)} °C"
    worst, high = fixed(one.worst.value, 1), fixed(one.worst.high, 1)
    reach = "" if worst == high else f" and, within doubt, up to {high}"
    verdict = {
        "below the rating": "below the rating",
        "within doubt of the rating": "that may be more than the rating",
        "above the rating": "above the rating",
    }[one.verdict]
    return f"The {vessel} rated for {one.rated:g} {unit}; the worst case{at} is {worst}{reach}: {verdict}."


# the volumes on the way


def _volumes(found: Packaging) -> tuple[VolumeRow, ...]:
    """Wort, what it lost, and what was packaged; the printed lines add up."""
    balance = found.balance
    if balance.wort is None or balance.packaged is None:
        return ()
    wort, packaged = round(balance.wort.value, 2), round(balance.packaged.value, 2)
    rows = [_volume("Wort in the fermenter", fixed(wort, 2), balance.wort, is_sum=True)]
    if balance.contraction is not None and balance.left is not None:
        shrunk = round(balance.contraction.value, 2)
        rows.append(_volume("contraction", signed(-shrunk, 2), balance.contraction))
        rows.append(_volume("left in yeast, hoses and samples", signed(packaged - wort + shrunk, 2), balance.left))
    elif balance.loss is not None:
        rows.append(_volume("contraction, and left behind", signed(packaged - wort, 2), balance.loss))
    return (*rows, _volume("Packaged", fixed(packaged, 2), balance.packaged, is_sum=True))


def _volume(name: str, litres: str, found: Estimate, *, is_sum: bool = False) -> VolumeRow:
    return VolumeRow(name, cell(litres), cell(f"±{fixed(found.half_width, 2)}" if found.half_width >= 0.005 else "<0.01"), is_sum)


def _volumes_in_words(found: Packaging) -> str:
    """Litres in, out and lost; what is missing with its reason."""
    balance = found.balance
    if balance.wort is None or balance.packaged is None or balance.loss is None:
        whys = dict.fromkeys(found.absent[key] for key in ("wort", "packaged") if key in found.absent)
        return f"The litres on the way can’t be compared: {'; '.join(whys)}." if whys else ""
    loss = balance.loss
    wort, packaged = fixed(balance.wort.value, 1), fixed(balance.packaged.value, 1)
    if loss.value < 0:
        within = "within" if loss.high >= 0 else "beyond"
        return f"By the readings {packaged} L were packaged of {wort} L, {fixed(-loss.value, 1)} L more than there was, {within} their doubt."
    return f"Of {wort} L of wort {packaged} L were packaged; {_with_doubt(loss, 'L', 1)} L were lost on the way."


# the keg


def _keg_table(report: Report, table: KegTable | None) -> KegTableView | None:
    """Turned: one carbonation a row, so that the planned one can be read across."""
    if table is None:
        return None
    wanted = report.batch.plan.target.carbonation
    rows = tuple(
        KegTableRow(f"{volume:g}", volume == wanted, tuple(_pressure(row[column]) for row in table.pressures))
        for column, volume in enumerate(table.volumes)
    )
    dash = "A dash: the open beer already holds more." if any("–" in row.pressures for row in rows) else ""
    return KegTableView(dash, tuple(f"{celsius:.0f}" for celsius in table.temperatures), rows)


def _pressure(bar: float) -> str:
    return "–" if bar < 0.0 else f"{bar:.1f}"
