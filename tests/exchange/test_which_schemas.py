"""The published Schemas of `which` against what the reader takes and what it answers."""

import copy
import io
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.exchange.example import Json
from tests.exchange.test_schemas import KEYS, ODD, _places, schema
from tests.exchange.test_which import PART, REFUSED, SHELF, a_pattern, ask, changed
from workbench.exchange.which import LibraryError, patterns_from_lines, which_line

LIBRARY, SHEET, ANSWER = (Draft202012Validator(schema(f"which-{n}")) for n in ("library", "sheet", "answer"))

RICH = copy.deepcopy(PART)
RICH["pattern"]["connectors"].append({"name": "Q", "key": None, "cavities": [{"pin": "x"}, {"pin": "y.z"}]})
RICH["pattern"]["connectors"].append({"name": "R", "key_shape": "rib", "cavities": [{"pin": "1", "kind": "socket"}]})
RICH["readings"] += [{"from": "Q.y.z", "to": "R.1", "ohms": 5, "open": False, "range_upto_ohms": 2e7}]


@pytest.mark.parametrize("name", ["library", "sheet", "answer"])
def test_they_are_schemas_of_draft_2020_12(name: str) -> None:
    s = schema(f"which-{name}")
    Draft202012Validator.check_schema(s)
    assert s["$id"] == f"urn:plugface:schema:which-{name}-1"
    assert s["title"]
    assert s["description"]


def test_what_they_share_with_judges_stands_word_for_word() -> None:
    assert schema("which-library")["$defs"]["pattern-1"] == schema("pattern")
    mine, sheet, pattern = (schema(n)["$defs"] for n in ("which-sheet", "sheet", "pattern"))
    for name, its in mine.items():
        assert its == (pattern if name in ("connector", "cavity") else sheet)[name], name
    assert schema("which-answer")["$defs"]["refused"] == schema("answer")["$defs"]["refused"]


@pytest.mark.parametrize("good", [PART, RICH, changed("readings", [])])
def test_good_sheets_validate_and_are_taken(good: Json) -> None:
    SHEET.validate(good)
    answer = ask(good)
    assert "error" not in answer
    ANSWER.validate(answer)


# refusals of meaning, which a Schema can't say
BEYOND = {
    "two pins of one name", "two cavities on one place", "too many alike", "a reading on no pin",
    "both leads on one pin", "above every range", "too far below 0", "too many cavities",
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_the_schema_refuses_all_that_its_words_can_say(case: str) -> None:
    assert SHEET.is_valid(REFUSED[case][0]) == (case in BEYOND)
    ANSWER.validate(ask(REFUSED[case][0]))


@pytest.mark.parametrize("raw", [b"{", b"\xff", None, b"3"])
def test_every_refusal_validates(raw: bytes | None) -> None:
    ANSWER.validate(which_line(raw, SHELF)[0])


def test_an_answer_of_another_shape_does_not() -> None:
    answer = ask(PART)
    assert not ANSWER.is_valid(answer | {"next": answer["next"][:1] * 11})
    assert not ANSWER.is_valid(answer | {"patterns": []})
    assert not ANSWER.is_valid(answer | {"patterns": [{"name": "low", "probability": 1.2}]})
    assert not ANSWER.is_valid(answer | {"verdict": "good"})


@st.composite
def mutated(draw: st.DrawFn, whole: Json) -> Json:
    out = copy.deepcopy(whole)
    for _ in range(draw(st.integers(1, 3))):
        places = _places(out)
        if not places:
            break
        at, key = places[draw(st.integers(0, len(places) - 1))]
        match draw(st.sampled_from(("replace", "remove", "add", "repeat"))):
            case "replace":
                at[key] = copy.deepcopy(draw(ODD))
            case "remove":
                del at[key]
            case "add" if isinstance(at, dict):
                at[draw(KEYS)] = copy.deepcopy(draw(ODD))
            case "repeat" if isinstance(at, list):
                at += copy.deepcopy(at)
    return out


@settings(max_examples=300)
@given(mutated(RICH))
def test_what_the_reader_takes_the_schema_takes_and_every_answer_validates(s: Json) -> None:
    text = json.dumps(s).encode()
    answer, taken = which_line(text, SHELF)
    ANSWER.validate(answer)
    assert ("error" in answer) != taken
    if taken:
        assert SHEET.is_valid(json.loads(text))
        chances = [p["probability"] for p in answer["patterns"]]
        assert math.fsum(chances) == pytest.approx(1, abs=1e-9)
        assert all(math.isfinite(n["bits"]) for n in answer["next"])


@settings(max_examples=150)
@given(mutated(a_pattern("odd")))
def test_every_pattern_that_a_library_takes_validates(s: Any) -> None:
    try:
        patterns_from_lines(io.BytesIO(json.dumps(s).encode()), "shelf")
    except LibraryError:
        return
    assert LIBRARY.is_valid(json.loads(json.dumps(s)))
