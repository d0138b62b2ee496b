"""Every way of being wrong, with the whole of what `check` says about it: what, where, what was expected, and its slug."""

import re
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.errors import SLUGS
from tests.cases.made import MADE, good

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
BAD = sorted(path.name for path in (HERE / "bad").iterdir())
IN_A_PROCESS = ("every-fault-at-once", "terminal-escapes", "no-journal-toml")
SECONDS = 10.0
_SLUG = re.compile(r"\[([a-z0-9-]+)\]$", re.MULTILINE)
_LINE = re.compile(r".+?:[1-9]\d*: .+; .+ \[[a-z0-9-]+\]")


def check(journal: Path) -> Result:
    """What `check` does with a journal, in this process."""
    return CliRunner().invoke(main, ["check", str(journal)])


def expected(name: str) -> str:
    """The whole stderr that a bad case must give."""
    return (HERE / "bad" / name / "expected.txt").read_text(encoding="utf-8")


def counted(lines: list[str]) -> str:
    """The lines of problems with the line that counts them."""
    return "".join(f"{line}\n" for line in [*lines, f"{len(lines)} problem{'s' if len(lines) > 1 else ''}; nothing was published"])


@pytest.mark.parametrize("name", BAD)
def test_bad_journal_is_told_all_that_is_wrong(name: str) -> None:
    """The output is the expected one to the letter, the status is 1, and stdout stays empty."""
    result = check(HERE / "bad" / name)
    assert result.stderr == expected(name)
    assert result.stdout == ""
    assert result.exit_code == 1


@pytest.mark.parametrize("name", BAD)
def test_expected_output_has_the_promised_form(name: str) -> None:
    """Each line is path:line: what; expected [slug] with a known slug, sorted by place, none twice, and the last line counts them."""
    *lines, last = expected(name).splitlines()
    assert all(_LINE.fullmatch(line) for line in lines)
    assert set(_SLUG.findall(expected(name))) <= set(SLUGS)
    assert len(set(lines)) == len(lines)
    places = [(line.split(":")[0], int(line.split(":")[1])) for line in lines]
    assert places == sorted(places)
    assert last == counted(lines).splitlines()[-1]


@pytest.mark.parametrize("name", IN_A_PROCESS)
def test_bad_journal_in_a_process_of_its_own(name: str) -> None:
    """`python -m generator check` prints the same bytes to stderr, nothing to stdout, no traceback, and exits with 1."""
    command = [sys.executable, "-m", "generator", "check", str(HERE / "bad" / name)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, timeout=60, check=False)
    assert done.stderr.decode() == expected(name)
    assert done.stdout == b""
    assert done.returncode == 1


def test_bad_journal_builds_nothing(tmp_path: Path) -> None:
    """`build` prints the same problems, and makes no site."""
    result = CliRunner().invoke(main, ["build", str(HERE / "bad" / "every-fault-at-once"), "--out", str(tmp_path / "site")])
    assert (result.stderr, result.exit_code) == (expected("every-fault-at-once"), 1)
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize("name", MADE)
def test_made_journal_is_told_all_that_is_wrong(name: str, tmp_path: Path) -> None:
    """What no folder under version control can hold is told to the letter as well, and within ten seconds."""
    journal = good(tmp_path / "journal")
    lines = MADE[name](journal)
    begun = time.monotonic()
    result = check(journal)
    assert time.monotonic() - begun < SECONDS
    assert result.stderr == counted(lines)
    assert (result.stdout, result.exit_code) == ("", 1)


def test_journal_behind_the_made_ones_is_good(tmp_path: Path) -> None:
    """What the made journals say comes from what was spoilt: the journal they start from has no fault."""
    assert check(good(tmp_path / "journal")).exit_code == 0


def test_long_input_is_quoted_short_and_paths_whole(tmp_path: Path) -> None:
    """An endless value is cut in the message; the path of the file never is."""
    journal = good(tmp_path / "journal")
    MADE["long-paths"](journal)
    plan = journal / "tove-1" / "plan.toml"
    plan.write_text(plan.read_text(encoding="utf-8") + f'follows = "{"z" * 500}"\n', encoding="utf-8")
    text = check(journal).stderr
    assert "z" * 79 + "…'" in text
    assert "z" * 80 not in text
    assert text.startswith("a-very-long-name-of-a-batch-" * 4 + "/plan.toml:4: ")


@pytest.mark.parametrize("name", [*BAD, *MADE])
def test_nothing_is_printed_raw_that_a_terminal_obeys(name: str, tmp_path: Path) -> None:
    """No escape sequence, control, bidi or invisible character of the input comes through, in any case."""
    journal = HERE / "bad" / name
    if name in MADE:
        journal = good(tmp_path / "journal")
        MADE[name](journal)
    text = check(journal).stderr
    assert all(character == "\n" or character.isprintable() for character in text)


def test_every_slug_has_a_case(tmp_path: Path) -> None:
    """Every slug that the program knows is shown by at least one journal."""
    shown = {slug for name in BAD for slug in _SLUG.findall(expected(name))}
    for name, maker in MADE.items():
        shown |= set(_SLUG.findall(counted(maker(good(tmp_path / name / "journal")))))
    assert sorted(set(SLUGS) - shown) == []


@pytest.mark.parametrize("slug", SLUGS)
def test_every_slug_is_explained(slug: str) -> None:
    """The guide for contributors explains each slug, as a heading or in a row of a table."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert re.search(rf"^(?:#+ |\| *)`{slug}`", guide, re.MULTILINE)
