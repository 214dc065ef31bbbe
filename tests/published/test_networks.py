"""Textbook networks, solved exactly with rationals.

Effective resistance R_ab = (e_a - e_b)^T L+ (e_a - e_b): surveys of resistance distance, arXiv 2108.07942
and 2506.12048. Rows without another source are computed from that formula in exact fractions.
"""

import itertools
from collections.abc import Callable, Sequence
from fractions import Fraction

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.published.networks import Edge, all_pairs, exact, expected
from workbench.stator.errors import FieldError
from workbench.stator.pattern import MOST_WINDINGS

Ask = Callable[[int, Sequence[Edge]], NDArray[np.float64]]
CLOSE = 1e-12
F = Fraction

A, B, C, CENTRE = 0, 1, 2, 3
WYE: list[Edge] = [(A, CENTRE, 0.2), (B, CENTRE, 0.3), (C, CENTRE, 0.5)]
DELTA: list[Edge] = [(A, B, 0.6), (B, C, 0.9), (C, A, 1.5)]


def _cube(n: int) -> list[Edge]:
    return [(x, x | 1 << k, 1.0) for x in range(2**n) for k in range(n) if not x & 1 << k]


def _complete(n: int) -> list[Edge]:
    return [(a, b, 1.0) for a, b in itertools.combinations(range(n), 2)]


def _ladder(sections: int) -> list[Edge]:
    """Node 0 is the common rail; every section a series ohm and a shunt ohm."""
    return [e for k in range(sections) for e in ((k + 1, k + 2, 1.0), (k + 2, 0, 1.0))]


COMPLETE = (2, 3, 4, 5, 6, 10)
LADDER = [F(2), F(5, 3), F(13, 8), F(34, 21), F(89, 55), F(233, 144), F(610, 377)]
Rows = dict[str, tuple[int, list[Edge], dict[tuple[int, int], F]]]
ROWS: Rows = {
    "wye": (4, WYE, {(A, B): F(1, 2), (B, C): F(4, 5), (C, A): F(7, 10)}),
    "delta": (3, DELTA, {(A, B): F(12, 25), (B, C): F(63, 100), (C, A): F(3, 4)}),
    "equal delta": (3, [(A, B, 7.0), (B, C, 7.0), (C, A, 7.0)], {(A, B): F(14, 3), (B, C): F(14, 3), (C, A): F(14, 3)}),
    "equal wye": (4, [(A, 3, 7.0), (B, 3, 7.0), (C, 3, 7.0)], {(A, B): F(14), (B, C): F(14), (C, A): F(14)}),
    "open delta": (3, [(A, B, 1.0), (B, C, 1.0)], {(A, B): F(1), (B, C): F(1), (C, A): F(2)}),
    "balanced bridge": (4, [(0, 1, 1.0), (0, 2, 2.0), (1, 3, 3.0), (2, 3, 6.0), (1, 2, 7.0)], {(0, 3): F(8, 3)}),
    "balanced bridge, any middle": (
        4, [(0, 1, 1.0), (0, 2, 2.0), (1, 3, 3.0), (2, 3, 6.0), (1, 2, 0.001)], {(0, 3): F(8, 3)}),
    "bridge": (4, [(0, 1, 1.0), (0, 2, 2.0), (1, 3, 2.0), (2, 3, 1.0), (1, 2, 1.0)], {(0, 3): F(7, 5)}),
    # networkx's own documented example, R(1, 3) = 0.625
    "documented graph": (
        6, [(a, b, 1.0) for a, b in ((1, 2), (1, 3), (1, 4), (3, 4), (3, 5), (4, 5))], {(1, 3): F(5, 8)}),
    **{f"ladder of {n}": (n + 2, _ladder(n), {(1, 0): LADDER[n - 1]}) for n in range(1, 8)},
    **{f"K{n}": (n, _complete(n), dict.fromkeys(itertools.combinations(range(n), 2), F(2, n))) for n in COMPLETE},
    "cube": (8, _cube(3), {(0, 1): F(7, 12), (0, 3): F(3, 4), (0, 7): F(5, 6)}),
    # body diagonals of the n-cube: by a post to net.math, 1985, secondary
    "4-cube": (16, _cube(4), {(0, 15): F(2, 3)}),
    "5-cube": (32, _cube(5), {(0, 31): F(8, 15)}),
}  # fmt: skip

