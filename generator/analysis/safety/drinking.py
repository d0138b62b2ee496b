"""Cautions for those who drink the beer: allergens, alcohol, the law."""

import re

from generator.analysis.safety.facts import Facts, Rule

DRINK_G, GLASS_ML = 10.0, 330.0
ALCOHOL_G_PER_ML = 0.7892
"""At 20 °C."""
US_GALLON_L, GALLONS_ALONE, GALLONS_OF_TWO = 3.785411784, 100.0, 200.0
_OTHER_CEREALS = r"wheat|spelt|rye|oats?|oatmeal|sorghum|millet|rice|maize|corn|buckwheat|quinoa|teff"
_WORDS: dict[str, re.Pattern[str]] = {
    allergen: re.compile(rf"\b(?:{words})\b", re.IGNORECASE)
    for allergen, words in (
        ("barley", r"barley|pilsner|pilsener|munich|vienna|pale ale"),
        ("wheat", r"wheats?|spelt|khorasan|emmer|einkorn|durum|triticale"),
        ("rye", r"rye|triticale"),
        ("oats", r"oats?|oatmeal"),
        ("milk", r"lactose|milk|whey"),
        ("nuts", r"nuts?|almonds?|hazelnuts?|walnuts?|cashews?|pecans?|pistachios?|macadamias?"),
        ("peanuts", r"peanuts?|groundnuts?"),
        ("soybeans", r"soya?|soybeans?"),
        ("eggs", r"eggs?"),
        ("fish", r"fish|isinglass"),
        ("molluscs", r"oysters?|mussels?|clams?"),
        ("sesame", r"sesame"),
        ("mustard", r"mustard"),
        ("celery", r"celery"),
        ("lupin", r"lupins?"),
        ("sulphites", r"sul(?:ph|f)ites?|(?:meta)?bisul(?:ph|f)ites?"),
    )
}
_MALT = re.compile(r"\bmalts?\b", re.IGNORECASE)
_NO_BARLEY = re.compile(rf"\b(?:{_OTHER_CEREALS})\b", re.IGNORECASE)
GLUTEN = ("barley", "wheat", "rye", "oats")
"""Cereals that contain gluten."""


def allergens(facts: Facts) -> tuple[str, ...]:
    """What the names of the goods tell, in the order of the list above, then what the plan adds; a malt without its cereal is barley."""
    names = [good.name for good in facts.view.plan.grist]
    told = {allergen for allergen, pattern in _WORDS.items() if any(pattern.search(name) for name in names)}
    if any(_MALT.search(name) and not _NO_BARLEY.search(name) for name in names):
        told.add("barley")
    found = [allergen for allergen in _WORDS if allergen in told]
    added = [name for name in facts.view.plan.batch.allergens if name.casefold() not in told]
    return tuple(dict.fromkeys(found + added))


def _allergens(facts: Facts) -> str | None:
    found = allergens(facts)
    if not found:
        return None
    cereals = [name for name in GLUTEN if name in found]
    named = ([f"gluten ({', '.join(cereals)})"] if cereals else []) + [name for name in found if name not in GLUTEN]
    return (
        f"By the names of the goods and by the plan this beer holds {_and(named)}. Names don't tell everything: think of finings and "
        "flavourings, and tell everyone who gets a bottle. Local food law says what a label needs."
    )


def _and(names: list[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _strong(facts: Facts) -> str | None:
    abv = facts.best("abv")
    grams = GLASS_ML * ALCOHOL_G_PER_ML * (abv or 0.0) / 100.0
    if abv is None or grams <= 2.0 * DRINK_G:
        return None
    return (
        f"At {abv:.1f} % vol a glass of {GLASS_ML:.0f} mL holds {grams:.0f} g of alcohol, more than two standard drinks of {DRINK_G:.0f} g. "
        "Pour small, write the strength on the bottle, give none to minors or to anybody who drives."
    )


def _law(facts: Facts) -> str | None:
    litres, yearly = facts.best("fermenter_volume"), GALLONS_ALONE * US_GALLON_L
    if litres is None or 12.0 * litres <= yearly:
        return None
    return (
        f"A batch of {litres:.1f} L each month makes {12.0 * litres / US_GALLON_L:.0f} US gallons in a year. In the United States 27 CFR 25.205 "
        f"allows "
        f"{GALLONS_ALONE:.0f} to one adult for personal or family use, {GALLONS_OF_TWO:.0f} to a household of two or more, not for sale and not "
        f"where state or local law "
        "forbids it. Other countries have other limits: check your local law."
    )


RULES: tuple[Rule, ...] = (
    Rule("allergens", "note", "package", "eu-1169-2011", "a good named after an allergen, a malt, or an allergen in the plan", _allergens),
    Rule("strong-beer", "note", "package", "standard-drink", f"more than {2.0 * DRINK_G:.0f} g of alcohol in {GLASS_ML:.0f} mL", _strong),
    Rule(
        "law", "note", "package", "cfr-25-205",
        f"a batch which, brewed each month, comes to more than {GALLONS_ALONE:.0f} US gallons in a year", _law,
    ),
)  # fmt: skip
