"""A coil as it is drawn: every wire in its window and off the iron, each tooth on its root."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.rewind.orders import BLOCK, LININGS, MANNERS, NOTHING, RING, ROUND, WIRES, cores, on_block
from workbench.rewind import polygon
from workbench.rewind.coil import CoilOrder, Manner, Room, plan_coil
from workbench.rewind.errors import MisfitError
from workbench.rewind.window import Core, Lining
from workbench.rewind.wire import Wire
from workbench.sitting.plandrawing import PlanDrawing, Point, plan_drawing
from workbench.stator.layout import Facing


def drawn(order: CoilOrder) -> PlanDrawing:
    plan = plan_coil(order)
    return plan_drawing(order, plan.window, plan.section)


def inside(corners: tuple[Point, ...], p: Point, by: float) -> bool:
    """Of a convex polygon, whichever way its corners go round, and so far off its edges."""
    turned = corners if polygon.area(corners) > 0 else corners[::-1]
    return all(nx * p[0] + ny * p[1] >= least + by for nx, ny, least in polygon.half_planes(turned))


def test_the_block_as_it_is() -> None:
    """A window of 20 x 5 mm beside a leg 10 mm wide; half of the leg and a bit of the gap's other half are seen."""
    d = drawn(on_block(45, room=Room(flywheel_mm=23.0)))
    assert sorted(d.window) == [(0, 0), (0, 20), (5, 0), (5, 20)]
    assert [len(x.wires) for x in d.layers] == [20, 20, 5]
    assert d.layers[0].wires[:2] == ((0.5, 0.5), (0.5, 1.5))
    assert d.layers[1].wires[0] == (1.5, 19.5)
    assert [x.odd for x in d.layers] == [True, False, True]
    assert d.shared == ((5, 0), (5, 20))
    assert d.low[0] == -5
    assert d.high[0] > 6
    assert d.nearest is not None
    assert d.nearest.mm == pytest.approx(3.0)
    assert d.nearest.turning[1] - d.nearest.coil[1] == pytest.approx(3.0)
    assert min(v for _, v in d.turning) == 23.0
    assert (d.wire_mm, d.bare_mm) == (1.0, 0.9)
    assert d.scale_mm == 2


@given(WIRES, st.integers(1, 200), cores(), LININGS, MANNERS)
def test_every_wire_lies_in_the_window_and_the_window_where_it_is_lined(
    wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner
) -> None:
    order = CoilOrder(wire, turns, core, lining, manner)
    try:
        d = drawn(order)
    except MisfitError:
        assume(False)
    assert d.wires == turns * wire.strands
    for layer in d.layers:
        for w in (layer.wires[0], layer.wires[-1]):
            assert inside(d.window, w, d.wire_mm / 2 - 1e-6)
            assert d.low[0] < w[0] < d.high[0]
            assert d.low[1] < w[1] < d.high[1]
    assert all(inside(d.lined, p, -1e-6) for p in d.window)
    # the neighbour's iron never lies in this coil's part
    neighbour = d.iron[-1]
    assert not any(inside(neighbour, w, 1e-6) for x in d.layers for w in x.wires)


@pytest.mark.parametrize("facing", [Facing.OUTWARD, Facing.INWARD])
def test_a_tooth_stands_on_its_root_and_its_neighbour_is_as_large(facing: Facing) -> None:
    ends = (RING.root_mm, RING.tip_mm) if facing is Facing.OUTWARD else (RING.tip_mm, RING.root_mm)
    core = Core(facing, 6.0, 20.0, *ends, teeth=12)
    reach = 38.0 if facing is Facing.OUTWARD else 15.0
    d = drawn(CoilOrder(ROUND, 20, core, Lining.liner(0.3), room=Room(reach), allowances=NOTHING))
    assert d.tip == 17.0
    own, hub, neighbour = d.iron
    assert max(v for _, v in own) == 17.0
    assert all(v <= 1.5 for u, v in hub if u < 0)
    assert abs(polygon.area(neighbour)) == pytest.approx(6.0 * (17.0 - d.low[1]))
    # its flank is as far from the shared line as this one's
    a, b = d.shared or ((0, 0), (0, 0))
    length = math.dist(a, b)

    def off(p: Point) -> float:
        return abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length

    far = off((0.0, 17.0))
    assert min(off(p) for p in neighbour) == pytest.approx(min(far, off((0.0, d.low[1]))), abs=1e-9)
    assert d.nearest is not None
    plan = plan_coil(CoilOrder(ROUND, 20, core, Lining.liner(0.3), room=Room(reach), allowances=NOTHING))
    assert d.nearest.mm == pytest.approx(plan.flywheel_mm)
    assert math.dist(d.nearest.coil, d.nearest.turning) == pytest.approx(plan.flywheel_mm)


def test_what_turns_far_away_is_left_out_and_the_coil_drawn_as_large() -> None:
    near, far = (drawn(on_block(45, room=Room(flywheel_mm=mm))) for mm in (None, 200.0))
    assert far.turning == ()
    assert far.high == near.high


def test_without_a_window_the_iron_alone_is_drawn() -> None:
    d = plan_drawing(on_block(5), None, None)
    assert (d.wires, d.window, d.nearest) == (0, (), None)
    assert d.iron
    assert d.high[0] > 0


def test_beside_a_bare_neighbour_nothing_is_shared() -> None:
    core = Core(Facing.STRAIGHT, 10, 20, 0, 20, gap_mm=10, neighbour_wound=False)
    d = drawn(CoilOrder(ROUND, 45, core))
    assert d.shared is None
    assert max(u for u, _ in d.window) == 10
    assert BLOCK.neighbour_wound
