"""The table of readings on a small label: what was shown and the word on a line, what it rests on below."""

from workbench.cards.blocks import LEADING, Block, Room, gap, heading_marks, rule
from workbench.cards.content import CardContent
from workbench.cards.marks import Mark, Rule, Text, Weight
from workbench.cards.stock import SMALLEST
from workbench.cards.table import ReadingLine, tied
from workbench.cards.widetable import word_marks
from workbench.cards.wrap import wrap_plain

_SHOWN = 0.55  # of the width: the right edge of what was shown
_INDENT = 7.0


def narrow_table_blocks(content: CardContent, room: Room) -> list[Block]:
    """The lines of a pair are kept together, and the heading stands again on every card."""
    if not content.readings:
        return []
    small = max(SMALLEST, room.size - 0.8)
    head = heading_marks(content.columns[0], room.size)
    shown = content.columns[1]
    x = _SHOWN * room.width - room.measure(shown, Weight.REGULAR, small)
    head.append(Text(x, -room.size, shown, Weight.REGULAR, small))
    heading = Block(room.size * LEADING + 1.0, tuple(head), tied=True)
    blocks = [rule(room.width), heading]
    for line in content.readings:
        below = [line.reason] if line.struck else _rests_on(line, content.columns)
        blocks += [_with_heading(b, heading) for b in _lines(line, below, room, small)]
    return [*blocks, gap(2.6)]


def _with_heading(b: Block, heading: Block) -> Block:
    return Block(b.height, b.marks, b.tied, heading)


def _rests_on(line: ReadingLine, columns: tuple[str, ...]) -> list[str]:
    """The corrected value and the band, each with what it is."""
    said = ((columns[2], line.corrected), (columns[3], line.band))
    return [tied(f"{what} {value}") for what, value in said if value]


def _lines(line: ReadingLine, below: list[str], room: Room, small: float) -> list[Block]:
    size, measure, edge = room.size, room.measure, _SHOWN * room.width
    weight = Weight.BOLD if line.word == "out" else Weight.REGULAR
    named = Weight.REGULAR if line.struck else Weight.BOLD if line.word == "out" else Weight.MEDIUM
    pair_room = edge - min(edge / 2, measure(line.shown, weight, size) + 3)
    pairs = wrap_plain(line.pair, named, pair_room, size, measure)
    shown = wrap_plain(line.shown, weight, edge - pair_room, size, measure)
    word_x = room.width - 2.8
    if not line.struck:
        word_x -= measure(f"{line.word} {line.times}".strip(), weight if weight is Weight.BOLD else Weight.MEDIUM, size)
    blocks: list[Block] = []
    for i in range(max(len(pairs), len(shown))):
        marks: list[Mark] = []
        if i < len(pairs):
            marks += _entry(pairs[i], 0.0, named, line, room)
        if i < len(shown):
            marks += _entry(shown[i], edge - measure(shown[i], weight, size), weight, line, room)
        if i == 0 and not line.struck:
            marks += word_marks(line, word_x, size, measure)
            one = below[0] if len(below) == 1 else ""
            if one and edge + 7 + measure(one, Weight.REGULAR, small) + 5 <= word_x:
                marks.append(Text(edge + 7, -size, one.replace("\u00a0", " "), Weight.REGULAR, small))
                below = []
        blocks.append(Block(size * LEADING, tuple(marks), tied=True))
    blocks += [
        Block(small * LEADING, (Text(_INDENT, -small, words, Weight.REGULAR, small),))
        for words in wrap_plain(", ".join(below), Weight.REGULAR, room.width - _INDENT, small, measure)
    ]
    last = blocks[-1]
    blocks[-1] = Block(last.height + 0.8, last.marks)
    return blocks


def _entry(words: str, x: float, weight: Weight, line: ReadingLine, room: Room) -> list[Mark]:
    marks: list[Mark] = [Text(x, -room.size, words, weight, room.size)]
    if line.struck:
        y = -room.size * 0.72
        marks.append(Rule(x, y, x + room.measure(words, weight, room.size), y, 0.7))
    return marks
