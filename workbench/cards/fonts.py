"""The card's typeface: embedded in every PDF, and asked beforehand whether it has a glyph."""

import unicodedata
from functools import cache, lru_cache
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from resources.files import read_bytes
from workbench.cards.marks import Weight

REPLACEMENT = "▯"  # for a character the typeface has no glyph for: something, never nothing


@cache
def font_name(weight: Weight) -> str:
    """Registers the weight on first use."""
    name = f"Card-{weight}"
    pdfmetrics.registerFont(TTFont(name, BytesIO(read_bytes("fonts", f"FiraSansCondensed-{weight}.ttf"))))
    return name


@cache
def glyphs() -> frozenset[int]:
    """The characters (code points) that every weight can draw as more than an empty space, and the space itself."""
    known: set[int] | None = None
    for weight in Weight:
        face = pdfmetrics.getFont(font_name(weight)).face
        seen = {c for c, glyph in face.charToGlyph.items() if face.glyphPos[glyph + 1] > face.glyphPos[glyph]}
        known = seen if known is None else known & seen
    drawn = {c for c in known or () if unicodedata.category(chr(c)) not in ("Cf", "Cc")}
    return frozenset({*drawn, ord(" "), 0xA0})


def printable(text: str) -> str:
    """The text as the typeface can print it, on one line: what it can't becomes a visible replacement.

    White space becomes plain spaces (a tie stays one); accents are composed with their letters first.
    """
    out = []
    for character in unicodedata.normalize("NFC", text):
        if ord(character) in glyphs():
            out.append(character)
        elif character.isspace():
            out.append(" ")
        else:
            out.append(REPLACEMENT)
    return "".join(out)


def width(words: str, weight: Weight, size: float) -> float:
    """Points."""
    return _unit_width(words, weight) * size


@lru_cache(maxsize=8192)
def _unit_width(words: str, weight: Weight) -> float:
    """At a size of 1 pt: widths are proportional, and a card is tried at several sizes."""
    return float(pdfmetrics.stringWidth(words, font_name(weight), 1))
