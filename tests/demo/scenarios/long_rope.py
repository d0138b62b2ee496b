"""Long Rope: a strong golden ale with sugar in the boil, once by refractometer and above plan, once stuck."""

from dataclasses import replace
from datetime import date

from tests.demo.plans import Plan
from tests.demo.readings import Read, Row, Style, Wrote, note, tasting
from tests.demo.scenario import Scenario, at
from tests.demo.sheet import Good, Hop, Sheet
from tests.demo.truth import Hidden, Phase

_FIRST = Sheet(
    batch={
        "recipe": "Long Rope",
        "title": "Long Rope, first",
        "brewed": date(2026, 5, 30),
        "brewhouse": "ferry-house",
        "summary": "A strong golden ale, dry by a kilogram of white sugar; every gravity by refractometer.",
        "tags": ("golden ale", "strong", "sugar", "refractometer"),
    },
    target={
        "volume": "18 L",
        "original_gravity": "1.079",
        "final_gravity": "1.011",
        "mash_temperature": "64 °C",
        "mash_ph": 5.35,
        "carbonation": "2.8 vol",
    },
    grist=(
        Good("Lager malt", "4.8 kg", "81 %", "3.5 EBC"),
        Good("Wheat malt", "300 g", "83 %", "4 EBC"),
        Good("White sugar", "900 g", "100 %", "0 EBC", moisture="0 %", added="boil"),
    ),
    liquor={"mash": "19 L", "sparge": "9 L", "sparge_temperature": "76 °C", "grain_temperature": "17 °C"},
    rests=(("64 °C", "75 min"), ("76 °C", "10 min")),
    boil="75 min",
    hops=(Hop("Hallertau Tradition", "45 g", "5.6 %", "60 min"), Hop("Saaz", "30 g", "3.4 %", "10 min")),
    yeast={"name": "Belgian strong ale yeast, starter of two litres", "attenuation": "84 %", "cells": "280e9", "temperature": "20 °C"},
    tasks=(
        ("mash + 15 min", "Mash pH from a cooled sample"),
        ("boil - 15 min", "Sugar in, stirring, flame down"),
        ("pitch + 3 d", "Let it rise to 24 °C by itself"),
    ),
    package={
        "method": "bottle",
        "sugar": "sucrose",
        "temperature": "23 °C",
        "when": "pitch + 21 d",
        "storage": "16 °C",
        "bottle_volumes": "3.5 vol",
    },
)
_SECOND = replace(
    _FIRST,
    batch={
        "recipe": "Long Rope",
        "title": "Long Rope, second",
        "brewed": date(2026, 7, 11),
        "brewhouse": "ferry-house",
        "follows": "2026-05-30-long-rope-1",
        "summary": "Meant as the first with a little more sugar. It stuck at half way and stayed there.",
        "tags": ("golden ale", "strong", "sugar", "went wrong"),
    },
    target={**_FIRST.target, "original_gravity": "1.080", "final_gravity": "1.012"},
    grist=(*_FIRST.grist[:2], replace(_FIRST.grist[2], mass="1.0 kg")),
    liquor={"mash": "19 L", "sparge": "9 L", "sparge_temperature": "76 °C", "grain_temperature": "22 °C"},
    yeast={"name": "Belgian strong ale yeast, slurry of the first", "attenuation": "84 %", "cells": "200e9", "temperature": "20 °C"},
)

_HIDDEN_1 = Hidden(
    conversion=0.968, retention=1.1, mixing=0.97, mash_liquor=18.9, sparge=9.0, evaporation=3.6, boil_hours=1.25, kettle_loss=2.3,
    yeast_loss=1.1, malt_bias=0.009, pitched=at("2026-05-30T16:50"), phases=(Phase(0.4, 0.80, 2.6), Phase(4.0, 0.055, 4.5)),
)  # fmt: skip
_ROWS_1: tuple[Row, ...] = (
    Read("2026-05-30 08:15", "mash", "grist", "kg"),
    Read("2026-05-30 08:15", "mash", "liquor", "L", step="0.25"),
    Read("2026-05-30 08:40", "mash", "temperature", "°C", true=64.2),
    Read("2026-05-30 08:55", "mash", "ph", true=5.32, step="0.01"),
    Read("2026-05-30 10:15", "first-wort", "gravity", "°Bx"),
    Read("2026-05-30 10:20", "sparge", "liquor", "L", step="0.25"),
    Read("2026-05-30 11:05", "pre-boil", "volume", "L", at=74, step="0.25"),
    Read("2026-05-30 11:05", "pre-boil", "gravity", "°Bx"),
    note("2026-05-30 12:40", "boil", "Sugar in, 900 g, quarter of an hour before the end"),
    Wrote("2026-05-30 12:55", "boil", "duration", "75", "min"),
    Read("2026-05-30 13:00", "post-boil", "volume", "L", at=98, step="0.25"),
    Read("2026-05-30 13:10", "post-boil", "gravity", "°Bx", note="two drops, four minutes apart, the same"),
    Read("2026-05-30 16:30", "fermenter", "volume", "L", step="0.25"),
    Read("2026-05-30 16:50", "fermenter", "gravity", "°Bx"),
    Read("2026-06-01 20:00", "fermenter", "temperature", "°C", true=22.4),
    Read("2026-06-02 19:00", "fermenter", "gravity", "°Bx"),
    Read("2026-06-05 19:00", "fermenter", "gravity", "°Bx"),
    Read("2026-06-05 19:00", "fermenter", "temperature", "°C", true=24.1),
    Read("2026-06-10 19:00", "fermenter", "gravity", "°Bx"),
    Read("2026-06-14 10:20", "fermenter", "gravity", "SG", at=22, step="0.0005", note="check with the hydrometer, gas shaken out"),
    Read("2026-06-14 10:30", "fermenter", "gravity", "°Bx"),
    Read("2026-06-20 10:00", "package", "volume", "L", step="0.25"),
    Read("2026-06-20 10:00", "package", "gravity", "°Bx", note="as six days ago, near enough"),
    Read("2026-06-20 10:40", "package", "sugar", "g", true=0.132),
    Wrote("2026-06-20 10:40", "package", "temperature", "23", "°C"),
    *tasting("2026-07-25 20:30", ("9", "3", "16", "4", "8"), "Pear and pepper, then warmth; too easy for what it is"),
)  # fmt: skip

