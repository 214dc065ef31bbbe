"""`which` line by line: what it answers, what it refuses and in which words."""

import copy
import io
import json
from pathlib import Path
from typing import Any

import pytest

from tests.exchange.example import Json
from workbench.exchange.which import (
    MOST_PATTERNS,
    LibraryError,
    answer_to_json,
    library_from_file,
    patterns_from_lines,
    which_lines,
)
from workbench.matching.library import Library
from workbench.matching.weighing import Ranked, Weighed


def a_pattern(name: str, ohms: float = 100.0, **changes: Any) -> Json:
    return {
        "name": name,
        "reference_celsius": 20,
        "conductor": "copper",
        "connectors": [{"name": "P", "cavities": [{"pin": pin} for pin in "123"]}],
        "windings": [
            {"name": "fine", "from": "P.1", "to": "P.2", "ohms": ohms, "tolerance_percent": 10},
            {"name": "coarse", "from": "P.2", "to": "P.3", "ohms": 10, "tolerance_percent": 10},
        ],
    } | changes


PART: Json = {
    "id": "part-1",
    "pattern": {
        "connectors": [
            {
                "name": "Z",
                "key": "left",
                "cavities": [{"pin": pin, "kind": "blade", "x": 7, "y": -i} for i, pin in enumerate("abc")],
            }
        ]
    },
    "meter": {
        "ranges": [
            {"upto_ohms": 200, "resolution_ohms": 0.1, "percent": 0.8, "digits": 3},
            {"upto_ohms": 2e7, "resolution_ohms": 1e4, "percent": 1.0, "digits": 3},
        ],
        "open_above_ohms": 2e7,
        "lead_ohms": 0.2,
        "lead_uncertainty_ohms": 0.05,
    },
    "celsius": 20,
    "celsius_uncertainty": 2,
    "readings": [{"from": "Z.a", "to": "Z.b", "ohms": 100.3}, {"from": "core", "to": "Z.b", "open": True}],
}


def library_text(*patterns: Json) -> bytes:
    return b"\n".join(json.dumps(p).encode() for p in patterns)


def library_of(*patterns: Json) -> Library:
    return Library.of(patterns_from_lines(io.BytesIO(library_text(*patterns)), "shelf"))


SHELF = library_of(a_pattern("low"), a_pattern("high", 150))


def ask_raw(*lines: bytes, library: Library = SHELF) -> tuple[list[Json], bool]:
    out = io.StringIO()
    well = which_lines(io.BytesIO(b"\n".join(lines)), out, library)
    return [json.loads(line) for line in out.getvalue().splitlines()], well


def ask(part: Json, library: Library = SHELF) -> Json:
    (answer,), _ = ask_raw(json.dumps(part).encode(), library=library)
    return answer


def changed(path: str, value: Any) -> Json:
    out = copy.deepcopy(PART)
    *way, last = [int(k) if k.isdigit() else k for k in path.split(".")]
    at: Any = out
    for k in way:
        at = at[k]
    if value is None:
        del at[last]
    else:
        at[last] = value
    return out


def test_a_sheet_is_answered_in_its_own_names_and_the_librarys() -> None:
    answer = ask(PART)
    assert answer["id"] == "part-1"
    assert answer["patterns"][0]["name"] == "low"
    assert sum(p["probability"] for p in answer["patterns"]) == pytest.approx(1, abs=1e-12)
    assert [p["name"] for p in answer["patterns"]].count(None) == 1
    chances = [p["probability"] for p in answer["patterns"]]
    assert chances == sorted(chances, reverse=True)
    assert {n for pair in answer["next"] for n in (pair["from"], pair["to"])} <= {"Z.a", "Z.b", "Z.c", "core"}
    assert 0 < len(answer["next"]) <= 10


def test_what_is_as_good_as_ruled_out_is_left_out_and_the_rest_sums_to_1() -> None:
    w = Weighed((Ranked(1, 0.9, {}, 1), Ranked(0, 5e-7, {}, 0)), 0.0999995, ())
    answer = answer_to_json("x", SHELF, w)
    assert [p["name"] for p in answer["patterns"]] == ["high", None]
    assert sum(p["probability"] for p in answer["patterns"]) == pytest.approx(1, abs=1e-14)


def test_without_readings_it_says_what_to_read_first() -> None:
    answer = ask(changed("readings", []))
    assert {p["name"]: p["probability"] for p in answer["patterns"]} == pytest.approx(
        {"low": 0.45, "high": 0.45, None: 0.1}
    )
    assert answer["next"][0]["bits"] > 0.5


def test_plugs_that_no_pattern_has_are_of_none() -> None:
    answer = ask(changed("pattern.connectors.0.key", "right"), library_of(a_pattern("keyless", connectors=[
        {"name": "P", "key": None, "cavities": [{"pin": pin} for pin in "123"]}
    ])))  # fmt: skip
    assert answer == {"id": "part-1", "patterns": [{"name": None, "probability": 1.0}], "next": []}


