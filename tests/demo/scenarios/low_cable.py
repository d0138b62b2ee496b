"""Low Cable: a dark lager, gravities in °P, typed on a spreadsheet that writes decimal commas."""

from datetime import date

from tests.demo.plans import Plan
from tests.demo.readings import Read, Row, Style, Wrote, note, tasting
from tests.demo.scenario import Scenario, at
from tests.demo.sheet import Good, Hop, Sheet
from tests.demo.truth import Hidden, Phase

_PLAN = Sheet(
    batch={
        "recipe": "Low Cable",
        "title": "Low Cable",
        "brewed": date(2026, 1, 17),
        "brewhouse": "ferry-house",
        "summary": "A dark lager while the engine room is cold enough to keep one.",
        "tags": ("lager", "dark", "cold"),
        "allergens": ("fish",),
    },
    target={
        "volume": "20 L",
        "original_gravity": "13.3 °P",
        "final_gravity": "3.4 °P",
        "mash_temperature": "63 °C",
        "mash_ph": 5.4,
        "carbonation": "2.5 vol",
    },
    grist=(
        Good("Lager malt", "2.6 kg", "81 %", "3.5 EBC"),
        Good("Munich malt", "1.9 kg", "80 %", "20 EBC"),
        Good("Caramel malt 100 EBC", "200 g", "75 %", "100 EBC"),
        Good("Husked black malt", "100 g", "66 %", "1200 EBC"),
    ),
    liquor={"mash": "20.5 L", "sparge": "10 L", "sparge_temperature": "76 °C", "grain_temperature": "9 °C"},
    rests=(("55 °C", "10 min"), ("63 °C", "35 min"), ("72 °C", "30 min"), ("77 °C", "5 min")),
    boil="90 min",
    hops=(Hop("Saaz", "50 g", "3.6 %", "75 min"), Hop("Saaz", "30 g", "3.6 %", "20 min")),
    yeast={
        "name": "Lager yeast, starter of four litres, poured off",
        "attenuation": "75 %",
        "forced_gravity": "3.4 °P",
        "cells": "380e9",
        "temperature": "10 °C",
        "wait": "18 h",
    },
    tasks=(
        ("mash + 20 min", "Mash pH from a cooled sample"),
        ("boil - 10 min", "Kettle finings, half a tablet"),
        ("pitch + 9 d", "Raise to 14 °C for the diacetyl, three days"),
        ("pitch + 13 d", "A degree a day down to 2 °C"),
        ("pitch + 42 d", "Isinglass, stirred into a litre of the cold beer first"),
    ),
    package={"method": "keg", "temperature": "14 °C", "when": "pitch + 49 d", "storage": "4 °C", "keg_pressure": "7 bar"},
)

_HIDDEN = Hidden(
    conversion=0.945, retention=1.16, mixing=0.95, mash_liquor=20.4, sparge=10.0, evaporation=3.1, boil_hours=1.5, kettle_loss=2.4,
    yeast_loss=1.0, pitched=at("2026-01-18T09:30"), phases=(Phase(1.2, 0.745, 5.0, 2.0),),
)  # fmt: skip
_ROWS: tuple[Row, ...] = (
    Read("2026-01-17 09:05", "mash", "grist", "kg"),
    Read("2026-01-17 09:05", "mash", "liquor", "L"),
    Read("2026-01-17 09:20", "mash", "temperature", "°C", true=55.4),
    Read("2026-01-17 09:50", "mash", "temperature", "°C", true=63.1),
    Read("2026-01-17 09:55", "mash", "ph", true=5.47, step="0.01"),
    note("2026-01-17 10:25", "mash", "Twelve minutes from 63 to 72, lid on"),
    Read("2026-01-17 11:05", "first-wort", "gravity", "°P", at=20),
    Read("2026-01-17 11:10", "first-wort", "ph", true=5.41, step="0.01"),
    Read("2026-01-17 11:15", "sparge", "liquor", "L"),
    Read("2026-01-17 11:15", "sparge", "temperature", "°C", true=76),
    Read("2026-01-17 12:00", "pre-boil", "volume", "L", at=75),
    Read("2026-01-17 12:00", "pre-boil", "gravity", "°P", at=20),
    Wrote("2026-01-17 14:10", "boil", "duration", "90", "min"),
    Read("2026-01-17 14:15", "post-boil", "volume", "L", at=97),
    Read("2026-01-17 14:20", "post-boil", "gravity", "°P", at=22),
    Read("2026-01-17 14:20", "post-boil", "ph", true=5.2, step="0.01"),
    Read("2026-01-18 09:00", "fermenter", "volume", "L", at=10, note="left overnight in the yard to get cold"),
    Read("2026-01-18 09:30", "fermenter", "gravity", "°P", at=18),
    Read("2026-01-21 19:00", "fermenter", "temperature", "°C", true=10.2),
    Read("2026-01-24 18:00", "fermenter", "gravity", "°P", at=18),
    Read("2026-01-27 19:30", "fermenter", "gravity", "°P", at=18, note="no butter in a warmed glass"),
    Read("2026-01-29 19:00", "fermenter", "temperature", "°C", true=13.8),
    Read("2026-02-01 11:00", "fermenter", "gravity", "°P", at=19),
    Read("2026-02-20 20:00", "fermenter", "temperature", "°C", true=2.4),
    Read("2026-03-08 10:30", "package", "volume", "L", at=2),
    Read("2026-03-08 10:30", "package", "gravity", "°P", at=18),
    Wrote("2026-03-08 11:00", "package", "pressure", "0.9", "bar", at="4", note="after seven days"),
    Wrote("2026-03-08 11:00", "package", "temperature", "14", "°C"),
    *tasting("2026-03-21 20:00", ("9", "3", "17", "4", "9"), "Bread crust; plain chocolate far off; the hops only dry it"),
)  # fmt: skip

BATCHES = (
    Scenario(
        "2026-01-17-low-cable-1", Plan(_PLAN), _HIDDEN, _ROWS,
        Style(("stage", "what", "value", "unit", "at", "time", "note"), delimiter=";", decimal_comma=True), seed=20260117,
    ),
)  # fmt: skip
