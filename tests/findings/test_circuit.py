"""Closed forms against networks solved afresh."""

import itertools
import math
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest

from tests.findings.generate import Edges, Wrong, a_pattern, build, resistances
from workbench.findings.cells import Branch, Read, Series
from workbench.findings.circuit import Circuit, Probe
from workbench.stator.pattern import Pair, Pattern

SEEDS = range(25)
# finite differences of a solve in double precision
SLOPE = {"rel": 2e-3, "abs": 2e-4}


def drawn(seed: int) -> tuple[np.random.Generator, Pattern, Circuit, list[Pair], Probe]:
    rng = np.random.default_rng(seed)
    p = replace(a_pattern(rng, 6), reference_celsius=20.0)
    c = Circuit(p, 20.0)
    pairs = [Pair(a, b) for a, b in itertools.combinations((*p.pins, "core"), 2)]
    return rng, p, c, pairs, Probe(c, *c.nodes_of(pairs))


def solved(p: Pattern, pairs: list[Pair], ohms: dict[str, float], *wrong: Wrong) -> np.ndarray:
    edges, *_ = build(p, wrong, ohms)
    found = resistances(edges, pairs)
    return np.array([found[q] for q in pairs])


def nominal(p: Pattern) -> dict[str, float]:
    return {w.name: w.nominal for w in p.windings}


def test_the_dense_solve_agrees_with_networkx() -> None:
    # networkx.resistance_distance, on each joined part
    for seed in SEEDS:
        _, p, _, pairs, _ = drawn(seed)
        edges: Edges = build(p, (), nominal(p))[0]
        g = nx.MultiGraph()
        g.add_edges_from((a, b, {"ohms": r}) for a, b, r in edges)
        ours = resistances(edges, pairs)
        for q in pairs:
            joined = q[0] in g and q[1] in g and nx.has_path(g, *q)
            assert math.isfinite(ours[q]) == joined
            if joined:
                part = g.subgraph(nx.node_connected_component(g, q[0]))
                theirs = nx.resistance_distance(part, *q, weight="ohms", invert_weight=True)
                assert ours[q] == pytest.approx(theirs, rel=1e-6)


def test_a_sound_part() -> None:
    for seed in SEEDS:
        _, p, _, pairs, probe = drawn(seed)
        want = solved(p, pairs, nominal(p))
        assert (np.isfinite(want) == probe.same).all()
        assert probe.ohms[probe.same] == pytest.approx(want[probe.same], rel=1e-8)


def held(read: Read, p: Pattern, pairs: list[Pair], keep: np.ndarray, wrong: Wrong) -> None:
    """Ohms of one cell, and how they follow each winding, against fresh solves."""
    assert read.mu[keep, 0] == pytest.approx(solved(p, pairs, nominal(p), wrong)[keep], rel=1e-7)
    for u, w in enumerate(p.windings):
        h = 1e-4 * w.nominal
        up, down = (solved(p, pairs, nominal(p) | {w.name: w.nominal + d}, wrong)[keep] for d in (h, -h))
        assert read.jac[u, keep, 0] == pytest.approx((up - down) / (2 * h), **SLOPE)


def slope(p: Pattern, pairs: list[Pair], keep: np.ndarray, wrong: Wrong, name: str, h: float) -> np.ndarray:
    up, down = (
        solved(p, pairs, nominal(p), Wrong(wrong.fault, wrong.where, wrong.values | {name: wrong.values[name] + d}))
        for d in (h, -h)
    )
    out: np.ndarray = (up[keep] - down[keep]) / (2 * h)
    return out


def test_shorted_turns_joints_and_open_windings() -> None:
    for seed in SEEDS:
        rng, p, c, pairs, probe = drawn(seed)
        for w, winding in enumerate(p.windings):
            f, rho = float(rng.uniform(0.05, 0.9)), float(rng.uniform(1, 200))
            at, one, none = np.array([w]), np.ones(1), np.zeros(1)
            no, yes = np.array([False]), np.array([True])
            short = Series(at, one * f, none, no, one).read(probe)
            wrong = Wrong("shorted-turns", winding.name, {"fraction": f})
            held(short, p, pairs, probe.same, wrong)
            assert short.par[0, probe.same, 0] == pytest.approx(
                slope(p, pairs, probe.same, wrong, "fraction", 1e-5), **SLOPE
            )
            joint = Series(at, none, one * rho, no, one).read(probe)
            wrong = Wrong("joint", winding.name, {"ohms": rho})
            held(joint, p, pairs, probe.same, wrong)
            assert joint.par[0, probe.same, 0] == pytest.approx(
                slope(p, pairs, probe.same, wrong, "ohms", 1e-3), **SLOPE
            )
            if not c.bridge[w]:
                wrong = Wrong("open-winding", winding.name)
                held(Series(at, none, none, yes, none).read(probe), p, pairs, probe.same, wrong)


def test_a_bridge_is_what_parts_the_network() -> None:
    for seed in SEEDS:
        _, p, c, pairs, probe = drawn(seed)
        for w, winding in enumerate(p.windings):
            without = solved(p, pairs, nominal(p), Wrong("open-winding", winding.name))
            parted = probe.same & ~np.isfinite(without)
            crossed = probe.same & (np.abs(probe.flow[w]) > 1e-9) & c.bridge[w]
            assert (parted == crossed).all()


def test_shorts_to_the_core_and_between_windings() -> None:
    for seed in SEEDS:
        rng, p, c, pairs, probe = drawn(seed)
        n = len(p.windings)
        one = np.ones(1)
        for a, b in [*((a, -1) for a in range(n)), *itertools.combinations(range(n), 2)]:
            x, y, r = float(rng.uniform(0.05, 0.95)), float(rng.uniform(0.05, 0.95)), float(rng.uniform(0.5, 100))
            read = Branch(np.array([a]), one * x, np.array([b]), one * y, one * r, one, one, one).read(probe)
            name = p.windings[a].name
            if b < 0:
                wrong = Wrong("winding-to-core", name, {"position": x, "ohms": r})
                names = ("ohms", "position")
            else:
                # the letters of positions go with the two names as they stand in `where`
                wrong = Wrong("winding-to-winding", f"{name}|{p.windings[b].name}",
                              {"position_a": x, "position_b": y, "ohms": r})  # fmt: skip
                names = ("ohms", "position_a", "position_b")
            keep = np.isfinite(solved(p, pairs, nominal(p), wrong))
            far = c.part[[c.core]] if b < 0 else c.part[c.a[[b]]]
            assert (keep == (probe.same | (probe.bridged(c.part[c.a[[a]]], far)[:, 0] != 0))).all()
            held(read, p, pairs, keep, wrong)
            for axis, parameter in enumerate(names):
                assert read.par[axis, keep, 0] == pytest.approx(
                    slope(p, pairs, keep, wrong, parameter, 1e-5), rel=5e-3, abs=5e-3
                )


def test_an_altered_part_is_solved_as_if_built_so() -> None:
    for seed in SEEDS:
        _, p, c, pairs, _ = drawn(seed)
        for w, winding in enumerate(p.windings):
            for share, wrong in (
                (0.4, Wrong("shorted-turns", winding.name, {"fraction": 0.6})),
                (0.0, Wrong("open-winding", winding.name)),
            ):
                other = c.altered(w, share)
                probe = Probe(other, *other.nodes_of(pairs))
                want = solved(p, pairs, nominal(p), wrong)
                assert (probe.same == np.isfinite(want)).all()
                assert probe.ohms[probe.same] == pytest.approx(want[probe.same], rel=1e-7)
        assert c.gone is None
