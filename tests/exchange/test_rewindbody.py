"""A rewind's body as JSON: back as it was, its unknown parts too; what it never writes is refused by name."""

import json
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.schemes import three_phase
from workbench.exchange.rewindbody import EMPTY, body_from_text, body_to_text
from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.layoutplan import plan
from workbench.rewind.record import Body, Chosen, Draw, Laid, WireWork
from workbench.rewind.shelf import AsWas, Duty
from workbench.rewind.wire import Build, Wire, awg, metric
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing

WIRE = Wire.of(awg(18), Build.HEAVY)
WORK = WireWork(
    AsWas(WIRE, 40, 72.5, 12, 2, 61.0),
    Duty(1200.0, 5000.0, 8, 0.0008, 9.5, 0.2, 60.0),
    (38, 42),
    Chosen(Wire.of(metric(0.9), Build.GRADE_2, 2), 38, 0.81, 60.0, 240.5, (Draw(UUID(int=5), "drawer", 271.3),)),
)
PLAIN = WireWork(AsWas(WIRE, 40, 72.5))
SCHEME = Scheme(12, 8, 3, Connection.WYE)


@given(three_phase(), st.data())
def test_steps_come_back_as_they_were(scheme: Scheme, data: st.DataObject) -> None:
    coils = plan(scheme).coils
    ticked = data.draw(st.frozensets(st.integers(1, len(coils))))
    laid = Laid(scheme, data.draw(st.sampled_from(Facing)), coils, data.draw(st.booleans()), ticked)
    assert body_from_text(body_to_text(Body(laid))) == Body(laid)


@pytest.mark.parametrize("work", [WORK, PLAIN])
def test_wire_comes_back_as_it_was(work: WireWork) -> None:
    assert body_from_text(body_to_text(Body(wire=work))) == Body(wire=work)


def test_what_is_not_known_stays() -> None:
    body = Body(wire=PLAIN, others=(("as_found", {"turns": 34}), ("run", None)))
    assert body_from_text(body_to_text(body)) == body
    assert body_from_text(EMPTY) == Body()


def _broken(path: str, value: Any) -> str:
    document = json.loads(body_to_text(Body(Laid(SCHEME, Facing.OUTWARD, plan(SCHEME).coils), WORK)))
    at = document
    *way, last = path.split(".")
    for name in way:
        at = at[int(name)] if isinstance(at, list) else at[name]
    at[last] = value
    return json.dumps(document)


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ("v", 2, "v"),
        ("steps.teeth", 0, "steps.teeth"),
        ("steps.ticked", [13], "steps.ticked"),
        ("steps.coils", [[1, 1, 1]], "steps.coils[0]"),
        ("steps.more", 1, "steps.more"),
        ("wire.as_was.turns", 0, "wire.as_was.turns"),
        ("wire.duty.poles", 7, "wire.duty.poles"),
        ("wire.chosen.draws.0.spool", "x", "wire.chosen.draws[0].spool"),
    ],
)
def test_what_it_never_writes_is_refused_by_name(path: str, value: Any, field: str) -> None:
    with pytest.raises(FieldError) as refused:
        body_from_text(_broken(path, value))
    assert refused.value.field == field
