"""Where coils lie on their teeth: in order, in their slots, clear of the iron and of each other."""

import math
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import TWO_COILS
from tests.stator.strategies import layouts
from workbench.sitting.coilplan import CoilPlan, CoilSpot, Point, Polygon, coil_plan
from workbench.stator.layout import Coil, Facing, Layout, Wire
from workbench.stator.pattern import Kind, Pattern

PATTERN = replace(TWO_COILS, windings=tuple(replace(w, kind=Kind.EXCITER) for w in TWO_COILS.windings))


def plan_of(layout: Layout, pattern: Pattern = PATTERN) -> CoilPlan:
    made = coil_plan(replace(pattern, layout=layout))
    assert made is not None
    return made


def one_each(teeth: int, facing: Facing) -> CoilPlan:
    return plan_of(Layout(teeth, facing, tuple(Coil("fine", k) for k in range(1, teeth + 1))))


def inside(p: Point, polygon: Polygon) -> bool:
    x, y = p
    crossed = 0
    for (ax, ay), (bx, by) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            crossed += 1
    return crossed % 2 == 1


def in_iron(p: Point, plan: CoilPlan) -> bool:
    return sum(inside(p, polygon) for polygon in plan.iron) % 2 == 1


def apart(a: CoilSpot, b: CoilSpot) -> bool:
    """Two boxes are apart when some side's direction separates their corners."""
    for turned in (a.axis, b.axis):
        for nx, ny in (turned, (-turned[1], turned[0])):
            one, other = ([x * nx + y * ny for x, y in c.corners] for c in (a, b))
            if max(one) <= min(other) or max(other) <= min(one):
                return True
    return False


def test_without_a_layout_there_is_no_plan() -> None:
    assert coil_plan(PATTERN) is None


@pytest.mark.parametrize("facing", [Facing.OUTWARD, Facing.INWARD])
def test_teeth_count_clockwise_from_the_top(facing: Facing) -> None:
    plan = one_each(4, facing)
    top, right, bottom, left = (c.centre for c in plan.coils)
    assert top[1] < -0.4
    assert right[0] > 0.4
    assert bottom[1] > 0.4
    assert left[0] < -0.4
    for coil, name in zip(plan.coils, plan.teeth, strict=True):
        (x, y), (nx, ny) = coil.centre, name.at
        assert x * ny - y * nx == pytest.approx(0)
        assert x * nx + y * ny > 0
        assert in_iron(name.at, plan)


def test_straight_legs_count_from_the_left() -> None:
    plan = one_each(3, Facing.STRAIGHT)
    assert all(a.centre[0] < b.centre[0] for a, b in pairwise(plan.coils))
    assert all(a.at[0] == pytest.approx(c.centre[0]) and in_iron(a.at, plan)
               for a, c in zip(plan.teeth, plan.coils, strict=True))  # fmt: skip


def test_place_0_is_nearest_the_root() -> None:
    def stacked(facing: Facing) -> tuple[CoilSpot, CoilSpot]:
        top, root = plan_of(Layout(6, facing, (Coil("fine", 1, place=5), Coil("coarse", 1)))).coils
        assert (top.winding, root.winding) == ("fine", "coarse")
        return top, root

    top, root = stacked(Facing.OUTWARD)
    assert math.hypot(*root.centre) < math.hypot(*top.centre)
    top, root = stacked(Facing.INWARD)
    assert math.hypot(*root.centre) > math.hypot(*top.centre)
    top, root = stacked(Facing.STRAIGHT)
    assert root.centre[1] > top.centre[1]
    assert top.lane != root.lane


@given(st.integers(1, 96), st.sampled_from(Facing), st.integers(1, 8))
def test_coils_keep_out_of_the_iron_and_of_each_other(teeth: int, facing: Facing, high: int) -> None:
    coils = tuple(Coil("fine", k, place) for k in range(1, min(teeth, 5) + 1) for place in range(high))
    plan = plan_of(Layout(teeth, facing, coils))
    for c in plan.coils:
        assert c.along > 0
        assert c.across > 0
        assert not any(in_iron(corner, plan) for corner in c.corners)
        assert in_iron(c.centre, plan)  # it is wound around its tooth
    for a, b in combinations(plan.coils, 2):
        assert apart(a, b)


