"""What several kinds of tests share: the demo site, built once, and a way to build any other journal."""

import fcntl
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

from generator.build import build

settings.register_profile("untimed", deadline=None)  # speed is measured in tests/benchmarks, never asserted
settings.load_profile("untimed")

DEMO = Path(__file__).resolve().parents[1] / "batches"


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the demo journal; the workers of pytest-xdist share one."""
    base = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        base = base.parent
    site = base / "demo-site"
    with (base / "demo-site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not site.exists():
            build(DEMO, site)
    return site


@pytest.fixture
def make_site(tmp_path: Path) -> Callable[[dict[str, str]], Path]:
    """Builds the site of a journal given as its files: path to text."""

    def make(files: dict[str, str]) -> Path:
        journal = tmp_path / "journal"
        for name, text in files.items():
            path = journal / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        build(journal, tmp_path / "site")
        return tmp_path / "site"

    return make
