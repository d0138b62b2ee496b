"""Fog Bell: a strong stout that fills the basket, brewed three times, planned a fourth and dreamt of a fifth."""

from dataclasses import replace
from datetime import date

from tests.demo.plans import Plan
from tests.demo.readings import Read, Row, Style, Wrote, note, tasting
from tests.demo.scenario import Scenario, at
from tests.demo.sheet import Good, Hop, Sheet
from tests.demo.truth import Hidden, Phase

_STYLE = Style(columns=("time", "stage", "what", "value", "unit", "at", "note"))
_PACKAGE = {"method": "bottle", "sugar": "dextrose", "temperature": "20 °C", "when": "pitch + 28 d"}
_PH_TASK = ("mash + 15 min", "Mash pH from a cooled sample; lactic acid at hand")
_FINING_TASK = ("boil - 10 min", "Kettle finings, half a tablet")


def _grist(pale: str, oats: str, barley: str, crystal: str) -> tuple[Good, ...]:
    """Return the grist; only these four were ever changed."""
    return (
        Good("Pale malt", pale, "81 %", "5 EBC"),
        *((Good("Flaked oats", oats, "72 %", "4 EBC", moisture="9 %"),) if oats else ()),
        Good("Brown malt", "700 g", "70 %", "110 EBC"),
        Good("Roasted barley", barley, "68 %", "1300 EBC"),
        Good("Crystal malt 150 EBC", crystal, "74 %", "150 EBC"),
        Good("Chocolate malt", "350 g", "69 %", "950 EBC"),
    )


