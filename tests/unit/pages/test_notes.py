"""Notes as HTML: harmless, in their place under the headings of the page."""

import pytest

from generator.markup import link_allowed
from generator.pages.notes import inline, story


def test_lessons_leave_and_tasting_moves() -> None:
    """The list of lessons isn't in the story, the tasting is apart, without its heading."""
    told, tasted = story("Intro\n\n## Lessons\n\n- one\n\n## Tasting\n\nSweet.\n\n## After\n\nMore.\n", prefix="n")
    assert "Intro" in told
    assert "More." in told
    assert "one" not in told
    assert tasted.strip() == "<p>Sweet.</p>"


@pytest.mark.parametrize(
    ("markdown", "tags"),
    [("# a\n## b\n#### c", ["h3", "h3", "h4"]), ("#### a\n##### b\n# c\n#### d", ["h3", "h3", "h3", "h4"]), ("###### a", ["h3"])],
)
def test_headings_go_below_the_page(markdown: str, tags: list[str]) -> None:
    """Never above h3, never h4 without an h3 before it."""
    told, _ = story(markdown, prefix="n")
    assert [line[1:3] for line in told.splitlines() if line.startswith("<h")] == tags


def test_footnotes_keep_their_ids_apart() -> None:
    """Ids of footnotes carry the prefix, calls and ways back match, two calls of one note have two ways back."""
    told, _ = story("A[^1] b[^1].\n\n[^1]: Note.\n", prefix="n")
    for name in ("n-fn1", "n-fnref1", "n-fnref1:1"):
        assert f'id="{name}"' in told
        assert f'href="#{name}"' in told
    assert told.count(">back</a>") == 2
    assert "section" not in told


def test_tables_scroll_by_themselves() -> None:
    """A table of the notes has scopes and classes instead of styles, in a box that takes the focus."""
    told, _ = story("| a | b | c |\n| :-- | :-: | --: |\n| 1 | 2 | 3 |\n", prefix="n")
    assert told.count('scope="col"') == 3
    assert "style" not in told
    assert 'class="center"' in told
    assert 'tabindex="0"' in told


def test_pictures_are_never_fetched() -> None:
    """A remote picture is a link; one of the batch is named in words."""
    told, _ = story("![a <b>](https://example.org/x.png) ![bed](photos/bed.jpg)", prefix="n")
    assert "<img" not in told
    assert '<a href="https://example.org/x.png">a &lt;b&gt;</a>' in told
    assert "photos/bed.jpg" in told


def test_raw_html_is_text() -> None:
    """Markup comes out as it was written."""
    assert inline("<b onclick=x>b</b>") == "&lt;b onclick=x&gt;b&lt;/b&gt;"


@pytest.mark.parametrize("url", ["https://example.org", "http://example.org", "mailto:a@example.org", "photos/x.jpg", "#part", "../other.html", "?q"])
def test_links_that_may_stand(url: str) -> None:
    """The web, mail, and places within the site."""
    assert link_allowed(url)


@pytest.mark.parametrize(
    "url", ["javascript:x", "JAVASCRIPT:x", "java\tscript:x", "%6aavascript:x", "data:x", "file:///x", "//x", "\\\\x", "/\\x", "tel:1", "x:y"]
)
def test_links_that_may_not(url: str) -> None:
    """Everything else, however it is written."""
    assert not link_allowed(url)
