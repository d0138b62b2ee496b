"""Pictures of the notes as figures: where they come to stand, their words, and what is left of the line they were in."""

import re

import pytest

from generator.imaging.encoding import Encoded, Variant
from generator.pages.gallery import gallery, paths, pictures
from generator.pages.notes import story
from generator.pages.photo_contract import Picture
from generator.pages.plates import readable

BED = Picture("t/photos/1-480.webp 480w, t/photos/1-960.webp 960w", "t/photos/1-960.jpg", 960, 640)
PHOTOS = {"bed.jpg": BED, "foam.png": BED}


def outline(markdown: str) -> str:
    """The story with each figure shortened to [alternative|caption]."""
    told, _ = story(markdown, prefix="n", photos=PHOTOS)
    short = re.sub(r'<figure class="plate">.*?alt="(.*?)".*?<figcaption>(.*?)</figcaption>\s*</figure>\n', r"[\1|\2]", str(told), flags=re.DOTALL)
    return short.replace("\n", "")


@pytest.mark.parametrize(
    ("markdown", "html"),
    [
        ("a\n\n![bed](photos/bed.jpg)\n\nb", "<p>a</p>[|bed]<p>b</p>"),
        ('![bed](photos/bed.jpg "the bed")', "[bed|the bed]"),
        ("![](photos/bed.jpg)", "[|Bed]"),
        ('![](photos/bed.jpg "the bed")', "[|the bed]"),
        ("![*a* `b`](photos/bed.jpg)", "[|a b]"),
        ("![one](photos/bed.jpg)\n![two](photos/foam.png)", "[|one][|two]"),
        ("a ![bed](photos/bed.jpg)\nb", "<p>a b</p>[|bed]"),
        ("![bed](photos/bed.jpg)\nb", "<p>b</p>[|bed]"),
        ("[![bed](photos/bed.jpg)](https://e.org)", '<p><a href="https://e.org">bed</a></p>[|bed]'),
        ("- a\n- ![bed](photos/bed.jpg)", "<ul><li>a</li><li>[|bed]</li></ul>"),
        ("> ![bed](photos/bed.jpg)", "<blockquote>[|bed]</blockquote>"),
        ("# The bed ![bed](photos/bed.jpg)", "<h3>The bed </h3>[|bed]"),
        ("# ![bed](photos/bed.jpg)", "[|bed]"),
        ("![a <b> &quot;](photos/bed.jpg)", "[|a &lt;b&gt; &#34;]"),
    ],
)
def test_where_pictures_stand(markdown: str, html: str) -> None:
    """A figure follows the block that its picture was written in; a block that held nothing else goes; links keep words."""
    assert re.sub(r"\s+(?=<)|(?<=>)\s+", "", outline(markdown)) == re.sub(r"\s+(?=<)|(?<=>)\s+", "", html)


def test_pictures_in_tables_and_footnotes() -> None:
    """A figure stays in its cell and in its note, with the way back."""
    told = outline("| a |\n| - |\n| ![bed](photos/bed.jpg) |\n\nx[^1]\n\n[^1]: ![foam](photos/foam.png)\n")
    assert "<td>[|bed]</td>" in told
    assert re.search(r'<li id="n-fn1".*back</a></p>\[\|foam\]</li>', told)


def test_a_figure_has_all_that_a_browser_needs() -> None:
    """WebP first, the other file for the rest, both sides so that nothing moves; never lazy, because it prints."""
    told, _ = story("![bed](photos/bed.jpg)", prefix="n", photos=PHOTOS)
    assert f'<source type="image/webp" srcset="{BED.srcset}" sizes="' in told
    assert '<img src="t/photos/1-960.jpg" width="960" height="640" alt="" decoding="async">' in told
    assert "lazy" not in told


def test_tasting_may_hold_pictures() -> None:
    """A picture under the heading Tasting goes with the tasting."""
    told, tasted = story("## Tasting\n\n![foam](photos/foam.png)\n", prefix="n", photos=PHOTOS)
    assert told == ""
    assert "<figcaption>foam</figcaption>" in tasted


def test_gallery_shows_what_the_notes_do_not_place() -> None:
    """By name; a picture of a lesson isn't shown there, so the gallery has it, with the lesson's words."""
    markdown = '![bed](photos/bed.jpg)\n\n## Lessons\n\n- Cool. ![cold foam](photos/foam.png "Foam")\n'
    (plate,) = gallery(markdown, PHOTOS)
    assert (plate.alternative, plate.caption) == ("cold foam", "Foam")
    assert [plate.caption for plate in gallery("", PHOTOS)] == ["Bed", "Foam"]
    assert gallery("![a](photos/bed.jpg)\n\n## Tasting\n\n![b](photos/foam.png)", PHOTOS) == ()


@pytest.mark.parametrize(
    ("name", "caption"),
    [
        ("mash-tun_full.jpg", "Mash tun full"), ("kettle 2.png", "Kettle 2"), ("ärger.webp", "Ärger"), ("2026-02-14-kettle.jpg", "Kettle"),
        ("Foam.on.day.3.jpg", "Foam on day 3"), ("pH.jpg", "PH"), ("IMG_1234.JPG", None), ("img_20260214_091000.jpg", None), ("DSC01234.JPG", None),
        ("20260214_091000.jpg", None), ("P1010001.jpg", None), ("---.jpg", None), ("1.jpg", None),
    ],
)  # fmt: skip
def test_names_of_files_as_captions(name: str, caption: str | None) -> None:
    """Words come out as words; days, times and the numbers of cameras never."""
    assert readable(name) == (caption or "A picture of this batch")


def test_links_to_pictures() -> None:
    """The links of a page lead to the paths of the files, also from a folder with commas, spaces and letters of other scripts."""
    made = Encoded(600, 400, (Variant(480, ".webp", b"a"), Variant(600, ".webp", b"b")), Variant(600, ".jpg", b"c"))
    files = paths("a, b-ü", "12ab", made)
    assert files == {
        "batches/a, b-ü/photos/12ab-480.webp": b"a", "batches/a, b-ü/photos/12ab-600.webp": b"b", "batches/a, b-ü/photos/12ab-600.jpg": b"c",
    }  # fmt: skip
    picture = pictures("a, b-ü", {"x.jpg": ("12ab", made)})["x.jpg"]
    start = "a%2C%20b-%C3%BC/photos/12ab"
    assert picture == Picture(f"{start}-480.webp 480w, {start}-600.webp 600w", f"{start}-600.jpg", 600, 400)
