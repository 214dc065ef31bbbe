"""The grid under a plug that is being drawn: places, sides, and where keys go."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.drafting import plugs
from workbench.drafting.draft import Draft
from workbench.sitting.pluggrid import MOST_STEPS, PlugGrid
from workbench.stator.pattern import Connector

SIZE = (640.0, 480.0)


def plug(places: tuple[plugs.Place, ...]) -> Connector:
    return plugs.add_plug(Draft(), places).plugs[0]


def grid(c: Connector | None, *, wire_side: bool = False, cursor: plugs.Place = (0.0, 0.0)) -> PlugGrid:
    return PlugGrid.around(c, wire_side, cursor, SIZE, 104)


SHAPES = [plugs.rows((2, 3)), plugs.rows((3, 3), staggered=True), *(plugs.ring(n, middle=n > 4) for n in range(1, 13))]


@pytest.mark.parametrize("places", SHAPES)
@pytest.mark.parametrize("wire_side", [False, True])
def test_what_is_put_or_pressed_anywhere_is_found_there(places: tuple[plugs.Place, ...], wire_side: bool) -> None:
    g = grid(plug(places), wire_side=wire_side)
    for pin, place in zip(g.pins, g.places, strict=True):
        x, y = g.px(place)
        assert 0 < x < SIZE[0]
        assert 0 < y < SIZE[1]
        assert g.pin_under(x, y) == pin
        assert g.pin_at(place) == pin
        assert math.dist(g.place(x, y), place) <= 0.3 * math.sqrt(2)  # on the grid, as near as it has a point
    assert g.place(*g.px((2.0, -1.0))) == (2.0, -1.0)
    assert g.place(*g.px((0.5, 1.5))) == (0.5, 1.5)


def test_the_wire_side_is_the_mating_side_with_left_and_right_exchanged() -> None:
    c = plug(plugs.rows((2, 3)))
    front, back = grid(c), grid(c, wire_side=True)
    for (x, y), (u, v) in zip(front.places, back.places, strict=True):
        assert (u, v) == (-x, y)
        assert back.seen((u, v)) == (x, y)


def test_a_plug_that_grows_from_the_wire_side_stays_where_it_was() -> None:
    """Else the cursor would lose the cavity it has just put."""
    before = plug(((0.0, 0.0),))
    g = grid(before, wire_side=True)
    put = g.seen((1.0, 0.0))
    after = plugs.add_cavity(Draft(plugs=(before,)), before.name, put).plugs[0]
    h = grid(after, wire_side=True, cursor=(1.0, 0.0))
    assert h.pin_at((1.0, 0.0)) == "2"
    assert h.pin_at((0.0, 0.0)) == "1"


@pytest.mark.parametrize("places", SHAPES)
def test_every_cavity_is_reached_by_arrows_alone(places: tuple[plugs.Place, ...]) -> None:
    g = grid(plug(places))
    reached, at = {g.places[0]}, [g.places[0]]
    while at:
        here = at.pop()
        for by in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)):
            to = g.walked(here, by)
            if to not in reached and max(map(abs, to)) < 4:
                reached.add(to)
                at.append(to)
    assert {g.pin_at(p) for p in reached} >= set(g.pins)


def test_from_cavity_to_cavity_and_round() -> None:
    g = grid(plug(plugs.ring(3)))
    assert [g.beside(pin, 1) for pin in "123"] == ["2", "3", "1"]
    assert g.beside("1", -1) == "3"
    assert g.beside("gone", 1) == "1"
    assert grid(None).beside("1", 1) == ""


@given(st.lists(st.sampled_from([(1.0, 0.0), (-0.5, 0.0), (0.0, 1.0), (0.0, -0.5)]), max_size=120))
def test_the_cursor_stays_on_the_grid_and_on_the_sheet(steps: list[plugs.Place]) -> None:
    g, at = grid(None), (0.0, 0.0)
    for by in steps:
        at = g.walked(at, by)
    assert all(abs(v) <= MOST_STEPS and 2 * v == round(2 * v) for v in at)


def test_what_is_taken_along_keeps_its_line() -> None:
    g = grid(plug(plugs.ring(5)))
    x, y = g.places[1]
    assert g.carried((x, y), (0.5, 0.0)) == (1.5, y)
