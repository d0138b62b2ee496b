"""Cautions of cleaning agents and sanitisers. The label of the product comes first."""

from dataclasses import dataclass

from generator.analysis.safety.facts import Facts, Rule
from generator.records.models import Cleaning
from generator.units import Quantity

MG_PER_PERCENT = 1e4
"""mg/L of a watery solution of 1 %."""
_MILLIGRAMS = {"mg/L": 1.0, "g/L": 1000.0, "%": MG_PER_PERCENT}
STRONGEST_CAUSTIC = 3.0
"""% by mass."""


def _celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@dataclass(frozen=True, slots=True)
class Limits:
    """What a code asks of a sanitiser that isn't rinsed off; None: the label says so."""

    least: float | None
    """mg/L."""
    most: float | None
    """mg/L that may stay without rinsing."""
    coldest: float | None
    """°C."""
    contact: float
    """s."""
    source: str


_CODE, _MEMORY = "utah-r392-102", "fda-178-1010-peracetic"
LIMITS: dict[str, tuple[Limits, ...]] = {
    "iodine": (Limits(12.5, 25.0, _celsius(68.0), 30.0, _CODE),),
    "chlorine": (
        Limits(25.0, 200.0, _celsius(120.0), 10.0, _CODE),
        Limits(50.0, 200.0, _celsius(75.0), 7.0, _CODE),
        Limits(100.0, 200.0, _celsius(55.0), 10.0, _CODE),
    ),
    "quaternary ammonium": (Limits(None, None, _celsius(75.0), 30.0, _CODE),),
    "hot water": (Limits(None, None, _celsius(171.0), 30.0, _CODE),),
    "peracetic acid": (Limits(100.0, 200.0, None, 30.0, _MEMORY),),
    "acid anionic": (Limits(None, 400.0, None, 60.0, _MEMORY),),
}
"""By agent, the weaker solution first. That of chlorine of 50 mg/L holds up to pH 8, that of iodine up to pH 5."""


def milligrams(strength: Quantity | None) -> float | None:
    """A strength in mg/L."""
    return None if strength is None else strength.value * _MILLIGRAMS[strength.unit]


def _agent(cleaning: Cleaning) -> str:
    """The sanitiser at the beginning of a sentence."""
    name = cleaning.sanitiser or ""
    return name[:1].upper() + name[1:]


def limits(cleaning: Cleaning) -> Limits | None:
    """What is asked of the sanitiser at its strength; without one, of the only solution that there is."""
    rows, strength = LIMITS.get(cleaning.sanitiser or "", ()), milligrams(cleaning.strength)
    if len(rows) < 2:
        return rows[0] if rows else None
    return None if strength is None else next((row for row in reversed(rows) if strength >= (row.least or 0.0)), rows[0])


def _weak(facts: Facts) -> str | None:
    cleaning, strength, asked = facts.cleaning, milligrams(facts.cleaning.strength), limits(facts.cleaning)
    if asked is None or asked.least is None or strength is None or strength >= asked.least:
        return None
    return (
        f"{_agent(cleaning)} at {strength:.3g} mg/L is weaker than the {asked.least:.3g} mg/L that a code for food equipment asks for: it may clean "
        f"nothing. "
        "Measure with test paper, mix afresh, and follow the label."
    )


def _strong(facts: Facts) -> str | None:
    cleaning, strength, asked = facts.cleaning, milligrams(facts.cleaning.strength), limits(facts.cleaning)
    if asked is None or asked.most is None or strength is None or strength <= asked.most:
        return None
    return (
        f"{_agent(cleaning)} at {strength:.4g} mg/L is stronger than the {asked.most:.3g} mg/L that may stay on food equipment after draining. "
        "Dilute it as the label says, or rinse with water that was boiled."
    )


def _short_contact(facts: Facts) -> str | None:
    cleaning, asked = facts.cleaning, limits(facts.cleaning)
    if asked is None or cleaning.contact is None or cleaning.contact * 60.0 >= asked.contact:
        return None
    return (
        f"{_agent(cleaning)} for {cleaning.contact * 60.0:.3g} s is shorter than the {asked.contact:.0f} s that a code for food equipment asks for. "
        "Keep every surface wet for as long as the label says."
    )