_HIDDEN_2 = Hidden(
    conversion=0.945, retention=1.18, mixing=0.95, mash_liquor=19.0, sparge=9.1, evaporation=3.15, boil_hours=1.25, kettle_loss=2.5,
    yeast_loss=1.2, malt_bias=-0.002, pitched=at("2026-07-11T17:10"),
    phases=(Phase(0.6, 0.50, 1.8), Phase(11.0, 0.025, 2.0), Phase(20.5, 0.075, 3.5)),
)  # fmt: skip
_ROWS_2: tuple[Row, ...] = (
    Read("2026-07-11 08:00", "mash", "grist", "kg"),
    Read("2026-07-11 08:00", "mash", "liquor", "L", step="0.25"),
    Read("2026-07-11 08:25", "mash", "temperature", "°C", true=64.4),
    Read("2026-07-11 08:40", "mash", "ph", true=5.37, step="0.01"),
    Read("2026-07-11 09:55", "first-wort", "gravity", at=22, step="0.0005"),
    Read("2026-07-11 10:00", "sparge", "liquor", "L", step="0.25"),
    Read("2026-07-11 10:45", "pre-boil", "volume", "L", at=75, step="0.25"),
    Read("2026-07-11 10:45", "pre-boil", "gravity", at=22, step="0.0005"),
    Wrote("2026-07-11 12:35", "boil", "duration", "75", "min"),
    Read("2026-07-11 12:40", "post-boil", "volume", "L", at=98, step="0.25"),
    Read("2026-07-11 12:50", "post-boil", "gravity", at=23, step="0.0005"),
    Read("2026-07-11 16:50", "fermenter", "volume", "L", at=24, step="0.25", note="24 °C was as cold as the tap would make it"),
    Read("2026-07-11 17:10", "fermenter", "gravity", at=24, step="0.0005"),
    note("2026-07-11 17:10", "fermenter", "Slurry five weeks old, poured in as it was; fridge set to 20"),
    Read("2026-07-13 20:00", "fermenter", "temperature", "°C", true=27.5, note="probe had slipped off the wall"),
    note("2026-07-13 20:15", "fermenter", "Probe taped back, fridge ran all night"),
    Read("2026-07-14 07:00", "fermenter", "temperature", "°C", true=15.5),
    Read("2026-07-16 19:00", "fermenter", "gravity", at=18),
    Read("2026-07-20 19:00", "fermenter", "gravity", at=19),
    note("2026-07-22 19:00", "fermenter", "Roused with a long spoon, set to 24"),
    Read("2026-07-26 10:00", "fermenter", "gravity", at=24),
    Read("2026-07-30 19:00", "fermenter", "gravity", at=24),
    note("2026-08-01 10:00", "fermenter", "Fresh dry ale yeast, 11 g, started in half a litre of weak wort"),
    Read("2026-08-08 10:00", "fermenter", "gravity", at=23),
    Read("2026-08-22 10:00", "fermenter", "gravity", at=21, step="0.0005"),
    Read("2026-08-29 10:00", "fermenter", "gravity", at=21, step="0.0005", note="same as a week ago"),
    Read("2026-08-30 10:00", "package", "volume", "L", step="0.25"),
    Wrote("2026-08-30 10:30", "package", "pressure", "1.1", "bar", note="keg, kept at 3 °C; no bottles from a beer that may wake up"),
    *tasting("2026-09-12 20:00", ("5", "3", "8", "2", "3"), "Boiled pear sweets, syrup, a hot solvent note behind. One glass is a lot"),
)  # fmt: skip

BATCHES = (
    Scenario(
        "2026-05-30-long-rope-1", Plan(_FIRST), _HIDDEN_1, _ROWS_1,
        Style(("time", "stage", "what", "value", "unit", "at", "note")), seed=20260530,
    ),
    Scenario(
        "2026-07-11-long-rope-2", Plan(_SECOND), _HIDDEN_2, _ROWS_2,
        Style(("time", "stage", "what", "value", "unit", "at", "note")), seed=20260711,
    ),
)  # fmt: skip
