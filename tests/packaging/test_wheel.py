"""The wheel holds what an installed Wortledger needs, and works where there is no checkout."""

import os
import subprocess
import sys
import tomllib
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

from generator import __version__
from tests.benchmarks.journals import generated, tiny
from tests.unit.publish.support import content

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.slow


def _run(*command: object, where: Path) -> str:
    """Run a command away from the checkout, none of whose modules can be imported by accident."""
    env = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "COV_"))}
    ran = subprocess.run(list(map(str, command)), cwd=where, env=env, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built by the build system that pyproject.toml asks for."""
    place = tmp_path_factory.mktemp("dist")
    _run(sys.executable, "-m", "build", "--wheel", "--outdir", place, ROOT, where=place)
    (built,) = place.iterdir()
    return built


@pytest.fixture(scope="module")
def names(wheel: Path) -> set[str]:
    """Every file in the wheel."""
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Programs of a fresh virtual environment that holds the wheel and what it asks for, nothing else."""
    place = tmp_path_factory.mktemp("fresh")
    _run(sys.executable, "-m", "venv", place / "venv", where=place)
    programs = place / "venv" / "bin"
    _run(programs / "pip", "install", "--quiet", "--disable-pip-version-check", wheel, where=place)
    return programs


def test_wheel_is_named_after_the_version(wheel: Path) -> None:
    """One pure wheel, with the version of the package."""
    assert wheel.name == f"wortledger-{__version__}-py3-none-any.whl"


def test_wheel_holds_the_package_and_the_templates(names: set[str]) -> None:
    """Every module, template, style sheet and font of the checkout is inside."""
    modules = {path.relative_to(ROOT).as_posix() for path in (ROOT / "generator").rglob("*.py")}
    templates = {f"generator/{path.relative_to(ROOT).as_posix()}" for path in (ROOT / "templates").rglob("*") if path.is_file()}
    assert len(modules) > 50
    assert any(path.endswith(".woff2") for path in templates)
    assert modules | templates <= names


def test_wheel_holds_nothing_else(names: set[str]) -> None:
    """No test, no demo batch, no site and no cache is inside."""
    assert {path.split("/")[0] for path in names} == {"generator", f"wortledger-{__version__}.dist-info"}
    assert not [path for path in names if "test" in path.split("/")[-1] or "__pycache__" in path or path.endswith(".pyc")]


def test_wheel_holds_the_licences(wheel: Path, names: set[str]) -> None:
    """Our licence and those of the fonts are inside and named in the metadata."""
    about = f"wortledger-{__version__}.dist-info"
    fonts = sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / "templates" / "static" / "fonts").glob("OFL-*"))
    assert len(fonts) == 2
    assert {f"{about}/licenses/{path}" for path in ["LICENSE", *fonts]} <= names
    with zipfile.ZipFile(wheel) as archive:
        metadata = Parser().parsestr(archive.read(f"{about}/METADATA").decode())
    assert metadata["License-Expression"] == "MIT"
    assert sorted(metadata.get_all("License-File", [])) == ["LICENSE", *fonts]


def test_installed_command_builds_the_same_site(installed: Path, tmp_path: Path) -> None:
    """The installed command, from an empty folder, builds just what the checkout builds, fonts and charts included."""
    journal = generated(tmp_path / "journal", 1)
    told = _run(installed / "wortledger", "build", journal, where=tmp_path)
    assert told.startswith("1 batch, ")
    assert told.endswith(": site/index.html\n")
    command = [sys.executable, "-m", "generator", "build", str(journal), "--out", str(tmp_path / "checkout"), "--quiet"]
    subprocess.run(command, cwd=ROOT, check=True)
    here, there = content(tmp_path / "site"), content(tmp_path / "checkout")
    assert sorted(here) == sorted(there)
    assets = [name for name in here if name.startswith("assets/")]
    assert [here[name] for name in assets] == [there[name] for name in assets]
    assert any(name.endswith(".woff2") for name in assets)


def test_installed_command_checks_and_helps(installed: Path, tmp_path: Path) -> None:
    """The installed command and `python -m generator` tell the version, and check a journal."""
    tiny(tmp_path / "batches")
    assert _run(installed / "wortledger", "--version", where=tmp_path) == f"wortledger, version {__version__}\n"
    assert _run(installed / "python", "-m", "generator", "--version", where=tmp_path) == f"wortledger, version {__version__}\n"
    assert _run(installed / "wortledger", "check", where=tmp_path) == "1 batch, no problems\n"


def test_installed_packages_are_those_asked_for(installed: Path, tmp_path: Path) -> None:
    """Nothing of the test set-up is needed to run."""
    listed = _run(installed / "pip", "list", "--format", "freeze", "--disable-pip-version-check", where=tmp_path).lower()
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    for wanted in project["dependencies"]:
        assert f"{wanted.split('>')[0]}==" in listed
    for unwanted in ("pytest", "hypothesis", "playwright", "mypy"):
        assert f"{unwanted}==" not in listed
