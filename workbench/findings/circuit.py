"""A pattern's network solved once: how a unit current into any node spreads, and what pairs read by it.

Every fault is then one more branch, or one changed edge, and follows from these currents in closed form.
"""

import copy
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.stator.copper import factor, k_of
from workbench.stator.pattern import CORE, LINK_OHMS, Link, Pair, Pattern, Winding

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

# how far a band's limits lie from its middle, in standard deviations of a winding's ohms
BAND_SIGMAS = 2.0
# a winding of no real part is taken as the nearest that double precision carries beside the others
LEAST_OHMS, MOST_OHMS = 1e-4, 1e9


class Circuit:
    """Windings (those of copper, first) and links as edges of a network, at the temperature the sheet states.

    `spread` (edges,): currents (edges, nodes) of a unit current into each node, taken out at its part's root.
    `r` (edges,), `sd` (windings,): ohms and their standard deviation. `together` (windings, causes), `gains` (ranges,
    causes): where this very part is known, what one standard deviation of each cause adds to each (ohm; share).
    `part` (nodes,): which nodes are joined.
    """

    def __init__(self, pattern: Pattern, celsius: float, known: "Known | None" = None) -> None:
        """`known`: what earlier sheets tell of this part's own windings, in place of the pattern's bands."""
        wound = [w for w in pattern.windings if w.element is None]
        self.names = [w.name for w in wound]
        k = k_of(pattern.conductor)
        warm = factor(pattern.reference_celsius, celsius, k)
        # relative change of a winding's ohms for one degree
        self.per_celsius = 1 / (k + celsius)
        kept: list[Winding | Link] = [*wound, *pattern.links]
        edges = [(e.start, e.finish) for e in kept]
        self.pins = pattern.pins
        names = dict.fromkeys((*self.pins, CORE))
        for a, b in edges:
            names[a] = names[b] = None
        self.nodes = tuple(names)
        self.at = {node: i for i, node in enumerate(names)}
        self.core = self.at[CORE]
        at = self.at
        self.ends = [(at[a], at[b]) for a, b in edges]
        nw = len(wound)
        ohms = [min(max(w.nominal * warm, LEAST_OHMS), MOST_OHMS) for w in wound]
        self.windings = nw
        self.r = np.array(ohms + [LINK_OHMS] * (len(edges) - nw))
        sds = [(w.high - w.low) / w.nominal * r / (2 * BAND_SIGMAS) for w, r in zip(wound, ohms, strict=True)]
        self.sd = np.array(sds)
        self.together: Floats | None = None
        self.gains: Floats | None = None
        if known is not None:
            self._know(known, warm)
        flat = np.array(self.ends, dtype=np.intp).reshape(-1, 2)
        self.a, self.b = flat[:, 0], flat[:, 1]
        self.gone: int | None = None
        self.solve()

    def _know(self, known: "Known", warm: float) -> None:
        """Windings that are not among the known ones keep their pattern's band."""
        at = {name: i for i, name in enumerate(self.names)}
        mine = [at[n] for n in known.names if n in at]
        theirs = [i for i, n in enumerate(known.names) if n in at]
        self.r[mine] = np.clip(known.ohms[theirs] * warm, LEAST_OHMS, MOST_OHMS)
        nw, causes = self.windings, known.root.shape[1]
        apart = [i for i in range(nw) if i not in mine]
        self.together = np.zeros((nw, causes + len(apart)))
        self.together[mine, :causes] = known.root[theirs] * warm
        self.together[apart, range(causes, causes + len(apart))] = self.sd[apart]
        self.sd = np.sqrt((self.together**2).sum(1))
        self.gains = np.pad(known.gains, ((0, 0), (0, len(apart))))

    def nodes_of(self, pairs: Sequence[Pair]) -> tuple[Ints, Ints]:
        """Numbers of the first and the second node of each pair."""
        at = self.at
        ij = np.array([(at[a], at[b]) for a, b in pairs], dtype=np.intp).reshape(-1, 2)
        return ij[:, 0], ij[:, 1]

    def altered(self, winding: int, share: float) -> "Circuit":
        """The same with a share of one winding left; 0: with the winding gone."""
        out = copy.copy(self)
        if share > 0:
            out.r, out.sd = self.r.copy(), self.sd.copy()
            out.r[winding] *= share
            out.sd[winding] *= share
            if self.together is not None:
                out.together = self.together.copy()
                out.together[winding] *= share
        else:
            out.gone = winding
        out.solve()
        return out

    def solve(self) -> None:
        n, every = len(self.at), self.ends
        ends = every if self.gone is None else [*every[: self.gone], *every[self.gone + 1 :]]
        self.part, roots = parts_of(n, ends)
        g = 1 / self.r
        if self.gone is not None:
            g[self.gone] = 0.0
        used = sorted({x for e in every for x in e})
        place = {x: i for i, x in enumerate(used)}
        incidence = np.zeros((len(every), len(used)))
        rows = np.arange(len(every))
        incidence[rows, [place[a] for a, _ in every]] = 1
        incidence[rows, [place[b] for _, b in every]] = -1
        inner = [i for i, x in enumerate(used) if x not in roots]
        held = incidence[:, inner]
        volts = np.linalg.inv((held.T * g) @ held) if inner else np.zeros((0, 0))
        self.spread = np.zeros((len(every), n))
        self.spread[:, [used[i] for i in inner]] = g[:, None] * (held @ volts)
        # unit current in at each edge's start, out at its end; and how much stays out of the edge, over its ohms
        self.across = self.spread[:, self.a] - self.spread[:, self.b]
        through = self.across.diagonal()
        self.bridge = self._bridges(ends)
        self.slack = np.where(self.bridge, 0.0, np.maximum(1 - through, 0) / self.r)

    def _bridges(self, ends: Sequence[tuple[int, int]]) -> Bools:
        """Which edges join two parts that nothing else joins."""
        n = len(self.at)
        out = np.ones(len(self.ends), dtype=bool)
        if self.gone is not None:
            out[self.gone] = False
        if len(ends) == n - len(set(self.part.tolist())):
            return out
        for e, (a, b) in enumerate(self.ends):
            if out[e]:
                # a bridge carries all of it
                out[e] = self.across[e, e] > 0.5 and self._parted(e, a, b)
        return out

    def _parted(self, e: int, a: int, b: int) -> bool:
        part, _ = parts_of(len(self.at), [x for i, x in enumerate(self.ends) if i not in (e, self.gone)])
        return bool(part[a] != part[b])


