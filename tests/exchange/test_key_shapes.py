"""What a plug's key is, as JSON: read and written as it stood, and refused where there is no key."""

import json
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.exchange.example import EXAMPLE, Json
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Cavity, Connector, KeyShape, Pair, Pattern, Side, Winding

PATTERN = Draft202012Validator(
    json.loads(files("resources").joinpath("schemas", "pattern-1.json").read_text(encoding="utf-8"))
)


def keyed(**fields: Any) -> Json:
    (plug,) = EXAMPLE["pattern"]["connectors"]
    return {**EXAMPLE["pattern"], "connectors": [plug | fields]}


@pytest.mark.parametrize("shape", KeyShape)
@pytest.mark.parametrize("key", Side)
def test_a_shape_comes_back_as_it_stood(shape: KeyShape, key: Side) -> None:
    stood = keyed(key=str(key), key_shape=str(shape))
    PATTERN.validate(stood)
    read = pattern_from_json(stood)
    assert (read.connectors[0].key, read.connectors[0].key_shape) == (key, shape)
    written = pattern_to_json(read)
    PATTERN.validate(written)
    assert pattern_from_json(json.loads(json.dumps(written))) == read
    assert written["connectors"][0].get("key_shape") == (None if shape is KeyShape.TAB else shape)


def test_without_one_the_key_is_a_tab() -> None:
    for plain in (keyed(), keyed(key="top"), keyed(key=None)):
        assert pattern_from_json(plain).connectors[0].key_shape is KeyShape.TAB
        assert "key_shape" not in pattern_to_json(pattern_from_json(plain))["connectors"][0]


@pytest.mark.parametrize(
    ("fields", "word"),
    [
        ({"key": None, "key_shape": "rib"}, "without a key"),
        ({"key": None, "key_shape": "tab"}, "without a key"),
        ({"key_shape": None}, "known are tab, rib, flat"),
        ({"key_shape": "notch"}, "known are tab, rib, flat"),
        ({"key_shape": 1}, "known are tab, rib, flat"),
    ],
)
def test_what_is_no_shape_of_a_key_is_refused_by_its_field(fields: Json, word: str) -> None:
    with pytest.raises(FieldError, match=word) as refused:
        pattern_from_json(keyed(**fields))
    assert refused.value.field == "connectors[0].key_shape"
    assert not PATTERN.is_valid(keyed(**fields))


def test_a_pattern_made_in_code_is_held_to_the_same() -> None:
    plug = Connector("P", (Cavity("1"), Cavity("2")), None, KeyShape.FLAT)
    winding = Winding("w", *Pair("P.1", "P.2"), ohms=1, tolerance_percent=10)
    with pytest.raises(FieldError) as refused:
        Pattern("flat without a key", (plug,), (winding,))
    assert refused.value.field == "connectors[0].key_shape"
