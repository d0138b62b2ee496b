"""Each caution just below and just above its threshold, and what its text says."""

import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from generator.analysis.cautions import RULES
from generator.pages.safety import HAZARDS, MORE, rules
from generator.records.gravity_log import LogRow
from generator.sources import SOURCES
from tests.unit.analysis.cautions_cases import BREW, CASES, Brew, bottled, bottles, brew, clean, ended, good, kegged, row


@pytest.mark.parametrize(("slug", "below", "above"), CASES, ids=[case[0] for case in CASES])
def test_a_caution_stands_above_its_threshold_only(slug: str, below: Brew, above: Brew) -> None:
    """A caution is silent just below its threshold and speaks just above."""
    assert slug not in below.stand()
    assert slug in above.stand()


def test_every_caution_has_a_source_and_two_tests() -> None:
    """A rule without a source, or without tests on both sides of its threshold, fails here; one has its tests with the reconciliation."""
    assert {rule.source for rule in RULES} <= SOURCES.keys()
    assert {rule.slug for rule in RULES} == {case[0] for case in CASES} | {"readings-contradict"}
    assert len({rule.slug for rule in RULES}) == len(RULES) >= 25


def test_the_safety_page_lists_every_rule_once() -> None:
    """Each rule stands under one hazard, and what a batch links to is a hazard of the page or the methods."""
    anchors = {hazard.anchor for hazard in HAZARDS}
    listed = [view.condition for hazard in HAZARDS for view in rules(hazard.anchor)]
    assert sorted(listed) == sorted(rule.condition[:1].upper() + rule.condition[1:] for rule in RULES)
    assert {MORE[rule.slug].removeprefix("safety.html#") for rule in RULES} <= anchors | {"methods.html#reconciliation"}


@pytest.mark.parametrize(("slug", "above"), [(case[0], case[2]) for case in CASES], ids=[case[0] for case in CASES])
def test_texts_are_whole_sentences(slug: str, above: Brew) -> None:
    """A text begins with a capital or a number, ends in a full stop, and has no gap, no exclamation mark and no number like nan."""
    text = above.stand()[slug].text
    assert re.fullmatch(r"[A-Z0-9].*\.", text)
    assert not re.search(r"  |!|\bnan\b|\binf\b|None|\d\.\.|\{", text)


# the rules that ask more than one thing


def test_a_warm_tolerant_yeast_may_be_warm() -> None:
    """The strain is asked for before the warning."""
    assert "warm-pitch" not in Brew({"yeast": {"temperature": "35 °C", "warm_tolerant": True}}).stand()


def test_solid_fuel_and_no_heat_said() -> None:
    """Charcoal is as bad as gas; a kettle without a stated heat gets neither caution."""
    assert "carbon-monoxide" in Brew({}, {"boil": {"heat": "solid fuel", "indoors": True}}).stand()
    assert not {"carbon-monoxide", "burner", "electricity"} & Brew(BREW, {"boil": {"indoors": True}}).stand().keys()


def test_steam_outdoors_is_nobodys_trouble() -> None:
    """Without a roof, or without a word about one, no steam is cautioned of."""
    assert "steam" not in Brew(BREW).stand()
    assert "steam" not in Brew(BREW, {"boil": {"indoors": False}}).stand()


def test_cold_liquor_may_be_lifted_by_its_own_rule() -> None:
    """A wort that is never heated is no hot transfer."""
    assert "hot-transfer" not in Brew({"target": {"pre_boil_volume": "30 L", "pre_boil_gravity": "1.050"}}).stand()


@pytest.mark.parametrize(("room", "ppm"), [("10 m3", 41530.0), ("30 m3", 13843.0)])
def test_the_gas_of_the_table_in_a_room_that_the_brewhouse_says(room: str, ppm: float) -> None:
    """20 L of 12 °P at 78 % apparent give 760 g, 415 L (table co2_room, whose real extract is by a fixed ratio: within 2 %)."""
    plan = {"target": {"volume": "20 L", "original_gravity": "12 °P", "final_gravity": "2.64 °P"}}
    text = Brew(plan, {"fermenter": {"room": room}}).stand()["carbon-dioxide"].text
    grams, litres, percent = re.search(r"(\d+) g of .*, (\d+) L\. .* the room of \d+ m³ that is ([\d.]+) %", text).groups()
    assert [float(grams), float(litres)] == pytest.approx([759.8, 415.3], rel=0.02)
    assert float(percent) == pytest.approx(ppm / 1e4, rel=0.02, abs=0.05)
    assert "a small room of 30 m³" in Brew(plan).stand()["carbon-dioxide"].text


