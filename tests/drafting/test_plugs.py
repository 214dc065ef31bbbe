"""Plugs drawn, moved, renamed and mirrored: what hangs on a pin follows it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drafting.drawn import TWO, wired
from workbench.drafting import plugs
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.history import MOST_KEPT, History
from workbench.matching.faces import Faces
from workbench.stator.pattern import Connector, KeyShape, Outline, Pair, Side, Terminal


def places(draft: Draft, name: str) -> dict[str, tuple[float, float]]:
    plug = draft.plug(name)
    return {c.pin: place for c, place in zip(plug.cavities, plug.places, strict=True)}


def test_rows_are_counted_from_the_top_left_and_stand_about_the_middle() -> None:
    made = plugs.add_plug(Draft(), plugs.rows((2, 3)))
    assert places(made, "A") == {"1": (0.5, 1), "2": (1.5, 1), "3": (0, 0), "4": (1, 0), "5": (2, 0)}
    staggered = plugs.add_plug(Draft(), plugs.rows((2, 2), staggered=True))
    assert places(staggered, "A") == {"1": (0, 1), "2": (1, 1), "3": (0.5, 0), "4": (1.5, 0)}


@given(st.integers(1, 16), st.booleans())
def test_a_ring_is_round_clockwise_from_the_top_and_nobody_stands_too_near(n: int, middle: bool) -> None:
    got = plugs.ring(n, middle=middle)
    assert len(got) == n + middle
    for i, a in enumerate(got):
        for b in got[:i]:
            assert math.dist(a, b) >= 0.99
    around = got[:n]
    apart = [math.dist(p, (0, 0)) for p in around]
    assert max(apart) - min(apart) < 0.003
    if n > 2:
        assert around[0][1] == max(y for _, y in around)
        assert around[1][0] > 0


def test_plugs_take_the_next_letter_and_go_with_all_that_hung_on_them() -> None:
    two = plugs.add_plug(wired(), plugs.rows((2,)))
    assert [p.name for p in two.plugs] == ["P", "A"]
    left = plugs.drop_plug(two, "P")
    assert [p.name for p in left.plugs] == ["A"]
    assert left.edges == ()
    assert left.checks == ()
    assert left.layout is not None
    assert left.layout.coils == ()


def test_a_renamed_pin_and_plug_are_followed_by_all_that_names_them() -> None:
    pin = plugs.rename_pin(wired(), "P", "1", "red")
    assert pin.windings[0].start == "P.red"
    assert pin.checks == (Pair("P.red", "P.2"), Pair("P.3", "core"))
    plug = plugs.rename_plug(pin, "P", "main")
    assert [w.start for w in plug.windings] == ["main.red", "main.2"]
    assert plug.links[0].start == "main.3"
    assert plug.checks == (Pair("main.red", "main.2"), Pair("main.3", "core"))
    plug.pattern()


@pytest.mark.parametrize("to", ["", "  ", "2"])
def test_a_pin_needs_a_name_of_its_own(to: str) -> None:
    with pytest.raises(EditError):
        plugs.rename_pin(wired(), "P", "1", to)


@pytest.mark.parametrize("to", ["", "core", "a.b", "Q"])
def test_a_plug_needs_a_name_of_its_own_that_is_no_node(to: str) -> None:
    two = plugs.add_plug(wired(), plugs.rows((2,)), name="Q")
    with pytest.raises(EditError):
        plugs.rename_plug(two, "P", to)


def test_a_cavity_is_put_anywhere_but_on_another() -> None:
    made = plugs.add_cavity(wired(), "P", (5, 2))
    assert places(made, "P")["4"] == (5, 2)
    assert made.plug("P").cavities[-1].terminal is Terminal.SOCKET  # as the plug's last
    with pytest.raises(EditError, match="Cavity 4 lies there"):
        plugs.add_cavity(made, "P", (5.2, 2.3))
    moved = plugs.move_cavity(made, "P", "4", (5.2, 2.3))  # its own place is no hindrance
    assert places(moved, "P")["4"] == (5.2, 2.3)
    with pytest.raises(EditError, match="lies there already"):
        plugs.move_cavity(moved, "P", "1", (5, 2))


def test_a_dropped_cavity_takes_what_hung_on_it_and_the_last_one_its_plug() -> None:
    left = plugs.drop_cavity(wired(), "P", "1")
    assert [w.name for w in left.windings] == ["low"]
    assert left.layout is not None
    assert [c.winding for c in left.layout.coils] == ["low", "low"]
    assert places(left, "P") == {"2": (1, 0), "3": (2, 0)}
    assert plugs.drop_cavity(plugs.drop_cavity(left, "P", "2"), "P", "3").plugs == ()


def test_a_drawing_made_from_the_wire_side_is_stored_as_the_mating_side_sees_it() -> None:
    drawn = plugs.add_plug(Draft(), plugs.rows((2, 3)), key=Side.LEFT)
    stored = plugs.mirror(drawn, "A")
    assert places(stored, "A") == {"1": (1.5, 1), "2": (0.5, 1), "3": (2, 0), "4": (1, 0), "5": (0, 0)}
    assert stored.plug("A").key is Side.RIGHT
    assert plugs.mirror(stored, "A") == drawn
    keyed_up = plugs.mirror(plugs.set_key(drawn, "A", Side.TOP), "A")
    assert keyed_up.plug("A").key is Side.TOP


def test_a_mirrored_face_is_another_face() -> None:
    """Held to the faces that patterns are found by: none that has a sense of its own fits its mirror."""
    plug = plugs.add_cavity(plugs.add_plug(Draft(), plugs.rows((2, 3))), "A", (3, 0)).plug("A")
    assert fits(plug, plug)
    assert not fits(plug, plugs.mirrored(plug))
    assert fits(plug, plugs.mirrored(plugs.mirrored(plug)))


def fits(a: Connector, b: Connector) -> bool:
    known = Faces()
    known.add(a)
    return known.find(b) is not None


def test_keys_outlines_terminals_and_colours() -> None:
    d = plugs.set_key(wired(), "P", Side.TOP, KeyShape.RIB)
    assert (d.plug("P").key, d.plug("P").key_shape) == (Side.TOP, KeyShape.RIB)
    bare = plugs.set_key(d, "P", None, KeyShape.RIB)
    assert (bare.plug("P").key, bare.plug("P").key_shape) == (None, KeyShape.TAB)
    bare.pattern()
    d = plugs.set_terminal(plugs.set_outline(d, "P", Outline.ROUND), "P", Terminal.BLADE)
    assert {c.terminal for c in d.plug("P").cavities} == {Terminal.BLADE}
    d = plugs.set_colour(plugs.set_terminal(d, "P", Terminal.SOCKET, "2"), "P", "2", " white / red ")
    assert [(c.terminal, c.colour) for c in d.plug("P").cavities][1] == (Terminal.SOCKET, "white / red")
    assert d.plug("P").cavities[0].terminal is Terminal.BLADE


def test_undo_and_redo_lead_back_and_forth_and_a_new_edit_forgets_what_was_undone() -> None:
    h = History().then(TWO).then(wired())
    assert h.undo().now == TWO
    assert h.undo().redo() == h
    assert h.undo().undo().undo().now == Draft()
    assert h.then(wired()) is h
    other = h.undo().then(TWO.named("other"))
    assert other.redo() is other
    long = History()
    for i in range(MOST_KEPT + 20):
        long = long.then(TWO.named(f"n{i}"))
    assert len(long.before) == MOST_KEPT
