"""Halfpenny Toll: the bitter, once with warm samples and the old hydrometer, once better than its plan."""

from dataclasses import replace
from datetime import date

from tests.demo.plans import Plan
from tests.demo.readings import Read, Row, Style, Wrote, note, tasting
from tests.demo.scenario import Scenario, at
from tests.demo.sheet import Good, Hop, Sheet
from tests.demo.truth import Hidden, Phase

_PACKAGE = {"method": "bottle", "sugar": "sucrose", "temperature": "19 °C", "when": "pitch + 14 d"}

_FIRST = Sheet(
    batch={
        "recipe": "Halfpenny Toll",
        "title": "Halfpenny Toll, first",
        "brewed": date(2025, 10, 4),
        "brewhouse": "ferry-house-2025",
        "summary": "A plain bitter to learn the vessel with.",
        "tags": ("bitter", "everyday"),
    },
    target={
        "volume": "22 L",
        "original_gravity": "1.043",
        "final_gravity": "1.011",
        "mash_temperature": "67 °C",
        "mash_ph": 5.4,
        "carbonation": "2.0 vol",
    },
    grist=(
        Good("Pale malt", "3.4 kg", "81 %", "5 EBC"),
        Good("Crystal malt 150 EBC", "300 g", "74 %", "150 EBC"),
        Good("Amber malt", "200 g", "75 %", "60 EBC"),
    ),
    liquor={"mash": "18 L", "sparge": "11 L", "sparge_temperature": "76 °C", "grain_temperature": "17 °C"},
    rests=(("67 °C", "60 min"),),
    boil="60 min",
    hops=(
        Hop("Fuggles", "35 g", "4.8 %", "60 min"),
        Hop("East Kent Goldings", "25 g", "5.4 %", "15 min"),
        Hop("East Kent Goldings", "20 g", "5.4 %", "2 min"),
    ),
    yeast={"name": "English ale yeast, dry", "attenuation": "73 %", "cells": "200e9", "temperature": "19 °C"},
    tasks=(("mash + 15 min", "Mash pH from a cooled sample"), ("boil - 10 min", "Kettle finings, half a tablet")),
    package=_PACKAGE,
)
_SECOND = replace(
    _FIRST,
    batch={
        "recipe": "Halfpenny Toll",
        "title": "Halfpenny Toll, second",
        "brewed": date(2026, 9, 5),
        "brewhouse": "ferry-house",
        "follows": "2025-10-04-halfpenny-toll-1",
        "summary": "The bitter again, with malt crushed at home; also to raise yeast for the stout.",
        "tags": ("bitter", "everyday"),
    },
    target={**_FIRST.target, "original_gravity": "1.042"},
    liquor={"mash": "18 L", "sparge": "12 L", "sparge_temperature": "76 °C", "grain_temperature": "19 °C"},
    hops=(
        Hop("Fuggles", "35 g", "4.6 %", "60 min"),
        Hop("East Kent Goldings", "25 g", "5.5 %", "15 min"),
        Hop("East Kent Goldings", "25 g", "5.5 %", "2 min"),
    ),
    package={"method": "bottle", "sugar": "sucrose", "temperature": "20 °C", "when": "pitch + 14 d"},
)

