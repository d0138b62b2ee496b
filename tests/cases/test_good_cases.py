"""Small journals in every way of writing them that is allowed: they check clean, and mean what they say."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.records.fields import Doubt
from generator.records.journal import BatchRecord, Journal, load
from generator.records.readings import wall_clock
from generator.units import Quantity
from tests.cases.made import PLAN, good

HERE = Path(__file__).parent
GOOD = sorted(path.name for path in (HERE / "good").iterdir())
POUND, OUNCE = 0.45359237, 0.028349523125
"""kg; NIST SP 811, appendix B.8, exact."""
US_GALLON, IMPERIAL_GALLON = 3.785411784, 4.54609
"""L; the same, exact."""


def journal(name: str) -> Journal:
    """A good case, read."""
    return load(HERE / "good" / name)


def batch(name: str, slug: str = "tove-1") -> BatchRecord:
    """One batch of a good case."""
    return next(one for one in journal(name).batches if one.slug == slug)


@pytest.mark.parametrize("name", GOOD)
def test_good_journal_checks_clean(name: str) -> None:
    """`check` finds nothing, says nothing on stderr, and exits with 0."""
    result = CliRunner().invoke(main, ["check", str(HERE / "good" / name)])
    assert (result.stderr, result.exit_code) == ("", 0)


def test_every_good_case_is_looked_at() -> None:
    """No good case is only checked: some test below asserts what it means."""
    text = Path(__file__).read_text(encoding="utf-8")
    assert [name for name in GOOD if f'"{name}"' not in text] == []


@pytest.mark.parametrize("name", ["byte-order-marks", "carriage-returns"])
def test_saved_by_any_editor(name: str) -> None:
    """Byte-order marks and line endings of any kind change neither values nor line numbers."""
    one = batch(name)
    assert (one.brewer, one.plan.batch.brewed, one.plan.batch.summary) == ("Hanne Orrock", date(2026, 2, 14), "Two lines of it.")
    assert one.brewhouse is not None
    assert (one.brewhouse.name, one.brewhouse.mash.retention) == ("Ferry", 1.2)
    assert (one.plan_file.line("batch", "summary"), one.plan_file.line("hops", 0, "mass")) == (5, 11)
    rows = [(row.line, row.what, row.value, row.unit, row.at) for row in one.readings]
    assert rows == [
        (3, "grist", 8.6, "kilogram", None),
        (5, "gravity", 1.064, "SG", 25.0),
        (7, "gravity", 1.07, "SG", pytest.approx(25.0, abs=1e-12)),
        (8, "gravity", 7.0, "°Bx", None),
    ]
    assert one.readings[0].note == 'two lines of it, and a "quote"'
    assert [row.doubt for row in one.readings] == [Doubt(1.0, "%"), None, Doubt(0.002, "SG"), None]
    assert [(row.line, row.gravity, row.temperature) for row in one.log] == [(2, 1.064, 19.5), (3, None, 19.0), (4, 1.06, None)]
    assert [(lesson.line, lesson.text) for lesson in one.notes.lessons] == [(3, "One."), (4, "Two, over two lines.")]


def test_semicolons_and_decimal_commas() -> None:
    """Semicolons, decimal commas, columns in another order, capitals, and blank columns at the end."""
    one = batch("semicolons")
    assert [(row.what, row.value, row.comma) for row in one.readings] == [
        ("volume", 24.5, True),
        ("gravity", 1.064, True),
        ("grist", 8.6, False),
        ("aroma", 8.5, True),
        ("ph", 5.35, True),
    ]
    assert (one.readings[0].at, one.readings[0].note) == (20.5, "dipstick, twice")
    assert [row.doubt for row in one.readings[:2]] == [Doubt(0.25, "liter"), Doubt(0.002, "SG")]
    assert [(row.gravity, row.temperature) for row in one.log] == [(1.064, 19.5)]


def test_every_style_of_toml() -> None:
    """Inline tables, dotted and quoted keys, escapes, literal strings and arrays over several lines mean the same as tables."""
    one = batch("styles-of-toml")
    plan = one.plan
    assert (plan.batch.recipe, plan.batch.brewed, plan.batch.tags) == ("Tove", date(2026, 2, 14), ("strong", "stout"))
    assert [(good.name, good.mass, good.extract) for good in plan.grist] == [("Pale malt", 4.0, 80.0), ("Oats", 0.5, 70.0)]
    assert (plan.liquor.mash, plan.yeast.cells, plan.target.mash_ph, plan.target.original_gravity) == (24.0, 230e9, 5.0, Quantity(15.7, "°P"))
    assert one.brewhouse is not None
    assert (one.brewhouse.name, one.brewhouse.mash.capacity, one.brewhouse.boil.evaporation) == ('The "ferry" house', 30.0, 3.0)
    assert one.brewhouse.instruments.hydrometer_calibrated_at == pytest.approx(140.0 / 9.0, rel=1e-12)
    assert [one.plan_file.line(*key) for key in (("batch", "tags"), ("liquor", "mash"), ("grist", 1, "mass"), ("target", "mash_ph"))] == [
        5,
        9,
        10,
        14,
    ]


def test_us_units() -> None:
    """Gallons, quarts, pounds with ounces, °F and their like are the exact multiples of litre, kilogram and °C."""
    one = batch("us-units")
    target, house = one.plan.target, one.brewhouse
    assert house is not None
    assert target.volume == pytest.approx(5 * US_GALLON, rel=1e-12)
    assert target.pre_boil_volume == pytest.approx(6.5 * US_GALLON, rel=1e-12)
    assert target.post_boil_volume == pytest.approx(4.2 * IMPERIAL_GALLON, rel=1e-12)
    assert target.mash_temperature == pytest.approx((151 - 32) / 1.8, rel=1e-12)
    masses = [*(good.mass for good in one.plan.grist), *(hop.mass for hop in one.plan.hops)]
    assert masses == pytest.approx([19 * POUND + 2 * OUNCE, 1.5 * POUND, 1.5 * OUNCE], rel=1e-12)
    assert [good.colour for good in one.plan.grist] == [Quantity(2.5, "°L"), Quantity(60.0, "°L")]
    assert one.plan.hops[0].time == 75.0
    assert house.mash.retention == pytest.approx(0.5 * US_GALLON / 4 / POUND, rel=1e-12)
    assert house.boil.evaporation == pytest.approx(US_GALLON, rel=1e-12)
    assert house.instruments.temperature.value == pytest.approx(5 / 9, rel=1e-12)
    assert house.instruments.volume.value == pytest.approx(US_GALLON / 8, rel=1e-12)
    values = [row.value for row in one.readings]
    assert values == pytest.approx([6.5 * US_GALLON, 119 / 1.8, 4 * OUNCE, 12 * 0.0689475729316836], rel=1e-12)
    assert one.readings[0].at == pytest.approx((155 - 32) / 1.8, rel=1e-12)


def test_signs_of_units() -> None:
    """Micro signs, the letter u, degree signs and spaces of every kind are one unit each."""
    plan = batch("signs-of-units").plan
    volumes = [plan.target.volume, plan.target.pre_boil_volume, plan.target.post_boil_volume]
    assert volumes == pytest.approx([19.0, 24.0, 21.0], rel=1e-12)
    assert plan.hops[0].mass == pytest.approx(0.02, rel=1e-12)
    assert [rest.temperature for rest in plan.rest] == pytest.approx([66.0, 66.0, 66.0], rel=1e-12)
    assert plan.rest[0].duration == 60.0


def test_times_with_offsets() -> None:
    """Offsets order a day on which the clocks changed; one time without an offset, and the clock on the wall counts."""
    times = [row.time for row in batch("offset-times").readings if row.time]
    assert wall_clock(times) == sorted(wall_clock(times))
    assert times[1].astimezone(UTC) == datetime(2026, 3, 29, 2, 0, tzinfo=UTC)
    mixed = [row.time for row in batch("offset-times", "fen-1").readings if row.time]
    assert wall_clock(mixed)[:2] == [datetime(2026, 3, 29, 9, 0), datetime(2026, 3, 29, 10, 30)]  # noqa: DTZ001


def test_members() -> None:
    """A member's batch has its brewer's name, its own brewhouse before the journal's, and may follow a batch of the journal."""
    known = {one.slug: (one.brewer, one.brewhouse.name if one.brewhouse else "") for one in journal("members").batches}
    assert known == {"tove-1": ("Hanne Orrock", "Ferry"), "fen-1": ("Arne Sile", "Arne's own"), "reed-1": ("wenna", "Ferry")}


