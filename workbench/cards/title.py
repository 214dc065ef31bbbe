"""Which part a card is of: its tag, whose copy it is and when it was made, what the shop calls the part."""

from workbench.cards.blocks import LEADING, Block, Room, gap, plain_blocks
from workbench.cards.content import CardContent
from workbench.cards.marks import Mark, Text, Weight
from workbench.cards.stock import SMALLEST
from workbench.cards.wrap import fitted

TAG_SIZES = (19.0, 16.0, 13.0, 10.0, 8.0, 7.0, SMALLEST)


def notes_of(content: CardContent) -> tuple[str, ...]:
    """Whose copy this is, when it was made, and that it is a reprint."""
    return tuple(t for t in (content.whose, content.made, content.copy) if t)


def tag_blocks(content: CardContent, room: Room) -> list[Block]:
    """The tag, the notes at the right of its line."""
    small = max(SMALLEST, room.size - 1.4)
    notes = notes_of(content)
    widths = [room.measure(t, Weight.MEDIUM, small) for t in notes]
    size, lines = fitted(content.tag, Weight.BOLD, room.width - max(widths) - 10, TAG_SIZES, room.measure)
    tag_high, notes_high = len(lines) * size * 1.08, len(notes) * small * LEADING
    high = max(tag_high, notes_high) + 1
    marks: list[Mark] = [
        Text(0, -size * 0.82 - i * size * 1.08, words, Weight.BOLD, size) for i, words in enumerate(lines)
    ]
    marks += [
        Text(room.width - wide, -small * 0.95 - i * small * LEADING, words, Weight.MEDIUM, small)
        for i, (words, wide) in enumerate(zip(notes, widths, strict=True))
    ]
    return [Block(high, tuple(marks), tied=True)]


def lone_tag_blocks(content: CardContent, room: Room, sizes: tuple[float, ...] = TAG_SIZES) -> list[Block]:
    """The tag by itself, as wide as there is room."""
    size, lines = fitted(content.tag, Weight.BOLD, room.width, sizes, room.measure)
    return [Block(size * 1.08, (Text(0, -size * 0.82, t, Weight.BOLD, size),), tied=True) for t in lines]


def part_blocks(content: CardContent, room: Room) -> list[Block]:
    """What the shop calls it, and why it came."""
    size, blocks = room.size, list[Block]()
    if content.label.strip():
        sizes = (size + 2.5, size + 1.5, size + 0.5)
        label_size, lines = fitted(content.label, Weight.MEDIUM, room.width, sizes, room.measure, 2)
        if len(lines) > 3:
            label_size, lines = fitted(content.label, Weight.MEDIUM, room.width, (SMALLEST,), room.measure)
        blocks += [
            Block(label_size * 1.15, (Text(0, -label_size * 0.95, t, Weight.MEDIUM, label_size),)) for t in lines
        ]
    return [*blocks, *plain_blocks(content.job, Weight.REGULAR, room), gap(2.6)]
