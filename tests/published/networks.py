"""Resistor networks with known answers, and three ways to ask about them."""

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from workbench.stator.expect import Expectations
from workbench.stator.network import Network
from workbench.stator.pattern import Cavity, Connector, Pair, Pattern, Winding

Edge = tuple[int, int, float]  # two nodes, ohm


def all_pairs(n: int, edges: Sequence[Edge]) -> NDArray[np.float64]:
    """By the network alone."""
    ohms = [r for _, _, r in edges]
    return Network(n, [(a, b) for a, b, _ in edges], ohms).all_pairs(np.array(ohms))


def expected(n: int, edges: Sequence[Edge]) -> NDArray[np.float64]:
    """As a pattern would: one plug of n pins, a winding for every edge; nan where it should be open."""
    plug = Connector("P", tuple(Cavity(str(i)) for i in range(n)))
    windings = tuple(
        Winding(f"w{i}", f"P.{a}", f"P.{b}", ohms=r, tolerance_percent=10) for i, (a, b, r) in enumerate(edges)
    )
    ask = Expectations(Pattern("network", (plug,), windings))
    out = np.zeros((n, n))
    for a in range(n):
        for b in range(n):
            if a != b:
                ohms = ask.of(Pair(f"P.{a}", f"P.{b}")).ohms
                out[a, b] = np.nan if ohms is None else ohms
    return out


def exact(n: int, edges: Sequence[Edge], a: int, b: int) -> Fraction:
    """Effective resistance of two joined nodes by exact rational elimination of node voltages, b held at 0."""
    joined = {b}
    while more := {x for p, q, _ in edges for x in (p, q) if (p in joined) != (q in joined)} - joined:
        joined |= more
    nodes = sorted(joined - {b})
    at = {x: i for i, x in enumerate(nodes)}
    m = [[Fraction(0)] * (len(nodes) + 1) for _ in nodes]
    for p, q, r in edges:
        g = 1 / Fraction(r)
        for x, y in ((p, q), (q, p)):
            if x in at:
                m[at[x]][at[x]] += g
                if y in at:
                    m[at[x]][at[y]] -= g
    m[at[a]][-1] = Fraction(1)
    for i in range(len(nodes)):
        pivot = next(k for k in range(i, len(nodes)) if m[k][i])
        m[i], m[pivot] = m[pivot], m[i]
        m[i] = [v / m[i][i] for v in m[i]]
        for k in range(len(nodes)):
            if k != i and m[k][i]:
                m[k] = [v - m[k][i] * w for v, w in zip(m[k], m[i], strict=True)]
    return m[at[a]][-1]