def test_not_brewed_yet() -> None:
    """A header alone is no reading, a draft is left out, and folders without a plan are no batches."""
    read = journal("not-brewed-yet")
    assert [(one.slug, one.readings, one.notes.lessons) for one in read.batches] == [("tove-1", (), ())]
    assert read.drafts == ("märzen-2",)


def test_links_within_the_journal_are_followed(tmp_path: Path) -> None:
    """A link to a file, a folder or a batch that stays in the journal is as good as what it leads to."""
    root = good(tmp_path / "journal")
    (root / "house.toml").write_text('name = "Ferry"\n', encoding="utf-8")
    (root / "brewhouses").mkdir()
    (root / "brewhouses" / "ferry.toml").symlink_to("../house.toml")
    (root / "tove-1" / "plan.toml").write_text(PLAN + 'brewhouse = "ferry"\n', encoding="utf-8")
    (root / "tove-2").symlink_to("tove-1")
    (tmp_path / "link").symlink_to("journal")
    for way in (root, tmp_path / "link"):
        assert [(one.slug, one.brewhouse.name if one.brewhouse else "") for one in load(way).batches] == [("tove-1", "Ferry"), ("tove-2", "Ferry")]


def test_hidden_files_and_folders_are_left_alone(tmp_path: Path) -> None:
    """What an editor or a version control hides in the journal, links included, is none of our business."""
    root = good(tmp_path / "journal")
    (root / ".trash").mkdir()
    (root / ".trash" / "plan.toml").write_text("not TOML", encoding="utf-8")
    (root / ".trash" / "link").symlink_to("/etc/hostname")
    (root / "tove-1" / ".#notes.md").symlink_to("hanne@ferry.1234")
    assert [one.slug for one in load(root).batches] == ["tove-1"]
