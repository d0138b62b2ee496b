"""The words of the brew sheet: what to do at each step, what each reading is for, how a time is told."""

from datetime import date, timedelta

from generator.analysis.asked import Asked
from generator.analysis.brew_day import ALLOWED, Day, Step
from generator.charts.chart import MINUS
from generator.pages.formatting import fixed, mass, short_day
from generator.records.models import Good, Hop, Plan

_LABELS = {
    ("mash", "liquor"): ("Mash liquor, in all", "for conversion"),
    ("mash", "grist"): ("Grist, in all", "for every efficiency"),
    ("mash", "temperature"): ("Mash temperature", "after 10 min"),
    ("mash", "ph"): ("Mash pH", "of a cooled sample"),
    ("first-wort", "gravity"): ("First wort", "for conversion"),
    ("sparge", "liquor"): ("Sparge liquor", "for absorption"),
    ("sparge", "temperature"): ("Sparge temperature", "for the record"),
    ("pre-boil", "volume"): ("Volume before the boil", "for mash efficiency"),
    ("pre-boil", "gravity"): ("Gravity before the boil", "for mash efficiency"),
    ("boil", "duration"): ("Boiled for", "for evaporation"),
    ("post-boil", "volume"): ("Volume after the boil", "for evaporation"),
    ("post-boil", "gravity"): ("Gravity after the boil", "checks the volumes"),
    ("fermenter", "volume"): ("Volume into the fermenter", "for the brewhouse efficiency"),
    ("fermenter", "gravity"): ("Gravity", "for attenuation"),
    ("package", "volume"): ("Volume packaged", "for carbonation"),
    ("package", "gravity"): ("Gravity packaged", "for alcohol"),
    ("package", "temperature"): ("Warmest since it ended", "for carbonation"),
    ("package", "sugar"): ("Priming sugar", "for carbonation"),
    ("package", "pressure"): ("Pressure", "for the record"),
}
"""What is to be read, and what for."""
_PLACES = {"SG": 3, "°P": 1, "kg": 2, "L": 1, "min": 0, "g": 0, "bar": 2}
TITLES = {
    "prepare": "Heat the liquor", "mash-in": "Mash in", "portion": "Next portion", "rest": "Next rest", "task": "", "run-off": "Run off",
    "kettle": "Before the boil", "boil": "The boil begins", "addition": "Into the boil", "boil-end": "Heat off", "stand": "Stand",
    "chill": "Chill", "pitch": "Pitch", "check": "First gravity", "later": "Into the fermenter", "still": "Is it done?", "package": "Package",
}  # fmt: skip


def degrees(temperature: float) -> str:
    """A temperature without a decimal that says nothing."""
    return f"{fixed(temperature, 0 if abs(temperature - round(temperature)) < 0.05 else 1)} °C"


def on_the_clock(minutes: float) -> str:
    """Minutes as hours and minutes: 1:05."""
    whole = round(abs(minutes))
    sign = MINUS if minutes < 0 and whole else ""
    return f"{sign}{whole // 60}:{whole % 60:02d}"


def lasting(minutes: float) -> str:
    """A duration: 75 min."""
    return f"{minutes:.0f} min"


def when(step: Step) -> str:
    """When a step comes, in the first column."""
    if step.days is not None:
        days = round(abs(step.days))
        return f"{days} d before" if step.days < 0 else f"day {days}"
    if not step.undated:
        return f"{'about ' if step.rough else ''}{on_the_clock(step.minutes)}"
    words = {"prepare": "before", "later": "later", "still": "when still", "package": "then"}
    return words.get(step.kind) or step.written.replace(" - ", f" {MINUS} ")


def date_of(step: Step, brewed: date) -> str:
    """The day of a step that is told in days, as the plan has it."""
    return "" if step.days is None else short_day(brewed + timedelta(days=round(step.days)))


def label(asked: Asked) -> str:
    """What is to be read."""
    return _LABELS[asked.stage, asked.what][0]


def why(asked: Asked) -> str:
    """What a reading is for."""
    return _LABELS[asked.stage, asked.what][1]


def planned(asked: Asked) -> str:
    """What the plan expects, as the instrument would show it; "" where it says nothing."""
    if asked.expected is None:
        return ""
    if asked.there is not None and asked.sample is not None and asked.sample != 20.0:
        return f"{fixed(asked.there, 1)} L at {degrees(asked.sample)}, {fixed(asked.expected, 1)} L at 20 °C"
    if asked.unit == "°C":
        return degrees(asked.expected)
    if asked.unit == "pH":
        return f"{asked.expected:g}"
    value = fixed(asked.expected, _PLACES[asked.unit])
    return value if asked.unit == "SG" else f"{value} {asked.unit}"


def hop(one: Hop) -> str:
    """Hops to add: what and how much."""
    alpha = "" if one.alpha is None else f", {one.alpha:.1f} %"
    return f"{mass(one.mass)} {one.name}{alpha}"


def good(one: Good) -> str:
    """Goods to add."""
    return f"{mass(one.mass)} {one.name}"


def clock_note(day: Day) -> str:
    """What 0:00 is, and what the clock allows where the plan says nothing."""
    zero = {"mash-in": "0:00 is mash-in, when grain meets liquor.", "heat": "0:00 is when the heat goes on under the kettle."}[day.zero]
    words = {
        "portion": "between portions of grain", "rest": "for a rest without a duration", "run-off": "to run off", "sparge": "to run off and sparge",
        "heating": "to come to the boil", "boil": "for the boil", "cooling": "to cool to a stand", "chill": "to chill",
    }  # fmt: skip
    parts = [f"{lasting(ALLOWED[name])} {words[name]}" for name in day.allowances if name != "warming"]
    if "warming" in day.allowances:
        parts.insert(0, f"{lasting(ALLOWED['warming'])} for each °C between rests")
    write = "Write readings as they stand on the instrument, with the temperature of the sample beside them."
    if not parts:
        return f"{zero} {write}"
    *most, last = parts
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"{zero} A time with “about” allows for what the plan doesn’t say: {listed}. {write}"


def hold(step: Step) -> str:
    """A rest, and until when."""
    if step.temperature is None:
        return ""
    if step.duration is None:
        return f"Hold {degrees(step.temperature)}."
    about = "about " if step.rough else ""
    return f"Hold {degrees(step.temperature)} for {lasting(step.duration)}, until {about}{on_the_clock(step.minutes + step.duration)}."


def pitched(plan: Plan) -> str:
    """The yeast, and at which temperature."""
    yeast = plan.yeast
    cells = "" if yeast.cells is None else f", {yeast.cells / 1e9:.0f} billion cells"
    at = "" if yeast.temperature is None else f" at {degrees(yeast.temperature)}"
    return f"Pitch{at}: {yeast.name}{cells}." if yeast.name else f"Pitch the yeast{at}{cells}."
