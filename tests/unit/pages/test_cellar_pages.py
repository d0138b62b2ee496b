"""The package, the cellar's ledger and the tasting as words, rows and data."""

import json
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from functools import cache

import pytest
from markupsafe import Markup

from generator.analysis.doubt import Estimate
from generator.analysis.report import Report, report
from generator.analysis.tasting import Drift, Serving, Sitting, Slope, Tasting
from generator.pages.cellar_data import cellar_data
from generator.pages.cellar_view import cellar_view
from generator.pages.formatting import Cell
from generator.pages.package_view import package_view
from generator.pages.tasting_view import tasting_view
from generator.records.models import JournalSettings
from generator.records.readings import Reading
from tests.unit.analysis.support import batch, plan, read
from tests.unit.pages.support import reports

FERMENTED = (
    read(2, "fermenter", "volume", "20 L"),
    read(3, "fermenter", "gravity", "1.048", time="2026-01-01 12:00"),
    read(4, "fermenter", "gravity", "1.010", time="2026-01-15 12:00"),
)
BOTTLED = (*FERMENTED, read(5, "package", "volume", "18 L"), read(6, "package", "sugar", "0.1 kg"), read(7, "package", "temperature", "20 °C"))
TARGET = {"volume": "20 L", "original_gravity": "1.048", "final_gravity": "1.010", "carbonation": "2.1 vol"}
SETTINGS = JournalSettings.model_validate({"title": "Test", "serving": "330 mL", "standard_drink": "10 g"})


@cache
def _demo() -> dict[str, Report]:
    return reports()


def brewed(rows: tuple[Reading, ...] = BOTTLED, forced: str = "1.010", **package: str) -> Report:
    """A small batch; its yeast ends where the forced ferment says."""
    wanted = plan(target=TARGET, yeast={"forced_gravity": forced} if forced else {}, package={"sugar": "dextrose", "temperature": "20 °C", **package})
    return report(batch(wanted, rows), SETTINGS)


def words(rows: tuple[Reading, ...] = BOTTLED, forced: str = "1.010", **package: str) -> str:
    """The sentences of its package."""
    view = package_view(brewed(rows, forced, **package))
    assert view is not None
    return " ".join((*view.sentences, view.on_the_way))


def ending(gravity: str) -> tuple[Reading, ...]:
    """The bottled rows with another last gravity."""
    return tuple(read(4, "fermenter", "gravity", gravity, time="2026-01-15 12:00") if row.line == 4 else row for row in BOTTLED)


def _number(shown: Cell) -> Decimal:
    return Decimal(shown.text.replace("\N{MINUS SIGN}", "-"))


# the package


def test_gas_worst_case_and_rating_in_words() -> None:
    """Four points above the forced ferment are two volumes more, told with the end, its origin, the doubt and the rating."""
    found = words(ending("1.014"), bottle_volumes="3.5 vol")
    assert "2.12\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}0.03 volumes of carbon dioxide" in found
    assert "the plan was 2.1." in found
    assert "It stands 4 points above 1.010, its end by the forced ferment. Should the yeast take them up, 2.1 volumes become 4.1" in found
    assert "become 4.1, within doubt up to 4.6." in found
    assert "The bottles are rated for 3.5 volumes; the worst case is 4.1 and, within doubt, up to 4.6: above the rating." in found
    assert "Of 20.0 L of wort 18.0 L were packaged; 2.0\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}0.5 L were lost on the way." in found


@pytest.mark.parametrize(
    ("final", "forced", "told"),
    [
        ("1.010", "1.010", "Within its doubt it has reached 1.010, its end by the forced ferment; that doubt leaves room for 0.5 volumes more"),
        ("1.010", "1.020", "It stands at or below 1.020, its end by the forced ferment: no further gas is counted."),
        ("1.0115", "1.010", "It stands 2 points above 1.010"),
    ],
)
def test_how_far_it_stands_from_its_end(final: str, forced: str, told: str) -> None:
    """No points are told that the doubt of the gravity swallows, and none below the end."""
    assert told in words(ending(final), forced)


def test_verdicts_of_a_rating() -> None:
    """Below, within doubt and above in words; without a rating the plan is said not to tell."""
    assert "up to 4.6: below the rating." in words(bottle_pressure="6 bar")
    assert "that may be more than the rating." in words(bottle_volumes="2.3 vol")
    assert "The plan doesn’t say what the bottles are rated for." in words()


def test_what_is_missing_and_why() -> None:
    """Without sugar the gas can't be told; without an end nothing further is counted; the reasons stand."""
    unprimed = words(tuple(row for row in BOTTLED if row.line != 6))
    assert "How much gas the beer holds can’t be told: the priming sugar was not read." in unprimed
    assert "rated for" not in unprimed
    assert "The litres on the way can’t be compared: the volume packaged was not read." in words(tuple(row for row in BOTTLED if row.line != 5))
    target = {key: value for key, value in TARGET.items() if key != "final_gravity"}
    view = package_view(report(batch(plan(target=target, package={"sugar": "dextrose"}), BOTTLED)))
    assert view is not None
    assert "What may still ferment isn’t counted: nothing says where the beer should end; a forced ferment would tell." in view.sentences


