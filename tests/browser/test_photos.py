"""Pictures in Chromium: loaded under the policy of the page, never enlarged, of a fitting width, and printed."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import opened

SEEN = """() => Promise.all([...document.images].map(async image => {
    image.loading = 'eager';
    await image.decode();
    const box = image.getBoundingClientRect();
    return {file: image.currentSrc, width: box.width, height: box.height, right: box.right, own: image.naturalWidth,
            ratio: image.width / image.height, wanted: image.getAttribute('width') / image.getAttribute('height')};
}))"""


@pytest.mark.parametrize(("width", "widest"), [(320, 480), (360, 480), (768, 960), (1280, 960)])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pictures_load_and_fit(browser: Browser, kinds: dict[str, Path], width: int, widest: int, scheme: str) -> None:
    """All load from the site as WebP no larger than needed, keep their proportions, and stay within the page."""
    context = browser.new_context(viewport={"width": width, "height": 900})
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    opened(page, kinds["strong"], color_scheme=scheme)
    seen = page.evaluate(SEEN)
    assert len(seen) == 2
    for image in seen:
        assert image["file"].startswith("file://")
        assert image["file"].endswith(".webp")
        assert image["own"] <= widest
        assert image["right"] <= width
        assert image["ratio"] == pytest.approx(image["wanted"], rel=0.02)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert complaints == []
    context.close()


def test_the_other_file_loads_too(page: Page, kinds: dict[str, Path]) -> None:
    """A reader without WebP gets the JPEG."""
    opened(page, kinds["strong"])
    page.evaluate("document.querySelectorAll('source').forEach(source => source.remove())")
    assert [image["file"].rsplit(".")[-1] for image in page.evaluate(SEEN)] == ["jpg", "jpg"]


def test_a_small_picture_is_not_enlarged(page: Page, kinds: dict[str, Path]) -> None:
    """A picture of 120 px takes 120 px of a wide page; a tall one fits the screen."""
    opened(page, kinds["strong"])
    script = """([width, height]) => { const image = document.querySelector('.story .plate img');
        document.querySelectorAll('source').forEach(source => source.remove());
        image.removeAttribute('src'); image.setAttribute('width', width); image.setAttribute('height', height);
        image.src = document.createElement('canvas').toDataURL(); const box = image.getBoundingClientRect(); return [box.width, box.height]; }"""
    assert page.evaluate(script, [120, 80])[0] <= 120
    assert page.evaluate(script, [1440, 4000])[1] <= 900


def test_pictures_of_the_story_are_printed(page: Page, kinds: dict[str, Path]) -> None:
    """At least six centimetres wide; the gallery stays on the screen."""
    opened(page, kinds["strong"], media="print")
    page.set_viewport_size({"width": 680, "height": 1000})
    assert page.locator(".gallery:visible").count() == 0
    assert page.locator(".story .plate img:visible").count() == 1
    assert page.locator(".story .plate img").bounding_box()["width"] > 60 / 25.4 * 96
    assert page.locator(".story .plate img").get_attribute("loading") is None
