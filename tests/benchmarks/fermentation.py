"""Measure a logger of 100,000 rows, read, understood and drawn: `python -m tests.benchmarks.fermentation`. Nothing passes or fails."""

import argparse
import resource
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import numpy as np

from generator.analysis.course import Course, course
from generator.analysis.plan_view import PlanView
from generator.charts import attenuation, fermentation
from generator.charts.chart import Chart
from generator.pages import fermentation_view
from generator.records import gravity_log
from generator.records.files import Reader
from tests.unit.analysis.ferments import START, Sensor, by_hand, falling, hours_of, logged
from tests.unit.analysis.support import batch, brewhouse, plan

Result = TypeVar("Result")
TRUTH = falling(1.055, 1.012, 45.0, 0.1)


def written(path: Path, rows: int) -> None:
    """A fortnight's log of so many rows."""
    sensor = Sensor(minutes=14.0 * 1440.0 / rows, spikes=200, gaps=((200.0, 205.0),), drift=2e-4)
    lines = ["time,gravity,temperature"]
    lines += [
        f"{row.time:%Y-%m-%d %H:%M:%S},{row.gravity:.4f},{row.temperature:.1f}" for row in logged(TRUTH, 14.0, sensor, np.random.default_rng(1))
    ]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def timed(name: str, runs: int, work: Callable[[], Result]) -> Result:
    """Print the best time of so many runs: of the processor, so that other work of the machine does not count."""
    best = float("inf")
    for _ in range(runs):
        begun = time.process_time()
        result = work()
        best = min(best, time.process_time() - begun)
    print(f"{name:<32} {best:>8.3f} s")
    return result


def drawn(course: Course) -> tuple[Chart, Chart]:
    """The charts of gravity and of its rate."""
    curves = fermentation_view.curves(course, None)
    pace = fermentation_view.pace(course, curves)
    if pace is None:
        raise SystemExit("no rate was found")
    return fermentation.draw(curves, ""), attenuation.draw(pace, "")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measure a long log.")
    parser.add_argument("--rows", type=int, default=100_000)
    parser.add_argument("--runs", type=int, default=3, help="the fastest counts")
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "gravity-log.csv"
        written(path, wanted.rows)
        rows = timed("read", wanted.runs, lambda: gravity_log.read(Reader(Path(folder)), path, START.date()))
    readings = by_hand(TRUTH, hours_of(14.0, every=2.0), 0.0006, np.random.default_rng(2))
    planned = plan(yeast={"attenuation": "78 %"})
    record = replace(batch(planned, readings), log=rows)
    view = PlanView(planned, brewhouse())
    found = timed("understand", wanted.runs, lambda: course(record, view))
    if found is None or found.logger is None:
        raise SystemExit("no course was found")
    charts = timed("draw, both charts in two widths", wanted.runs, lambda: drawn(found))
    for chart in charts:
        sizes = " + ".join(f"{len(one.body.encode()) / 1000:.1f}" for one in (chart.wide, chart.narrow))
        print(f"{'SVG of ' + chart.name:<32} {sizes:>16} kB")
    tracemalloc.start()
    course(record, view)
    print(f"{'rows':<32} {len(rows):>8}\n{'allocated while understanding':<32} {tracemalloc.get_traced_memory()[1] / 1e6:>7.0f} MB")
    print(f"{'peak of the process':<32} {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:>8.0f} MB")
    print(f"state: {found.state.words}; {found.state.why}")


if __name__ == "__main__":
    main()
