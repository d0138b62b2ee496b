"""What README and DEVELOPERS say is so."""

import re
import shlex
from pathlib import Path

import click
import pytest

from generator.build import check
from generator.cli import main
from generator.records.journal import load
from generator.records.models import JournalSettings
from generator.records.readings import COLUMNS
from generator.records.vocabulary import READINGS

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
DOCS = {"README.md": README, "DEVELOPERS.md": DEVELOPERS, "batches/README.md": (ROOT / "batches" / "README.md").read_text(encoding="utf-8")}


def _blocks(language: str) -> list[str]:
    """The fenced blocks of a language in the README."""
    return re.findall(rf"^```{language}\n(.*?)\n```$", README, re.MULTILINE | re.DOTALL)


def _sections() -> dict[str, str]:
    """The README's text by heading."""
    parts = re.split(r"^#+ (.+)$", README, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def test_readme_opens_with_the_job() -> None:
    """The first paragraph says what goes in and what comes out, in at most 120 words."""
    title, first = README.split("\n\n")[:2]
    assert title == "# Wortledger"
    assert all(word in first.lower() for word in ("folder", "plan", "readings", "static html"))
    assert len(first.split()) <= 120


def test_readme_has_two_commands() -> None:
    """There are two command blocks of one line each: build the demo, pass all tests."""
    assert [len(block.splitlines()) for block in _blocks("bash")] == [1, 1]
    build, tests = _blocks("bash")
    assert build.endswith("wortledger build")
    assert "-m pytest" in tests
    for command in (build, tests):
        steps = [shlex.split(step) for step in command.split("&&")]
        assert steps[0] == ["python3", "-m", "venv", ".venv"]
        assert all(step[0].startswith(".venv/bin/") for step in steps[1:])


def test_continuous_integration_runs_the_command_of_the_readme() -> None:
    """`.ci/run` ends with the test command, to the letter, and stops at the first failure."""
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == _blocks("bash")[1]
    assert "set -euo pipefail" in lines
    assert (ROOT / ".ci" / "run").stat().st_mode & 0o111


def test_modules_of_the_commands_exist() -> None:
    """Every `python -m tests...` of the README and DEVELOPERS leads to a module."""
    modules = re.findall(r"-m (tests[\w.]+)", README + DEVELOPERS)
    assert modules
    for module in modules:
        path = ROOT / module.replace(".", "/")
        assert path.with_suffix(".py").exists() or (path / "__main__.py").exists(), module


@pytest.mark.parametrize("name", ["build", "check"])
def test_commands_are_in_the_readme(name: str) -> None:
    """The README shows each command, and names no option that it lacks."""
    assert f"wortledger {name}" in README
    known = {word for parameter in main.commands[name].params if isinstance(parameter, click.Option) for word in parameter.opts}
    for line in re.findall(rf"wortledger {name}\b([^\n`&]*)", README + DEVELOPERS):
        assert {word for word in line.split() if word.startswith("-")} <= known, line


def test_readme_names_no_command_that_is_not_there() -> None:
    """Every `wortledger X` in the docs is a command."""
    text = "\n".join(DOCS.values())
    named = set(re.findall(r"(?:^ *|`|/bin/)wortledger ([a-z]+)", text, re.MULTILINE))
    assert {"build", "check"} <= named <= set(main.commands)


def test_example_of_the_readme_builds(tmp_path: Path) -> None:
    """The files shown in the README, put where it says, are a journal without a problem, and every reading counts."""
    sections = _sections()

    def shown(name: str) -> str:
        found = re.search(r"^```\w+\n(.*?\n)```$", sections[name], re.MULTILINE | re.DOTALL)
        assert found, name
        return found[1]

    batch = tmp_path / "2026-02-14-stout"
    (tmp_path / "brewhouses").mkdir()
    batch.mkdir()
    (tmp_path / "journal.toml").write_text('title = "..."\nbrewer = "a"\n'.replace("...", "Mine"), encoding="utf-8")
    (tmp_path / "brewhouses" / "cellar.toml").write_text(shown("brewhouses/cellar.toml"), encoding="utf-8")
    (batch / "plan.toml").write_text(shown("plan.toml"), encoding="utf-8")
    (batch / "readings.csv").write_text(shown("readings.csv"), encoding="utf-8")
    check(tmp_path)
    (record,) = load(tmp_path).batches
    assert record.brewhouse is not None
    assert len(record.readings) == len(shown("readings.csv").strip().splitlines()) - 1
    assert shown("readings.csv").splitlines()[0] == ",".join(COLUMNS)


def test_table_of_readings_is_the_vocabulary() -> None:
    """The README's table of stages lists every stage and everything that is read there, with the scores' maxima; no more."""
    found: dict[str, set[str]] = {}
    for stages, what in re.findall(r"^\| (`[^|]+`) \| ([^|]+) \|$", _sections()["readings.csv"], re.MULTILINE):
        for stage in re.findall(r"`([\w-]+)`", stages):
            found.setdefault(stage, set()).update(re.sub(r"[`\s]", "", word) for word in re.findall(r"`\w+`(?: /\d+)?", what))
    wanted = {
        stage: {name + (f"/{wanted.score_of:g}" if wanted.score_of else "") for name, wanted in known.items() if name != "note"}
        for stage, known in READINGS.items()
    }
    assert found == wanted


def test_keys_of_the_journal_are_in_the_readme() -> None:
    """The README's words on journal.toml name every key, and only keys."""
    assert set(re.findall(r"`([a-z_]+)`", _sections()["journal.toml"])) == set(JournalSettings.model_fields)


@pytest.mark.parametrize("name", DOCS)
def test_links_lead_somewhere(name: str) -> None:
    """Every relative link of the docs leads to a file, and to a heading if it names one."""
    for text, link in re.findall(r"\[([^\]]+)\]\(([^)\s]+)\)", DOCS[name]):
        if re.match(r"[a-z]+:", link):
            continue
        path, _, anchor = link.partition("#")
        target = (ROOT / name).parent / path if path else ROOT / name
        assert target.exists(), (text, link)
        if anchor:
            headings = re.findall(r"^#+ (.+)$", target.read_text(encoding="utf-8"), re.MULTILINE)
            assert anchor in {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}, (text, link)


def test_paths_of_the_contributor_guide_exist() -> None:
    """Every path with a folder that DEVELOPERS names is there: in the repository, the package, the demo or the templates."""
    roots = [ROOT, ROOT / "generator", ROOT / "batches", ROOT / "templates", ROOT / "templates" / "static"]
    names = set(re.findall(r"`([\w.-]+/[\w./-]*)`", DEVELOPERS)) - {"partials/_x.html"}  # any of them
    assert names
    assert [name for name in sorted(names) if not any((root / name).exists() or (root / f"{name}.py").exists() for root in roots)] == []
