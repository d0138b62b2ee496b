"""The shape of the code: sizes, docstrings, names at the top of the repository, words that don't belong here."""

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LONGEST_MODULE, LONGEST_BODY = 399, 45
MODULES = sorted((ROOT / "generator").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("test_*.py"))
Function = ast.FunctionDef | ast.AsyncFunctionDef

TOP = {"pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE", "generator", "templates", "batches", "tests", "site"}
STRAY = ("share" + "d/", "FORM" + "AT.md", "SOUR" + "CES.md", "seed docu" + "ment", "work/" + "main", "TO" + "DO", "FIX" + "ME", "XX" + "X")
"""Words that point out of the repository or to work that isn't done; put together, so that this file isn't among the finds."""


def _functions(path: Path) -> Iterator[Function]:
    """Every function of a module, those within others too."""
    return (node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, Function))


def _body_lines(function: Function) -> int:
    """Lines of a function's body, its docstring left out."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _tracked() -> list[str]:
    """Files that are, or are about to be, under version control."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a checkout")
    command = ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return sorted(path for path in listed.split("\0") if path and (ROOT / path).exists())


def test_there_is_something_to_look_at() -> None:
    """The tests below look at many modules and tests, not at none."""
    assert len(MODULES) > 50
    assert len(TESTS) > 10


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_modules_are_short(path: Path) -> None:
    """No module has 400 lines, and no body of a function 46."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE
    assert {function.name: lines for function in _functions(path) if (lines := _body_lines(function)) > LONGEST_BODY} == {}


def test_bodies_are_measured() -> None:
    """The measure of a body counts its lines, without the docstring and with nested functions."""
    text = 'def outer():\n    """Say."""\n    def inner():\n        pass\n\n    return inner\n'
    outer, inner = (node for node in ast.walk(ast.parse(text)) if isinstance(node, Function))
    assert (_body_lines(outer), _body_lines(inner)) == (4, 1)


@pytest.mark.parametrize("path", TESTS, ids=_name)
def test_every_test_says_in_a_line_what_it_proves(path: Path) -> None:
    """Every test function has a docstring of one line."""
    tests = [function for function in _functions(path) if function.name.startswith("test_")]
    assert [function.name for function in tests if "\n" in (ast.get_docstring(function) or "\n")] == []


@pytest.mark.parametrize("path", TESTS, ids=_name)
def test_no_two_tests_share_a_name(path: Path) -> None:
    """A second test of the same name would hide the first."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    names = [node.name for node in tree.body if isinstance(node, Function)]
    assert sorted(names) == sorted(set(names))


def test_top_of_the_repository() -> None:
    """At the top stand the names that the README explains, and dotfiles."""
    top = {path.split("/")[0] for path in _tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_no_stray_words() -> None:
    """No tracked text points out of the repository, or to work that isn't done."""
    found = []
    for path in _tracked():
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{path}: {word}" for word in STRAY if word in text]
    assert found == []


def test_no_large_files() -> None:
    """No tracked file is larger than 300 kB, but for pages of the built site."""
    sizes = {path: (ROOT / path).stat().st_size for path in _tracked()}
    assert {path: size for path, size in sizes.items() if size > 300_000 and not path.startswith("site/")} == {}


def _calls(path: Path) -> Iterator[tuple[str, str]]:
    """Every call in a module: its place, and what is called as it is written."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            yield f"{_name(path)}:{node.lineno}", ast.unparse(node.func)


def test_only_the_command_line_prints_or_exits() -> None:
    """No module but the command line prints, exits, or reads the surroundings."""
    telling = {"print", "sys.exit", "exit", "input", "os.getenv", "os.environ.get", "click.echo"}
    modules = [path for path in MODULES if path.name not in ("cli.py", "__main__.py")]
    assert [place for path in modules for place, called in _calls(path) if called in telling] == []


def test_only_publishing_writes() -> None:
    """No module outside `publish` and the command line writes, makes, renames or removes a file."""
    writing = {"write_text", "write_bytes", "mkdir", "touch", "rename", "unlink", "rmdir", "rmtree", "makedirs", "symlink_to", "chmod", "savefig"}
    modules = [path for path in MODULES if path.parent.name != "publish"]
    found = [f"{place} {called}" for path in modules for place, called in _calls(path) if called.rpartition(".")[2] in writing]
    assert [text for text in found if not text.startswith("generator/charts/drawing.py:") or not text.endswith("savefig")] == []
