"""Asks for a layout or a substitute: worked examples, refusals by field, and the published Schemas."""

import copy
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.exchange.example import Json
from tests.exchange.rewind.asks import ANSWER, QUESTION, answer, example
from tests.exchange.test_schemas import schema
from tests.exchange.test_which_schemas import mutated

EXAMPLES = {"layout": "layout", "layout-checked": "layout", "substitute": "substitute"}
LAYOUT, CHECKED, SUBSTITUTE = (example(name)["ask"] for name in EXAMPLES)


def near(kept: Any, told: Any) -> bool:
    """Equal, numbers to the last digits that processors agree on."""
    if isinstance(kept, dict) and isinstance(told, dict):
        return kept.keys() == told.keys() and all(near(v, told[k]) for k, v in kept.items())
    if isinstance(kept, list) and isinstance(told, list):
        return len(kept) == len(told) and all(map(near, kept, told))
    if isinstance(kept, float) and isinstance(told, float):
        return math.isclose(kept, told, rel_tol=1e-9, abs_tol=1e-9)
    return bool(kept == told)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_worked_examples_are_answered_as_kept(name: str) -> None:
    kept = example(name)
    assert near(kept["answer"], answer(kept["ask"]))
    QUESTION[EXAMPLES[name]].validate(kept["ask"])
    ANSWER[EXAMPLES[name]].validate(kept["answer"])


def test_a_layout_is_answered_with_its_steps_factor_and_ohms() -> None:
    told = answer(LAYOUT)
    assert [(s["tooth"], s["sense"]) for s in told["steps"][:4]] == [(1, 1), (2, -1), (7, -1), (8, 1)]
    assert told["steps"][0]["start"] == {"at": "lead", "number": 1}
    assert told["steps"][3]["finish"] == {"at": "star"}
    first = told["plan"]["phases"][0]
    assert first["winding_factor"] == pytest.approx(0.9330, abs=5e-5)
    assert {h["harmonic"]: h["factor"] for h in first["harmonics"]} == pytest.approx({3: 0.5, 5: 0.0670}, abs=5e-5)
    # four coils of 50 turns at 2 milliohm, two phases in a wye
    assert told["pair_ohms"] == pytest.approx([0.8] * 3)


def test_a_checked_layout_names_its_reversed_coil_under_each_pole_count_that_fits() -> None:
    told = answer(CHECKED)
    assert [(c["poles"], c["reversed"]) for c in told["checked"]] == [
        (8, [[{"tooth": 8, "place": 0}]]), (16, [[{"tooth": 8, "place": 0}]]),
    ]  # fmt: skip
    assert "reversed" in told["checked"][0]["faults"]


def test_a_phase_without_volts_has_no_number_for_what_is_infinite() -> None:
    told = answer(CHECKED | {"teeth": 3, "poles": 2, "coils": [
        {"tooth": 1, "phase": 1, "sense": 1}, {"tooth": 1, "phase": 1, "sense": -1, "place": 1},
        {"tooth": 2, "phase": 2, "sense": 1}, {"tooth": 3, "phase": 3, "sense": 1},
    ]})  # fmt: skip
    ANSWER["layout"].validate(told)
    assert told["checked"][0]["balance"] == {"departure": None, "degrees_off": None}
    assert told["checked"][0]["remarks"] == [{"note": "no-volts", "phase": 1}]


def test_one_phase_with_unknown_poles_has_steps_and_says_what_it_took() -> None:
    told = answer({"id": "x", "ask": "layout", "teeth": 4, "phases": 1, "connection": "series"})
    ANSWER["layout"].validate(told)
    assert told["plan"] is None
    assert told["remarks"] == [{"note": "poles-assumed"}]
    assert [s["sense"] for s in told["steps"]] == [1, -1, 1, -1]


def test_teeth_kept_free_come_back_unwound_and_one_layer_winds_every_second() -> None:
    asked = {name: value for name, value in LAYOUT.items() if name != "harmonics"}
    told = answer(asked | {"free": [2], "layers": 1, "coils_per_phase": 1})
    ANSWER["layout"].validate(told)
    assert told["unwound"] == [t for t in range(1, 13) if t not in {s["tooth"] for s in told["steps"]}]
    assert {s["tooth"] % 2 for s in told["steps"]} == {1}


