"""The page that finds batches by their words, and its index: a script that sets one global, so that it works from a folder too."""

import json
import re
from collections.abc import Iterable, Iterator

from markdown_it.token import Token

from generator.analysis.catalogue import BY_KEY
from generator.analysis.report import Report
from generator.markup import parser
from generator.pages.account import row
from generator.pages.finding_contract import SearchPage
from generator.pages.formatting import plural
from generator.pages.ingredients import uses
from generator.pages.site_map import SiteMap, title
from generator.pages.words import STOP_WORDS, words

PATH = "search.html"
INDEX = "assets/search-index.js"
SHOWN = ("original_gravity", "final_gravity", "abv", "bitterness", "colour", "fermenter_volume", "mash_efficiency", "apparent_attenuation")
"""The figures that can be looked for, as printed: what was read, else what was planned."""
DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ!#$%()*+,-/:;=?@[]^_{|}"
"""Signs of the postings. None is in a folded word, so words and postings part without a separator."""
_LAST = 40
"""The first so many signs end a number, the others carry it on."""
LESSONS = "~"
"""Parts the batches whose story has a word from those whose lessons have it."""
_PREFIXES = "0123456789abcdefghijklmnopqrstuvwxyz"
_TEXTS = ("text", "code_inline", "image")


def search_page(site: SiteMap) -> SearchPage:
    """search.html."""
    description = f"Find batches of {site.settings.title} by the words of their notes, lessons, ingredients and figures."
    return SearchPage(
        site.shell("Search", description, PATH, PATH),
        "Search",
        f"Notes, lessons, ingredients and figures of {plural(len(site.reports), 'batch', 'batches')}",
    )


def index(site: SiteMap) -> str:
    """The index as a script: `var wortledgerIndex = {…}`.

    Batches stand in the order of the register, the newest first, and are named by their place. `names`, `recipes` and `labels` are
    lists that a batch refers into. `words` holds each word of the stories and lessons once, in alphabetical order: one sign for
    the letters that it shares with the word before, the letters that follow, and the batches that have it.
    """
    names, recipes = _numbered(used.name for report in site.reports for used in uses(report)), _numbered(map(_recipe, site.reports))
    entries = [BY_KEY[key] for key in SHOWN]
    found = {
        "labels": [f"{entry.label}{', ' + entry.unit if entry.unit != 'SG' else ''}" for entry in entries],
        "recipes": list(recipes),
        "names": list(names),
        "batches": [
            [
                report.batch.slug, "" if title(report) == _recipe(report) else title(report), recipes[_recipe(report)],
                report.batch.plan.batch.brewed.isoformat(), "" if report.batch.brewer == site.settings.brewer else report.batch.brewer,
                sorted({names[used.name] for used in uses(report)}), "|".join(_figures(report)),
            ]
            for report in site.reports
        ],
        "common": sorted(STOP_WORDS),
        "words": packed(_postings(site.reports)),
    }  # fmt: skip
    return f"var wortledgerIndex = {script_json(found)};\n"


def script_json(value: object) -> str:
    """JSON that may stand in any script: nothing in it closes an element or breaks a line."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return re.sub("[<>&\u2028\u2029\x7f-\x9f\ud800-\udfff]", lambda match: f"\\u{ord(match[0]):04x}", text)


def _recipe(report: Report) -> str:
    return report.batch.plan.batch.recipe


def _numbered(names: Iterable[str]) -> dict[str, int]:
    """Names with their places, in the order in which they first come."""
    found: dict[str, int] = {}
    for name in names:
        found.setdefault(name, len(found))
    return found


def _figures(report: Report) -> Iterator[str]:
    for key in SHOWN:
        shown = row(report.figures[key])
        yield shown.read.text or shown.plan.text


def _postings(reports: Iterable[Report]) -> dict[str, tuple[list[int], list[int]]]:
    """Each word with the batches whose story and whose lessons have it."""
    found: dict[str, tuple[list[int], list[int]]] = {}
    for number, report in enumerate(reports):
        for place, text in enumerate(texts(report)):
            for word in set(words(text)):
                found.setdefault(word, ([], []))[place].append(number)
    return found


def texts(report: Report) -> tuple[str, str]:
    """What can be found in the story of a batch, with its summary, tags and the notes among its readings; and in its lessons."""
    about = report.batch.plan.batch
    story, lessons = [about.summary, *about.tags], list[str]()
    inside = False
    tokens = parser().parse(report.batch.notes.markdown)
    for position, token in enumerate(tokens):
        if token.type == "heading_open" and token.level == 0:
            inside = tokens[position + 1].content.strip().lower() == "lessons"
        elif token.type.startswith("footnote_block"):
            inside = False
        (lessons if inside else story).append(_plain(token))
    story += [entry.reading.note for entry in report.timeline]
    return "\n".join(story), "\n".join(lessons)


def _plain(token: Token) -> str:
    """The text of a block without its markup: no addresses of links or pictures."""
    if token.type in ("fence", "code_block"):
        return token.content
    return "".join(child.content if child.type in _TEXTS else " " if child.type.endswith("break") else "" for child in token.children or [])


def packed(postings: dict[str, tuple[list[int], list[int]]]) -> str:
    """Words and their batches as one text.

    Args:
        postings: by word, rising numbers of the batches whose story has it, and of those whose lessons have it.
    """
    parts, before = [], ""
    for word in sorted(postings):
        shared = 0
        while shared < min(len(word) - 1, len(before), len(_PREFIXES) - 1) and word[shared] == before[shared]:
            shared += 1
        story, lessons = postings[word]
        parts.append(f"{_PREFIXES[shared]}{word[shared:]}{_gaps(story)}{LESSONS + _gaps(lessons) if lessons else ''}")
        before = word
    return "".join(parts)


def _gaps(numbers: list[int]) -> str:
    """Rising numbers as the gaps between them; most take one sign."""
    found, before = "", -1
    for number in numbers:
        gap, before = number - before - 1, number
        signs = DIGITS[gap % _LAST]
        gap //= _LAST
        more = len(DIGITS) - _LAST
        while gap:
            gap, digit = divmod(gap - 1, more)
            signs = DIGITS[_LAST + digit] + signs
        found += signs
    return found
