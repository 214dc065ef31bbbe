"""What the meter in hand can tell at best, said before anyone touches the part."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from workbench.stator.correct import Corrected, Corrector
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Sheet
from workbench.stator.verdict import Verdict, normal_below


class Reach(StrEnum):
    """What a check on this meter can come to, for a sound part at its nominal value."""

    JUDGES = "judges"
    CONTINUITY = "continuity"  # can't tell the band from its own error: "continuous" at best
    ABOVE_RANGES = "above ranges"  # the nominal value lies above every range
    NO_OPEN = "no open"  # no range reaches the pattern's open limit
    NOT_BY_OHMS = "not by ohms"


def corrector_of(sheet: Sheet) -> Corrector:
    p = sheet.pattern
    return Corrector(sheet.meter, sheet.conditions, p.conductor, p.reference_celsius)


def reach(sheet: Sheet, ask: Expectations, pair: Pair) -> Reach:
    expected = ask.of(pair)
    if expected.path is Path.ELEMENT:
        return Reach.NOT_BY_OHMS
    if expected.path is Path.NONE:
        m = sheet.meter
        return Reach.JUDGES if m.overload_above(m.top) >= sheet.pattern.open_limit_ohms else Reach.NO_OPEN
    assert expected.ohms is not None
    value = corrector_of(sheet).at(expected.ohms)
    if value is None:
        return Reach.ABOVE_RANGES
    return Reach.CONTINUITY if expected.decided(value.ohms, value.u).verdict is Verdict.CONTINUOUS else Reach.JUDGES


@dataclass(frozen=True, slots=True)
class SmallestShort:
    """The smallest share of a winding's turns whose short this meter shows with 95 %, and on which check."""

    fraction: float
    pair: Pair


_SURE = 1.6448536269514722  # the normal distribution's 95 % point (JCGM 106, table 1's z for p = 0.95; computed)
Seen = Callable[[float], bool]
_SHARES = np.geomspace(0.002, 0.998, 120)


def smallest_short(
    sheet: Sheet, ask: Expectations, winding: str, earlier: dict[Pair, Corrected] | None = None
) -> SmallestShort | None:
    """The smallest f for which a reading at (1 - f) of the winding comes out outside with 95 % probability.

    Against the band; or, for the pairs in `earlier`, against this unit's own earlier reading: outside
    then means below it by more than the U of the difference, and the share is taken of what the unit read
    itself, for its coils stand a little off the pattern's values. None: no short is large enough to be seen.
    """
    pairs = [c for c in sheet.plan if ask.of(c).path is Path.WINDINGS and (earlier is None or c in earlier)]
    if not pairs:
        return None
    corrector = corrector_of(sheet)
    best: SmallestShort | None = None
    reads = ask.shorted(pairs, winding, _SHARES)
    for i, pair in enumerate(pairs):
        limit, u_limit, scale = (ask.of(pair).low or 0.0), 0.0, 1.0
        if earlier is not None:
            limit, u_limit = earlier[pair].ohms, earlier[pair].u
            scale = limit / (ask.of(pair).ohms or limit or 1.0)
        column = reads[:, i] * scale
        if column[0] == column[-1]:
            continue  # the winding isn't on this path

        def seen(ohms: float, limit: float = limit, u_limit: float = u_limit) -> bool:
            value = corrector.at(ohms)
            if value is None:
                return False
            apart = 2 * (value.u**2 + u_limit**2) ** 0.5
            return normal_below((limit - apart - ohms) / value.u) >= normal_below(_SURE) if value.u else ohms < limit

        def seen_at(share: float, pair: Pair = pair, scale: float = scale, seen: Seen = seen) -> bool:
            return seen(scale * float(ask.shorted([pair], winding, np.array([share]))[0, 0]))

        at = next((j for j, ohms in enumerate(column) if seen(float(ohms))), None)
        if at is None:
            continue
        f = _refine(seen_at, float(_SHARES[at - 1]) if at else 0.0, float(_SHARES[at]))
        if best is None or f < best.fraction:
            best = SmallestShort(f, pair)
    return best


def _refine(seen_at: Seen, unseen: float, seen: float) -> float:
    """Halves the step between a share that isn't seen and one that is."""
    for _ in range(12):
        middle = (unseen + seen) / 2
        if seen_at(middle):
            seen = middle
        else:
            unseen = middle
    return seen
