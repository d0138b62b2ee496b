"""The fixed journals and what is kept of their sites: whole pages and the data of each batch."""

import tempfile
from pathlib import Path

from generator.build import build

HERE = Path(__file__).parent
EXPECTED = HERE / "expected"
JOURNALS = sorted(path.name for path in (HERE / "journals").iterdir())
KEPT = ("index.html", "lessons.html", "recipes/*.html", "batches/*.html", "batches/*.json")
"""Not the methods and safety pages, which are the same for every journal and change with the code they describe."""


def built(journal: str) -> dict[str, str]:
    """The kept files of a journal's site, made now: path to text."""
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        build(HERE / "journals" / journal, site)
        return {path.relative_to(site).as_posix(): path.read_text(encoding="utf-8") for pattern in KEPT for path in sorted(site.glob(pattern))}


def expected(journal: str) -> dict[str, str]:
    """The same files as they were accepted."""
    root = EXPECTED / journal
    return {path.relative_to(root).as_posix(): path.read_text(encoding="utf-8") for path in sorted(root.rglob("*")) if path.is_file()}
