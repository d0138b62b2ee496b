"""The methods page: every formula in words and symbols, read from the docstrings of `science`, so that it can't drift."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from types import ModuleType
from typing import Any

import generator.science
from generator.sources import SOURCES, Source

SECTIONS = ("Formula", "Args", "Returns", "Valid", "Raises", "Source")
_ORDER = (
    "water", "sucrose", "hydrometer", "refractometer", "mash", "heat", "lauter", "remash", "bitterness", "isomerisation", "colour", "swatch",
    "yeast", "fermentation", "series", "ethanol", "beer", "carbonation", "keg",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Method:
    """One function of `science`, as its docstring describes it."""

    name: str
    title: str
    words: str
    formula: str
    arguments: tuple[tuple[str, str], ...]
    returns: str
    valid: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Chapter:
    """One module of `science`."""

    name: str
    title: str
    methods: tuple[Method, ...]


def public_functions(module: ModuleType) -> list[tuple[str, Callable[..., Any]]]:
    """The functions that a module of `science` offers, in the order they are written."""
    found = [
        (name, function)
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and function.__module__ == module.__name__
    ]
    return sorted(found, key=lambda pair: pair[1].__code__.co_firstlineno)


def modules() -> Iterator[ModuleType]:
    """The modules of `science`, in the order of a brew, new ones last."""
    names = [info.name for info in pkgutil.iter_modules(generator.science.__path__) if not info.name.startswith("_")]
    for name in sorted(names, key=lambda name: (_ORDER.index(name) if name in _ORDER else len(_ORDER), name)):
        yield importlib.import_module(f"generator.science.{name}")


@cache
def chapters() -> tuple[Chapter, ...]:
    """The whole catalogue of methods."""
    return tuple(
        Chapter(
            module.__name__.rsplit(".", 1)[1],
            (module.__doc__ or "").strip().split("\n")[0].rstrip("."),
            tuple(method(name, function) for name, function in public_functions(module)),
        )
        for module in modules()
    )


def sections(docstring: str) -> dict[str, str]:
    """The sections of a docstring by heading; the text before them under ""."""
    found: dict[str, str] = {}
    heading = ""
    for line in inspect.cleandoc(docstring).split("\n"):
        match = re.fullmatch(r"([A-Z]\w+):", line)
        if match and match[1] in SECTIONS:
            heading = match[1]
            found[heading] = ""
        else:
            found[heading] = found.get(heading, "") + line + "\n"
    return {heading: inspect.cleandoc(text).strip() for heading, text in found.items()}


def method(name: str, function: Callable[..., Any]) -> Method:
    """One function as its docstring describes it."""
    parts = sections(function.__doc__ or "")
    title, _, words = parts.get("", "").partition("\n")
    arguments = [line.split(":", 1) for line in re.sub(r"\n {2,}", " ", parts.get("Args", "")).split("\n") if ":" in line]
    return Method(
        name,
        title.strip().rstrip("."),
        " ".join(words.split()),
        " ".join(parts.get("Formula", "").split()),
        tuple((key.strip(), text.strip()) for key, text in arguments),
        " ".join(parts.get("Returns", "").split()),
        " ".join(parts.get("Valid", "").split()),
        tuple(key for key in re.split(r"[;\s]+", parts.get("Source", "")) if key),
    )


def cited() -> dict[str, Source]:
    """Every source, in the order of its key."""
    return dict(sorted(SOURCES.items()))
