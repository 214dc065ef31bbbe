"""Sets the intake tag: its number as large as it can be, the code below it, who and why beside and under that."""

from workbench.cards.blocks import Block, Room, gap, paragraph, plain_blocks, rule, tied_gap
from workbench.cards.flow import Flow, fewest, put
from workbench.cards.intake import IntakeContent
from workbench.cards.layout import Code
from workbench.cards.marks import QUIET, Mark, Page, Rule, Text, Weight
from workbench.cards.stock import SMALLEST, Stock
from workbench.cards.strip import hole_and_notes
from workbench.cards.wrap import Measure, fitted

_TAG_SIZES = (64.0, 56.0, 48.0, 42.0, 36.0, 31.0, 27.0, 23.0, 20.0, 17.0, 14.0, 12.0, 10.0, 8.0, SMALLEST)
_TWO_LINES = 36.0  # a tag that would be smaller than this on one line is larger on two
_BODIES = (13.0, 12.0, 11.0, 10.0, 9.2)
_PEN = 20.0  # between lines to write on
_BELOW = 7.0  # the last of them
_MOST_LINES = 4


def lay_out_intake(content: IntakeContent, code: Code, stock: Stock, measure: Measure) -> list[Page]:
    """Pages in order, for `content` whose every character can be printed: one, unless its words are very many."""
    sizes = stock.bodies if stock.narrow else (*_BODIES, *stock.bodies)
    pages = fewest(sizes, lambda size: _flow(content, code, stock, size, measure))
    out = []
    for i, marks in enumerate(pages, 1):
        more = [_count(stock, f"tag {i} of {len(pages)}", measure)] if len(pages) > 1 else []
        hole = hole_and_notes((), "", stock, measure) if stock.strip else []
        out.append(Page(*stock.size, (*marks, *hole, *more)))
    return out


def _flow(content: IntakeContent, code: Code, stock: Stock, size: float, measure: Measure) -> list[list[Mark]]:
    marks: list[Mark] = []
    low = stock.margin + SMALLEST * 1.4
    y = _tag(content, stock, stock.top, marks, measure)
    clear = max(0.0, QUIET * code(stock.width, y)[0].size - 1)  # the code's quiet zone above it
    squares, taken = code(stock.width - stock.margin, y - clear)
    marks.append(squares)
    room, beside = Room(stock.inner, size, measure), Room(stock.inner - taken - 4, size, measure)
    label = plain_blocks(content.label, Weight.BOLD, beside) if content.label else []
    facts = [b for line in content.facts for b in paragraph(line, beside.width, size, measure)]
    below = y - clear - taken
    if y - sum(b.height for b in (*label, *facts)) - 4 < below:  # it doesn't fit beside the code
        label = plain_blocks(content.label, Weight.BOLD, room)
        y = put(facts, stock.margin, y - 2, marks)
    else:
        y = put([*label, gap(4.0), *facts], stock.margin, y - 2, marks)
        label = []
    flow = Flow(stock.margin, min(y, below) - 2, low, low, lambda: ([], stock.top), [marks])
    flow.set([*label, *_body(content, room)])
    foot = _foot(content, room)
    if not content.seen:
        _lines_to_write_on(flow, room.width, sum(b.height for b in foot))
    flow.set(foot)
    return flow.pages


def _tag(content: IntakeContent, stock: Stock, top: float, marks: list[Mark], measure: Measure) -> float:
    """From `top` down; gives the `y` below it."""
    size, lines = fitted(content.tag, Weight.BOLD, stock.inner, _TAG_SIZES, measure)
    if size < _TWO_LINES:
        smaller = [s for s in _TAG_SIZES if s <= _TWO_LINES]
        size, lines = fitted(content.tag, Weight.BOLD, stock.inner, smaller, measure, 2)
    for i, words in enumerate(lines):
        marks.append(Text(stock.margin, top - size * 0.78 - i * size, words, Weight.BOLD, size))
    return top - size * len(lines) - 1


def _body(content: IntakeContent, room: Room) -> list[Block]:
    blocks: list[Block] = [rule(room.width), tied_gap(1.5)]
    for line in content.lines:
        blocks += [*paragraph(line, room.width, room.size, room.measure), gap(3.0)]
    return blocks


def _foot(content: IntakeContent, room: Room) -> list[Block]:
    small = Room(room.width, max(SMALLEST, room.size - 3), room.measure)
    lines = plain_blocks(content.foot, Weight.MEDIUM, small)
    return [gap(3.0), rule(room.width), *(Block(b.height, b.marks, tied=True) for b in lines[:-1]), lines[-1]]


def _lines_to_write_on(flow: Flow, width: float, kept: float) -> None:
    """For what is seen and not typed: as many as there is room for, less what is `kept` for the foot."""
    count = min(_MOST_LINES, int((flow.y - flow.floor - kept - 2 - _BELOW) / _PEN))
    for _ in range(count):
        flow.y -= _PEN
        flow.pages[-1].append(Rule(flow.x, flow.y, flow.x + width, flow.y, 0.5, (0.9, 1.8)))
    if count > 0:
        flow.y -= _BELOW


def _count(stock: Stock, words: str, measure: Measure) -> Mark:
    wide = measure(words, Weight.MEDIUM, SMALLEST)
    return Text(stock.width - stock.margin - wide, stock.margin + 1.5, words, Weight.MEDIUM, SMALLEST)
