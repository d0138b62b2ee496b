"""Take the pages as they are now for right: `python -m tests.golden.accept`, then read the diff before committing it."""

import shutil

from tests.golden.pages import EXPECTED, JOURNALS, built


def main() -> None:
    """Write the expected pages anew."""
    for journal in JOURNALS:
        shutil.rmtree(EXPECTED / journal, ignore_errors=True)
        for name, text in built(journal).items():
            path = EXPECTED / journal / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            print(path.relative_to(EXPECTED.parent))


if __name__ == "__main__":
    main()
