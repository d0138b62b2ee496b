"""The methods page is made from the docstrings, so each has all its sections and none of its numbers drifts from the code."""

import ast
import inspect
import math
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import generator
from generator.sources import SOURCES
from tests.reference.science import modules, public_functions

SECTIONS = ("Formula", "Args", "Returns", "Valid", "Raises", "Source")
FUNCTIONS = public_functions()
NAMES = sorted(FUNCTIONS)
PACKAGE = Path(generator.__path__[0])
_NUMBER = re.compile(r"\d+(?:\.\d+)?(?:e[-+]?\d+)?")


def sections(name: str) -> dict[str, str]:
    """The sections of a function's docstring in their order; the words before the first one stand under ''."""
    parts = re.split(r"^(\w+):$", inspect.getdoc(FUNCTIONS[name]) or "", flags=re.MULTILINE)
    return {"": parts[0].strip()} | {title: text.strip() for title, text in zip(parts[1::2], parts[2::2], strict=True)}


def digits(number: str) -> int:
    """Significant digits of a number as printed; zeros at the end of a whole number don't count."""
    mantissa = number.split("e", maxsplit=1)[0]
    return len((mantissa.replace(".", "") if "." in mantissa else mantissa.rstrip("0")).lstrip("0"))


def _arithmetic(left: float, operator: ast.operator, right: float) -> float:
    match operator:
        case ast.Add():
            return left + right
        case ast.Sub():
            return left - right
        case ast.Mult():
            return left * right
        case ast.Div() if right:
            return left / right
    raise ValueError


def _constant(node: ast.expr, known: dict[str, float]) -> float | None:
    """The value of a number or of plain arithmetic with numbers and the module's constants."""
    match node:
        case ast.Constant(value=float() | int() as value):
            return float(value)
        case ast.Name(id=name):
            return known.get(name)
        case ast.BinOp(left=left, op=operator, right=right):
            a, b = _constant(left, known), _constant(right, known)
            if a is not None and b is not None:
                try:
                    return _arithmetic(a, operator, b)
                except ValueError:
                    return None
    return None


def constants(module: ModuleType) -> Iterator[float]:
    """Every number that stands in the code of a module, and every one it makes of them in one expression."""
    tree = ast.parse(inspect.getsource(module))
    known: dict[str, float] = {}
    for statement in tree.body:
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            value = _constant(statement.value, known)
            if value is not None:
                known[statement.targets[0].id] = value
    values = (_constant(node, known) for node in ast.walk(tree) if isinstance(node, ast.expr))
    return (value for value in values if value is not None)


def test_docstrings_of_every_module() -> None:
    """A module says what it is about."""
    assert all(inspect.getdoc(module) for module in modules().values())


@pytest.mark.parametrize("name", NAMES)
def test_sections(name: str) -> None:
    """Title, then every section once, in order, none of them empty."""
    found = sections(name)
    assert found[""].split("\n")[0].endswith(".")
    assert tuple(found)[1:] == SECTIONS
    assert all(found.values())


@pytest.mark.parametrize("name", NAMES)
def test_arguments(name: str) -> None:
    """Exactly the parameters are described, in order."""
    described = re.findall(r"^(\w+): \S", inspect.cleandoc(sections(name)["Args"]), flags=re.MULTILINE)
    assert [argument.strip() for argument in described] == list(inspect.signature(FUNCTIONS[name]).parameters)


@pytest.mark.parametrize("name", NAMES)
def test_sources(name: str) -> None:
    """Every key is one of a known source."""
    keys = [key.strip() for key in sections(name)["Source"].split(";")]
    assert set(keys) <= set(SOURCES)


@pytest.mark.parametrize("name", NAMES)
def test_numbers_of_the_formula_stand_in_the_code(name: str) -> None:
    """Every number printed with four or more digits is one that the module computes with."""
    module = inspect.getmodule(FUNCTIONS[name])
    assert module is not None
    known = list(constants(module))
    printed = [number for number in _NUMBER.findall(sections(name)["Formula"]) if digits(number) >= 4]
    assert [number for number in printed if not any(math.isclose(float(number), abs(value), rel_tol=1e-12) for value in known)] == []


@pytest.mark.parametrize("key", sorted(SOURCES))
def test_every_source_is_used(key: str) -> None:
    """A source that nothing in the generator refers to is dead weight."""
    texts = (path.read_text("utf-8") for path in PACKAGE.rglob("*.py") if path.name != "sources.py")
    assert any(re.search(rf"(?<![\w-]){re.escape(key)}(?![\w-])", text) for text in texts)
