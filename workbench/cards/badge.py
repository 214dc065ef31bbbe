"""The verdict, told by a shape of its own before any word is read. Black and white only."""

from workbench.cards.marks import Disc, Mark, Rule, Shape, Text, Weight
from workbench.cards.wrap import Measure
from workbench.stator.judge import SheetVerdict

_CAP_HEIGHT = 0.69  # of the type size


def badge(
    verdict: SheetVerdict, word: str, x: float, top: float, width: float, height: float, measure: Measure
) -> list[Mark]:
    """Good: a pointed tag with its hole, in a double line. Fail: a black sign. Not proved: a broken outline."""
    bottom, right = top - height, x + width
    middle, nib = (top + bottom) / 2, height * 0.42
    thick = height / 16
    inset = thick / 2
    room, start, tall = width - 2 * nib, x + nib, height * 0.92
    marks: list[Mark]
    if verdict is SheetVerdict.GOOD:
        gap = 2.1 * thick
        marks = [
            Shape(_tag(x, right, bottom, top, nib, inset), thick),
            Shape(_tag(x, right, bottom, top, nib, inset + gap), thick / 2.4),
            Disc(x + nib * 1.02, middle, height * 0.085, thick / 1.6),
        ]
        room, start, tall = width - nib * 1.75, x + nib * 1.4, height * 0.76
    elif verdict is SheetVerdict.FAIL:
        cut = height * 0.29
        corners = (
            (x + cut, bottom), (right - cut, bottom), (right, bottom + cut), (right, top - cut),
            (right - cut, top), (x + cut, top), (x, top - cut), (x, bottom + cut),
        )  # fmt: skip
        marks = [Shape(corners, filled=True)]
    else:
        left, end, low, high = x + inset, right - inset, bottom + inset, top - inset
        marks = [_broken(x, y, right, y, thick) for y in (low, high)]
        marks += [_broken(at, bottom, at, top, thick) for at in (left, end)]
        room, start = width - height * 0.36, x + height * 0.18
    size = min(tall, tall * room / measure(word, Weight.BOLD, tall))
    at = start + (room - measure(word, Weight.BOLD, size)) / 2
    base = middle - size * _CAP_HEIGHT / 2
    return [*marks, Text(at, base, word, Weight.BOLD, size, white=verdict is SheetVerdict.FAIL)]


def _broken(x: float, y: float, to_x: float, to_y: float, thick: float) -> Rule:
    """A dashed side that begins and ends with a dash, so that the corners are whole."""
    long, dash = max(to_x - x, to_y - y), thick * 3.2
    count = max(2, round((long + thick * 1.7) / (dash + thick * 1.7)))
    return Rule(x, y, to_x, to_y, thick, (dash, (long - count * dash) / (count - 1)))


def _tag(
    x: float, right: float, bottom: float, top: float, nib: float, inset: float
) -> tuple[tuple[float, float], ...]:
    left = x + inset * 1.5
    cut = inset * 0.45
    return (
        (left, (bottom + top) / 2),
        (x + nib + cut, top - inset),
        (right - inset, top - inset),
        (right - inset, bottom + inset),
        (x + nib + cut, bottom + inset),
    )
