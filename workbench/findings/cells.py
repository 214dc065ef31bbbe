"""One value of a fault's parameters each: what every pair then reads, and how that follows the windings.

Three kinds: nothing in the network changed (`Plain`), one winding's ohms changed (`Series`), one branch added
(`Branch`). Each answers `read(probe)` with arrays whose last axis is the cells:
`mu` (pairs, cells) ohm; `jac` (windings, pairs, cells) ohm per ohm; `par` (axes, pairs, cells) ohm per standard
deviation of the cell along each of its parameters (first axis: the fault's ohms, fraction or rise; then positions).
"""

from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Floats, Ints, Probe

AXES = 3


@dataclass(frozen=True, slots=True)
class Read:
    mu: Floats
    jac: Floats
    par: Floats


@dataclass(frozen=True, slots=True)
class Plain:
    """`layer`: which of the layers is read (0: as it is, k: with a swap of two pins).

    `pin`: the node whose wire has `ohms` more, -1 for none, -2 for every reading. `warmer`: relative change of copper.
    """

    layer: Ints
    pin: Ints
    ohms: Floats
    ohms_spread: Floats
    warmer: Floats
    warmer_spread: Floats

    def __len__(self) -> int:
        return len(self.layer)

    def pick(self, which: Ints) -> "Plain":
        return Plain(
            self.layer[which], self.pin[which], self.ohms[which], self.ohms_spread[which], self.warmer[which],
            self.warmer_spread[which],
        )  # fmt: skip

    def read(self, probe: Probe, layered_ohms: Floats, layered_jac: Floats) -> Read:
        """The arrays have the layers last."""
        ohms = layered_ohms[:, self.layer]
        jac = layered_jac[:, :, self.layer]
        touched = touches(probe, self.pin)
        copper = probe.circuit.r[: jac.shape[0]]
        warm = np.tensordot(copper, jac, 1)
        par = np.zeros((AXES, *ohms.shape))
        par[0] = touched * self.ohms_spread + warm * self.warmer_spread
        return Read(ohms + touched * self.ohms + warm * self.warmer, jac, par)


def touches(probe: Probe, pin: Ints) -> Floats:
    """(pairs, cells): 1 where a pair has a cell's pin, or the cell means every pair."""
    out: Floats = ((probe.i[:, None] == pin) | (probe.j[:, None] == pin) | (pin == -2)).astype(float)
    return out


@dataclass(frozen=True, slots=True)
class Series:
    """`winding`'s ohms changed by `change`; `share` of what is left follows the winding's own ohms.

    `spread`: ohm, one standard deviation of the cell.
    """

    winding: Ints
    change: Floats
    share: Floats
    spread: Floats

    def __len__(self) -> int:
        return len(self.winding)

    def pick(self, which: Ints) -> "Series":
        return Series(self.winding[which], self.change[which], self.share[which], self.spread[which])

    def read(self, probe: Probe) -> Read:
        c, w = probe.circuit, self.winding
        nw = c.windings
        was = probe.flow[w].T
        now = was / (1 + self.change * c.slack[w])
        taken = now * (-self.change / c.r[w])
        jac = probe.flow[:nw, :, None] - taken * c.across[:nw, w][:, None, :]
        jac *= jac
        squares = now * now
        jac[w, :, np.arange(len(w))] = (squares * self.share).T
        par = np.zeros((AXES, *squares.shape))
        par[0] = squares * self.spread
        return Read(probe.ohms[:, None] + self.change * was * now, jac, par)


@dataclass(frozen=True, slots=True)
class Branch:
    """`ohms` from place `x` along winding `a` to place `y` along winding `b`, or to the core where b is -1."""

    a: Ints
    x: Floats
    b: Ints
    y: Floats
    ohms: Floats
    ohms_spread: Floats
    x_spread: Floats
    y_spread: Floats

    def __len__(self) -> int:
        return len(self.a)

    def pick(self, which: Ints) -> "Branch":
        return Branch(
            self.a[which], self.x[which], self.b[which], self.y[which], self.ohms[which], self.ohms_spread[which],
            self.x_spread[which], self.y_spread[which],
        )  # fmt: skip

    def read(self, probe: Probe) -> Read:
        c = probe.circuit
        nw = c.windings
        cells = np.arange(len(self.a))
        a, x = self.a, self.x
        two = self.b >= 0
        any_two = bool(two.any())
        far = c.spread[:, np.where(two, c.a[self.b], c.core)] if any_two else c.spread[:, [c.core]]
        if any_two:
            far = np.where(two, (1 - self.y) * far + self.y * c.spread[:, c.b[self.b]], far)
        along = (1 - x) * c.spread[:, c.a[a]] + x * c.spread[:, c.b[a]] - far
        weighed = c.r[:, None] * along
        inside = x * (1 - x)
        own = (along * weighed).sum(0) + inside * c.r[a]
        if any_two:
            own += np.where(two, self.y * (1 - self.y) * c.r[self.b], 0.0)
        drop = probe.flow.T @ weighed
        q = np.where(two, c.a[self.b], c.core)
        joined = c.part[c.a[a]] == c.part[q]
        current = drop / (self.ohms + own)
        if not joined.all():
            current = np.where(joined, current, probe.bridged(c.a[a], q))
        squares = current * current
        mu = probe.ohms[:, None] + current * (current * (own + self.ohms) - 2 * drop)
        left = probe.flow[:nw, :, None] - current * along[:nw, None, :]
        par = np.zeros((AXES, *mu.shape))
        par[0] = squares * self.ohms_spread
        # a tap moves resistance from one part of its winding to the other: d = r (i1^2 - i2^2)
        in_a = left[a, :, cells].T
        par[1] = c.r[a] * current * (2 * in_a + current * (1 - 2 * x)) * self.x_spread
        jac = left * left
        jac[a, :, cells] += (squares * inside).T
        if any_two:
            at = np.flatnonzero(two)
            b, y, into = self.b[at], self.y[at], current[:, at]
            in_b = left[b, :, at].T
            par[2][:, at] = -c.r[b] * into * (2 * in_b - into * (1 - 2 * y)) * self.y_spread[at]
            jac[b, :, at] += (into * into * y * (1 - y)).T
        return Read(mu, jac, par)
