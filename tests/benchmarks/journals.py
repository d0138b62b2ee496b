"""Journals made up from a seed: a tiny one for tests, and ones of any size to measure with."""

import random
from datetime import datetime, timedelta
from pathlib import Path

_SENTENCE = (
    "the wort ran clear while rain beat on the slates and I weighed hops into jars then waited for the kettle which sang "
    "before it boiled a neighbour looked in asked what smelled of bread and stayed for the sparge"
)
_WORDS = _SENTENCE.split()
_BREWHOUSE = """name = "Cellar"
[mash]
capacity = "40 L"
grain_capacity = "10 kg"
[boil]
capacity = "40 L"
evaporation = "3 L/h"
kettle_loss = "1 L"
[transfer]
loss = "0.5 L"
[fermenter]
capacity = "30 L"
"""
_PLAN = """[batch]
recipe = "{recipe}"
brewed = {day}
brewhouse = "cellar"
summary = "Made up from a seed."
tags = ["made up"]

[target]
volume = "20 L"
original_gravity = "1.052"
final_gravity = "1.012"
mash_temperature = "66 °C"
mash_ph = 5.4
carbonation = "2.4 vol"

[[grist]]
name = "Pale malt"
mass = "{malt} kg"
extract = "81 %"
colour = "5 EBC"

[[grist]]
name = "Crystal malt"
mass = "300 g"
extract = "74 %"
colour = "150 EBC"

[liquor]
mash = "16 L"
sparge = "12 L"

[[rest]]
temperature = "66 °C"
duration = "60 min"

[boil]
duration = "60 min"

[[hops]]
name = "Fuggles"
mass = "40 g"
alpha = "4.8 %"
time = "60 min"

[yeast]
name = "Ale yeast"
attenuation = "76 %"

[package]
method = "bottle"
sugar = "sucrose"
temperature = "19 °C"
"""
_BREW_DAY = """09:00,mash,grist,{malt},kg,,,
09:20,mash,liquor,16.1,L,70 °C,,
09:30,mash,temperature,66.4,°C,,,
09:45,mash,ph,5.42,,,,
09:50,mash,note,,,,,Dough balls broken up
10:00,mash,temperature,66.2,°C,,,
10:15,mash,temperature,65.9,°C,,,
10:30,mash,temperature,65.7,°C,,,
10:40,first-wort,gravity,1.078,SG,21 °C,,
10:40,first-wort,ph,5.40,,,,
10:50,sparge,liquor,6.0,L,75 °C,,
10:50,sparge,temperature,75,°C,,,
11:10,sparge,liquor,6.2,L,75 °C,,
11:10,sparge,temperature,74,°C,,,
11:20,sparge,note,,,,,Bed still open
11:40,pre-boil,volume,25.4,L,70 °C,,dipstick
11:40,pre-boil,gravity,{before},SG,22 °C,,
11:40,pre-boil,ph,5.31,,,,
11:45,pre-boil,note,,,,,First hops in
13:05,boil,duration,60,min,,,
13:05,boil,note,,,,,Finings in
13:10,post-boil,volume,22.2,L,98 °C,,
13:10,post-boil,gravity,{after},SG,24 °C,,
13:10,post-boil,ph,5.20,,,,
13:40,post-boil,temperature,22,°C,,,
14:30,fermenter,volume,20.2,L,,,
14:30,fermenter,gravity,{original},SG,21 °C,,
14:35,fermenter,temperature,20.1,°C,,,
14:36,fermenter,ph,5.15,,,,
14:40,fermenter,note,,,,,Yeast in
"""
_PACKAGE = """package,volume,19.0,L,,,
package,gravity,{final},SG,19 °C,,
package,sugar,95,g,,,
package,temperature,19,°C,,,
tasting,aroma,8,,,,
tasting,appearance,2,,,,
tasting,flavour,14,,,,
tasting,mouthfeel,4,,,,
tasting,overall,7,,,,
tasting,note,,,,,Crust and orange
"""


def tiny(folder: Path, title: str = "Tiny", name: str = "2026-02-14-stout") -> Path:
    """A journal of one batch that has a plan only: nothing to draw, so it builds fast."""
    batch = folder / name
    batch.mkdir(parents=True)
    _write(folder / "journal.toml", f'title = "{title}"\n')
    _write(
        batch / "plan.toml",
        '[batch]\nrecipe = "Stout"\nbrewed = 2026-02-14\n\n[[grist]]\nname = "Pale malt"\nmass = "5 kg"\nextract = "81 %"\n',
    )
    _write(batch / "notes.md", "A day in the cellar.\n\n## Lessons\n\n- Weigh twice.\n")
    return folder


def generated(folder: Path, batches: int, seed: int = 1) -> Path:
    """A journal of so many batches: each with 30 rows of the brew day, some 60 of the fermentation, and 600 words."""
    chance = random.Random(seed)
    (folder / "brewhouses").mkdir(parents=True)
    _write(folder / "journal.toml", 'title = "Made up"\nbrewer = "Nobody"\n')
    _write(folder / "brewhouses" / "cellar.toml", _BREWHOUSE)
    for number in range(batches):
        day = datetime(2020, 1, 4) + timedelta(weeks=2 * number)  # noqa: DTZ001  (the clock on the wall)
        batch = folder / f"{day:%Y-%m-%d}-made-up-{number + 1}"
        batch.mkdir()
        malt = f"{chance.uniform(4.4, 5.2):.2f}"
        _write(batch / "plan.toml", _PLAN.format(recipe=f"Made up {number % 10 + 1}", day=f"{day:%Y-%m-%d}", malt=malt))
        _write(batch / "readings.csv", _readings(day, malt, chance))
        _write(batch / "notes.md", _note(chance))
    return folder


def _readings(day: datetime, malt: str, chance: random.Random) -> str:
    original = chance.uniform(1.046, 1.056)
    final = chance.uniform(1.009, 1.014)
    brew_day = _BREW_DAY.format(malt=malt, before=f"{original - 0.009:.4f}", after=f"{original - 0.001:.4f}", original=f"{original:.4f}")
    rows = [f"{day:%Y-%m-%d} {row}" for row in brew_day.splitlines()]
    for number in range(1, 31):
        moment = day + timedelta(hours=14 + 11 * number)
        gravity = final + (original - final) * 2.7 ** -((number / 9) ** 2) + chance.gauss(0, 0.0003)
        rows += [
            f"{moment:%Y-%m-%d %H:%M},fermenter,gravity,{gravity:.4f},SG,20 °C,,",
            f"{moment:%Y-%m-%d %H:%M},fermenter,temperature,{19.5 + chance.gauss(0, 0.4):.1f},°C,,,",
        ]
    last = day + timedelta(days=16)
    rows += [f"{last:%Y-%m-%d %H:%M},{row}" for row in _PACKAGE.format(final=f"{final:.4f}").splitlines()]
    return "\n".join(["time,stage,what,value,unit,at,doubt,note", *rows, ""])


def _note(chance: random.Random) -> str:
    paragraphs = [" ".join(chance.choices(_WORDS, k=100)).capitalize() + "." for _ in range(6)]
    heads = ("Brew day", "Fermentation", "Tasting")
    body = "\n\n".join(f"## {head}\n\n{paragraphs[2 * place]}\n\n{paragraphs[2 * place + 1]}" for place, head in enumerate(heads))
    return f"{body}\n\n## Lessons\n\n- Let the {chance.choice(_WORDS)} wait for the {chance.choice(_WORDS)}.\n"


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
