"""A rewind as wound, as JSON: back as it was to the last digit; what it never writes is refused by name."""

import json
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.wounds import FOUR_WIRES, HANDHELD, WIRE, in_order
from workbench.exchange.rewindbody import body_from_text, body_to_text
from workbench.rewind.record import Body
from workbench.rewind.tables import Span
from workbench.rewind.wire import Build, Wire, measured, metric
from workbench.rewind.woundrecord import (
    ORDER,
    Bake,
    CoilReading,
    CoilWound,
    Done,
    Insulation,
    Run,
    SenseSeen,
    Spot,
    UsedMeter,
    Way,
    WoundWire,
    WoundWork,
)
from workbench.stator.errors import FieldError

moments = st.datetimes(
    datetime(2000, 1, 1), datetime(2100, 1, 1), timezones=st.sampled_from([UTC, timezone(timedelta(hours=-3.5))])
)
notes = st.text(max_size=60)
spots = st.builds(Spot, st.integers(0, 96), st.integers(0, 7))
meters = st.sampled_from([HANDHELD, FOUR_WIRES, UsedMeter("lent", FOUR_WIRES.meter, 0.1 + 0.2, 1e-3)])
wires = st.builds(
    WoundWire,
    st.sampled_from(
        [WIRE.wire, Wire(measured(0.8173), Span(nominal=0.8911), strands=2), Wire.of(metric(0.9), Build.GRADE_2, 3)]
    ),
    notes,
    st.booleans(),
)
readings = st.builds(
    CoilReading, st.none() | st.floats(0, 100), st.floats(-60, 300), st.floats(0, 100), meters
)  # fmt: skip
coils = st.builds(CoilWound, spots, st.none() | st.integers(1, 30_000), st.none() | wires, st.none() | readings)


@st.composite
def works(draw: st.DrawFn) -> WoundWork:
    steps = ORDER[: draw(st.integers(0, len(ORDER)))]
    return WoundWork(
        tuple(Done(s, draw(moments), draw(notes)) for s in steps),
        tuple(draw(st.lists(coils, max_size=5, unique_by=lambda c: c.spot))),
        tuple(draw(st.lists(st.builds(SenseSeen, spots, st.sampled_from(Way)), unique_by=lambda s: s.spot))),
        draw(st.none() | st.builds(
            Insulation, st.floats(25, 500), st.floats(0, 1e6), st.floats(-60, 300), st.booleans()
        )),
        draw(notes),
        draw(st.none() | st.builds(Bake, st.floats(40, 250), st.floats(1, 2880))),
        draw(st.none() | st.builds(Run, st.booleans(), notes, moments)),
    )  # fmt: skip


@given(works())
def test_it_comes_back_as_it_was(work: WoundWork) -> None:
    assert body_from_text(body_to_text(Body(wound=work))) == Body(wound=work)


def test_a_meter_and_a_wire_stand_once() -> None:
    written = json.loads(body_to_text(Body(wound=in_order())))["wound"]
    assert (len(written["coils"]), len(written["meters"]), len(written["wires"])) == (12, 1, 1)


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ("done.0.step", "wind", "wound.done"),
        ("done.1.step", "glue", "wound.done[1].step"),
        ("done.1.at", "2026-03-04", "wound.done[1].at"),
        ("done.1.at", "2026-03-04T09:30:00", "wound.done[1].at"),
        ("done.1.at", "2026-03-04T09:30Z", "wound.done[1].at"),
        ("coils.2.turns", 0, "wound.coils[2].turns"),
        ("coils.2.turns", 1.5, "wound.coils[2].turns"),
        ("coils.2.wire", 4, "wound.coils[2].wire"),
        ("coils.2.reading.meter", -1, "wound.coils[2].reading.meter"),
        ("coils.2.reading.meter", None, "wound.coils[2].reading.meter"),
        ("coils.2.reading.ohms", "1", "wound.coils[2].reading.ohms"),
        ("coils.2.tooth", 97, "wound.coils[2].tooth"),
        ("sense.3.way", "up", "wound.sense[3].way"),
        ("sense.3.tooth", 1, "wound.sense[3].spot"),
        ("insulation.volts", 5000, "wound.insulation.volts"),
        ("bake.celsius", 20, "wound.bake.celsius"),
        ("run.well", 1, "wound.run.well"),
        ("more", 1, "wound.more"),
        ("meters.0.lead_ohms", -1, "wound.meters[0].lead_ohms"),
    ],
)
def test_what_it_never_writes_is_refused_by_name(path: str, value: Any, field: str) -> None:
    document = json.loads(body_to_text(Body(wound=in_order())))
    at = document["wound"]
    *way, last = path.split(".")
    for name in way:
        at = at[int(name)] if isinstance(at, list) else at[name]
    at[int(last) if isinstance(at, list) else last] = value
    with pytest.raises(FieldError) as refused:
        body_from_text(json.dumps(document))
    assert refused.value.field == field
