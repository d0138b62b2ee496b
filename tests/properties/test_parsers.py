"""Parsers never crash, never hang, and what they read doesn't depend on how it was written down."""

import random
import shutil
import tomllib
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator import units
from generator.analysis.report import report
from generator.errors import SLUGS, JournalError
from generator.records import gravity_log, notes, readings
from generator.records.checked import checked
from generator.records.fields import parse_doubt
from generator.records.files import Reader
from generator.records.journal import load
from generator.records.models import Brewhouse, Plan
from generator.records.plan import read_plan
from generator.records.tables import decimal, moment
from generator.records.toml import read as read_toml
from generator.units import Kind, QuantityError

JOURNAL = Path(__file__).resolve().parents[2] / "batches"
BATCH = "2026-03-28-far-bank-1"
FILES = (
    "journal.toml",
    f"{BATCH}/plan.toml",
    f"{BATCH}/readings.csv",
    f"{BATCH}/gravity-log.csv",
    f"{BATCH}/notes.md",
    "brewhouses/ferry-house.toml",
)
LIMITS = settings(deadline=2000, database=None, derandomize=True, suppress_health_check=list(HealthCheck))
QUICK, SLOW, SLOWEST = settings(LIMITS, max_examples=400), settings(LIMITS, max_examples=150), settings(LIMITS, max_examples=6)
KINDS = [*units.KINDS, units.VOLUME_OR_NONE, units.HEAT, units.DURATION_OR_NONE, units.WORT_GRAVITY]

_PIECES = [
    *"0123456789.,;+-eE \t\n\r\"'=[]{}#%/()°CFLµ\x00\x1b\u202e\ufeff１½",
    *(
        "\r\n",
        '"""',
        "[[",
        "]]",
        "kg",
        "lb",
        "oz",
        "gal",
        "SG",
        "°P",
        "°Bx",
        "nan",
        "inf",
        "1e400",
        "9999999999",
        "2026-02-14",
        "09:10",
        "+14:00",
        "true",
    ),
    *(
        "mash",
        "pre-boil",
        "fermenter",
        "gravity",
        "volume",
        "note",
        *readings.COLUMNS,
        *Plan.model_fields,
        "recipe",
        "brewed",
        "name",
        "mass",
        "extract",
    ),
    *("## Lessons\n", "- ", "![x](", "../", "photos/", "[^1]: ", "> "),
]
TEXTS = st.lists(st.one_of(st.sampled_from(_PIECES), st.text(max_size=3)), max_size=40).map("".join)
"""Texts that are made of what parsers look for, and of anything."""
NUMBERS = st.decimals(min_value="0.001", max_value="900", places=3).map(str)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder to write a file in, again and again."""
    return tmp_path_factory.mktemp("parsers")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A journal of one good batch, to be spoilt and mended."""
    root = tmp_path_factory.mktemp("journal")
    for name in FILES:
        (root / name).parent.mkdir(exist_ok=True)
        shutil.copyfile(JOURNAL / name, root / name)
    shutil.copytree(JOURNAL / BATCH / "photos", root / BATCH / "photos")  # which the notes place
    return root


def fits(parse: Callable[[], Any]) -> bool:
    """Whether a parser takes its text; a refusal must have a known slug and words."""
    try:
        parse()
    except QuantityError as error:
        refused = error
    else:
        return True
    assert refused.slug in SLUGS
    assert refused.what
    assert refused.expected
    return False


def safe(text: str) -> bool:
    """Whether a line holds nothing that a terminal obeys, hides or turns around."""
    return {unicodedata.category(character) for character in text}.isdisjoint({"Cc", "Cf", "Cs", "Zl", "Zp"})


def told(reader: Reader, lines: int) -> None:
    """Every problem of a reader lies within the file and prints as one line."""
    for problem in reader.problems:
        assert 1 <= problem.line <= lines
        assert safe(str(problem))


@QUICK
@given(text=TEXTS, kind=st.sampled_from(KINDS))
def test_any_text_is_a_quantity_or_refused(text: str, kind: Kind) -> None:
    """Whatever stands where a quantity should be, the answer is a quantity within its limits or a refusal with a reason."""
    if fits(lambda: units.parse(text, kind)):
        quantity = units.parse(text, kind)
        low, high = kind.limits.get(quantity.unit, (kind.low, kind.high))
        assert low <= quantity.value <= high
    fits(lambda: parse_doubt(text, kind, "L"))


