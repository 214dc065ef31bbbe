"""Sets the intake tag: its number as large as it can be, the code beside or below it, the rest under that."""

from workbench.cards.blocks import Block, Room, gap, paragraph, plain_blocks, rule
from workbench.cards.flow import Flow, fewest, put
from workbench.cards.intake import IntakeContent
from workbench.cards.layout import Code
from workbench.cards.marks import QUIET, Mark, Page, Text, Weight
from workbench.cards.stock import SMALLEST, Stock
from workbench.cards.strip import hole_and_notes
from workbench.cards.wrap import Measure, fitted

_TAG_SIZES = (48.0, 42.0, 36.0, 31.0, 27.0, 23.0, 20.0, 17.0, 14.0, 12.0, 10.0, 8.0, SMALLEST)
_BODIES = (13.0, 12.0, 11.0, 10.0, 9.2)


def lay_out_intake(content: IntakeContent, code: Code, stock: Stock, measure: Measure) -> list[Page]:
    """Pages in order, for `content` whose every character can be printed: one, unless its words are very many."""
    sizes = (*(b for b in _BODIES if b > stock.bodies[0]), *stock.bodies)
    pages = fewest(sizes, lambda size: _flow(content, code, stock, size, measure))
    out = []
    for i, marks in enumerate(pages, 1):
        more = [_count(stock, f"tag {i} of {len(pages)}", measure)] if len(pages) > 1 else []
        hole = hole_and_notes((), "", stock, measure) if stock.strip else []
        out.append(Page(*stock.size, (*marks, *hole, *more)))
    return out


def _flow(content: IntakeContent, code: Code, stock: Stock, size: float, measure: Measure) -> list[list[Mark]]:
    marks: list[Mark] = []
    room = Room(stock.inner, size, measure)
    low = stock.margin + SMALLEST * 1.4
    if stock.narrow:
        y = _tag(content, stock, stock.inner, stock.top, marks, measure)
        clear = max(0.0, QUIET * code(stock.width, y)[0].size - 1)  # the code's quiet zone above it
        squares, taken = code(stock.width - stock.margin, y - clear)
        taken += clear
    else:
        squares, taken = code(stock.width - stock.margin, stock.top)
        y = _tag(content, stock, stock.inner - taken - 6, stock.top, marks, measure)
    marks.append(squares)
    beside = Room(stock.inner - taken - 6, size, measure)
    label = plain_blocks(content.label, Weight.BOLD, beside) if content.label else []
    tall = sum(b.height for b in label)
    below = (y if stock.narrow else stock.top) - taken
    if y - tall >= below:  # it fits beside the code
        y = put(label, stock.margin, y, marks)
        label = []
    flow = Flow(stock.margin, min(y, below) - 4, low, low, lambda: ([], stock.top), [marks])
    flow.set([*label, *_body(content, room)])
    return flow.pages


def _tag(content: IntakeContent, stock: Stock, wide: float, top: float, marks: list[Mark], measure: Measure) -> float:
    """From `top` down; gives the `y` below it."""
    size, lines = fitted(content.tag, Weight.BOLD, wide, _TAG_SIZES, measure)
    for i, words in enumerate(lines):
        marks.append(Text(stock.margin, top - size * 0.78 - i * size, words, Weight.BOLD, size))
    return top - size * len(lines) - 3


def _body(content: IntakeContent, room: Room) -> list[Block]:
    blocks: list[Block] = [rule(room.width), gap(1.5)]
    for line in content.lines:
        blocks += [*paragraph(line, room.width, room.size, room.measure), gap(2.0)]
    blocks += [
        rule(room.width),
        *plain_blocks(content.foot, Weight.MEDIUM, Room(room.width, max(SMALLEST, room.size - 2), room.measure)),
    ]
    return blocks


def _count(stock: Stock, words: str, measure: Measure) -> Mark:
    wide = measure(words, Weight.MEDIUM, SMALLEST)
    return Text(stock.width - stock.margin - wide, stock.margin + 1.5, words, Weight.MEDIUM, SMALLEST)
