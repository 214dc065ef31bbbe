"""Breaks text into lines that fit. Knows widths only through the measure it is handed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from workbench.cards.marks import Weight

Measure = Callable[[str, Weight, float], float]  # words, weight, size (pt) -> width (pt)

Run = tuple[str, Weight]

TIE = "\u00a0"  # holds words together while lines are broken; printed as a plain space


@dataclass(frozen=True, slots=True)
class Placed:
    """Words of one weight within a line, `x` from the line's start."""

    x: float
    words: str
    weight: Weight


def wrap(runs: Sequence[Run], width: float, size: float, measure: Measure) -> list[tuple[Placed, ...]]:
    """Lines no wider than `width` (pt). A word that is wider by itself is broken between its characters."""
    lines: list[tuple[Placed, ...]] = []
    line: list[Placed] = []
    x = 0.0
    for weight, word in _words(runs):
        for piece in _pieces(word, weight, width, size, measure):
            gap = measure(" ", weight, size) if line else 0.0
            long = measure(piece, weight, size)
            if line and x + gap + long > width:
                lines.append(_joined(line))
                line, x, gap = [], 0.0, 0.0
            line.append(Placed(x + gap, piece, weight))
            x += gap + long
    if line:
        lines.append(_joined(line))
    return lines


def wrap_plain(text: str, weight: Weight, width: float, size: float, measure: Measure) -> list[str]:
    return [" ".join(p.words for p in line) for line in wrap([(text, weight)], width, size, measure)]


def _words(runs: Sequence[Run]) -> list[tuple[Weight, str]]:
    return [(weight, word) for text, weight in runs for word in text.split(" ") if word]


def _pieces(word: str, weight: Weight, width: float, size: float, measure: Measure) -> list[str]:
    """The word whole if it fits; else at its ties; else after a hyphen; else wherever it must."""
    if measure(word, weight, size) <= width:
        return [word]
    if TIE in word.strip(TIE):
        return [p for part in word.split(TIE) if part for p in _pieces(part, weight, width, size, measure)]
    pieces, piece = [], ""
    for character in word:
        while piece and measure(piece + character, weight, size) > width:
            cut = piece.rfind("-") + 1 or len(piece)
            pieces.append(piece[:cut])
            piece = piece[cut:]
        piece += character
    return [*pieces, piece]


def _joined(line: list[Placed]) -> tuple[Placed, ...]:
    """Neighbours of one weight as one text, so that a line is a few marks rather than many."""
    out: list[Placed] = []
    for p in line:
        if out and out[-1].weight is p.weight:
            out[-1] = Placed(out[-1].x, f"{out[-1].words} {p.words}", p.weight)
        else:
            out.append(p)
    return tuple(Placed(p.x, p.words.replace(TIE, " "), p.weight) for p in out)


def fitted(
    text: str, weight: Weight, width: float, sizes: Sequence[float], measure: Measure, most_lines: int = 1
) -> tuple[float, list[str]]:
    """The largest of `sizes` (falling) at which the text takes at most `most_lines`; else the last, all lines."""
    for size in sizes:
        lines = wrap_plain(text, weight, width, size, measure)
        if len(lines) <= most_lines:
            return size, lines
    return sizes[-1], lines
