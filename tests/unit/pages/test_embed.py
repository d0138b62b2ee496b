"""A page as one file: what leads out of it is inside, absolute or gone; everything else is copied letter for letter."""

import base64
import hashlib
import re

import pytest

from generator.pages.embed import MARK, embedded
from generator.pages.render import templates_dir

HEAD = (
    '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" content="x">\n'
    '<title>A &amp; B</title>\n<link rel="stylesheet" href="../assets/a.css">\n<link rel="stylesheet" href="../assets/css/b.css">\n'
    '<link rel="icon" href="../assets/i.svg" type="image/svg+xml">\n'
)
FILES = {
    "assets/a.css": b'/* one */\np { color: red; }\n@font-face { src: url("f.woff2") format("woff2"); }\n',
    "assets/css/b.css": b"/* two\nlines */\nb { content: '</style>'; }\n",
    "assets/f.woff2": b"font",
    "assets/i.svg": b"<svg/>",
    "assets/js/s.js": b'var a = "</script>";\n',
    "batches/x/p.jpg": b"picture",
}


def page(body: str, base: str = "", head: str = "") -> str:
    """The single file of a page of that body."""
    return embedded(f"{HEAD}{head}</head>\n<body>{body}</body>\n</html>\n", "batches/x.html", FILES, base)


def body(text: str, base: str = "") -> str:
    """The body of that file."""
    found = re.search(r"<body>(.*)</body>", page(text, base), re.DOTALL)
    assert found
    return found[1]


def test_styles_are_one_sheet_that_the_policy_knows() -> None:
    """The sheets stand in their order in one style element, and the policy holds the hash of exactly its text."""
    html = page("")
    (css,) = re.findall(r"<style>(.*?)</style>", html, re.DOTALL)
    font = base64.b64encode(b"font").decode()
    assert (
        css == f'p {{ color: red; }}\n@font-face {{ src: url("data:font/woff2;base64,{font}") format("woff2"); }}\nb {{ content: \'<\\/style>\'; }}\n'
    )
    digest = base64.b64encode(hashlib.sha256(css.encode()).digest()).decode()
    (policy,) = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]*)"', html)
    assert policy == f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; font-src data:; base-uri 'none'; form-action 'none'"
    assert "stylesheet" not in html
    assert html.index(MARK) < html.index("<style>")


def test_scripts_move_inside_with_their_hash() -> None:
    """A script of the site runs from the end of the page, and from nowhere else; data blocks stay where they are."""
    html = page("<p>x</p>", head='<script src="../assets/js/s.js" defer></script>\n<script type="application/ld+json">{"a": "<b>"}</script>\n')
    assert html.count("<script") == 2
    assert '<script type="application/ld+json">{"a": "<b>"}</script>' in html
    assert html.endswith('<script>var a = "<\\/script>";\n</script>\n</body>\n</html>\n')
    digest = base64.b64encode(hashlib.sha256(b'var a = "<\\/script>";\n').digest()).decode()
    assert f"script-src 'sha256-{digest}';" in html
    assert "script-src" not in page("")


def test_pictures_come_inside_once() -> None:
    """Of a picture in several sizes the one for old browsers stays, as data; nothing is loaded late."""
    shown = body(
        '<picture><source srcset="x/p.webp 480w" type="image/webp">'
        '<img src="x/p.jpg" srcset="x/p.jpg 1x" sizes="9px" alt="a &quot;b&quot;" loading="lazy"></picture>'
    )
    assert shown == f'<picture><img src="data:image/jpeg;base64,{base64.b64encode(b"picture").decode()}" alt="a &quot;b&quot;"></picture>'


def test_links_lead_to_the_published_journal() -> None:
    """With an address, links to other pages are absolute, with their fragments; those within the page and to elsewhere stay."""
    text = '<a class="bare" href="../safety.html#gas" data-within>S</a> <a href="b%C3%A4r.html">B</a> <a href="#main">m</a> <a href="https://e.example/">e</a>'
    base = "https://j.example/beer/"
    assert body(text, base) == (
        '<a class="bare" href="https://j.example/beer/safety.html#gas">S</a> <a href="https://j.example/beer/batches/b%C3%A4r.html">B</a> '
        '<a href="#main">m</a> <a href="https://e.example/">e</a>'
    )


def test_links_without_an_address_are_text() -> None:
    """Without one, a link to another page is its words, and what is of use only within the journal is left out whole."""
    text = (
        '<nav data-within><ul><li><a href="../index.html">x<br></a></li></ul><svg><path d="M0"/></svg></nav>'
        '<p>As on <a href="../m.html">that <em>page</em></a>, <a href="#f">here</a>.</p>'
    )
    assert body(text) == '<p>As on that <em>page</em>, <a href="#f">here</a>.</p>'


@pytest.mark.parametrize(
    "text",
    [
        "<p>a &lt; b &amp;&nbsp;c &#39;d&#39; &#x2014; é 麦</p>",
        '<svg viewBox="0 0 1 1"><clippath id="c"></clippath><path d="M0 0" class="s-ink"/><text x="1">&gt;</text></svg>',
        '<p title="&#34;x&#34; &amp; &lt;">x<br>y</p><hr><!-- kept --><details open><summary>s</summary></details>',
        "<pre>\n  two  spaces\n</pre>",
    ],
)
def test_everything_else_stays(text: str) -> None:
    """References, drawings, attributes, comments and spaces are copied as they are."""
    assert body(text) == text


def test_what_is_missing_is_told() -> None:
    """A page that asks for a file that isn't there is a fault, not a hole."""
    with pytest.raises(KeyError, match=r"batches/x/q\.jpg"):
        body('<img src="x/q.jpg" alt="">')


def test_every_asset_has_a_type() -> None:
    """The faces and icons of the pages can be put inside."""
    static = templates_dir() / "static"
    fonts = {f"assets/{path.relative_to(static).as_posix()}": path.read_bytes() for path in static.rglob("*") if path.is_file()}
    html = embedded(
        '<!DOCTYPE html><meta http-equiv="Content-Security-Policy" content="x"><link rel="stylesheet" href="assets/css/base.css">',
        "index.html", fonts, "",
    )  # fmt: skip
    assert html.count("data:font/woff2;base64,") == 4
    assert "url(" not in html.replace('url("data:', "")
