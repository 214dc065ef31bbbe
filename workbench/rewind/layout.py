"""What is to be wound on a core's teeth, or was found there: phases, their connection, and each tooth's coil.

Here a coil is one tooth's; `workbench.stator.layout` draws it. Nothing here knows the wire.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from workbench.rewind.errors import RewindError
from workbench.rewind.star import Around
from workbench.stator.layout import MOST_COILS, MOST_PLACES, MOST_TEETH, Coil, Facing, Layout

MOST_POLES = 2 * MOST_TEETH
MOST_TURNS = 100_000


class Connection(StrEnum):
    """SERIES and PARALLEL are of one phase's groups; WYE and DELTA of three phases."""

    SERIES = "series"
    PARALLEL = "parallel"
    WYE = "wye"
    DELTA = "delta"


OF_PHASES = {1: (Connection.SERIES, Connection.PARALLEL), 3: (Connection.WYE, Connection.DELTA)}


@dataclass(frozen=True, slots=True)
class Scheme:
    """What is asked for. Raises RewindError where it contradicts itself.

    `poles`: of the flywheel, evenly spaced, north and south in turn; None when nobody could count them.
    `coils_per_phase`: None for as many as there is room for. `layers`: 2 with a coil on every tooth, 1 on every second.
    `paths`: equal groups side by side in each phase. `free`: teeth kept for other windings. `turns`: of each coil.
    """

    teeth: int
    poles: int | None
    phases: int
    connection: Connection
    coils_per_phase: int | None = None
    layers: int = 2
    paths: int = 1
    free: frozenset[int] = frozenset()
    turns: int = 1

    def __post_init__(self) -> None:
        for field, sentence in _contradictions(self):
            raise RewindError(field, sentence)

    @property
    def room(self) -> tuple[int, ...]:
        """The teeth that may be wound: all but the free ones, and of one layer every second."""
        every = [t for t in range(1, self.teeth + 1) if t not in self.free]
        if self.layers == 2:
            return tuple(every)
        odd, even = [t for t in every if t % 2], [t for t in every if not t % 2]
        return tuple(even if len(even) > len(odd) else odd)


def _contradictions(s: Scheme) -> Iterator[tuple[str, str]]:
    if not 1 <= s.teeth <= MOST_TEETH:
        yield "teeth", f"a core has from 1 to {MOST_TEETH} teeth, not {s.teeth}"
    if s.phases not in OF_PHASES:
        yield "phases", f"a winding has 1 phase or 3, not {s.phases}"
    if s.connection not in OF_PHASES[s.phases]:
        fitting = " or ".join(OF_PHASES[s.phases])
        yield "connection", f"{s.connection} doesn't go with {_of(s.phases, 'phase')}; it is {fitting}"
    if s.poles is not None and not 2 <= s.poles <= MOST_POLES:
        yield "poles", f"a flywheel has from 2 to {MOST_POLES} poles, not {s.poles}"
    if s.poles is not None and s.poles % 2:
        yield "poles", f"{s.poles} poles can't alternate around a flywheel; count north and south alike"
    if s.layers not in (1, 2):
        yield "layers", f"a tooth-wound core has 1 layer or 2, not {s.layers}"
    if s.layers == 1 and s.teeth % 2:
        yield "layers", f"every second of {s.teeth} teeth doesn't close around the ring; one layer wants an even number"
    if s.coils_per_phase is not None and not 1 <= s.coils_per_phase <= MOST_TEETH:
        yield "coils_per_phase", f"a phase has from 1 to {MOST_TEETH} coils, not {s.coils_per_phase}"
    if not 1 <= s.paths <= MOST_TEETH:
        yield "paths", f"a phase has from 1 to {MOST_TEETH} groups side by side, not {s.paths}"
    if s.connection is Connection.PARALLEL and s.paths == 1:
        yield "paths", "in parallel there are 2 groups or more; say how many"
    if s.connection is Connection.SERIES and s.paths > 1:
        yield "paths", f"{s.paths} groups side by side are in parallel, not in series"
    for tooth in sorted(s.free):
        if not 1 <= tooth <= s.teeth:
            yield "free", f"there is no tooth {tooth}; the core has {s.teeth}"
    if not 1 <= s.turns <= MOST_TURNS:
        yield "turns", f"a coil has from 1 to {MOST_TURNS} turns, not {s.turns}"