def test_wort_without_yeast_by_its_times() -> None:
    """Twenty-four hours from the last row of the boil to the first of the fermenter are allowed, twenty-five aren't, unless the wort is sour."""
    boil = row("post-boil", "volume", 22.0, "liter", "2026-01-01 15:00")

    def read(time: str) -> Brew:
        return Brew({}, {}, (boil, row("fermenter", "gravity", 1.050, time=time)))

    assert "wort-held" not in read("2026-01-02 15:00").stand()
    assert read("2026-01-02 16:00").stand()["wort-held"].severity == "stop"
    sour, sweet = (
        replace(late, readings=(*late.readings, row("post-boil", "ph", ph, "pH")))
        for late, ph in ((read("2026-01-02 16:00"), 4.6), (read("2026-01-02 16:00"), 4.7))
    )
    assert "wort-held" not in sour.stand()
    assert "wort-held" in sweet.stand()


def test_a_planned_wait_counts_beside_the_times() -> None:
    """Wort run off at once, but kept without yeast as planned, is told by the plan."""
    rows = (row("post-boil", "volume", 22.0, "liter", "2026-01-01 15:00"), row("fermenter", "volume", 20.0, "liter", "2026-01-01 16:00"))
    assert "wort-held" not in Brew({}, {}, rows).stand()
    assert "36 hours" in Brew({"yeast": {"wait": "36 h"}}, {}, rows).stand()["wort-held"].text


# cleaning


def test_a_plan_may_clean_otherwise_than_its_brewhouse() -> None:
    """The brewhouse says how it is usually done; the plan's own table stands instead of it."""
    house = {"cleaning": {"cleaner": "caustic"}}
    assert "caustic" in Brew({}, house).stand()
    assert "caustic" not in Brew({"cleaning": {"cleaner": "alkaline"}}, house).stand()


@pytest.mark.parametrize(
    ("strength", "coldest", "contact"),
    [
        ("25 mg/L", 120.0, 10.0),
        ("49 mg/L", 120.0, 10.0),
        ("50 mg/L", 75.0, 7.0),
        ("99 mg/L", 75.0, 7.0),
        ("100 mg/L", 55.0, 10.0),
        ("0.02 %", 55.0, 10.0),
    ],
)
def test_chlorine_works_colder_the_stronger_it_is(strength: str, coldest: float, contact: float) -> None:
    """Of the code's three solutions that of the batch's strength counts: °F and seconds on both sides of what it asks."""
    asked = {"sanitiser": "chlorine", "strength": strength}
    assert "cold-sanitiser" not in clean(**asked, temperature=f"{coldest} °F").stand()
    assert "cold-sanitiser" in clean(**asked, temperature=f"{coldest - 0.2} °F").stand()
    assert "short-contact" not in clean(**asked, contact=f"{contact} s").stand()
    assert "short-contact" in clean(**asked, contact=f"{contact - 0.5} s").stand()


def test_what_isnt_said_isnt_judged() -> None:
    """Without a strength chlorine has no single temperature, and an agent whose label decides has no strength."""
    assert not {"cold-sanitiser", "short-contact"} & clean(sanitiser="chlorine", temperature="5 °C", contact="1 s").stand().keys()
    assert not {"weak-sanitiser", "strong-sanitiser"} & clean(sanitiser="quaternary ammonium", strength="1 mg/L").stand().keys()


# packaging


def test_a_keg_holds_more_than_a_bottle() -> None:
    """Cautions about bottles don't stand for a keg, be it planned or told by a pressure without sugar."""
    plan = {"target": {"carbonation": "4.5 vol"}}
    assert "bursting-bottles" in Brew(plan).stand()
    assert "bursting-bottles" not in Brew({**plan, "package": {"method": "keg"}}).stand()
    pressed = replace(kegged(1.0), plan={**plan, "package": {"method": "bottle"}})
    assert "bursting-bottles" not in pressed.stand()
    primed = replace(pressed, readings=(*pressed.readings, row("package", "sugar", 0.1, "kilogram", "2026-01-10 10:00")))
    assert "bursting-bottles" in primed.stand()


