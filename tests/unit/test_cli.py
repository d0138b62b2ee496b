"""The command line: what it prints, where, and how it exits; in processes of their own where a terminal or a pipe matters."""

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from generator import __version__
from generator import build as pipeline
from generator.cli import main
from tests.benchmarks.journals import tiny
from tests.unit.publish.support import tree

ROOT = Path(__file__).resolve().parents[2]
STATUSES = {0, 1, 2, 70, 73, 74, 75, 130}
COMMANDS = sorted(main.commands)


def call(*arguments: object) -> Result:
    """The command in this process."""
    return CliRunner().invoke(main, list(map(str, arguments)), prog_name="wortledger")


def run(*arguments: object, where: Path = ROOT, **environment: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, with pipes."""
    command = [sys.executable, "-m", "generator", *map(str, arguments)]
    env = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    return subprocess.run(command, cwd=where, env=env, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL, timeout=120)


def on_terminal(*arguments: object, **environment: str) -> tuple[int, str]:
    """A module with its arguments, stderr on a terminal of 100 columns: status, and what the terminal got."""
    above, below = pty.openpty()
    env = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "FORCE_COLOR", "TTY_COMPATIBLE", "CI")}
    env |= {"TERM": "xterm-256color", "COLUMNS": "100", **environment}
    command = [sys.executable, "-m", *map(str, arguments)]
    child = subprocess.Popen(command, cwd=ROOT, env=env, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=below)
    os.close(below)
    got, deadline = b"", time.monotonic() + 120
    while time.monotonic() < deadline and select.select([above], [], [], 60)[0]:
        try:
            piece = os.read(above, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        got += piece
    os.close(above)
    return child.wait(10), got.decode()


def stand_in(way: str, line: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """A line of bash with `wortledger` as the command before a library that does nothing."""
    script = f"set -o pipefail; wortledger() {{ '{sys.executable}' -m tests.unit.stand_in {way} \"$@\"; }}; {line}"
    env = {**os.environ, **environment}
    return subprocess.run(["bash", "-c", script], cwd=ROOT, env=env, capture_output=True, text=True, check=False, timeout=20)


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal of one batch."""
    return tiny(tmp_path / "journal")


@pytest.fixture
def faulty(journal: Path) -> Path:
    """A journal with two problems."""
    (journal / "journal.toml").write_text('titel = "Tiny"\n', encoding="utf-8")
    return journal


# Help


@pytest.mark.parametrize("way", [["--help"], ["-h"], ["help"], []])
def test_help_of_all(way: list[str]) -> None:
    """Help comes by flag, by command and without arguments: on stdout, status 0, what it does first."""
    result = call(*way)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith("Usage: wortledger ")
    assert "Batch folders in, a brewing journal out." in result.stdout
    for name in COMMANDS:
        assert re.search(rf"^  {name} +\S", result.stdout, re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("flag", ["-h", "--help"])
def test_help_of_each_command(name: str, flag: str) -> None:
    """Each command explains itself under both flags and under `help`, with all of its options."""
    result = call(name, flag)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith(f"Usage: wortledger {name} ")
    for parameter in main.commands[name].params:
        if isinstance(parameter, click.Option):
            assert all(word in result.stdout for word in [*parameter.opts, parameter.help or "no help"])
    assert call("help", name).stdout == result.stdout


@pytest.mark.parametrize("name", ["", "build", "check"])
def test_help_shows_examples_line_by_line(name: str) -> None:
    """Examples stand one a line, and none is folded into a paragraph."""
    text = call(*name.split(), "--help").stdout
    examples = re.findall(r"^    (wortledger .*?)(?:  .*)?$", text.partition("Examples:\n")[2], re.MULTILINE)
    assert len(examples) >= 2
    assert all(example.split()[1] in COMMANDS for example in examples)
    assert "\\b" not in text


@pytest.mark.parametrize("name", ["build", "check"])
def test_examples_of_help_parse(name: str) -> None:
    """Every example of a help text is one that the command takes."""
    text = call(name, "--help").stdout.partition("Examples:\n")[2]
    for line in re.findall(r"^    wortledger (.*?)(?:  .*)?$", text, re.MULTILINE):
        command, *arguments = line.split()
        context = main.commands[command].make_context(command, arguments, resilient_parsing=False)
        assert context.params["journal"] in (Path("batches"), Path("~/beer"))


def test_help_lists_every_status() -> None:
    """The exit statuses of the help are those that these tests meet."""
    text = call("--help").stdout.partition("Exit status:\n")[2]
    assert {int(number) for number in re.findall(r"^ +(\d+)  \S", text, re.MULTILINE)} == STATUSES
    for name in ("build", "check"):
        told = {int(number) for number in re.findall(r"\b(\d+) [a-z]", call(name, "--help").stdout.partition("Exit status:")[2])}
        assert told == (STATUSES if name == "build" else STATUSES - {73, 75})


@pytest.mark.parametrize("columns", ["60", "80", "300"])
@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_is_narrow(name: str, columns: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """No line of any help is wider than 96 columns, however wide the terminal is."""
    monkeypatch.setenv("COLUMNS", columns)
    lines = call(*name.split(), "--help").stdout.splitlines()
    assert max(map(len, lines)) <= 96
    assert len(lines) <= 40


def test_help_of_an_unknown_command() -> None:
    """Asking help for a mistyped command names the nearest, status 2."""
    result = call("help", "biuld")
    assert result.exit_code == 2
    assert "no command 'biuld'; did you mean 'build'?" in result.stderr


def test_version_is_one_line() -> None:
    """--version is one line with name and number, the number of the package."""
    result = call("--version")
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"wortledger, version {__version__}\n", "")
    assert re.fullmatch(r"\d+\.\d+\.\d+", __version__)


def test_help_is_light() -> None:
    """Help and version load none of the libraries of science, drawing or pages."""
    heavy = ("matplotlib", "pint", "scipy", "numpy", "pydantic", "jinja2", "markdown_it", "rich")
    code = (
        "import sys\nfrom generator.cli import main\n"
        "for words in (['--help'], ['build', '-h'], ['--version'], []):\n    main(words, standalone_mode=False)\n"
        f"loaded = [name for name in {heavy!r} if name in sys.modules]\nsys.exit(', '.join(loaded) or 0)"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


# Wrong usage


@pytest.mark.parametrize(
    ("word", "meant"), [("biuld", "build"), ("chekc", "check"), ("Build", "build"), ("hlep", "help"), ("b", None), ("xyzzy", None)]
)
def test_unknown_command(word: str, meant: str | None, journal: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A mistyped command names the nearest one, exits 2, and never runs a guess."""
    monkeypatch.chdir(tmp_path)
    before = tree(tmp_path)
    result = call(word, journal)
    assert (result.exit_code, result.stdout) == (2, "")
    assert f"no command '{word}'; " + (f"did you mean '{meant}'?" if meant else "expected one of build, check, help, plan") in result.stderr
    assert tree(tmp_path) == before


@pytest.mark.parametrize("arguments", [["build", "--ot", "x"], ["check", "--out", "x"], ["--verbose"], ["build", "-x"], ["check", "a", "b"]])
def test_unknown_option(arguments: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An option or argument that isn't known exits 2, says so on stderr, and nothing runs."""
    monkeypatch.chdir(tmp_path)
    result = call(*arguments)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "Error: " in result.stderr
    assert "--help" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_option_is_not_shortened(journal: Path) -> None:
    """Long options aren't taken by their first letters: a later option mustn't change what a script means."""
    assert call("build", journal, "--quie").exit_code == 2


def test_unknown_command_cannot_paint_the_terminal() -> None:
    """Control characters of a mistyped command aren't echoed."""
    assert "\x1b" not in call("\x1b[31mred").stderr


@pytest.mark.parametrize("command", ["build", "check"])
def test_file_as_journal(command: str, tmp_path: Path) -> None:
    """A journal that is a file is wrong usage."""
    (tmp_path / "file").touch()
    result = call(command, tmp_path / "file")
    assert result.exit_code == 2
    assert "is a file" in result.stderr


# Problems


@pytest.mark.parametrize("command", ["build", "check"])
def test_missing_journal(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal that isn't there is named with the place where it was looked for; status 1, nothing is made."""
    monkeypatch.chdir(tmp_path)
    result = call(command)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == f"wortledger: there is no folder batches in {tmp_path}; expected a folder with a journal.toml\n"
    assert call(command, "/no/where").stderr == "wortledger: there is no folder /no/where; expected a folder with a journal.toml\n"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", [["check"], ["build", "--out", "{site}"]])
@pytest.mark.parametrize("quiet", [[], ["--quiet"], ["-q"]])
def test_problems_are_printed_whatever_quiet_says(faulty: Path, tmp_path: Path, command: list[str], quiet: list[str]) -> None:
    """Every problem is one line on stderr, the count last, status 1; --quiet changes nothing about it."""
    words = [word.format(site=tmp_path / "site") for word in command]
    result = call(*words, *quiet, faulty)
    assert (result.exit_code, result.stdout) == (1, "")
    *lines, last = result.stderr.splitlines()
    assert len(lines) == 2
    assert all(re.fullmatch(r"journal\.toml:\d+: .+; .+ \[[a-z-]+\]", line) for line in lines)
    assert last == "2 problems; nothing was published"
    assert not (tmp_path / "site").exists()


def test_one_problem_is_singular(faulty: Path) -> None:
    """One problem is counted as one problem."""
    (faulty / "journal.toml").write_bytes(b"\xff")
    assert call("check", faulty).stderr.splitlines()[1] == "1 problem; nothing was published"


def test_refused_site(journal: Path, tmp_path: Path) -> None:
    """A site that isn't ours exits 73 with one line."""
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "mine.txt").touch()
    result = call("build", journal, "--out", tmp_path / "site")
    assert (result.exit_code, result.stdout) == (73, "")
    assert result.stderr == (f"wortledger: {tmp_path / 'site'} holds 1 file that no build made (mine.txt); move them away or choose another --out\n")


def test_site_in_the_journal(journal: Path) -> None:
    """A site within the journal exits 73 with one line."""
    result = call("build", journal, "-o", journal / "site")
    assert result.exit_code == 73
    assert "must lie apart; choose another --out" in result.stderr


@pytest.mark.parametrize(
    ("error", "status", "text"),
    [
        (PermissionError(13, "Permission denied", "/some/file"), 74, "wortledger: /some/file: Permission denied; what was published stands\n"),
        (OSError("odd"), 74, "wortledger: odd; what was published stands\n"),
        (KeyboardInterrupt(), 130, "interrupted; what was published stands\n"),
    ],
)
def test_errors_of_the_system(journal: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, status: int, text: str) -> None:
    """What the system refuses ends in one line with the path, never in a traceback."""

    def fail(_root: Path) -> None:
        raise error

    monkeypatch.setattr(pipeline, "check", fail)
    for command in ("check", "build"):
        result = call(command, journal)
        assert (result.exit_code, result.stdout, result.stderr) == (status, "", text)


@pytest.mark.parametrize(
    "way",
    [
        "interrupted",
        "interrupted_and_renamed",
        "interrupted_and_swallowed",
        "interrupted_twice",
        "interrupted_in_made_up_code",
        "swallowed_while_loading",
    ],
)
def test_interruption_always_ends_it(way: str) -> None:
    """Whatever a library makes of the interruption, the command ends soon, with 130 and one line."""
    command = [sys.executable, "-m", "tests.unit.stand_in", way, "build"]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=20)
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "interrupted; what was published stands\n")


def test_ignored_interrupts_stay_ignored() -> None:
    """A build started in the background of a script, where SIGINT is ignored, isn't ended by it."""
    ran = stand_in("ignoring", "wortledger build")
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "1 batch, 6 pages: site/index.html\n", "")


def test_fault_of_the_program(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of ours is told as such, with the traceback that a report of it needs; status 70, not 1."""
    monkeypatch.setattr(pipeline, "check", lambda _root: 1 / 0)
    result = call("check", journal)
    assert (result.exit_code, result.stdout) == (70, "")
    assert result.stderr.startswith("Traceback")
    assert "ZeroDivisionError" in result.stderr
    assert result.stderr.splitlines()[-1].startswith("wortledger: this is a fault of wortledger, not of your journal; ")


# Success


def test_check_writes_nothing(journal: Path, tmp_path: Path) -> None:
    """`check` counts the batches, and changes no file and no time anywhere near."""
    before = tree(tmp_path)
    result = call("check", journal)
    assert (result.exit_code, result.stdout, result.stderr) == (0, "1 batch, no problems\n", "")
    assert tree(tmp_path) == before
    assert call("check", "--quiet", journal).output == ""


def test_build_says_what_and_where(journal: Path, tmp_path: Path) -> None:
    """A build prints one line: how many batches and pages, and the file to open, which is there."""
    result = call("build", journal, "--out", tmp_path / "site")
    assert (result.exit_code, result.stderr) == (0, "")
    found = re.fullmatch(r"1 batch, (\d+) pages: (.*)\n", result.stdout)
    assert found
    assert int(found[1]) == len(list((tmp_path / "site").rglob("*.html")))
    assert Path(found[2]) == tmp_path / "site" / "index.html"
    assert Path(found[2]).is_file()


def test_drafts_are_counted(journal: Path, tmp_path: Path) -> None:
    """Batches left out as drafts are counted: nothing is missing silently."""
    for name, draft in (("2026-03-01-porter", "false"), ("2026-03-02-mild", "true")):
        shutil.copytree(journal / "2026-02-14-stout", journal / name)
        plan = (journal / name / "plan.toml").read_text(encoding="utf-8")
        (journal / name / "plan.toml").write_text(plan.replace("[batch]", f"[batch]\ndraft = {draft}"), encoding="utf-8")
    assert call("check", journal).stdout == "2 batches, 1 left as draft, no problems\n"
    assert call("build", journal, "-o", tmp_path / "site").stdout.startswith("2 batches, 1 left as draft, ")


def test_defaults_are_batches_and_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without arguments, site/ is built from batches/."""
    tiny(tmp_path / "batches")
    monkeypatch.chdir(tmp_path)
    assert call("build").stdout.endswith(": site/index.html\n")
    assert (tmp_path / "site" / "index.html").is_file()


def test_quiet_build_prints_nothing(journal: Path, tmp_path: Path) -> None:
    """--quiet prints nothing on success."""
    result = call("build", journal, "--out", tmp_path / "site", "--quiet")
    assert (result.exit_code, result.output) == (0, "")
    assert (tmp_path / "site" / "index.html").is_file()


@pytest.mark.parametrize("name", ["with space", "ümläut 🍺", "-dash", "x" * 200])
def test_odd_names(tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Journals and sites of any name can be built."""
    tiny(tmp_path / "journals" / name)
    monkeypatch.chdir(tmp_path)
    result = call("build", f"--out={name}", "--", f"journals/{name}")
    assert (result.exit_code, result.stderr) == (0, "")
    assert (tmp_path / name / "index.html").is_file()


# Processes, pipes, terminals


@pytest.mark.parametrize("command", ["check", "build"])
@pytest.mark.parametrize("way", ["fine", "faulty"])
def test_plain_output_in_pipes(command: str, way: str) -> None:
    """Where output goes to a pipe there is neither colour nor bar, even if the surroundings ask for them."""
    ran = stand_in(way, f"wortledger {command}", FORCE_COLOR="1", CLICOLOR_FORCE="1", TTY_COMPATIBLE="1", TERM="xterm-256color")
    assert ran.returncode == (way == "faulty")
    assert not re.search(r"[\x1b\r]", ran.stdout + ran.stderr)
    assert ran.stderr.count("\n") == (3 if way == "faulty" else 0)


def test_no_progress_in_pipes_and_odd_locale(journal: Path, tmp_path: Path) -> None:
    """A build in a pipe, in the plainest locale, at a name that isn't UTF-8: one line of result, no bar, no traceback."""
    site = tmp_path / os.fsdecode(b"s\xefte")
    ran = run("build", journal, "--out", site, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.count("\n") == 1
    assert "\x1b" not in ran.stdout
    assert (site / "index.html").is_file()


def test_module_is_the_command(tmp_path: Path) -> None:
    """`python -m generator` prints and exits just as the installed command would."""
    target = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["scripts"]["wortledger"]
    module, function = target.split(":")
    code = f"import sys\nfrom {module} import {function}\nsys.argv[0] = '/usr/bin/wortledger'\nsys.exit({function}())"
    for words in (["--help"], ["build", "--nope"], ["check", "nowhere"], ["--version"]):
        command = [sys.executable, "-c", code, *words]
        env = {**os.environ, "PYTHONPATH": str(ROOT)}
        script = subprocess.run(command, cwd=tmp_path, env=env, capture_output=True, text=True, check=False)
        ran = run(*words, where=tmp_path)
        assert (script.returncode, script.stdout, script.stderr) == (ran.returncode, ran.stdout, ran.stderr)


_COLOUR = re.compile(r"\x1b\[[\d;]*(?:3\d|4\d|9\d)[\d;]*m")


def test_terminal_gets_a_bar(journal: Path, tmp_path: Path) -> None:
    """On a terminal a build shows in colour what it is doing, and wipes it."""
    status, got = on_terminal("generator", "build", journal, "--out", tmp_path / "site")
    assert status == 0
    assert "Computing" in got
    assert "Drawing and writing" in got
    assert _COLOUR.search(got)
    assert got.endswith("\x1b[2K")


def test_no_color_on_a_terminal() -> None:
    """NO_COLOR takes the colours out of the bar; empty, it says nothing."""
    status, got = on_terminal("tests.unit.stand_in", "fine", "build", NO_COLOR="1")
    assert status == 0
    assert "Computing" in got
    assert not _COLOUR.search(got)
    assert _COLOUR.search(on_terminal("tests.unit.stand_in", "fine", "build", NO_COLOR="")[1])


@pytest.mark.parametrize(("words", "term"), [([], "dumb"), (["--quiet"], "xterm")])
def test_no_bar_on_a_terminal(words: list[str], term: str) -> None:
    """A terminal that can't erase, or --quiet, gets nothing at all."""
    assert on_terminal("tests.unit.stand_in", "fine", "build", *words, TERM=term) == (0, "")


def test_bar_counts_every_batch(journal: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both bars are moved on once a batch, to their end."""
    moved: list[str] = []
    monkeypatch.setattr("generator.cli._plain", lambda: False)
    monkeypatch.setattr("rich.progress.Progress.add_task", lambda _bar, name, total: f"{name} {total}")
    monkeypatch.setattr("rich.progress.Progress.advance", lambda _bar, task: moved.append(task))
    assert call("build", journal, "--out", tmp_path / "site").exit_code == 0
    assert moved == ["Computing 1", "Drawing and writing 1"]


def test_problems_on_a_terminal() -> None:
    """Problems have their place in bold on a terminal, and no escape at all under NO_COLOR or on a dumb one."""
    assert "\x1b[1mjournal.toml:1\x1b[0m: the key is wrong" in on_terminal("tests.unit.stand_in", "faulty", "check")[1]
    assert "\x1b" not in on_terminal("tests.unit.stand_in", "faulty", "check", NO_COLOR="1")[1]
    assert "\x1b" not in on_terminal("tests.unit.stand_in", "faulty", "check", TERM="dumb")[1]


@pytest.mark.parametrize("closing", ["| true", ">&-", "2>&-", ">&- 2>&-", "<&-"])
@pytest.mark.parametrize("command", ["check", "build"])
def test_closed_streams_are_no_fault(command: str, closing: str) -> None:
    """A reader that has gone, or a closed stream, doesn't change the status and prints no traceback."""
    ran = stand_in("fine", f"wortledger {command} {closing}")
    assert (ran.returncode, ran.stderr) == (0, "")


def test_problems_into_a_closed_pipe() -> None:
    """A reader that takes one line of many problems, as `head -1` does, ends it quietly, and the status stays 1."""
    ran = stand_in("very_faulty", "wortledger check 2>&1 >/dev/null | head -1")
    assert (ran.returncode, ran.stderr) == (1, "")
    assert ran.stdout.count("\n") == 1


def test_full_output() -> None:
    """A result that can't be printed is no success."""
    ran = stand_in("fine", "wortledger check >/dev/full")
    assert ran.returncode == 74
    assert ran.stderr == "wortledger: No space left on device; what was published stands\n"
