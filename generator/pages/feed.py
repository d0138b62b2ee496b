"""The two feeds and the sitemap: absolute addresses, so only with a base_url; dates from the batches, not from a clock."""

import json
from collections.abc import Iterable
from datetime import date
from typing import Any
from urllib.parse import quote, urlsplit
from xml.etree import ElementTree

from generator.analysis.report import Report
from generator.pages.site_map import SiteMap, batch_path, sheet_path, title
from generator.pages.statement import statement, summary

_ATOM = "http://www.w3.org/2005/Atom"
_SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
_JSON_FEED = "https://jsonfeed.org/version/1.1"
_NEWEST = 50


def changed(report: Report) -> date:
    """The last day that anything of the batch says: its newest reading, else the day it was brewed."""
    days = [entry.reading.time.date() for entry in report.timeline if entry.reading.time]
    return max([report.batch.plan.batch.brewed, *days])


def atom(site: SiteMap) -> str:
    """feed.xml (RFC 4287): the newest batches, with identifiers that outlive a move of the site."""
    base = site.settings.base_url.rstrip("/")
    feed = ElementTree.Element("feed", xmlns=_ATOM)
    _add(feed, "title", site.settings.title)
    _add(feed, "id", base + "/")
    newest = _newest(site)
    _add(feed, "updated", _stamp(changed(newest[0])) if newest else "1970-01-01T00:00:00Z")
    ElementTree.SubElement(feed, "link", rel="self", href=f"{base}/feed.xml")
    ElementTree.SubElement(feed, "link", rel="alternate", href=f"{base}/index.html")
    _add(ElementTree.SubElement(feed, "author"), "name", site.settings.brewer or site.settings.title)
    for report in newest:
        entry = ElementTree.SubElement(feed, "entry")
        _add(entry, "title", title(report))
        _add(entry, "id", _identifier(base, report))
        _add(entry, "updated", _stamp(changed(report)))
        _add(entry, "published", _stamp(report.batch.plan.batch.brewed))
        ElementTree.SubElement(entry, "link", rel="alternate", href=f"{base}/{quote(batch_path(report.batch.slug))}")
        _add(ElementTree.SubElement(entry, "author"), "name", report.batch.brewer or site.settings.title)
        _add(entry, "summary", summary(report))
    return _xml(feed)


def json_feed(site: SiteMap) -> str:
    """feed.json (JSON Feed 1.1): the same batches, with the same identifiers and dates as in feed.xml."""
    base = site.settings.base_url.rstrip("/")
    feed: dict[str, Any] = {
        "version": _JSON_FEED,
        "title": site.settings.title,
        "home_page_url": f"{base}/index.html",
        "feed_url": f"{base}/feed.json",
        "language": site.settings.language or "en",
        "authors": [{"name": site.settings.brewer or site.settings.title}],
        "items": [_item(base, report, site.settings.title) for report in _newest(site)],
    }
    if site.settings.description:
        feed["description"] = site.settings.description
    return json.dumps(feed, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def _item(base: str, report: Report, journal: str) -> dict[str, Any]:
    about = report.batch.plan.batch
    item: dict[str, Any] = {
        "id": _identifier(base, report),
        "url": f"{base}/{quote(batch_path(report.batch.slug))}",
        "title": title(report),
        "summary": summary(report),
        "content_text": "\n\n".join(text for text in (*statement(report), about.summary) if text) or summary(report),
        "date_published": _stamp(about.brewed),
        "date_modified": _stamp(changed(report)),
        "authors": [{"name": report.batch.brewer or journal}],
    }
    if about.tags:
        item["tags"] = list(about.tags)
    return item


def _newest(site: SiteMap) -> list[Report]:
    return sorted(site.reports, key=lambda report: (changed(report), report.batch.slug), reverse=True)[:_NEWEST]


def _identifier(base: str, report: Report) -> str:
    """A tag URI (RFC 4151): the host, the year of the brew and the slug, which stand when paths change."""
    return f"tag:{urlsplit(base).hostname or 'localhost'},{report.batch.plan.batch.brewed.year}:{quote(report.batch.slug)}"


def _stamp(day: date) -> str:
    return f"{day.isoformat()}T00:00:00Z"


def sitemap(site: SiteMap, pages: Iterable[str]) -> str:
    """sitemap.xml of the given page paths; a batch page and its sheet have the date of its newest reading."""
    base = site.settings.base_url.rstrip("/")
    dates = {path(report.batch.slug): changed(report) for report in site.reports for path in (batch_path, sheet_path)}
    root = ElementTree.Element("urlset", xmlns=_SITEMAP)
    for path in sorted(pages):
        url = ElementTree.SubElement(root, "url")
        _add(url, "loc", f"{base}/{quote(path)}")
        if path in dates:
            _add(url, "lastmod", dates[path].isoformat())
    return _xml(root)


def _add(parent: ElementTree.Element, tag: str, text: str) -> None:
    ElementTree.SubElement(parent, tag).text = "".join(character for character in text if character >= " ")


def _xml(root: ElementTree.Element) -> str:
    ElementTree.indent(root)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"
