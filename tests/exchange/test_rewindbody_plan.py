"""A rewind's plan as JSON: back as it was to the last digit; what it never writes is refused by name."""

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.orders import BLOCK, HEAVY_20, LININGS, MANNERS, cores, on_block
from workbench.exchange.rewindbody import body_from_text, body_to_text
from workbench.rewind.coil import Allowances, CoilOrder, Fills, Room
from workbench.rewind.record import Body, PlanWork
from workbench.rewind.tables import Span
from workbench.rewind.window import Window
from workbench.rewind.wire import Build, Wire, awg, measured, metric
from workbench.stator.errors import FieldError

MEASURED = Wire(measured(0.8173), Span(nominal=0.8911), strands=2)
TYPED = (HEAVY_20, MEASURED, Wire.of(metric(0.9), Build.GRADE_2, 3), Wire(awg(30), Span(nominal=0.3)))
TRACED = Window(((0.0, 0.5), (20.0, 0.5), (18.0, 9.0), (0.1 + 0.2, 9.0)))
PLAN = PlanWork(
    CoilOrder(HEAVY_20, 24, BLOCK, window=TRACED, room=Room(35.0, 6.0)), 6, 2, 1.872, 0.0625, 0.012
)  # fmt: skip

orders = st.builds(
    CoilOrder,
    st.sampled_from(TYPED),
    st.integers(1, 9000),
    cores(),
    LININGS,
    MANNERS,
    st.sampled_from([None, TRACED]),
    st.floats(0, 10),
    st.builds(
        Room, st.none() | st.floats(0, 1e4), st.none() | st.floats(0, 1e4), st.floats(0, 1e4)
    ),
    st.builds(Fills, st.floats(0.05, 0.9), st.floats(0.05, 0.9)),
    st.builds(Allowances, st.floats(0, 1), st.floats(0, 0.1), st.floats(0, 1e5), st.floats(0, 1), st.floats(0, 10)),
)  # fmt: skip


@given(orders, st.integers(1, 8), st.integers(1, 8), st.floats(1e-6, 1e7), st.floats(1e-9, 1e9), st.floats(0, 10))
def test_a_plan_comes_back_as_it_was(
    order: CoilOrder, paths: int, each: int, metres: float, ohms: float, u: float
) -> None:
    body = Body(plan=PlanWork(order, paths * each, paths, metres, ohms, u))
    assert body_from_text(body_to_text(body)) == body


def _broken(path: str, value: Any) -> str:
    document = json.loads(body_to_text(Body(plan=PLAN)))
    at = document
    *way, last = path.split(".")
    for name in way:
        at = at[int(name)] if isinstance(at, list) else at[name]
    if value is KeyError:
        del at[last]
    else:
        at[int(last) if isinstance(at, list) else last] = value
    return json.dumps(document)


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ("plan", 3, "plan"),
        ("plan.order", [], "plan.order"),
        ("plan.coils", 0, "plan.coils"),
        ("plan.paths", 4, "plan.paths"),
        ("plan.paths", 1.5, "plan.paths"),
        ("plan.u", "some", "plan.u"),
        ("plan.ohms_20", 0, "plan.ohms_20"),
        ("plan.metres", KeyError, "plan.metres"),
        ("plan.more", 1, "plan.more"),
        ("plan.order.turns", 0, "plan.order.turns"),
        ("plan.order.celsius", 20, "plan.order.celsius"),
        ("plan.order.fills", KeyError, "plan.order.fills"),
        ("plan.order.room.least_mm", KeyError, "plan.order.room"),
        ("plan.order.core.gap_mm", KeyError, "plan.order.core.gap_mm"),
        ("plan.order.core.tooth_mm", -1, "plan.order.core.tooth_mm"),
        ("plan.order.wire.gauge", "awg 20", "plan.order.wire"),
        ("plan.order.window.corners.1", [1], "plan.order.window.corners[1]"),
        ("plan.order.manner", "neat", "plan.order.manner"),
    ],
)
def test_what_is_never_written_is_refused_by_name(path: str, value: Any, field: str) -> None:
    assert body_from_text(body_to_text(Body(plan=PLAN))).plan == PLAN
    with pytest.raises(FieldError) as refused:
        body_from_text(_broken(path, value))
    assert refused.value.field == field


def test_a_wire_and_its_plan_stand_beside_each_other() -> None:
    body = Body(plan=replace(PLAN, order=on_block(10, HEAVY_20)), others=(("later", {"turns": 34}),))
    assert body_from_text(body_to_text(body)) == body
