"""Sets a card's content on as few pages as it takes; nothing overruns, nothing is left out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.cards.badge import badge
from workbench.cards.blocks import (
    LEADING,
    SMALLEST,
    Block,
    gap,
    paragraph,
    rule,
    section_blocks,
    table_blocks,
    title_blocks,
)
from workbench.cards.content import CardContent, Line
from workbench.cards.marks import Disc, Mark, Page, Rule, Shape, Squares, Text, Weight
from workbench.cards.wrap import Measure, fitted, wrap_plain

MM = 72 / 25.4
CARD_SIZE = (100 * MM, 150 * MM)
MARGIN = 5 * MM
SIZES = (8.6, 8.2, 7.8, 7.4, 7.0, 6.6)  # of the body, tried from the largest

_BADGE_HEIGHT = 44.0
_SMALL_BADGE_HEIGHT = 19.0
_FOOT = SMALLEST * LEADING + 2.0


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The page as the blocks see it."""

    width: float
    height: float
    measure: Measure

    @property
    def inner(self) -> float:
        return self.width - 2 * MARGIN

    @property
    def top(self) -> float:
        return self.height - MARGIN


def lay_out(
    content: CardContent, code: Squares, code_room: float, size: tuple[float, float], measure: Measure
) -> list[Page]:
    """Pages in order, for `content` whose every character can be printed.

    `code` stands in the upper right corner of the first page and takes `code_room` (pt) of it. The
    body is as large as it can be on the fewest pages.
    """
    on = _Sheet(*size, measure)
    best = _flow(content, code, code_room, on, SIZES[0])
    if len(best) > 1:
        densest = _flow(content, code, code_room, on, SIZES[-1])
        for body in SIZES[1:-1]:
            if len(best) <= len(densest):
                break
            best = _flow(content, code, code_room, on, body)
        if len(best) > len(densest):
            best = densest
    return [Page(*size, (*marks, *_footer(content, on, i, len(best)))) for i, marks in enumerate(best, 1)]


def _flow(content: CardContent, code: Squares, code_room: float, on: _Sheet, size: float) -> list[list[Mark]]:
    measure, width = on.measure, on.inner
    first, y = _first_head(content, code, code_room, on)
    warnings = _warnings(content, on)
    blocks = title_blocks(content, width, size, measure)
    for section in (content.found, content.decided, content.not_tested):
        blocks += section_blocks(section, width, size, measure)
    blocks += table_blocks(content, width, size, measure)
    blocks += section_blocks(content.conditions, width, max(SMALLEST, size - 0.7), measure)
    low = MARGIN + _FOOT
    tall = sum(b.height for b in warnings)
    _set(warnings, MARGIN, low + tall, first)
    pages, floor = [first], low + tall + 3
    for i, block in enumerate(blocks):
        if not block.marks:
            y -= block.height
            continue
        # what must not end a page takes along what follows it
        need, j = block.height, i
        while blocks[j].tied and j + 1 < len(blocks):
            j += 1
            need += blocks[j].height
        if y - need < floor:
            marks, y = _next_head(content, on)
            pages.append(marks)
            floor = low
            if block.heading is not None:
                y = _set([block.heading], MARGIN, y, marks)
        y = _set([block], MARGIN, y, pages[-1])
    return pages


def _set(blocks: Sequence[Block], x: float, y: float, page: list[Mark]) -> float:
    """Puts blocks under one another from `y` down; gives the `y` that is left."""
    for block in blocks:
        page += [_moved(m, x, y) for m in block.marks]
        y -= block.height
    return y


def _moved(mark: Mark, x: float, y: float) -> Mark:
    match mark:
        case Text() | Disc():
            return replace(mark, x=mark.x + x, y=mark.y + y)
        case Rule():
            return replace(mark, x=mark.x + x, y=mark.y + y, to_x=mark.to_x + x, to_y=mark.to_y + y)
        case Shape():
            return replace(mark, points=tuple((a + x, b + y) for a, b in mark.points))
        case Squares():
            return replace(mark, runs=tuple((a + x, b + y, n) for a, b, n in mark.runs))


def _first_head(content: CardContent, code: Squares, code_room: float, on: _Sheet) -> tuple[list[Mark], float]:
    wide = on.inner - code_room
    marks: list[Mark] = [
        *badge(content.verdict, content.word, MARGIN, on.top, wide, _BADGE_HEIGHT, on.measure),
        code,
    ]
    y = on.top - _BADGE_HEIGHT - 3
    size = 8.6
    for words in wrap_plain(content.under, Weight.MEDIUM, wide, size, on.measure):
        marks.append(Text(MARGIN, y - size, words, Weight.MEDIUM, size))
        y -= size * LEADING
    return marks, min(y - 4, on.top - code_room)


def _next_head(content: CardContent, on: _Sheet) -> tuple[list[Mark], float]:
    """Verdict and tag again: cards get parted."""
    wide = on.inner * 0.36
    marks = badge(content.verdict, content.word, MARGIN, on.top, wide, _SMALL_BADGE_HEIGHT, on.measure)
    x = MARGIN + wide + 7
    size, lines = fitted(content.tag, Weight.BOLD, on.inner - wide - 7, (15, 12, 10, 8, SMALLEST), on.measure)
    y = on.top - _SMALL_BADGE_HEIGHT / 2 - size * 0.34
    y += (len(lines) - 1) * size * 0.5
    for words in lines:
        marks.append(Text(x, y, words, Weight.BOLD, size))
        y -= size
    return marks, on.top - _SMALL_BADGE_HEIGHT - 6


def _warnings(content: CardContent, on: _Sheet) -> list[Block]:
    """What stands at the foot of the first page, however long the rest is."""
    size = SMALLEST + 0.3
    before = content.before_fitting
    inner = on.inner - 12
    boxed: list[Block] = []
    for line in before.lines:
        boxed += paragraph(Line(f"{before.heading}, ", line.text), inner, 8.4, on.measure)
    tall = sum(b.height for b in boxed) + 5.5
    frame = Shape(((0.5, -0.5), (on.inner - 0.5, -0.5), (on.inner - 0.5, -tall), (0.5, -tall)), 1.0)
    blocks = [Block(0, (frame,)), gap(1.7)]
    blocks += [replace(b, marks=tuple(_moved(m, 6, 0) for m in b.marks)) for b in boxed]
    blocks.append(gap(6.0))
    runs = [Line(lead, text) for lead, text in content.cautions.lines]
    for line in runs:
        blocks += paragraph(line, on.inner, size, on.measure)
    return [*blocks, gap(2.0), rule(on.inner)]


def _footer(content: CardContent, on: _Sheet, page: int, pages: int) -> list[Mark]:
    size = SMALLEST
    count = f"card {page} of {pages}"
    return [
        Text(MARGIN, MARGIN + 1.5, content.sheet, Weight.REGULAR, size),
        Text(on.width - MARGIN - on.measure(count, Weight.MEDIUM, size), MARGIN + 1.5, count, Weight.MEDIUM, size),
    ]
