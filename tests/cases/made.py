"""Journals that no folder under version control can hold: links, pipes, bytes that are no text, files of hundreds of megabytes."""

import os
import socket
from collections.abc import Callable
from pathlib import Path

from tests.cases.made_photos import PHOTO_MAKERS

PLAN = '[batch]\nrecipe = "Tove"\nbrewed = 2026-02-14\n'
MEGABYTE = 1024 * 1024
Maker = Callable[[Path], list[str]]
"""Spoils the good journal in a folder; gives the lines that `check` must print."""
MADE: dict[str, Maker] = dict(PHOTO_MAKERS)


def good(root: Path) -> Path:
    """A journal without a fault, in a new folder beside others."""
    batch = root / "tove-1"
    batch.mkdir(parents=True)
    (root / "journal.toml").write_text('title = "Marsh End"\n', encoding="utf-8")
    (batch / "plan.toml").write_text(PLAN, encoding="utf-8")
    return root


def _made(maker: Maker) -> Maker:
    MADE[maker.__name__.strip("_").replace("_", "-")] = maker
    return maker


def _outside(root: Path) -> Path:
    outside = root.parent / "outside"
    (outside / "photos").mkdir(parents=True)
    (outside / "plan.toml").write_text(PLAN, encoding="utf-8")
    return outside


def _leaves(path: str) -> str:
    return f"{path}:1: the link leads out of the journal; expected a file or folder within the journal folder [leaves-journal]"


@_made
def _link_to_a_file_outside(root: Path) -> list[str]:
    (root / "tove-1" / "readings.csv").symlink_to(_outside(root) / "plan.toml")
    return [_leaves("tove-1/readings.csv")]


@_made
def _plan_that_is_a_link_outside(root: Path) -> list[str]:
    (root / "tove-1" / "plan.toml").unlink()
    (root / "tove-1" / "plan.toml").symlink_to("../../outside/plan.toml")
    _outside(root)
    return [_leaves("tove-1/plan.toml")]


@_made
def _batch_folder_outside(root: Path) -> list[str]:
    (root / "tove-2").symlink_to(_outside(root))
    return [_leaves("tove-2")]


@_made
def _brewhouses_outside(root: Path) -> list[str]:
    (root / "brewhouses").symlink_to(_outside(root))
    (root / "tove-1" / "plan.toml").write_text(PLAN + 'brewhouse = "ferry"\n', encoding="utf-8")
    return [_leaves("brewhouses")]


@_made
def _members_outside(root: Path) -> list[str]:
    (root / "members").symlink_to(_outside(root))
    return [_leaves("members")]


@_made
def _photos_outside(root: Path) -> list[str]:
    (root / "tove-1" / "photos").symlink_to(_outside(root) / "photos")
    return [_leaves("tove-1/photos")]


@_made
def _photo_outside(root: Path) -> list[str]:
    (root / "tove-1" / "photos").mkdir()
    (root / "tove-1" / "photos" / "mash.jpg").symlink_to("/etc/hostname")
    return [_leaves("tove-1/photos/mash.jpg")]


@_made
def _stray_link_outside(root: Path) -> list[str]:
    (root / "tove-1" / "old-notes").symlink_to(_outside(root))
    return [_leaves("tove-1/old-notes")]


@_made
def _photo_that_links_to_another_batch(root: Path) -> list[str]:
    (root / "tove-1" / "photos").mkdir()
    (root / "tove-1" / "photos" / "mash.jpg").symlink_to("../../journal.toml")
    (root / "tove-1" / "notes.md").write_text("Mash.\n\n![mash](photos/mash.jpg)\n", encoding="utf-8")
    return [
        "tove-1/notes.md:3: the photo 'photos/mash.jpg' lies outside of its batch; expected a path such as photos/mash.jpg [photo-path]",
        "tove-1/photos/mash.jpg:1: the link leads out of its batch; expected the picture itself [photo-path]",
    ]


@_made
def _link_in_a_circle(root: Path) -> list[str]:
    (root / "tove-1" / "notes.md").symlink_to("notes.md")
    return ["tove-1/notes.md:1: the link leads nowhere; expected a file or folder within the journal folder [leaves-journal]"]


@_made
def _link_to_a_file_that_is_gone(root: Path) -> list[str]:
    (root / "tove-1" / "notes.md").symlink_to("story.md")
    return ["tove-1/notes.md:1: the file can't be opened (no such file or directory); expected a file that you may read [not-a-file]"]


