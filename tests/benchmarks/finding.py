"""Measure what leads to the batches of a large journal: `python -m tests.benchmarks.finding --batches 500`.

A journal is made up from a seed, with stories of real English: the texts on Python's own language that come with it. Prints
the bytes of each page that leads to batches, before and after gzip, and of the index of words. Nothing here passes or fails.
"""

import argparse
import gzip
import pydoc_data.topics as english
import re
import tempfile
import time
from pathlib import Path

from generator.analysis.report import report
from generator.build import check
from generator.pages import lists, search
from generator.pages.render import render
from generator.pages.site_map import SiteMap, order
from tests.benchmarks.journals import generated


def stories(count: int, words: int = 600) -> list[str]:
    """So many stories of so many words with two lessons each; no two share a sentence as long as there is text for them."""
    text = re.findall(r"[A-Za-z']+[.,]?", " ".join(english.topics.values()))
    found = []
    for number in range(count):
        start = number * words % (len(text) - words)
        taken = text[start : start + words]
        found.append(f"## Brew day\n\n{' '.join(taken[:-40])}\n\n## Lessons\n\n- {' '.join(taken[-40:-20])}\n- {' '.join(taken[-20:])}\n")
    return found


def sizes(journal: Path) -> None:
    """Print the bytes of pages and of the index, and the seconds that both took to make."""
    read = check(journal)
    site = SiteMap(read.settings, order([report(batch, read.settings) for batch in read.batches]))
    begun = time.perf_counter()
    files = {path: render(page).encode() for path, page in {"index.html": lists.index_page(site), **lists.finding_pages(site)}.items()}
    files[search.INDEX] = search.index(site).encode()
    spent = time.perf_counter() - begun
    print(f"{'':<34}{'bytes':>9}{'gzip':>9}")
    for path, content in files.items():
        print(f"{path:<34}{len(content):>9}{len(gzip.compress(content, mtime=0)):>9}")
    print(f"{'seconds':<34}{spent:>9.2f}")


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description="Measure the pages that lead to the batches of a made-up journal.")
    parser.add_argument("--batches", type=int, default=500)
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        journal = generated(Path(folder) / "journal", wanted.batches)
        for path, story in zip(sorted(journal.glob("2*/notes.md")), stories(wanted.batches), strict=True):
            path.write_text(story, encoding="utf-8")
        sizes(journal)


if __name__ == "__main__":
    main()
