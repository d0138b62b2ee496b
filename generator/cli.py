"""The command line: parses, prints, exits; everything else is in the library."""

import os
import shutil
import signal
import sys
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, NoReturn

import click

from generator import __version__
from generator.errors import JournalError, OutputError, nearest, shown

if TYPE_CHECKING:
    from generator.planning import Found

_JOURNAL = click.argument("journal", type=click.Path(path_type=Path, file_okay=False), default="batches", required=False)
_OF_JOURNAL = click.option(
    "-j", "--journal", type=click.Path(path_type=Path, file_okay=False), default="batches", show_default=True, help="Its journal."
)
_QUIET = click.option("-q", "--quiet", is_flag=True, help="Print problems only.")
_PROBLEMS, _FAULT, _INPUT_OUTPUT, _INTERRUPTED = 1, 70, 74, 130
_STOPPED = "interrupted; what was published stands"
_PATIENCE = 0.5
"""Seconds that an interrupted build has to tidy up."""

_EXAMPLES = """\b
Examples:
  wortledger check                      look for problems in batches/
  wortledger build                      build site/ from batches/
  wortledger build ~/beer --out public  another journal, another site
  wortledger plan stout-4               print the numbers of a brew day
  wortledger single stout-4             one batch as one file, to mail

Then open site/index.html in a browser; it needs no server.

\b
Exit status:
    0  done
    1  the journal has problems; nothing was published
    2  wrong usage
   70  a fault of wortledger itself
   73  the site folder isn't ours to replace
   74  a file can't be read or written
   75  another build is writing the same site
  130  interrupted
Whatever happens, the published site is whole: the former one or the new one.
"""
_BUILD_EXAMPLES = """\b
Examples:
  wortledger build                      build site/ from batches/
  wortledger build ~/beer --out public  another journal, another site
  wortledger build --quiet              for a script: print problems only

\b
Exit status: 0 done, 1 the journal has problems, 2 wrong usage, 70 a fault of wortledger,
73 the site folder isn't ours to replace, 74 a file can't be read or written,
75 another build is writing the same site, 130 interrupted.
"""
_CHECK_EXAMPLES = """\b
Examples:
  wortledger check                      look for problems in batches/
  wortledger check ~/beer               in another journal

\b
Exit status: 0 no problems, 1 problems, 2 wrong usage, 70 a fault of wortledger,
74 a file can't be read, 130 interrupted.
"""
_PLAN_EXAMPLES = """\b
Examples:
  wortledger plan stout-4                      a batch of batches/
  wortledger plan ~/beer/stout-4               its folder
  wortledger plan stout-4 --journal ~/beer     a batch of another journal
  wortledger plan stout-4 --set target.volume="15 L"
  wortledger plan stout-4 --set grist.1.mass="6 kg"
  wortledger plan stout-4 --set 'hops."Fuggles".mass=50 g'
  wortledger plan stout-4 --scale "15 L" > plan.toml

\b
Exit status: 0 done, 1 the journal or a change has problems, 2 wrong usage,
70 a fault of wortledger, 74 a file can't be read, 130 interrupted.
"""
_SINGLE_EXAMPLES = """\b
Examples:
  wortledger single stout-4                    write stout-4.html
  wortledger single ~/beer/stout-4 -o mail.html
  wortledger single stout-4 --journal ~/beer -o - > mail.html

\b
Exit status: 0 done, 1 the journal has problems, 2 wrong usage, 70 a fault of wortledger,
73 the file isn't ours to replace, 74 a file can't be read or written, 130 interrupted.
"""


class _Teaching(click.Group):
    """Names the nearest command for a mistyped one, and never runs a guess."""

    def resolve_command(self, ctx: click.Context, args: list[str]) -> tuple[str | None, click.Command | None, list[str]]:
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            raise click.UsageError(f"no command '{shown(args[0])}'; {nearest(args[0], tuple(self.list_commands(ctx)))}", ctx)
        return super().resolve_command(ctx, args)


