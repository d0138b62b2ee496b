"""Formulas as HTML: raised and lowered letters as markup, so that every font can set them."""

import re
import unicodedata

from markupsafe import Markup, escape

_PLACES = {"<super>": "sup", "<sub>": "sub"}
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def formula(text: str) -> Markup:
    """A formula's text, its superscript and subscript characters as `sup` and `sub` elements: m³ is m<sup>3</sup>, 2e-3 is 2·10<sup>−3</sup>."""
    text = re.sub(r"(?<=\d)e(-?\d+)", lambda power: "·10" + power[1].translate(_RAISED), text)
    found: list[tuple[str, str]] = []
    for letter in text:
        kind, _, plain = unicodedata.decomposition(letter).partition(" ")
        place = _PLACES.get(kind, "")
        shown = chr(int(plain, 16)) if place else letter
        if found and found[-1][0] == place:
            found[-1] = (place, found[-1][1] + shown)
        else:
            found.append((place, shown))
    return Markup("").join(Markup("<{0}>{1}</{0}>").format(Markup(place), part) if place else escape(part) for place, part in found)  # noqa: S704