@_made
def _nul_bytes(root: Path) -> list[str]:
    (root / "tove-1" / "plan.toml").write_bytes(PLAN.encode() + b"\0")
    (root / "tove-1" / "readings.csv").write_bytes(b"stage,what\r\nmash,note\r\nmash,\0note\r\n")
    (root / "tove-1" / "notes.md").write_bytes(b"one\rtwo\0\r")
    expected = "the text holds a NUL byte; expected the file saved as plain text in UTF-8 [nul-byte]"
    return [f"tove-1/notes.md:2: {expected}", f"tove-1/plan.toml:4: {expected}", f"tove-1/readings.csv:3: {expected}"]


@_made
def _other_encodings(root: Path) -> list[str]:
    (root / "tove-1" / "plan.toml").write_bytes(b"\xef\xbb\xbf" + PLAN.encode() + 'title = "Märzen"\n'.encode("latin-1"))
    (root / "tove-1" / "readings.csv").write_bytes("stage,what\rmash,note\rmash,°note\r".encode("cp1252"))
    (root / "journal.toml").write_bytes('title = "Marsh End"\n'.encode("utf-16-be").replace(b"\0", b"\xfe"))
    expected = "is not UTF-8; expected the file saved as plain text in UTF-8 [not-utf8]"
    return [f"journal.toml:1: byte 0xfe {expected}", f"tove-1/plan.toml:4: byte 0xe4 {expected}", f"tove-1/readings.csv:3: byte 0xb0 {expected}"]


@_made
def _files_over_their_limit(root: Path) -> list[str]:
    lines = []
    for name, limit in (("gravity-log.csv", 64), ("notes.md", 4), ("plan.toml", 4), ("readings.csv", 64)):
        with (root / "tove-1" / name).open("wb") as file:
            file.truncate(200 * MEGABYTE)
        lines.append(f"tove-1/{name}:1: the file is too large (200.0 MB); expected at most {limit} MB [file-too-large]")
    return lines


@_made
def _a_byte_over_the_limit(root: Path) -> list[str]:
    (root / "tove-1" / "notes.md").write_bytes(b"x" * (4 * MEGABYTE + 1))
    return ["tove-1/notes.md:1: the file is too large (4.0 MB); expected at most 4 MB [file-too-large]"]


@_made
def _folders_for_files(root: Path) -> list[str]:
    (root / "tove-1" / "plan.toml").unlink()
    names = ("journal.toml", "tove-1/gravity-log.csv", "tove-1/notes.md", "tove-1/plan.toml", "tove-1/readings.csv")
    (root / "journal.toml").unlink()
    for name in names:
        (root / name).mkdir()
    return [f"{name}:1: this is not a file; expected a file, not a folder, pipe or device [not-a-file]" for name in names]


@_made
def _brewhouse_that_is_a_folder(root: Path) -> list[str]:
    (root / "brewhouses" / "ferry.toml").mkdir(parents=True)
    (root / "tove-1" / "plan.toml").write_text(PLAN + 'brewhouse = "ferry"\n', encoding="utf-8")
    return ["brewhouses/ferry.toml:1: this is not a file; expected a file, not a folder, pipe or device [not-a-file]"]


@_made
def _pipe(root: Path) -> list[str]:
    os.mkfifo(root / "tove-1" / "readings.csv")
    return ["tove-1/readings.csv:1: this is not a file; expected a file, not a folder, pipe or device [not-a-file]"]


@_made
def _socket(root: Path) -> list[str]:
    here = Path.cwd()
    os.chdir(root)  # the name of a socket may not be long
    try:
        with socket.socket(socket.AF_UNIX) as unix:
            unix.bind("tove-1/notes.md")
    finally:
        os.chdir(here)
    return ["tove-1/notes.md:1: the file can't be opened (no such device or address); expected a file that you may read [not-a-file]"]


