"""The published Schemas against what the reader takes and what `judge` answers."""

import copy
import json
import math
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.exchange.example import EXAMPLE, Json, ask, nobody, read, sheet
from tests.exchange.test_refusals import LAST_TAKEN, REFUSED, changed
from tests.stator.strategies import patterns
from workbench.exchange.lines import answer_line
from workbench.exchange.patterns import pattern_to_json

RESOURCES = files("resources")


def schema(name: str) -> Json:
    out: Json = json.loads((RESOURCES / "schemas" / f"{name}-1.json").read_text("utf-8"))
    return out


SHEET, PATTERN, ANSWER = (Draft202012Validator(schema(n)) for n in ("sheet", "pattern", "answer"))

RICH = sheet(
    pattern={
        "name": "everything",
        "reference_celsius": 25,
        "conductor": "aluminium",
        "open_limit_ohms": 2e6,
        "connectors": [
            {
                "name": "A",
                "key": None,
                "cavities": [{"pin": "1", "kind": "socket", "x": 0, "y": 0}, {"pin": "2", "x": 1, "y": 0}],
            },
            {"name": "B", "key": "left", "cavities": [{"pin": "x"}, {"pin": "y.z"}]},
        ],
        "windings": [
            {"name": "a", "from": "A.1", "to": "hub", "low_ohms": 1, "high_ohms": 2},
            {"name": "b", "from": "A.2", "to": "hub", "ohms": 1.5, "low_ohms": 1, "high_ohms": 2, "kind": "pulser"},
            {"name": "d", "from": "B.x", "to": "core", "element": "diode"},
        ],
        "links": [{"name": "l", "from": "B.x", "to": "B.y.z"}],
        "checks": [["A.1", "A.2"]],
        "layout": {
            "teeth": 3,
            "facing": "inward",
            "coils": [
                {"winding": "a", "tooth": 1, "sense": -1},
                {"winding": "b", "tooth": 1, "place": 1, "wire": "heavy"},
                {"winding": "b", "beside_degrees": 40},
            ],
        },
    },
    checks=[["A.1", "A.2"], ["B.x", "core"]],
    contacts_proved=False,
    readings=[
        {"from": "A.1", "to": "A.2", "ohms": 3.2, "open": False, "range_upto_ohms": 2000},
        {"from": "B.x", "to": "core", "open": True},
        {"from": "B.x", "to": "core", "ohms": 500},
    ],
)


