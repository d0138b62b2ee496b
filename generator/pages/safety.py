"""The safety page: what hurts people who brew, from which source. Facts, not advice; local codes and licensed practice decide."""

from dataclasses import dataclass

from generator.analysis.cautions import RULES
from generator.sources import short_citation

WORDS = {"note": "Note", "caution": "Caution", "stop": "Stop"}
"""What a severity is called."""


@dataclass(frozen=True, slots=True)
class Hazard:
    """One hazard: a heading, paragraphs, and the keys of its sources."""

    anchor: str
    title: str
    paragraphs: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuleView:
    """A rule of this journal: its severity in a word, when it stands, and its source."""

    word: str
    condition: str
    source: str


HAZARDS: tuple[Hazard, ...] = (
    Hazard(
        "hot-liquid", "Hot liquid and steam",
        (
            "Skin burns through in about 10 minutes at 49 °C, 30 seconds at 55 °C, 5 seconds at 60 °C. Mash, sparge and boil are all hotter than that: "
            "a splash is enough. Children burn faster.",
            "Move hot liquor and wort by hose, tap or pump, never by lifting the vessel. Close the tap before undoing a hose; wear closed shoes and gloves; "
            "open a lid away from you. Cool a burn under running cool water at once, and get medical help for anything larger than a coin.",
        ),
        ("moritz-henriques-1947", "palmer-ch16", "common-practice", "iapws-97"),
    ),
    Hazard(
        "boil-over", "Boil-over",
        (
            "Protein foam rises at the first boil and again when hops go in. Leave 15 to 20 % of the kettle empty, leave the lid off, stay beside it with a "
            "hand on the heat.",
            "A lid also keeps in what should leave with the steam, and a full kettle under a lid throws it out.",
        ),
        ("boil-over-practice",),
    ),
    Hazard(
        "lifting", "Lifting",
        (
            "23 kg is the limit of an ideal lift: close to the body, between knee and shoulder, seldom, with good handles. A full 20 L fermenter weighs 24 kg; "
            "from the floor to a worktop the recommended limit is nearer 10 kg.",
            "Drained grain weighs 1.0 to 1.3 kg for every kilogram that went in, more before it has drained, and it drips at 70 °C. Use a hoist with a rated load, or scoop it out. Share a load or split it.",
        ),
        ("niosh-94-110",),
    ),
    Hazard(
        "carbon-dioxide", "Carbon dioxide",
        (
            "Fermentation gives off nearly half of the fermented extract as carbon dioxide: 20 L of a 12 °P wort, fermented to 78 %, give 415 L of it. Shut into 30 m³ that is "
            "1.4 %, where 0.5 % is the limit for a working day and 4 % is immediately dangerous.",
            "It is heavier than air and can't be smelt. It gathers in cellars, chest freezers, tanks and around leaking cylinders. Air the room before you "
            "bend down; never put your head into a fermenter.",
        ),
        ("niosh-npg-co2", "balling-1865"),
    ),
    Hazard(
        "carbon-monoxide", "Burners and carbon monoxide",
        (
            "Gas burners and charcoal make carbon monoxide. Burn them outdoors only, not in a garage, a tent or beside an open door: opening doors does not "
            "prevent its building up. Put an alarm on every level of the house.",
            "The limit for a working day is 50 ppm in the United States, 20 ppm in the European Union. Keep the cylinder upright, outside and away from the "
            "flame, and test its joints with soapy water, never with a flame.",
        ),
        ("cpsc-co", "niosh-npg-co2"),
    ),
    Hazard(
        "pressure", "Pressure and glass: bottles, kegs and cylinders",
        (
            "Bottles burst when beer is packaged before its gravity is stable, when sugar is given twice, when a wild or diastatic yeast works on, or when they "
            "are scratched. Above 3 volumes, what may still ferment counted, this journal cautions; above 4 it says stop, for bottles without a stated "
            "rating. That is our own rule: no standard was found "
            "that states a safe carbonation for reused bottles.",
            "A point of gravity that ferments on in the bottle adds half a volume. Warmth raises the pressure, frost bursts what it freezes, and hot glass "
            "cracks under cold beer.",
            "Open suspect bottles cold, in a box, with eye protection. Never block a relief valve, never heat a closed vessel, and use only regulators and "
            "kegs rated for the pressure.",
        ),
        ("project-bottle-rule", "further-fermentation", "terminal-gravity", "project-storage-rule", "beer-freezing", "astm-c149", "project-keg-rule"),
    ),
    Hazard(
        "cleaning", "Cleaning agents",
        (
            "Caustic burns eyes and skin and attacks aluminium, giving off hydrogen. Goggles and gloves; add caustic to water, never water to caustic; rinse "
            "and check with paper.",
            "Never mix chlorine products with acids: chlorine gas forms. Don't mix any two products unless both labels say so. The label is the law.",
        ),
        ("caustic-practice", "caustic-strength"),
    ),
    Hazard(
        "sanitation", "Sanitation and food safety",
        (
            "Only what is clean can be sanitised. Iodine at 12.5 to 25 mg/L for 30 seconds above 20 °C, or chlorine at 50 to 99 mg/L for 7 seconds above 24 °C "
            "at pH 8 or less, are no-rinse strengths for food equipment; drain before use. Quaternary ammonium takes 30 seconds above 24 °C at the strength of its "
            "label, hot water 30 seconds at 77 °C.",
            "Unfermented wort is a low-acid food without air: the spores of botulism survive the boil and grow in a sealed warm container. Pitch the same day or "
            "keep it below 3 °C; wort for starters is pressure-canned or frozen.",
        ),
        ("utah-r392-102", "fda-178-1010", "fda-178-1010-peracetic", "botulism-low-acid", "common-practice"),
    ),
    Hazard(
        "electricity", "Electricity",
        (
            "Liquid and mains don't agree. Use a residual-current device of at most 30 mA (a ground-fault interrupter), an earthed vessel, and elements that are "
            "covered before they are switched on; keep cables off the wet floor.",
            "Heating 27 L from 20 °C to the boil takes 2.5 kWh: look at the rating of the circuit. Fixed wiring is for licensed electricians.",
        ),
        ("nec-210-8",),
    ),
    Hazard(
        "dust", "Grain dust",
        (
            "Flour dust sensitises lungs, and burns in a flash where enough of it floats in the air. The limits for a working day are 10 mg/m³ and, stricter, "
            "4 mg/m³. Mill in moving air, away from flames and motors that spark, with a mask, and sweep damp.",
        ),
        ("niosh-npg-dust",),
    ),
    Hazard(
        "allergens", "Allergens",
        (
            "Barley, wheat, rye and oats hold gluten; milk sugar, nuts, sulphite and some finings matter too. Write them into the record and tell everyone whom "
            "you give a bottle. Enzymes that reduce gluten don't make a beer gluten-free.",
        ),
        ("eu-1169-2011",),
    ),
    Hazard(
        "law", "Alcohol and the law",
        (
            "In the United States an adult may make beer for personal or family use, 100 US gallons a year, 200 in a household of two adults, not for sale, "
            "where state and local law allow it. Other countries have other laws, ages and limits: look up yours. Distilling is a different matter, and often "
            "forbidden.",
            "Alcohol harms. Give it to no minor, to nobody who drives, and know that a strong beer holds more than it seems.",
        ),
        ("cfr-25-205", "standard-drink"),
    ),
    Hazard(
        "records", "Records that can't be right",
        (
            "A caution is worth what its numbers are worth. Where the readings of a batch contradict one another beyond their doubts, its page says so, "
            "and which reading is the hardest to believe.",
        ),
        ("narasimhan-jordache-2000",),
    ),
)  # fmt: skip

