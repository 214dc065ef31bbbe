"""What is written is read back as the same thing."""

import json

import pytest
from hypothesis import given

from tests.stator.strategies import meters, patterns
from workbench.exchange.meters import meter_from_json, meter_to_json
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern


@given(patterns(elements=True, laid_out=True))
def test_a_pattern_comes_back_equal(p: Pattern) -> None:
    assert pattern_from_json(pattern_to_json(p)) == p
    assert pattern_from_json(json.loads(json.dumps(pattern_to_json(p)))) == p


@given(meters)
def test_a_meter_comes_back_equal(meter: Meter) -> None:
    assert meter_from_json(json.loads(json.dumps(meter_to_json(meter)))) == meter


def test_a_pattern_alone_names_its_fields_from_its_own_top() -> None:
    with pytest.raises(FieldError) as refused:
        pattern_from_json(
            {"name": "x", "reference_celsius": 20, "conductor": "copper", "connectors": [], "windings": []}
        )
    assert refused.value.field == "windings"
