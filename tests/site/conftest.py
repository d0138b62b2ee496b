"""The demo site as parsed pages."""

from pathlib import Path

import pytest

from tests.site.dom import Page, parsed


@pytest.fixture(scope="session")
def pages(demo_site: Path) -> dict[str, Page]:
    """Every page of the demo site by its path."""
    return parsed(demo_site)