def _cold_sanitiser(facts: Facts) -> str | None:
    cleaning, asked = facts.cleaning, limits(facts.cleaning)
    if asked is None or asked.coldest is None or cleaning.temperature is None or cleaning.temperature >= asked.coldest - 1e-9:
        return None
    return (
        f"{_agent(cleaning)} at {cleaning.temperature:.1f} °C is colder than the {asked.coldest:.1f} °C that a code for food equipment asks for at "
        f"this strength. "
        "Warm it, but no further than the label allows."
    )


def _caustic(facts: Facts) -> str | None:
    if facts.cleaning.cleaner != "caustic":
        return None
    return (
        "This batch is cleaned with caustic, which destroys eyes and skin. Goggles and gloves; add caustic to cold water, never water to caustic; no "
        "spraying: 2 mg/m³ in the air "
        "is the limit. Rinse, and check with pH paper. The label comes first."
    )


def _strong_caustic(facts: Facts) -> str | None:
    strength = milligrams(facts.cleaning.cleaner_strength)
    if facts.cleaning.cleaner != "caustic" or strength is None or strength <= STRONGEST_CAUSTIC * MG_PER_PERCENT:
        return None
    return (
        f"Caustic of {strength / MG_PER_PERCENT:.2g} % is stronger than the 1 to {STRONGEST_CAUSTIC:.0f} % that cleaning takes: it cleans no better "
        f"and burns faster. "
        "Dilute it, caustic into water, as the label says."
    )


def _aluminium(facts: Facts) -> str | None:
    if facts.cleaning.cleaner != "caustic" or facts.view.brewhouse.boil.material != "aluminium":
        return None
    return (
        "The kettle is aluminium and the cleaner caustic: it dissolves the metal and gives off hydrogen, which burns. "
        "Clean aluminium with a product whose label allows it."
    )


def _chlorine(facts: Facts) -> str | None:
    if facts.cleaning.sanitiser != "chlorine" or facts.cleaning.cleaner == "acid":
        return None
    return (
        "The sanitiser is chlorine. With any acid it gives off chlorine gas: no acid cleaner, vinegar or descaler in the same vessel or drain. "
        "Don't mix it with other products at all unless both labels say so."
    )


def _chlorine_gas(facts: Facts) -> str | None:
    if facts.cleaning.sanitiser != "chlorine" or facts.cleaning.cleaner != "acid":
        return None
    return (
        "An acid cleaner and a chlorine sanitiser: where they meet, chlorine gas forms, and traces left in a hose are enough. "
        "Choose another sanitiser, or rinse thoroughly in between and air the room."
    )


_CODE_WORDS = "a code for food equipment"
RULES: tuple[Rule, ...] = (
    Rule("caustic", "caution", "fermenter", "caustic-practice", "the cleaner is caustic", _caustic),
    Rule("strong-caustic", "caution", "fermenter", "caustic-strength", f"caustic of more than {STRONGEST_CAUSTIC:.0f} %", _strong_caustic),
    Rule("caustic-on-aluminium", "stop", "fermenter", "caustic-practice", "the cleaner is caustic and the kettle aluminium", _aluminium),
    Rule("chlorine", "caution", "fermenter", "caustic-practice", "the sanitiser is chlorine", _chlorine),
    Rule("chlorine-gas", "stop", "fermenter", "caustic-practice", "an acid cleaner and a chlorine sanitiser", _chlorine_gas),
    Rule("weak-sanitiser", "caution", "fermenter", _CODE, f"a sanitiser weaker than {_CODE_WORDS} asks for", _weak),
    Rule("strong-sanitiser", "caution", "fermenter", "fda-178-1010-peracetic", "a sanitiser stronger than may stay without rinsing", _strong),
    Rule("short-contact", "caution", "fermenter", _CODE, f"a sanitiser that acts for less time than {_CODE_WORDS} asks for", _short_contact),
    Rule("cold-sanitiser", "caution", "fermenter", _CODE, f"a sanitiser colder than {_CODE_WORDS} asks for at its strength", _cold_sanitiser),
)
