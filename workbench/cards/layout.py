"""Sets a card's content on as few pages as it takes; nothing overruns, nothing is left out."""

from collections.abc import Callable

from workbench.cards.badge import badge
from workbench.cards.blocks import LEADING, Block, Room, boxed, paragraph, rule, section_blocks
from workbench.cards.content import CardContent, Line
from workbench.cards.flow import Flow, fewest, put
from workbench.cards.marks import QUIET, Mark, Page, Squares, Text, Weight
from workbench.cards.narrowtable import narrow_table_blocks
from workbench.cards.stock import SMALLEST, Stock
from workbench.cards.strip import strip_marks
from workbench.cards.title import lone_tag_blocks, notes_of, part_blocks, tag_blocks
from workbench.cards.widetable import table_blocks
from workbench.cards.wrap import Measure, fitted, wrap_plain

Code = Callable[[float, float], tuple[Squares, float]]
"""The square code with its upper right corner there, and what it takes of the page's room to the left and below."""


def lay_out(content: CardContent, code: Code, stock: Stock, measure: Measure) -> list[Page]:
    """Pages in order, for `content` whose every character can be printed. The text is as large as it can be on
    the fewest pages.
    """
    pages = fewest(stock.bodies, lambda size: _flow(content, code, stock, size, measure))
    out = []
    for i, marks in enumerate(pages, 1):
        around = [*strip_marks(content, stock, measure), *_footer(content, stock, i, len(pages), measure)]
        out.append(Page(*stock.size, (*marks, *around)))
    return out


def _flow(content: CardContent, code: Code, stock: Stock, size: float, measure: Measure) -> list[list[Mark]]:
    room = Room(stock.inner, size, measure, stock.beside)
    head = _narrow_head if stock.narrow else _wide_head
    first, y = head(content, code, stock, measure)
    low = stock.margin + _foot(stock)
    fixed = _first_foot(content, stock, measure)
    tall = sum(b.height for b in fixed)
    put(fixed, stock.margin, low + tall, first)
    flow = Flow(stock.margin, y, low + tall + 3, low, lambda: _next_head(content, stock, measure), [first])
    flow.set(_body(content, stock, room))
    return flow.pages


def _body(content: CardContent, stock: Stock, room: Room) -> list[Block]:
    table = narrow_table_blocks if stock.narrow else table_blocks
    conditions = Room(room.width, max(SMALLEST, room.size - 0.7), room.measure, room.beside)
    blocks = [] if stock.narrow else (lone_tag_blocks if stock.strip else tag_blocks)(content, room)
    blocks += part_blocks(content, room)
    for section in (content.found, content.decided, content.not_tested):
        blocks += section_blocks(section, room)
    blocks += table(content, room)
    blocks += section_blocks(content.wound, room)
    blocks += section_blocks(content.conditions, conditions)
    if stock.narrow:
        cautions = _cautions(content, stock, room.measure)
        blocks += [rule(room.width), *(Block(b.height, b.marks, tied=True) for b in cautions[:-1]), cautions[-1]]
    return blocks


def _wide_head(content: CardContent, code: Code, stock: Stock, measure: Measure) -> tuple[list[Mark], float]:
    """The verdict, the code at its right."""
    squares, taken = code(stock.width - stock.margin, stock.top)
    wide = stock.inner - taken
    marks: list[Mark] = [
        *badge(content.verdict, content.word, stock.margin, stock.top, wide, stock.badge, measure),
        squares,
    ]
    y = _under(content, stock.top - stock.badge - 3, wide, 8.6, stock, measure, marks)
    return marks, min(y - 4, stock.top - taken)


