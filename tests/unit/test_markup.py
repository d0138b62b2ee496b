"""The Markdown of notes: which links may stand, and that raw HTML never runs."""

import pytest

from generator.markup import link_allowed, parser


@pytest.mark.parametrize(
    "url", ["https://example.org/", "HTTP://example.org", "mailto:a@example.org", "photos/x.jpg", "../y.html", "#top", "?a=b:c", ""]
)
def test_links_that_may_stand(url: str) -> None:
    """Web, mail and relative addresses are links."""
    assert link_allowed(url)


@pytest.mark.parametrize(
    "url",
    ["javascript:alert(1)", "JaVaScRiPt:x", "java\nscript:x", " javascript:x", "java%0ascript:x", "javascript%3Ax", "data:text/html,x", "vbscript:x",
     "file:///etc/hostname", "//example.org/x", "\\\\example.org", "/\\example.org", "%2f%2fexample.org", "ftp://example.org"],
)  # fmt: skip
def test_links_that_may_not(url: str) -> None:
    """Scripts, data, files and addresses that change the host are no links, however they are disguised."""
    assert not link_allowed(url)


def test_parser_asks_about_every_link() -> None:
    """A refused address stays text in the tokens, an allowed one becomes a link."""
    html = parser().render("[a](javascript:x) [b](https://example.org) <javascript:x>")
    assert html.count("<a ") == 1
    assert 'href="https://example.org"' in html


def test_raw_html_is_text() -> None:
    """Tags in the notes are shown, never run."""
    html = parser().render('<script>x</script>\n\nSome <b onclick="x">bold</b>.')
    assert "<script" not in html
    assert "<b " not in html


def test_tables_and_footnotes_are_known() -> None:
    """The notes may hold tables and footnotes."""
    html = parser().render("| a |\n| - |\n| b |\n\nx[^1]\n\n[^1]: y\n")
    assert "<table>" in html
    assert "footnote" in html
