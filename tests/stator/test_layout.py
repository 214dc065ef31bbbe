"""What a layout takes and refuses, and which windings a pair reads across."""

from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given

from tests.stator.parts import COARSE_PAIR, FINE_PAIR, LOOP, SERIES, TWO_COILS
from tests.stator.strategies import pairs_of, patterns
from workbench.stator.crossing import check_for, windings_of
from workbench.stator.errors import FieldError
from workbench.stator.layout import MOST_TEETH, Coil, Facing, Layout, Wire, usual_wire
from workbench.stator.pattern import CORE, Cavity, Connector, Kind, Pair, Pattern, Winding

STACKED = Layout(8, coils=(Coil("fine", 1), Coil("coarse", 1, place=1), Coil("fine", 2)))


def test_a_winding_has_its_coils_and_a_tooth_its_stack() -> None:
    upside_down = Layout(8, coils=(Coil("b", 1, place=4), Coil("a", 2), Coil("a", 1, place=1)))
    assert upside_down.windings == ("b", "a")
    assert [c.tooth for c in upside_down.of("a")] == [2, 1]
    assert [c.winding for c in upside_down.stack(Coil("a", 1, place=1))] == ["a", "b"]
    assert upside_down.of("c") == ()


@pytest.mark.parametrize(
    ("layout", "field", "word"),
    [
        (lambda: Layout(0), "teeth", "not 0"),
        (lambda: Layout(MOST_TEETH + 1), "teeth", "97"),
        (lambda: Layout(3, coils=(Coil("a", 3), Coil("a", 4))), "coils[1].tooth", "no tooth 4"),
        (lambda: Layout(3, coils=(Coil("a", 0),)), "coils[0].tooth", "no tooth 0"),
        (lambda: Layout(3, coils=(Coil("a"),)), "coils[0].tooth", "needs its tooth"),
        (lambda: Layout(3, coils=(Coil("a", 1, beside_degrees=9),)), "coils[0].beside_degrees", "not both"),
        (lambda: Layout(3, coils=(Coil("a", beside_degrees=360),)), "coils[0].beside_degrees", "below 360"),
        (lambda: Layout(3, coils=(Coil("a", beside_degrees=-1),)), "coils[0].beside_degrees", "below 360"),
        (lambda: Layout(3, coils=(Coil("a", beside_degrees=float("nan")),)), "coils[0].beside_degrees", "below 360"),
        (lambda: Layout(3, Facing.STRAIGHT, (Coil("a", beside_degrees=9),)), "coils[0].beside_degrees", "no ring"),
        (lambda: Layout(3, coils=(Coil("a", 1), Coil("b", 1))), "coils[1].place", "on tooth 1 is taken"),
        (
            lambda: Layout(3, coils=(Coil("a", beside_degrees=30), Coil("b", beside_degrees=30))),
            "coils[1].place",
            "at 30 degrees is taken",
        ),
        (lambda: Layout(3, coils=(Coil("a", 1, place=8),)), "coils[0].place", "0 to 7"),
        (lambda: Layout(3, coils=(Coil("a", 1, place=-1),)), "coils[0].place", "0 to 7"),
        (lambda: Layout(3, coils=(Coil("a", 1, sense=2),)), "coils[0].sense", "1 or -1"),
        (lambda: Layout(96, coils=tuple(Coil("a", 1 + i % 96, i // 96) for i in range(513))), "coils", "512"),
    ],
)
def test_a_contradiction_is_refused_by_its_field(layout: object, field: str, word: str) -> None:
    with pytest.raises(FieldError) as refused:
        layout()  # type: ignore[operator]
    assert refused.value.field == field
    assert word in refused.value.sentence


def test_the_last_of_each_is_taken() -> None:
    full = Layout(96, coils=tuple(Coil("a", 1 + i % 96, i // 96) for i in range(512)))
    assert len(full.coils) == 512
    Layout(1, coils=(Coil("a", 1, 7, -1), Coil("a", beside_degrees=0), Coil("a", beside_degrees=359.9)))


def test_a_pattern_refuses_a_coil_of_no_winding_and_takes_a_winding_of_no_coil() -> None:
    assert replace(TWO_COILS, layout=Layout(8, coils=(Coil("fine", 1),))).layout is not None
    with pytest.raises(FieldError) as refused:
        replace(TWO_COILS, layout=Layout(8, coils=(Coil("fine", 1), Coil("loop", 2))))
    assert (refused.value.field, "'loop'" in refused.value.sentence) == ("layout.coils[1].winding", True)


def test_lamps_batteries_and_transformers_take_heavy_wire() -> None:
    """Common practice, no source."""
    assert {k for k in Kind if usual_wire(k) is Wire.HEAVY} == {Kind.LIGHTING, Kind.CHARGING, Kind.PRIMARY}


# ---- crossing


def test_a_series_is_crossed_whole_and_a_link_crosses_nothing() -> None:
    assert windings_of(TWO_COILS, FINE_PAIR) == {"fine"}
    assert windings_of(TWO_COILS, Pair(*reversed(FINE_PAIR))) == {"fine"}
    assert windings_of(TWO_COILS, SERIES) == {"fine", "coarse"}
    assert windings_of(TWO_COILS, LOOP) == frozenset()
    assert windings_of(TWO_COILS, Pair("P.1", CORE)) == frozenset()
    assert windings_of(TWO_COILS, Pair("P.1", "P.4")) == frozenset()


@given(patterns(elements=True))
def test_current_crosses_the_windings_on_simple_paths(p: Pattern) -> None:
    """Against networkx's own search for all simple edge paths."""
    graph = nx.MultiGraph()
    graph.add_nodes_from((*p.pins, CORE))
    for e in p.edges:
        graph.add_edge(e.start, e.finish, key=e.name)
    names = {w.name for w in p.windings}
    for pair in pairs_of(p)[:6]:
        on_paths = {key for path in nx.all_simple_edge_paths(graph, *pair) for _, _, key in path}
        assert windings_of(p, pair) == on_paths & names


WYE = Pattern(
    "wye",
    (Connector("C", tuple(Cavity(pin) for pin in "123")),),
    tuple(Winding(f"phase {i}", f"C.{i}", "star", ohms=1, tolerance_percent=10) for i in (1, 2, 3)),
    checks=(Pair("C.1", CORE), Pair("C.1", "C.2"), Pair("C.2", "C.3"), Pair("C.1", "C.3")),
)
DELTA = replace(
    WYE,
    windings=tuple(
        Winding(f"phase {a}", f"C.{a}", f"C.{b}", ohms=1, tolerance_percent=10) for a, b in ((1, 2), (2, 3), (3, 1))
    ),
)


def test_the_most_direct_check_is_found() -> None:
    planned = replace(TWO_COILS, checks=(SERIES, COARSE_PAIR, FINE_PAIR))
    assert check_for(planned, "fine") == FINE_PAIR
    assert check_for(planned, "coarse") == COARSE_PAIR
    assert check_for(WYE, "phase 3") == Pair("C.2", "C.3")
    # in a delta each check crosses all three: the one at the winding's own ends sees most of it
    assert [check_for(DELTA, f"phase {i}") for i in (1, 2, 3)] == [WYE.checks[i] for i in (1, 2, 3)]  # type: ignore[index]


def test_fewer_others_are_more_direct() -> None:
    """Neither check lies at the winding's own ends."""
    ends = (("a", "C.1", "in"), ("b", "in", "C.2"), ("c", "C.2", "C.3"))
    windings = tuple(Winding(name, *e, ohms=1, tolerance_percent=10) for name, *e in ends)
    chain = replace(WYE, windings=windings, checks=(Pair("C.1", "C.3"), Pair("C.1", "C.2")))
    assert check_for(chain, "a") == Pair("C.1", "C.2")
    assert check_for(chain, "c") == Pair("C.1", "C.3")


def test_without_a_check_that_sees_it_a_winding_is_read_at_its_ends() -> None:
    assert check_for(replace(TWO_COILS, checks=(LOOP,)), "fine") == Pair("P.1", "P.3")
    assert check_for(replace(TWO_COILS, checks=None), "coarse") == Pair("P.3", "P.2")
    assert check_for(replace(WYE, checks=()), "phase 1") is None
