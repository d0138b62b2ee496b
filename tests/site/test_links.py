"""Every link leads somewhere, nothing is fetched from elsewhere, and nothing on a page can run."""

import posixpath
import re
from pathlib import Path
from urllib.parse import unquote, urlsplit

from tests.site.dom import Page

FETCHED = ("src", "srcset", "data", "poster", "action", "formaction", "background")
ACTIVE = ("iframe", "object", "embed", "form", "base", "applet", "frame", "template")


def _links(page: Page) -> list[str]:
    return [element.attrib["href"] for element in page.elements if "href" in element.attrib]


def test_relative_links_and_fragments_resolve(pages: dict[str, Page], demo_site: Path) -> None:
    """Every relative link names a file of the site, and its fragment an id of that page."""
    checked = 0
    for page in pages.values():
        for link in _links(page):
            parts = urlsplit(link)
            if parts.scheme or parts.netloc:
                continue
            checked += 1
            path = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), unquote(parts.path))) if parts.path else page.path
            assert (demo_site / path).is_file(), (page.path, link)
            if parts.fragment:
                assert unquote(parts.fragment) in pages[path].ids, (page.path, link)
    print(f"{checked} relative links")
    assert checked > 500


def test_every_page_can_be_reached_from_the_first(pages: dict[str, Page]) -> None:
    """Following links from index.html visits every page of the site."""
    seen, waiting = {"index.html"}, ["index.html"]
    while waiting:
        page = pages[waiting.pop()]
        for link in _links(page):
            path = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), unquote(urlsplit(link).path)))
            if path in pages and path not in seen:
                seen.add(path)
                waiting.append(path)
    assert seen == set(pages)


def test_nothing_is_fetched_from_elsewhere(pages: dict[str, Page], demo_site: Path) -> None:
    """Whatever a page or a style sheet fetches is relative; only links that a reader follows may lead away, by http or https."""
    for page in pages.values():
        for element in page.elements:
            fetched = [element.attrib[name] for name in FETCHED if name in element.attrib]
            fetched += [element.attrib["href"]] if element.tag != "a" and "href" in element.attrib else []
            assert all(not urlsplit(url).scheme and not url.startswith(("/", "\\")) for url in fetched), (page.path, element.tag, fetched)
        assert all(urlsplit(link).scheme in ("", "http", "https", "mailto") and not link.startswith("//") for link in _links(page)), page.path
    for sheet in demo_site.rglob("*.css"):
        urls = re.findall(r"url\(\s*[\"']?([^\"')]+)", sheet.read_text(encoding="utf-8"))
        assert all((sheet.parent / url).is_file() for url in urls), sheet.name
        assert "@import" not in sheet.read_text(encoding="utf-8")


def scripts(page: Page) -> list[str]:
    """The files that a page runs. A script that is neither a file of the site nor data is given with its text, so that no test takes it."""
    found = [script for script in page.all("script") if script.get("type") != "application/ld+json"]
    return [
        script.attrib["src"] if set(script.attrib) == {"src", "defer"} and not script.text else f"{script.attrib} {script.text}" for script in found
    ]


def test_only_scripts_of_the_site_can_run(pages: dict[str, Page]) -> None:
    """Scripts are files of the site's assets, on the pages that need one; elsewhere none; the policy of each page says the same."""
    running = set()
    for page in pages.values():
        found = scripts(page)
        assert all(re.fullmatch(r"(\.\./)*assets/(js/)?[a-z-]+\.js", path) for path in found), (page.path, found)
        policy = next(meta.attrib["content"] for meta in page.all("meta") if meta.get("http-equiv") == "Content-Security-Policy")
        rules = dict(rule.strip().partition(" ")[::2] for rule in policy.split(";"))
        assert rules["default-src"] == "'none'", page.path
        assert rules.get("script-src") == ("'self'" if found else None), page.path
        running |= {page.path.partition("/")[0]} if found else set()
    assert running == {"index.html", "recipes", "recipes.html", "search.html", "years"}


def test_nothing_can_run(pages: dict[str, Page]) -> None:
    """No frame, no form, no style attribute, no inline handler."""
    for page in pages.values():
        assert not list(page.all(*ACTIVE)), page.path
        assert not [name for element in page.elements for name in element.attrib if name == "style" or name.lower().startswith("on")], page.path


def test_site_holds_no_stray_files(demo_site: Path) -> None:
    """Pages, data, assets and the manifest, and nothing else."""
    tops = {path.name for path in demo_site.iterdir()}
    assert tops == {
        "data.html",
        "figures.csv",
        "index.html",
        "lessons.html",
        "methods.html",
        "safety.html",
        "search.html",
        "ingredients.html",
        "recipes.html",
        "years",
        "batches",
        "recipes",
        "assets",
        "wortledger-site.json",
    }
    ends = {path.suffix for path in demo_site.rglob("*") if path.is_file()}
    assert ends <= {".html", ".json", ".css", ".js", ".woff2", ".svg", ".toml", ".csv", ".md", ".jpg", ".webp"}