_FIRST = Sheet(
    batch={
        "recipe": "Fog Bell",
        "title": "Fog Bell, first",
        "brewed": date(2025, 11, 15),
        "brewhouse": "ferry-house-2025",
        "summary": "A strong stout for next winter, with as much grain as the basket will take.",
        "tags": ("stout", "strong", "keeping beer"),
    },
    target={
        "volume": "19 L",
        "original_gravity": "1.100",
        "final_gravity": "1.025",
        "mash_efficiency": "79 %",
        "mash_temperature": "66 °C",
        "mash_ph": 5.4,
        "carbonation": "2.1 vol",
    },
    grist=_grist("6.3 kg", "1.0 kg", "500 g", "450 g"),
    liquor={"mash": "24.5 L", "sparge": "6 L", "sparge_temperature": "76 °C", "grain_temperature": "14 °C"},
    rests=(("66 °C", "60 min"), ("76 °C", "10 min")),
    boil="90 min",
    hops=(Hop("Challenger", "75 g", "7.4 %", "75 min"), Hop("East Kent Goldings", "40 g", "5.2 %", "15 min")),
    yeast={
        "name": "English ale yeast, two starters of two litres",
        "attenuation": "74 %",
        "cells": "350e9",
        "temperature": "18 °C",
    },
    tasks=(_PH_TASK, _FINING_TASK, ("pitch + 14 d", "Raise to 20 °C if it still moves")),
    package={**_PACKAGE, "when": "pitch + 35 d"},
)
_SECOND = replace(
    _FIRST,
    batch={
        "recipe": "Fog Bell",
        "title": "Fog Bell, second",
        "brewed": date(2026, 2, 21),
        "brewhouse": "ferry-house",
        "follows": "2025-11-15-fog-bell-1",
        "summary": "Less grain, three litres less beer, a bigger sparge run slowly, and two hours of boiling.",
        "tags": ("stout", "strong", "keeping beer"),
    },
    target={
        "volume": "16 L",
        "original_gravity": "1.095",
        "final_gravity": "1.023",
        "conversion_efficiency": "90 %",
        "mash_temperature": "66 °C",
        "mash_ph": 5.4,
        "carbonation": "2.1 vol",
    },
    grist=_grist("5.9 kg", "700 g", "500 g", "450 g"),
    mash={"portions": 3, "interval": "5 min"},
    liquor={"mash": "22 L", "sparge": "9 L", "sparge_temperature": "76 °C", "grain_temperature": "12 °C"},
    rests=(("66 °C", "75 min"), ("76 °C", "15 min")),
    boil="120 min",
    hops=(Hop("Challenger", "70 g", "7.4 %", "75 min"), Hop("East Kent Goldings", "40 g", "5.2 %", "15 min")),
    yeast={
        "name": "English ale yeast, slurry of the bitter woken in two litres",
        "attenuation": "74 %",
        "cells": "320e9",
        "temperature": "18 °C",
    },
    tasks=(_PH_TASK, _FINING_TASK),
    package=_PACKAGE,
)
_THIRD = replace(
    _SECOND,
    batch={
        "recipe": "Fog Bell",
        "title": "Fog Bell, third",
        "brewed": date(2026, 10, 10),
        "brewhouse": "ferry-house",
        "follows": "2026-02-21-fog-bell-2",
        "summary": "Finer crush, a ninety-minute mash stirred twice, ten litres of sparge.",
        "tags": ("stout", "strong", "keeping beer"),
    },
    target={**_SECOND.target, "volume": "17 L", "conversion_efficiency": "93 %"},
    grist=_grist("6.1 kg", "700 g", "450 g", "500 g"),
    mash={"portions": 4, "interval": "4 min"},
    liquor={"mash": "22 L", "sparge": "10 L", "sparge_temperature": "77 °C", "grain_temperature": "15 °C"},
    rests=(("66 °C", "90 min"), ("76 °C", "15 min")),
    hops=(Hop("Challenger", "72 g", "7.1 %", "75 min"), Hop("East Kent Goldings", "40 g", "5.5 %", "15 min")),
    yeast={"name": "English ale yeast, slurry of the bitter", "attenuation": "74 %", "cells": "340e9", "temperature": "18 °C"},
    tasks=(
        _PH_TASK,
        ("mash + 30 min", "Pump off for five minutes, then stir down to the plate"),
        ("mash + 60 min", "The same again"),
        _FINING_TASK,
        ("pitch + 6 d", "Raise to 20 °C over two days"),
    ),
)
_FOURTH = replace(
    _THIRD,
    batch={
        "recipe": "Fog Bell",
        "title": "Fog Bell, fourth",
        "brewed": date(2026, 12, 12),
        "brewhouse": "ferry-house",
        "follows": "2026-10-10-fog-bell-3",
        "summary": "The third again, with the oats gone and a little more pale malt in their place.",
        "tags": ("stout", "strong", "keeping beer"),
    },
    target={**_THIRD.target, "original_gravity": "1.096"},
    grist=_grist("6.8 kg", "", "450 g", "500 g"),
    liquor={"mash": "22 L", "sparge": "10 L", "sparge_temperature": "77 °C", "grain_temperature": "12 °C"},
    yeast={
        "name": "English ale yeast, slurry of a bitter still to be brewed",
        "attenuation": "74 %",
        "cells": "340e9",
        "temperature": "18 °C",
    },
)
_FIFTH = replace(
    _FOURTH,
    batch={
        "recipe": "Fog Bell",
        "title": "Fog Bell, fifth",
        "brewed": date(2027, 2, 13),
        "brewhouse": "ferry-house",
        "follows": "2026-12-12-fog-bell-4",
        "summary": "All the liquor in the mash and no sparge. It is three litres more than the vessel holds.",
        "tags": ("stout", "strong", "keeping beer", "no sparge"),
    },
    grist=_grist("7.3 kg", "", "500 g", "550 g"),
    liquor={"mash": "34 L", "sparge": "0 L", "grain_temperature": "10 °C"},
    boil="150 min",
    hops=(Hop("Challenger", "75 g", "7.1 %", "75 min"), Hop("East Kent Goldings", "40 g", "5.5 %", "15 min")),
    yeast={
        "name": "English ale yeast, two packets, dry",
        "attenuation": "74 %",
        "cells": "400e9",
        "temperature": "18 °C",
    },
)

