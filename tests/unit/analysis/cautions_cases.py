"""Batches on both sides of the threshold of each caution, worked out by hand."""

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from generator.analysis.cautions import Caution, Facts, cautions
from generator.analysis.course import course
from generator.analysis.figures import figures
from generator.analysis.measured import Measured
from generator.analysis.packaging import packaged
from generator.analysis.plan_view import PlanView
from generator.analysis.planned import Planned
from generator.records.gravity_log import LogRow
from generator.records.journal import BatchRecord
from generator.records.models import Brewhouse, Plan
from generator.records.readings import Reading
from generator.records.toml import TomlFile

Tables = dict[str, Any]


@dataclass(frozen=True)
class Brew:
    """A plan, its brewhouse, and what was read."""

    plan: Tables = field(default_factory=dict)
    house: Tables = field(default_factory=dict)
    readings: tuple[Reading, ...] = ()
    log: tuple[LogRow, ...] = ()

    def facts(self) -> Facts:
        """The batch as a rule sees it; `recipe` and `brewed` are filled in."""
        whole = {**self.plan, "batch": {"recipe": "Test", "brewed": date(2026, 1, 1), **self.plan.get("batch", {})}}
        file = TomlFile("test/plan.toml", whole, {})
        batch = BatchRecord("test", Path("test"), "", Plan.model_validate(whole), file, None, self.readings, self.log)
        view = PlanView(batch.plan, Brewhouse.model_validate({"name": "Test", **self.house}))
        planned, measured = Planned(view), Measured(view, self.readings) if self.readings else None
        return Facts(batch, view, figures(planned, measured), packed=packaged(planned, measured), course=course(batch, view))

    def stand(self) -> dict[str, Caution]:
        """Its cautions by slug."""
        return {caution.slug: caution for caution in cautions(self.facts())}


def row(stage: str, what: str, value: float, unit: str = "", time: str = "") -> Reading:
    """A reading; gravities are SG. Its line is told from its time, so that no two are alike."""
    when = datetime.fromisoformat(time) if time else None
    line = int(when.timestamp()) if when else 2 + len(stage)
    return Reading(line, stage, what, value, unit or "SG", f"{value} {unit or 'SG'}", time=when)


def good(mass: str, name: str = "Pale malt") -> Tables:
    """One of the goods."""
    return {"name": name, "mass": mass, "extract": "80 %"}


def mash(liquor: str) -> Tables:
    """5 kg of malt in so much liquor, one rest at 66 °C."""
    return {"grist": [good("5 kg")], "liquor": {"mash": liquor}, "rest": [{"temperature": "66 °C"}]}


def stand_of_hops(temperature: str) -> Tables:
    """A plan with hops in hot wort."""
    hop = {"name": "Fuggles", "mass": "50 g", "alpha": "5 %", "time": "20 min", "added": "stand", "temperature": temperature}
    return {"hops": [hop]}


BREW: Tables = {
    "target": {"volume": "20 L", "original_gravity": "1.050", "final_gravity": "1.010"},
    "grist": [good("5 kg")],
    "boil": {"duration": "60 min"},
}
"""20 L at 1.050; with the usual losses and evaporation 23 L before the boil, 23.88 L when hot."""


def brew(**target: str) -> Tables:
    """That brew with other targets."""
    return {**BREW, "target": {**BREW["target"], **target}}


def hot_wort(volume: str) -> Tables:
    """So much wort before a boil, at 1.050."""
    return {"target": {"pre_boil_volume": volume, "pre_boil_gravity": "1.050"}, "boil": {"duration": "60 min"}}


def bottles(volumes: str, **package: str) -> Tables:
    """A planned carbonation."""
    return {"target": {"carbonation": volumes}, "package": package}


def iodine(**keys: str) -> Brew:
    """A brew cleaned with iodine."""
    return Brew({"cleaning": {"sanitiser": "iodine", **keys}})


def clean(house: Tables | None = None, **keys: str) -> Brew:
    """A brew and how it is cleaned."""
    return Brew({"cleaning": keys}, house or {})


def kegged(pressure: float, **package: str) -> Brew:
    """A keg under so many bar."""
    return Brew({"package": {"method": "keg", **package}}, {}, (row("package", "pressure", pressure, "bar"),))


