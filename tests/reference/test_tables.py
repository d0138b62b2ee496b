"""Every reference table against the functions, and no function without a reference."""

import importlib
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.reference.checks import CHECKS
from tests.reference.runner import FOLDER, Check, complaint, read, run
from tests.reference.science import marked, public_functions, short_name

TABLES = sorted(path.stem for path in FOLDER.glob("*.csv"))


def _unique(lines: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(lines))


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: str(check.name))
def test_column_of_a_table(check: Check) -> None:
    """The function gives the column within the tolerance, in every row and in one at least."""
    comparisons = run(check)
    assert comparisons, f"no row of {check.table}.csv is compared"
    wrong = [complaint(check, comparison) for comparison in comparisons if not comparison.holds]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", TABLES)
def test_table_says_what_is_checked(name: str) -> None:
    """The source stands in the first line; the second names the functions and tolerances of the list, so it can't drift."""
    table = read(name)
    assert table.source
    assert table.checked == _unique(check.statement for check in CHECKS if check.table == name), "and every table is used"


def test_checks_have_names_of_their_own() -> None:
    """No check hides behind another of the same name."""
    names = [check.name for check in CHECKS]
    assert len(set(names)) == len(names)


def test_table_without_source_is_refused(tmp_path: Path) -> None:
    """A table that doesn't name its source can't be read."""
    (tmp_path / "plain.csv").write_text("t_C,rho\n20,998.2\n", "utf-8")
    with pytest.raises(ValueError, match="line 1 must say '# source: "):
        read("plain", folder=tmp_path)


def test_every_function_has_an_independent_check() -> None:
    """A public function of the science layer without a table, a library or a worked example is a fault."""
    covered = {short_name(check.function) for check in CHECKS}
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        covered |= marked(importlib.import_module(f"tests.reference.{path.stem}"))
    assert not set(public_functions()) - covered
