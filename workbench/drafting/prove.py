"""The live proof of a pattern: what is wrong with it, what it can't see, what can't be told apart."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, StrEnum

from workbench.drafting.checks import choose_checks
from workbench.drafting.draft import Draft
from workbench.drafting.seeing import Seeing, What
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expected, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.reach import Reach, reach
from workbench.stator.sheet import Conditions, Sheet

# plugs with more pins than this are not tried with two of them exchanged
MOST_SWAPPED = 24
MOST_OF_A_KIND = 40


class Weight(Enum):
    """How much a remark weighs: it is no pattern yet; it should be mended; it is good to know."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Remark(StrEnum):
    NOT_YET = "not yet"  # what keeps it from being a pattern; `field`, `sentence`
    BRIDGED = "bridged"  # a winding whose ends plain wire joins: ohms can't see it
    INVISIBLE = "invisible"  # a winding, lead or ground that no pair can show
    UNCHECKED = "unchecked"  # one that some pair shows, but no planned check
    SWAP_UNSEEN = "swap unseen"  # two pins which, exchanged, the planned checks don't show though other pairs would
    SWAP_INVISIBLE = "swap invisible"  # two pins which, exchanged, every pair hides within its band
    NO_LOW = "no low"  # a winding of whose band only the high limit is known
    BEYOND_METERS = "beyond meters"  # a check that none of the shop's meters can judge
    BY_NO_OHMS = "by no ohms"  # a check through a diode or electronics
    SPARE_PIN = "spare pin"  # a pin that nothing is joined to
    TWICE = "twice"  # a pair that is planned twice, either way round
    TOOTH_TWICE = "tooth twice"  # a winding with two coils on one tooth, or in one place beside the ring
    NO_COIL = "no coil"  # a winding without a coil in a layout that has some


_WEIGHTS = {
    Remark.NOT_YET: Weight.ERROR,
    Remark.BRIDGED: Weight.WARNING,
    Remark.INVISIBLE: Weight.WARNING,
    Remark.UNCHECKED: Weight.WARNING,
    Remark.SWAP_UNSEEN: Weight.WARNING,
    Remark.BEYOND_METERS: Weight.WARNING,
    Remark.TWICE: Weight.WARNING,
}


@dataclass(frozen=True, slots=True)
class Said:
    """One remark. `about`: names of windings, links or pins; `pair`: the check it is about; `reach`: on the best meter.

    `what`: the sort of thing in `about`, for INVISIBLE and UNCHECKED.
    """

    remark: Remark
    about: tuple[str, ...] = ()
    pair: Pair | None = None
    what: What | None = None
    reach: Reach | None = None
    field: str = ""
    sentence: str = ""

    @property
    def weight(self) -> Weight:
        return _WEIGHTS.get(self.remark, Weight.NOTE)


@dataclass(frozen=True, slots=True)
class Proof:
    """`pairs`: what every pair should read; empty while it is no pattern. `checks`: those planned, or chosen for it."""

    said: tuple[Said, ...]
    pairs: tuple[tuple[Pair, Expected], ...] = ()
    checks: tuple[Pair, ...] = ()
    pattern: Pattern | None = None

    @property
    def stands(self) -> bool:
        """Whether it can be saved."""
        return self.pattern is not None


def prove(draft: Draft, meters: Sequence[Meter] = ()) -> Proof:
    """`meters`: the shop's. Some milliseconds for a stator's loom; away from a window's thread for larger ones."""
    try:
        pattern = draft.pattern()
        seeing = Seeing(pattern)
    except FieldError as e:
        return Proof((Said(Remark.NOT_YET, field=e.field, sentence=e.sentence),))
    checks = draft.checks if draft.checks is not None else choose_checks(pattern, seeing)
    said = [
        *_bridged(seeing),
        *(Said(Remark.NO_LOW, (w.name,)) for w in pattern.windings if w.is_under),
        *_unseen(seeing, checks),
        *_swaps(seeing, checks),
        *_twice(seeing, checks),
        *_meters(seeing, checks, meters),
        *_spares(pattern),
        *_coils(pattern),
    ]
    pairs = tuple((pair, seeing.ask.of(pair)) for pair in seeing.pairs)
    return Proof(tuple(said), pairs, checks, pattern)


# ---- one sort of remark each


def _bridged(s: Seeing) -> list[Said]:
    return [
        Said(Remark.BRIDGED, (w.name,))
        for w in s.pattern.windings
        if w.element is None and s.ask.of(Pair(w.start, w.finish)).path is Path.LINKS
    ]


def _unseen(s: Seeing, checks: Sequence[Pair]) -> list[Said]:
    visible, planned = s.visible, s.of(checks)
    blind = {t.name for t in s.things if t.what is What.WINDING and t not in planned}
    out = []
    for thing in s.things:
        if thing.what is What.BREAK and thing.name in blind and (thing in visible) == (thing in planned):
            continue  # what is said of its turns is enough
        if thing not in visible:
            out.append(Said(Remark.INVISIBLE, (thing.name,), what=thing.what))
        elif thing not in planned:
            out.append(Said(Remark.UNCHECKED, (thing.name,), what=thing.what))
    return out