@given(layouts(("fine", "coarse")))
def test_all_of_it_lies_in_the_box_and_each_line_gets_clear(layout: Layout) -> None:
    plan = plan_of(layout)
    b = plan.box
    drawn = [p for c in plan.coils for p in c.corners] + [p for polygon in (*plan.iron, *plan.stubs) for p in polygon]
    slack = 1e-9
    for x, y in drawn:
        assert b.x - slack <= x <= b.x + b.width + slack
        assert b.y - slack <= y <= b.y + b.height + slack
    for w in plan.windings:
        start, end = plan.lead(w.name)
        assert plan.coils[w.coils[0]].holds(*start)
        assert not in_iron(end, plan)
        assert not any(c.holds(*end) for c in plan.coils if c.winding == w.name and math.hypot(*c.centre) < 1)
        assert end[1] < b.y if plan.facing is Facing.STRAIGHT else math.hypot(*end) > 1


def test_a_bobbin_beside_the_ring_stands_at_its_angle_on_a_core_of_its_own() -> None:
    plan = plan_of(Layout(6, coils=(Coil("fine", 1), Coil("coarse", beside_degrees=90))))
    bobbin = plan.coils[1]
    assert bobbin.centre[0] > 1.1
    assert bobbin.centre[1] == pytest.approx(0)
    assert len(plan.stubs) == 1
    assert inside(bobbin.centre, plan.stubs[0])
    assert plan.box.width > 2 == plan.box.height


def test_a_place_finds_its_coil() -> None:
    plan = plan_of(Layout(6, coils=(Coil("fine", 1), Coil("coarse", 1, place=1), Coil("fine", 3))))
    assert [plan.coil_at(*c.centre) for c in plan.coils] == list(plan.coils)
    assert plan.coil_at(0, 0) is None
    top = plan.coils[1].at(plan.coils[1].along / 2 + 0.05, 0)
    assert plan.coil_at(*top) is None
    assert plan.coil_at(*top, 0.06) == plan.coils[1]


def test_a_winding_is_told_in_words() -> None:
    layout = Layout(9, coils=(
        Coil("fine", 4), Coil("coarse", 2, wire=Wire.HEAVY), Coil("fine", 1), Coil("fine", 1, place=1),
        Coil("coarse", 3), Coil("coarse", 5), Coil("coarse", beside_degrees=22.5)))  # fmt: skip
    plan = plan_of(layout)
    assert plan.winding("fine").spoken(False) == "fine, tooth 1 and 4, fine wire"
    assert plan.winding("fine").spoken(True) == "fine, tooth 1 and 4, fine wire, lit"
    said = "coarse, tooth 2, 3 and 5, beside the ring at 22.5 degrees, fine and heavy wire"
    assert plan.winding("coarse").spoken(False) == said


def test_the_wire_is_the_coils_own_or_its_kinds() -> None:
    lamps = replace(PATTERN, windings=tuple(replace(w, kind=Kind.LIGHTING) for w in PATTERN.windings))
    layout = Layout(3, coils=(Coil("fine", 1), Coil("fine", 2, wire=Wire.FINE), Coil("coarse", 3)))
    assert [c.wire for c in plan_of(layout, lamps).coils] == [Wire.HEAVY, Wire.FINE, Wire.HEAVY]
    assert [c.wire for c in plan_of(layout).coils] == [Wire.FINE] * 3


def test_windings_of_one_wire_differ_in_tone() -> None:
    layout = Layout(3, coils=(Coil("fine", 1), Coil("coarse", 2)))
    assert [w.tone for w in plan_of(layout).windings] == [0, 1]
    mixed = Layout(3, coils=(Coil("fine", 1), Coil("coarse", 2, wire=Wire.HEAVY)))
    assert [w.tone for w in plan_of(mixed).windings] == [0, 0]
