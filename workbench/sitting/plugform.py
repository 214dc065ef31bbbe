"""A further plug as it is asked for: its shape, how many cavities, from which side it was looked into."""

import re
from dataclasses import dataclass
from enum import Enum

from workbench.drafting import plugs
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.stator.pattern import Outline, Terminal

MOST_IN_A_ROW, MOST_ROWS, MOST_ROUND = 20, 10, 30


class Shape(Enum):
    ROWS = "rows"
    RING = "ring"
    FREE = "free"


SHAPES = (
    (Shape.ROWS, "in rows: 2+3, 4, 3+3+3"),
    (Shape.RING, "round: in a ring"),
    (Shape.FREE, "placed one by one"),
)
_ROWS = re.compile(r"\d{1,2}(\s*\+\s*\d{1,2})*")


@dataclass(frozen=True, slots=True)
class PlugForm:
    """`counts`: cavities a row from the top as it is looked at, `2+3`; for a ring how many; free: not asked."""

    name: str = ""
    shape: Shape = Shape.ROWS
    counts: str = "2+3"
    staggered: bool = False
    middle: bool = False
    sockets: bool = False
    wire_side: bool = False

    @property
    def trouble(self) -> str:
        """Why no plug can be drawn from it; empty where one can."""
        text = self.counts.strip()
        if self.shape is Shape.FREE:
            return ""
        if not _ROWS.fullmatch(text):
            return "Type how many cavities: 4, or 2+3 for two above three."
        rows = self._rows()
        if self.shape is Shape.RING:
            return "" if len(rows) == 1 and 1 <= rows[0] <= MOST_ROUND else f"A ring has 1 to {MOST_ROUND} cavities."
        if not (all(1 <= n <= MOST_IN_A_ROW for n in rows) and len(rows) <= MOST_ROWS):
            return f"A row has 1 to {MOST_IN_A_ROW} cavities, and a plug at most {MOST_ROWS} rows."
        return ""

    def refused(self, draft: Draft) -> str:
        """Why that draft can't have it; empty where it can."""
        if self.trouble:
            return self.trouble
        try:
            self.drawn(draft)
        except EditError as e:
            return e.sentence
        return ""

    def drawn(self, draft: Draft) -> Draft:
        """Pins are counted as they were looked at; stored as the mating side sees them. Raises EditError."""
        outline = Outline.ROUND if self.shape is Shape.RING else None
        places: tuple[plugs.Place, ...]
        match self.shape:
            case Shape.ROWS:
                places = plugs.rows(self._rows(), staggered=self.staggered)
            case Shape.RING:
                places = plugs.ring(self._rows()[0], middle=self.middle)
            case Shape.FREE:
                places = ((0.0, 0.0),)
        terminal = Terminal.SOCKET if self.sockets else Terminal.BLADE
        made = plugs.add_plug(draft, places, name=self.name, terminal=terminal, outline=outline)
        return plugs.mirror(made, made.plugs[-1].name) if self.wire_side else made

    @staticmethod
    def first(draft: Draft) -> "PlugForm":
        """With a name that is free: P for a plug, and on from there."""
        taken = {p.name for p in draft.plugs}
        return PlugForm(next((x for x in "PQRSTUVWXYZABCDEFGHJKLMN" if x not in taken), ""))

    def _rows(self) -> tuple[int, ...]:
        return tuple(int(n) for n in self.counts.split("+"))
