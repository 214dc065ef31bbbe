"""Asks about wire, a coil or a stripped coil: worked examples, refusals by field, and the published Schemas."""

import io
import json
import time
from typing import Any

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator

from tests.exchange.example import Json
from tests.exchange.rewind.asks import ANSWER, QUESTION, answer, example
from tests.exchange.test_rewind_layouts import REMOVED, changed, near
from tests.exchange.test_schemas import schema
from tests.exchange.test_which_schemas import mutated
from workbench.exchange.lines import LONGEST_LINE
from workbench.exchange.rewind import ASKS, rewind_line, rewind_lines

EXAMPLES = ("wire", "coil", "coil-misses", "strip", "strip-liar")
WIRE, COIL, MISSES, STRIP, LIAR = (example(name)["ask"] for name in EXAMPLES)
MEASURED: Json = {"ask": "wire", "mm": 0.81, "u_mm": 0.01, "strands": 2, "celsius": 75}
STRAIGHT: Json = {
    "ask": "coil",
    "wire": {"mm": 0.9, "overall_mm": 1.0, "strands": 2},
    "turns": 30,
    "core": {
        "facing": "straight",
        "tooth_mm": 10,
        "stack_mm": 20,
        "tip_mm": 20,
        "gap_mm": 12,
        "neighbour_wound": False,
    },
    "lining": {"flange_mm": 9},
    "manner": "scramble",
    "room": {"flywheel_mm": 21, "end_mm": 12, "least_mm": 0.2},
    "fills": {"scramble": 0.55},
    "allowances": {"bulge": 0.1, "stretch": 0.01, "tails_mm": 100, "spare": 0.2, "core_u_mm": 0.05},
    "celsius": 75,
    "draw": False,
}
TRACED = changed(COIL, "window", {"corners": [[18, 0], [32, 0], [32, 4], [20, 4]]}) | {"between_mm": 0.05}
FULL: Json = {
    "ask": "strip", "coils": 3, "turns": [64, 65], "turns_u": 1, "bare_u_mm": 0.003, "overall_mm": [0.9],
    "strands": None, "gauge": "AWG 20", "overall_u_mm": 0.01,
    "mean_turn_mm": 92, "mean_turn_u_mm": 1, "width_mm": 11, "height_mm": 25,
    "build_mm": 5.7, "sides_u_mm": 0.4, "ohms": 0.64, "ohms_u": 0.005, "celsius": 24, "celsius_u": 2,
    "lead_gauge": "AWG 16", "lead_mm": 900, "grams": 86, "grams_u": 1,
    "enamelled": True, "tails_mm": 600, "bare_mm": [],
}  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_worked_examples_are_answered_as_kept(name: str) -> None:
    kept = example(name)
    assert near(kept["answer"], answer(kept["ask"]))
    QUESTION[kept["ask"]["ask"]].validate(kept["ask"])
    ANSWER[kept["ask"]["ask"]].validate(kept["answer"])


@pytest.mark.parametrize("ask", [MEASURED, STRAIGHT, TRACED, FULL], ids=["measured", "straight", "traced", "full"])
def test_every_field_is_taken_and_answered_by_the_schema(ask: Json) -> None:
    QUESTION[ask["ask"]].validate(ask)
    told = answer(ask)
    assert "error" not in told, told
    ANSWER[ask["ask"]].validate(told)


def test_a_line_without_an_id_is_answered_without() -> None:
    assert answer(MEASURED)["id"] is None
    assert answer({"ask": "strip"})["worths"] == {}
    assert answer({"ask": "layout", "teeth": 4, "phases": 1, "connection": "series"})["id"] is None


def test_wire_by_name_is_told_in_ohms_and_grams() -> None:
    """18.0 m of AWG 20 (32.0 mil): 0.59812 ohm, 83.03 g; computed from IEC 60028's constants."""
    told = answer(WIRE)
    assert told["length"]["ohms"] == pytest.approx(0.59812, abs=5e-6)
    assert told["length"]["grams"] == pytest.approx(83.03, abs=5e-3)
    warm = answer(WIRE | {"celsius": 75, "strands": 2})
    # k = 234.5 (IEC 60228, by secondary reprint): 1.21611 from 20 to 75 C
    assert warm["length"]["ohms"] == pytest.approx(0.59812 * 1.21611 / 2, rel=1e-5)
    assert warm["length"]["grams"] == pytest.approx(2 * 83.03, rel=1e-4)