@dataclass(frozen=True, slots=True)
class ToothCoil:
    """A tooth's coil. `phase` and `path` count from 1; `sense` is 1 when it is wound clockwise as seen from the
    tooth's tip towards its root, -1 when the other way; `place` is its place in the stack there.
    """

    tooth: int
    phase: int
    sense: int
    turns: int = 1
    path: int = 1
    place: int = 0

    @property
    def around(self) -> Around:
        return Around(self.tooth, self.sense, self.turns)


def of_phase(coils: Iterable[ToothCoil], phase: int) -> tuple[ToothCoil, ...]:
    return tuple(c for c in coils if c.phase == phase)


def paths_of(coils: Iterable[ToothCoil]) -> tuple[tuple[ToothCoil, ...], ...]:
    """One phase's coils by the groups that lie side by side; each group's are in series, in this order."""
    groups: dict[int, list[ToothCoil]] = {}
    for c in coils:
        groups.setdefault(c.path, []).append(c)
    return tuple(tuple(groups[path]) for path in sorted(groups))


def hold(scheme: Scheme, coils: Sequence[ToothCoil]) -> None:
    """That these can be the coils of this scheme. Raises RewindError naming the coil, as in `coils[3].tooth`."""
    if not coils:
        raise RewindError("coils", "there is no coil; give each tooth's phase and sense")
    if len(coils) > MOST_COILS:
        raise RewindError("coils", f"{len(coils)} of them is more than the {MOST_COILS} that a layout may have")
    taken: set[tuple[int, int]] = set()
    for i, c in enumerate(coils):
        for field, sentence in _faults_of(scheme, c, taken):
            raise RewindError(f"coils[{i}].{field}", sentence)
        taken.add((c.tooth, c.place))
    for phase in range(1, scheme.phases + 1):
        if not of_phase(coils, phase):
            raise RewindError("coils", f"phase {phase} has no coil; a layout is checked when all of it is noted")


def _faults_of(s: Scheme, c: ToothCoil, taken: set[tuple[int, int]]) -> Iterator[tuple[str, str]]:
    if not 1 <= c.tooth <= s.teeth:
        yield "tooth", f"there is no tooth {c.tooth}; the core has {s.teeth}"
    if c.tooth in s.free:
        yield "tooth", f"tooth {c.tooth} is kept free for another winding"
    if not 1 <= c.phase <= s.phases:
        yield "phase", f"there is no phase {c.phase}; the winding has {s.phases}"
    if c.sense not in (1, -1):
        yield "sense", f"a sense is 1 or -1, not {c.sense}"
    if not 1 <= c.turns <= MOST_TURNS:
        yield "turns", f"a coil has from 1 to {MOST_TURNS} turns, not {c.turns}"
    if not 1 <= c.path <= s.paths:
        yield "path", f"there is no group {c.path} side by side; each phase has {s.paths}"
    if not 0 <= c.place < MOST_PLACES:
        yield "place", f"a place in a stack lies from 0 to {MOST_PLACES - 1}, not at {c.place}"
    if (c.tooth, c.place) in taken:
        yield "place", f"place {c.place} on tooth {c.tooth} is taken"


def coils_of(layout: Layout, windings: Sequence[str], turns: int = 1) -> tuple[ToothCoil, ...]:
    """A pattern's coils as phases: `windings` names its phase 1, 2, 3 in this order; others are passed over.

    Raises RewindError where a sense wasn't noted, or a coil stands beside the ring.
    """
    out: list[ToothCoil] = []
    for i, c in enumerate(layout.coils):
        if c.winding not in windings:
            continue
        if c.tooth is None:
            raise RewindError(f"coils[{i}].tooth", f"a coil of {c.winding} stands beside the ring, on no tooth")
        if c.sense is None:
            raise RewindError(f"coils[{i}].sense", f"nobody noted the sense of {c.winding} on tooth {c.tooth}")
        out.append(ToothCoil(c.tooth, windings.index(c.winding) + 1, c.sense, turns, 1, c.place))
    return tuple(out)


def layout_of(
    teeth: int, coils: Iterable[ToothCoil], windings: Sequence[str], facing: Facing = Facing.OUTWARD
) -> Layout:
    """As a pattern keeps it and the bench draws it; `windings` names phase 1, 2, 3."""
    return Layout(teeth, facing, tuple(Coil(windings[c.phase - 1], c.tooth, c.place, c.sense) for c in coils))


def _of(n: int, noun: str) -> str:
    return f"{n} {noun}{'' if n == 1 else 's'}"
