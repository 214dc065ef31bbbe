"""The body of a card as blocks, each a line or a few, to be set one under another."""

from dataclasses import dataclass, replace

from workbench.cards.content import Line, Section
from workbench.cards.marks import Disc, Mark, Rule, Shape, Squares, Text, Weight
from workbench.cards.wrap import Measure, wrap, wrap_plain

LEADING = 1.19
_BULLET = "•"


@dataclass(frozen=True, slots=True)
class Room:
    """What a block has: its width and the body's size (pt), and what headings take of the width beside it."""

    width: float
    size: float
    measure: Measure
    beside: float = 0.0


@dataclass(frozen=True, slots=True)
class Block:
    """Marks with their origin at the block's upper left corner, `height` downwards (pt).

    `tied`: must not be the last of a page. `heading`: stands again on top of a page that would begin
    with this block. `divider`: parts two blocks, and so is left out on top of a page.
    """

    height: float
    marks: tuple[Mark, ...]
    tied: bool = False
    heading: "Block | None" = None
    divider: bool = False


def section_blocks(section: Section, room: Room) -> list[Block]:
    """A heading, in the margin or above; its statements beside or below it. Nothing for a section without any."""
    if not section.lines:
        return []
    size, measure, left = room.size, room.measure, room.beside
    many = len(section.lines) > 1 and not section.run_on
    indent = measure(_BULLET + " ", Weight.REGULAR, size) if many else 0.0
    label: list[Mark] = heading_marks(section.heading, size)
    again = Block(0.0 if left else size * LEADING, tuple(label), tied=True)
    blocks: list[Block] = [rule(room.width)]
    if not left:
        blocks.append(again)
        label = []
    first = len(blocks)
    paragraphs = [[r for line in section.lines for r in _runs(line)]] if section.run_on else map(_runs, section.lines)
    for runs in paragraphs:
        lines = wrap(runs, room.width - left - indent, size, measure)
        for i, placed in enumerate(lines):
            marks: list[Mark] = list(label)
            label = []
            if many and i == 0:
                marks.append(Text(left, -size, _BULLET, Weight.REGULAR, size))
            marks += [Text(left + indent + p.x, -size, p.words, p.weight, size) for p in placed]
            alone = len(lines) > 1 and i in (0, len(lines) - 2)  # else a page could end or begin with one line of it
            heading = None if len(blocks) == first else again
            blocks.append(Block(size * LEADING, tuple(marks), tied=alone, heading=heading))
    return [*blocks, gap(2.6)]


def paragraph(line: Line, width: float, size: float, measure: Measure) -> list[Block]:
    return [
        Block(size * LEADING, tuple(Text(p.x, -size, p.words, p.weight, size) for p in placed))
        for placed in wrap(_runs(line), width, size, measure)
    ]


def plain_blocks(text: str, weight: Weight, room: Room) -> list[Block]:
    return [
        Block(room.size * LEADING, (Text(0, -room.size, t, weight, room.size),))
        for t in wrap_plain(text, weight, room.width, room.size, room.measure)
    ]


def boxed(lines: list[Block], width: float) -> list[Block]:
    """Lines of text within a frame, kept together."""
    tall = sum(b.height for b in lines) + 5.5
    frame = Shape(((0.5, -0.5), (width - 0.5, -0.5), (width - 0.5, -tall), (0.5, -tall)), 1.0)
    within = [replace(b, marks=tuple(moved(m, 6, 0) for m in b.marks), tied=True) for b in lines]
    return [Block(0, (frame,), tied=True), tied_gap(1.7), *within, gap(6.0)]


def rule(width: float) -> Block:
    return Block(2.4, (Rule(0, -0.4, width, -0.4, 0.5),), tied=True, divider=True)


def gap(height: float) -> Block:
    return Block(height, ())


def tied_gap(height: float) -> Block:
    return Block(height, (), tied=True)


def heading_marks(heading: str, size: float) -> list[Mark]:
    return [Text(0, -size, heading, Weight.BOLD, size)]


def moved(mark: Mark, x: float, y: float) -> Mark:
    match mark:
        case Text() | Disc():
            return replace(mark, x=mark.x + x, y=mark.y + y)
        case Rule():
            return replace(mark, x=mark.x + x, y=mark.y + y, to_x=mark.to_x + x, to_y=mark.to_y + y)
        case Shape():
            return replace(mark, points=tuple((a + x, b + y) for a, b in mark.points))
        case Squares():
            return replace(mark, runs=tuple((a + x, b + y, n) for a, b, n in mark.runs))


def _runs(line: Line) -> list[tuple[str, Weight]]:
    return [(line.lead, Weight.BOLD), (line.text, Weight.REGULAR)]
