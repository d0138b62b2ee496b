"""What the keys of a batch's data file mean: one list, from which the data page is made and against which every file is tested."""

from dataclasses import dataclass

INTERVAL = ("value", "low", "high")
"""Best estimate and 95 % interval."""
ERROR = ("value", "standard_error")


@dataclass(frozen=True, slots=True)
class Key:
    """One key below its part: `[]` is each entry of a list, `*` each key of a table whose keys vary."""

    path: str
    unit: str
    meaning: str
    ends: tuple[str, ...] = ()
    """Keys below it, where they are the usual two or three."""


@dataclass(frozen=True, slots=True)
class Part:
    """A key at the top of the file and those below it; without any it is the value itself."""

    path: str
    meaning: str
    keys: tuple[Key, ...] = ()


_OUTCOME = (
    ("grist", "kg", "Mashed goods."),
    ("mash_liquor", "L", "Liquor of the mash."),
    ("sparge_liquor", "L", "Liquor of the sparge."),
    ("boil_hours", "h", "Length of the boil."),
    ("pre_boil_volume", "L", "Wort before the boil."),
    ("volume", "L", "Wort into the fermenter."),
    ("gravity", "SG", "Original gravity."),
    ("mash_efficiency", "%", "Mash efficiency."),
    ("space", "L", "What the mash takes in its vessel; of two mashes the larger."),
)


def _outcome(below: str) -> tuple[Key, ...]:
    return tuple(Key(f"{below}.{name}", unit, meaning) for name, unit, meaning in _OUTCOME)


def _attribution(figure: str, words: str) -> tuple[Key, ...]:
    return (
        Key(f"{figure}.unit", "", f"Unit of the gap in {words}."),
        Key(f"{figure}.total", "as said", "Measured less planned."),
        Key(f"{figure}.low", "as said", "Lower end of its 95 % interval."),
        Key(f"{figure}.high", "as said", "Upper end of it."),
        Key(f"{figure}.note", "", "What was merged or taken for granted."),
        Key(f"{figure}.parts[].cause", "", "A cause, in words; the parts add up to the total."),
        Key(f"{figure}.parts[]", "as said", "What it did.", INTERVAL),
    )