def test_wire_by_measure_is_told_what_it_may_be() -> None:
    assert [c["gauge"] for c in answer(MEASURED)["likely"]] == ["AWG 20", "0.800 mm"]
    assert answer(MEASURED)["overall"] == []


def test_a_coil_is_drawn_wire_by_wire_and_only_when_asked() -> None:
    told = answer(COIL)
    assert sum(len(r["x_mm"]) for r in told["drawing"]) == 24
    assert told["layers"] == len(told["drawing"]) == len(told["turns_per_layer"])
    assert answer(COIL | {"draw": False}) == told | {"drawing": None}


def test_a_coil_that_misses_says_by_how_much() -> None:
    told = answer(MISSES)
    assert "17 too many: 33 of" in told["error"]
    assert "mm deeper" in told["error"]
    close = answer(changed(COIL, "room.flywheel_mm", 32.5))
    assert close["error"].startswith("room.flywheel_mm: the coil comes 0.20 mm too close")


def test_the_shops_own_figures_count() -> None:
    assert answer(STRAIGHT)["turns_fitting"]["high"] > answer(STRAIGHT | {"fills": {}})["turns_fitting"]["high"]
    assert answer(STRAIGHT)["buy_grams"] == pytest.approx(1.2 * answer(STRAIGHT)["copper_grams"])
    assert answer(TRACED)["window"]["corners"][-1] == [20, 4]


def test_a_stripped_coil_tells_what_nobody_counted_and_names_the_liar() -> None:
    told = answer(STRIP)
    assert told["worths"]["turns"]["recorded"] is False
    assert told["worths"]["turns"]["value"] == pytest.approx(200, abs=2 * told["worths"]["turns"]["u"])
    assert told["gauges"][0] | {"builds": ["single"]} == told["gauges"][0]
    assert answer(LIAR)["liar"] == "turns"


def test_lines_are_answered_in_order_and_refusals_told() -> None:
    out = io.StringIO()
    lines = [json.dumps(MEASURED), "", '{"id": "b", "ask": "wind"}', json.dumps(WIRE), '{"id": "c"}', "{"]
    assert rewind_lines(io.BytesIO("\n".join(lines).encode()), out) is False
    told = [json.loads(line) for line in out.getvalue().splitlines()]
    assert [t["id"] for t in told] == [None, "b", "bench-4", "c", None]
    assert told[1]["error"].endswith(f"known are {', '.join(ASKS)}.")
    assert told[3]["error"] == "ask: is missing."
    assert rewind_lines(io.BytesIO(json.dumps(WIRE).encode()), io.StringIO()) is True


# ---- refusals

