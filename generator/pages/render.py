"""Pages to text: one Jinja environment, everything escaped, a missing field is an error."""

from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from generator.charts.chart import Chart, Drawing
from generator.pages.contracts import TEMPLATES, Page
from generator.pages.data_contract import DATA_TEMPLATES, DataPage
from generator.pages.finding_contract import FINDING_TEMPLATES, FindingPage
from generator.pages.formula import formula
from generator.pages.photo_contract import Plate


def templates_dir() -> Path:
    """Where the templates are: beside this package when installed, at the top of a checkout otherwise."""
    package = Path(__file__).resolve().parents[1]
    installed = package / "templates"
    return installed if installed.is_dir() else package.parent / "templates"


@cache
def environment() -> Environment:
    """The environment that every page is rendered in."""
    made = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals["drawing"] = drawing
    made.filters["formula"] = formula
    return made


def drawing(chart: Chart, size: str) -> Markup:
    """One size of a chart as an svg element with ids of its own."""
    picture: Drawing = chart.wide if size == "wide" else chart.narrow
    name = f"{chart.name}-{size}"
    return Markup(
        '<svg class="chart {size}" viewBox="0 0 {width} {height}" width="{width}" height="{height}" role="img" '
        'aria-labelledby="{name}-title {name}-desc" focusable="false"><title id="{name}-title">{title}</title>'
        '<desc id="{name}-desc">{description}</desc>{body}</svg>'
    ).format(
        size=size, width=picture.width, height=picture.height, name=name, title=chart.title, description=chart.description,
        body=Markup(picture.body),  # noqa: S704  (made by charts, which escapes its texts)
    )  # fmt: skip


def plate(shown: Plate) -> Markup:
    """A picture of the notes with its caption."""
    macros: Any = environment().get_template("macros/plates.html").module
    return Markup(macros.plate(shown))  # noqa: S704  (a template's, with everything escaped)


def render(page: Page | FindingPage | DataPage) -> str:
    """A page as HTML."""
    template = environment().get_template((TEMPLATES | FINDING_TEMPLATES | DATA_TEMPLATES)[type(page)])
    return template.render({field.name: getattr(page, field.name) for field in fields(page)})
