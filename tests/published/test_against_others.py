"""The network against networkx's resistance distance, and against exact fractions where networkx fails.

networkx: an infinite edge doesn't read open and a Graph drops parallel edges, so: MultiGraphs, finite
edges, one connected part at a time.
"""

import itertools
from fractions import Fraction

import networkx as nx
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.published.networks import Edge, all_pairs, exact, expected

# networkx inverts a Laplacian: six decades of ohms leave it about this good
AGREES = 1e-6


@st.composite
def networks(draw: st.DrawFn, ohms: st.SearchStrategy[float], most: int = 9) -> tuple[int, list[Edge]]:
    n = draw(st.integers(2, most))
    ends = st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)).filter(lambda e: e[0] != e[1])
    return n, [(a, b, draw(ohms)) for a, b in draw(st.lists(ends, min_size=1, max_size=2 * n))]


@given(networks(st.floats(0.1, 1000)))
def test_random_multigraphs_agree_with_networkx(drawn: tuple[int, list[Edge]]) -> None:
    n, edges = drawn
    g = nx.MultiGraph()
    g.add_nodes_from(range(n))
    g.add_edges_from((a, b, {"ohms": r}) for a, b, r in edges)
    ours, by_pattern = all_pairs(n, edges), expected(n, edges)
    parts = list(nx.connected_components(g))
    for part in parts:
        theirs = nx.resistance_distance(g.subgraph(part), weight="ohms", invert_weight=True)
        for a, b in itertools.permutations(part, 2):
            assert ours[a, b] == pytest.approx(theirs[a][b], rel=AGREES)
            assert by_pattern[a, b] == pytest.approx(theirs[a][b], rel=AGREES)
    for one, other in itertools.combinations(parts, 2):
        for a, b in itertools.product(one, other):
            assert np.isinf(ours[a, b])
            assert np.isnan(by_pattern[a, b])


DECADES = st.builds(lambda digits, power: digits * 10.0**power, st.floats(1, 9.9), st.integers(-3, 11))


@given(networks(DECADES, most=6), st.data())
def test_fifteen_decades_of_ohms_agree_with_exact_fractions(drawn: tuple[int, list[Edge]], data: st.DataObject) -> None:
    n, edges = drawn
    ours = all_pairs(n, edges)
    joined = [(a, b) for a, b in itertools.combinations(range(n), 2) if np.isfinite(ours[a, b])]
    assume(joined)
    a, b = data.draw(st.sampled_from(joined))
    assert ours[a, b] == pytest.approx(float(exact(n, edges, a, b)), rel=1e-10)


def test_a_milliohm_beside_a_teraohm_is_read_where_networkx_is_wrong() -> None:
    edges: list[Edge] = [(0, 1, 1e-3), (1, 2, 1e-3), (0, 2, 1e12), (2, 3, 1e12)]
    truth = exact(4, edges, 0, 2)
    assert all_pairs(4, edges)[0, 2] == pytest.approx(float(truth), rel=1e-12)
    assert Fraction(all_pairs(4, edges)[0, 3]) == pytest.approx(float(exact(4, edges, 0, 3)), rel=1e-12)