@click.group(
    cls=_Teaching,
    invoke_without_command=True,
    epilog=_EXAMPLES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96},
)
@click.version_option(__version__, prog_name="wortledger")
@click.pass_context
def main(context: click.Context) -> None:
    """Batch folders in, a brewing journal out.

    A journal is a folder with journal.toml and one folder a batch: plan.toml, readings.csv, notes.md.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


@main.command(epilog=_BUILD_EXAMPLES)
@_JOURNAL
@click.option("-o", "--out", type=click.Path(path_type=Path), default="site", show_default=True, help="Folder of the site.")
@_QUIET
def build(journal: Path, out: Path, quiet: bool) -> None:
    """Build the site of JOURNAL (default: batches).

    The whole journal is read and checked first. If anything is wrong, every problem is printed as
    path:line: what is wrong; what was expected [slug], and the published site stays as it was.
    The new site is swapped in at once when it is complete.
    """
    with _messages() as interruption:
        _there(journal)
        from generator.build import build as build_site  # noqa: PLC0415  (help must not load the libraries of the sciences)

        interruption.tidy = True
        built = build_site(journal, out, _no_progress if quiet or _plain() else _progress)
        if not quiet:
            pages = f"{built.pages} page{'s' if built.pages != 1 else ''}"
            _say(f"{_counted(built.batches, built.drafts)}, {pages}: {click.format_filename(built.index)}")


@main.command(epilog=_CHECK_EXAMPLES)
@_JOURNAL
@_QUIET
def check(journal: Path, quiet: bool) -> None:
    """Look for problems in JOURNAL (default: batches); write nothing."""
    with _messages() as interruption:
        _there(journal)
        from generator.build import check as check_journal  # noqa: PLC0415

        interruption.tidy = True
        found = check_journal(journal)
        if not quiet:
            _say(f"{_counted(len(found.batches), found.drafts)}, no problems")


@main.command(epilog=_PLAN_EXAMPLES)
@click.argument("batch")
@_OF_JOURNAL
@click.option("--set", "changes", multiple=True, metavar="KEY=VALUE", help="Try another value.")
@click.option("--scale", metavar="VOLUME", help="Print a scaled plan.toml.")
def plan(batch: str, journal: Path, changes: tuple[str, ...], scale: str | None) -> None:
    """Print the brew-day numbers of BATCH, a slug or a folder.

    --set, once or more often, shows what changes if a key of plan.toml had another value; an entry of a list
    goes by its number or its name, and an empty value leaves the key out. No file is changed.

    --scale prints the plan for another volume into the fermenter, with the gravity and bitterness that it predicts now.
    """
    with _messages() as interruption:
        found = _found(interruption, batch, journal)
        from generator import planning  # noqa: PLC0415

        try:
            wanted = planning.parse(changes)
        except planning.NoChangeError as error:
            raise click.UsageError(str(error)) from error
        draft = planning.changed(found, wanted)
        if scale is not None:
            _say(planning.scaled(found, draft, scale).encode())
            return
        from generator import terminal  # noqa: PLC0415

        width, colour = shutil.get_terminal_size().columns, not _colourless()
        after = planning.report(draft.batch)
        if changes:
            text = terminal.comparison(planning.report(found.unread), after, changes, width, colour=colour)
        else:
            text = terminal.page(after, width, colour=colour)
        _say(_writable(text))


@main.command(epilog=_SINGLE_EXAMPLES)
@click.argument("batch")
@_OF_JOURNAL
@click.option("-o", "--out", type=click.Path(path_type=Path, allow_dash=True), help="The file; - for stdout.  [default: its slug.html]")
@_QUIET
def single(batch: str, journal: Path, out: Path | None, quiet: bool) -> None:
    """Write the page of BATCH, a slug or a folder, as one HTML file.

    Styles, fonts, charts and pictures are inside: it can be mailed, opens without a connection and prints as the page does.
    Links lead to the published journal if journal.toml has a base_url. A file of that name is replaced only if this
    command made it.
    """
    with _messages() as interruption:
        found = _found(interruption, batch, journal)
        from generator.build import one_file  # noqa: PLC0415
        from generator.pages.embed import MARK  # noqa: PLC0415
        from generator.publish.one_file import write_one  # noqa: PLC0415

        content = one_file(found)
        if out == Path("-"):
            _say(content)
            return
        target = out or Path(f"{found.batch.slug}.html")
        write_one(target, content, MARK.encode())
        if not quiet:
            _say(f"{len(content) / 1000:,.0f} kB: {click.format_filename(target)}")


@main.command("help")
@click.argument("command", required=False)
@click.pass_context
def help_(context: click.Context, command: str | None) -> None:
    """Print the help of wortledger or of a COMMAND."""
    above = context.find_root()
    if command is None:
        click.echo(above.get_help())
        return
    _, found, _ = main.resolve_command(above, [command])
    if found is not None:
        with click.Context(found, info_name=command, parent=above) as below:
            click.echo(found.get_help(below))


def _found(interruption: "_Interruption", batch: str, journal: Path) -> "Found":
    """A batch by its slug or folder."""
    from generator import planning  # noqa: PLC0415

    root = planning.journal_of(Path(batch)) if planning.is_batch_folder(Path(batch)) else journal
    _there(root)
    interruption.tidy = True
    try:
        return planning.find(root, batch)
    except planning.NoSuchBatchError as error:
        raise click.UsageError(str(error)) from error


def _there(journal: Path) -> None:
    """Exit if there is no such folder, with the place where it was looked for."""
    if not os.path.lexists(journal):
        here = "" if journal.is_absolute() else f" in {Path.cwd()}"
        click.echo(f"wortledger: there is no folder {click.format_filename(journal)}{here}; expected a folder with a journal.toml", err=True)
        sys.exit(_PROBLEMS)


def _counted(batches: int, drafts: tuple[str, ...]) -> str:
    return f"{batches} batch{'es' if batches != 1 else ''}" + (f", {len(drafts)} left as draft" if drafts else "")


def _say(text: str | bytes) -> None:
    """Print a result; a reader that has gone away is no failure."""
    try:
        click.echo(text, nl=not isinstance(text, bytes))
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _writable(text: str) -> str:
    """The text without what stdout can't write, as in a plain locale."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return text.encode(encoding, "replace").decode(encoding)


