"""Far Bank: a pale ale with a hot stand and dry hops; at the ferry house with a logger, then on a friend's stove."""

from datetime import date

from tests.demo.logger import Logger
from tests.demo.plans import Plan
from tests.demo.readings import Read, Row, Style, Wrote, note, tasting
from tests.demo.scenario import Scenario, at
from tests.demo.sheet import Good, Hop, Sheet
from tests.demo.truth import Hidden, Phase

_FIRST = Sheet(
    batch={
        "recipe": "Far Bank",
        "title": "Far Bank, first",
        "brewed": date(2026, 3, 28),
        "brewhouse": "ferry-house",
        "summary": "Pale ale: first-wort hops, a long stand at 80 °C, dry hops at the end; the borrowed logger afloat in it.",
        "tags": ("pale ale", "hops", "logger"),
    },
    target={
        "volume": "20 L",
        "original_gravity": "1.056",
        "final_gravity": "1.012",
        "mash_temperature": "65 °C",
        "mash_ph": 5.35,
        "carbonation": "2.4 vol",
    },
    grist=(
        Good("Pale malt", "4.3 kg", "81 %", "5 EBC"),
        Good("Wheat malt", "450 g", "83 %", "4 EBC"),
        Good("Pale caramel malt", "200 g", "76 %", "30 EBC"),
    ),
    liquor={"mash": "19 L", "sparge": "10 L", "sparge_temperature": "76 °C", "grain_temperature": "14 °C"},
    rests=(("65 °C", "60 min"), ("76 °C", "10 min")),
    boil="60 min",
    hops=(
        Hop("Cascade", "20 g", "6.1 %", added="first wort"),
        Hop("Cascade", "30 g", "6.1 %", "10 min"),
        Hop("Centennial", "50 g", "9.4 %", "30 min", added="stand", temperature="80 °C"),
        Hop("Cascade", "60 g", "6.1 %", added="fermenter", when="pitch + 7 d"),
        Hop("Centennial", "40 g", "9.4 %", added="fermenter", when="pitch + 7 d"),
    ),
    yeast={"name": "American ale yeast, two packets, dry", "attenuation": "78 %", "cells": "230e9", "temperature": "18 °C"},
    tasks=(
        ("mash + 15 min", "Mash pH from a cooled sample"),
        ("boil - 10 min", "Kettle finings, half a tablet"),
        ("pitch + 8 d", "No more opening; read again before bottling"),
    ),
    package={"method": "bottle", "sugar": "dextrose", "temperature": "20 °C", "when": "pitch + 14 d"},
)
_SECOND = Sheet(
    batch={
        "recipe": "Far Bank",
        "title": "Far Bank, on Tove's stove",
        "brewed": date(2026, 5, 2),
        "brewhouse": "tove-stove",
        "follows": "2026-03-28-far-bank-1",
        "summary": "The pale ale in one pot with a cloth bag, all in Tove's gallons and pounds.",
        "tags": ("pale ale", "hops", "cloth bag"),
    },
    target={
        "volume": "5 gal",
        "original_gravity": "1.061",
        "final_gravity": "1.014",
        "conversion_efficiency": "90 %",
        "mash_temperature": "150 °F",
        "carbonation": "2.4 vol",
    },
    grist=(
        Good("Pale malt", "10 lb 4 oz", "81 %", "5 EBC"),
        Good("Wheat malt", "1 lb 2 oz", "83 %", "2 SRM"),
        Good("Pale caramel malt", "8 oz", "76 %", "11 °L"),
    ),
    liquor={"mash": "27 qt", "grain_temperature": "66 °F"},
    rests=(("150 °F", "75 min"),),
    boil="60 min",
    hops=(
        Hop("Cascade", "0.75 oz", "6.1 %", added="first wort"),
        Hop("Cascade", "1 oz", "6.1 %", "10 min"),
        Hop("Centennial", "1.75 oz", "9.4 %", "30 min", added="stand", temperature="176 °F"),
        Hop("Cascade", "2 oz", "6.1 %", added="fermenter", when="pitch + 6 d"),
    ),
    yeast={"name": "American ale yeast, two packets, dry", "attenuation": "77 %", "cells": "230e9", "temperature": "66 °F"},
    tasks=(("boil - 10 min", "Kettle finings, half a tablet"),),
    package={"method": "bottle", "sugar": "dextrose", "temperature": "70 °F", "when": "pitch + 15 d"},
)

