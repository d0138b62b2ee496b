"""What a page says of itself: terms of schema.org that exist, addresses only where the journal has one."""

from collections.abc import Iterator
from typing import Any

import pytest

from generator.analysis.catalogue import FIGURES
from generator.analysis.report import Report, report
from generator.pages import head
from generator.pages.photo_contract import Picture
from generator.pages.site_map import SiteMap, batch_path, order
from generator.records.journal import load
from tests.conftest import DEMO

TERMS = {
    "Article": {"headline", "description", "inLanguage", "about", "isPartOf", "datePublished", "dateModified", "author", "keywords", "url",
                "mainEntityOfPage", "isBasedOn", "image"},
    "Dataset": {"name", "description", "inLanguage", "variableMeasured", "creator", "url", "distribution"},
    "DataDownload": {"encodingFormat", "contentUrl"},
    "Thing": {"name"},
    "Person": {"name"},
    "CreativeWork": {"name", "url"},
}  # fmt: skip
"""Types of schema.org with those of their properties that are used here; from memory."""
FILES = ("batches/ä/plan.toml", "batches/ä.json")
PHOTOS = {"b.jpg": Picture("x/photos/1-480.webp 480w", "x/photos/1-960.jpg", 960, 640)}


def _site(base: str) -> SiteMap:
    journal = load(DEMO)
    settings = journal.settings.model_copy(update={"base_url": base})
    batches = [batch for batch in journal.batches if batch.slug in ("2025-11-15-fog-bell-1", "2027-02-13-fog-bell-5")]
    return SiteMap(settings, order([report(batch, settings) for batch in batches]))


@pytest.fixture(scope="module")
def site() -> SiteMap:
    """A brewed batch and a planned one, with an address."""
    return _site("https://j.example/beer/")


def _nodes(found: Any) -> Iterator[dict[str, Any]]:
    if isinstance(found, dict):
        yield found
        for value in found.values():
            yield from _nodes(value)
    if isinstance(found, list):
        for value in found:
            yield from _nodes(value)


def _article(site: SiteMap, one: Report) -> dict[str, Any]:
    shell = site.shell("T", "D", batch_path(one.batch.slug))
    found = head.of_batch(site, one, shell, FILES, PHOTOS)
    assert found.kind == "article"
    assert found.linked is not None
    return found.linked


def test_terms_are_those_of_the_vocabulary(site: SiteMap) -> None:
    """Every type and every property is one that schema.org has for it."""
    data = head.of_data(site, site.shell("T", "D", "data.html"), ("A",)).linked
    for document in (*(_article(site, one) for one in site.reports), data):
        assert isinstance(document, dict)
        assert document["@context"] == "https://schema.org"
        for node in _nodes(document):
            assert set(node) - {"@context", "@type"} <= TERMS[node["@type"]]


def test_a_batch_is_an_article(site: SiteMap) -> None:
    """Its dates are those of the brew and of the last reading, its author the brewer, its data downloads of the site."""
    found = _article(site, site.by_slug["2025-11-15-fog-bell-1"])
    assert (found["@type"], found["headline"], found["datePublished"]) == ("Article", "Fog Bell, first", "2025-11-15")
    assert found["dateModified"] > found["datePublished"]
    assert found["author"] == {"@type": "Person", "name": site.settings.brewer}
    assert found["about"]["name"] == "Fog Bell"
    assert found["url"] == "https://j.example/beer/batches/2025-11-15-fog-bell-1.html"
    assert found["image"] == "https://j.example/beer/batches/x/photos/1-960.jpg"
    assert [one["contentUrl"] for one in found["isBasedOn"]["distribution"]] == [
        "https://j.example/beer/batches/%C3%A4/plan.toml",
        "https://j.example/beer/batches/%C3%A4.json",
    ]


def test_a_plan_has_no_date_of_publication(site: SiteMap) -> None:
    """A day that may be ahead is no date on which something was published."""
    assert not {"datePublished", "dateModified"} & set(_article(site, site.by_slug["2027-02-13-fog-bell-5"]))


def test_without_an_address_there_is_none() -> None:
    """No address, no picture and no download is made up."""
    site = _site("")
    documents = [_article(site, one) for one in site.reports]
    documents.append(head.of_data(site, site.shell("T", "D", "data.html"), ("A",)).linked or {})
    for document in documents:
        for node in _nodes(document):
            assert not set(node) & {"url", "image", "distribution", "contentUrl", "mainEntityOfPage"}


def test_data_are_a_dataset(site: SiteMap) -> None:
    """All figures are named, and the table can be had."""
    labels = tuple(entry.label for entry in FIGURES)
    found = head.of_data(site, site.shell("T", "D", "data.html"), labels).linked
    assert found is not None
    assert found["variableMeasured"] == list(labels)
    assert found["distribution"][0]["contentUrl"] == "https://j.example/beer/figures.csv"
