"""What generator.science offers, found by walking it, and the mark that says which test stands for which function."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from types import ModuleType
from typing import Any

import generator.science

Function = Callable[..., Any]


def modules() -> dict[str, ModuleType]:
    """The public modules of generator.science by their short name."""
    names = (info.name for info in pkgutil.iter_modules(generator.science.__path__) if not info.name.startswith("_"))
    return {name: importlib.import_module(f"generator.science.{name}") for name in names}


def public_functions() -> dict[str, Function]:
    """Every public function by its short name, as in `water.density`."""
    return {
        f"{short}.{name}": function
        for short, module in modules().items()
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    }


def short_name(function: Function) -> str:
    """A function's name on the methods page, as in `water.density`."""
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


def stands_for(*functions: Function) -> Callable[[Function], Function]:
    """Mark a test as the independent check of these functions; it must call each of them itself."""

    def mark(test: Function) -> Function:
        used = test.__code__.co_names + tuple(name for part in test.__code__.co_consts if inspect.iscode(part) for name in part.co_names)
        unused = [short_name(function) for function in functions if function.__name__ not in used]
        if unused:
            raise TypeError(f"{test.__name__} never calls {', '.join(unused)}")
        test.__dict__["stands_for"] = functions
        return test

    return mark


def marked(module: ModuleType) -> set[str]:
    """Short names of the functions that the tests of a module stand for."""
    tests = (test for name, test in inspect.getmembers(module, inspect.isfunction) if name.startswith("test_"))
    return {short_name(function) for test in tests for function in test.__dict__.get("stands_for", ())}