def _colourless() -> bool:
    """Whether stdout is no place for bold and colour, or nobody wants them."""
    return bool(os.environ.get("NO_COLOR")) or not sys.stdout or not sys.stdout.isatty() or os.environ.get("TERM") == "dumb"


class _Interrupted(KeyboardInterrupt):
    """Ctrl-C; of a class of its own, as Python exits in its own way once it has seen a plain one."""


class _Interruption:
    """What SIGINT does: leave at once while libraries are loading, else tidy up, but not for long.

    Leaving at once is safe at any moment, as a site is whole at any moment. Libraries that are being loaded may swallow
    an exception, or make another of it.
    """

    def __init__(self) -> None:
        self.tidy = self.asked = False

    def __call__(self, _number: int, _frame: FrameType | None) -> None:
        if not self.tidy or self.asked:
            self.leave()
        self.asked = True
        signal.signal(signal.SIGALRM, self.leave)
        signal.setitimer(signal.ITIMER_REAL, _PATIENCE)
        raise _Interrupted

    @staticmethod
    def leave(_number: int = 0, _frame: FrameType | None = None) -> NoReturn:
        """End the process, now."""
        os.write(2, f"{_STOPPED}\n".encode())
        os._exit(_INTERRUPTED)

    @contextmanager
    def watching(self) -> Iterator[None]:
        """Take SIGINT, unless it is ignored, as it is for what a shell runs in the background."""
        former = signal.getsignal(signal.SIGINT)
        if former is not signal.SIG_IGN:
            signal.signal(signal.SIGINT, self)
        try:
            yield
        finally:
            signal.setitimer(signal.ITIMER_REAL, 0)
            signal.signal(signal.SIGINT, former)


@contextmanager
def _messages() -> Iterator[_Interruption]:
    """Turn what went wrong into text on stderr and an exit status."""
    interruption = _Interruption()
    try:
        with interruption.watching():
            yield interruption
    except click.ClickException:
        raise
    except JournalError as error:
        for problem in error.problems:
            click.echo(_problem(str(problem)), err=True)
        count = len(error.problems)
        click.echo(f"{count} problem{'s' if count > 1 else ''}; nothing was published", err=True)
        sys.exit(_PROBLEMS)
    except OutputError as error:
        click.echo(f"wortledger: {error}", err=True)
        sys.exit(error.status)
    except KeyboardInterrupt:
        click.echo(_STOPPED, err=True)
        sys.exit(_INTERRUPTED)
    except OSError as error:
        where = f"{click.format_filename(error.filename)}: " if error.filename else ""
        click.echo(f"wortledger: {where}{error.strerror or error}; what was published stands", err=True)
        sys.exit(_INPUT_OUTPUT)
    except Exception:  # noqa: BLE001  (the last wall: say whose fault it is)
        if interruption.asked:  # a library made something else of it
            click.echo(_STOPPED, err=True)
            sys.exit(_INTERRUPTED)
        traceback.print_exc()
        click.echo("wortledger: this is a fault of wortledger, not of your journal; what was published stands; please report it", err=True)
        sys.exit(_FAULT)


def _plain() -> bool:
    """Whether stderr is no place for bars and bold."""
    return not sys.stderr or not sys.stderr.isatty() or os.environ.get("TERM") == "dumb"


def _problem(text: str) -> str:
    """A problem, its place in bold where the terminal likes colour."""
    if os.environ.get("NO_COLOR") or _plain():
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
