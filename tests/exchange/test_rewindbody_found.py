"""What was found, written in a rewind's body and read again: equal to the last bit, or refused by the field's name."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.exchange.rewindbody import body_from_text, body_to_text
from workbench.rewind.errors import RewindError
from workbench.rewind.found import LONGEST, AsFound
from workbench.rewind.record import Body
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import TABLED, gauges, measured
from workbench.stator.errors import FieldError

GAUGES = st.sampled_from([g for scale in TABLED for g in gauges(scale)])
WORDS = st.text(st.characters(codec="utf-8"), max_size=60)


def _some(low: float, high: float) -> st.SearchStrategy[float | None]:
    return st.none() | st.floats(low, high)


def _places(low: float, high: float) -> st.SearchStrategy[tuple[float, ...]]:
    return st.lists(st.floats(low, high), max_size=4).map(tuple)


STRIPS = st.builds(
    StripRecord,
    coils=st.integers(1, 96),
    turns=_places(0.25, 1e5),
    turns_u=_some(0.1, 50),
    bare_mm=_places(0.05, 5),
    bare_u_mm=_some(0.001, 0.1),
    overall_mm=_places(0.05, 5),
    overall_u_mm=_some(0.001, 0.1),
    gauge=st.none() | GAUGES,
    strands=st.none() | st.integers(1, 32),
    mean_turn_mm=_some(5, 500),
    mean_turn_u_mm=_some(0.1, 10),
    width_mm=_some(1, 90),
    height_mm=_some(1, 90),
    build_mm=_some(0.1, 30),
    sides_u_mm=_some(0.1, 2),
    ohms=_some(10, 1e6),
    ohms_u=_some(1e-3, 1e3),
    celsius=st.floats(-20, 120),
    celsius_u=st.floats(0, 10),
    lead_gauge=GAUGES.filter(lambda g: g.mm > 0.5),
    lead_mm=st.floats(0, 2000),
    grams=_some(0.1, 1e4),
    grams_u=_some(0.01, 10),
    enamelled=st.booleans(),
    tails_mm=st.floats(0, 5000),
)
SENSES = st.dictionaries(st.integers(1, 96), st.sampled_from((1, -1)), max_size=12)
FOUND = st.builds(
    AsFound, STRIPS, WORDS, WORDS, WORDS, SENSES.map(lambda d: tuple(sorted(d.items()))), WORDS, WORDS
)  # fmt: skip


@given(FOUND)
def test_what_was_found_comes_back_as_it_was(found: AsFound) -> None:
    assert body_from_text(body_to_text(Body(found=found))) == Body(found=found)


def test_what_is_not_known_is_not_written() -> None:
    assert json.loads(body_to_text(Body(found=AsFound(photos="tray 3"))))["found"] == {"photos": "tray 3", "record": {}}


@pytest.mark.parametrize(
    ("value", "field"),
    [
        ([], "found"),
        ({}, "found.record"),
        ({"record": {}, "photo": "x"}, "found.photo"),
        ({"record": {}, "start": 4}, "found.start"),
        ({"record": {}, "liner": "x" * (LONGEST + 1)}, "found.liner"),
        ({"record": {}, "senses": [[1, 1], [2]]}, "found.senses[1]"),
        ({"record": {}, "senses": [[1, 1], [2.5, 1]]}, "found.senses[1][0]"),
        ({"record": {}, "senses": [[1, 1], [2, 0]]}, "found.senses[1]"),
        ({"record": {}, "senses": [[4, 1], [4, -1]]}, "found.senses[1]"),
        ({"record": {}, "senses": [[97, 1]]}, "found.senses[0]"),
        ({"record": {"wires": 3}}, "found.record.wires"),
        ({"record": {"strands": 0}}, "found.record.strands"),
        ({"record": {"turns": [34, "x"]}}, "found.record.turns[1]"),
        ({"record": {"bare_mm": [0.8, 300]}}, "found.record.bare_mm[1]"),
        ({"record": {"gauge": "thin"}}, "found.record.gauge"),
        ({"record": {"lead_mm": 200}}, "found.record.lead_gauge"),
    ],
)
def test_what_it_never_writes_is_refused_by_name(value: Any, field: str) -> None:
    with pytest.raises(FieldError) as refused:
        body_from_text(json.dumps({"v": 1, "found": value}))
    assert refused.value.field == field


def test_a_measured_wire_is_no_tag() -> None:
    with pytest.raises(RewindError) as refused:
        AsFound(StripRecord(gauge=measured(0.813)))
    assert refused.value.field == "record.gauge"