def ended(final: float, plan: Tables) -> Brew:
    """1.050 into the fermenter, then the final gravity in the package, without times."""
    return Brew(plan, {}, (row("post-boil", "gravity", 1.050), row("package", "gravity", final)))


def bottled(*gravities: tuple[str, float]) -> Brew:
    """A bottled brew with its gravities by time, after an original gravity of 1.050."""
    rows = tuple(row("fermenter", "gravity", sg, time=time) for time, sg in (("2026-01-01 15:00", 1.050), *gravities))
    last = gravities[-1][0] if gravities else "2026-01-10 10:00"
    packed = row("package", "volume", 19.0, "liter", last)
    return Brew({"package": {"method": "bottle"}}, {}, (*rows, replace(packed, line=packed.line + 1)))


# slug, the brew just below the threshold, the brew just above
CASES: list[tuple[str, Brew, Brew]] = [
    # 20 L grow to 20.43 L at the strike of 70.6 °C, 5 kg take 3.35 L: 23.78 L
    ("overfull-mash", Brew(mash("20 L"), {"mash": {"capacity": "23.8 L"}}), Brew(mash("20.1 L"), {"mash": {"capacity": "23.8 L"}})),
    ("overfull-basket", Brew(BREW, {"mash": {"grain_capacity": "5.01 kg"}}), Brew(BREW, {"mash": {"grain_capacity": "4.99 kg"}})),
    ("scald", Brew({"rest": [{"temperature": "54.9 °C"}]}), Brew({"rest": [{"temperature": "55 °C"}]})),
    ("grain-dust", Brew({"grist": [good("5 kg")]}), Brew({"grist": [good("5.01 kg")]})),
    # wet grain is m − 0.768 m + 1.04 m = 1.272 m; the limit is 11.57 kg, so 9.1 kg of malt
    ("wet-grain", Brew({"grist": [good("9.0 kg")]}), Brew({"grist": [good("9.2 kg")]})),
    ("overfull-kettle", Brew(BREW, {"boil": {"capacity": "24 L"}}), Brew(BREW, {"boil": {"capacity": "23.8 L"}})),
    ("boil-over", Brew(BREW, {"boil": {"capacity": "28.2 L"}}), Brew(BREW, {"boil": {"capacity": "28 L"}})),
    ("lid", Brew(stand_of_hops("59.9 °C")), Brew(stand_of_hops("60 °C"))),
    # 30 m³ of air hold 30 · 17.3 g = 0.519 L of water; the boil lasts an hour
    (
        "steam",
        Brew(BREW, {"boil": {"evaporation": "0.51 L/h", "indoors": True}}),
        Brew(BREW, {"boil": {"evaporation": "0.53 L/h", "indoors": True}}),
    ),
    ("carbon-monoxide", Brew({}, {"boil": {"heat": "gas", "indoors": False}}), Brew({}, {"boil": {"heat": "gas", "indoors": True}})),
    ("burner", Brew({}, {"boil": {"heat": "gas", "indoors": True}}), Brew({}, {"boil": {"heat": "gas"}})),
    ("electricity", Brew(BREW, {"boil": {"heat": "gas"}}), Brew(BREW, {"boil": {"heat": "electric"}})),
    # 12.938 kg are 12.34 L of 1.050
    ("hot-transfer", Brew(hot_wort("12.3 L")), Brew(hot_wort("12.4 L"))),
    # 23 kg are 21.94 L of 1.050
    ("heavy-fermenter", Brew(brew(volume="21.9 L")), Brew(brew(volume="22.0 L"))),
    ("caustic", clean(cleaner="alkaline"), clean(cleaner="caustic")),
    ("strong-caustic", clean(cleaner="caustic", cleaner_strength="3 %"), clean(cleaner="caustic", cleaner_strength="31 g/L")),
    (
        "caustic-on-aluminium",
        clean({"boil": {"material": "stainless steel"}}, cleaner="caustic"),
        clean({"boil": {"material": "aluminium"}}, cleaner="caustic"),
    ),
    ("chlorine", iodine(), clean(sanitiser="chlorine")),
    ("chlorine-gas", clean(cleaner="alkaline", sanitiser="chlorine"), clean(cleaner="acid", sanitiser="chlorine")),
    ("weak-sanitiser", iodine(strength="12.5 mg/L"), iodine(strength="12.4 mg/L")),
    ("strong-sanitiser", iodine(strength="25 mg/L"), iodine(strength="25.1 mg/L")),
    ("short-contact", iodine(contact="30 s"), iodine(contact="29 s")),
    ("cold-sanitiser", iodine(temperature="20 °C"), iodine(temperature="19.9 °C")),
    ("warm-pitch", Brew({"yeast": {"temperature": "28 °C"}}), Brew({"yeast": {"temperature": "28.1 °C"}})),
    ("wort-held", Brew({"yeast": {"wait": "24 h"}}), Brew({"yeast": {"wait": "24.1 h"}})),
    ("full-fermenter", Brew(BREW, {"fermenter": {"capacity": "23.6 L"}}), Brew(BREW, {"fermenter": {"capacity": "23.5 L"}})),
    # 150 L of gas are 274 g; with 1.010 after 1.050 each litre gives about 40 g
    ("carbon-dioxide", Brew({"target": brew(volume="6.5 L")["target"]}), Brew({"target": brew(volume="7.5 L")["target"]})),
    # apparent attenuation is nearly 1 − (FG − 1)/(OG − 1): 80.0 % planned, 70.7 % after 1.0142, 69.4 % after 1.0153
    ("stopped-short", ended(1.0142, {"target": BREW["target"]}), ended(1.0153, {"target": BREW["target"]})),
    # doubts of 0.001 each: 0.0014 together
    (
        "unstable-gravity",
        bottled(("2026-01-08 10:00", 1.0113), ("2026-01-10 10:00", 1.010)),
        bottled(("2026-01-08 10:00", 1.0115), ("2026-01-10 10:00", 1.010)),
    ),
    ("lively-bottles", Brew(bottles("3.0 vol")), Brew(bottles("3.01 vol"))),
    ("bursting-bottles", Brew(bottles("4.0 vol")), Brew(bottles("4.01 vol"))),
    ("over-rating", Brew(bottles("3.5 vol", bottle_volumes="3.5 vol")), Brew(bottles("3.51 vol", bottle_volumes="3.5 vol"))),
    # half a volume a point: 2.5 vol and 1.9 points, 2.9 with the doubt of one more, reach 3.95; with 2.1 points they reach 4.05
    ("unfinished-bottles", ended(1.0119, brew(carbonation="2.5 vol")), ended(1.0121, brew(carbonation="2.5 vol"))),
    ("warm-bottles", Brew(bottles("2.5 vol", storage="25 °C")), Brew(bottles("2.5 vol", storage="25.1 °C"))),
    # 1.050 is 12.39 °P and 1.010 leaves 4.2 % of alcohol by weight: −(0.42 · 4.2 + 0.04 · 12.39 + 0.2) = −2.46 °C
    ("frozen-bottles", Brew({**BREW, "package": {"storage": "-2.3 °C"}}), Brew({**BREW, "package": {"storage": "-2.6 °C"}})),
    (
        "thermal-shock",
        Brew({"package": {"method": "bottle", "temperature": "20 °C"}, "cleaning": {"sanitiser": "hot water", "temperature": "62 °C"}}),
        Brew({"package": {"method": "bottle", "temperature": "20 °C"}, "cleaning": {"sanitiser": "hot water", "temperature": "62.1 °C"}}),
    ),
    ("keg-pressure", kegged(4.0), kegged(4.1)),
    # 2000 g are 1093 L; 0.5 % of 218.6 m³
    (
        "gas-cylinder",
        Brew({"package": {"method": "keg"}}, {"fermenter": {"room": "219 m3"}}),
        Brew({"package": {"method": "keg"}}, {"fermenter": {"room": "218 m3"}}),
    ),
    ("allergens", Brew({"grist": [good("1 kg", "Cane sugar")]}), Brew({"grist": [good("1 kg", "Pale malt")]})),
    # 20 g in 330 mL are 7.68 % vol
    (
        "strong-beer",
        Brew({"target": {"original_gravity": "1.070", "final_gravity": "1.0125"}}),
        Brew({"target": {"original_gravity": "1.070", "final_gravity": "1.011"}}),
    ),
    # 100 US gallons in twelve batches of 31.55 L
    ("law", Brew({"target": {"volume": "31.5 L"}}), Brew({"target": {"volume": "31.6 L"}})),
]
