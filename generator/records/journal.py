"""A journal folder: settings, brewhouses and batches, read and checked as a whole."""

import difflib
import re
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import JournalError, Problem, nearest, shown
from generator.records import gravity_log, notes, readings
from generator.records.checked import checked
from generator.records.files import Reader
from generator.records.gravity_log import LogRow
from generator.records.models import Brewhouse, JournalSettings, Member, Plan
from generator.records.notes import NO_NOTES, Notes
from generator.records.plan import read_plan
from generator.records.readings import Reading
from generator.records.toml import TomlFile, read

_UNFIT = re.compile(r'[\x00-\x1f\x7f<>:"|?*\\#%&]')


@dataclass(frozen=True)
class BatchRecord:
    """One batch as its brewer wrote it down."""

    slug: str
    folder: Path
    brewer: str
    plan: Plan
    plan_file: TomlFile
    brewhouse: Brewhouse | None
    readings: tuple[Reading, ...] = ()
    log: tuple[LogRow, ...] = ()
    notes: Notes = NO_NOTES

    @property
    def readings_path(self) -> str:
        """readings.csv relative to the journal."""
        return (Path(self.plan_file.path).parent / "readings.csv").as_posix()


@dataclass(frozen=True)
class Journal:
    """A whole journal, without a fault."""

    root: Path
    settings: JournalSettings
    batches: tuple[BatchRecord, ...]
    """In the order of their slugs; drafts are left out."""
    drafts: tuple[str, ...] = field(default=())


def load(root: Path) -> Journal:
    """Read a journal folder.

    Raises:
        JournalError: with every problem of every file.
    """
    reader = Reader(root)
    if not root.is_dir():
        raise JournalError([Problem(root.name or ".", 1, "the journal folder isn't there", "expected a folder with a journal.toml", "missing-file")])
    settings = _settings(reader)
    houses = _brewhouses(reader, root / "brewhouses")
    seen: set[str] = set()
    batches = _batches(reader, root, seen, settings.brewer if settings else "", houses)
    for member in _folders(reader, root / "members"):
        batches += _member_batches(reader, member, seen, houses)
    _check_slugs(reader, batches)
    _check_follows(reader, batches, seen)
    if not batches and not reader.problems:
        reader.problem(
            root / "journal.toml", 1, "the journal holds no batch", "expected folders with a plan.toml beside this file", "nothing-to-build"
        )
    if reader.problems or settings is None:
        raise JournalError(reader.problems)
    published = tuple(sorted((batch for batch in batches if not batch.plan.batch.draft), key=lambda batch: batch.slug))
    return Journal(root, settings, published, tuple(sorted(batch.slug for batch in batches if batch.plan.batch.draft)))


def _settings(reader: Reader) -> JournalSettings | None:
    path = reader.root / "journal.toml"
    if not reader.exists(path):
        reader.problem(path, 1, "the file is missing", 'expected it to hold at least title = "..."', "missing-file")
        return None
    file = read(reader, path)
    return checked(reader, file, JournalSettings) if file else None


def _folders(reader: Reader, parent: Path) -> list[Path]:
    """The folders in a folder, by name; links that leave the journal are Problems."""
    if not reader.exists(parent):
        return []
    if not reader.inside(parent):
        return []
    if not parent.is_dir():
        reader.problem(parent, 1, "this is not a folder", "expected a folder", "not-a-file")
        return []
    found = []
    for path in sorted(parent.iterdir(), key=lambda path: path.name):
        if path.name.startswith("."):
            continue
        if path.is_symlink() and not reader.inside(path):
            continue
        if path.is_dir():
            found.append(path)
    return found


def _brewhouses(reader: Reader, folder: Path) -> dict[str, Brewhouse | None]:
    """Brewhouses by id; None for one that can't be read, so that its batches don't fail twice."""
    houses: dict[str, Brewhouse | None] = {}
    if not reader.exists(folder) or not reader.inside(folder) or not folder.is_dir():
        return houses
    for path in sorted(folder.glob("*.toml"), key=lambda path: path.name):
        file = read(reader, path)
        houses[path.stem] = checked(reader, file, Brewhouse) if file else None
    return houses


