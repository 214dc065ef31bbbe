"""Sets blocks under one another on as many pages as they take. Knows nothing of what they say."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from workbench.cards.blocks import Block, moved
from workbench.cards.marks import Mark


@dataclass(slots=True)
class Flow:
    """Pages being filled from `y` down to `floor`; a further one begins with what `next_head` gives: its marks and
    the `y` below them, down to `next_floor`.
    """

    x: float
    y: float
    floor: float
    next_floor: float
    next_head: Callable[[], tuple[list[Mark], float]]
    pages: list[list[Mark]] = field(default_factory=lambda: [[]])

    def set(self, blocks: Sequence[Block]) -> None:
        """What must not end a page takes along what follows it; a block that goes on has its heading again."""
        for i, block in enumerate(blocks):
            if not block.marks and not block.tied:
                self.y -= block.height
                continue
            need, j = block.height, i
            while blocks[j].tied and j + 1 < len(blocks):
                j += 1
                need += blocks[j].height
            if self.y - need < self.floor:
                marks, self.y = self.next_head()
                self.pages.append(marks)
                self.floor = self.next_floor
                if block.heading is not None:
                    self.y = put([block.heading], self.x, self.y, marks)
                if block.divider:
                    continue
            self.y = put([block], self.x, self.y, self.pages[-1])


def put(blocks: Sequence[Block], x: float, y: float, page: list[Mark]) -> float:
    """Puts blocks under one another from `y` down; gives the `y` that is left."""
    for block in blocks:
        page += [moved(m, x, y) for m in block.marks]
        y -= block.height
    return y


def fewest(sizes: Sequence[float], at: Callable[[float], list[list[Mark]]]) -> list[list[Mark]]:
    """The pages at the largest of the falling `sizes` that needs no more of them than the smallest does."""
    best = at(sizes[0])
    if len(best) > 1:
        densest = at(sizes[-1])
        for size in sizes[1:-1]:
            if len(best) <= len(densest):
                break
            best = at(size)
        if len(best) > len(densest):
            best = densest
    return best
