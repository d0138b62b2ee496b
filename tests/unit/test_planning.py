"""A plan on trial: found, changed, scaled, and its numbers."""

import shutil
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator import units
from generator.analysis.report import Report, report
from generator.errors import JournalError
from generator.planning import NoChangeError, NoSuchBatchError, changed, find, is_batch_folder, journal_of, parse, scaled
from generator.planning.batches import Found
from generator.planning.numbers import brew_day
from generator.planning.overrides import drafted, plan_text
from generator.planning.scaling import like
from tests.benchmarks.journals import tiny

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "batches"
SLUGS = sorted(path.parent.name for path in DEMO.glob("*/plan.toml"))
BREWHOUSE = """name = "Cellar"
[mash]
capacity = "30 L"
[boil]
evaporation = "3.0 L/h"
kettle_loss = "1.0 L"
[transfer]
loss = "0.5 L"
"""
PLAN = """# A stout for the winter.
[batch]
recipe = "Stout" # the usual
brewed = 2026-12-12
brewhouse = "cellar"

[target]
volume = "5 gal"          # into the glass one
mash_efficiency = "75 %"
post_boil_volume = "21.5 L"

# Bought in autumn.
[[grist]]
name = "Pale malt"
mass = '11 lb 6 oz'   # the last sack
extract = "81 %"

[[grist]]
mass = "450 g"
name = "Roasted barley"
extract = "68 %"

[[grist]]
name = "Candy sugar"
mass = "0.3 kg"
extract = "100 %"
moisture = "0 %"
added = "boil"

[[hops]]
name = "Fuggles"
mass = "1.5oz"
alpha = "4.8 %"
time = "60 min"

[[hops]]
name = "Fuggles"
mass = "20 g"
alpha = "4.8 %"
added = "fermenter"

[liquor]
mash = "4 gal"
sparge = "12 L"

[boil]
duration = "60 min"

[yeast]
attenuation = "75 %"
cells = 230_000_000_000
"""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal with the plan above beside another batch."""
    root = tiny(tmp_path / "journal")
    (root / "brewhouses").mkdir(exist_ok=True)
    (root / "brewhouses" / "cellar.toml").write_text(BREWHOUSE, encoding="utf-8")
    (root / "stout-2").mkdir()
    (root / "stout-2" / "plan.toml").write_text(PLAN, encoding="utf-8")
    return root


@pytest.fixture
def stout(journal: Path) -> Found:
    """The batch of the plan above."""
    return find(journal, "stout-2")


def understood(found: Found, text: str) -> Report:
    """The report of a batch with another text as its plan, which has to pass as a file."""
    batch, faults = drafted(found, text)
    assert faults == []
    assert batch is not None
    return report(batch)


def tried(found: Found, *texts: str) -> Report:
    """The report of a batch with changes."""
    return report(changed(found, parse(texts)).batch)


def faults(found: Found, *texts: str) -> list[str]:
    """The problems of changes, as they are printed."""
    with pytest.raises(JournalError) as raised:
        changed(found, parse(texts))
    return str(raised.value).splitlines()


# Found


def test_batch_by_slug_and_by_folder(journal: Path) -> None:
    """A batch is found by its slug, and by the path of its folder, whose journal is told from where it lies."""
    folder = journal / "stout-2"
    assert is_batch_folder(folder)
    assert not is_batch_folder(journal)
    assert journal_of(folder) == journal.resolve()
    assert find(journal, "stout-2").batch == find(journal, str(folder)).batch


def test_batch_of_a_member_and_a_draft(journal: Path) -> None:
    """Batches of members and drafts are found too; the journal of a member's batch is the one above `members`."""
    other = journal / "members" / "tove" / "tove-1"
    shutil.copytree(journal / "stout-2", other)
    text = PLAN.replace("[target]", "draft = true\n[target]", 1)
    (other / "plan.toml").write_text(text, encoding="utf-8")
    assert journal_of(other) == journal.resolve()
    assert find(journal, "tove-1").batch.plan.batch.draft


@pytest.mark.parametrize(
    ("name", "hint"), [("stuot-2", "did you mean 'stout-2'?"), ("02-14", "did you mean '2026-02-14-stout'?"), ("x", "expected one")]
)
def test_no_such_batch(journal: Path, name: str, hint: str) -> None:
    """A batch that isn't there is named beside the nearest one, or beside all."""
    with pytest.raises(NoSuchBatchError, match=f"no batch '{name}' in this journal; ") as raised:
        find(journal, name)
    assert hint in str(raised.value)


# Changed