def _member_batches(reader: Reader, folder: Path, seen: set[str], houses: dict[str, Brewhouse | None]) -> list[BatchRecord]:
    name = folder.name
    path = folder / "member.toml"
    if reader.exists(path):
        file = read(reader, path)
        member = checked(reader, file, Member) if file else None
        name = member.name if member else name
    return _batches(reader, folder, seen, name, {**houses, **_brewhouses(reader, folder / "brewhouses")})


def _batches(reader: Reader, parent: Path, seen: set[str], brewer: str, houses: dict[str, Brewhouse | None]) -> list[BatchRecord]:
    """The readable batches of a folder; `seen` gains the slugs of all of them, so that a faulty plan causes no second fault."""
    found = []
    for folder in _folders(reader, parent):
        if reader.exists(folder / "plan.toml"):
            seen.add(folder.name)
            batch = _batch(reader, folder, brewer, houses)
            if batch:
                found.append(batch)
    return found


def _batch(reader: Reader, folder: Path, brewer: str, houses: dict[str, Brewhouse | None]) -> BatchRecord | None:
    if _UNFIT.search(folder.name) or folder.name.endswith((" ", ".")):
        reader.problem(folder / "plan.toml", 1, f"'{shown(folder.name)}' can't name a page", "expected letters, digits, - and _", "folder-name")
    planned = read_plan(reader, folder / "plan.toml")
    rows = readings.read(reader, folder / "readings.csv") if reader.exists(folder / "readings.csv") else ()
    log = gravity_log.read(reader, folder / "gravity-log.csv") if reader.exists(folder / "gravity-log.csv") else ()
    story = notes.read(reader, folder / "notes.md") if reader.exists(folder / "notes.md") else NO_NOTES
    if reader.exists(folder / "photos"):
        reader.inside(folder / "photos")
    if planned is None:
        return None
    plan, file = planned
    wanted = plan.batch.brewhouse
    if wanted is not None and wanted not in houses:
        reader.problem(
            folder / "plan.toml", file.line("batch", "brewhouse"), f"the brewhouse '{shown(wanted)}' isn't in brewhouses/",
            nearest(wanted, tuple(sorted(houses))) if houses else f"expected a file brewhouses/{shown(wanted)}.toml", "unknown-brewhouse",
        )  # fmt: skip
    return BatchRecord(folder.name, folder, brewer, plan, file, houses.get(wanted) if wanted else None, rows, log, story or NO_NOTES)


def _check_slugs(reader: Reader, batches: list[BatchRecord]) -> None:
    """Two batches of one slug, also where a file system or a host would take two names for one."""
    first: dict[str, BatchRecord] = {}
    for batch in batches:
        key = unicodedata.normalize("NFC", batch.slug).casefold()
        if key not in first:
            first[key] = batch
            continue
        other = first[key]
        exact = other.slug == batch.slug
        reader.problem(
            batch.folder / "plan.toml", 1, f"the batch '{shown(batch.slug)}' {'stands twice' if exact else 'clashes'}: see {other.plan_file.path}",
            "expected every batch folder to have a name of its own", "duplicate-slug" if exact else "name-clash",
        )  # fmt: skip


def _check_follows(reader: Reader, batches: list[BatchRecord], seen: set[str]) -> None:
    by_slug = {batch.slug: batch for batch in batches}
    for batch in batches:
        follows = batch.plan.batch.follows
        if follows is None:
            continue
        path, line = batch.folder / "plan.toml", batch.plan_file.line("batch", "follows")
        if follows not in seen:
            close = difflib.get_close_matches(follows, sorted(seen), n=1, cutoff=0.5)
            hint = f"did you mean '{close[0]}'?" if close else "expected the folder name of a batch"
            reader.problem(path, line, f"no batch is called '{shown(follows)}'", hint, "unknown-follows")
        elif _circular(batch, by_slug):
            reader.problem(path, line, "the batch follows itself, be it over others", "expected a batch brewed before", "circular-follows")


def _circular(batch: BatchRecord, by_slug: dict[str, BatchRecord]) -> bool:
    seen = {batch.slug}
    current: BatchRecord | None = batch
    while current is not None and current.plan.batch.follows is not None:
        if current.plan.batch.follows == batch.slug:
            return True
        if current.plan.batch.follows in seen:
            return False
        seen.add(current.plan.batch.follows)
        current = by_slug.get(current.plan.batch.follows)
    return False
