"""`wortledger plan`: what it prints, where, how wide, and how it exits."""

import os
import pty
import re
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator import terminal
from generator.analysis.report import Report, report
from generator.cli import main
from generator.planning import changed, find, parse
from generator.records.journal import load
from tests.benchmarks.journals import tiny
from tests.unit.publish.support import tree

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "batches"
SLUGS = sorted(path.parent.name for path in DEMO.glob("*/plan.toml"))
FOURTH = "2026-12-12-fog-bell-4"
CHANGES = ("target.volume=15 L", "grist.1.mass=9 kg")


def call(*arguments: object, columns: int = 80) -> Result:
    """The command in this process, beside the demo journal."""
    return CliRunner(env={"COLUMNS": str(columns)}).invoke(main, ["plan", *map(str, arguments)], prog_name="wortledger")


def on_terminal(*arguments: str, **environment: str) -> tuple[int, str]:
    """The command with stdout on a terminal: status, and what the terminal got."""
    above, below = pty.openpty()
    env = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "FORCE_COLOR", "TTY_COMPATIBLE", "CI")}
    env |= {"TERM": "xterm-256color", "COLUMNS": "100", **environment}
    child = subprocess.Popen([sys.executable, "-m", "generator", "plan", *arguments], cwd=ROOT, env=env, stdin=subprocess.DEVNULL, stdout=below)
    os.close(below)
    got = b""
    while True:
        try:
            piece = os.read(above, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        got += piece
    os.close(above)
    return child.wait(60), got.decode()


@cache
def both(slug: str) -> tuple[Report, Report]:
    """A batch of the demo as planned and with changes."""
    found = find(DEMO, slug)
    return report(found.unread), report(changed(found, parse(CHANGES)).batch)


@pytest.fixture(autouse=True)
def _beside_the_demo(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal of one batch."""
    return tiny(tmp_path / "journal")


# The page


def test_page_tells_the_figures() -> None:
    """Every planned figure of the page is the one of the analysis, at its place of rounding."""
    (batch,) = (batch for batch in load(DEMO).batches if batch.slug == FOURTH)
    figures = report(batch).figures
    lines = dict(re.findall(r"^(\S.*?) {2,}(\S.*?)(?: {2,}.*)?$", call(FOURTH).stdout, re.MULTILINE))
    for key, places in (("abv", 1), ("bitterness", 0), ("colour", 0), ("pre_boil_volume", 1), ("original_gravity", 3), ("strike_temperature", 1)):
        plan = figures[key].plan
        assert plan is not None
        assert lines[figures[key].entry.label].split(" ")[0] == f"{plan:.{places}f}"
    assert lines["Pale malt"] == "6.80 kg"
    assert lines["Mash liquor"] == "22.0 L"


def test_page_holds_what_a_brewer_needs() -> None:
    """Goods with shares, room against capacity, hops with their bitterness, predictions that differ, and cautions are on the page."""
    text = call(FOURTH).stdout
    assert re.search(r"^Pale malt +6\.80 kg +77\.3 %$", text, re.MULTILINE)
    assert re.search(r"^Room for the mash +\d+\.\d L +of 38 L$", text, re.MULTILINE)
    assert re.search(r"^Challenger, 75 min +72 g +\d+ IBU$", text, re.MULTILINE)
    assert re.search(r"^Conversion +93\.0 % +95\.0 %$", text, re.MULTILINE)
    assert re.search(r"^caution +\S", text, re.MULTILINE)
    assert text.startswith("Fog Bell, fourth\nFog Bell · Saturday 12 December 2026 · Ferry house · ")


def test_overfull_mash_is_told() -> None:
    """A mash beyond the vessel is marked beside its number, and the caution that stops it is told as new."""
    changes = ["--set", "liquor.mash=36 L"]
    draft = changed(find(DEMO, FOURTH), parse(changes[1::2]))
    assert re.search(r"^Room for the mash +\d+\.\d L +over 38 L$", terminal.page(report(draft.batch), 80, colour=False), re.MULTILINE)
    assert re.search(r"^stop +New: The mash needs ", call(FOURTH, *changes).stdout, re.MULTILINE)


@pytest.mark.parametrize("columns", [60, 80, 100, 200])
@pytest.mark.parametrize("slug", SLUGS)
def test_page_fits_its_terminal(slug: str, columns: int) -> None:
    """No line is wider than the terminal or than 100 columns, none ends in blanks, and no number is cut off."""
    before, after = both(slug)
    for text in (terminal.page(before, columns, colour=False), terminal.comparison(before, after, CHANGES, columns, colour=False)):
        lines = text.splitlines()
        assert max(map(len, lines)) <= min(columns, 100)
        assert all(line == line.rstrip() for line in lines)
        assert "…" not in text
        assert "\x1b" not in text


def test_wide_page_has_two_columns() -> None:
    """From 100 columns on, the numbers stand beside the goods, and the same words are on both pages."""
    narrow, wide = call(FOURTH, columns=99).stdout, call(FOURTH, columns=100).stdout
    assert re.search(r"^Goods .*Volumes and gravities", wide, re.MULTILINE)
    assert not re.search(r"^Goods .*Volumes and gravities", narrow, re.MULTILINE)
    assert len(wide.splitlines()) < len(narrow.splitlines()) - 20
    assert sorted(re.findall(r"[^\s─]+", wide)) == sorted(re.findall(r"[^\s─]+", narrow))


def test_page_of_the_barest_plan(journal: Path) -> None:
    """A plan with little more than its recipe has a page too, which says what it can't tell and why."""
    (journal / "bare").mkdir()
    (journal / "bare" / "plan.toml").write_text('[batch]\nrecipe = "Bare"\nbrewed = 2026-12-12\n', encoding="utf-8")
    result = call("bare", "--journal", journal)
    assert (result.exit_code, result.stderr) == (0, "")
    assert "Not known from this plan\n" in result.stdout
    assert re.search(r"Original gravity.*: the plan gives? no ", result.stdout, re.DOTALL)


def test_names_cannot_paint_the_terminal(journal: Path) -> None:
    """What a name or a change holds of control characters or of a library's markup is printed, not obeyed."""
    (journal / "bare").mkdir()
    plan = '[batch]\nrecipe = "[bold]B\\u202e:beer:"\nbrewed = 2026-12-12\n[[grist]]\nname = "a[/]"\nmass = "1 kg"\nextract = "80 %"\n'
    (journal / "bare" / "plan.toml").write_text(plan, encoding="utf-8")
    text = call("bare", "-j", journal).stdout + call("bare", "-j", journal, "--set", "batch.title=\x1b[31mred").stdout
    assert "[bold]B\N{REPLACEMENT CHARACTER}:beer:" in text
    assert "a[/]" in text
    assert not re.search("[\x1b\u202e]", text)


# What if


def test_comparison_has_plan_changed_and_difference() -> None:
    """A change shows plan, changed and the difference of the printed numbers; what stays is counted, and no file is touched."""
    before = tree(DEMO)
    text = call(FOURTH, "--set", 'target.volume="15 L"', "--set", "grist.1.mass=5 kg").stdout
    assert tree(DEMO) == before
    assert 'if target.volume="15 L"\nand grist.1.mass=5 kg\n' in text
    assert re.search(r"^ +plan +changed +difference$", text, re.MULTILINE)
    assert re.search(r"^Volume into the fermenter +17\.0 L +15\.0 L +−2\.0 L$", text, re.MULTILINE)
    assert re.search(r"^Pale malt +6\.80 kg +5\.00 kg +−1\.80 kg$", text, re.MULTILINE)
    assert "Carbonation" not in text
    assert re.search(r"^\d+ numbers of the brew day stay as planned; the file is as it was\.$", text, re.MULTILINE)
    pairs = re.findall(r"([\d.]+)(?: [^\d−+]+?)? {2,}([\d.]+)(?: [^\d−+]+?)? {2,}([−+][\d.]+)", text)
    assert len(pairs) > 10
    for old, new, difference in pairs:
        assert float(new) - float(old) == pytest.approx(float(difference.replace("−", "-")), abs=1e-9)


def test_target_does_not_hide_what_a_change_does() -> None:
    """Where a target stands as the plan, the prediction beside it shows what a change does."""
    text = call(FOURTH, "--set", "grist.1.mass=5 kg").stdout
    assert re.search(r"^Original gravity, predicted +1\.09\d +1\.0\d\d +−0\.\d+$", text, re.MULTILINE)
    assert not re.search(r"^Original gravity +", text, re.MULTILINE)


def test_change_of_nothing() -> None:
    """A change to the value that the plan has changes no number, and says so."""
    text = call(FOURTH, "--set", "target.volume=17 L").stdout
    assert "difference" not in text
    assert re.search(r"^\d\d numbers of the brew day stay as planned", text, re.MULTILINE)


def test_caution_that_goes() -> None:
    """A caution that no longer stands is told as gone."""
    assert re.search(r"^gone +The drained grain weighs ", call(FOURTH, "--set", "grist.1.mass=4 kg").stdout, re.MULTILINE)


# Scaled


def test_scaled_plan_is_a_file(journal: Path) -> None:
    """What --scale prints, put into a folder of the journal, is a batch that `check` finds nothing wrong with."""
    (name,) = (path.parent.name for path in journal.glob("*/plan.toml"))
    result = call(journal / name, "--set", "target.volume=20 L", "--scale", "15 L")
    assert (result.exit_code, result.stderr) == (0, "")
    assert tomllib.loads(result.stdout)["target"]["volume"] == "15 L"
    (journal / "scaled").mkdir()
    (journal / "scaled" / "plan.toml").write_bytes(result.stdout_bytes)
    assert CliRunner().invoke(main, ["check", str(journal)]).stdout == "2 batches, no problems\n"


def test_scaled_plan_is_utf8_in_any_locale() -> None:
    """A scaled plan is a file, so it is UTF-8 also where the locale can't write it; the page makes do with what it can."""
    env = {**os.environ, "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "COLUMNS": "80"}
    for words in (["--scale", "15 L"], [], ["--set", "target.volume=15 L"]):
        ran = subprocess.run([sys.executable, "-m", "generator", "plan", FOURTH, *words], cwd=ROOT, env=env, capture_output=True, check=False)
        assert (ran.returncode, ran.stderr) == (0, b"")
        assert ("66 °C" in ran.stdout.decode()) if "--scale" in words else ran.stdout.isascii()


# Found or not


def test_by_slug_by_folder_and_from_within(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A batch goes by its slug in a journal, by its folder, and by a dot from within."""
    (folder,) = (path.parent for path in journal.glob("*/plan.toml"))
    wanted = call(folder.name, "--journal", journal).stdout
    assert wanted
    assert call(folder).stdout == wanted
    monkeypatch.chdir(folder)
    assert call(".").stdout == wanted
    monkeypatch.chdir(journal)
    assert call(folder.name).stdout == wanted


def test_unknown_batch_names_the_nearest() -> None:
    """A batch that isn't there is wrong usage, and the nearest is named."""
    result = call("2026-12-12-fog-bel-4")
    assert (result.exit_code, result.stdout) == (2, "")
    assert f"no batch '2026-12-12-fog-bel-4' in this journal; did you mean '{FOURTH}'?" in result.stderr


def test_missing_journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal that isn't there is told as by `check`."""
    monkeypatch.chdir(tmp_path)
    result = call("stout")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == f"wortledger: there is no folder batches in {tmp_path}; expected a folder with a journal.toml\n"


def test_problems_of_the_journal_as_by_check(journal: Path) -> None:
    """Problems of the journal are those that `check` prints, with its status."""
    (journal / "journal.toml").write_text('titel = "Tiny"\n', encoding="utf-8")
    wanted = CliRunner().invoke(main, ["check", str(journal)])
    (folder,) = (path.parent for path in journal.glob("*/plan.toml"))
    result = call(folder)
    assert (result.exit_code, result.stdout, result.stderr) == (1, "", wanted.stderr)


@pytest.mark.parametrize(
    ("words", "status", "text"),
    [
        (["--set", "target.volum=15 L"], 1, "--set:1: unknown key 'volum' in [target]; did you mean 'volume'? [unknown-key]\n"),
        (["--set", "target.volume"], 2, "Error: 'target.volume' changes nothing; expected KEY=VALUE, as in target.volume=\"15 L\""),
        (["--scale", "15"], 1, "--scale:1: '15' has no unit; expected a volume, as in \"19 L\" [unit-missing]\n"),
        (["--scale"], 2, "Error: Option '--scale' requires an argument."),
        (["--sett", "a=b"], 2, "Error: No such option"),
    ],
)
def test_wrong_words(words: list[str], status: int, text: str) -> None:
    """Wrong keys and values are problems, status 1; wrong usage is status 2; stdout stays empty."""
    result = call(FOURTH, *words)
    assert (result.exit_code, result.stdout) == (status, "")
    assert text in result.stderr


def test_examples_of_help_parse() -> None:
    """Every example of the help is one that the command and the changes take, and every status stands there."""
    text = call("--help").stdout
    examples = re.findall(r"^    wortledger plan (.*?)(?: {2,}.*| > .*)?$", text, re.MULTILINE)
    assert len(examples) >= 5
    for example in examples:
        words = [word.replace('"', "") for word in re.findall(r"(?:[^\s'\"]|'[^']*'|\"[^\"]*\")+", example)]
        context = main.commands["plan"].make_context("plan", [word.strip("'") for word in words])
        parse(context.params["changes"])
    assert {int(number) for number in re.findall(r"\b(\d+) [a-z]", text.partition("Exit status:")[2])} == {0, 1, 2, 70, 74, 130}


# Terminals and pipes


def test_colour_on_a_terminal_only() -> None:
    """A terminal gets bold heads; NO_COLOR, a dumb terminal and a pipe get the same words without an escape."""
    status, got = on_terminal(FOURTH)
    assert status == 0
    assert "\x1b[1mFog Bell, fourth\x1b[0m" in got
    plain = call(FOURTH, columns=100).stdout
    assert "\x1b" not in plain
    assert re.sub(r" *(?=$)|\x1b\[[\d;]*m", "", got.replace("\r\n", "\n"), flags=re.MULTILINE).split() == plain.split()
    for environment in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        assert on_terminal(FOURTH, **environment)[1].replace("\r\n", "\n") == plain


def test_pipe_gets_no_escape_whatever_is_asked_for() -> None:
    """Where stdout is a pipe there is no escape, even if the surroundings ask for colour."""
    env = {**os.environ, "FORCE_COLOR": "1", "CLICOLOR_FORCE": "1", "TTY_COMPATIBLE": "1", "TERM": "xterm-256color", "COLUMNS": "60"}
    ran = subprocess.run([sys.executable, "-m", "generator", "plan", FOURTH], cwd=ROOT, env=env, capture_output=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert not re.search(rb"[\x1b\r]", ran.stdout)
    assert max(map(len, ran.stdout.decode().splitlines())) <= 60


def test_reader_that_has_gone() -> None:
    """A reader that takes nothing is no fault."""
    for words in ("", "--scale '15 L'"):
        script = f"set -o pipefail; '{sys.executable}' -m generator plan {FOURTH} {words} | true"
        ran = subprocess.run(["bash", "-c", script], cwd=ROOT, capture_output=True, text=True, check=False)
        assert (ran.returncode, ran.stderr) == (0, "")