@QUICK
@given(text=TEXTS, gravity=st.booleans())
def test_any_text_is_a_number_and_a_time_or_refused(text: str, gravity: bool) -> None:
    """Whatever stands in a cell, it is a finite number, a time, or refused with a reason."""
    if fits(lambda: decimal(text, gravity=gravity)):
        assert abs(decimal(text, gravity=gravity)[0]) < float("inf")
    fits(lambda: units.number(text))
    fits(lambda: moment(text))


@SLOW
@given(content=st.one_of(TEXTS.map(str.encode), st.binary(max_size=200)))
def test_any_bytes_in_a_file_are_read_or_told(content: bytes, folder: Path) -> None:
    """Whatever bytes a file holds, each parser reads it or tells a problem at a line of it."""
    path = folder / "file"
    path.write_bytes(content)
    lines = content.count(b"\n") + content.count(b"\r") + 1
    parsers: list[Callable[[Reader, Path], object]] = [readings.read, gravity_log.read, notes.read, read_toml, read_plan]
    for parser in parsers:
        reader = Reader(folder)
        parser(reader, path)
        told(reader, lines)


@SLOW
@given(rows=st.lists(st.lists(st.one_of(st.sampled_from(_PIECES), TEXTS), max_size=9), max_size=6), comma=st.sampled_from(",;"))
def test_any_rows_below_a_header_are_read_or_told(rows: list[list[str]], comma: str, folder: Path) -> None:
    """Whatever stands below a good header, rows are read or told."""
    text = "\n".join([comma.join(readings.COLUMNS), *(comma.join(row) for row in rows)])
    (folder / "readings.csv").write_text(text, encoding="utf-8", errors="replace", newline="")
    reader = Reader(folder)
    readings.read(reader, folder / "readings.csv")
    told(reader, text.count("\n") + text.count("\r") + 1)


_KEYS = sorted({key for model in (Plan, Brewhouse) for field in model.model_fields.values() for key in getattr(field.annotation, "model_fields", {})})
_VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(-(10**400), 10**400), st.floats(), TEXTS, st.dates(), st.datetimes()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(_KEYS), inner, max_size=3)),
    max_leaves=8,
)


@SLOW
@given(values=st.dictionaries(st.one_of(st.sampled_from([*Plan.model_fields, *Brewhouse.model_fields]), TEXTS), _VALUES, max_size=6))
def test_any_values_in_a_toml_file_are_read_or_told(values: dict[str, Any], folder: Path) -> None:
    """Whatever values a TOML file holds, of whatever type and size, it is a record or a problem is told."""
    (folder / "plan.toml").write_text("", encoding="utf-8")
    for model in (Plan, Brewhouse):
        reader = Reader(folder)
        file = read_toml(reader, folder / "plan.toml")
        assert file is not None
        file.values.update(values)
        assert (checked(reader, file, model) is None) == bool(reader.problems)
        told(reader, 1)


def _spoilt(content: bytes, dice: random.Random) -> bytes:
    """A file with some of its bytes or lines lost, doubled, swapped or replaced."""
    for _ in range(dice.randint(1, 4)):
        begin, size = dice.randrange(len(content) + 1), dice.choice((0, 1, 5, 60))
        piece = dice.choice((b"", dice.randbytes(2), dice.choice(_PIECES).encode(), content[begin : begin + size] * 2))
        content = content[:begin] + piece + content[begin + size :]
    lines = content.split(b"\n")
    if dice.random() < 0.3:
        dice.shuffle(lines)
    return b"\n".join(lines)


@SLOW
@given(seed=st.integers(0, 2**32), names=st.lists(st.sampled_from(FILES), min_size=1, max_size=3))
def test_spoilt_journal_is_read_or_told(seed: int, names: list[str], copy: Path) -> None:
    """A good journal of which some bytes or lines were lost, doubled or replaced is still read, or all its problems are told."""
    dice = random.Random(seed)
    for name in FILES:
        (copy / name).write_bytes((JOURNAL / name).read_bytes())
    for name in names:
        (copy / name).write_bytes(_spoilt((copy / name).read_bytes(), dice))
    try:
        load(copy)
    except JournalError as error:
        found = error.problems
    else:
        return
    assert found
    assert all(safe(str(problem)) and problem.path in FILES for problem in found)


_SAME = [(kind, alias) for kind in (units.VOLUME, units.MASS, units.DURATION, units.PRESSURE, units.FLOW, units.RETENTION) for alias in kind.aliases]


