"""Measure a cold build: `python -m tests.benchmarks.build --batches 30`.

A journal is made up from a seed and built by a fresh process, as a user would; the best of so many runs counts. Nothing
here passes or fails.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.journals import generated


def measured(journal: Path, out: Path) -> dict[str, float]:
    """Build in this process; seconds by stage, peak memory in MB."""
    import resource

    clock = time.perf_counter
    marks = {"start": clock()}
    from generator.build import build

    marks["imported"] = clock()

    @contextmanager
    def step(name: str, _steps: int) -> Iterator[Callable[[], None]]:
        marks[f"{name} begins"] = clock()
        yield lambda: None
        marks[f"{name} ends"] = clock()

    built = build(journal, out, step)
    ended = clock()
    return {
        "import": marks["imported"] - marks["start"],
        "read and check": marks["Computing begins"] - marks["imported"],
        "compute": marks["Computing ends"] - marks["Computing begins"],
        "draw and render": marks["Drawing and writing ends"] - marks["Drawing and writing begins"],
        "publish": ended - marks["Drawing and writing ends"],
        "pages": built.pages,
        "peak memory, MB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def cold(journal: Path, out: Path) -> float:
    """Seconds of the command itself, from an empty place, interpreter start included."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-m", "generator", "build", str(journal), "--out", str(out), "--quiet"], check=True)
    return time.perf_counter() - begun


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description="Measure a cold build of a made-up journal.")
    parser.add_argument("--batches", type=int, default=30)
    parser.add_argument("--runs", type=int, default=3, help="the fastest counts")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--worker", nargs=2, metavar=("JOURNAL", "OUT"), help=argparse.SUPPRESS)
    wanted = parser.parse_args()
    if wanted.worker:
        print(json.dumps(measured(Path(wanted.worker[0]), Path(wanted.worker[1]))))
        return
    with tempfile.TemporaryDirectory() as folder:
        journal = generated(Path(folder) / "journal", wanted.batches, wanted.seed)
        whole = min(cold(journal, Path(folder) / f"cold-{run}") for run in range(wanted.runs))
        worker = [sys.executable, "-m", "tests.benchmarks.build", "--worker", str(journal), str(Path(folder) / "site")]
        stages: dict[str, float] = json.loads(subprocess.run(worker, check=True, capture_output=True, text=True).stdout)
    rows = {"cold build, s": whole, "per batch, s": whole / wanted.batches}
    rows |= {name if name.startswith(("pages", "peak")) else f"  {name}, s": value for name, value in stages.items()}
    print(f"{wanted.batches} batches, best of {wanted.runs}")
    for name, value in rows.items():
        print(f"{name:<22} {value:>9.0f}" if name.startswith(("pages", "peak")) else f"{name:<22} {value:>9.2f}")


if __name__ == "__main__":
    main()