@pytest.mark.parametrize("name", ["sheet", "pattern", "answer"])
def test_they_are_schemas_of_draft_2020_12(name: str) -> None:
    s = schema(name)
    Draft202012Validator.check_schema(s)
    assert s["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert s["$id"].endswith(f"{name}-1")
    assert s["title"]
    assert s["description"]


def test_the_sheets_schema_carries_the_patterns_word_for_word() -> None:
    assert schema("sheet")["$defs"]["pattern-1"] == schema("pattern")


@pytest.mark.parametrize("name", ["sheet", "pattern"])
def test_every_object_is_closed_and_every_number_described(name: str) -> None:
    def walk(node: Any) -> None:
        if isinstance(node, list):
            for inner in node:
                walk(inner)
        elif isinstance(node, dict):
            if node.get("type") == "object":
                assert node["additionalProperties"] is False
                for field, inner in node["properties"].items():
                    assert "description" in inner or "$ref" in inner, field
            for inner in node.values():
                walk(inner)

    walk(schema(name))


@pytest.mark.parametrize("good", [EXAMPLE, RICH, sheet(pattern="by name"), read(), sheet(checks=None)])
def test_good_sheets_validate(good: Json) -> None:
    SHEET.validate(good)


@pytest.mark.parametrize(("path", "last"), LAST_TAKEN)
def test_the_last_value_that_is_taken_validates(path: str, last: Any) -> None:
    SHEET.validate(changed(path, last))


def test_every_starter_pattern_validates_and_is_read() -> None:
    for entry in (RESOURCES / "patterns").iterdir():
        if entry.name.endswith(".json"):
            value = json.loads(entry.read_text("utf-8"))
            for one in value if isinstance(value, list) else [value]:
                PATTERN.validate(one)
                assert ask(sheet(pattern=one, readings=[], checks=[]))[0].get("verdict") == "unfinished", entry.name


@given(patterns(elements=True, laid_out=True))
def test_every_pattern_written_validates(p: Any) -> None:
    PATTERN.validate(pattern_to_json(p))


# refusals of meaning, which a Schema can't say
BEYOND = {
    "NaN", "low is high", "low above high", "ohms outside their limits", "winding to no pin", "link from no plug",
    "reading on no pin", "check of no pin", "pattern's check of no pin", "inner point that nothing else uses",
    "reading too far below 0", "reading above every range", "reading above its named range", "a range the meter hasn't",
    "two ranges of one top", "two windings of one name", "a link named as a winding", "two plugs of one name",
    "two pins of one name", "both leads on one pin", "both ends of a winding on one pin", "pattern not in the library",
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_the_schema_refuses_all_that_its_words_can_say(case: str) -> None:
    assert SHEET.is_valid(REFUSED[case][0]) == (case in BEYOND)


def test_every_kind_of_answer_validates() -> None:
    asked = [
        EXAMPLE,
        RICH,
        read(),
        read(("P.1", "P.3", 300)),
        read(("P.1", "core", 5e6)),
        *(s for s, _, _ in REFUSED.values()),
    ]
    for answer in ask(*asked):
        ANSWER.validate(answer)
    for raw in (b"{", b"\xff", None, b"3"):
        ANSWER.validate(answer_line(raw, nobody)[0])


def test_findings_and_next_have_their_place_in_an_answer() -> None:
    (answer,) = ask(EXAMPLE)
    answer["findings"] = [
        {"fault": "sound", "where": "", "probability": 0.7},
        {"fault": "shorted-turns", "where": "coarse", "probability": 0.2, "fraction": 0.1},
        {
            "fault": "winding-to-winding",
            "where": "coarse|fine",
            "probability": 0.1,
            "position_a": 0,
            "position_b": 1,
            "ohms": 9,
        },
    ]
    answer["next"] = [{"from": "P.2", "to": "P.3", "bits": 0.7}]
    ANSWER.validate(answer)
    assert not ANSWER.is_valid(answer | {"next": answer["next"] * 11})
    assert not ANSWER.is_valid(answer | {"findings": [{"fault": "moisture", "where": "", "probability": 1}]})


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every (container, key) of a JSON value."""
    out: list[tuple[Any, Any]] = []
    if isinstance(value, dict | list):
        for k in value if isinstance(value, dict) else range(len(value)):
            out += [(value, k), *_places(value[k])]
    return out


NUMBERS = [0, -1, 1, 0.5, 64, 100, 100.5, 300, 301, -60, 1e18, 1.1e18, -1e18, 10**30, 1e999, math.nan]
WORDS = [
    "rib",
    "core",
    "P.1",
    "P.3",
    "P.9",
    "A.2",
    "B.x",
    "hub",
    ".",
    "a.b",
    "copper",
    "blade",
    "socket",
    "diode",
    "bottom",
    "lighting",
    "straight",
    "fine",
]
THINGS: list[Any] = [
    *(None, True, False, "", [], {}, [[]]),
    *(["P.1", "core"], ["P.1", "P.1"], ["P.1", "core", "P.2"]),
    *({"pin": "9"}, {"from": "P.1", "to": "P.2", "open": True}),
]
ODD = st.sampled_from([*NUMBERS, *WORDS, *THINGS])
KEYS = st.sampled_from(
    [
        "id",
        "ohms",
        "open",
        "x",
        "y",
        "kind",
        "key",
        "key_shape",
        "element",
        "low_ohms",
        "high_ohms",
        "tolerance_percent",
        "checks",
        "links",
        "windings",
        "limit_ohms",
        "range_upto_ohms",
        "contacts_proved",
        "open_limit_ohms",
        "open_above_ohms",
        "layout",
        "tooth",
        "beside_degrees",
        "place",
        "sense",
        "new",
    ]
)


@st.composite
def mutated(draw: st.DrawFn) -> Json:
    out = copy.deepcopy(draw(st.sampled_from((EXAMPLE, RICH))))
    for _ in range(draw(st.integers(1, 3))):
        places = _places(out)
        if not places:
            break
        at, key = places[draw(st.integers(0, len(places) - 1))]
        match draw(st.sampled_from(("replace", "remove", "add", "repeat", "move"))):
            case "replace":
                at[key] = copy.deepcopy(draw(ODD))
            case "remove":
                del at[key]
            case "add" if isinstance(at, dict):
                at[draw(KEYS)] = copy.deepcopy(draw(ODD))
            case "repeat" if isinstance(at, list):
                at += copy.deepcopy(at)
            case "move":
                other, its = places[draw(st.integers(0, len(places) - 1))]
                at[key] = copy.deepcopy(other[its])
    return out


@settings(max_examples=400)
@given(mutated())
def test_what_the_reader_takes_the_schema_takes_and_every_answer_validates(s: Json) -> None:
    text = json.dumps(s).encode()
    answer, taken = answer_line(text, nobody)
    ANSWER.validate(answer)
    assert ("error" in answer) != taken
    if taken:
        assert SHEET.is_valid(json.loads(text))
