"""What a pattern tells of a winding that is to be wound anew: its teeth, senses, and which windings are phases."""

import itertools
from collections.abc import Sequence

from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection
from workbench.rewind.record import WHOLE
from workbench.stator.layout import Coil
from workbench.stator.pattern import Kind, Pattern, Winding

# what may be wound in three phases
_OUTPUT = (Kind.CHARGING, Kind.LIGHTING)


def windings_of(pattern: Pattern) -> tuple[str, ...]:
    """What may be chosen to be wound: the whole of three phases first, then each winding that is wire."""
    whole = (WHOLE,) if phases_of(pattern) is not None else ()
    return whole + tuple(w.name for w in pattern.windings if w.element is None)


def phases_of(pattern: Pattern) -> tuple[tuple[str, ...], Connection] | None:
    """The three windings that are one output's phases, and how they are connected; None where there are none."""
    some = [w for w in pattern.windings if w.element is None and w.kind in _OUTPUT]
    for three in itertools.combinations(some, 3):
        connection = _connection(three)
        if connection is not None and len({w.kind for w in three}) == 1:
            return tuple(w.name for w in three), connection
    return None


def names_of(pattern: Pattern, winding: str) -> tuple[str, ...]:
    """The windings that a rewind is of, phase 1 first."""
    found = phases_of(pattern) if winding == WHOLE else None
    return found[0] if found is not None else (winding,)


def coils_of_winding(pattern: Pattern, winding: str) -> tuple[Coil, ...]:
    """Those on teeth; none for a pattern without a layout."""
    names = names_of(pattern, winding)
    layout = pattern.layout
    return tuple(c for c in layout.coils if c.winding in names and c.tooth is not None) if layout is not None else ()


def alike(pattern: Pattern, winding: str) -> int:
    """How many coils a phase of it has; raises RewindError where its phases differ."""
    counts = {sum(c.winding == n for c in coils_of_winding(pattern, winding)) for n in names_of(pattern, winding)}
    if len(counts) != 1:
        raise RewindError("coils", "the phases have unlike numbers of coils")
    return counts.pop()


def _connection(three: Sequence[Winding]) -> Connection | None:
    ends = [{w.start, w.finish} for w in three]
    every = set().union(*ends)
    if len(every) == 3 and len({frozenset(e) for e in ends}) == 3:
        return Connection.DELTA
    return Connection.WYE if len(every) == 4 and len(ends[0] & ends[1] & ends[2]) == 1 else None
