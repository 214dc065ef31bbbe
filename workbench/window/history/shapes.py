"""A shape for each verdict, so that colour is never the only sign."""

from typing import Final

OPEN: Final = "open"

# pyqtgraph's own names: circle, triangle on its point, diamond, bar, cross, triangle
SYMBOLS: Final = {"in": "o", "close": "t", "doubtful": "d", "continuous": "_", "out": "x", OPEN: "t1"}
OTHER: Final = "star"


def symbol(word: str, *, is_open: bool) -> str:
    """An open is a triangle whatever was said of it; its colour and its words tell the verdict."""
    return SYMBOLS[OPEN] if is_open else SYMBOLS.get(word, OTHER)
