"""The body of a card as blocks, each a line or a few, to be set one under another."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.cards.content import CardContent, Line, Section
from workbench.cards.marks import Mark, Rule, Shape, Text, Weight
from workbench.cards.table import ReadingLine
from workbench.cards.wrap import Measure, fitted, wrap, wrap_plain

LEADING = 1.19
SMALLEST = 6.0
LABEL_WIDTH = 47.0
_BULLET = "•"


@dataclass(frozen=True, slots=True)
class Block:
    """Marks with their origin at the block's upper left corner, `height` downwards (pt).

    `tied`: must not be the last of a page. `heading`: stands again on top of a page that would begin
    with this block.
    """

    height: float
    marks: tuple[Mark, ...]
    tied: bool = False
    heading: "Block | None" = None


def section_blocks(section: Section, width: float, size: float, measure: Measure) -> list[Block]:
    """A heading in the margin, its statements beside it."""
    blocks: list[Block] = [rule(width)]
    many = len(section.lines) > 1 and not section.run_on
    indent = measure(_BULLET + " ", Weight.REGULAR, size) if many else 0.0
    label: list[Mark] = _label(section.heading, size)
    again = Block(0.0, tuple(label))
    paragraphs = [[r for line in section.lines for r in _runs(line)]] if section.run_on else map(_runs, section.lines)
    for runs in paragraphs:
        lines = wrap(runs, width - LABEL_WIDTH - indent, size, measure)
        for i, placed in enumerate(lines):
            marks: list[Mark] = list(label)
            label = []
            if many and i == 0:
                marks.append(Text(LABEL_WIDTH, -size, _BULLET, Weight.REGULAR, size))
            marks += [Text(LABEL_WIDTH + indent + p.x, -size, p.words, p.weight, size) for p in placed]
            alone = len(lines) > 1 and i in (0, len(lines) - 2)  # else a page could end or begin with one line of it
            heading = None if len(blocks) == 1 else again
            blocks.append(Block(size * LEADING, tuple(marks), tied=alone, heading=heading))
    return [*blocks, gap(2.6)]


def paragraph(line: Line, width: float, size: float, measure: Measure) -> list[Block]:
    return [
        Block(size * LEADING, tuple(Text(p.x, -size, p.words, p.weight, size) for p in placed))
        for placed in wrap(_runs(line), width, size, measure)
    ]


def title_blocks(content: CardContent, width: float, size: float, measure: Measure) -> list[Block]:
    """Which part this is: its tag, what the shop calls it, why it came."""
    blocks: list[Block] = []
    small = max(SMALLEST, size - 1)
    made = "  ·  ".join(t for t in (content.made, content.copy) if t)
    tag_room = width - measure(made, Weight.MEDIUM, small) - 10
    tag_size, lines = fitted(content.tag, Weight.BOLD, tag_room, (19, 16, 13, 10, 8, 7, SMALLEST), measure)
    for i, words in enumerate(lines):
        marks: list[Mark] = [Text(0, -tag_size * 0.82, words, Weight.BOLD, tag_size)]
        if i == 0:
            marks.append(
                Text(width - measure(made, Weight.MEDIUM, small), -tag_size * 0.82, made, Weight.MEDIUM, small)
            )
        blocks.append(Block(tag_size * 1.08, tuple(marks), tied=True))
    if content.label.strip():
        sizes = (size + 2.5, size + 1.5, size + 0.5)
        label_size, lines = fitted(content.label, Weight.MEDIUM, width, sizes, measure, 2)
        if len(lines) > 3:
            label_size, lines = fitted(content.label, Weight.MEDIUM, width, (SMALLEST,), measure)
        blocks += [
            Block(label_size * 1.15, (Text(0, -label_size * 0.95, t, Weight.MEDIUM, label_size),)) for t in lines
        ]
    blocks += [
        Block(size * LEADING, (Text(0, -size, t, Weight.REGULAR, size),))
        for t in wrap_plain(content.job, Weight.REGULAR, width, size, measure)
    ]
    return [*blocks, gap(2.6)]


def table_blocks(content: CardContent, width: float, size: float, measure: Measure) -> list[Block]:
    if not content.readings:
        return []
    columns = _Columns.of(content, width, size, measure)
    head_size = max(SMALLEST, size - 1)
    head: list[Mark] = _label(content.columns[0], size)
    for words, right in zip(content.columns[1:4], columns.rights, strict=True):
        head.append(Text(right - measure(words, Weight.REGULAR, head_size), -size, words, Weight.REGULAR, head_size))
    heading = Block(size * LEADING + 1.6, tuple(head), tied=True)
    blocks = [rule(width), heading]
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
    def of(cls, content: CardContent, width: float, size: float, measure: Measure) -> "_Columns":
        """Each as wide as its widest entry, within limits; what is left is shared out."""

        def widest(texts: Sequence[str], least: float, most: float) -> float:
            return min(most, max([least, *(measure(t, Weight.REGULAR, size) for t in texts)]))

        read = [r for r in content.readings if not r.struck]
        pair = widest([r.pair for r in content.readings], LABEL_WIDTH - 8, 0.26 * width)
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
            marks += _word(line, columns, size, measure)
        blocks.append(Block(size * LEADING, tuple(marks)))
    return blocks


def _word(line: ReadingLine, columns: _Columns, size: float, measure: Measure) -> list[Mark]:
    """in stands bare; what isn't wears a box, and out a black one."""
    words = f"{line.word} {line.times}".strip()
    x = columns.words + 3
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


def rule(width: float) -> Block:
    return Block(2.4, (Rule(0, -0.4, width, -0.4, 0.5),), tied=True)


def gap(height: float) -> Block:
    return Block(height, ())


def _label(heading: str, size: float) -> list[Mark]:
    return [Text(0, -size, heading, Weight.BOLD, size)]


def _runs(line: Line) -> list[tuple[str, Weight]]:
    return [(line.lead, Weight.BOLD), (line.text, Weight.REGULAR)]
