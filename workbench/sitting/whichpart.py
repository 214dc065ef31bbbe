"""A part without papers: the plugs that were seen on it, and what was read between their pins."""

import string
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import product
from uuid import UUID

from workbench.records import SheetHead
from workbench.sitting.faceplan import key_down
from workbench.stator.errors import FieldError
from workbench.stator.pattern import CORE, Cavity, Connector, Link, Pair, Pattern
from workbench.stator.sheet import Reading, Sheet

KIND = "which"  # what it is kept as among the drafts


@dataclass(frozen=True, slots=True)
class Seen:
    """One reading; `typed` as it was typed. One struck out, with the reason, stays in sight and counts no more."""

    id: UUID
    reading: Reading
    typed: str
    taken_at: datetime
    struck: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """`head`: meter and conditions; the job and the revision it names are of no sheet yet. `seen`: oldest first."""

    head: SheetHead
    plugs: tuple[Connector, ...] = ()
    seen: tuple[Seen, ...] = ()

    @property
    def counted(self) -> tuple[Seen, ...]:
        return tuple(s for s in self.seen if not s.struck)

    @property
    def readings(self) -> tuple[Reading, ...]:
        return tuple(s.reading for s in self.counted)

    @property
    def pattern(self) -> Pattern | None:
        """Its plugs as a pattern has them, for whatever names pins; what lies behind them isn't known."""
        if not self.plugs:
            return None
        return Pattern("", self.plugs, (), (Link("", self.plugs[0].nodes[0], CORE),))

    @property
    def pairs(self) -> Iterator[Pair]:
        """Every pair of a plug, plug by plug, each pin with ground last."""
        for plug in self.plugs:
            ends = (*plug.nodes, CORE)
            yield from (Pair(a, b) for i, a in enumerate(ends) for b in ends[i + 1 :])

    def read(self, pair: Pair) -> bool:
        """Whether the pair was read, in either direction."""
        return any(s.reading.pair.unordered == pair.unordered for s in self.counted)

    def touching(self, plug: str) -> tuple[Seen, ...]:
        """The readings that count with an end on this plug."""
        return tuple(s for s in self.counted if plug in (n.partition(".")[0] for n in s.reading.pair))

    def with_plug(self, face: Connector) -> "Part":
        """A plug of this face, key down, under the first letter that is free, its pins numbered in the face's own
        order. The wires as another part had them stay behind."""
        face = key_down(face)
        taken = {p.name for p in self.plugs}
        name = next(n for n in _letters() if n not in taken)
        cavities = tuple(Cavity(str(i), c.terminal, c.x, c.y) for i, c in enumerate(face.cavities, 1))
        return replace(self, plugs=(*self.plugs, replace(face, name=name, cavities=cavities)))

    def without(self, plug: str) -> "Part":
        """With the plug go the struck readings on it."""
        gone = {n for p in self.plugs if p.name == plug for n in p.nodes}
        seen = tuple(s for s in self.seen if not gone & set(s.reading.pair))
        return replace(self, plugs=tuple(p for p in self.plugs if p.name != plug), seen=seen)

    def misfit(self, reading: Reading, head: SheetHead) -> str:
        """Why this can't be read on this part under such a head, as a sentence's words; empty where it can."""
        pattern = self.pattern
        assert pattern is not None
        try:
            Sheet(pattern, head.meter, head.conditions, (reading,))
        except FieldError as e:
            return e.sentence
        return ""


def _letters() -> Iterator[str]:
    """A to Z, then AA, AB ..."""
    for long in (1, 2):
        yield from ("".join(some) for some in product(string.ascii_uppercase, repeat=long))
