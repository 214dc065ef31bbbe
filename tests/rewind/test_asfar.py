"""As much of a coil as goes in, for one that doesn't."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.orders import BLOCK, LININGS, MANNERS, WIRES, cores, on_block
from workbench.rewind.asfar import as_far
from workbench.rewind.coil import CoilOrder, Manner, Room, plan_coil
from workbench.rewind.errors import MisfitError
from workbench.rewind.rows import counted
from workbench.rewind.window import Core, Lining, window_of
from workbench.rewind.wire import Wire


def test_of_a_hundred_turns_too_many_the_hundred_that_go_in_are_left() -> None:
    """20 x 5 mm of window and 1 mm wire: five layers of twenty."""
    window, section = as_far(on_block(200))
    assert window == window_of(BLOCK, Lining())
    assert section is not None
    assert [r.wires for r in section.rows] == [20] * 5


def test_too_near_to_the_flywheel_all_of_it_is_left() -> None:
    order = on_block(45, room=Room(flywheel_mm=20.2))
    with pytest.raises(MisfitError):
        plan_coil(order)
    _, section = as_far(order)
    assert section is not None
    assert counted(section.rows) == 45


def test_wire_that_is_too_thick_leaves_the_window_and_no_lining_leaves_nothing() -> None:
    thin = on_block(3, lining=Lining(flank_mm=4.5))
    window, section = as_far(thin)
    assert window is not None
    assert section is None
    assert as_far(replace(thin, lining=Lining(flank_mm=9))) == (None, None)


@given(WIRES, st.integers(1, 300), cores(), LININGS, MANNERS)
def test_never_more_than_was_asked_and_all_of_it_where_it_goes_in(
    wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner
) -> None:
    order = CoilOrder(wire, turns, core, lining, manner)
    window, section = as_far(order)
    wires = counted(section.rows) if section is not None else 0
    missed: MisfitError | None = None
    try:
        plan = plan_coil(order)
    except MisfitError as e:
        missed = e
    if missed is None:
        assert (window, section) == (plan.window, plan.section)
    else:
        assert wires == (missed.fitting or 0) * wire.strands < turns * wire.strands
