"""The feeds and the sitemap: only with a base address, complete, and with names that outlive a move."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from generator.build import build
from tests.conftest import DEMO
from tests.site.dom import parse

ATOM = "{http://www.w3.org/2005/Atom}"
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
STAMP = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
BASE = "https://journal.example/beer"


def _moved(tmp_path_factory: pytest.TempPathFactory, base: str) -> Path:
    folder = tmp_path_factory.mktemp("moved")
    journal = folder / "batches"
    shutil.copytree(DEMO, journal)
    for batch in sorted(journal.glob("20*"))[3:-2]:
        shutil.rmtree(batch)  # a few batches do
    (journal / "2026-12-12-fog-bell-4/plan.toml").write_text(
        re.sub(r"follows = .*\n", "", (journal / "2026-12-12-fog-bell-4/plan.toml").read_text(encoding="utf-8")), encoding="utf-8"
    )
    settings = (journal / "journal.toml").read_text(encoding="utf-8")
    (journal / "journal.toml").write_text(settings.replace('base_url = ""', f'base_url = "{base}"'), encoding="utf-8")
    build(journal, folder / "site")
    return folder / "site"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A few batches of the demo with a base address."""
    return _moved(tmp_path_factory, BASE)


@pytest.fixture(scope="module")
def feed(site: Path) -> ElementTree.Element:
    """Its feed."""
    return ElementTree.parse(site / "feed.xml").getroot()


def _text(element: ElementTree.Element, tag: str) -> str:
    return element.findtext(f"{ATOM}{tag}") or ""


def test_no_feed_without_a_base_address(demo_site: Path) -> None:
    """Absolute addresses can't be made up, so none of the files is there and no page points to one."""
    assert not (demo_site / "feed.xml").exists()
    assert not (demo_site / "feed.json").exists()
    assert not (demo_site / "sitemap.xml").exists()
    page = parse((demo_site / "index.html").read_text(encoding="utf-8"))
    assert not [link for link in page.all("link") if link.get("rel") in ("canonical", "alternate")]


def test_feed_has_what_the_standard_asks_for(feed: ElementTree.Element) -> None:
    """RFC 4287: title, id and updated once in the feed and in each entry, an author, a link to itself and to each page."""
    assert feed.tag == f"{ATOM}feed"
    entries = feed.findall(f"{ATOM}entry")
    assert len(entries) == 5
    for element in (feed, *entries):
        for tag in ("title", "id", "updated"):
            assert len(element.findall(f"{ATOM}{tag}")) == 1
            assert _text(element, tag).strip()
        assert STAMP.fullmatch(_text(element, "updated"))
        assert element.findtext(f"{ATOM}author/{ATOM}name")
    links = {link.get("rel"): link.get("href") for link in feed.findall(f"{ATOM}link")}
    assert links == {"self": f"{BASE}/feed.xml", "alternate": f"{BASE}/index.html"}
    assert all(_text(entry, "summary") for entry in entries)


def test_entries_lead_to_pages_of_the_site(feed: ElementTree.Element, site: Path) -> None:
    """Every entry's link, without the base address, is a page."""
    for entry in feed.findall(f"{ATOM}entry"):
        (link,) = entry.findall(f"{ATOM}link")
        assert (site / link.attrib["href"].removeprefix(f"{BASE}/")).is_file()


def test_updated_comes_from_the_readings(feed: ElementTree.Element) -> None:
    """An entry is as new as the last reading of its batch, the feed as its newest entry; a plan is as new as its day."""
    stamps = {_text(entry, "id").rpartition(":")[2]: _text(entry, "updated") for entry in feed.findall(f"{ATOM}entry")}
    readings = (DEMO / "2025-11-15-fog-bell-1/readings.csv").read_text(encoding="utf-8")
    last = max(re.findall(r"^(\d{4}-\d\d-\d\d)", readings, re.MULTILINE))
    assert stamps["2025-11-15-fog-bell-1"] == f"{last}T00:00:00Z"
    assert stamps["2026-12-12-fog-bell-4"] == "2026-12-12T00:00:00Z"
    assert _text(feed, "updated") == max(stamps.values())


