"""What a pair should read: laws that hold for any topology."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import COARSE_PAIR, FINE, FINE_PAIR, GROUND, LOOP, SERIES, TWO_COILS, with_winding
from tests.stator.strategies import nodes_of, pairs_of, patterns
from workbench.stator.expect import Expectations, Expected, Path
from workbench.stator.pattern import CORE, LINK_OHMS, Link, Pair, Pattern, Winding

CLOSE = 1e-9
# a tolerance of 100 % gives limits of nano-ohms beside kilo-ohms; no meter cares for their last digits
PICO = 1e-11


def all_of(p: Pattern) -> dict[Pair, Expected]:
    ask = Expectations(p)
    return {pair: ask.of(pair) for pair in pairs_of(p)}


def assert_same(one: Expected, other: Expected) -> None:
    assert one.path is other.path
    for a, b in ((one.ohms, other.ohms), (one.low, other.low), (one.high, other.high)):
        assert a == (None if b is None else pytest.approx(b, rel=CLOSE, abs=PICO))


def test_series_links_and_opens() -> None:
    ask = Expectations(TWO_COILS)
    assert_same(ask.of(FINE_PAIR), Expected(Path.WINDINGS, 245.0, 220.5, 269.5))
    assert_same(ask.of(SERIES), Expected(Path.WINDINGS, 276.0, 248.4, 303.6))
    assert_same(ask.of(LOOP), Expected(Path.LINKS, LINK_OHMS, 0.0, 0.5))
    for pair in (GROUND, Pair("P.1", "P.4")):
        assert ask.of(pair) == Expected(Path.NONE)
        assert not ask.of(pair).has_band


def test_links_in_a_row_may_read_the_sum_of_their_limits() -> None:
    p = replace(TWO_COILS, links=(Link("a", "P.4", "P.5", 0.5), Link("b", "P.5", CORE, 0.2)))
    assert_same(Expectations(p).of(Pair("P.4", CORE)), Expected(Path.LINKS, 2 * LINK_OHMS, 0.0, 0.7))


@given(patterns(), st.data(), st.floats(1, 3))
def test_raising_a_winding_lowers_no_pair(p: Pattern, data: st.DataObject, times: float) -> None:
    if not p.windings:
        return
    w = data.draw(st.sampled_from(p.windings))

    def up(x: float | None) -> float | None:
        return None if x is None else x * times

    raised = with_winding(p, replace(w, ohms=up(w.ohms), low_ohms=up(w.low_ohms), high_ohms=up(w.high_ohms)))
    before, after = all_of(p), all_of(raised)
    for pair, was in before.items():
        now = after[pair]
        assert now.path is was.path
        for a, b in ((was.ohms, now.ohms), (was.low, now.low), (was.high, now.high)):
            if a is not None:
                assert b is not None
                assert b >= a * (1 - CLOSE) - PICO


@given(patterns())
def test_a_band_holds_its_own_nominal(p: Pattern) -> None:
    for e in all_of(p).values():
        if e.path is Path.WINDINGS:
            assert e.low is not None
            assert e.ohms is not None
            assert e.high is not None
            assert e.is_under == (e.low == 0)
            assert 0 <= e.low <= e.ohms * (1 + CLOSE)
            assert e.ohms <= e.high * (1 + CLOSE)


@given(patterns(elements=True), st.randoms(use_true_random=False))
def test_order_sense_and_inner_names_change_nothing(p: Pattern, random: object) -> None:
    assert hasattr(random, "shuffle")
    rename = {n: f"inner {i}" for i, n in enumerate(p.inner_points)}

    def turned(e: Winding | Link) -> Winding | Link:
        start, finish = rename.get(e.start, e.start), rename.get(e.finish, e.finish)
        return replace(e, name=f"other {e.name}", start=finish, finish=start)

    windings, links = [turned(w) for w in p.windings], [turned(link) for link in p.links]
    plugs = list(p.connectors)
    for things in (windings, links, plugs):
        random.shuffle(things)
    other = replace(p, windings=tuple(windings), links=tuple(links), connectors=tuple(plugs))  # type: ignore[arg-type]
    there = Expectations(other)
    for pair, e in all_of(p).items():
        assert_same(there.of(pair), e)


@given(patterns(elements=True))
def test_a_pair_and_its_reverse_expect_the_same(p: Pattern) -> None:
    ask = Expectations(p)
    for pair in pairs_of(p):
        reverse = Pair(pair.negative, pair.positive)
        assert_same(ask.of(reverse), ask.of(pair))
        assert ask.same(pair, reverse) == (ask.of(pair).path is not Path.ELEMENT)


@given(patterns(elements=True))
def test_asking_one_by_one_is_asking_at_once(p: Pattern) -> None:
    at_once = Expectations(p)
    at_once.prepare(pairs_of(p))
    for pair, e in all_of(p).items():
        assert_same(at_once.of(pair), e)


@given(patterns())
def test_it_is_a_distance_between_every_two_nodes(p: Pattern) -> None:
    """Effective resistance is a metric (Klein and Randic 1993, from memory): inner points take part, too."""
    ask = Expectations(p)
    nodes = nodes_of(p)

    def r(a: str, b: str) -> float:
        e = ask.of(Pair(a, b)) if a != b else None
        return float("inf") if e and e.ohms is None else (e.ohms or 0.0 if e else 0.0)

    for a in nodes:
        for b in nodes:
            for c in nodes:
                assert r(a, c) <= (r(a, b) + r(b, c)) * (1 + CLOSE)


def test_a_tolerance_of_a_hundred_percent_leaves_no_low_limit_where_it_is_all_of_the_way() -> None:
    p = with_winding(TWO_COILS, replace(FINE, tolerance_percent=100))
    one, other, both = (Expectations(p).of(x) for x in (FINE_PAIR, COARSE_PAIR, SERIES))
    assert (one.low, one.high, one.is_under) == (0, pytest.approx(490), True)
    assert (other.low, other.is_under) == (pytest.approx(27.9), False)
    assert (both.low, both.is_under) == (pytest.approx(27.9), False)  # that much it must read
    # beside another winding it may be all of the way; and so it may on along a link, which sets no low limit
    beside = replace(p, windings=(*p.windings, Winding("beside", "P.1", "P.3", ohms=100, tolerance_percent=10)))
    assert Expectations(beside).of(FINE_PAIR).is_under
    linked = replace(p, links=(Link("ground", "P.3", "core"),))
    assert Expectations(linked).of(Pair("P.1", "core")).is_under
    assert Expectations(linked).of(Pair("P.3", "core")).path is Path.LINKS
    least = with_winding(p, replace(FINE, tolerance_percent=99.999))
    assert not Expectations(least).of(FINE_PAIR).is_under
