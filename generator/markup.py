"""The one Markdown parser: CommonMark with tables and footnotes, raw HTML as text, links of our own list only."""

import posixpath
import re
import unicodedata
from functools import cache
from urllib.parse import unquote

from markdown_it import MarkdownIt
from mdit_py_plugins.footnote import footnote_plugin

_SCHEME = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]*:")
_ALLOWED = ("http:", "https:", "mailto:")


def link_allowed(url: str) -> bool:
    """Whether a link of the notes may stand: http, https, mailto, or within the site."""
    plain = re.sub(r"[\x00-\x20]", "", unquote(url)).lower()
    if plain.startswith(("//", "\\", "/\\")):
        return False
    scheme = _SCHEME.match(plain)
    return scheme is None or scheme[0] in _ALLOWED


def photo_name(target: str) -> str:
    """The file of photos/ that a picture of the notes leads to, accents composed; "" where it leads elsewhere."""
    path = posixpath.normpath(unquote(target).replace("\\", "/"))
    folder, _, name = path.rpartition("/")
    return unicodedata.normalize("NFC", name) if folder == "photos" else ""


@cache
def parser() -> MarkdownIt:
    """The parser that reading and rendering share."""
    markdown = MarkdownIt("js-default", {"html": False, "linkify": False, "typographer": False}).enable("table").use(footnote_plugin)
    markdown.validateLink = link_allowed  # type: ignore[method-assign]
    return markdown