_HIDDEN_1 = Hidden(
    conversion=0.945, retention=1.0, mixing=0.93, mash_liquor=18.0, sparge=11.0, evaporation=3.05, boil_hours=1.0, kettle_loss=2.1,
    yeast_loss=1.2, malt_bias=0.002, pitched=at("2025-10-04T16:30"), phases=(Phase(0.4, 0.735, 2.1),),
)  # fmt: skip
_ROWS_1: tuple[Row, ...] = (
    Read("2025-10-04 09:20", "mash", "grist", "kg"),
    Read("2025-10-04 09:40", "mash", "liquor", "L", at=70, step="0.25", note="read hot on the sight glass"),
    Read("2025-10-04 10:00", "mash", "temperature", "°C", true=67.2),
    Read("2025-10-04 10:15", "mash", "ph", true=5.45, step="0.01"),
    Read("2025-10-04 11:00", "first-wort", "gravity", at=45, note="too warm, I was curious"),
    Read("2025-10-04 11:10", "sparge", "liquor", "L", at=75, step="0.25"),
    Read("2025-10-04 11:10", "sparge", "temperature", "°C", true=75),
    Read("2025-10-04 11:55", "pre-boil", "volume", "L", at=70, step="0.25"),
    Read("2025-10-04 11:55", "pre-boil", "gravity", at=42),
    Read("2025-10-04 13:40", "boil", "duration", "min"),
    Read("2025-10-04 13:45", "post-boil", "volume", "L", at=98, step="0.25", note="flame just out"),
    Read("2025-10-04 13:55", "post-boil", "gravity", at=38),
    Read("2025-10-04 14:25", "post-boil", "temperature", "°C", true=24),
    Read("2025-10-04 16:20", "fermenter", "volume", "L", at=24, step="0.25"),
    Read("2025-10-04 16:30", "fermenter", "gravity", at=30, doubt="0.0015", note="second glass, cooled longer"),
    note("2025-10-05 08:00", "fermenter", "Foam"),
    Read("2025-10-08 19:00", "fermenter", "gravity", at=19),
    Read("2025-10-12 11:00", "fermenter", "gravity", at=19),
    Read("2025-10-18 11:00", "package", "volume", "L", step="0.25"),
    Read("2025-10-18 11:00", "package", "gravity", at=18),
    Read("2025-10-18 11:20", "package", "sugar", "g", true=0.090),
    Wrote("2025-10-18 11:20", "package", "temperature", "19", "°C"),
    *tasting("2025-11-16 19:30", ("8", "2", "15", "4", "7"), "Marmalade and biscuit, hedge leaf; a haze that will not settle"),
)  # fmt: skip

_HIDDEN_2 = Hidden(
    conversion=0.985, retention=1.08, mixing=0.97, mash_liquor=18.0, sparge=12.0, evaporation=3.4, boil_hours=1.0, kettle_loss=2.4,
    yeast_loss=1.4, malt_bias=0.014, pitched=at("2026-09-05T15:30"), phases=(Phase(0.4, 0.74, 1.9),),
)  # fmt: skip
_ROWS_2: tuple[Row, ...] = (
    Read("2026-09-05 08:50", "mash", "grist", "kg"),
    Read("2026-09-05 08:50", "mash", "liquor", "L", step="0.25"),
    Read("2026-09-05 09:10", "mash", "temperature", "°C", true=66.8),
    Read("2026-09-05 09:25", "mash", "ph", true=5.42, step="0.01"),
    note("2026-09-05 10:00", "mash", "Own crush for the first time, rollers at 1.0 mm"),
    note("2026-09-05 10:15", "mash", "Telephone; forgot to draw the first wort"),
    Read("2026-09-05 10:20", "sparge", "liquor", "L", step="0.25"),
    Read("2026-09-05 11:15", "pre-boil", "volume", "L", at=74, step="0.25"),
    Read("2026-09-05 11:15", "pre-boil", "gravity", at=20, step="0.0005"),
    Wrote("2026-09-05 12:50", "boil", "duration", "60", "min"),
    Read("2026-09-05 12:55", "post-boil", "volume", "L", at=98, step="0.25"),
    Read("2026-09-05 13:05", "post-boil", "gravity", at=21, step="0.0005"),
    Read("2026-09-05 15:20", "fermenter", "volume", "L", step="0.25"),
    Read("2026-09-05 15:30", "fermenter", "gravity", at=20, step="0.0005"),
    Read("2026-09-09 19:00", "fermenter", "gravity", at=20),
    Read("2026-09-14 19:00", "fermenter", "gravity", at=20, step="0.0005"),
    Read("2026-09-19 10:00", "package", "volume", "L", step="0.25"),
    Read("2026-09-19 10:00", "package", "gravity", at=19, step="0.0005"),
    Read("2026-09-19 10:30", "package", "sugar", "g", true=0.090),
    Wrote("2026-09-19 10:30", "package", "temperature", "20", "°C"),
    note("2026-09-19 11:00", "package", "A litre of slurry in the fridge for the stout"),
    *tasting("2026-10-17 19:00", ("9", "3", "16", "4", "8"), "Bright for once; orange peel, toast, dry at the end"),
)  # fmt: skip

BATCHES = (
    Scenario(
        "2025-10-04-halfpenny-toll-1", Plan(_FIRST), _HIDDEN_1, _ROWS_1,
        Style(("time", "stage", "what", "value", "unit", "at", "doubt", "note")), seed=20251004, calibrated_at=15.56,
    ),
    Scenario(
        "2026-09-05-halfpenny-toll-2", Plan(_SECOND), _HIDDEN_2, _ROWS_2,
        Style(("time", "stage", "what", "value", "unit", "at", "note")), seed=20260905,
    ),
)  # fmt: skip