_HIDDEN_1 = Hidden(
    conversion=0.935, retention=1.3, mixing=0.74, mash_liquor=24.6, sparge=7.5, evaporation=3.15, boil_hours=1.5, kettle_loss=2.0,
    yeast_loss=1.3, malt_bias=-0.004, pitched=at("2025-11-15T17:40"),
    phases=(Phase(0.6, 0.66, 3.4), Phase(4.0, 0.085, 5.0)),
)  # fmt: skip
_ROWS_1: tuple[Row, ...] = (
    Read("2025-11-15 08:10", "mash", "liquor", "L", at=20, step="0.5"),
    Read("2025-11-15 08:55", "mash", "grist", "kg", note="kitchen scale, four buckets"),
    note("2025-11-15 09:20", "mash", "Basket full to the rim, top plate would not sit flat"),
    Read("2025-11-15 09:25", "mash", "temperature", "°C", true=65.3),
    Read("2025-11-15 09:35", "mash", "ph", true=5.34, step="0.01"),
    note("2025-11-15 09:50", "mash", "Wort runs over the standpipe, not through the bed; pump throttled too late"),
    Read("2025-11-15 10:30", "first-wort", "gravity", at=22, step="0.0005"),
    Read("2025-11-15 10:40", "sparge", "liquor", "L", true=6.0, step="0.5"),
    Read("2025-11-15 10:40", "sparge", "temperature", "°C", true=76),
    note("2025-11-15 10:48", "sparge", "All six litres through in eight minutes"),
    Read("2025-11-15 10:55", "sparge", "liquor", "L", true=1.5, step="0.5", note="kettle stood low, so more water"),
    Read("2025-11-15 11:20", "pre-boil", "volume", "L", at=72, step="0.5", note="dipstick"),
    Read("2025-11-15 11:20", "pre-boil", "gravity", at=21),
    Wrote("2025-11-15 13:20", "boil", "duration", "90", "min"),
    Read("2025-11-15 13:25", "post-boil", "volume", "L", at=97, step="0.5", note="dipstick"),
    Read("2025-11-15 13:35", "post-boil", "gravity", at=23),
    Read("2025-11-15 17:30", "fermenter", "volume", "L", step="0.25"),
    Read("2025-11-15 17:40", "fermenter", "gravity", at=19, step="0.0005"),
    Read("2025-11-17 20:00", "fermenter", "temperature", "°C", true=18.6),
    note("2025-11-18 07:30", "fermenter", "Foam in the airlock jar, blow-off hose fitted"),
    Read("2025-11-20 19:30", "fermenter", "gravity", at=18),
    Read("2025-11-25 19:00", "fermenter", "gravity", at=18),
    Read("2025-11-29 10:00", "fermenter", "temperature", "°C", true=19.8, note="raised to 20 °C"),
    Read("2025-12-06 11:00", "fermenter", "gravity", at=19),
    Read("2025-12-20 10:30", "package", "volume", "L", step="0.25"),
    Read("2025-12-20 10:30", "package", "gravity", at=18),
    Read("2025-12-20 11:00", "package", "sugar", "g", true=0.089),
    Wrote("2025-12-20 11:00", "package", "temperature", "20", "°C", note="warmest since the yeast stopped"),
    *tasting("2026-02-08 20:00", ("8", "3", "14", "3", "7"), "Roast and dried fig, thin behind it; drinks like a beer a size smaller"),
    *tasting("2026-08-30 20:30", ("9", "3", "15", "3", "7"), "Softer, some leather; still wants body"),
)  # fmt: skip

_HIDDEN_2 = Hidden(
    conversion=0.92, retention=1.2, mixing=0.86, mash_liquor=22.1, sparge=9.0, evaporation=2.75, boil_hours=2.0, kettle_loss=2.4,
    yeast_loss=1.2, malt_bias=-0.003, pitched=at("2026-02-21T18:20"),
    phases=(Phase(0.4, 0.66, 2.9), Phase(3.5, 0.088, 4.5)),
)  # fmt: skip
_ROWS_2: tuple[Row, ...] = (
    Read("2026-02-21 07:45", "mash", "liquor", "L", step="0.25"),
    Read("2026-02-21 08:40", "mash", "grist", "kg"),
    Read("2026-02-21 09:00", "mash", "temperature", "°C", true=66.2),
    Read("2026-02-21 09:10", "mash", "ph", true=5.41, step="0.01", note="3 mL lactic acid in the liquor"),
    note("2026-02-21 09:40", "mash", "Bed two fingers below the rim; wort falls through it, nothing over the pipe"),
    Read("2026-02-21 10:35", "first-wort", "gravity", at=21, step="0.0005"),
    Read("2026-02-21 10:45", "sparge", "liquor", "L", step="0.25"),
    Read("2026-02-21 10:45", "sparge", "temperature", "°C", true=77),
    note("2026-02-21 11:25", "sparge", "Forty minutes by the jug, a litre at a time"),
    Read("2026-02-21 11:45", "pre-boil", "volume", "L", at=74, step="0.25"),
    Read("2026-02-21 11:45", "pre-boil", "gravity", at=20),
    note("2026-02-21 12:20", "boil", "Doors open for the steam, wind on the kettle: a lazy boil"),
    Wrote("2026-02-21 14:20", "boil", "duration", "120", "min"),
    Read("2026-02-21 14:25", "post-boil", "volume", "L", at=98, step="0.25"),
    Read("2026-02-21 14:40", "post-boil", "gravity", at=22),
    Read("2026-02-21 18:00", "fermenter", "volume", "L", step="0.25"),
    Read("2026-02-21 18:20", "fermenter", "gravity", at=18, step="0.0005"),
    Read("2026-02-23 19:00", "fermenter", "temperature", "°C", true=18.4),
    Read("2026-02-26 19:00", "fermenter", "gravity", at=18),
    Read("2026-03-03 19:30", "fermenter", "gravity", at=19),
    Read("2026-03-07 10:00", "fermenter", "temperature", "°C", true=20.1),
    Read("2026-03-14 11:00", "fermenter", "gravity", at=20),
    Read("2026-03-21 10:30", "package", "volume", "L", step="0.25"),
    Read("2026-03-21 10:30", "package", "gravity", at=19),
    Read("2026-03-21 11:00", "package", "sugar", "g", true=0.084),
    Wrote("2026-03-21 11:00", "package", "temperature", "20", "°C"),
    *tasting("2026-05-16 21:00", ("9", "3", "16", "4", "8"), "Coffee, treacle toffee, an end like burnt crust; the body has come"),
    *tasting("2026-09-26 20:00", ("10", "3", "17", "4", "8"), "The corners have gone off it; liquorice"),
)  # fmt: skip

