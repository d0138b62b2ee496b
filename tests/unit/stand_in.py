"""The command line before a library that does nothing, so that what it does with streams and signals is seen at once.

`python -m tests.unit.stand_in WAY ARGUMENTS...`: the ways are the functions below.
"""

import signal
import sys
import time
import types
from collections.abc import Callable
from contextlib import AbstractContextManager, suppress
from pathlib import Path
from types import SimpleNamespace

from generator import cli
from generator.errors import JournalError, Problem


def fine() -> None:
    """Nothing is wrong."""


def faulty() -> None:
    """Two problems."""
    raise JournalError([Problem("journal.toml", line, "the key is wrong", "expected another", "unknown-key") for line in (1, 2)])


def very_faulty() -> None:
    """Five thousand problems."""
    raise JournalError([Problem("journal.toml", line, "the key is wrong", "expected another", "unknown-key") for line in range(1, 5001)])


def interrupted() -> None:
    """SIGINT, and nobody in its way."""
    signal.raise_signal(signal.SIGINT)


def interrupted_and_renamed() -> None:
    """SIGINT, of which a library makes another exception."""
    try:
        signal.raise_signal(signal.SIGINT)
    except BaseException as error:
        raise ImportError("odd") from error


def interrupted_and_swallowed() -> None:
    """SIGINT, which a library swallows, and goes on."""
    try:
        signal.raise_signal(signal.SIGINT)
    except BaseException:  # noqa: BLE001
        time.sleep(30)


def interrupted_twice() -> None:
    """SIGINT, and again while it is tidying up, which it would go on with."""
    try:
        signal.raise_signal(signal.SIGINT)
    finally:
        swallowed_while_loading()


def interrupted_in_made_up_code() -> None:
    """SIGINT in code that a library made up as text; Python takes note of that."""
    exec("signal.raise_signal(signal.SIGINT)", {"signal": signal})  # noqa: S102


def swallowed_while_loading() -> None:
    """SIGINT while the library is loading, which swallows it, and goes on."""
    with suppress(BaseException):
        signal.raise_signal(signal.SIGINT)
    print("still here", file=sys.stderr)


def ignoring() -> None:
    """SIGINT where it is ignored, as it is in the background of a script."""
    signal.raise_signal(signal.SIGINT)


def _library(way: Callable[[], None]) -> types.ModuleType:
    def check(_root: Path) -> SimpleNamespace:
        way()
        return SimpleNamespace(batches=("one",), drafts=())

    def build(root: Path, out: Path, step: Callable[[str, int], AbstractContextManager[Callable[[], None]]]) -> SimpleNamespace:
        check(root)
        for name in ("Computing", "Drawing and writing"):
            with step(name, 2) as done:
                done()
                done()
        return SimpleNamespace(batches=1, pages=6, drafts=(), index=out / "index.html")

    module = types.ModuleType("generator.build")
    module.__dict__.update(check=check, build=build)
    return module


class _Loading:
    """Stands where the library is looked for, and does as its way says."""

    def find_spec(self, name: str, *_more: object) -> None:
        if name == "generator.build":
            swallowed_while_loading()


def main() -> None:
    """Put the stand-in where the library is imported from, and run the command."""
    way = globals()[sys.argv.pop(1)]
    if way is ignoring:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    if way is swallowed_while_loading:
        sys.meta_path.insert(0, _Loading())  # type: ignore[arg-type]
    else:
        sys.modules["generator.build"] = _library(way)
    cli.main(prog_name="wortledger")


if __name__ == "__main__":
    main()
