"""Some pairs as every hypothesis has them: joined or not, and moved or not."""

import numpy as np

from workbench.findings.circuit import Bools, Circuit, Floats, Ints, Probe
from workbench.findings.hypotheses import Hypotheses, What


class Seen:
    """`finite` (pairs, hypotheses): joined. `moves` (pairs, hypotheses): joined as on a sound part, or newly, and does
    not read as there.

    `ohms` (pairs, layers), `jac` (windings, pairs, layers): as they are (layer 0), then with each swap.
    """

    __slots__ = ("finite", "jac", "moves", "ohms", "probe")

    def __init__(self, probe: Probe, finite: Bools, moves: Bools, ohms: Floats, jac: Floats) -> None:
        self.probe, self.finite, self.moves, self.ohms, self.jac = probe, finite, moves, ohms, jac

    def take(self, which: Ints) -> "Seen":
        """Some of the pairs."""
        return Seen(
            self.probe.take(which), self.finite[which], self.moves[which], self.ohms[which], self.jac[:, which]
        )  # fmt: skip


def look(c: Circuit, h: Hypotheses, i: Ints, j: Ints) -> Seen:
    probe = Probe(c, i, j)
    finite = np.repeat(probe.same[:, None], len(h), 1)
    moves = np.zeros((len(i), len(h)), dtype=bool)
    carried = (np.abs(probe.flow[: c.windings]) > 1e-9).T & probe.same[:, None]
    bridge = c.bridge[: c.windings]
    # the windings of these kinds stand in their own order
    moves[:, h.span[What.SHORTED]] = moves[:, h.span[What.JOINT]] = carried
    moves[:, h.span[What.OPEN_WINDING]] = carried & ~bridge
    finite[:, h.span[What.OPEN_WINDING]] &= ~(carried & bridge)
    moves[:, h.span[What.WARMER]] = carried.any(1, keepdims=True)
    moves[:, h.span[What.UNZEROED]] = probe.same[:, None]
    pins = h.a[h.span[What.OPEN_LEAD]]
    touch = (i[:, None] == pins) | (j[:, None] == pins)
    finite[:, h.span[What.OPEN_LEAD]] &= ~touch
    moves[:, h.span[What.RESISTIVE]] = touch & probe.same[:, None]
    _branches(c, h, probe, finite, moves)
    ohms, jac = _swaps(c, h, probe, finite, moves)
    return Seen(probe, finite, moves, ohms, jac)


def _branches(c: Circuit, h: Hypotheses, probe: Probe, finite: Bools, moves: Bools) -> None:
    if not c.windings:
        return
    # (pairs, nodes), against each part's root
    volts = (probe.flow.T * c.r) @ c.spread
    one, other = volts[:, c.a[: c.windings]], volts[:, c.b[: c.windings]]
    high, low = np.maximum(one, other), np.minimum(one, other)
    core = volts[:, c.core, None]
    least = 1e-9 * probe.ohms[:, None]
    ends = c.part[c.a[: c.windings]]
    # no current in a branch all of whose possible ends stand at one voltage
    driven = (np.maximum(high, core) - np.minimum(low, core) > least) & probe.same[:, None]
    driven &= ends == c.part[c.core]
    bridged = probe.bridged(ends, np.full(c.windings, c.part[c.core])) != 0
    driven |= bridged
    for k in (What.TO_CORE, What.LEAK):
        finite[:, h.span[k]] |= bridged
        moves[:, h.span[k]] = driven
    to = h.span[What.TO_WINDING]
    if len(h.at[What.TO_WINDING]):
        a, b = h.a[to], h.b[to]
        between = (np.maximum(high[:, a], high[:, b]) - np.minimum(low[:, a], low[:, b]) > least) & probe.same[:, None]
        between &= ends[a] == ends[b]
        bridged = probe.bridged(ends[a], ends[b]) != 0
        finite[:, to] |= bridged
        moves[:, to] = between | bridged


def _swaps(c: Circuit, h: Hypotheses, probe: Probe, finite: Bools, moves: Bools) -> tuple[Floats, Floats]:
    ohms, jac = probe.ohms[:, None], probe.jac[:, :, None]
    n = len(h.swaps)
    if not n:
        return ohms, jac
    at = h.span[What.SWAPPED]
    p, q = h.a[at], h.b[at]
    i, j = probe.i[:, None], probe.j[:, None]
    layers = Probe(
        c,
        np.where(i == p, q, np.where(i == q, p, i)).ravel(),
        np.where(j == p, q, np.where(j == q, p, j)).ravel(),
    )
    m = len(probe.i)
    swapped, its = layers.ohms.reshape(m, n), layers.jac.reshape(c.windings, m, n)
    finite[:, at] = same = layers.same.reshape(m, n)
    other = (np.abs(swapped - ohms) > 1e-9 * ohms) | (np.abs(its - jac) > 1e-9).any(0)
    moves[:, at] = same & (other | ~probe.same[:, None])
    return np.concatenate((ohms, swapped), 1), np.concatenate((jac, its), 2)