def _narrow_head(content: CardContent, code: Code, stock: Stock, measure: Measure) -> tuple[list[Mark], float]:
    """The verdict over the whole width; below it the code, and the tag with its notes at the left of that."""
    marks = badge(content.verdict, content.word, stock.margin, stock.top, stock.inner, stock.badge, measure)
    y = _under(content, stock.top - stock.badge - 2.5, stock.inner, 7.6, stock, measure, marks) - 4
    clear = max(0.0, QUIET * code(stock.width, y)[0].size - 3.5)  # the code's quiet zone above it
    squares, taken = code(stock.width - stock.margin, y - clear)
    taken += clear
    marks.append(squares)
    beside = Room(stock.inner - taken - 2, 6.6, measure)
    blocks = lone_tag_blocks(content, beside, (18.0, 16.0, 14.0, 12.0, 10.0, 8.0, SMALLEST))
    for words in notes_of(content):
        blocks += [
            Block(beside.size * LEADING, (Text(0, -beside.size, t, Weight.MEDIUM, beside.size),))
            for t in wrap_plain(words, Weight.MEDIUM, beside.width, beside.size, measure)
        ]
    left = put(blocks, stock.margin, y, marks)
    return marks, min(left, y - taken) - 2


def _under(
    content: CardContent, y: float, wide: float, size: float, stock: Stock, measure: Measure, marks: list[Mark]
) -> float:
    """What the verdict rests on, from `y` down; gives the `y` below it."""
    for words in wrap_plain(content.under, Weight.MEDIUM, wide, size, measure):
        marks.append(Text(stock.margin, y - size, words, Weight.MEDIUM, size))
        y -= size * LEADING
    return y


def _next_head(content: CardContent, stock: Stock, measure: Measure) -> tuple[list[Mark], float]:
    """Verdict and tag again: cards get parted."""
    wide, high = stock.inner * 0.36, stock.small_badge
    marks = badge(content.verdict, content.word, stock.margin, stock.top, wide, high, measure)
    sizes = (15.0, 12.0, 10.0, 8.0, SMALLEST)
    size, lines = fitted(content.tag, Weight.BOLD, stock.inner - wide - 7, sizes, measure)
    tall = (len(lines) - 1) * size
    y = min(stock.top - high / 2 - size * 0.34 + tall / 2, stock.top - size * 0.75)
    for words in lines:
        marks.append(Text(stock.margin + wide + 7, y, words, Weight.BOLD, size))
        y -= size
    return marks, min(stock.top - high - 6, y + size * 0.6)


def _first_foot(content: CardContent, stock: Stock, measure: Measure) -> list[Block]:
    """What stands at the foot of the first card, however long the rest is."""
    before = content.before_fitting
    lines: list[Block] = []
    for line in before.lines:
        lead = Line(f"{before.heading}, ", line.text)
        lines += paragraph(lead, stock.inner - 12, 7.4 if stock.narrow else 8.4, measure)
    blocks = boxed(lines, stock.inner)
    return blocks if stock.narrow else [*blocks, *_cautions(content, stock, measure), Block(2, ()), rule(stock.inner)]


def _cautions(content: CardContent, stock: Stock, measure: Measure) -> list[Block]:
    size = SMALLEST + 0.3
    return [b for line in content.cautions.lines for b in paragraph(line, stock.inner, size, measure)]


def _foot(stock: Stock) -> float:
    return (2 if stock.narrow else 1) * SMALLEST * LEADING + 2.0


def _footer(content: CardContent, stock: Stock, page: int, pages: int, measure: Measure) -> list[Mark]:
    size, x, y = SMALLEST, stock.margin, stock.margin + 1.5
    count = f"card {page} of {pages}"
    marks: list[Mark] = [Text(stock.width - x - measure(count, Weight.MEDIUM, size), y, count, Weight.MEDIUM, size)]
    if stock.narrow:
        above = y + size * LEADING
        return [
            Text(x, above, content.sheet, Weight.REGULAR, size),
            Text(x, y, content.check, Weight.REGULAR, size),
            *marks,
        ]
    return [Text(x, y, f"{content.sheet}  ·  {content.check}", Weight.REGULAR, size), *marks]