def test_change_is_the_change_in_the_file(stout: Found, journal: Path) -> None:
    """A change on trial gives what the same change in the file gives, and the file is untouched."""
    on_trial = tried(stout, 'target.volume="15 L"', "grist.1.mass=5 kg", "liquor.sparge=8 L")
    assert (journal / "stout-2" / "plan.toml").read_text(encoding="utf-8") == PLAN
    text = PLAN.replace("5 gal", "15 L").replace("11 lb 6 oz", "5 kg").replace("12 L", "8 L")
    (journal / "stout-2" / "plan.toml").write_text(text, encoding="utf-8")
    in_file = report(find(journal, "stout-2").batch)
    assert on_trial.figures == in_file.figures
    assert on_trial.cautions == in_file.cautions


@pytest.mark.parametrize(
    "key", ["grist.2.mass", 'grist."Roasted barley".mass', "grist.'Roasted barley'.mass", "grist.roasted barley.mass", "grist . 2 . mass"]
)
@pytest.mark.parametrize("value", ["1 kg", '"1 kg"', " '1 kg' "])
def test_ways_to_write_a_change(stout: Found, key: str, value: str) -> None:
    """An entry goes by its number or its name, with or without quotes; so does a value."""
    assert changed(stout, parse([f"{key}={value}"])).batch.plan.grist[1].mass == 1.0


def test_values_without_quotes_in_the_file(stout: Found) -> None:
    """Numbers, yes or no, and lists are read as TOML; gravities and days may be too."""
    draft = changed(
        stout, parse(["target.mash_ph=5.3", "yeast.warm_tolerant=true", 'batch.tags=["a", "b"]', "target.original_gravity=1.064", "yeast.cells=2e11"])
    )
    plan = draft.batch.plan
    assert (plan.target.mash_ph, plan.yeast.warm_tolerant, plan.batch.tags, plan.yeast.cells) == (5.3, True, ("a", "b"), 2e11)
    assert plan.target.original_gravity is not None
    assert plan.target.original_gravity.value == 1.064


def test_new_table_and_left_out_key(stout: Found) -> None:
    """A key of a table that isn't there makes it; an empty value leaves its key out, so that the prediction stands."""
    plan = changed(stout, parse(["package.temperature=20 °C", "target.mash_efficiency=", "target.final_gravity="])).batch.plan
    assert plan.package.temperature == 20.0
    assert plan.target.mash_efficiency is None


def test_another_brewhouse(stout: Found) -> None:
    """Another brewhouse is looked up; one that isn't there names the nearest."""
    assert tried(stout, "batch.brewhouse=").batch.brewhouse is None
    assert faults(stout, "batch.brewhouse=celar") == [
        "--set:1: the brewhouse 'celar' isn't in brewhouses/; did you mean 'cellar'? [unknown-brewhouse]"
    ]


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ("target.volum=15 L", "unknown key 'volum' in [target]; did you mean 'volume'? [unknown-key]"),
        ("targt.volume=15 L", "unknown key 'targt'; did you mean 'target'? [unknown-key]"),
        ("target.volume=15", "target.volume: '15' has no unit; expected a volume, as in \"19 L\" [unit-missing]"),
        ("target.mash_ph=15", "target.mash_ph: 15 is out of range; expected 0 to 14 [out-of-range]"),
        ("target.mash_ph=low", "target.mash_ph: 'low' is a text; expected a number without quotes, as in 5.3 [wrong-type]"),
        ("grist.1.mass=-2 kg", 'grist.1.mass: a mass of -2 kg is not above 0; expected more than 0, as in "8.6 kg" [not-positive]'),
        ("grist.4.mass=2 kg", "[[grist]] has no '4'; expected a number from 1 to 3 [unknown-key]"),
        ("grist.0.mass=2 kg", "[[grist]] has no '0'; expected a number from 1 to 3 [unknown-key]"),
        ("grist.pale mat.mass=2 kg", "[[grist]] has no 'pale mat'; did you mean 'Pale malt'? [unknown-key]"),
        ("hops.Fuggles.mass=2 g", "'Fuggles' stands 2 times in [[hops]]; expected its number: one of 1, 2 [unknown-key]"),
        ("rest.1.temperature=66 °C", "the plan has no [[rest]]; expected a key of what stands in it [unknown-key]"),
        (
            "grist.mass=2 kg",
            "grist.mass is no key; expected a table and a key in it, as in target.volume, or an entry as in grist.1.mass [unknown-key]",
        ),
        ("batch.follows=stuot-2", "no batch is called 'stuot-2'; did you mean 'stout-2'? [unknown-follows]"),
        ("batch.recipe=", "the key 'recipe' in [batch] is missing; expected a line such as recipe = \"...\" [missing-key]"),
        ("target.original_gravity=1.19", "target.original_gravity is more than 40 °P; expected at most 40 °P [gravity-not-computable]"),
    ],
)
def test_problem_of_a_change(stout: Found, change: str, problem: str) -> None:
    """A change is checked as the file is, and the problem says the how manieth change it was."""
    assert faults(stout, "boil.duration=70 min", change) == [f"--set:2: {problem}"]


