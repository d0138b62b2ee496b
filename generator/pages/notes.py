"""Notes as HTML: the story, its tasting and its lessons, from Markdown that may come from anyone."""

import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markupsafe import Markup, escape

from generator.errors import shown
from generator.markup import parser
from generator.pages import plates
from generator.pages.photo_contract import Picture
from generator.pages.render import plate

_NO_PHOTOS: Mapping[str, Picture] = {}


def story(markdown: str, *, prefix: str, photos: Mapping[str, Picture] = _NO_PHOTOS) -> tuple[Markup, Markup]:
    """The notes without their lessons, and their tasting, as HTML.

    Args:
        markdown: as written.
        prefix: of every id, so that no heading of the notes can take the page's own.
        photos: the pictures of the batch, by name; one that isn't among them is named in words.

    Returns:
        (story, tasting); both may be empty.
    """
    environment: dict[str, Any] = {}
    parts = _parts(markdown, environment)
    told, tasted = (plates.plates_apart(tokens, photos) for tokens in (parts["story"], _without_heading(parts["tasting"])))
    return _html(told, environment, prefix), _html(tasted, environment, prefix)


def placed(markdown: str) -> set[str]:
    """Names of the pictures that the story and the tasting show; a lesson shows none."""
    parts = _parts(markdown, {})
    return plates.placed([*parts["story"], *parts["tasting"]])


def _parts(markdown: str, environment: dict[str, Any]) -> dict[str, list[Token]]:
    """The tokens of the notes by where they are shown; `environment` gains what their rendering needs."""
    tokens = parser().parse(markdown, environment)
    parts: dict[str, list[Token]] = {"story": [], "tasting": [], "lessons": []}
    place = "story"
    for position, token in enumerate(tokens):
        if token.type == "heading_open" and token.level == 0:
            title = tokens[position + 1].content.strip().lower()
            place = title if title in ("tasting", "lessons") else "story"
        if token.type.startswith("footnote_block"):
            place = "story"
        parts[place].append(token)
    return parts


def inline(markdown: str) -> Markup:
    """One line of Markdown as HTML."""
    return Markup(_renderer().renderInline(markdown))  # noqa: S704  (the parser escapes: see generator.markup)


def _without_heading(tokens: list[Token]) -> list[Token]:
    return tokens[3:] if tokens and tokens[0].type == "heading_open" else tokens


def _html(tokens: list[Token], environment: dict[str, Any], prefix: str) -> Markup:
    markdown = _renderer()
    html = markdown.renderer.render(_shifted(tokens), markdown.options, environment)
    html = re.sub(r'\b(id|href)="(#?)(fn(?:ref)?[\w:-]*)"', rf'\1="\2{prefix}-\3"', str(html))
    html = re.sub(r"<table>(.*?)</table>", _table, html, flags=re.DOTALL)
    return Markup(html)  # noqa: S704


def _table(match: re.Match[str]) -> str:
    inner = match[1].replace("<th>", '<th scope="col">').replace("<th style", '<th scope="col" style')
    inner = re.sub(r' style="text-align:(left|center|right)"', r' class="\1"', inner)
    return f'<div class="scroll" tabindex="0" role="group" aria-label="Table in the notes"><table class="of-notes">{inner}</table></div>'


def _shifted(tokens: list[Token]) -> list[Token]:
    """Headings of the notes go below those of the page: h3, and h4 where an h3 stands before it."""
    found, seen = [], False
    for token in tokens:
        shifted = token
        if token.type in ("heading_open", "heading_close"):
            seen = seen or token.tag in ("h1", "h2", "h3")
            shifted = token.copy(tag="h3" if token.tag in ("h1", "h2", "h3") or not seen else "h4")
        found.append(shifted)
    return found


def _image(_renderer: RendererHTML, tokens: Sequence[Token], index: int, _options: Any, _environment: Any) -> str:
    """Pictures that lie elsewhere are shown as links, never fetched; pictures of the batch by their words, where there is no room for them."""
    token = tokens[index]
    source, words = str(token.attrs.get("src", "")), escape(token.content or "picture")
    if re.match(r"https?:", source, re.IGNORECASE):
        return f'<a href="{escape(source)}">{words}</a>'
    return f'<span class="photo">[{words}: {escape(shown(source))}]</span>'


def _plate(_renderer: RendererHTML, tokens: Sequence[Token], index: int, _options: Any, _environment: Any) -> str:
    return plate(tokens[index].meta["plate"])


def _back(_renderer: RendererHTML, tokens: Sequence[Token], index: int, _options: Any, _environment: Any) -> str:
    """From a footnote back to where it is called: in words, because few fonts have the arrow."""
    meta = tokens[index].meta
    name = f"{int(meta['id']) + 1}" + (f":{int(meta['subId'])}" if meta.get("subId", 0) > 0 else "")
    return f' <a href="#fnref{name}" class="footnote-backref">back</a>'


@cache
def _renderer() -> MarkdownIt:
    markdown = parser()
    markdown.add_render_rule("image", _image)
    markdown.add_render_rule("plate", _plate)
    markdown.add_render_rule("footnote_anchor", _back)
    markdown.add_render_rule("footnote_block_open", lambda *_: '<div class="footnotes">\n<hr>\n<ol>\n')
    markdown.add_render_rule("footnote_block_close", lambda *_: "</ol>\n</div>\n")
    return markdown