_HIDDEN_1 = Hidden(
    conversion=0.95, retention=1.17, mixing=0.97, mash_liquor=19.1, sparge=10.0, evaporation=3.1, boil_hours=1.0, kettle_loss=2.8,
    yeast_loss=1.9, malt_bias=0.003, pitched=at("2026-03-28T16:40"), phases=(Phase(0.45, 0.74, 2.2), Phase(7.2, 0.045, 2.0)),
)  # fmt: skip
_LOGGER_1 = Logger(
    seed=328, start=at("2026-03-28T16:50"), days=13.0, minutes=20, offset=0.0016,
    temperatures=((0.0, 17.2), (0.5, 17.8), (1.6, 18.9), (3.0, 19.2), (4.5, 18.4), (7.0, 18.3), (7.6, 19.6), (10.5, 20.2), (13.0, 18.7)),
    gaps=((5.02, 5.43),), spikes=((2.18, 0.0127), (2.2083333, 0.0064), (7.0277778, -0.0181)),
)  # fmt: skip
_ROWS_1: tuple[Row, ...] = (
    Read("2026-03-28 08:40", "mash", "grist", "kg"),
    Read("2026-03-28 08:40", "mash", "liquor", "L", step="0.25"),
    Read("2026-03-28 09:00", "mash", "temperature", "°C", true=65.1),
    Read("2026-03-28 09:15", "mash", "ph", true=5.36, step="0.01", note="2 g gypsum, 2 mL lactic acid"),
    Read("2026-03-28 10:15", "first-wort", "gravity", at=20, step="0.0005"),
    note("2026-03-28 10:20", "first-wort", "First-wort hops in as the basket came up"),
    Read("2026-03-28 10:25", "sparge", "liquor", "L", step="0.25"),
    Read("2026-03-28 11:10", "pre-boil", "volume", "L", at=72, step="0.25"),
    Read("2026-03-28 11:10", "pre-boil", "gravity", at=20, step="0.0005"),
    Wrote("2026-03-28 12:50", "boil", "duration", "60", "min"),
    note("2026-03-28 13:10", "boil", "Cooled to 80, stand began; 77 at its end"),
    Read("2026-03-28 13:45", "post-boil", "volume", "L", at=77, step="0.25", note="after the stand, hops in it"),
    Read("2026-03-28 13:45", "post-boil", "gravity", at=21, step="0.0005"),
    Read("2026-03-28 16:30", "fermenter", "volume", "L", step="0.25"),
    Read("2026-03-28 16:40", "fermenter", "gravity", at=18, step="0.0005"),
    Read("2026-03-31 19:00", "fermenter", "gravity", at=19),
    Read("2026-04-04 17:00", "fermenter", "gravity", at=19),
    note("2026-04-04 17:20", "fermenter", "Dry hops; logger pushed under with the spoon"),
    Read("2026-04-08 19:00", "fermenter", "gravity", at=20),
    Read("2026-04-11 10:00", "package", "volume", "L", step="0.25"),
    Read("2026-04-11 10:00", "package", "gravity", at=19, step="0.0005"),
    Read("2026-04-11 10:30", "package", "sugar", "g", true=0.124),
    Wrote("2026-04-11 10:30", "package", "temperature", "20", "°C"),
    *tasting("2026-05-02 13:00", ("10", "2", "16", "4", "8"), "Grapefruit pith, cut grass, a clean end; haze from the hops"),
)  # fmt: skip

_HIDDEN_2 = Hidden(
    conversion=0.865, retention=0.6, mixing=0.0, mash_liquor=25.7, sparge=0.0, evaporation=3.9, boil_hours=1.0, kettle_loss=1.9,
    yeast_loss=1.3, pitched=at("2026-05-02T19:30"), phases=(Phase(0.4, 0.765, 2.0),),
)  # fmt: skip
_ROWS_2: tuple[Row, ...] = (
    Read("2026-05-02 11:00", "mash", "grist", "lb"),
    Read("2026-05-02 11:00", "mash", "liquor", "qt", at=23),
    Read("2026-05-02 11:30", "mash", "temperature", "°F", true=65.7),
    note("2026-05-02 12:10", "mash", "148 in the middle, 144 at the wall; blanket"),
    Read("2026-05-02 12:45", "first-wort", "gravity", at=26),
    Read("2026-05-02 13:15", "pre-boil", "volume", "gal", at=66, step="0.1", note="bag hung for half an hour and pressed with a plate"),
    Read("2026-05-02 13:15", "pre-boil", "gravity", at=27),
    Wrote("2026-05-02 15:05", "boil", "duration", "60", "min"),
    Read("2026-05-02 15:50", "post-boil", "volume", "gal", at=78, step="0.1"),
    Read("2026-05-02 15:50", "post-boil", "gravity", at=25),
    Read("2026-05-02 19:20", "fermenter", "volume", "gal", at=20, step="0.1"),
    Read("2026-05-02 19:30", "fermenter", "gravity", at=20),
    Read("2026-05-05 20:00", "fermenter", "temperature", "°F", true=20.3),
    Read("2026-05-08 19:00", "fermenter", "gravity", at=20, note="dry hops in"),
    Read("2026-05-16 10:00", "fermenter", "gravity", at=19),
    Read("2026-05-17 10:00", "package", "volume", "gal", step="0.1"),
    Read("2026-05-17 10:20", "package", "sugar", "oz", true=0.116),
    Wrote("2026-05-17 10:20", "package", "temperature", "70", "°F"),
    *tasting("2026-06-07 17:00", ("9", "2", "15", "3", "7"), "Same hops, rounder and duller than ours; Tove likes it better"),
)  # fmt: skip

BATCHES = (
    Scenario(
        "2026-03-28-far-bank-1", Plan(_FIRST), _HIDDEN_1, _ROWS_1,
        Style(("time", "stage", "what", "value", "unit", "at", "note")), seed=20260328, logger=_LOGGER_1,
    ),
    Scenario(
        "2026-05-02-far-bank-2", Plan(_SECOND), _HIDDEN_2, _ROWS_2,
        Style(("time", "stage", "what", "value", "unit", "at", "note"), fahrenheit=True), seed=20260502, calibrated_at=15.56,
    ),
)  # fmt: skip
