"""Every single explanation of a pattern: its prior, which pairs it leaves joined, whether it moves what was read."""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from workbench.findings.circuit import Bools, Circuit, Floats, Ints, Probe
from workbench.findings.faults import Fault
from workbench.stator.pattern import Pattern

# a sheet beyond any bench's is answered from fewer explanations: the first of each kind in the pattern's order
MOST_SWAPS, MOST_BRIDGES = 150, 300
# numbers that the swaps of one probe may take
_ROOM = 1_500_000


class What(IntEnum):
    """The kinds the algebra knows; the last two are parts of `unlisted`."""

    SOUND = 0
    OPEN_WINDING = 1
    OPEN_LEAD = 2
    SHORTED = 3
    TO_CORE = 4
    TO_WINDING = 5
    RESISTIVE = 6
    SWAPPED = 7
    UNZEROED = 8
    WARMER = 9
    LEAK = 10
    JOINT = 11


_FAULTS = tuple(Fault)
_LISTED = len(_FAULTS) - 1
# how `unlisted` divides: two at once, a leak, a bad joint
DOUBLE_SHARE, LEAK_SHARE, JOINT_SHARE = 0.4, 0.3, 0.3


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """Parallel arrays, one entry an explanation. `a`, `b`: windings' numbers or nodes, -1 where there is none."""

    what: Ints
    a: Ints
    b: Ints
    prior: Floats
    double_prior: float
    swaps: tuple[tuple[int, int], ...]
    at: dict[What, Ints]

    def __len__(self) -> int:
        return len(self.what)


