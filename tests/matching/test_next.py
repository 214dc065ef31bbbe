"""The pair to read next."""

import numpy as np
import pytest

from tests.matching.drawn import a_library, an_unknown
from tests.matching.parts import COOL, METER, chances, pattern, plug, read, which
from workbench.matching.library import Library
from workbench.matching.weighing import Weighed, weigh

TWO = (plug("P", "12"), plug("Q", "123"))


def unordered(pair: tuple[str, str]) -> frozenset[str]:
    return frozenset(pair)


def test_the_pair_that_alone_separates_the_leaders_comes_first() -> None:
    a = pattern("a", ("P.1", "P.2", 50.0), ("Q.1", "Q.2", 100.0), ("Q.2", "Q.3", 20.0), plugs=TWO)
    b = pattern("b", ("P.1", "P.2", 50.0), ("Q.1", "Q.2", 100.0), ("Q.2", "Q.3", 40.0), plugs=TWO)
    w = which([a, b], ("P.1", "P.2", 50.0), ("Q.1", "Q.2", 101.0))
    # from either end of what was read, now that it is known
    assert {unordered(n.pair) for n in w.next[:2]} == {frozenset(("Q.2", "Q.3")), frozenset(("Q.1", "Q.3"))}
    assert w.next[1].bits > 0.8
    assert all(n.bits < 0.2 for n in w.next[2:])
    for ohms, name in ((20.0, "a"), (40.0, "b")):
        after = which([a, b], ("P.1", "P.2", 50.0), ("Q.1", "Q.2", 101.0), ("Q.2", "Q.3", ohms))
        assert chances([a, b], after)[name] > 0.95


def test_an_open_or_not_counts_as_much_as_ohms() -> None:
    a = pattern("a", ("P.1", "P.2", 50.0), ("P.2", "P.3", 50.0))
    b = pattern("b", ("P.1", "P.2", 50.0), ("P.2", "P.3", 50.0), links=(("P.3", "core"),))
    w = which([a, b], ("P.1", "P.2", 50.0), ("P.2", "P.3", 50.0))
    assert all("core" in n.pair for n in w.next[:3])
    assert w.next[0].bits == pytest.approx(0.95, abs=0.15)


def test_from_no_readings_it_halves_the_library() -> None:
    patterns = [
        pattern(str(k), ("P.1", "P.2", 100.0), ("P.2", "P.3", ohms)) for k, ohms in enumerate((10.0, 20.0, 40.0, 80.0))
    ]
    w = which(patterns)
    assert unordered(w.next[0].pair) == {"P.2", "P.3"}
    assert 1.5 < w.next[0].bits < 2.6
    through = next(n for n in w.next if unordered(n.pair) == {"P.1", "P.2"})
    # all of them alike there: only none can be told
    assert through.bits < 0.4


def test_what_was_read_is_not_asked_again_and_the_best_come_first() -> None:
    patterns = [pattern(str(k), ("P.1", "P.2", 90.0 + 9 * k), ("Q.1", "Q.2", 9.0), plugs=TWO) for k in range(4)]
    w = which(patterns, ("P.2", "P.1", 101.0), ("core", "Q.1", None))
    asked = [unordered(n.pair) for n in w.next]
    assert len(set(asked)) == len(asked) <= 10
    assert frozenset(("P.1", "P.2")) not in asked
    assert frozenset(("Q.1", "core")) not in asked
    assert [n.bits for n in w.next] == sorted((n.bits for n in w.next), reverse=True)


@pytest.mark.parametrize("seed", [21, 22])
def test_the_bits_promised_are_the_bits_got(seed: int) -> None:
    """Over parts drawn from the model, what a first pair was expected to tell is what it tells on average."""
    patterns = a_library(seed)
    library = Library.of(patterns)
    rng = np.random.default_rng(seed)
    off, squares = 0.0, 0.0
    for _ in range(120):
        c = library.candidates(patterns[rng.integers(len(patterns))].connectors)
        p = patterns[int(rng.choice(c.patterns))]
        u = an_unknown(rng, p, faulty=0.0, most=60)
        c = library.candidates(u.plugs)
        if not u.readings:
            continue
        start = int(rng.integers(0, 3))
        before = weigh(c, u.meter, u.conditions, u.readings[:start], faulty=0.0, none=0.0)
        known = {frozenset(r.pair): r for r in u.readings}
        told = next((n for n in before.next if frozenset(n.pair) in known), None)
        if told is None:
            continue
        after = weigh(
            c, u.meter, u.conditions, [*u.readings[:start], known[frozenset(told.pair)]], faulty=0.0, none=0.0
        )
        got = _entropy(before) - _entropy(after)
        off += got - told.bits
        squares += (got - told.bits) ** 2
    assert abs(off) < 3.5 * squares**0.5 + 1.0


def _entropy(w: Weighed) -> float:
    by: dict[int, float] = {}
    for r in w.ranked:
        by[r.alike] = by.get(r.alike, 0.0) + r.probability
    ps = np.array([p for p in by.values() if p > 0])
    return float(-(ps * np.log2(ps)).sum())


def test_a_shop_that_knows_of_no_faults_is_told_nearly_the_same_bits() -> None:
    patterns = [pattern(str(k), ("P.1", "P.2", 100.0), ("P.2", "P.3", 10.0 + 9 * k)) for k in range(5)]
    candidates = Library.of(patterns).candidates(patterns[0].connectors)
    for readings in ((), read(("P.1", "P.2", 101.0))):
        some, none = (
            {unordered(n.pair): n.bits for n in weigh(candidates, METER, COOL, readings, faulty=f).next}
            for f in (0.04, 0.0)
        )
        assert max(some.values()) == pytest.approx(max(none.values()), abs=0.25)
        best = max(some, key=lambda q: some[q])
        assert none[best] == pytest.approx(max(none.values()), abs=0.1)
