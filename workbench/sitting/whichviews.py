"""Which pattern it may be, as the panel shows it: patterns with their shares, how each lies, what would tell more."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench import words
from workbench.matching.faces import Faces
from workbench.matching.weighing import Ranked
from workbench.records import PatternRevision, SheetHead
from workbench.sitting.faceplan import key_down
from workbench.sitting.lines import Keeping
from workbench.sitting.says import ExplanationView
from workbench.sitting.views import LineView, ReadingView, conditions_words
from workbench.sitting.whichpart import Seen
from workbench.sitting.whichsitting import WhichSitting
from workbench.stator.pattern import Connector
from workbench.whichwords import (
    ALIKE,
    NEW_TO_THE_SHOP,
    NO_PLUGS,
    NO_SUCH_FACE,
    NONE_OF_THEM,
    NOTHING_READ,
    WEIGHING,
    face_words,
    lies_words,
    next_words,
    no_more_words,
    pattern_words,
    settled_words,
)

ROWS, FAINT = 8, 0.005


@dataclass(frozen=True, slots=True)
class PatternView(ExplanationView):
    """One pattern with its share; without a `revision`: none of them. `lies`: which of its pins is which, in words."""

    revision: PatternRevision | None = None
    lies: str = ""


@dataclass(frozen=True, slots=True)
class WhichView:
    """Likeliest first."""

    rows: tuple[PatternView, ...]
    foot: str

    @property
    def spoken(self) -> str:
        return ". ".join(x for x in (*(r.spoken for r in self.rows), self.foot.rstrip(".")) if x)


def which(sitting: WhichSitting) -> WhichView:
    """What is shown while the latest reading is still being weighed is the sentence that says so."""
    w = sitting.weighed
    if w is None or (sitting.weighing and not w.ranked):
        return WhichView((), sitting.cannot or (WEIGHING if sitting.part.plugs else NO_PLUGS))
    likely = [_row(sitting, r) for r in w.ranked if r.probability >= FAINT][:ROWS]
    rows = sorted([*likely, PatternView(NONE_OF_THEM, NEW_TO_THE_SHOP, w.none)], key=lambda v: -v.share)
    return WhichView(tuple(rows), _foot(sitting))


def _row(sitting: WhichSitting, r: Ranked) -> PatternView:
    revision = sitting.library[r.pattern]
    part = sitting.part.pattern
    assert part is not None
    others = [n for n in _alike(sitting, r) if n != revision.pattern.name]
    detail = f"{ALIKE}{', '.join(others)}" if others else pattern_words(revision.number, len(revision.pattern.windings))
    lies = lies_words(r.laying, part, revision.pattern)
    return PatternView(revision.pattern.name, detail, r.probability, None, revision, lies)


def _alike(sitting: WhichSitting, r: Ranked) -> tuple[str, ...]:
    """The names of all that no reading can tell from it, its own among them."""
    assert sitting.weighed is not None
    return tuple(sitting.library[x.pattern].pattern.name for x in sitting.weighed.ranked if x.alike == r.alike)


def _foot(sitting: WhichSitting) -> str:
    w, part = sitting.weighed, sitting.part.pattern
    assert w is not None
    assert part is not None
    if not w.ranked:
        return NO_SUCH_FACE
    if sitting.settled:
        return settled_words(_alike(sitting, w.ranked[0]) if w.none < sitting.share(w.ranked[0]) else ())
    if sitting.offered is None:
        return no_more_words(tuple(sitting.library[r.pattern].pattern.name for r in w.ranked if r.probability >= 0.05))
    told = next_words(sitting.offered, part)
    return told if sitting.part.counted else f"{NOTHING_READ} {told}"


def face_lines(sitting: WhichSitting) -> tuple[LineView, ...]:
    """The newest reading of each pair that counts."""
    newest: dict[tuple[str, str], Seen] = {}
    for seen in sitting.part.counted:
        newest.pop(seen.reading.pair.unordered, None)  # the newest stands last
        newest[seen.reading.pair.unordered] = seen
    here = sitting.pair.unordered if sitting.pair is not None else None
    return tuple(
        LineView(s.reading.pair, "open" if s.reading.ohms is None else s.typed, "", sitting.is_safe(s.id), key == here)
        for key, s in newest.items()
    )


def readings(sitting: WhichSitting) -> tuple[ReadingView, ...]:
    """Newest first, the struck ones among them."""
    part = sitting.part.pattern
    assert part is not None or not sitting.part.seen
    return tuple(
        ReadingView(
            s.id,
            words.pair_words(s.reading.pair, part),
            s.typed,
            "",
            "",
            s.struck,
            Keeping.SAFE if sitting.is_safe(s.id) else Keeping.HOLLOW,
        )
        for s in reversed(sitting.part.seen)
        if part is not None
    )


def bar_words(head: SheetHead) -> tuple[str, str]:
    """How warm and with which leads, and on what."""
    return ", ".join(conditions_words(head)), head.meter_name


@dataclass(frozen=True, slots=True)
class FaceChoice:
    """A face that the shop's patterns have: one plug that has it, and on how many patterns."""

    plug: Connector
    patterns: int

    @property
    def title(self) -> str:
        return face_words(self.plug)


def face_choices(library: Iterable[PatternRevision]) -> tuple[FaceChoice, ...]:
    """Each distinct face once, key down as it will be drawn, those of few cavities first."""
    faces = Faces()
    plugs: list[Connector] = []
    on: list[set[int]] = []
    for number, revision in enumerate(library):
        for plug in revision.pattern.connectors:
            face, _ = faces.add(plug)
            if face.number == len(plugs):
                plugs.append(key_down(plug))
                on.append(set())
            on[face.number].add(number)
    found = [FaceChoice(p, len(n)) for p, n in zip(plugs, on, strict=True)]
    return tuple(sorted(found, key=lambda f: (len(f.plug.cavities), f.title)))