def test_litres_add_up_as_printed() -> None:
    """Wort, contraction and what was left lead to what was packaged, to the last printed digit; a doubt of nothing isn't a zero."""
    for one in (*_demo().values(), brewed()):
        view = package_view(one)
        if view is None or not view.volumes:
            continue
        *parts, packed = view.volumes
        assert sum(_number(row.litres) for row in parts) == _number(packed.litres)
        assert not any(row.doubt.text == "±0.00" for row in view.volumes)


def test_more_packaged_than_there_was() -> None:
    """Readings that leave no room for a loss are told as such, with whether their doubt explains it."""
    more = tuple(read(5, "package", "volume", "20.3 L") if row.line == 5 else row for row in BOTTLED)
    assert "0.3 L more than there was, within their doubt." in words(more)
    much = tuple(read(5, "package", "volume", "24 L") if row.line == 5 else row for row in BOTTLED)
    assert "4.0 L more than there was, beyond their doubt." in words(much)


def test_pressures_by_temperature() -> None:
    """4, 20 and 35 °C and the storage, each marked; the worst case is never below what is, nor its upper end below it."""
    view = package_view(brewed(storage="45 °C"))
    assert view is not None
    assert [(row.at, row.remark) for row in view.pressures] == [("4 °C", ""), ("20 °C", ""), ("35 °C", ""), ("45 °C", "as stored, extrapolated")]
    assert all(_number(row.now) < _number(row.worst) <= _number(row.highest) for row in view.pressures)
    assert view.counted.startswith("The worst case counts all that ferments down to 1.010, by the forced ferment; an atmosphere")


def test_before_the_packaging() -> None:
    """A plan gives its priming sugar, or for a keg its pressures and the whole table with the planned row named."""
    planned = package_view(brewed(()))
    assert planned is not None
    assert not planned.is_packaged
    assert planned.sentences[0].startswith("2.1 volumes at 20 °C take 5.5 g of dextrose a litre: 109 g for the 20.0 L")
    keg = package_view(brewed((), method="keg"))
    assert keg is not None
    assert keg.keg is not None
    assert keg.sentences == ("The planned 2.1 volumes want 0.3 bar at 2 °C, 0.7 bar at 8 °C, 0.9 bar at 12 °C, 1.5 bar at 20 °C.",)
    assert [row.volumes for row in keg.keg.rows if row.planned] == ["2.1"]
    assert keg.keg.rows[0].pressures[0] == "–"
    assert keg.keg.dash
    fermenting = package_view(brewed(FERMENTED))
    assert fermenting is not None
    assert not fermenting.is_packaged
    assert package_view(report(batch(plan()))) is None


def test_a_keg_in_words() -> None:
    """Its pressure and temperature as read stand with the gas they hold."""
    rows = (*BOTTLED[:4], read(6, "package", "pressure", "1.0 bar"), read(7, "package", "temperature", "4 °C"))
    found = words(rows, method="keg", keg_pressure="7 bar")
    assert "volumes of carbon dioxide once the keg has come to rest, by 1.0 bar read at 4 °C; the plan was 2.1." in found
    assert "The keg is rated for 7 bar; the worst case at 35 °C is" in found
    assert found.count("below the rating") == 1


# the cellar


def test_the_cellar_closes_to_the_gram_as_printed() -> None:
    """Planned and read parts add up to the extract of the fermenter, and the details to their part, in printed digits."""
    seen = 0
    for one in (*_demo().values(), brewed()):
        view = cellar_view(one)
        if view is None or view.total is None:
            continue
        seen += 1
        parts = [row for row in view.rows if not row.is_detail]
        assert sum(_number(row.read) for row in parts) == _number(view.total.read)
        if view.total.plan.text:
            assert sum(_number(row.plan) for row in parts) == _number(view.total.plan)
        for position, row in enumerate(view.rows):
            details = view.rows[position + 1 : position + 3]
            if not row.is_detail and details and all(detail.is_detail for detail in details):
                assert sum(_number(detail.read) for detail in details) == _number(row.read)
    assert seen >= 10


def test_the_cellar_in_words() -> None:
    """Shares by Balling (0.9565 and 0.11 g a gram of alcohol) of 2.49 kg; the plan beside what stayed; why nothing was packaged."""
    view = cellar_view(brewed())
    assert view is not None
    first = view.sentences[0].replace("\N{NO-BREAK SPACE}", " ").removeprefix("Of the 2.49 kg of extract that went into the fermenter ")
    assert first.startswith("31 % became alcohol, 30 % carbon dioxide and 3 % yeast; 35 % stayed in the beer")
    assert first.endswith(", as planned.")
    unpacked = cellar_view(brewed(FERMENTED))
    assert unpacked is not None
    assert unpacked.sentences[1] == "What was packaged of it can’t be told: the volume packaged was not read."
    assert cellar_view(brewed(())) is None


