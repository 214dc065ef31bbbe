"""Effective resistances of a resistor network, all pairs from one factorisation.

Loop (mesh) analysis on the spanning tree of least resistance. A node-voltage inverse would give
R_ab = G_aa + G_bb - 2 G_ab, which loses a milliohm beside a teraohm; here each tree path is a sum of
positive terms, and no loop correction can take more than a small share of it away, since every chord
is at least as large as each tree edge it bridges.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


class Network:
    """The topology of a network: nodes 0..n-1 and edges (a, b).

    Built once per pattern; its routes then take any values of its edges, several sets at once, too.
    `ohms` only chooses the tree: a typical positive value for each edge.
    """

    __slots__ = ("_chord_edges", "_every", "_loops", "_parts", "_paths", "_tree_edges")

    def __init__(self, n: int, edges: Sequence[tuple[int, int]], ohms: Sequence[float]) -> None:
        part = list(range(n))

        def root(x: int) -> int:
            while part[x] != x:
                part[x] = part[part[x]]
                x = part[x]
            return x

        tree: list[int] = []
        chords: list[int] = []
        near: list[list[tuple[int, int, float]]] = [[] for _ in range(n)]
        for e in sorted(range(len(edges)), key=ohms.__getitem__):
            a, b = edges[e]
            ra, rb = root(a), root(b)
            if ra == rb:
                chords.append(e)
                continue
            part[ra] = rb
            near[a].append((b, len(tree), -1.0))
            near[b].append((a, len(tree), 1.0))
            tree.append(e)
        self._parts = [root(x) for x in range(n)]
        self._paths = _paths_to_roots(n, near, len(tree))
        self._tree_edges = np.array(tree, dtype=np.intp)
        self._chord_edges = np.array(chords, dtype=np.intp)
        ends = np.array([edges[e] for e in chords], dtype=np.intp).reshape(-1, 2)
        # unit current a -> b through a chord comes back b -> a through the tree
        self._loops = self._paths[ends[:, 1]] - self._paths[ends[:, 0]]
        self._every: tuple[Floats, Ints, Ints, Routes] | None = None

    def joined(self, a: int, b: int) -> bool:
        return self._parts[a] == self._parts[b]

    def blocks(self) -> list[set[int]]:
        """The edges of each two-connected block that holds a loop, and each other edge on its own.

        The fundamental loops of any spanning tree join edges into blocks exactly.
        """
        blocks: list[set[int]] = []
        for c, loop in zip(self._chord_edges, self._loops, strict=True):
            block = {int(c), *(int(e) for e in self._tree_edges[loop != 0])}
            for other in [b for b in blocks if b & block]:
                block |= other
                blocks.remove(other)
            blocks.append(block)
        held = set().union(*blocks)
        return blocks + [{int(e)} for e in self._tree_edges if int(e) not in held]

    def routes(self, a: Sequence[int], b: Sequence[int]) -> "Routes":
        """The pairs (a[i], b[i]), each of which must be joined, ready to take values."""
        return Routes(self, a, b)

    def all_pairs(self, ohms: Floats) -> Floats:
        """Shape (n, n) for one set of values (edges,); infinite where two nodes are not joined."""
        if self._every is None:
            parts = np.array(self._parts)
            a, b = np.nonzero(np.triu(parts[:, None] == parts[None, :], 1))
            unjoined = np.where(parts[:, None] == parts[None, :], 0.0, np.inf)
            self._every = (unjoined, a, b, Routes(self, a, b))
        unjoined, a, b, routes = self._every
        out = unjoined.copy()
        out[a, b] = out[b, a] = routes.resistances(ohms)
        return out


class Routes:
    """How a unit current crosses a network between some pairs of its nodes."""

    __slots__ = ("_chord_edges", "_diagonal", "_flow", "_loops", "_squares", "_tree_edges")

    def __init__(self, net: Network, a: Sequence[int] | Ints, b: Sequence[int] | Ints) -> None:
        self._flow = net._paths[a] - net._paths[b]
        self._squares = (self._flow * self._flow).T
        self._loops = net._loops
        self._tree_edges = net._tree_edges
        self._chord_edges = net._chord_edges
        self._diagonal = np.arange(len(net._chord_edges))

    def resistances(self, ohms: Floats) -> Floats:
        """Effective resistance (ohm) of each pair, shape (..., pairs), for `ohms` of shape (..., edges)."""
        r = ohms[..., self._tree_edges]
        along: Floats = r @ self._squares
        if not len(self._chord_edges):
            return along
        across = np.swapaxes(self._loops * r[..., None, :], -1, -2)
        drops = self._flow @ across
        mesh = self._loops @ across
        i = self._diagonal
        mesh[..., i, i] += ohms[..., self._chord_edges]
        # loops of very different ohms meet in one matrix: equilibrate before inverting
        scale = 1 / np.sqrt(mesh[..., i, i])
        drops *= scale[..., None, :]
        mesh *= scale[..., None, :] * scale[..., :, None]
        taken: Floats = ((drops @ np.linalg.inv(mesh)) * drops).sum(-1)
        return along - taken


def _paths_to_roots(n: int, near: list[list[tuple[int, int, float]]], edges: int) -> Floats:
    """Row x: the signed tree edges that a unit current takes from node x to its root."""
    paths = np.zeros((n, edges))
    seen = [False] * n
    for start in range(n):
        if seen[start]:
            continue
        seen[start] = True
        stack = [start]
        while stack:
            x = stack.pop()
            for y, e, sign in near[x]:
                if not seen[y]:
                    seen[y] = True
                    paths[y] = paths[x]
                    paths[y, e] = sign
                    stack.append(y)
    return paths
