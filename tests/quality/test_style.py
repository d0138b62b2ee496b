"""Style, types and layers hold, for a contributor who only runs the tests."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
CHECKS = {
    "ruff check": [sys.executable, "-m", "ruff", "check", "--no-cache", "--output-format=concise", "."],
    "ruff format": [sys.executable, "-m", "ruff", "format", "--no-cache", "--check", "--diff", "."],
    "mypy --strict": [sys.executable, "-m", "mypy", "--strict", "generator"],
    "lint-imports": [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"],
}


@pytest.mark.parametrize("name", CHECKS)
def test_check_is_clean(name: str) -> None:
    """The check passes on the whole repository; if it doesn't, its output says why."""
    ran = subprocess.run(CHECKS[name], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, f"{name}\n{ran.stdout}\n{ran.stderr}"