def parts_of(n: int, ends: Sequence[tuple[int, int]]) -> tuple[Ints, set[int]]:
    """For each node its part's root, and the roots."""
    part = list(range(n))
    for a, b in ends:
        while part[a] != a:
            part[a] = part[part[a]]
            a = part[a]
        while part[b] != b:
            part[b] = part[part[b]]
            b = part[b]
        if a != b:
            part[max(a, b)] = min(a, b)
    for x in range(n):
        part[x] = part[part[x]]
    return np.array(part), {x for x in range(n) if part[x] == x}


@dataclass(frozen=True, slots=True)
class Known:
    """One part's own windings, as the meter in hand reads them.

    `ohms` (windings,) at its pattern's reference temperature. `root` (windings, causes; ohm) and `gains` (the meter's
    ranges, causes; share): what one standard deviation of each cause adds; root root^T is the windings' covariance.
    `sheets`: which of the earlier sheets this stands on.
    """

    names: tuple[str, ...]
    ohms: Floats
    root: Floats
    gains: Floats
    sheets: tuple[int, ...] = ()


class Probe:
    """Some pairs of nodes of a circuit: what they read and how, `i` and `j` of shape (pairs,).

    `flow` (edges, pairs): currents; `ohms` (pairs,), meaningless where not `same`; `jac` (windings, pairs): what an
    ohm more of a winding adds.
    """

    __slots__ = ("circuit", "flow", "i", "j", "jac", "ohms", "part_i", "part_j", "same")

    def __init__(self, circuit: Circuit, i: Ints, j: Ints) -> None:
        self.circuit, self.i, self.j = circuit, i, j
        self.flow: Floats = circuit.spread[:, i] - circuit.spread[:, j]
        squares = self.flow * self.flow
        self.ohms: Floats = circuit.r @ squares
        self.jac: Floats = squares[: circuit.windings]
        self.part_i, self.part_j = circuit.part[i], circuit.part[j]
        self.same: Bools = self.part_i == self.part_j

    def take(self, which: Ints) -> "Probe":
        """Some of the pairs."""
        out = Probe.__new__(Probe)
        out.circuit, out.i, out.j = self.circuit, self.i[which], self.j[which]
        out.flow, out.ohms, out.jac = self.flow[:, which], self.ohms[which], self.jac[:, which]
        out.part_i, out.part_j, out.same = self.part_i[which], self.part_j[which], self.same[which]
        return out

    def bridged(self, p: Ints, q: Ints) -> Floats:
        """+1, -1 or 0 (pairs, branches): whether a pair of two parts is joined by a branch from part p to part q."""
        i, j = self.part_i[:, None], self.part_j[:, None]
        out: Floats = ((i == p) & (j == q)).astype(float) - ((j == p) & (i == q))
        out[:, p == q] = 0.0
        return out
