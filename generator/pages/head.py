"""What a page says of itself to other programs: in the terms of schema.org, as JSON-LD in its head."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from generator.analysis.report import Report
from generator.pages.contracts import Shell
from generator.pages.feed import changed
from generator.pages.photo_contract import Picture
from generator.pages.site_map import SiteMap, batch_path, title

CONTEXT = "https://schema.org"
FIGURES, JSON_FEED, ATOM_FEED, DATA = "figures.csv", "feed.json", "feed.xml", "data.html"
_TYPES = {"csv": "text/csv", "json": "application/json", "toml": "application/toml"}


def of_batch(site: SiteMap, report: Report, shell: Shell, files: tuple[str, ...], photos: Mapping[str, Picture]) -> Shell:
    """The shell of a batch page with the batch as an Article; addresses only where the journal has one.

    Args:
        site: the journal.
        report: of the batch.
        shell: of its page.
        files: the batch's data files, as paths within the site.
        photos: its pictures, by name; the first stands for the page.
    """
    about = report.batch.plan.batch
    found: dict[str, Any] = {
        "@context": CONTEXT,
        "@type": "Article",
        "headline": title(report),
        "description": shell.description,
        "inLanguage": shell.language,
        "about": {"@type": "Thing", "name": about.recipe},
        "isPartOf": {"@type": "CreativeWork", "name": shell.journal},
    }
    if report.brewed:
        found |= {"datePublished": about.brewed.isoformat(), "dateModified": changed(report).isoformat()}
    if report.batch.brewer:
        found["author"] = {"@type": "Person", "name": report.batch.brewer}
    if about.tags:
        found["keywords"] = list(about.tags)
    base = site.settings.base_url.rstrip("/")
    if base:
        found |= {"url": shell.canonical, "mainEntityOfPage": shell.canonical}
        image = next((f"{base}/{batch_path(report.batch.slug).rpartition('/')[0]}/{one.source}" for one in photos.values()), "")
        found |= {"image": image} if image else {}
        found["isPartOf"]["url"] = f"{base}/index.html"
        found["isBasedOn"] = {
            "@type": "Dataset",
            "name": f"Plan, readings and figures of {title(report)}",
            "description": f"What was planned, what was read, and every figure of {title(report)}, {about.brewed.isoformat()}.",
            "distribution": [_download(base, path) for path in files],
        }
    return replace(shell, kind="article", image=str(found.get("image", "")), linked=found)


def of_data(site: SiteMap, shell: Shell, labels: tuple[str, ...]) -> Shell:
    """The shell of the data page with the figures of all batches as a Dataset.

    Args:
        site: the journal.
        shell: of the page.
        labels: names of the figures.
    """
    found: dict[str, Any] = {
        "@context": CONTEXT,
        "@type": "Dataset",
        "name": f"Figures of all batches of {shell.journal}",
        "description": shell.description,
        "inLanguage": shell.language,
        "variableMeasured": list(labels),
    }
    if site.settings.brewer:
        found["creator"] = {"@type": "Person", "name": site.settings.brewer}
    base = site.settings.base_url.rstrip("/")
    if base:
        found |= {"url": shell.canonical, "distribution": [_download(base, FIGURES)]}
    return replace(shell, linked=found)


def _download(base: str, path: str) -> dict[str, str]:
    return {"@type": "DataDownload", "encodingFormat": _TYPES[path.rpartition(".")[2]], "contentUrl": f"{base}/{quote(path)}"}
