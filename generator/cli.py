"""The command line: parses, prints, exits; everything else is in the library."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from generator import __version__
from generator.errors import JournalError, OutputError

_JOURNAL = click.argument("journal", type=click.Path(path_type=Path, file_okay=False), default="batches", required=False)
_INTERRUPTED = 130


class _Teaching(click.Group):
    """Names the nearest command for a mistyped one, and never runs a guess."""

    def resolve_command(self, ctx: click.Context, args: list[str]) -> tuple[str | None, click.Command | None, list[str]]:
        from generator.errors import nearest  # noqa: PLC0415

        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            raise click.UsageError(f"no command '{args[0]}'; {nearest(args[0], tuple(self.list_commands(ctx)))}", ctx)
        return super().resolve_command(ctx, args)


@click.group(cls=_Teaching, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96})
@click.version_option(__version__, prog_name="wortledger")
def main() -> None:
    r"""Batch folders in, a brewing journal out.

    A journal is a folder with journal.toml and one folder a batch: plan.toml, readings.csv, notes.md.

    \b
    Examples:
      wortledger check                      look for problems in batches/
      wortledger build                      build site/ from batches/
      wortledger build ~/beer --out public  another journal, another site

    Then open site/index.html in a browser; it needs no server.

    \b
    Exit status: 0 done, 1 the journal has problems, 2 wrong usage,
    73 the site folder isn't ours, 74 it can't be written, 75 another build is at it, 130 interrupted.
    """


@main.command()
@_JOURNAL
@click.option("-o", "--out", type=click.Path(path_type=Path), default="site", show_default=True, help="Folder of the site.")
@click.option("-q", "--quiet", is_flag=True, help="Print problems only.")
def build(journal: Path, out: Path, quiet: bool) -> None:
    """Build the site of JOURNAL (default: batches).

    The whole journal is read and checked first. If anything is wrong, every problem is printed as
    path:line: what is wrong; what was expected [slug], and the published site stays as it was.
    The new site is swapped in at once when it is complete.
    """
    from generator.build import build as build_site  # noqa: PLC0415

    with _messages():
        built = build_site(journal, out, _progress if not quiet and sys.stderr.isatty() else _no_progress)
        if not quiet:
            drafts = f", {len(built.drafts)} left as draft" if built.drafts else ""
            click.echo(f"{built.batches} batches{drafts}, {built.pages} pages: {built.index}")


@main.command()
@_JOURNAL
@click.option("-q", "--quiet", is_flag=True, help="Print problems only.")
def check(journal: Path, quiet: bool) -> None:
    """Look for problems in JOURNAL (default: batches); write nothing."""
    from generator.build import check as check_journal  # noqa: PLC0415

    with _messages():
        found = check_journal(journal)
        if not quiet:
            click.echo(f"{len(found.batches)} batches, no problems")


@contextmanager
def _messages() -> Iterator[None]:
    """Turn what went wrong into text on stderr and an exit status."""
    try:
        yield
    except JournalError as error:
        for problem in error.problems:
            click.echo(_problem(str(problem)), err=True)
        count = len(error.problems)
        click.echo(f"{count} problem{'s' if count > 1 else ''}; nothing was published", err=True)
        sys.exit(1)
    except OutputError as error:
        click.echo(f"wortledger: {error}", err=True)
        sys.exit(error.status)
    except KeyboardInterrupt:
        click.echo("interrupted; what was published stands", err=True)
        sys.exit(_INTERRUPTED)


def _problem(text: str) -> str:
    """A problem, its place in bold where the terminal likes colour."""
    if os.environ.get("NO_COLOR") or not sys.stderr.isatty() or os.environ.get("TERM") == "dumb":
        return text
    place, _, rest = text.partition(": ")
    return f"{click.style(place, bold=True)}: {rest}"


@contextmanager
def _no_progress(_name: str, _steps: int) -> Iterator[Callable[[], None]]:
    yield lambda: None


@contextmanager
def _progress(name: str, steps: int) -> Iterator[Callable[[], None]]:
    """A progress bar on stderr."""
    from rich.console import Console  # noqa: PLC0415
    from rich.progress import Progress  # noqa: PLC0415

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(name, total=steps)
        yield lambda: bar.advance(task)
