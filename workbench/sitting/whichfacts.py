"""A part without papers as it stands, for panels to render: nothing here changes anything."""

from collections.abc import Mapping, Sequence
from uuid import UUID

from workbench.matching.weighing import Ranked, Weighed
from workbench.records import PatternRevision, SheetHead
from workbench.sitting.pick import Held, Pick
from workbench.sitting.say import Said
from workbench.sitting.whichpart import Part
from workbench.stator.pattern import Connector, Pair

# as sure as the bench is of an explanation; and the least that a pair must tell (bit) to be offered
SETTLED, LITTLE = 0.95, 0.02


class WhichFacts(Held):
    """The part, what is picked, typed and said, and what the library says of it (`weighed`, or why it `cannot`)."""

    def __init__(self, part: Part, library: Sequence[PatternRevision]) -> None:
        self.part, self.library = part, tuple(library)
        self.text = ""
        self.said: Said | None = None
        self.weighed: Weighed | None = None
        self.cannot = ""
        self._safe = frozenset(s.id for s in part.seen)
        self._pick = Pick(part.plugs[0].name if part.plugs else None)
        self._asked = self._answered = 0  # the newest weighing that was begun, and that was answered

    @property
    def head(self) -> SheetHead:
        return self.part.head

    @property
    def connectors(self) -> tuple[Connector, ...]:
        return self.part.plugs

    def same(self, one: Pair, other: Pair) -> bool:
        """Whether two pairs are one reading: nothing is known of what lies behind the pins, so by the pins alone."""
        return one.unordered == other.unordered

    def is_safe(self, reading: UUID) -> bool:
        """Whether it is on the disk."""
        return reading in self._safe

    @property
    def begun(self) -> bool:
        return bool(self.part.plugs or self.part.seen)

    @property
    def weighing(self) -> bool:
        """Whether what is shown is of before the last step."""
        return self._answered != self._asked

    def share(self, of: Ranked) -> float:
        """The probability of all patterns that no reading can tell from this one."""
        assert self.weighed is not None
        return sum(r.probability for r in self.weighed.ranked if r.alike == of.alike)

    @property
    def settled(self) -> bool:
        """Whether one pattern, or those that are alike by ohms, or none of them stands out after something was read."""
        w = self.weighed
        if w is None or not self.part.counted:
            return False
        top = self.share(w.ranked[0]) if w.ranked else 0.0
        return max(top, w.none) >= SETTLED

    @property
    def offered(self) -> Pair | None:
        """The pair that tells most of which it is; None once it is settled, or nothing more can be told."""
        return next(iter(self.telling), None) if not self.settled else None

    @property
    def telling(self) -> tuple[Pair, ...]:
        """Pairs that would tell something, best first."""
        w = self.weighed
        if w is None:
            return ()
        return tuple(n.pair for n in w.next if n.bits >= LITTLE and not self.part.read(n.pair))

    def laying_on(self, revision: PatternRevision) -> Mapping[str, str]:
        """The pattern's node under each of the part's, as it most likely lies. Raises KeyError where it can't lie."""
        for r in self.weighed.ranked if self.weighed is not None else ():
            if self.library[r.pattern].id == revision.id:
                return r.laying
        raise KeyError(revision.id)
