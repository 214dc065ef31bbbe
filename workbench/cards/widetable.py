"""The table of readings on a card that is wide enough for its columns."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.cards.blocks import LEADING, Block, Room, gap, heading_marks, rule
from workbench.cards.content import CardContent
from workbench.cards.marks import Mark, Rule, Shape, Text, Weight
from workbench.cards.stock import SMALLEST
from workbench.cards.table import ReadingLine
from workbench.cards.wrap import Measure, wrap_plain


def table_blocks(content: CardContent, room: Room) -> list[Block]:
    """One line a pair, or more where an entry is too long for its column; the heading again on every card."""
    if not content.readings:
        return []
    size, measure = room.size, room.measure
    columns = _Columns.of(content, room)
    head_size = max(SMALLEST, size - 1)
    head: list[Mark] = heading_marks(content.columns[0], size)
    for words, right in zip(content.columns[1:4], columns.rights, strict=True):
        head.append(Text(right - measure(words, Weight.REGULAR, head_size), -size, words, Weight.REGULAR, head_size))
    heading = Block(size * LEADING + 1.6, tuple(head), tied=True)
    blocks = [rule(room.width), heading]
    for line in content.readings:
        lines = _struck_line(line, columns, size, measure) if line.struck else _line(line, columns, size, measure)
        blocks += [Block(b.height, b.marks, heading=heading) for b in lines]
    return [*blocks, gap(2.6)]


@dataclass(frozen=True, slots=True)
class _Columns:
    """The right edges of the three columns of numbers, and where the words begin."""

    rights: tuple[float, float, float]
    words: float
    width: float

    @classmethod
    def of(cls, content: CardContent, room: Room) -> "_Columns":
        """Each as wide as its widest entry, within limits; what is left is shared out."""
        width, size, measure = room.width, room.size, room.measure

        def widest(texts: Sequence[str], least: float, most: float) -> float:
            return min(most, max([least, *(measure(t, Weight.REGULAR, size) for t in texts)]))

        read = [r for r in content.readings if not r.struck]
        pair = widest([r.pair for r in content.readings], room.beside - 8, 0.26 * width)
        shown = widest([r.shown for r in content.readings], 30, 0.17 * width)
        corrected = widest([r.corrected for r in read], 30, 0.22 * width)
        band = widest([r.band for r in read], 30, 0.25 * width)
        word = max([30.0, *(measure(f"{r.word} {r.times}", Weight.BOLD, size) for r in read)]) + 6
        pad = max(3.0, (width - pair - shown - corrected - band - word) / 4)
        one = pair + pad + shown
        two = one + pad + corrected
        three = two + pad + band
        return cls((one, two, three), three + pad, width)

    def room(self, column: int) -> float:
        return self.rights[column] - (self.rights[column - 1] if column else 0.0) - 3.0


def _line(line: ReadingLine, columns: _Columns, size: float, measure: Measure) -> list[Block]:
    out = line.word == "out"
    weight = Weight.BOLD if out else Weight.REGULAR
    pair_room = columns.room(0) - min(columns.room(0) / 2, measure(line.shown, weight, size) + 3)
    cells: list[tuple[float, bool, list[str]]] = [
        (0.0, False, wrap_plain(line.pair, Weight.MEDIUM, pair_room, size, measure)),
        (columns.rights[0], True, wrap_plain(line.shown, weight, columns.room(0) - pair_room, size, measure)),
        (columns.rights[1], True, wrap_plain(line.corrected, weight, columns.room(1), size, measure)),
        (columns.rights[2], True, wrap_plain(line.band, Weight.REGULAR, columns.room(2), size, measure)),
    ]
    blocks = []
    for i in range(max(len(c[2]) for c in cells)):
        marks: list[Mark] = []
        for n, (x, from_right, texts) in enumerate(cells):
            if i < len(texts):
                used = (Weight.BOLD if out else Weight.MEDIUM) if n == 0 else Weight.REGULAR if n == 3 else weight
                left = x - measure(texts[i], used, size) if from_right else x
                marks.append(Text(left, -size, texts[i], used, size))
        if i == 0:
            marks += word_marks(line, columns.words + 3, size, measure)
        blocks.append(Block(size * LEADING, tuple(marks)))
    return blocks


def word_marks(line: ReadingLine, x: float, size: float, measure: Measure) -> list[Mark]:
    """in stands bare; what isn't wears a box, and out a black one. The word begins at `x`, its box 2.6 pt before."""
    words = f"{line.word} {line.times}".strip()
    if line.word == "in":
        return [Text(x, -size, words, Weight.REGULAR, size)]
    out = line.word == "out"
    weight = Weight.BOLD if out else Weight.MEDIUM
    right, top, bottom = x + measure(words, weight, size) + 2.6, -size * 0.13, -size * 1.25
    box = ((x - 2.6, bottom), (right, bottom), (right, top), (x - 2.6, top))
    marks: list[Mark] = [Text(x, -size, words, weight, size, white=out)]
    if out:
        return [Shape(box, filled=True), *marks]
    if line.word == "doubtful":
        return [Shape(box, 0.6), *marks]
    return [*marks, Rule(x, -size * 1.2, right - 2.6, -size * 1.2, 0.5, (0.9, 0.9))]


def _struck_line(line: ReadingLine, columns: _Columns, size: float, measure: Measure) -> list[Block]:
    """Pair and number with a stroke through them, then why."""
    pair = wrap_plain(line.pair, Weight.REGULAR, columns.rights[0] * 0.6, size, measure)
    shown = wrap_plain(line.shown, Weight.REGULAR, columns.rights[0] * 0.4 - 3, size, measure)
    reason = wrap_plain(line.reason, Weight.REGULAR, columns.width - columns.rights[0] - 8, size, measure)
    blocks = []
    for i in range(max(len(pair), len(shown), len(reason))):
        marks: list[Mark] = []
        for texts, right in ((pair, None), (shown, columns.rights[0])):
            if i < len(texts):
                long = measure(texts[i], Weight.REGULAR, size)
                x = 0.0 if right is None else right - long
                marks += [
                    Text(x, -size, texts[i], Weight.REGULAR, size),
                    Rule(x - 1 if x > 1 else x, -size * 0.72, x + long, -size * 0.72, 0.7),
                ]
        if i < len(reason):
            marks.append(Text(columns.rights[0] + 8, -size, reason[i], Weight.REGULAR, size))
        blocks.append(Block(size * LEADING, tuple(marks)))
    return blocks
