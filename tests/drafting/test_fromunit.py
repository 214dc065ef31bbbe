"""A pattern's ohms taken over from a unit known good."""

import pytest
from hypothesis import HealthCheck, assume, given, settings

from tests.drafting.drawn import TWO, wired
from tests.stator.strategies import patterns
from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.fromunit import from_unit
from workbench.drafting.seeing import Seeing
from workbench.stator.expect import Path
from workbench.stator.pattern import Pair, Pattern


def bare(d: Draft) -> Draft:
    """Drawn, but nothing said of its ohms."""
    for w in d.windings:
        if w.element is None:
            d = windings.set_element(d, w.name, None)
    return d


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(patterns(least_edges=1))
def test_from_all_its_pairs_every_winding_that_shows_comes_back(pattern: Pattern) -> None:
    assume(pattern.name.strip() and all(0.2 < w.nominal < 1500 for w in pattern.windings))
    seeing = Seeing(pattern)
    read = {p: seeing.ask.of(p).ohms or 0.0 for p in seeing.pairs if seeing.ask.of(p).path is Path.WINDINGS}
    assume(read)
    made = from_unit(bare(Draft.of(pattern)), read)
    assert made.misses == ()
    got = {w.name: w.ohms for w in made.draft.windings}
    again = Seeing(made.draft.pattern()) if made.draft.trouble is None else None
    for pair, ohms in read.items():
        if again is not None:
            assert again.ask.of(pair).ohms == pytest.approx(ohms, rel=3e-3)
    assert all(got[n] is None for n in made.untold)


def test_a_tap_read_end_to_end_tells_its_sum_alone() -> None:
    made = from_unit(bare(wired()), {Pair("P.1", "P.3"): 170.0})
    assert set(made.untold) == {"high", "low"}
    made = from_unit(bare(wired()), {Pair("P.1", "P.3"): 170.0, Pair("P.2", "P.3"): 21.0})
    assert made.untold == ()
    assert [w.ohms for w in made.draft.windings] == pytest.approx([149.0, 21.0], rel=1e-3)
    assert made.draft.windings[0].tolerance_percent == 10


def test_a_delta_is_told_by_its_three_pairs() -> None:
    d = TWO
    for a, b in (("P.1", "P.2"), ("P.2", "P.3"), ("P.1", "P.3")):
        d, _ = windings.connect(d, a, b)
    truth = d
    for w, r in zip(d.windings, (0.9, 1.0, 1.1), strict=True):
        truth = windings.set_percent(truth, w.name, r, 10)
    ask = Seeing(truth.pattern()).ask
    pairs = (Pair("P.1", "P.2"), Pair("P.2", "P.3"), Pair("P.1", "P.3"))
    made = from_unit(d, {p: ask.of(p).ohms or 0 for p in pairs})
    assert [w.ohms for w in made.draft.windings] == pytest.approx([0.9, 1.0, 1.1], rel=1e-3)


def test_readings_that_contradict_each_other_are_named() -> None:
    made = from_unit(bare(wired()), {Pair("P.1", "P.2"): 150.0, Pair("P.2", "P.3"): 20.0, Pair("P.1", "P.3"): 250.0})
    assert Pair("P.1", "P.3") in [p for p, _ in made.misses]


@pytest.mark.parametrize("read", [{}, {Pair("P.1", "core"): 150.0}])
def test_what_tells_nothing_is_refused(read: dict[Pair, float]) -> None:
    unlinked = windings.drop_edge(wired(), "ground")
    with pytest.raises(EditError):
        from_unit(bare(unlinked), read)
    with pytest.raises(EditError, match="Draw the windings first"):
        from_unit(TWO, {Pair("P.1", "P.2"): 150.0})