def test_the_two_thresholds_of_bottles_exclude_each_other() -> None:
    """Above 4 volumes it is a stop, and not a caution as well."""
    found = Brew(bottles("4.5 vol")).stand()
    assert found["bursting-bottles"].severity == "stop"
    assert "lively-bottles" not in found


def test_a_rating_stands_instead_of_our_own_rule() -> None:
    """Bottles rated for 5 volumes may hold 4.5; those rated for 2.5 may not hold 2.8."""
    slugs = {"lively-bottles", "bursting-bottles", "over-rating"}
    assert not slugs & Brew(bottles("4.5 vol", bottle_volumes="5 vol")).stand().keys()
    assert slugs & Brew(bottles("2.8 vol", bottle_volumes="2.5 vol")).stand().keys() == {"over-rating"}


def test_a_rated_keg_is_judged_by_its_rating() -> None:
    """Nine bar may be right for one keg and 3.1 too much for another."""
    assert "keg-pressure" not in kegged(8.9, keg_pressure="9 bar").stand()
    assert "3 bar" in kegged(3.1, keg_pressure="3 bar").stand()["keg-pressure"].text


def test_what_is_left_counts_into_the_worst_case() -> None:
    """Half a volume a point: 2.5 vol pass 3 vol with one point left, 4 vol with three; the text names the parts."""
    left = {points: ended(1.010 + points / 1000.0, brew(carbonation="2.5 vol")).stand() for points in (0.9, 1.1, 2.9, 3.1)}
    assert "lively-bottles" not in left[0.9]
    assert "lively-bottles" in left[1.1]
    assert "bursting-bottles" not in left[2.9]
    assert left[3.1]["bursting-bottles"].text.startswith("4.1 volumes (2.5, and 1.6 from what may still ferment down to 1.010")


def test_what_is_left_counts_against_the_rating() -> None:
    """Bottles rated for 4.5 volumes take three points more; for those rated for 4 that is a stop, within doubt a caution."""

    def found(rated: str, final: float) -> set[str]:
        stand = ended(final, {**brew(carbonation="2.5 vol"), "package": {"bottle_volumes": rated}}).stand()
        return stand.keys() & {"over-rating", "unfinished-bottles", "lively-bottles", "bursting-bottles"}

    assert found("5 vol", 1.013) == set()
    assert found("4.2 vol", 1.013) == {"unfinished-bottles"}
    assert found("4 vol", 1.0131) == {"over-rating"}


def test_a_rated_pressure_is_compared_in_the_worst_case() -> None:
    """98 g of dextrose in 18 L press with 3.7 bar at 35 °C in the worst case, shut in with air: bottles for 4 bar hold that, those for 3.5 don't."""
    rows = (
        row("fermenter", "volume", 20.0, "liter", "2026-01-01 15:00"), row("post-boil", "gravity", 1.050), row("package", "gravity", 1.009),
        row("package", "volume", 18.0, "liter", "2026-01-10 10:00"), row("package", "sugar", 0.098, "kilogram", "2026-01-10 10:01"),
        row("package", "temperature", 20.0, "degC", "2026-01-10 10:02"),
    )  # fmt: skip
    plan = {"target": BREW["target"]}
    held, burst = (Brew({**plan, "package": {"sugar": "dextrose", "bottle_pressure": bar}}, {}, rows).stand() for bar in ("4 bar", "3.5 bar"))
    assert "over-rating" not in held
    assert re.match(r"At 35 °C these bottles may hold 3\.[78] bar, more than the 3\.5 bar", burst["over-rating"].text)
    assert "an atmosphere of air shut in" in burst["over-rating"].text


def test_a_beer_that_still_ferments_is_no_bottle() -> None:
    """Ten points left in the fermenter are no worst case: nothing was packaged yet."""
    gravities = (row("fermenter", "gravity", 1.050, time="2026-01-01 15:00"), row("fermenter", "gravity", 1.020, time="2026-01-03 15:00"))
    found = Brew(brew(carbonation="2.5 vol"), {}, gravities).stand()
    assert not {"lively-bottles", "bursting-bottles", "unfinished-bottles"} & found.keys()


