"""Pages as trees: html5lib in its strict mode, which refuses what a browser would silently mend."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")


@dataclass(frozen=True)
class Page:
    """One page of a site."""

    path: str
    """Within the site."""
    root: ElementTree.Element

    @cached_property
    def elements(self) -> tuple[ElementTree.Element, ...]:
        """All elements, in document order, without comments."""
        return tuple(element for element in self.root.iter() if isinstance(element.tag, str))

    @cached_property
    def ids(self) -> list[str]:
        """All ids, in document order."""
        return [element.attrib["id"] for element in self.elements if "id" in element.attrib]

    @cached_property
    def parents(self) -> dict[ElementTree.Element, ElementTree.Element]:
        """Each element's parent."""
        return {child: parent for parent in self.elements for child in parent}

    def all(self, *tags: str) -> Iterator[ElementTree.Element]:
        """Elements of some kinds."""
        return (element for element in self.elements if element.tag in tags)

    def by_id(self, name: str) -> ElementTree.Element:
        """The element with an id."""
        return next(element for element in self.elements if element.get("id") == name)

    def ancestors(self, element: ElementTree.Element) -> Iterator[ElementTree.Element]:
        """All that an element stands in, from the inside."""
        while element in self.parents:
            element = self.parents[element]
            yield element


def text(element: ElementTree.Element) -> str:
    """All text in an element, spaces folded."""
    return " ".join("".join(element.itertext()).split())


def parse(html: str, path: str = "") -> Page:
    """A page from its source; raises where it has any parse error."""
    parser: Any = html5lib.HTMLParser(html5lib.getTreeBuilder("etree"), strict=True, namespaceHTMLElements=False)
    return Page(path, _plain(parser.parse(html)))


def _plain(root: ElementTree.Element) -> ElementTree.Element:
    """SVG elements and attributes without their namespaces."""
    for element in root.iter():
        if isinstance(element.tag, str):
            element.tag = element.tag.rpartition("}")[2]
    return root


def parsed(site: Path) -> dict[str, Page]:
    """Every page of a site by its path."""
    found = {}
    for path in sorted(site.rglob("*.html")):
        name = path.relative_to(site).as_posix()
        found[name] = parse(path.read_text(encoding="utf-8"), name)
    return found
