"""All pairs of a 14-node pattern: our network against networkx's resistance_distance, in one run.

    python -m tests.benchmarks.bench_network

Reported, never asserted. Both are given one call for all pairs: networkx gets the graph ready made and
builds its Laplacian in the call; ours is measured (a) with its topology known, as the bench uses it, and
(b) building the topology from the edges as well.
"""

import itertools
import statistics
import sys
import time
from collections.abc import Callable

import networkx as nx
import numpy as np

from workbench.stator.network import Network

NODES = 14
ROUNDS, CALLS = 15, 60


def pattern() -> tuple[list[tuple[int, int]], list[float]]:
    """A ring of windings with some across it and links: 14 nodes, 24 edges, four decades of ohms."""
    edges = [(i, (i + 1) % NODES) for i in range(NODES)]
    edges += [(i, (i + 5) % NODES) for i in range(0, NODES, 2)] + [(0, 7), (1, 2), (3, 9)]
    return edges, [0.02 * 1.6**i for i in range(len(edges))]


def median_ms(call: Callable[[], object]) -> float:
    """Median of the rounds' means, milliseconds a call."""
    call()
    means = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        for _ in range(CALLS):
            call()
        means.append((time.perf_counter() - start) * 1000 / CALLS)
    return statistics.median(means)


def main() -> int:
    edges, ohms = pattern()
    values = np.array(ohms)
    g = nx.MultiGraph()
    g.add_edges_from((a, b, {"ohms": r}) for (a, b), r in zip(edges, ohms, strict=True))
    known = Network(NODES, edges, ohms)
    theirs_all = nx.resistance_distance(g, weight="ohms", invert_weight=True)
    ours_all = known.all_pairs(values)
    apart = max(abs(ours_all[a, b] / theirs_all[a][b] - 1) for a, b in itertools.permutations(range(NODES), 2))

    theirs = median_ms(lambda: nx.resistance_distance(g, weight="ohms", invert_weight=True))
    values_only = median_ms(lambda: known.all_pairs(values))
    from_edges = median_ms(lambda: Network(NODES, edges, ohms).all_pairs(values))
    out = sys.stdout.write
    out(
        f"{NODES} nodes, {len(edges)} edges, all {NODES * (NODES - 1) // 2} pairs; "
        f"the two differ by at most {apart:.1e}\n"
    )
    out(f"networkx resistance_distance, one call        {theirs:7.3f} ms   1.00\n")
    out(f"ours (a) values on a known topology           {values_only:7.3f} ms   {values_only / theirs:.2f}\n")
    out(f"ours (b) topology from the edges, and values  {from_edges:7.3f} ms   {from_edges / theirs:.2f}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