def test_gravity_is_stable_after_two_days() -> None:
    """Two equal gravities 48 hours apart are enough, 47 aren't; the original gravity is none of them."""
    assert "unstable-gravity" not in bottled(("2026-01-08 10:00", 1.010), ("2026-01-10 10:00", 1.010)).stand()
    assert "47 hours" in bottled(("2026-01-08 11:00", 1.010), ("2026-01-10 10:00", 1.010)).stand()["unstable-gravity"].text
    assert "“not started”" in bottled(("2026-01-10 10:00", 1.0499)).stand()["unstable-gravity"].text
    timeless = Brew({"package": {"method": "bottle"}}, {}, (row("package", "volume", 19.0, "liter"), row("package", "gravity", 1.010)))
    assert "no gravity with its time" in timeless.stand()["unstable-gravity"].text


def test_a_gravity_that_falls_again_isnt_stable() -> None:
    """The last gravity counts: a pair of equal ones before it doesn't help."""
    falling = bottled(("2026-01-06 10:00", 1.014), ("2026-01-08 10:00", 1.014), ("2026-01-10 10:00", 1.010))
    text = falling.stand()["unstable-gravity"].text
    assert "“dropping again since 8 January”" in text
    assert "1.014 and 1.010, lie 48 hours apart" in text


def test_a_beer_that_stopped_early_isnt_stable() -> None:
    """Two equal gravities far above the planned end are a stop when bottled; the same two at the planned end aren't."""
    stuck = bottled(("2026-01-08 10:00", 1.020), ("2026-01-10 10:00", 1.020))
    planned = {final: {**stuck.plan, "target": {"final_gravity": final}} for final in ("1.010", "1.019")}
    found = replace(stuck, plan=planned["1.010"]).stand()["unstable-gravity"]
    assert found.severity == "stop"
    assert "“stopped early on 8 January”" in found.text
    assert "10 points above 1.010" in found.text
    assert "unstable-gravity" not in replace(stuck, plan=planned["1.019"]).stand()


def test_nobody_is_told_of_bottles_that_arent_filled() -> None:
    """Before the packaging, and for a keg, no gravity need be stable."""
    early = bottled(("2026-01-08 10:00", 1.020), ("2026-01-10 10:00", 1.010))
    assert "unstable-gravity" in early.stand()
    assert "unstable-gravity" not in replace(early, readings=early.readings[:-1]).stand()
    assert "unstable-gravity" not in replace(early, plan={"package": {"method": "keg"}}).stand()


def test_a_logger_can_show_it() -> None:
    """Two level days of a logger show a stable gravity as two hand readings would; a slope of more than a point in that time doesn't."""
    start = datetime.fromisoformat("2026-01-06 10:00")

    def logged(slope: float) -> Brew:
        rows = tuple(LogRow(2 + hour, start + timedelta(hours=hour), 1.012 - slope * hour / 48.0, 20.0) for hour in range(96))
        return replace(bottled(("2026-01-10 10:00", 1.010)), log=rows)

    assert "unstable-gravity" not in logged(0.0).stand()
    assert "unstable-gravity" not in logged(0.0006).stand()
    assert "unstable-gravity" in logged(0.0012).stand()


# those who drink it


@pytest.mark.parametrize(
    ("name", "holds"),
    [
        ("Munich malt", "gluten (barley)"), ("Wheat malt", "gluten (wheat)"), ("Malted oats", "gluten (oats)"), ("Rye", "gluten (rye)"),
        ("Spelt malt", "gluten (wheat)"), ("Milk sugar", "milk"), ("Roasted hazelnuts", "nuts"), ("Potassium metabisulphite", "sulphites"),
        ("Rice malt", ""), ("Buckwheat malt", ""), ("Cane sugar", ""), ("Maltodextrin", ""),
    ],
)  # fmt: skip
def test_allergens_by_the_name_of_a_good(name: str, holds: str) -> None:
    """Annex II of the regulation, by words; a malt without its cereal is barley."""
    found = Brew({"grist": [good("1 kg", name)]}).stand()
    assert ("allergens" in found) == bool(holds)
    assert not holds or f"this beer holds {holds}." in found["allergens"].text


def test_allergens_that_the_plan_adds() -> None:
    """What the names don't tell stands in the plan, and nothing is said twice."""
    plan = {"batch": {"allergens": ["milk", "Oats"]}, "grist": [good("4 kg"), good("1 kg", "Flaked oats")]}
    assert "holds gluten (barley, oats) and milk." in Brew(plan).stand()["allergens"].text