_FIGURES = Part(
    "figures",
    "Every figure by its key; the table of figures says what each is.",
    (
        Key("*.label", "", "Its name."),
        Key("*.unit", "", "Its unit, of all numbers below."),
        Key("*.plan", "its own", "What was planned; null where nothing was."),
        Key("*.plan_from", "", "target where the plan states it, predicted where it follows from the rest of the plan."),
        Key("*.predicted", "its own", "What the rest of the plan predicts."),
        Key("*.predicted_low", "its own", "Lower end of the 95 % interval of the prediction."),
        Key("*.predicted_high", "its own", "Upper end of it."),
        Key("*.measured", "its own", "What the readings give; null where it can't be had."),
        Key("*.low", "its own", "Lower end of its 95 % interval."),
        Key("*.high", "its own", "Upper end of it."),
        Key("*.difference", "its own", "Measured less planned."),
        Key("*.verdict", "", "On plan, above plan, below plan, no plan, or not measured."),
        Key("*.why_absent", "", "Why it wasn’t measured; null where it was."),
    ),
)
_KETTLE = (
    Part(
        "ledger",
        "Extract at each stage, from the grist to the fermenter.",
        (
            Key("[].stage", "", "Where."),
            Key("[].extract_kg", "kg", "Extract there."),
            Key("[].low", "kg", "Lower end of its 95 % interval."),
            Key("[].high", "kg", "Upper end of it."),
        ),
    ),
    Part(
        "attribution",
        "What caused the gaps between plan and readings; a figure without a plan or a reading is null.",
        (
            *_attribution("original_gravity", "the original gravity"),
            *_attribution("abv", "the alcohol"),
            *_attribution("fermenter_volume", "the volume into the fermenter"),
        ),
    ),
    Part(
        "doubt_sources",
        "Where the doubt of each figure comes from.",
        (Key("*.*", "", "By figure and instrument: share of the variance, from 0 to 1."),),
    ),
    Part(
        "reconciliation",
        "The readings of the kettle weighed against one another; null where there is only one way to know.",
        (
            Key("chi_square", "", "Sum of the squared adjustments, each over its doubt."),
            Key("balances", "", "How many balances were to be met."),
            Key("probability", "", "How often honest readings give as large a sum."),
            Key("contradictory", "", "Whether that is less than once in a hundred."),
            Key("suspect", "", "The reading that is named then, else null."),
            Key("readings[].name", "", "What was read."),
            Key("readings[].unit", "", "Its unit."),
            Key("readings[].read", "as said", "As read."),
            Key("readings[].reconciled", "as said", "As the balances would have it."),
            Key("readings[].test", "", "Its adjustment over the scatter that is expected of it."),
            Key("readings[].alone", "as said", "By how much it alone would have to differ."),
        ),
    ),
)
_PLAN = (
    Part(
        "contradictions",
        "Targets that the rest of the plan doesn’t lead to.",
        (
            Key("[].figure", "", "Key of the figure."),
            Key("[].target", "its own", "As planned."),
            Key("[].predicted", "its own", "As the rest of the plan predicts."),
            Key("[].low", "its own", "Lower end of the 95 % interval of the prediction."),
            Key("[].high", "its own", "Upper end of it."),
        ),
    ),
    Part(
        "fit",
        "The mash against its vessel; null where the plan doesn’t tell.",
        (
            *_outcome("planned"),
            Key("capacity", "L", "What the vessel holds."),
            Key("grain_capacity", "kg", "Grain that it is made for."),
            Key("excess", "L", "By how much the mash is too large; 0 where it fits."),
            Key("excess_grain", "kg", "Grain above what the vessel is made for."),
            Key("while_adding.at_once", "L", "Up to where the mash stands while all of the grain is stirred in at once."),
            Key("while_adding.in_portions", "L", "The same in the portions of the plan."),
            Key("ways[].name", "", "A way out, where it doesn’t fit."),
            Key("ways[].does", "", "What changes."),
            Key("ways[].why_not", "", "Why it is none here, where it is none; then outcome is null."),
            *_outcome("ways[].outcome"),
        ),
    ),
    Part(
        "liquor",
        "The litres of the plan, at 20 °C; null where it doesn’t give them.",
        (
            Key("mash", "L", "Liquor of the mash."),
            Key("sparge", "L", "Liquor of the sparge."),
            Key("strike", "L", "What the mash liquor fills when it is as hot as it must be."),
            Key("retained", "L", "Wort that the drained grain keeps."),
            Key("absorbed", "L", "Liquor that doesn’t come back as wort."),
            Key("run_off", "L", "Wort that the liquor gives."),
            Key("pre_boil", "L", "Wort before the boil, as planned."),
            Key("evaporated", "L", "What the boil drives off."),
            Key("losses", "L", "What kettle and transfer keep."),
            Key("fermenter", "L", "Wort into the fermenter."),
            Key("bed", "L/kg", "Mash liquor above the dead space, for each kg of grist."),
        ),
    ),
)
_FERMENTATION = Part(
    "fermentation",
    "The fermentation, by hand and logger; null without gravities in it.",
    (
        Key("start", "", "Time from which days and hours count."),
        Key("state.slug", "", "State at the last reading, as a name for programs."),
        Key("state.words", "", "The same in words."),
        Key("state.since", "", "Since when; null where that isn’t known."),
        Key("state.why", "", "From what that follows."),
        Key("state.check", "", "What to look at or to do."),
        Key("expected.gravity", "SG", "Where it should end."),
        Key("expected.origin", "", "Where that stands."),
        Key("expected.tolerance", "SG", "How far above that still counts as there."),
        Key("final", "SG", "Gravity at which it has come to rest.", ERROR),
        Key("degree_days", "°C d", "Sum of the temperature over the days."),
        Key("predicted_end", "", "Time at which it should have ended.", INTERVAL),
        Key("kinetics.method", "", "logistic where a curve was fitted, interpolation where none could be."),
        Key("kinetics.why_no_curve", "", "Why none could be."),
        Key("kinetics.lag", "h", "From the start to the first fall.", ERROR),
        Key("kinetics.fastest_at", "h", "When it fell fastest.", ERROR),
        Key("kinetics.fastest", "°P/h", "How fast that was.", ERROR),
        Key("kinetics.half", "h", "When half of the fall was done.", ERROR),
        Key("kinetics.nine_tenths", "h", "When nine tenths of it were done.", ERROR),
        Key("kinetics.why_no_prediction", "", "Why no end is predicted."),
        Key("logger.times", "", "Times logged."),
        Key("logger.spikes", "", "Times marked as spikes; none was deleted."),
        Key("logger.duplicates", "", "Rows beyond the first of a time."),
        Key("logger.out_of_order", "", "Rows that stand after one of a later time."),
        Key("logger.left_out", "", "Rows from before pitching or after packaging."),
        Key("logger.noise", "SG", "Standard deviation of one row."),
        Key("logger.gaps[][]", "d", "Day from which and day to which nothing was logged."),
        Key("logger.compared", "", "Readings by hand that it was compared with."),
        Key("logger.offset", "SG", "What it shows above the readings by hand.", ERROR),
        Key("logger.drift", "SG/d", "How that grows.", ERROR),
        Key("logger.steps[].day", "d", "Day on which it jumped."),
        Key("logger.steps[].height", "SG", "By how much.", ERROR),
    ),
)
_PACKAGE = Part(
    "package",
    "The beer in its bottles or in its keg.",
    (
        Key("method", "", "bottle or keg."),
        Key("head_space", "%", "Space above the beer, of the brimful vessel."),
        Key("carbonation", "vol", "Carbonation achieved.", INTERVAL),
        Key("extrapolated", "", "Whether solubility was never measured at the temperature that it counts with."),
        Key("further.end.gravity", "SG", "Where the beer would end if it fermented on."),
        Key("further.end.origin", "", "Where that stands."),
        Key("further.end.tolerance", "SG", "How far above that still counts as there."),
        Key("further.points", "0.001 SG", "Gravity above that end.", INTERVAL),
        Key("further.gas", "vol", "Carbonation that would come of it.", INTERVAL),
        Key("worst_carbonation", "vol", "Carbonation with what could still ferment.", INTERVAL),
        Key("pressures[].temperature", "°C", "Temperature of the closed vessel."),
        Key("pressures[].gauge", "bar", "Gauge pressure of the carbonation achieved.", INTERVAL),
        Key("pressures[].worst", "bar", "Gauge pressure in the worst case.", INTERVAL),
        Key("pressures[].extrapolated", "", "Whether solubility was never measured at this temperature."),
        Key("counted[]", "", "What the worst case counts, in words."),
        Key("ratings[].kind", "", "carbonation or pressure."),
        Key("ratings[].rated", "vol or bar", "What bottles or keg are rated for."),
        Key("ratings[].worst", "vol or bar", "The worst case beside it.", INTERVAL),
        Key("ratings[].temperature", "°C", "Temperature of a pressure; null for a carbonation."),
        Key("ratings[].verdict", "", "Whether the rating is kept."),
        Key("balance.wort", "L", "Wort into the fermenter.", INTERVAL),
        Key("balance.beer", "L", "The same wort fermented.", INTERVAL),
        Key("balance.packaged", "L", "Beer packaged.", INTERVAL),
        Key("balance.contraction", "L", "Wort less beer.", INTERVAL),
        Key("balance.left", "L", "Beer less packaged: in the yeast, hoses and samples.", INTERVAL),
        Key("balance.loss", "L", "Wort less packaged.", INTERVAL),
        Key("keg_table.temperatures[]", "°C", "Rows of the table; null for bottles."),
        Key("keg_table.volumes[]", "vol", "Its columns."),
        Key("keg_table.pressures[][]", "bar", "Gauge pressure that keeps the carbonation, by row and column."),
        Key("absent.*", "", "Why something can’t be had, by its key."),
    ),
)
_CELLAR = (
    _PACKAGE,
    Part(
        "cellar_ledger",
        "Where the extract of the fermenter went.",
        (
            Key("extract.name", "", "What is shared out; null where it can’t be."),
            Key("extract.mass", "kg", "How much there is.", INTERVAL),
            Key("extract.plan", "kg", "How much was planned."),
            Key("parts[].name", "", "A part of it."),
            Key("parts[].mass", "kg", "How much it is.", INTERVAL),
            Key("parts[].plan", "kg", "How much was planned."),
            Key("splits[].name", "", "A part of the beer."),
            Key("splits[].packaged", "kg", "Of it, in the packages.", INTERVAL),
            Key("splits[].lost", "kg", "Of it, left in the fermenter, in hoses and in samples.", INTERVAL),
            Key("absent.*", "", "Why a part can’t be had, by its name."),
            Key("remarks[]", "", "What else is to be said."),
        ),
    ),
    Part(
        "tastings",
        "All tastings, the oldest first.",
        (
            Key("sittings[].time", "", "When; null where no time was written."),
            Key("sittings[].scores.*", "points", "Scores by name."),
            Key("sittings[].missing[]", "", "Scores that weren’t given."),
            Key("sittings[].notes[]", "", "What was noted."),
            Key("sittings[].age", "d", "Age of the beer."),
            Key("age_from", "", "From what that counts: packaging or brewing."),
            Key("totals[]", "points", "Sum of the scores of each tasting; null where one is missing."),
            Key("drift.days", "d", "Between the first and the last complete tasting; drift is null with fewer than two."),
            Key("drift.total", "points", "Last sum less first."),
            Key("drift.scores.*", "points", "The same of each score."),
            Key("drift.slope[]", "points", "Change in 30 days by a line through all tastings, its standard error, and the tastings beyond two."),
        ),
    ),
    Part(
        "serving",
        "What one glass holds; null where the journal doesn’t say how large it is.",
        (
            Key("litres", "L", "Size of the glass."),
            Key("alcohol", "g", "Alcohol in it.", INTERVAL),
            Key("standard_drink", "g", "Alcohol that counts as one unit locally; null where the journal doesn’t say."),
            Key("drinks", "", "How many of these it is.", INTERVAL),
            Key("energy", "kJ", "Energy in it.", INTERVAL),
            Key("absent.*", "", "Why alcohol or energy can’t be had."),
        ),
    ),
)
PARTS: tuple[Part, ...] = (
    Part("format", "Version of this format. Keys may be added to it; one that goes or changes its meaning gives it another number."),
    Part("slug", "Name of the batch, as in its address."),
    Part("recipe", "Name of the recipe."),
    Part("brewed", "Day of the brew, or the day that it is planned for."),
    Part("brewer", "Who brewed it."),
    _FIGURES,
    *_KETTLE,
    *_PLAN,
    _FERMENTATION,
    *_CELLAR,
    Part(
        "cautions",
        "Cautions that apply to this batch.",
        (
            Key("[].slug", "", "Name of the rule."),
            Key("[].severity", "", "note, caution or stop."),
            Key("[].text", "", "What it says."),
            Key("[].source", "", "From where."),
        ),
    ),
    Part("assumptions", "What was assumed, in sentences.", (Key("[]", "", "One of them."),)),
    Part("lessons", "The lessons of the notes, without markup.", (Key("[]", "", "One of them."),)),
)
"""In the order of the data page."""


def leaves(part: Part) -> tuple[str, ...]:
    """Paths of all values below a part, as in `fit.ways[].name`."""
    if not part.keys:
        return (part.path,)
    found = []
    for key in part.keys:
        path = f"{part.path}{'' if key.path.startswith('[') else '.'}{key.path}"
        found += [f"{path}.{end}" for end in key.ends] or [path]
    return tuple(found)


VARYING = tuple(sorted({leaf[: place - 1] for part in PARTS for leaf in leaves(part) for place in range(len(leaf)) if leaf[place] == "*"}))
"""Paths of tables whose keys vary."""
