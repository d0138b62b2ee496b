"""A journal folder: settings, brewhouses and batches, read and checked as a whole."""

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import JournalError, Problem, nearest, printable, shown
from generator.records import gravity_log, notes, photos, readings
from generator.records.checked import checked
from generator.records.files import Reader
from generator.records.gravity_log import LogRow
from generator.records.models import Brewhouse, JournalSettings, Member, Plan
from generator.records.notes import NO_NOTES, Notes
from generator.records.photos import Photo
from generator.records.plan import read_plan
from generator.records.readings import Reading
from generator.records.toml import TomlFile, read

_UNFIT = frozenset('<>:"|?*\\#%&')
_SHEET = "-sheet"
"""What the name of a page gains to name the brew sheet beside it."""
Brewhouses = dict[str, "Brewhouse | None"]
"""Brewhouses by id; None for one that can't be read, so that its batches don't fail twice."""


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
    photos: tuple[Photo, ...] = ()

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


def load(root: Path, further: Callable[[BatchRecord], list[Problem]] = lambda _batch: []) -> Journal:
    """Read a journal folder.

    Args:
        root: the folder.
        further: finds problems that the files of a batch don't show by themselves.

    Raises:
        JournalError: with every problem of every file.
    """
    reader = Reader(root)
    if not root.is_dir():
        raise JournalError([Problem(root.name or ".", 1, "the journal folder isn't there", "expected a folder with a journal.toml", "missing-file")])
    reader.links()
    settings = _settings(reader)
    houses = _brewhouses(reader, root / "brewhouses")
    seen: list[Path] = []
    batches = _batches(reader, root, seen, settings.brewer if settings else "", houses)
    for member in _folders(reader, root / "members"):
        batches += _member_batches(reader, member, seen, houses)
    _check_slugs(reader, seen)
    _check_follows(reader, batches, {folder.name for folder in seen})
    for batch in batches:
        if batch.brewhouse is not None or batch.plan.batch.brewhouse is None:
            reader.problems += further(batch)
    if not seen and not reader.problems:
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
    return [path for path in reader.entries(parent) if path.is_dir() and (not path.is_symlink() or reader.inside(path))]


def _brewhouses(reader: Reader, folder: Path) -> Brewhouses | None:
    """The brewhouses of a folder; None where the folder can't be had, so that no batch fails for that."""
    before = len(reader.problems)
    paths = [path for path in reader.entries(folder) if path.suffix == ".toml"]
    if not paths and len(reader.problems) > before:
        return None
    files = {path.stem: read(reader, path) for path in paths}
    return {name: checked(reader, file, Brewhouse) if file else None for name, file in files.items()}


def _member_batches(reader: Reader, folder: Path, seen: list[Path], houses: Brewhouses | None) -> list[BatchRecord]:
    name = folder.name
    path = folder / "member.toml"
    if reader.exists(path):
        file = read(reader, path)
        member = checked(reader, file, Member) if file else None
        name = member.name if member else name
    own = _brewhouses(reader, folder / "brewhouses")
    return _batches(reader, folder, seen, name, None if houses is None or own is None else houses | own)


def _batches(reader: Reader, parent: Path, seen: list[Path], brewer: str, houses: Brewhouses | None) -> list[BatchRecord]:
    """The readable batches of a folder; `seen` gains all of them, so that a faulty plan neither causes a fault nor hides one."""
    found = []
    for folder in _folders(reader, parent):
        names = {path.name for path in reader.entries(folder)}
        if "plan.toml" in names:
            seen.append(folder)
            batch = _batch(reader, folder, brewer, houses)
            if batch:
                found.append(batch)
        elif "readings.csv" in names:
            reader.problem(folder / "plan.toml", 1, "readings.csv lies here without a plan", "expected a plan.toml beside it", "missing-file")
    return found


def _batch(reader: Reader, folder: Path, brewer: str, houses: Brewhouses | None) -> BatchRecord | None:
    if _UNFIT.intersection(folder.name) or folder.name.endswith((" ", ".", ".html", ".json")) or printable(folder.name) != folder.name:
        reader.problem(folder / "plan.toml", 1, f"'{shown(folder.name)}' can't name a page", "expected letters, digits, - and _", "folder-name")
    planned = read_plan(reader, folder / "plan.toml")
    rows = readings.read(reader, folder / "readings.csv") if reader.exists(folder / "readings.csv") else ()
    brewed = planned[0].batch.brewed if planned else None
    log = gravity_log.read(reader, folder / "gravity-log.csv", brewed) if reader.exists(folder / "gravity-log.csv") else ()
    story = notes.read(reader, folder / "notes.md") if reader.exists(folder / "notes.md") else NO_NOTES
    pictures = photos.read(reader, folder, story.photos if story else ())
    if planned is None:
        return None
    plan, file = planned
    wanted = plan.batch.brewhouse
    if wanted is not None and houses is not None and wanted not in houses:
        reader.problem(
            folder / "plan.toml", file.line("batch", "brewhouse"), f"the brewhouse '{shown(wanted)}' isn't in brewhouses/",
            nearest(wanted, sorted(houses)) if houses else f"expected a file brewhouses/{shown(wanted)}.toml", "unknown-brewhouse",
        )  # fmt: skip
    house = houses.get(wanted) if houses and wanted else None
    return BatchRecord(folder.name, folder, brewer, plan, file, house, rows, log, story or NO_NOTES, pictures)


def _check_slugs(reader: Reader, folders: list[Path]) -> None:
    """Two batches of one slug, also where a file system or a host would take two names for one, or one for the brew sheet of another."""
    first: dict[str, Path] = {}
    for folder in folders:
        other = first.setdefault(_page_name(folder), folder)
        if other is not folder:
            same = other.name == folder.name
            what = f"the batch '{shown(folder.name)}' {'stands twice' if same else 'clashes'}: see {reader.relative(other)}"
            expected = "expected every batch folder to have a name of its own"
            reader.problem(folder / "plan.toml", 1, what, expected, "duplicate-slug" if same else "name-clash")
    for folder in folders:
        other = first.get(_page_name(folder).removesuffix(_SHEET), folder)
        if other is not folder and _page_name(folder).endswith(_SHEET):
            what = f"the batch '{shown(folder.name)}' has the name of the brew sheet of {reader.relative(other)}"
            reader.problem(folder / "plan.toml", 1, what, f"expected a name that doesn't end in {_SHEET}", "name-clash")


def _page_name(folder: Path) -> str:
    """The name of a batch's page as a file system that minds neither case nor composition sees it."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", folder.name).casefold())


def _check_follows(reader: Reader, batches: list[BatchRecord], seen: set[str]) -> None:
    by_slug = {batch.slug: batch for batch in batches}
    for batch in batches:
        follows = batch.plan.batch.follows
        if follows is None:
            continue
        path, line = batch.folder / "plan.toml", batch.plan_file.line("batch", "follows")
        if follows not in seen:
            others = sorted(seen - {batch.slug})
            hint = nearest(follows, others) if others else "expected the folder name of another batch"
            reader.problem(path, line, f"no batch is called '{shown(follows)}'", hint, "unknown-follows")
        elif _circular(batch, by_slug):
            reader.problem(path, line, "the batch follows itself, be it by way of others", "expected a batch brewed before it", "circular-follows")


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