def test_groups_side_by_side_come_back_with_their_leads_and_what_circulates() -> None:
    told = answer({"id": "x", "ask": "layout", "teeth": 2, "poles": 2, "phases": 1, "connection": "parallel",
                   "paths": 2, "coils": [{"tooth": 1, "phase": 1, "sense": 1, "turns": 60},
                                         {"tooth": 2, "phase": 1, "sense": -1, "turns": 55, "path": 2}]})  # fmt: skip
    ANSWER["layout"].validate(told)
    assert [(s["path"], s["start"], s["finish"]) for s in told["steps"]] == [
        (n, {"at": "lead", "number": 1}, {"at": "lead", "number": 2}) for n in (1, 2)
    ]
    assert [r["note"] for r in told["checked"][0]["remarks"]] == ["circulates"]


def test_substitutes_come_back_as_wire_that_can_be_asked_with() -> None:
    told = answer(SUBSTITUTE)
    wires = [s["wire"] for s in told["substitutes"]]
    assert {"gauge": "AWG 21", "build": "heavy", "strands": 2} in wires
    assert {"mm": 0.93, "overall_mm": 1.01, "strands": 1} in wires
    again = answer(SUBSTITUTE | {"as_was": SUBSTITUTE["as_was"] | {"wire": wires[0]}})
    assert again["substitutes"][0]["ohms_ratio"] == pytest.approx(1)


def test_without_inductance_it_says_why_current_is_not_ranked() -> None:
    duty = {name: value for name, value in SUBSTITUTE["duty"].items() if name != "henries"}
    told = answer(SUBSTITUTE | {"duty": duty})
    ANSWER["substitute"].validate(told)
    assert (told["at_idle"], told["at_working"]) == (None, None)
    assert "without inductance" in told["why_not"]
    assert all(s["idle"] is None for s in told["substitutes"])


# ---- refusals

REMOVED = object()


def changed(ask: Json, path: str, value: Any) -> Json:
    out = copy.deepcopy(ask)
    *way, last = [int(k) if k.isdigit() else k for k in path.split(".")]
    at: Any = out
    for k in way:
        at = at[k]
    if value is REMOVED:
        del at[last]
    else:
        at[last] = value
    return out


