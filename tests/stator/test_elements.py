"""Diodes and electronics: just the pairs whose path can take one lose their band."""

from dataclasses import replace

import networkx as nx
from hypothesis import given

from tests.stator.parts import COARSE_PAIR, FINE_PAIR, GROUND, SERIES, TWO_COILS, sheet
from tests.stator.strategies import nodes_of, pairs_of, patterns
from workbench.stator.expect import Expectations, Path
from workbench.stator.judge import SheetVerdict, Why, judge
from workbench.stator.pattern import CORE, Element, Pair, Pattern, Winding

DIODE = Winding("diode", "P.2", CORE, element=Element.DIODE)
WITH_DIODE = replace(TWO_COILS, windings=(*TWO_COILS.windings, DIODE))
BACK = Pair(CORE, "P.1")


def _takes_an_element(p: Pattern, pair: Pair) -> bool:
    """By brute force: does any simple path between the two nodes use an element?"""
    g = nx.MultiGraph()
    g.add_nodes_from(nodes_of(p))
    for e in p.edges:
        g.add_edge(e.start, e.finish, element=getattr(e, "element", None) is not None)
    return any(
        g.edges[edge]["element"] for path in nx.all_simple_edge_paths(g, pair.positive, pair.negative) for edge in path
    )


@given(patterns(elements=True))
def test_only_pairs_whose_path_can_take_the_element_lose_their_band(p: Pattern) -> None:
    ask = Expectations(p)
    for pair in pairs_of(p):
        assert (ask.of(pair).path is Path.ELEMENT) == _takes_an_element(p, pair), pair


def test_a_diode_at_the_end_of_a_series_spares_the_series() -> None:
    ask = Expectations(WITH_DIODE)
    assert ask.of(SERIES) == Expectations(TWO_COILS).of(SERIES)
    assert ask.of(GROUND).path is Path.ELEMENT
    across = replace(TWO_COILS, windings=(*TWO_COILS.windings, replace(DIODE, finish="P.1")))
    assert {Expectations(across).of(p).path for p in (SERIES, FINE_PAIR, COARSE_PAIR)} == {Path.ELEMENT}


def test_both_polarities_are_kept_apart_and_as_shown() -> None:
    judged = judge(sheet((GROUND, 612.0), (BACK, None), (FINE_PAIR, 247), pattern=WITH_DIODE))
    for row in judged.rows[:2]:
        assert row.why is Why.ELEMENT
        assert row.corrected is None
        assert row.verdict is None
        assert row.repeats == 1
    assert judged.verdict is SheetVerdict.GOOD


def test_a_planned_polarity_is_not_read_by_its_reverse() -> None:
    judged = judge(sheet((GROUND, 612.0), (FINE_PAIR, 247), pattern=WITH_DIODE, checks=(GROUND, BACK, FINE_PAIR)))
    assert judged.unread == (BACK,)
    assert judged.verdict is SheetVerdict.UNFINISHED


def test_a_sheet_of_elements_alone_proves_nothing() -> None:
    assert judge(sheet((GROUND, 612.0), pattern=WITH_DIODE)).verdict is SheetVerdict.NOT_PROVED