def test_all_problems_of_all_changes(stout: Found) -> None:
    """Every change that is wrong is told at once, each by its number."""
    found = faults(stout, "grist.9.mass=1 kg", "target.volume=x", "boil.durations=1 h", "hops.1.added=stand")
    assert [line.split(": ")[0] for line in found] == ["--set:1", "--set:2", "--set:3", "--set:4"]


@pytest.mark.parametrize("text", ["", "target.volume", "=1", "a..b=1", ".a=1", "a.=1", 'grist."Pale.mass=1 kg', "   =  "])
def test_no_change(text: str) -> None:
    """What isn't KEY=VALUE is refused with the form."""
    with pytest.raises(NoChangeError, match="expected KEY=VALUE, as in target"):
        parse([text])


@given(st.text(max_size=40), st.text(max_size=40))
def test_parser_of_changes_never_crashes(key: str, value: str) -> None:
    """Any text is a change or is refused."""
    try:
        (change,) = parse([f"{key}={value}"])
    except NoChangeError:
        return
    assert all(change.key)


# Scaled


def test_scaled_by_hand(stout: Found) -> None:
    """With a target mash efficiency the goods follow the volume after the boil, whose losses don't scale; dry hops and yeast follow the beer."""
    text = scaled(stout, changed(stout, ()), "30 L")
    before, after = stout.batch.plan, tomllib.loads(text)
    volume = 5 * 3.785411784  # a US gallon is 231 cubic inches
    post = 21.5 + 30 - volume
    assert after["target"] == {"volume": "30 L", "mash_efficiency": "75 %", "post_boil_volume": f"{post:.1f} L"}
    new = understood(stout, text).batch.plan
    for good, old in zip(new.grist, before.grist, strict=True):
        assert good.mass == pytest.approx(old.mass * post / 21.5, rel=0.002)
    assert new.hops[1].mass == pytest.approx(0.020 * 30 / volume, rel=0.002)
    assert after["yeast"]["cells"] == pytest.approx(230e9 * 30 / volume, rel=0.005)
    ratio = (before.liquor.mash or 0.0) / before.liquor.sparge
    assert (new.liquor.mash or 0.0) / new.liquor.sparge == pytest.approx(ratio, rel=0.006)


def test_scaled_file_is_still_the_brewers(stout: Found) -> None:
    """Comments, order, and the units each quantity was written in survive; all that isn't scaled stays to the letter."""
    head, _, rest = scaled(stout, changed(stout, ()), "3 gal").partition("\n\n")
    assert all(line.startswith("# ") for line in head.splitlines())
    assert "from 18.93 L to 3 gal" in head
    assert "Held constant: the predicted original gravity, 1.0" in head
    different = [(old, new) for old, new in zip(PLAN.splitlines(), rest.splitlines(), strict=True) if old != new]
    assert [old.split(" =")[0] for old, _ in different] == [
        "volume", "post_boil_volume", "mass", "mass", "mass", "mass", "mass", "mash", "sparge", "cells",
    ]  # fmt: skip
    lines = [new for _, new in different]
    assert lines[0] == 'volume = "3 gal"          # into the glass one'
    assert lines[2].endswith("   # the last sack")
    assert [word in line for word, line in zip(("lb ", " g", " kg", "oz"), lines[2:6], strict=True)] == [True] * 4


@pytest.mark.parametrize("wanted", ["8 L", "15 L", "6 gal", "40 L"])
@pytest.mark.parametrize("slug", SLUGS)
def test_scaled_demo_predicts_the_same_beer(demo: dict[str, Found], slug: str, wanted: str) -> None:
    """Every plan of the demo, scaled, passes as a file and predicts the gravity within 0.5 points and the bitterness within 1 %."""
    found = demo[slug]
    old, new = report(found.unread).figures, understood(found, scaled(found, changed(found, ()), wanted)).figures
    gravity = [figures["original_gravity"].expected.predicted for figures in (old, new)]
    assert gravity[1] == pytest.approx(gravity[0], abs=0.0005)
    assert new["bitterness"].plan == pytest.approx(old["bitterness"].plan, rel=0.01)
    assert new["fermenter_volume"].plan == pytest.approx(units.parse(wanted, units.VOLUME).value)
    assert new["apparent_absorption"].plan == pytest.approx(old["apparent_absorption"].plan, abs=0.02)


@pytest.fixture(scope="module")
def demo() -> dict[str, Found]:
    """The demo's batches; the journal is read once."""
    first = find(DEMO, SLUGS[0])
    return {slug: first if slug == SLUGS[0] else find(DEMO, slug) for slug in SLUGS}


