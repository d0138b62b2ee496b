"""One batch of a journal, by its slug or by the path of its folder."""

from dataclasses import dataclass, replace
from pathlib import Path

from generator.analysis.report import problems
from generator.errors import Problem, nearest, shown
from generator.records.checked import checked
from generator.records.files import Reader
from generator.records.journal import BatchRecord, Journal, load
from generator.records.models import Brewhouse
from generator.records.toml import read

_MEMBERS = "members"


class NoSuchBatchError(LookupError):
    """The journal has no batch of that name; the text names the nearest."""


@dataclass(frozen=True)
class Found:
    """A batch and the journal that it stands in."""

    root: Path
    batch: BatchRecord
    slugs: tuple[str, ...]
    """Of all batches of the journal, drafts and members' batches included."""
    journal: Journal
    """Without its drafts."""

    @property
    def plan_path(self) -> Path:
        """The file of the plan."""
        return self.batch.folder / "plan.toml"

    @property
    def unread(self) -> BatchRecord:
        """The batch before its brew day: without a reading."""
        return replace(self.batch, readings=(), log=())

    def brewhouse(self, reader: Reader, name: str) -> tuple[Brewhouse | None, list[str]]:
        """A brewhouse by its name, the member's own before the journal's, and the names that there are."""
        names: list[str] = []
        for folder in dict.fromkeys((self.batch.folder.parent / "brewhouses", self.root / "brewhouses")):
            known = {path.stem: path for path in reader.entries(folder) if path.suffix == ".toml"}
            names += known
            file = read(reader, known[name]) if name in known else None
            if file is not None:
                return checked(reader, file, Brewhouse), names
        return None, names


def is_batch_folder(path: Path) -> bool:
    """Whether a path leads to the folder of a batch."""
    return (path / "plan.toml").is_file()


def journal_of(folder: Path) -> Path:
    """The journal that a batch folder lies in, as its own or as a member's."""
    parent = folder.resolve().parent
    return parent.parent.parent if parent.parent.name == _MEMBERS else parent


def find(root: Path, name: str) -> Found:
    """A batch of a journal, a draft too; the whole journal is read and checked.

    Args:
        root: the journal folder.
        name: slug of the batch, or the path of its folder.

    Raises:
        JournalError: the journal has problems.
        NoSuchBatchError: none of its batches is called so.
    """
    batches: list[BatchRecord] = []

    def further(batch: BatchRecord) -> list[Problem]:
        batches.append(batch)
        return problems(batch)

    journal = load(root, further)
    slugs = tuple(sorted(batch.slug for batch in batches))
    folder = Path(name).resolve() if is_batch_folder(Path(name)) else None
    for batch in batches:
        if batch.slug == name if folder is None else batch.folder.resolve() == folder:
            return Found(root, batch, slugs, journal)
    raise NoSuchBatchError(f"no batch '{shown(name)}' in this journal; {_near(name, slugs)}")


def _near(name: str, slugs: tuple[str, ...]) -> str:
    """The batch that was probably meant: the last one with that name in its slug, else the nearest."""
    within = [slug for slug in slugs if name.strip() and name.strip().casefold() in slug.casefold()]
    return nearest(within[-1] if within else name, slugs)
