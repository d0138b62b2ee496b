"""The data page: what figures.csv, the file of each batch and the feeds hold, made from the code that writes them."""

from generator.analysis.catalogue import FIGURES as CATALOGUE
from generator.analysis.catalogue import GROUPS
from generator.pages import head
from generator.pages.contracts import Link
from generator.pages.data_contract import DataPage, FigureGroup
from generator.pages.data_keys import PARTS
from generator.pages.formatting import long_date, plural
from generator.pages.site_map import SiteMap, href, title
from generator.pages.spreadsheet import COLUMNS

_FONTS = (
    ("Ledger Serif", "assets/fonts/OFL-source-serif.md"),
    ("Ledger Sans", "assets/fonts/OFL-source-sans.md"),
)


def data_page(site: SiteMap) -> DataPage:
    """data.html."""
    shell = site.shell("Data", "Every figure of every batch as a table, and what each column and each key of the data files means.", head.DATA, "")
    base = site.settings.base_url
    rows = len(site.reports) * len(CATALOGUE)
    return DataPage(
        head.of_data(site, shell, tuple(entry.label for entry in CATALOGUE)),
        "Data",
        "Every figure of every batch, for spreadsheets and programs",
        Link(head.FIGURES, head.FIGURES, f"{plural(len(site.reports), 'batch', 'batches')}, {rows:,} rows"),
        COLUMNS,
        tuple(FigureGroup(group, tuple(entry for entry in CATALOGUE if entry.group == group)) for group in GROUPS),
        PARTS,
        (
            Link(head.ATOM_FEED, head.ATOM_FEED, "Atom, RFC 4287"),
            Link(head.JSON_FEED, head.JSON_FEED, "JSON Feed, version 1.1"),
        )
        if base
        else (),
        tuple((f"{title(one)}, {long_date(one.batch.plan.batch.brewed)}", href(f"batches/{one.batch.slug}.json")) for one in site.reports),
        tuple(Link(name, path) for name, path in _FONTS),
    )
