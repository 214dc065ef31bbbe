"""The strip at the top of a tag that hangs on a string: its hole, and beside it what needs no large type."""

from workbench.cards.blocks import LEADING
from workbench.cards.content import CardContent
from workbench.cards.marks import Disc, Mark, Text, Weight
from workbench.cards.stock import MM, SMALLEST, Stock
from workbench.cards.wrap import Measure, wrap_plain

_HOLE = 2.5 * MM  # radius
_CLEAR = 6 * MM  # from the hole's middle: the punch and its ring of card


def strip_marks(content: CardContent, stock: Stock, measure: Measure) -> list[Mark]:
    """None where the stock has no strip."""
    if not stock.strip:
        return []
    return hole_and_notes((content.whose, content.copy), content.made, stock, measure)


def hole_and_notes(left: tuple[str, ...], right: str, stock: Stock, measure: Measure) -> list[Mark]:
    """The hole's place in the middle, notes under one another at its left, one at its right."""
    high, size = stock.height - stock.margin, SMALLEST + 0.6
    middle = stock.width / 2
    marks: list[Mark] = [Disc(middle, high - _HOLE - 0.5, _HOLE, 0.5)]
    room = middle - _CLEAR - stock.margin
    y = high - size * 0.8
    for words in (t for note in left if note for t in wrap_plain(note, Weight.MEDIUM, room, size, measure)):
        marks.append(Text(stock.margin, y, words, Weight.MEDIUM, size))
        y -= size * LEADING
    long = measure(right, Weight.MEDIUM, size)
    marks.append(Text(stock.width - stock.margin - long, high - size * 0.8, right, Weight.MEDIUM, size))
    return marks