_HIDDEN_3 = Hidden(
    conversion=0.94, retention=1.17, mixing=0.96, mash_liquor=21.9, sparge=10.0, evaporation=3.1, boil_hours=2.0, kettle_loss=2.5,
    yeast_loss=1.3, malt_bias=0.003, pitched=at("2026-10-10T17:30"),
    phases=(Phase(0.3, 0.67, 2.5), Phase(3.0, 0.078, 4.0)),
)  # fmt: skip
_ROWS_3: tuple[Row, ...] = (
    Read("2026-10-10 07:30", "mash", "liquor", "L", step="0.25"),
    Read("2026-10-10 08:20", "mash", "grist", "kg"),
    Read("2026-10-10 08:45", "mash", "temperature", "°C", true=66.0),
    Read("2026-10-10 08:55", "mash", "ph", true=5.38, step="0.01"),
    note("2026-10-10 09:15", "mash", "Pump off, stirred down to the plate; two dry lumps found"),
    note("2026-10-10 09:45", "mash", "Stirred again, no lumps"),
    Read("2026-10-10 10:30", "first-wort", "gravity", at=20, step="0.0005"),
    Read("2026-10-10 10:40", "sparge", "liquor", "L", step="0.25", note="in two lots, stirred after each"),
    Read("2026-10-10 10:40", "sparge", "temperature", "°C", true=77),
    Read("2026-10-10 11:40", "pre-boil", "volume", "L", at=73, step="0.25"),
    Read("2026-10-10 11:40", "pre-boil", "gravity", at=21),
    Wrote("2026-10-10 14:15", "boil", "duration", "120", "min"),
    Read("2026-10-10 14:20", "post-boil", "volume", "L", at=98, step="0.25"),
    Read("2026-10-10 14:30", "post-boil", "gravity", at=22),
    Read("2026-10-10 17:15", "fermenter", "volume", "L", step="0.25"),
    Read("2026-10-10 17:30", "fermenter", "gravity", at=18, step="0.0005"),
    Read("2026-10-11 21:00", "fermenter", "temperature", "°C", true=18.3),
    Read("2026-10-14 19:00", "fermenter", "gravity", at=18),
    Read("2026-10-18 18:00", "fermenter", "temperature", "°C", true=20.0),
    Read("2026-10-21 19:00", "fermenter", "gravity", at=20),
    Read("2026-10-31 11:00", "fermenter", "gravity", at=20, step="0.0005"),
    Read("2026-11-07 10:00", "package", "volume", "L", step="0.25"),
    Read("2026-11-07 10:00", "package", "gravity", at=18, step="0.0005"),
    Read("2026-11-07 10:30", "package", "sugar", "g", true=0.086),
    Wrote("2026-11-07 10:30", "package", "temperature", "20", "°C"),
    *tasting("2026-11-28 20:00", ("9", "3", "16", "4", "8"), "Far too young: cocoa, molasses, warm. Body at last"),
)  # fmt: skip

BATCHES = (
    Scenario("2025-11-15-fog-bell-1", Plan(_FIRST), _HIDDEN_1, _ROWS_1, _STYLE, seed=20251115, calibrated_at=15.56),
    Scenario("2026-02-21-fog-bell-2", Plan(_SECOND), _HIDDEN_2, _ROWS_2, _STYLE, seed=20260221),
    Scenario("2026-10-10-fog-bell-3", Plan(_THIRD), _HIDDEN_3, _ROWS_3, _STYLE, seed=20261010),
    Scenario("2026-12-12-fog-bell-4", Plan(_FOURTH)),
    Scenario("2027-02-13-fog-bell-5", Plan(_FIFTH)),
)
