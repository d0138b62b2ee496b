"""The Atom feed and the sitemap: absolute addresses, so only with a base_url; dates from the batches, not from a clock."""

from collections.abc import Iterable
from datetime import date
from urllib.parse import quote, urlsplit
from xml.etree import ElementTree

from generator.analysis.report import Report
from generator.pages.site_map import SiteMap, batch_path, sheet_path, title
from generator.pages.statement import summary

_ATOM = "http://www.w3.org/2005/Atom"
_SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
_NEWEST = 50


def changed(report: Report) -> date:
    """The last day that anything of the batch says: its newest reading, else the day it was brewed."""
    days = [entry.reading.time.date() for entry in report.timeline if entry.reading.time]
    return max([report.batch.plan.batch.brewed, *days])


def atom(site: SiteMap) -> str:
    """feed.xml (RFC 4287): the newest batches, with identifiers that outlive a move of the site."""
    base = site.settings.base_url.rstrip("/")
    host = urlsplit(base).hostname or "localhost"
    feed = ElementTree.Element("feed", xmlns=_ATOM)
    _add(feed, "title", site.settings.title)
    _add(feed, "id", base + "/")
    newest = sorted(site.reports, key=lambda report: (changed(report), report.batch.slug), reverse=True)[:_NEWEST]
    _add(feed, "updated", f"{changed(newest[0]).isoformat() if newest else '1970-01-01'}T00:00:00Z")
    ElementTree.SubElement(feed, "link", rel="self", href=f"{base}/feed.xml")
    ElementTree.SubElement(feed, "link", rel="alternate", href=f"{base}/index.html")
    _add(ElementTree.SubElement(feed, "author"), "name", site.settings.brewer or site.settings.title)
    for report in newest:
        entry = ElementTree.SubElement(feed, "entry")
        brewed = report.batch.plan.batch.brewed
        _add(entry, "title", title(report))
        _add(entry, "id", f"tag:{host},{brewed.year}:{quote(report.batch.slug)}")
        _add(entry, "updated", f"{changed(report).isoformat()}T00:00:00Z")
        _add(entry, "published", f"{brewed.isoformat()}T00:00:00Z")
        ElementTree.SubElement(entry, "link", rel="alternate", href=f"{base}/{quote(batch_path(report.batch.slug))}")
        _add(ElementTree.SubElement(entry, "author"), "name", report.batch.brewer or site.settings.title)
        _add(entry, "summary", summary(report))
    return _xml(feed)


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
