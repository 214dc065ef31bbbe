"""Every single explanation of a pattern, and how likely it is before anything is read."""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workbench.findings.circuit import Bools, Circuit, Floats, Ints
from workbench.findings.faults import Fault
from workbench.stator.pattern import Pattern

# on a part larger than any bench's, the first of them in the pattern's order stand for the rest
MOST_SWAPS, MOST_BRIDGES = 150, 300
# numbers that the swaps of one probe may take
_ROOM = 1_500_000


class What:
    """The kinds the algebra knows, as plain numbers in the order of `Fault`; the last two are parts of `unlisted`."""

    SOUND, OPEN_WINDING, OPEN_LEAD, SHORTED, TO_CORE, TO_WINDING = range(6)
    RESISTIVE, SWAPPED, UNZEROED, WARMER, LEAK, JOINT = range(6, 12)
    COUNT = 12


FAULTS = tuple(Fault)
# how `unlisted` divides: two at once, a leak, a bad joint
DOUBLE_SHARE, LEAK_SHARE, JOINT_SHARE = 0.4, 0.3, 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Hypotheses:
    """Parallel arrays, one entry an explanation. `a`, `b`: windings' numbers or nodes, -1 where there is none.

    `at`: for each kind, which they are, and `span` the same as a slice, since they stand together. `unlisted`
    (hypotheses,): parts of that one finding.
    """

    what: Ints
    a: Ints
    b: Ints
    at: tuple[Ints, ...]
    span: tuple[slice, ...]
    swaps: tuple[tuple[int, int], ...]
    unlisted: Bools

    def __len__(self) -> int:
        return len(self.what)


def hypotheses(circuit: Circuit, pattern: Pattern, pairs: int = 0) -> Hypotheses:
    """`pairs`: as many are to be looked at (what a large part's swaps are kept within)."""
    wired = {x for e in circuit.ends for x in e}
    pins = tuple(i for p in circuit.pins if (i := circuit.at[p]) in wired)
    swaps: list[tuple[int, int]] = []
    most = min(MOST_SWAPS, _ROOM // max(1, pairs * len(circuit.ends)))
    for plug in pattern.connectors:
        inner = itertools.combinations([circuit.at[p] for p in plug.nodes], 2)
        swaps += itertools.islice((s for s in inner if s[0] in wired or s[1] in wired), most - len(swaps))
    return _hypotheses(circuit.windings, pins, tuple(swaps))


@lru_cache(maxsize=64)
def _hypotheses(windings: int, pins: tuple[int, ...], swaps: tuple[tuple[int, int], ...]) -> Hypotheses:
    wound = [(w, -1) for w in range(windings)]
    wires = [(p, -1) for p in pins]
    bridges = list(itertools.islice(itertools.combinations(range(windings), 2), MOST_BRIDGES))
    whole = [(-1, -1)]
    rows = [whole, wound, wires, wound, wound, bridges, wires, list(swaps), whole, whole, wound, wound]
    what = np.repeat(np.arange(What.COUNT), [len(r) for r in rows])
    ab = np.array(list(itertools.chain.from_iterable(rows)), dtype=np.intp).reshape(-1, 2)
    at = tuple(np.flatnonzero(what == k) for k in range(What.COUNT))
    ends = list(itertools.accumulate((len(r) for r in rows), initial=0))
    span = tuple(slice(a, b) for a, b in itertools.pairwise(ends))
    return Hypotheses(what, ab[:, 0].copy(), ab[:, 1].copy(), at, span, swaps, what >= What.LEAK)


def prior(h: Hypotheses, weights: Mapping[Fault, float]) -> tuple[Floats, float]:
    """Of each hypothesis, and of two faults at once. Kinds with no possible place are left out, the rest scaled."""
    counts = [len(at) for at in h.at]
    of_kind = [weights.get(f, 0.0) if n else 0.0 for f, n in zip(FAULTS, counts[: What.LEAK], strict=False)]
    unlisted = weights.get(Fault.UNLISTED, 0.0) if counts[What.LEAK] else 0.0
    total = sum(of_kind) + unlisted
    if not total > 0:
        of_kind[What.SOUND] = total = 1.0
    of_kind += [unlisted * LEAK_SHARE, unlisted * JOINT_SHARE]
    each = np.array([w / total / n if n else 0.0 for w, n in zip(of_kind, counts, strict=True)])
    return each[h.what], unlisted * DOUBLE_SHARE / total