def test_scaled_to_its_own_volume(stout: Found) -> None:
    """A plan scaled to the volume that it has is the plan."""
    new = understood(stout, scaled(stout, changed(stout, ()), "5 gal")).batch.plan
    assert [good.mass for good in new.grist] == pytest.approx([good.mass for good in stout.batch.plan.grist], rel=0.002)
    assert [hop.mass for hop in new.hops] == pytest.approx([hop.mass for hop in stout.batch.plan.hops], rel=0.002)


@pytest.mark.parametrize(
    ("changes", "words"),
    [(["boil.duration=", "target.mash_efficiency="], "the goods in a litre of beer"), (["boil.duration="], "the predicted original gravity")],
)
def test_scaled_without_a_prediction(stout: Found, changes: list[str], words: str) -> None:
    """Where the plan predicts no gravity or bitterness, the amounts in a litre of beer are held, and the comments say so."""
    text = scaled(stout, changed(stout, parse(changes)), "10 L")
    assert f"Held constant: {words}" in text
    assert "Held constant: the hops in a litre of beer" in text
    assert understood(stout, text).batch.plan.hops[0].mass == pytest.approx(0.0425 * 10 / 18.927, rel=0.003)


@pytest.mark.parametrize(
    ("changes", "wanted", "problem"),
    [
        ([], "15", "--scale:1: '15' has no unit; expected a volume, as in \"19 L\" [unit-missing]"),
        ([], "0 L", '--scale:1: a volume of 0 L is not above 0; expected more than 0, as in "19 L" [not-positive]'),
        (["target.volume=", "target.post_boil_volume="], "15 L", "stout-2/plan.toml:7: the plan gives no target volume, so it can't be scaled; "),
        ([], "99999 L", "--scale:1: the scaled plan can't stand: "),
    ],
)
def test_problem_of_scaling(stout: Found, changes: list[str], wanted: str, problem: str) -> None:
    """A volume that can't be read, a plan without one, and a plan that could not stand are problems."""
    with pytest.raises(JournalError) as raised:
        scaled(stout, changed(stout, parse(changes)), wanted)
    assert str(raised.value).startswith(problem)


@pytest.mark.parametrize(
    ("written", "value", "text"),
    [
        ("6.1 kg", 5.4321, "5.43 kg"),
        ("700 g", 0.62249, "622 g"),
        ("72 g", 0.0643, "64.3 g"),
        ("10 kg", 12.0, "12 kg"),
        ("1.5oz", 0.04, "1.411oz"),
        ("19 lb 2 oz", 5.0, "11 lb 0.4 oz"),
        ("1 lb. 8 oz.", 0.9, "1 lb. 15.7 oz."),
        ("2 kg 300 g", 1.9999, "2 kg 0 g"),
    ],
)
def test_quantity_like_another(written: str, value: float, text: str) -> None:
    """A new mass stands in the units of the old one, compound ones too, rounded to 0.2 % or finer; a pound is 453.59237 g."""
    assert like(written, units.MASS, value) == text
    assert units.parse(text, units.MASS).value == pytest.approx(value, rel=0.002)


@given(st.sampled_from(["6 kg", "700 g", "19 lb 2 oz", "3 lb", "2 oz", "1 kg 200 g"]), st.floats(1e-3, 1e3))
def test_quantity_like_another_keeps_its_value(written: str, value: float) -> None:
    """Rounding never changes a mass by more than 0.2 %, and what is written can be read."""
    assert units.parse(like(written, units.MASS, value), units.MASS).value == pytest.approx(value, rel=0.0021)


def test_line_ends_and_marks(journal: Path) -> None:
    """A plan with a byte-order mark and other line ends is changed and scaled like any."""
    path = journal / "stout-2" / "plan.toml"
    path.write_bytes(b"\xef\xbb\xbf" + PLAN.replace("\n", "\r").encode())
    found = find(journal, "stout-2")
    assert plan_text(found) == PLAN
    assert understood(found, scaled(found, changed(found, ()), "15 L")).batch.plan.target.volume == pytest.approx(15.0)


# Numbers


def test_bitterness_of_each_adds_up(demo: dict[str, Found]) -> None:
    """The bitterness of the additions adds up to that of the beer, and the shares of the mashed goods to 100 %."""
    for found in demo.values():
        told = report(found.unread)
        day = brew_day(told)
        assert sum(hop.gives.plan or 0.0 for hop in day.hops if hop.gives) == pytest.approx(told.figures["bitterness"].plan)
        assert sum(good.gives.plan or 0.0 for good in day.goods if good.gives) == pytest.approx(100.0)


def test_what_is_not_known_says_why(stout: Found) -> None:
    """A figure that the plan can't tell stands with its reason and not among the numbers."""
    day = brew_day(tried(stout))
    assert ("Strike liquor", "the plan gives no rest") in day.open
    assert "Strike liquor" not in {number.label for _, numbers in day.sections for number in numbers}