WIRE = "as_was.wire"
# (the ask, what its refusal begins with, a word of it)
REFUSED: dict[str, tuple[Json, str, str]] = {
    "unknown field": (changed(LAYOUT, "colour", 1), "colour", "not a field"),
    "no teeth": (changed(LAYOUT, "teeth", REMOVED), "teeth", "missing"),
    "half a tooth": (changed(LAYOUT, "teeth", 12.5), "teeth", "whole number"),
    "two phases": (changed(LAYOUT, "phases", 2), "phases", "1 phase or 3"),
    "a star": (changed(LAYOUT, "connection", "star"), "connection", "known are"),
    "series of three": (changed(LAYOUT, "connection", "series"), "connection", "wye or delta"),
    "odd poles": (changed(LAYOUT, "poles", 7), "poles", "alternate"),
    "unbalanced": (changed(LAYOUT, "poles", 12), "poles", "can't balance on 12 teeth under 12 poles"),
    "a free tooth too far": (changed(LAYOUT, "free", [13]), "free", "no tooth 13"),
    "a free tooth by name": (changed(LAYOUT, "free", ["x"]), "free[0]", "must be a number"),
    "harmonic nought": (changed(LAYOUT, "harmonics", [0]), "harmonics", "from 1 to 199"),
    "too many harmonics": (changed(LAYOUT, "harmonics", [3] * 17), "harmonics", "at most 16"),
    "no ohms": (changed(LAYOUT, "ohms_per_turn", 0), "ohms_per_turn", "above 0"),
    "no coils": (changed(LAYOUT, "coils", []), "coils", "no coil"),
    "no sense": (changed(CHECKED, "coils.2.sense", REMOVED), "coils[2].sense", "missing"),
    "sense nought": (changed(CHECKED, "coils.2.sense", 0), "coils[2].sense", "1 or -1"),
    "a coil's colour": (changed(CHECKED, "coils.2.colour", 0), "coils[2].colour", "not a field"),
    "a tooth twice": (changed(CHECKED, "coils.2.tooth", 1), "coils[2].place", "taken"),
    "no such phase": (changed(CHECKED, "coils.2.phase", 4), "coils[2].phase", "no phase 4"),
    "no spools": (changed(SUBSTITUTE, "spools", []), "spools", "from 1 to 200"),
    "nothing near": (changed(SUBSTITUTE, "strands", [9]), "spools", "nothing on the shelf"),
    "no gauge": (changed(SUBSTITUTE, WIRE, {"build": "heavy"}), f"{WIRE}.gauge", "one of them"),
    "gauge and mm": (changed(SUBSTITUTE, f"{WIRE}.mm", 1), f"{WIRE}.gauge", "one of them"),
    "build and overall": (changed(SUBSTITUTE, f"{WIRE}.overall_mm", 1), f"{WIRE}.build", "one of them"),
    "a gauge of no table": (changed(SUBSTITUTE, f"{WIRE}.gauge", "AWG 7"), f"{WIRE}.gauge", "AWG 8 to 46"),
    "a build of no table": (changed(SUBSTITUTE, f"{WIRE}.build", "grade-1"), f"{WIRE}.build", "no grade-1 build"),
    "too thick": (changed(SUBSTITUTE, "spools.2.wire.mm", 11), "spools[2].wire.mm", "0.01 to 10 mm"),
    "thinner over": (changed(SUBSTITUTE, "spools.2.wire.overall_mm", 0.5), "spools[2].wire.overall_mm", "not go with"),
    "two on a spool": (changed(SUBSTITUTE, "spools.2.wire.strands", 2), "spools[2].wire", "single wire"),
    "grams below 0": (changed(SUBSTITUTE, "spools.2.grams", -1), "spools[2].grams", "from 0"),
    "no turns": (changed(SUBSTITUTE, "turns", [60, 0]), "turns[1]", "from 1"),
    "uneven paths": (changed(SUBSTITUTE, "as_was.paths", 4), "as_was.paths", "can't be dealt"),
    "no mean turn": (changed(SUBSTITUTE, "as_was.mean_turn_mm", 0), "as_was.mean_turn_mm", "from 1"),
    "slow work": (changed(SUBSTITUTE, "duty.working_rpm", 100), "duty.working_rpm", "from 1200"),
    "no speed": (changed(SUBSTITUTE, "duty.idle_rpm", REMOVED), "duty.idle_rpm", "missing"),
    "a duty's colour": (changed(SUBSTITUTE, "duty.colour", 1), "duty.colour", "not a field"),
}  # fmt: skip
# refusals of meaning, which a Schema can't say
BEYOND = {
    "series of three", "unbalanced", "a free tooth too far", "a tooth twice", "nothing near",
    "a gauge of no table", "a build of no table", "thinner over", "two on a spool", "uneven paths", "slow work",
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_used_is_refused_by_its_field(case: str) -> None:
    ask, field, word = REFUSED[case]
    told = answer(ask)
    assert told["id"] == ask["id"]
    assert told["error"].startswith(field + ": "), told["error"]
    assert word in told["error"]
    ANSWER[ask["ask"]].validate(told)


@pytest.mark.parametrize("case", REFUSED)
def test_the_schema_refuses_all_that_its_words_can_say(case: str) -> None:
    ask = REFUSED[case][0]
    assert QUESTION[ask["ask"]].is_valid(ask) == (case in BEYOND)


@pytest.mark.parametrize("name", [f"rewind-{ask}{end}" for ask in ("layout", "substitute") for end in ("", "-answer")])
def test_they_are_schemas_of_draft_2020_12(name: str) -> None:
    s = schema(name)
    Draft202012Validator.check_schema(s)
    assert s["$id"] == f"urn:plugface:schema:{name}-1"
    assert s["title"]
    assert s["description"]


def test_what_they_share_with_others_stands_word_for_word() -> None:
    for name in ("rewind-layout", "rewind-layout-answer", "rewind-substitute", "rewind-substitute-answer"):
        assert schema(name)["$defs"]["number"] == schema("sheet")["$defs"]["number"]
    for name in ("rewind-layout-answer", "rewind-substitute-answer"):
        assert schema(name)["$defs"]["refused"] == schema("answer")["$defs"]["refused"]
    assert schema("rewind-substitute")["$defs"]["wire"] == schema("rewind-substitute-answer")["$defs"]["wire"]


def taken_is_of_the_schema(ask: Json, name: str) -> None:
    told = answer(ask)
    ANSWER[name].validate(told)
    if "error" not in told:
        assert QUESTION[name].is_valid(json.loads(json.dumps(ask)))


@settings(max_examples=300)
@given(st.one_of(mutated(LAYOUT), mutated(CHECKED)))
def test_a_layout_that_is_taken_is_of_the_schema_and_its_answer_too(ask: Json) -> None:
    taken_is_of_the_schema(ask, "layout")


@settings(max_examples=300)
@given(mutated(SUBSTITUTE))
def test_a_substitute_that_is_taken_is_of_the_schema_and_its_answer_too(ask: Json) -> None:
    taken_is_of_the_schema(ask, "substitute")