def hypotheses(circuit: Circuit, pattern: Pattern, priors: Mapping[Fault, float], pairs: int = 0) -> Hypotheses:
    """Kinds with no possible place are left out and the rest scaled to sum to 1. `pairs`: as many are to be read."""
    nw = circuit.windings
    wired = {x for e in circuit.ends for x in e}
    pins = [i for p in circuit.pins if (i := circuit.at[p]) in wired]
    swaps: list[tuple[int, int]] = []
    most = min(MOST_SWAPS, _ROOM // max(1, pairs * len(circuit.ends)))
    for plug in pattern.connectors:
        nodes = [circuit.at[p] for p in plug.nodes]
        inner = itertools.combinations(nodes, 2)
        swaps += itertools.islice((s for s in inner if s[0] in wired or s[1] in wired), most - len(swaps))
    bridges = list(itertools.islice(itertools.combinations(range(nw), 2), MOST_BRIDGES))
    windings = [(w, -1) for w in range(nw)]
    wires = [(p, -1) for p in pins]
    places: list[list[tuple[int, int]]] = [
        [(-1, -1)], windings, wires, windings, windings, bridges, wires, swaps, [(-1, -1)], [(-1, -1)],
    ]  # fmt: skip
    weights = [priors.get(f, 0.0) if p else 0.0 for f, p in zip(_FAULTS[:_LISTED], places, strict=True)]
    unlisted = priors.get(Fault.UNLISTED, 0.0) if windings else 0.0
    total = sum(weights) + unlisted
    if not total > 0:
        weights[0] = total = 1.0
    rows = list(itertools.chain.from_iterable(places)) + windings * 2
    what: list[int] = []
    prior: list[float] = []
    for i, (p, w) in enumerate(zip(places, weights, strict=True)):
        what += [i] * len(p)
        prior += [w / total / len(p)] * len(p) if p else []
    for kind, share in ((What.LEAK, LEAK_SHARE), (What.JOINT, JOINT_SHARE)):
        what += [kind] * nw
        prior += [unlisted * share / total / nw] * nw if nw else []
    ab = np.array(rows, dtype=np.intp).reshape(-1, 2)
    kinds = np.array(what, dtype=np.intp)
    at = {k: np.flatnonzero(kinds == k) for k in What}
    return Hypotheses(
        kinds, ab[:, 0], ab[:, 1], np.array(prior), unlisted * DOUBLE_SHARE / total, tuple(swaps), at
    )  # fmt: skip


class Seen:
    """Some pairs as every hypothesis has them.

    `ohms` (pairs, layers), `jac` (windings, pairs, layers): as they are (layer 0), then with each swap. `finite`
    (pairs, hypotheses): joined. `moved` (hypotheses,): some joined pair does not read as on a sound part.
    """

    def __init__(self, circuit: Circuit, h: Hypotheses, i: Ints, j: Ints) -> None:
        self.probe = probe = Probe(circuit, i, j)
        self.finite: Bools = np.repeat(probe.same[:, None], len(h), 1)
        self.moved: Bools = np.zeros(len(h), dtype=bool)
        self.ohms, self.jac = probe.ohms[:, None], probe.jac[:, :, None]
        flows = np.abs(probe.flow[: circuit.windings]) > 1e-9
        self._windings(h, flows)
        self._leads(h)
        self._branches(h)
        self._swaps(circuit, h)
        self.moved[h.at[What.UNZEROED]] = probe.same.any()
        self.moved[h.at[What.WARMER]] = flows.any()

    def _windings(self, h: Hypotheses, flows: Bools) -> None:
        carried: Bools = np.asarray(flows.any(1))
        bridge = self.probe.circuit.bridge[: len(carried)]
        for k in (What.SHORTED, What.JOINT):
            self.moved[h.at[k]] = carried[h.a[h.at[k]]]
        opened = h.at[What.OPEN_WINDING]
        w = h.a[opened]
        self.finite[:, opened] &= ~(flows & bridge[:, None])[w].T
        self.moved[opened] = (carried & ~bridge)[w]

    def _leads(self, h: Hypotheses) -> None:
        probe = self.probe
        for k in (What.OPEN_LEAD, What.RESISTIVE):
            pin = h.a[h.at[k]]
            touch = (probe.i[:, None] == pin) | (probe.j[:, None] == pin)
            if k is What.OPEN_LEAD:
                self.finite[:, h.at[k]] &= ~touch
            else:
                self.moved[h.at[k]] = (touch & probe.same[:, None]).any(0)

    def _branches(self, h: Hypotheses) -> None:
        probe, c = self.probe, self.probe.circuit
        # (pairs, nodes), against each part's root
        all_volts = (probe.flow.T * c.r) @ c.spread
        for k in (What.TO_CORE, What.TO_WINDING, What.LEAK):
            which = h.at[k]
            a, b = h.a[which], h.b[which]
            if k is What.TO_WINDING:
                ends = [c.a[a], c.b[a], c.a[b], c.b[b]]
            else:
                ends = [c.a[a], c.b[a], np.full(len(a), c.core)]
            bridged = probe.bridged(ends[0], ends[2]) != 0
            self.finite[:, which] |= bridged
            volts = np.stack([all_volts[:, x] for x in ends])
            # no current in a branch all of whose possible ends stand at one voltage
            driven = (volts.max(0) - volts.min(0)) > 1e-9 * probe.ohms[:, None]
            joined = c.part[ends[0]] == c.part[ends[2]]
            self.moved[which] = (bridged | (driven & probe.same[:, None] & joined)).any(0)

    def _swaps(self, c: Circuit, h: Hypotheses) -> None:
        probe, n = self.probe, len(h.swaps)
        if not n:
            return
        p, q = np.array(h.swaps, dtype=np.intp).T

        def swapped(x: Ints) -> Ints:
            return np.where(x[:, None] == p, q, np.where(x[:, None] == q, p, x[:, None]))

        layers = Probe(c, swapped(probe.i).ravel(), swapped(probe.j).ravel())
        m = len(probe.i)
        ohms, jac = layers.ohms.reshape(m, n), layers.jac.reshape(c.windings, m, n)
        at = h.at[What.SWAPPED]
        self.finite[:, at] = layers.same.reshape(m, n)
        other = (np.abs(ohms - self.ohms) > 1e-9 * self.ohms).any(0)
        self.moved[at] = other | (np.abs(jac - self.jac) > 1e-9).any((0, 1))
        self.ohms = np.concatenate((self.ohms, ohms), 1)
        self.jac = np.concatenate((self.jac, jac), 2)
