"""Words as they are looked for: without capitals and accents. `templates/static/js/words.js` does the same in the browser."""

import re
import unicodedata

LONGEST = 40
"""Letters of a word that count; what is longer is cut."""
_COMMON = (
    "a about after all also an and any are as at back be because been before but by can could did do does down each for from get got had has have "
    "he her his how if in into is it its just like me more most my no not now of off on only or other our out over she so some such than that the "
    "their them then there these they this those through to too under up us very was we were what when where which while who will with would you "
    "your"
)
STOP_WORDS = frozenset(_COMMON.split())
"""So common that they tell no batch from another."""
ALIKE = {
    "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i", "ß": "ss", "ς": "σ",
}  # fmt: skip
"""Letters that don't come apart into a letter and its mark."""
_MAP = str.maketrans(ALIKE)
_WORD = re.compile(r"\d+(?:[.,]\d+)+|[^\W_]+")


def fold(text: str) -> str:
    """A text without capitals, accents and letters that exist twice: "Kölsch" is "kolsch"."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text)
    return "".join(letter for letter in apart if not unicodedata.category(letter).startswith("M")).lower().translate(_MAP)


def words(text: str) -> list[str]:
    """The words of a text, folded, in their order; a decimal number is one word, single letters and stop words are none."""
    found = (word.replace(",", ".")[:LONGEST] for word in _WORD.findall(fold(text)))
    return [word for word in found if word not in STOP_WORDS and (len(word) > 1 or not word.isascii() or word.isdigit())]