# the tasting


def _sitting(day: int, total: float, note: str = "") -> Sitting:
    scores = {"aroma": total - 30.0, "appearance": 3.0, "flavour": 15.0, "mouthfeel": 4.0, "overall": 8.0}
    return Sitting(datetime.fromisoformat(f"2026-02-{day:02d} 20:00"), scores, (), (note,) if note else (), float(day))


def _tasted(tastings: Tasting, serving: Serving | None = None) -> Report:
    return replace(brewed(), tastings=tastings, serving=serving)


def test_sittings_side_by_side() -> None:
    """One column a sitting with its day and age, the sum below, a score that wasn't given left blank, words by day."""
    half = Sitting(None, {"aroma": 9.5}, ("appearance", "flavour", "mouthfeel", "overall"), ("dry.",), None)
    view = tasting_view(_tasted(Tasting((_sitting(10, 40.0, "bright"), half))), Markup(""))
    assert view.heads == (("10 Feb", "day 10"), ("no day", ""))
    assert [cell.text for cell in view.rows[0].given] == ["10", "9.5"]
    assert [cell.text for cell in view.rows[1].given] == ["3", ""]
    assert view.total is not None
    assert [cell.text for cell in view.total.given] == ["40", ""]
    assert view.total.most.text == "50"
    assert view.words == (("10 February 2026", "bright"), ("Without a day", "dry"))
    assert view.drift == ""


@pytest.mark.parametrize(
    ("drift", "told"),
    [
        (Drift(203.0, -3.0, {"aroma": -2.0, "flavour": -1.0, "overall": 0.0}, None), "It lost three points of 50 in 203 days: aroma −2, flavour −1."),
        (Drift(1.2, 1.0, {"aroma": 1.0}, None), "It gained one point of 50 in 1 day: aroma +1."),
        (Drift(60.0, 0.5, {"aroma": 0.5}, None), "It gained 0.5 points of 50 in 60 days: aroma +0.5."),
        (Drift(60.0, 0.0, {"aroma": 1.0, "flavour": -1.0}, None), "The sum is the same in 60 days: aroma +1, flavour −1."),
        (
            Drift(90.0, -3.0, {"aroma": -3.0}, Slope(-0.98, 0.12, 2)),
            "It lost three points of 50 in 90 days: aroma −3. "
            "A straight line through four tastings falls by 1.0 points in 30 days (standard error 0.1).",
        ),
    ],
)
def test_drift_in_words(drift: Drift, told: str) -> None:
    """Points and days in the right number, signs, and the line only where there is one."""
    assert tasting_view(_tasted(Tasting((), "packaging", drift)), Markup("")).drift == told


def test_a_glass() -> None:
    """4.9 % vol in 330 mL are 12.9 g, 1.3 drinks of 10 g as the journal says; without its own measure none is told."""
    glass = tasting_view(brewed(), Markup("")).glass
    grams = float(glass.split("holds ")[1].split(" g")[0])
    abv = brewed().figures["abv"].measured
    assert abv is not None
    assert grams == pytest.approx(330.0 * abv.value / 100.0 * 0.7892, abs=0.1)
    assert f"which is {grams / 10.0:.1f} standard drinks of 10 g as this journal counts them, and " in glass
    assert glass.endswith(" kJ.")
    undefined = Serving(0.5, Estimate(16.0, 15.0, 17.0))
    assert tasting_view(_tasted(Tasting(), undefined), Markup("")).glass == "A glass of 500 mL holds 16.0 g of alcohol (±1.0)."
    assert tasting_view(_tasted(Tasting(), Serving(0.5)), Markup("")).glass == ""
    one = Serving(1.0, Estimate(10.1, 9.9, 10.3), 10.0, Estimate(1.01, 0.99, 1.03))
    assert "1.0 standard drink of 10 g" in tasting_view(_tasted(Tasting(), one), Markup("")).glass
    assert tasting_view(brewed(FERMENTED), Markup("")).glass == ""


# the data file


def test_data_of_the_cellar() -> None:
    """JSON without NaN; the parts of the ledger close to 1e-9, sittings have their totals, what can't be had its reason."""
    for one in _demo().values():
        found = json.loads(json.dumps(cellar_data(one), allow_nan=False))
        assert found.keys() == {"package", "cellar_ledger", "tastings", "serving"}
        ledger = found["cellar_ledger"]
        if ledger["extract"] and len(ledger["parts"]) == 4:
            assert sum(part["mass"]["value"] for part in ledger["parts"]) == pytest.approx(ledger["extract"]["mass"]["value"], abs=1e-9)
        assert len(found["tastings"]["totals"]) == len(found["tastings"]["sittings"])
        for sitting, total in zip(found["tastings"]["sittings"], found["tastings"]["totals"], strict=True):
            assert total is None or total == sum(sitting["scores"].values())
        if found["package"]["carbonation"] is None and one.brewed:
            assert found["package"]["absent"]["carbonation"]