READING = {"from": "Z.a", "to": "Z.b", "ohms": 1}
# (the sheet, what its refusal begins with, a word of it)
REFUSED: dict[str, tuple[Json, str, str]] = {
    "unknown key": (changed("colour", 1), "colour", "not a field"),
    "a name of the part's pattern": (changed("pattern.name", "x"), "pattern.name", "not a field"),
    "a pattern by name": (changed("pattern", "low"), "pattern", "must be an object"),
    "no plugs": (changed("pattern.connectors", []), "pattern.connectors", "at least one plug"),
    "no connectors": (changed("pattern.connectors", None), "pattern.connectors", "missing"),
    "a plug without cavities": (
        changed("pattern.connectors.0.cavities", []),
        "pattern.connectors[0].cavities",
        "at least one cavity",
    ),
    "a plug named core": (changed("pattern.connectors.0.name", "core"), "pattern.connectors[0].name", "can't name"),
    "two pins of one name": (
        changed("pattern.connectors.0.cavities.1.pin", "a"),
        "pattern.connectors[0].cavities[1].pin",
        "named twice",
    ),
    "two cavities on one place": (
        changed("pattern.connectors.0.cavities.1.y", 0),
        "pattern.connectors[0].cavities[1]",
        "same place",
    ),
    "x without y": (changed("pattern.connectors.0.cavities.1.y", None), "pattern.connectors[0].cavities", "or none"),
    "too many cavities": (
        changed("pattern.connectors.0.cavities", [{"pin": str(i)} for i in range(33)]),
        "pattern.connectors",
        "more than the 32",
    ),
    "too many for any pattern": (
        changed("pattern.connectors.0.cavities", [{"pin": str(i)} for i in range(600)]),
        "pattern.connectors",
        "more than the 512",
    ),
    "too many alike": (
        changed("pattern.connectors", [{"name": f"P{i}", "cavities": [{"pin": "1"}]} for i in range(8)]),
        "pattern.connectors",
        "5,040 ways",
    ),
    "a reading on no pin": (changed("readings.0.to", "Z.9"), "readings[0].to", "no pin"),
    "both leads on one pin": (changed("readings.0.to", "Z.a"), "readings[0].to", "both leads"),
    "open and a number": (changed("readings.0.open", True), "readings[0].open", "not both"),
    "neither": (changed("readings.0.ohms", None), "readings[0].ohms", "missing"),
    "above every range": (changed("readings.0.ohms", 3e7), "readings[0].ohms", "above every range"),
    "too far below 0": (changed("readings.0.ohms", -1), "readings[0].ohms", "below 0"),
    "not a number": (changed("readings.0.ohms", "1k"), "readings[0].ohms", "must be a number"),
    "too many readings": (changed("readings", [READING] * 101), "readings", "more than the 100"),
    "no ranges": (changed("meter.ranges", []), "meter.ranges", "at least one range"),
    "too warm": (changed("celsius", 900), "celsius", "outside"),
    "no id": (changed("id", None), "id", "missing"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_used_is_refused_by_its_field_and_the_run_goes_on(case: str) -> None:
    sheet, field, word = REFUSED[case]
    answers, well = ask_raw(json.dumps(sheet).encode(), json.dumps(PART).encode())
    assert not well
    assert answers[0]["id"] == sheet.get("id")
    assert answers[0]["error"].startswith(field + ": "), answers[0]["error"]
    assert word in answers[0]["error"]
    assert answers[1]["patterns"]


def test_readings_are_held_to_the_part_even_where_no_pattern_fits() -> None:
    lone = changed("pattern.connectors.0.cavities", [{"pin": pin} for pin in "ab"])
    assert ask(lone)["patterns"] == [{"name": None, "probability": 1.0}]
    lone["readings"][0]["to"] = "Z.c"
    assert "no pin" in ask(lone)["error"]


@pytest.mark.parametrize("raw", [b"{", b"\xff", b"3", b'{"id": "x", "id": "x"}', b"[" * 5000])
def test_lines_that_are_no_sheet_are_refused(raw: bytes) -> None:
    (answer, good), well = ask_raw(raw, json.dumps(PART).encode())
    assert not well
    assert answer["error"]
    assert "error" not in good


@pytest.mark.parametrize(
    ("lines", "number", "word"),
    [
        (library_text(a_pattern("a"), a_pattern("a")), 2, "name: 'a' stands on line 1 already"),
        (library_text(a_pattern("a"), a_pattern("b", windings=[])), 2, "windings: a pattern needs"),
        (library_text(a_pattern("a")) + b"\n\n\n{", 4, "Not JSON"),
        (library_text(a_pattern("a", maker="x")), 1, "maker: is not a field"),
        (b"7", 1, "not a JSON object"),
        (library_text(a_pattern("a", connectors=[{"name": "P", "cavities": [{"pin": str(i)} for i in range(40)]}])), 1,
         "connectors: 40 cavities are more"),
    ],
)  # fmt: skip
def test_a_librarys_first_bad_line_is_named_by_number_and_field(lines: bytes, number: int, word: str) -> None:
    with pytest.raises(LibraryError) as e:
        patterns_from_lines(io.BytesIO(lines), "shelf.jsonl")
    assert str(e.value).startswith(f"Line {number} of the library shelf.jsonl can't be used: ")
    assert word in str(e.value)
    assert str(e.value).endswith(". Nothing was answered.")


def test_a_library_that_is_not_there_empty_or_too_long_is_told(tmp_path: Path) -> None:
    with pytest.raises(LibraryError, match="can't be read"):
        library_from_file(tmp_path / "none.jsonl")
    with pytest.raises(LibraryError, match="can't be read"):
        library_from_file(tmp_path)
    (tmp_path / "empty.jsonl").write_text("\n\n")
    with pytest.raises(LibraryError, match="holds no pattern"):
        library_from_file(tmp_path / "empty.jsonl")
    lines = b"\n".join(json.dumps(a_pattern(str(i))).encode() for i in range(MOST_PATTERNS + 1))
    with pytest.raises(LibraryError, match=r"Line 1001 of the library shelf can.t be used: More than the 1,000"):
        patterns_from_lines(io.BytesIO(lines), "shelf")