@QUICK
@given(value=st.floats(0.01, 50.0), pair=st.sampled_from(_SAME))
def test_a_quantity_is_the_same_in_every_unit(value: float, pair: tuple[Kind, str]) -> None:
    """A quantity written in another unit of its kind is the same to twelve digits, and survives going there and back."""
    kind, alias = pair
    factor = units.convert(1.0, kind.unit(alias), kind.canonical)
    wide = Kind(kind.name, kind.canonical, kind.aliases, kind.example, 1e-12, 1e12)
    assert units.parse(f"{value / factor!r} {alias}", wide).value == pytest.approx(value, rel=1e-12)


@QUICK
@given(celsius=st.floats(-9.9, 109.9), alias=st.sampled_from(sorted(units.TEMPERATURE.aliases)))
def test_a_temperature_is_the_same_on_every_scale(celsius: float, alias: str) -> None:
    """A temperature in °F or K is the one in °C, by the definition of the scales."""
    name = units.TEMPERATURE.aliases[alias]
    written = {"degC": celsius, "degF": celsius * 1.8 + 32.0, "kelvin": celsius + 273.15}[name]
    assert units.parse(f"{written!r} {alias}", units.TEMPERATURE).value == pytest.approx(celsius, abs=1e-11)


@QUICK
@given(pounds=st.integers(0, 40), ounces=st.decimals(min_value="0.1", max_value="15.9", places=1))
def test_compound_masses_add_up(pounds: int, ounces: Any) -> None:
    """Pounds with ounces are as many ounces as they hold."""
    together = units.parse(f"{pounds} lb {ounces} oz", units.MASS).value
    assert together == pytest.approx(units.parse(f"{16 * pounds + float(ounces)!r} oz", units.MASS).value, rel=1e-12)


def _figures(root: Path) -> Iterator[tuple[str, float]]:
    """Every figure of the one batch: as measured, planned, and the ends of its interval."""
    (batch,) = load(root).batches
    for key, figure in report(batch).figures.items():
        if figure.plan is not None:
            yield f"{key}.plan", figure.plan
        if figure.measured is not None:
            yield f"{key}.measured", figure.measured.value
            yield f"{key}.low", figure.measured.low
            yield f"{key}.high", figure.measured.high


def _mended(copy: Path) -> None:
    for name in FILES:
        shutil.copyfile(JOURNAL / name, copy / name)


@SLOWEST
@given(seed=st.integers(0, 2**32))
def test_order_of_rows_does_not_matter(seed: int, copy: Path) -> None:
    """Readings that have their times give the same figures in whatever order the rows stand."""
    _mended(copy)
    before = dict(_figures(copy))
    path = copy / BATCH / "readings.csv"
    header, *rows = path.read_text(encoding="utf-8").splitlines()
    random.Random(seed).shuffle(rows)
    path.write_text("\n".join([header, *rows]), encoding="utf-8")
    assert dict(_figures(copy)) == pytest.approx(before, rel=1e-9)


def _written(value: Any) -> str:
    """A value as TOML writes it."""
    match value:
        case bool():
            return str(value).lower()
        case str():
            return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        case list():
            return "[" + ", ".join(map(_written, value)) + "]"
    return str(value)


def _shuffled(values: dict[str, Any], dice: random.Random) -> str:
    """A plan with the same tables and keys in another order; rows of [[tables]] keep theirs."""
    blocks = []
    for name, value in values.items():
        tables = value if isinstance(value, list) else [value]
        head = f"[[{name}]]" if isinstance(value, list) else f"[{name}]"
        for table in tables:
            keys = list(table.items())
            dice.shuffle(keys)
            blocks.append((name, "\n".join([head, *(f"{key} = {_written(inner)}" for key, inner in keys)])))
    order = list(values)
    dice.shuffle(order)
    return "\n".join(block for name in order for owner, block in blocks if owner == name)


@SLOW
@given(seed=st.integers(0, 2**32), path=st.sampled_from(sorted(JOURNAL.glob("*/plan.toml"))))
def test_order_of_keys_does_not_matter(seed: int, path: Path, folder: Path) -> None:
    """A plan whose tables and keys stand in another order is the same plan."""
    original = read_plan(Reader(JOURNAL), path)
    assert original is not None
    text = _shuffled(tomllib.loads(path.read_text(encoding="utf-8")), random.Random(seed))
    (folder / "plan.toml").write_text(text, encoding="utf-8")
    other = read_plan(Reader(folder), folder / "plan.toml")
    assert other is not None
    assert other[0] == original[0]