def test_ids_stand_when_the_path_changes(feed: ElementTree.Element, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Moved to another path of the same host, or to another port, each entry keeps its id, a tag URI (RFC 4151)."""
    other = ElementTree.parse(_moved(tmp_path_factory, "https://journal.example:8443/elsewhere/") / "feed.xml").getroot()
    ids = [[_text(entry, "id") for entry in root.findall(f"{ATOM}entry")] for root in (feed, other)]
    assert ids[0] == ids[1]
    assert len(set(ids[0])) == 5
    assert all(re.fullmatch(r"tag:journal\.example,\d{4}:[\w-]+", name) for name in ids[0])


def test_json_feed_has_what_the_standard_asks_for(site: Path) -> None:
    """JSON Feed 1.1: version, title and items; a text id and a content in each; whole dates; nothing that the standard doesn't know."""
    found: dict[str, Any] = json.loads((site / "feed.json").read_text(encoding="utf-8"))
    assert found["version"] == "https://jsonfeed.org/version/1.1"
    assert found["title"].strip()
    assert set(found) <= {"version", "title", "home_page_url", "feed_url", "description", "language", "authors", "items"}
    assert (found["home_page_url"], found["feed_url"]) == (f"{BASE}/index.html", f"{BASE}/feed.json")
    assert len(found["items"]) == 5
    for item in found["items"]:
        assert set(item) <= {"id", "url", "title", "content_text", "summary", "date_published", "date_modified", "authors", "tags"}
        assert isinstance(item["id"], str)
        assert item["content_text"].strip()
        assert STAMP.fullmatch(item["date_published"])
        assert STAMP.fullmatch(item["date_modified"])
        assert all(isinstance(tag, str) for tag in item.get("tags", []))
        assert [set(author) for author in item["authors"]] == [{"name"}]
        assert (site / item["url"].removeprefix(f"{BASE}/")).is_file()


def test_both_feeds_say_the_same(site: Path, feed: ElementTree.Element) -> None:
    """The same batches in the same order, with the same identifiers, titles, dates and links."""
    items = json.loads((site / "feed.json").read_text(encoding="utf-8"))["items"]
    entries = feed.findall(f"{ATOM}entry")
    names = (("id", "id"), ("title", "title"), ("updated", "date_modified"), ("published", "date_published"), ("summary", "summary"))
    for atom, name in names:
        assert [_text(entry, atom) for entry in entries] == [item[name] for item in items]
    assert [link.get("href") for entry in entries for link in entry.findall(f"{ATOM}link")] == [item["url"] for item in items]


def test_sitemap_lists_every_page_once(site: Path) -> None:
    """Every page with its absolute address; batch pages with a date from their readings."""
    root = ElementTree.parse(site / "sitemap.xml").getroot()
    places = [url.findtext(f"{MAP}loc") for url in root]
    assert sorted(str(place) for place in places) == sorted(f"{BASE}/{path.relative_to(site).as_posix()}" for path in site.rglob("*.html"))
    dated = {str(url.findtext(f"{MAP}loc")) for url in root if url.find(f"{MAP}lastmod") is not None}
    assert dated == {place for place in places if place and "/batches/" in place}


def test_pages_point_to_themselves_and_to_the_feed(site: Path) -> None:
    """With a base address each page names its canonical address, once more for Open Graph, and both feeds."""
    for path in site.rglob("*.html"):
        page = parse(path.read_text(encoding="utf-8"))
        links = {link.get("type"): link.get("href") for link in page.all("link") if link.get("rel") in ("canonical", "alternate")}
        here = f"{BASE}/{path.relative_to(site).as_posix()}"
        assert links == {None: here, "application/atom+xml": f"{BASE}/feed.xml", "application/feed+json": f"{BASE}/feed.json"}
        assert [meta.get("content") for meta in page.all("meta") if meta.get("property") == "og:url"] == [here]


def test_feed_of_an_odd_journal_is_well_formed(make_site: Callable[[dict[str, str]], Path]) -> None:
    """Markup, quotes and letters of many scripts in titles and names come out as text."""
    site = make_site(
        {
            "journal.toml": f'title = "A & B <i> \\"C\\" ]]> ünïcødé 麦"\nbase_url = "{BASE}"\n',
            "brewhouses/house.toml": 'name = "House"\n',
            "a/plan.toml": '[batch]\nrecipe = "R & <R>"\nbrewed = 2026-01-02\ntitle = "<b>T</b> & ’"\nbrewhouse = "house"\n',
        }
    )
    feed = ElementTree.parse(site / "feed.xml").getroot()
    assert _text(feed, "title") == 'A & B <i> "C" ]]> ünïcødé 麦'
    assert feed.findtext(f"{ATOM}entry/{ATOM}title") == "<b>T</b> & ’"
    again = json.loads((site / "feed.json").read_text(encoding="utf-8"))
    assert (again["title"], again["items"][0]["title"]) == ('A & B <i> "C" ]]> ünïcødé 麦', "<b>T</b> & ’")