BOTH_WAYS = pytest.mark.parametrize("ask", [all_pairs, expected])


@BOTH_WAYS
@pytest.mark.parametrize("case", ROWS)
def test_textbook_networks(case: str, ask: Ask) -> None:
    n, edges, known = ROWS[case]
    if ask is expected and len(edges) > MOST_WINDINGS:
        with pytest.raises(FieldError, match="more than the 64"):
            ask(n, edges)
        return
    got = ask(n, edges)
    for (a, b), ohms in known.items():
        assert got[a, b] == pytest.approx(float(ohms), rel=CLOSE), (a, b)
        assert got[b, a] == got[a, b]


@pytest.mark.parametrize("case", ROWS)
def test_the_exact_solver_used_as_a_reference_agrees_with_the_textbook(case: str) -> None:
    n, edges, known = ROWS[case]
    for (a, b), ohms in known.items():
        assert float(exact(n, edges, a, b)) == pytest.approx(float(ohms), rel=1e-15)


@BOTH_WAYS
def test_the_legs_of_a_wye_come_back_from_its_pairs(ask: Ask) -> None:
    """A = (AB + CA - BC) / 2."""
    r = ask(4, WYE)
    ab, bc, ca = r[A, B], r[B, C], r[C, A]
    assert [(ab + ca - bc) / 2, (ab + bc - ca) / 2, (bc + ca - ab) / 2] == pytest.approx([0.2, 0.3, 0.5], rel=CLOSE)


@BOTH_WAYS
def test_the_sides_of_a_delta_come_back_from_its_pairs(ask: Ask) -> None:
    """Terminals to wye, wye to delta: each side is the sum of products over the opposite leg."""
    r = ask(3, DELTA)
    ab, bc, ca = r[A, B], r[B, C], r[C, A]
    a, b, c = (ab + ca - bc) / 2, (ab + bc - ca) / 2, (bc + ca - ab) / 2
    products = a * b + b * c + c * a
    assert [products / c, products / a, products / b] == pytest.approx([0.6, 0.9, 1.5], rel=CLOSE)


@BOTH_WAYS
def test_a_wye_and_its_delta_cannot_be_told_apart(ask: Ask) -> None:
    """Wye 0.2 / 0.3 / 0.5 as a delta: opposite C 31/50, A 31/20, B 31/30."""
    delta: list[Edge] = [(A, B, 31 / 50), (B, C, 31 / 20), (C, A, 31 / 30)]
    wye, other = ask(4, WYE), ask(3, delta)
    assert other == pytest.approx(wye[:3, :3], rel=CLOSE)


def test_the_ladder_tends_to_the_golden_ratio() -> None:
    assert all_pairs(27, _ladder(25))[1, 0] == pytest.approx(1.6180340, abs=5e-8)


@BOTH_WAYS
def test_fosters_sum_over_a_cubes_edges(ask: Ask) -> None:
    """Foster's theorem: the sum of R_e / r over the edges is N - 1, here 7, for any network."""
    r = ask(8, _cube(3))
    assert sum(r[a, b] / ohms for a, b, ohms in _cube(3)) == pytest.approx(7, rel=CLOSE)
    uneven = [(a, b, 0.1 * (i + 1) ** 2) for i, (a, b, _) in enumerate(_cube(3))]
    r = ask(8, uneven)
    assert sum(r[a, b] / ohms for a, b, ohms in uneven) == pytest.approx(7, rel=CLOSE)


def test_what_no_edge_joins_is_open() -> None:
    two: list[Edge] = [(0, 1, 3.0), (2, 3, 4.0), (2, 3, 4.0)]
    got = all_pairs(5, two)
    assert got[0, 1] == 3
    assert got[2, 3] == pytest.approx(2, rel=CLOSE)
    assert np.isinf(got[0, 2])
    assert np.isinf(got[4, 0])
    assert not np.diag(got).any()
    assert np.isnan(expected(5, two)[0, 2])