_TOPICS: dict[str, str] = {
    slug: anchor
    for anchor, slugs in (
        ("hot-liquid", "overfull-mash overfull-basket scald lid steam hot-transfer"),
        ("boil-over", "overfull-kettle boil-over"),
        ("lifting", "wet-grain heavy-fermenter"),
        ("carbon-dioxide", "carbon-dioxide gas-cylinder"),
        ("carbon-monoxide", "carbon-monoxide burner"),
        (
            "pressure",
            "full-fermenter stopped-short unstable-gravity lively-bottles bursting-bottles over-rating unfinished-bottles warm-bottles frozen-bottles "
            "thermal-shock keg-pressure",
        ),
        ("cleaning", "caustic strong-caustic caustic-on-aluminium chlorine chlorine-gas"),
        ("sanitation", "weak-sanitiser strong-sanitiser short-contact cold-sanitiser warm-pitch wort-held"),
        ("electricity", "electricity"),
        ("dust", "grain-dust"),
        ("allergens", "allergens"),
        ("law", "strong-beer law"),
        ("records", "readings-contradict"),
    )
    for slug in slugs.split()
}
MORE: dict[str, str] = {slug: f"safety.html#{anchor}" for slug, anchor in _TOPICS.items()} | {"readings-contradict": "methods.html#reconciliation"}
"""Where more is said of a caution, by the slug of its rule."""


def rules(anchor: str) -> tuple[RuleView, ...]:
    """The rules of this journal about one hazard, in the order of a brew."""
    return tuple(
        RuleView(WORDS[rule.severity], rule.condition[:1].upper() + rule.condition[1:], short_citation(rule.source))
        for rule in RULES
        if _TOPICS[rule.slug] == anchor
    )
