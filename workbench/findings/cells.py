"""One value of a fault's parameters each: what every pair then reads, and how that follows the windings.

Three kinds: nothing in the network changed (`Plain`), one winding's ohms changed (`Series`), one branch added
(`Branch`). Each answers `read(probe)` with arrays whose last axis is the cells:
`mu` (pairs, cells) ohm; `jac` (windings, pairs, cells) ohm per ohm; `par` (axes, pairs, cells) ohm per standard
deviation of the cell along each of its parameters (first axis: the fault's ohms, fraction or rise; then positions).
"""

from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Bools, Floats, Ints, Probe

AXES = 3


@dataclass(frozen=True, slots=True)
class Read:
    mu: Floats
    jac: Floats
    par: Floats


@dataclass(frozen=True, slots=True)
class Plain:
    """`layer`: which of the layers is read (0: as it is, k: with a swap of two pins).

    `pin`: the node whose wire has `ohms` more, -1 for none, -2 for every reading. `rise`: degrees Celsius more.
    """

    layer: Ints
    pin: Ints
    ohms: Floats
    ohms_spread: Floats
    rise: Floats
    rise_spread: Floats

    def __len__(self) -> int:
        return len(self.layer)

    def pick(self, which: Ints) -> "Plain":
        return Plain(
            self.layer[which], self.pin[which], self.ohms[which], self.ohms_spread[which], self.rise[which],
            self.rise_spread[which],
        )  # fmt: skip

    def read(self, probe: Probe, layered_ohms: Floats, layered_jac: Floats) -> Read:
        """The arrays have the layers last."""
        c = probe.circuit
        mu = layered_ohms.take(self.layer, 1)
        jac = layered_jac.take(self.layer, 2)
        touched = touches(probe, self.pin)
        par = np.zeros((AXES, *mu.shape))
        np.multiply(touched, self.ohms_spread, out=par[0])
        mu += touched * self.ohms
        warmed = self.rise.nonzero()[0]
        if len(warmed):
            some = jac.take(warmed, 2)
            # (pairs, cells), flat for one product
            warm = np.empty(some.shape[1:])
            np.matmul(c.r[: c.windings] * c.per_celsius, some.reshape(c.windings, warm.size), out=warm.reshape(-1))
            mu[:, warmed] += warm * self.rise[warmed]
            par[0][:, warmed] = warm * self.rise_spread[warmed]
        return Read(mu, jac, par)


def touches(probe: Probe, pin: Ints) -> Bools:
    """(pairs, cells): whether a pair has a cell's pin, or the cell means every pair."""
    out: Bools = (probe.i[:, None] == pin) | (probe.j[:, None] == pin) | (pin == -2)
    return out


@dataclass(frozen=True, slots=True)
class Series:
    """`winding` less a `fraction` of its own ohms, with `ohms` more, or `opened` altogether.

    `spread`: one standard deviation of the cell, of the fraction or in ohm.
    """

    winding: Ints
    fraction: Floats
    ohms: Floats
    opened: Bools
    spread: Floats

    def __len__(self) -> int:
        return len(self.winding)

    def pick(self, which: Ints) -> "Series":
        return Series(
            self.winding[which], self.fraction[which], self.ohms[which], self.opened[which], self.spread[which]
        )  # fmt: skip

    def read(self, probe: Probe) -> Read:
        c, w = probe.circuit, self.winding
        nw = c.windings
        r, slack = c.r[w], c.slack[w]
        change = self.ohms - self.fraction * r
        if self.opened.any():
            # an opened bridge parts pairs and moves none
            change = np.where(self.opened, np.divide(1e9, slack, out=np.zeros(len(w)), where=slack > 0), change)
        was = probe.flow[w].T
        now = was / (1 + change * slack)
        taken = now * (-change / r)
        jac = probe.flow[:nw, :, None] - taken * c.across[:nw].take(w, 1)[:, None, :]
        jac *= jac
        squares = now * now
        jac[w, :, np.arange(len(w))] = (squares * (1 - self.fraction)).T
        par = np.zeros((AXES, *squares.shape))
        np.multiply(squares, np.where(self.fraction > 0, -r, 1.0) * self.spread, out=par[0])
        return Read(probe.ohms[:, None] + change * was * now, jac, par)


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
        c, a, x = probe.circuit, self.a, self.x
        nw, n = c.windings, len(a)
        cells = np.arange(n)
        at = (self.b >= 0).nonzero()[0]
        b, y = self.b[at], self.y[at]
        start, inside, r = c.a[a], x * (1 - x), c.r[a]
        near = c.spread.take(start, 1)
        along = near + x * (c.spread.take(c.b[a], 1) - near)
        if len(at) < n:
            along -= c.spread[:, c.core, None]
        tapped = inside * r
        q = np.full(n, c.core)
        if len(at):
            q[at] = c.a[b]
            near = c.spread.take(q[at], 1)
            near += y * (c.spread.take(c.b[b], 1) - near)
            tapped[at] += y * (1 - y) * c.r[b]
            if len(at) < n:
                near -= c.spread[:, c.core, None]
            along[:, at] -= near
        weighed = c.r[:, None] * along
        whole = np.einsum("ec,ec->c", along, weighed) + tapped + self.ohms
        drop = probe.flow.T @ weighed
        part_a, part_q = c.part[start], c.part[q]
        joined = part_a == part_q
        current = drop / whole
        if not joined.all():
            current = np.where(joined, current, probe.bridged(part_a, part_q))
        squares = current * current
        mu = squares * whole
        drop *= current
        drop += drop
        mu -= drop
        mu += probe.ohms[:, None]
        left = probe.flow[:nw, :, None] - current * along[:nw, None, :]
        par = np.zeros((AXES, *mu.shape))
        np.multiply(squares, self.ohms_spread, out=par[0])
        # a tap moves resistance from one part of its winding to the other: d = r (i1^2 - i2^2)
        in_a = left[a, :, cells].T
        par[1] = current * (2 * in_a + current * (1 - 2 * x)) * (r * self.x_spread)
        jac = left * left
        jac[a, :, cells] += (squares * inside).T
        if len(at):
            into = current[:, at]
            in_b = left[b, :, at].T
            par[2][:, at] = into * (into * (1 - 2 * y) - 2 * in_b) * (c.r[b] * self.y_spread[at])
            jac[b, :, at] += (into * into * (y * (1 - y))).T
        return Read(mu, jac, par)
