"""Another pattern for the part on the bench, or a newer revision of its own: what may be chosen, what is in the way."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.matching.faces import Faces
from workbench.records import PatternRevision
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Connector, Pattern
from workbench.whichwords import face_words, pattern_words

ONLY_TO_LOOK = "An earlier sheet is only to be looked at. Go to the latest sheet to choose another pattern."
NOT_KEPT = "Some readings of this sheet are not kept. Try them again first: nothing was begun."
DECIDED = "This visit is decided on. If the part is back, New sheet opens a new job: the pattern can be changed there."
NONE_ELSE = "The shop has no other pattern. Draw it first: Patterns on the counter."


@dataclass(frozen=True, slots=True)
class PatternChoice:
    """`newer`: a newer revision of the part's own pattern. `alike`: its plugs have the faces that those have now."""

    revision: PatternRevision
    newer: bool
    alike: bool

    @property
    def title(self) -> str:
        return self.revision.pattern.name

    @property
    def detail(self) -> str:
        r = self.revision
        if self.newer:
            return f"revision {r.number} is out: take it for the next sheet"
        return f"{pattern_words(r.number, len(r.pattern.windings))}; {plugs_words(r.pattern)}"

    @property
    def mark(self) -> str:
        return "newer" if self.newer else "same plugs" if self.alike else ""

    @property
    def spoken(self) -> str:
        return f"{self.title}, {self.detail}" + (f", {self.mark}" if self.mark else "")


def choices(now: PatternRevision, library: Sequence[PatternRevision]) -> tuple[PatternChoice, ...]:
    """`now`: the revision that the part is read by; `library`: the latest revision of each pattern.

    A newer one of its own first, then patterns whose plugs have the same faces, then the others, each by name.
    """
    plugs = _Plugs(now.pattern)
    found = [
        PatternChoice(r, r.pattern_id == now.pattern_id, plugs.are_alike(r.pattern))
        for r in library
        if r.pattern_id != now.pattern_id or r.number > now.number
    ]
    return tuple(sorted(found, key=lambda c: (not c.newer, not c.alike, c.title)))


def newest(now: PatternRevision, library: Sequence[PatternRevision]) -> PatternRevision | None:
    """The newest revision of the pattern that the part is read by, where that is another one."""
    return next((r for r in library if r.pattern_id == now.pattern_id and r.number > now.number), None)


def read_on(bench: Bench, library: Sequence[PatternRevision]) -> str:
    """What the part is read by, whether that is the newest, and what keeps it from being another one."""
    now, newer = bench.revision, newest(bench.revision, library)
    out = f"Revision {newer.number} is out: take it for the next sheet." if newer is not None else ""
    said = (f"Read as {now.pattern.name}, revision {now.number}.", out, in_the_way(bench))
    return " ".join(x for x in said if x)


def in_the_way(bench: Bench) -> str:
    """Why the part can't be read by another pattern now, as a sentence with the way on; empty where it can."""
    if bench.past:
        return ONLY_TO_LOOK
    if bench.lines.lost:
        return NOT_KEPT
    return DECIDED if bench.came_back else ""


def moved_words(now: PatternRevision, to: PatternRevision) -> str:
    """What is said on the new sheet."""
    if now.pattern_id == to.pattern_id:
        return f"This sheet is read by revision {to.number}. Earlier sheets keep the revision they were read by."
    stays = "What was read before stays on its own sheet; an intake tag printed before names the old pattern."
    return f"Read as {to.pattern.name} from here on. {stays}"


def plugs_words(pattern: Pattern) -> str:
    """Every plug with its face: `P: 5 cavities, 2+3, blades, key at the bottom`."""
    return "; ".join(f"{p.name}: {face_words(p)}" for p in pattern.connectors)


class _Plugs:
    """One pattern's plugs, to be compared with those of others by their faces."""

    def __init__(self, pattern: Pattern) -> None:
        self._faces = Faces()
        self._known: dict[Connector, int] = {}  # patterns of one machine have the very same plugs
        self._outline, self._numbers = _outline(pattern), self._of(pattern)

    def are_alike(self, pattern: Pattern) -> bool:
        """Whether its plugs, in any order, can't be told from these by eye."""
        return _outline(pattern) == self._outline and self._of(pattern) == self._numbers

    def _of(self, pattern: Pattern) -> list[int]:
        return sorted(self._number(plug) for plug in pattern.connectors)

    def _number(self, plug: Connector) -> int:
        if plug not in self._known:
            self._known[plug] = self._faces.add(plug)[0].number
        return self._known[plug]


def _outline(pattern: Pattern) -> list[tuple[int, bool]]:
    """What faces that are alike have in common, told without comparing them."""
    return sorted((len(p.cavities), p.key is None) for p in pattern.connectors)
