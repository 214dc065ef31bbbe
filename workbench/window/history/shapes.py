"""A shape for each verdict, so that colour is never the only sign."""

from typing import Final

OPEN: Final = "open"

# pyqtgraph's own names: circle, diamond, square, cross, triangle
SYMBOLS: Final = {"in": "o", "close": "d", "doubtful": "d", "continuous": "s", "out": "x", OPEN: "t1"}
OTHER: Final = "star"


def symbol(word: str, *, is_open: bool) -> str:
    """An open is a triangle whatever was said of it; its colour and its words tell the verdict."""
    return SYMBOLS[OPEN] if is_open else SYMBOLS.get(word, OTHER)
