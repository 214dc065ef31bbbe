"""What every pair reads with one fault in a pattern, ready to be taken by columns.

The faults, their odds and their cells are those of `findings`; here they only have to keep a fault from hiding which
pattern a part is of, so they are cut coarsely, and two faults at once are left to what reads like nothing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.findings.cells import AXES
from workbench.findings.circuit import Circuit
from workbench.findings.cutting import cut
from workbench.findings.faults import STATED, Fault
from workbench.findings.grids import grids
from workbench.findings.hypotheses import hypotheses, prior
from workbench.findings.seen import look
from workbench.matching.faces import Bools, Floats, Ints
from workbench.matching.layings import Shape
from workbench.stator.pattern import Pattern

Singles = NDArray[np.float32]

_GRIDS = grids(fraction=8, position=3, fault=5, position_ab=2, fault_ab=3, lead=7, leak=3, joint=5)
_KINDS: Mapping[Fault, float] = {f: p for f, p in STATED.items() if f is not Fault.SOUND}
# numbers for one pattern, and for all of one shape: beyond any bench's part a fault reads like nothing
_MOST_EACH, _MOST = 2_000_000, 16_000_000


@dataclass(frozen=True, slots=True, eq=False)
class Faulty:
    """Cells of all patterns of a shape, one pattern's together: `member` (cells,), `share` (cells,) of its faults.

    `start` (patterns,): each one's first cell; `rest` (patterns,): the share that is not cut into cells. `mean`
    (pairs, cells) ohm, `square` (pairs, cells) ohm squared, `factors` (windings + axes, pairs, cells) ohm, at the
    pattern's reference temperature: what one standard deviation of each winding, and of the cell, adds. `finite`, `odd`
    (pairs, cells): joined; read or joined otherwise than on a sound part.
    """

    member: Ints
    share: Floats
    start: Ints
    rest: Floats
    mean: Singles
    square: Singles
    factors: Singles
    finite: Bools
    odd: Bools

    @property
    def size(self) -> int:
        return int(self.factors.size + 2 * self.mean.size)


@dataclass(frozen=True, slots=True, eq=False)
class _One:
    share: Floats
    rest: float
    mean: Floats
    factors: Floats
    finite: Bools
    odd: Bools


def faulty(shape: Shape, patterns: Sequence[Pattern], nodes: Sequence[Sequence[str]]) -> Faulty:
    """`nodes`: for each pattern, its node in each slot of the shape."""
    most = max(1, *(len(p.windings) for p in patterns))
    left = _MOST
    found: list[_One] = []
    for pattern, its in zip(patterns, nodes, strict=True):
        one = _cells(shape, pattern, its, most, min(left, _MOST_EACH))
        left -= one.factors.size
        found.append(one)
    counts = [len(f.share) for f in found]
    factors = np.concatenate([f.factors for f in found], 2).astype(np.float32)
    return Faulty(
        member=np.repeat(np.arange(len(found)), counts),
        share=np.concatenate([f.share for f in found]),
        start=np.cumsum([0, *counts[:-1]]),
        rest=np.array([f.rest for f in found]),
        mean=np.concatenate([f.mean for f in found], 1).astype(np.float32),
        square=np.einsum("kpc,kpc->pc", factors, factors),
        factors=factors,
        finite=np.concatenate([f.finite for f in found], 1),
        odd=np.concatenate([f.odd for f in found], 1),
    )


def _cells(shape: Shape, pattern: Pattern, nodes: Sequence[str], most: int, room: int) -> _One:
    i, j = shape.pairs
    circuit = Circuit(pattern, pattern.reference_celsius)
    wound = circuit.windings
    rows = most + AXES
    none = _One(
        np.zeros(0), 1.0, np.zeros((len(i), 0)), np.zeros((rows, len(i), 0)),
        np.zeros((len(i), 0), dtype=bool), np.zeros((len(i), 0), dtype=bool),
    )  # fmt: skip
    # as many bridges from winding to winding alone would take, before any of it is laid out
    if 6 * wound * (wound - 1) * rows * len(i) > room:
        return none
    h = hypotheses(circuit, pattern, len(i))
    cells = cut(h, _GRIDS)
    if len(cells) * rows * len(i) > room:
        return none
    each, doubles = prior(h, _KINDS)
    at = np.array([circuit.at[n] for n in nodes])
    seen = look(circuit, h, at[i], at[j])
    read = cells.read(seen)
    share = each[cells.of] * cells.share
    kept = share > 0
    # what is below 0 there stands in no joined pair
    finite = seen.finite[:, cells.of] & (read.mu >= 0)
    odd = seen.moves[:, cells.of] | (finite != finite[:, :1])
    factors = np.zeros((rows, len(i), len(cells)))
    factors[:wound] = read.jac * circuit.sd[:, None, None]
    factors[most:] = read.par
    np.nan_to_num(factors, copy=False, posinf=0.0, neginf=0.0)
    mean = np.where(finite, np.nan_to_num(read.mu), 0.0)
    return _One(share[kept], doubles, mean[:, kept], factors[:, :, kept], finite[:, kept], odd[:, kept])