@_made
def _number_of_5000_digits(root: Path) -> list[str]:
    digits = "9" * 5000
    (root / "tove-1" / "plan.toml").write_text(f"{PLAN}\n[yeast]\ncells = {digits}\n", encoding="utf-8")
    for name, value in (("tove-2", "9" * 400), ("tove-3", "0x" + "f" * 5000), ("tove-4", f'"{digits}"')):
        (root / name).mkdir()
        (root / name / "plan.toml").write_text(f"{PLAN}\n[yeast]\ncells = {value}\n", encoding="utf-8")
    (root / "tove-5").mkdir()
    (root / "tove-5" / "plan.toml").write_text(f'{PLAN}[target]\nvolume = "{digits} L"\nmash_ph = {digits[:400]}\n', encoding="utf-8")
    (root / "tove-5" / "readings.csv").write_text(f"stage,what,value,unit\npre-boil,volume,{digits},L\nmash,ph,{digits[:400]},\n", encoding="utf-8")
    many, quoted = "a number of too many digits is not a finite number", "9" * 79 + "…"
    return [
        "tove-1/plan.toml:6: a number has thousands of digits; expected a finite number [not-a-number]",
        f"tove-2/plan.toml:6: yeast.cells: {many}; expected a number, as in 230e9 [not-a-number]",
        f"tove-3/plan.toml:6: yeast.cells: {many}; expected a number, as in 230e9 [not-a-number]",
        f"tove-4/plan.toml:6: yeast.cells: '{quoted}' is not a finite number; expected a number of cells, as in \"230e9\" [not-a-number]",
        f"tove-5/plan.toml:5: target.volume: '{quoted}' is too long for a volume; expected a number and a unit, as in \"19 L\" [not-a-number]",
        f"tove-5/plan.toml:6: target.mash_ph: {many}; expected a number, as in 5.3 [not-a-number]",
        f"tove-5/readings.csv:2: value: '{quoted}' is not a finite number; expected a number such as 24.5 [not-a-number]",
        f"tove-5/readings.csv:3: value: '{quoted}' is not a finite number; expected a number such as 24.5 [not-a-number]",
    ]


@_made
def _deep_nesting(root: Path) -> list[str]:
    expected = 'expected lines such as key = "value" under [table] headers [bad-toml]'
    (root / "brewhouses").mkdir()
    (root / "brewhouses" / "ferry.toml").write_text("name = " + "[" * 100_000 + "]" * 100_000 + "\n", encoding="utf-8")
    (root / "tove-1" / "plan.toml").write_text(PLAN + "\n" + ".".join("a" * 100_000) + " = 1\n", encoding="utf-8")
    (root / "tove-1" / "notes.md").write_text("> " * 20_000 + "\n" + "- " * 20_000 + "\n" + "*a **b " * 5_000 + "^[" * 2_000, encoding="utf-8")
    return [
        f"brewhouses/ferry.toml:1: this is not TOML: it is nested too deeply; {expected}",
        f"tove-1/plan.toml:5: this is not TOML: a key has a hundred parts; {expected}",
    ]


@_made
def _cell_without_an_end(root: Path) -> list[str]:
    (root / "tove-1" / "readings.csv").write_text("stage,what,note\nmash,note,short\nmash,note," + "x" * 200_000 + "\n", encoding="utf-8")
    what = "the row that begins here can't be read: a cell is endless, as after a quote mark that is never closed"
    return [f'tove-1/readings.csv:3: {what}; expected every quote mark (") to be closed, and one within a cell to be doubled ("") [bad-csv]']


@_made
def _names_that_a_terminal_would_obey(root: Path) -> list[str]:
    for name in ("\x1b]0;owned\x07", "gpj\u202e.nepo", os.fsdecode(b"latin-\xe4")):
        (root / name).mkdir()
        (root / name / "plan.toml").write_text(PLAN, encoding="utf-8")
    names = ("\ufffd]0;owned\ufffd", "gpj\ufffd.nepo", "latin-\ufffd")
    return [f"{name}/plan.toml:1: '{name}' can't name a page; expected letters, digits, - and _ [folder-name]" for name in names]


@_made
def _more_problems_than_anyone_reads(root: Path) -> list[str]:
    (root / "tove-1" / "readings.csv").write_text("stage,what\n" + "kettle,what\n" * 20_000, encoding="utf-8")
    stages = "mash, first-wort, sparge, pre-boil, boil, post-boil, fermenter, package, tasting"
    lines = [f"tove-1/readings.csv:{line}: unknown stage 'kettle'; expected one of {stages} [unknown-stage]" for line in range(2, 10_002)]
    return [*lines, "tove-1/readings.csv:10002: the first 10000 problems are listed; there are more; expected fewer [too-many-problems]"]


@_made
def _long_paths(root: Path) -> list[str]:
    name = "a-very-long-name-of-a-batch-" * 4
    (root / name).mkdir()
    (root / name / "plan.toml").write_text(PLAN + f'colour = "dark"\nfollows = "{"z" * 500}"\n', encoding="utf-8")
    known = "recipe, brewed, brewhouse, title, summary, tags, follows, allergens, draft"
    return [f"{name}/plan.toml:4: unknown key 'colour' in [batch]; expected one of {known} [unknown-key]"]