# (the ask, what its refusal begins with, a word of it)
REFUSED: dict[str, tuple[Json, str, str]] = {
    "unknown field": (WIRE | {"colour": 1}, "colour", "not a field"),
    "neither name nor mm": (changed(WIRE, "gauge", REMOVED), "gauge", "one of them"),
    "name and mm": (WIRE | {"mm": 0.8}, "gauge", "one of them"),
    "a caliper of a name": (WIRE | {"u_mm": 0.01}, "u_mm", "not a field"),
    "no name": (WIRE | {"gauge": "twenty"}, "gauge", "AWG 20"),
    "off the table": (WIRE | {"gauge": "AWG 7"}, "gauge", "AWG 8 to 46"),
    "no such build": (WIRE | {"build": "grade-1"}, "build", "measure it"),
    "no code of a build": (WIRE | {"build": "thick"}, "build", "known are"),
    "too thick": (MEASURED | {"mm": 11}, "mm", "0.01 to 10"),
    "a perfect caliper": (MEASURED | {"u_mm": 0}, "u_mm", "must lie"),
    "no strands": (MEASURED | {"strands": 0}, "strands", "from 1 to 32"),
    "negative length": (WIRE | {"metres": -1}, "metres", "from 0"),
    "red heat": (WIRE | {"celsius": 700}, "celsius", "degrees"),
    "no wire": (changed(COIL, "wire", REMOVED), "wire", "missing"),
    "a wire of no table": (changed(COIL, "wire.gauge", "AWG 7"), "wire.gauge", "AWG 8 to 46"),
    "no enamel": (changed(COIL, "wire.build", REMOVED), "wire.build", "one of them"),
    "no turns": (COIL | {"turns": 0}, "turns", "from 1"),
    "half a turn": (COIL | {"turns": 2.5}, "turns", "whole number"),
    "no core": (changed(COIL, "core", REMOVED), "core", "missing"),
    "no teeth": (changed(COIL, "core.teeth", REMOVED), "core.teeth", "3 to 96"),
    "two teeth": (changed(COIL, "core.teeth", 2), "core.teeth", "3 to 96"),
    "a ring's gap": (changed(COIL, "core.gap_mm", 3), "core.gap_mm", "only a straight core"),
    "no root": (changed(COIL, "core.root_mm", REMOVED), "core.root_mm", "missing"),
    "tip within root": (changed(COIL, "core.tip_mm", 10), "core.tip_mm", "further out"),
    "a leg's teeth": (changed(STRAIGHT, "core.teeth", 4), "core.teeth", "no ring"),
    "no gap": (changed(STRAIGHT, "core.gap_mm", REMOVED), "core.gap_mm", "needs the gap"),
    "no width": (changed(COIL, "core.tooth_mm", 0), "core.tooth_mm", "above 0"),
    "a negative liner": (changed(COIL, "lining.flank_mm", -1), "lining.flank_mm", "from 0"),
    "all lining": (changed(COIL, "lining.flank_mm", 9), "lining", "no room"),
    "a dented window": (changed(TRACED, "window.corners.1", [19, 2]), "window.corners", "convex"),
    "two corners": (changed(TRACED, "window", {"corners": [[0, 0], [1, 0]]}), "window.corners", "convex"),
    "half a corner": (changed(TRACED, "window.corners.1", [19]), "window.corners[1]", "[x, y]"),
    "no flywheel": (changed(COIL, "room.flywheel_mm", -1), "room.flywheel_mm", "from 0"),
    "a lattice's fill": (COIL | {"fills": {"scramble": 0.91}}, "fills.scramble", "0.907"),
    "rubber wire": (COIL | {"allowances": {"stretch": 0.5}}, "allowances.stretch", "from 0"),
    "thick sheet": (COIL | {"between_mm": 11}, "between_mm", "0 to 10"),
    "a manner": (COIL | {"manner": "neat"}, "manner", "known are"),
    "too many": (MISSES, "turns", "too many"),
    "too near": (changed(COIL, "room.flywheel_mm", 32), "room.flywheel_mm", "too close"),
    "turns as one number": (STRIP | {"turns": 200}, "turns", "list"),
    "no turn": (STRIP | {"turns": [200, 0]}, "turns[1]", "from 0.25"),
    "half a strand": (STRIP | {"strands": 1.5}, "strands", "whole number"),
    "too many strands": (STRIP | {"strands": 33}, "strands", "1 to 32"),
    "a book's nonsense": (STRIP | {"gauge": "thin"}, "gauge", "AWG 20"),
    "a loom of no table": (STRIP | {"lead_gauge": "AWG 2"}, "lead_gauge", "AWG 8 to 46"),
    "a loom without gauge": (STRIP | {"lead_mm": 300}, "lead_gauge", "needs its gauge"),
    "all loom": (STRIP | {"lead_gauge": "AWG 30", "lead_mm": 9000}, "ohms", "nothing of this reading"),
    "no grams": (STRIP | {"grams": 0}, "grams", "0.001"),
    "no coils": (STRIP | {"coils": 0}, "coils", "1 to 1000"),
}  # fmt: skip
# refusals of meaning, which a Schema can't say
BEYOND = {
    "off the table", "no such build", "a wire of no table", "tip within root", "all lining", "a dented window",
    "too many", "too near", "a loom of no table", "a loom without gauge", "all loom",
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_used_is_refused_by_its_field(case: str) -> None:
    ask, field, word = REFUSED[case]
    told = answer(ask)
    assert told["id"] == ask.get("id")
    assert told["error"].startswith(field + ": "), told["error"]
    assert word in told["error"]
    ANSWER[ask["ask"]].validate(told)


@pytest.mark.parametrize("case", REFUSED)
def test_the_schema_refuses_all_that_its_words_can_say(case: str) -> None:
    ask = REFUSED[case][0]
    assert QUESTION[ask["ask"]].is_valid(ask) == (case in BEYOND)


@pytest.mark.parametrize("name", [f"rewind-{ask}{end}" for ask in ("wire", "coil", "strip") for end in ("", "-answer")])
def test_they_are_schemas_of_draft_2020_12(name: str) -> None:
    s = schema(name)
    Draft202012Validator.check_schema(s)
    assert s["$id"] == f"urn:plugface:schema:{name}-1"
    assert s["title"]
    assert s["description"]
    assert s["$defs"]["number"] == schema("sheet")["$defs"]["number"]
    if name.endswith("-answer"):
        assert s["$defs"]["refused"] == schema("answer")["$defs"]["refused"]


def test_a_wire_is_the_same_everywhere() -> None:
    assert schema("rewind-coil")["$defs"]["wire"] == schema("rewind-substitute")["$defs"]["wire"]


@pytest.mark.parametrize("raw", [b"{", b"\xff", None, b"3", b"[]"])
def test_every_refusal_of_a_line_validates(raw: bytes | None) -> None:
    told, well = rewind_line(raw)
    assert not well
    for one in ANSWER.values():
        one.validate(told)


def taken_is_of_the_schema(ask: Json, name: str) -> None:
    told = answer(ask)
    ANSWER[name].validate(told)
    if "error" not in told:
        assert QUESTION[name].is_valid(json.loads(json.dumps(ask)))


@settings(max_examples=200, deadline=None)
@given(mutated(WIRE | MEASURED | {"gauge": "AWG 20"}))
def test_a_wire_that_is_taken_is_of_the_schema_and_its_answer_too(ask: Json) -> None:
    taken_is_of_the_schema(ask, "wire")


@pytest.mark.parametrize("whole", [COIL, STRAIGHT, TRACED], ids=["ring", "straight", "traced"])
def test_a_coil_that_is_taken_is_of_the_schema_and_its_answer_too(whole: Json) -> None:
    @settings(max_examples=150, deadline=None)
    @given(mutated(whole))
    def held(ask: Json) -> None:
        taken_is_of_the_schema(ask, "coil")

    held()


@settings(max_examples=200, deadline=None)
@given(mutated(FULL))
def test_a_strip_that_is_taken_is_of_the_schema_and_its_answer_too(ask: Json) -> None:
    taken_is_of_the_schema(ask, "strip")


def wild(name: str) -> Any:
    """The worst of its kind that was found."""
    fine = {"gauge": "AWG 44", "build": "single", "strands": 1}
    big = {"facing": "straight", "tooth_mm": 10, "stack_mm": 20, "tip_mm": 1000, "gap_mm": 1000}
    coil = {"ask": "coil", "wire": fine, "turns": 30000, "core": big}
    return {
        "fits": coil,
        "scramble": coil | {"manner": "scramble"},
        "misses": coil | {"core": big | {"gap_mm": 0.2, "tip_mm": 300}},
        "misses scramble": coil | {"core": big | {"gap_mm": 0.2, "tip_mm": 300}, "manner": "scramble"},
        "strip": FULL | {"turns": [60] * 100, "bare_mm": [0.8] * 100, "ohms": 900, "grams": 1},
    }[name]


@pytest.mark.parametrize("name", ["fits", "scramble", "misses", "misses scramble", "strip"])
def test_the_worst_line_is_bounded(name: str) -> None:
    start = time.process_time()
    out = answer(wild(name))
    # a tenth of it where it was measured; a bound that only a runaway breaks
    assert time.process_time() - start < 5
    assert len(json.dumps(out)) < 2 * LONGEST_LINE