def _swaps(s: Seeing, checks: Sequence[Pair]) -> list[Said]:
    """Two wires of one plug in each other's cavities, where that would change what the part reads at all."""
    unseen, hidden = [], []
    at: dict[str, list[Pair]] = {}
    for pair in s.pairs:
        for node in pair:
            at.setdefault(node, []).append(pair)
    planned = {c.unordered: c for c in checks}
    for plug in s.pattern.connectors:
        if len(plug.nodes) > MOST_SWAPPED:
            continue
        for a, b in itertools.combinations(plug.nodes, 2):
            moved = [p for p in (*at[a], *at[b]) if {a, b} != {*p}]
            if not any(_differs(s, p, a, b) for p in moved):
                continue  # alike for good: nobody needs to tell them apart by ohms
            if not any(_tells(s, p, a, b) for p in moved):
                hidden.append(Said(Remark.SWAP_INVISIBLE, (a, b)))
            elif not any(_tells(s, planned[p.unordered], a, b) for p in moved if p.unordered in planned):
                unseen.append(Said(Remark.SWAP_UNSEEN, (a, b)))
    return [*unseen[:MOST_OF_A_KIND], *hidden[:MOST_OF_A_KIND]]


def _under_swap(pair: Pair, a: str, b: str) -> Pair:
    to = {a: b, b: a}
    return Pair(to.get(pair.positive, pair.positive), to.get(pair.negative, pair.negative))


def _differs(s: Seeing, pair: Pair, a: str, b: str) -> bool:
    """Whether the pair's nominal value moves by more than a hundredth of itself, or it opens or closes."""
    is_, would_be = s.ask.of(pair), s.ask.of(_under_swap(pair, a, b))
    if (is_.ohms is None) != (would_be.ohms is None):
        return True
    return is_.ohms is not None and would_be.ohms is not None and abs(is_.ohms - would_be.ohms) > 0.01 * is_.ohms


def _tells(s: Seeing, pair: Pair, a: str, b: str) -> bool:
    """Whether the pair of a part at its nominal values would leave its band, were the two exchanged."""
    is_, would_be = s.ask.of(pair), s.ask.of(_under_swap(pair, a, b))
    if Path.ELEMENT in (is_.path, would_be.path):
        return False
    if is_.ohms is None or would_be.ohms is None:
        return is_.ohms is not would_be.ohms
    return not (is_.low or 0.0) <= would_be.ohms <= (is_.high or 0.0)


# on a usual day: a handheld at the counter, or a meter that resolves milliohms, by four wires and a contact probe
_ROOM, _FOUR_WIRES = Conditions(20.0, 3.0, 0.2, 0.05), Conditions(20.0, 1.0, 0.0, 0.0005)
_MILLIOHMS = 0.005


def _usual(meter: Meter) -> Conditions:
    return _FOUR_WIRES if meter.ranges[0].resolution_ohms <= _MILLIOHMS else _ROOM


def _meters(s: Seeing, checks: Sequence[Pair], meters: Sequence[Meter]) -> list[Said]:
    out = []
    sheets = [Sheet(s.pattern, m, _usual(m)) for m in meters]
    for pair in checks:
        if s.ask.of(pair).path is Path.ELEMENT:
            out.append(Said(Remark.BY_NO_OHMS, pair=pair))
        elif sheets:
            reaches = [reach(sheet, s.ask, pair) for sheet in sheets]
            if Reach.JUDGES not in reaches:
                best = Reach.CONTINUITY if Reach.CONTINUITY in reaches else reaches[0]
                out.append(Said(Remark.BEYOND_METERS, pair=pair, reach=best))
    return out


def _twice(s: Seeing, checks: Sequence[Pair]) -> list[Said]:
    keys = [s.ask.key(c) for c in checks]
    return [Said(Remark.TWICE, pair=c) for i, c in enumerate(checks) if keys[i] in keys[:i]]


def _spares(pattern: Pattern) -> list[Said]:
    used = {n for e in pattern.edges for n in (e.start, e.finish)}
    return [Said(Remark.SPARE_PIN, (n,)) for n in pattern.pins if n not in used][:MOST_OF_A_KIND]


def _coils(pattern: Pattern) -> list[Said]:
    if pattern.layout is None or not pattern.layout.coils:
        return []
    out = []
    seen = set[tuple[str, tuple[int | None, float | None]]]()
    for c in pattern.layout.coils:
        if (c.winding, c.spot) in seen:
            out.append(Said(Remark.TOOTH_TWICE, (c.winding,)))
        seen.add((c.winding, c.spot))
    laid = {*pattern.layout.windings}
    out += [Said(Remark.NO_COIL, (w.name,)) for w in pattern.windings if w.element is None and w.name not in laid]
    return list(dict.fromkeys(out))
