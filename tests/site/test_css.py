"""The style sheets: one place for colours, no class without a use, contrast by the formula, every letter in the fonts."""

import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from generator.pages.render import templates_dir
from tests.site.dom import Page, text

CSS = templates_dir() / "static" / "css"
FONTS = templates_dir() / "static" / "fonts"
LITERAL = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\(")
OF_NOTES = {"of-notes", "right", "center", "scroll", "photo", "footnotes"}
"""Made by the notes of some journals."""
WITHOUT_RULE = {"footnote-ref", "footnote-item", "footnote-backref", "timeline", "plain"}
"""Names only."""
TEXTS = ("ink", "quiet", "blue", "rubric", "moss")
GRAPHICS = ("ink", "quiet", "blue", "rubric", "moss")


def _css(name: str) -> str:
    """A sheet without its comments."""
    return re.sub(r"/\*.*?\*/", "", (CSS / name).read_text(encoding="utf-8"), flags=re.DOTALL)


def _luminance(colour: str) -> float:
    """Relative luminance of WCAG 2."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _palettes() -> dict[str, dict[str, str]]:
    """The tokens of both schemes, and those of print over the light ones."""
    roots = re.findall(r":root\s*\{(.*?)\}", _css("tokens.css"), re.DOTALL)
    light, dark = (dict(re.findall(r"--(\w+):\s*(#[0-9A-Fa-f]{6})\b", block)) for block in roots[:2])
    found = re.findall(r"--(\w+):\s*#([0-9A-Fa-f]{3,6})\b", _css("print.css"))
    paper = {name: "#" + ("".join(2 * digit for digit in value) if len(value) == 3 else value) for name, value in found}
    return {"light": light, "dark": light | dark, "print": light | paper}


@pytest.mark.parametrize(("one", "other", "expected"), [("#000000", "#FFFFFF", 21.0), ("#777777", "#FFFFFF", 4.48), ("#123456", "#123456", 1.0)])
def test_contrast_formula(one: str, other: str, expected: float) -> None:
    """The formula gives the well-known ratios."""
    assert contrast(one, other) == pytest.approx(expected, abs=0.005)


@pytest.mark.parametrize("scheme", ["light", "dark", "print"])
def test_tokens_have_contrast(scheme: str) -> None:
    """Text 4.5 and graphics 3 against the paper; blue text 4.5 also on the band of a doubt."""
    palette = _palettes()[scheme]
    assert set(palette) >= {*TEXTS, *GRAPHICS, "paper", "rule", "doubt"}
    for name in TEXTS:
        assert contrast(palette[name], palette["paper"]) >= 4.5, name
    for name in GRAPHICS:
        assert contrast(palette[name], palette["paper"]) >= 3.0, name
    assert contrast(palette["blue"], palette["doubt"]) >= 4.5


def test_both_schemes_set_every_colour() -> None:
    """No colour of the light scheme is left standing in the dark one."""
    roots = re.findall(r":root\s*\{(.*?)\}", _css("tokens.css"), re.DOTALL)
    light, dark = (set(re.findall(r"--(\w+):\s*#", block)) for block in roots[:2])
    assert light == dark
    assert len(light) == 8


def test_colours_stand_in_the_tokens_only() -> None:
    """No colour literal outside of tokens.css; print.css may set tokens, and black for ink."""
    for path in CSS.glob("*.css"):
        if path.name == "tokens.css":
            continue
        css = _css(path.name)
        if path.name == "print.css":
            css = re.sub(r"--\w+:\s*#\w+", "", css).replace("#000", "")
        assert not LITERAL.search(css), path.name
    templates = "".join(path.read_text(encoding="utf-8") for path in templates_dir().rglob("*.html"))
    assert not re.search(r"(?<![\"'#\w&])#[0-9a-fA-F]{6}\b", templates)


def _classes_of_css() -> set[str]:
    found: set[str] = set()
    for path in CSS.glob("*.css"):
        for selector in re.findall(r"([^{}]+)\{", _css(path.name)):
            found |= set(re.findall(r"\.([a-zA-Z][\w-]*)", re.sub(r"@[^{]*", "", selector)))
    return found


def test_every_class_of_the_pages_has_a_rule_or_a_reason(pages: dict[str, Page]) -> None:
    """No page carries a class that no sheet knows."""
    known = _classes_of_css() | WITHOUT_RULE
    used = {name for page in pages.values() for element in page.elements for name in element.get("class", "").split()}
    assert used - known == set()


def test_every_class_of_the_sheets_is_used(pages: dict[str, Page]) -> None:
    """No rule is left over from something that no template or drawing makes any more."""
    used = {name for page in pages.values() for element in page.elements for name in element.get("class", "").split()}
    sources = "".join(path.read_text(encoding="utf-8") for path in templates_dir().rglob("*.html"))
    written = set(re.findall(r"[\w-]+", " ".join(re.findall(r'class="([^"]*)"', sources))))
    scripts = "".join(path.read_text(encoding="utf-8") for path in (templates_dir() / "static" / "js").glob("*.js"))
    written |= set(re.findall(r"[\w-]+", " ".join(re.findall(r'(?:className = |classList\.add\(|element\("\w+", )"([^"]*)"', scripts))))
    drawn = {f"{kind}-{name}" for kind in "fs" for name in ("ink", "quiet", "rule", "blue", "rubric", "moss", "paper", "band", "none")}
    tones = {"short", "gain", "quiet"}
    assert _classes_of_css() - used - written - drawn - tones - OF_NOTES == set()


def test_fonts_hold_every_letter_of_the_site(pages: dict[str, Page]) -> None:
    """Each code point of each page is in the upright serif and the upright sans, so nothing falls back to another face."""
    letters = {letter for page in pages.values() for element in page.all("title", "body") for letter in text(element)} - {" "}
    for name in ("ledger-serif-roman.woff2", "ledger-sans-upright.woff2"):
        font = TTFont(FONTS / name)
        missing = {letter for letter in letters if ord(letter) not in font.getBestCmap()}
        assert missing == set(), name


def test_fonts_carry_their_licence_and_no_reserved_name() -> None:
    """Each family has its licence beside it; the reserved name of the original isn't used."""
    assert {path.name for path in FONTS.glob("OFL-*.md")} == {"OFL-source-sans.md", "OFL-source-serif.md"}
    for path in FONTS.glob("*.woff2"):
        names = {str(record) for record in TTFont(path)["name"].names if record.nameID in (1, 4, 16)}
        assert names
        assert not [name for name in names if "Source" in name], path.name


def test_sheets_stay_small() -> None:
    """Styles and fonts together weigh less than 350 KB, styles alone less than 40."""
    sheets = sum(path.stat().st_size for path in CSS.glob("*.css"))
    fonts = sum(path.stat().st_size for path in Path(FONTS).glob("*.woff2"))
    assert sheets < 40_000
    assert sheets + fonts < 350_000
