"""The published example as a test vector, and what a sheet may leave out."""

import io
import json
import math
from typing import Any

import pytest

from tests.exchange.example import EXAMPLE, Json, ask, ask_one, read, sheet
from workbench.exchange.lines import judge_lines
from workbench.exchange.patterns import pattern_from_json
from workbench.stator.pattern import Pattern

ROUNDED = 5e-4  # the example prints three decimals


def row(*pairs: tuple[str, str, float | None], **changes: Any) -> Json:
    answer: Json = ask_one(read(*pairs, **changes))["readings"][0]
    return answer


def pattern(**changes: Any) -> Json:
    out: Json = EXAMPLE["pattern"] | changes
    return out


def test_the_published_example() -> None:
    answer = ask_one(EXAMPLE)
    assert set(answer) == {"id", "verdict", "readings", "findings", "next"}
    assert (answer["id"], answer["verdict"]) == ("sheet-1", "good")
    number, overload = answer["readings"]
    assert list(number) == [
        "from", "to", "ohms_corrected", "uncertainty", "expanded", "expected_ohms", "low", "high", "verdict",
        "probability_inside",
    ]  # fmt: skip
    printed = {"ohms_corrected": 244.876, "uncertainty": 2.808, "expanded": 5.615, "expected_ohms": 245.0, "low": 220.5,
               "high": 269.5, "probability_inside": 1.0}  # fmt: skip
    assert {k: number[k] for k in printed} == pytest.approx(printed, abs=ROUNDED)
    assert (number["from"], number["to"], number["verdict"]) == ("P.1", "P.3", "inside")
    assert overload == {
        "from": "P.1", "to": "core", "ohms_corrected": None, "uncertainty": None, "expanded": None,
        "expected_ohms": None, "low": None, "high": None, "verdict": "inside", "probability_inside": 1.0,
    }  # fmt: skip


def test_numbers_are_written_unrounded() -> None:
    shown = ask_one(EXAMPLE)["readings"][0]["ohms_corrected"]
    assert shown == (247 - 0.2) * (234.5 + 20) / (234.5 + 22)


def test_a_link_has_half_an_ohm_where_it_says_nothing() -> None:
    bare = pattern(links=[{"name": "loop", "from": "P.4", "to": "P.5"}])
    got = row(("P.4", "P.5", 0.3), pattern=bare)
    assert (got["low"], got["high"], got["expected_ohms"]) == (0.0, 0.5, 0.02)


@pytest.mark.parametrize(("shown", "verdict"), [(0.2, "inside"), (0.6, "continuous"), (1.5, "outside")])
def test_a_link_is_judged_one_sided(shown: float, verdict: str) -> None:
    assert row(("P.4", "P.5", shown))["verdict"] == verdict


@pytest.mark.parametrize(("shown", "verdict"), [(0.4, "inside"), (4.0, "inside"), (5.1, "undecided"), (9.0, "outside")])
def test_a_tolerance_of_a_hundred_per_cent_is_a_high_limit_alone(shown: float, verdict: str) -> None:
    under = EXAMPLE["pattern"]["windings"][0] | {"ohms": 2.5, "tolerance_percent": 100}
    got = row(("P.1", "P.3", shown), pattern=pattern(windings=[under, EXAMPLE["pattern"]["windings"][1]]))
    assert (got["low"], got["high"], got["expected_ohms"]) == (0.0, 5.0, 2.5)
    assert got["verdict"] == verdict


def test_a_link_inside_a_longer_path_counts_a_fiftieth_of_an_ohm_low_and_high() -> None:
    longer = pattern(links=[{"name": "loop", "from": "P.3", "to": "P.5"}])
    got = row(("P.1", "P.5", 247), pattern=longer)
    assert (got["expected_ohms"], got["low"], got["high"]) == pytest.approx((245.02, 220.52, 269.52))


@pytest.mark.parametrize(
    ("limit", "shown", "verdict"),
    [(None, 9e5, "outside"), (None, 1.1e6, "undecided"), (2e6, 1.1e6, "outside"), (5e5, 9e5, "undecided")],
)
def test_a_number_where_it_should_be_open_is_held_against_the_open_limit(
    limit: float | None, shown: float, verdict: str
) -> None:
    limits = {} if limit is None else {"open_limit_ohms": limit}
    got = row(("P.1", "core", shown), pattern=pattern(**limits))
    assert got["verdict"] == verdict
    assert got["probability_inside"] == (0.0 if verdict == "outside" else None)
    assert got["low"] is None


def test_an_open_on_a_meter_that_does_not_reach_the_open_limit_is_undecided() -> None:
    low = EXAMPLE["meter"] | {"ranges": EXAMPLE["meter"]["ranges"][:2], "open_above_ohms": 2000}
    got = row(("P.1", "core", None), meter=low)
    assert (got["verdict"], got["probability_inside"]) == ("undecided", None)


def test_without_open_above_the_highest_range_ends_the_meter() -> None:
    meter = {k: v for k, v in EXAMPLE["meter"].items() if k != "open_above_ohms"}
    assert row(("P.1", "core", None), meter=meter)["verdict"] == "inside"


def test_an_open_is_taken_on_the_highest_range_unless_one_is_named() -> None:
    named = [{"from": "P.1", "to": "core", "open": True, "range_upto_ohms": 2000}]
    assert ask_one(sheet(readings=named, checks=None))["readings"][0]["verdict"] == "undecided"


def test_ranges_may_stand_in_any_order() -> None:
    turned = EXAMPLE["meter"] | {"ranges": EXAMPLE["meter"]["ranges"][::-1]}
    assert ask_one(sheet(meter=turned)) == ask_one(EXAMPLE)


def test_the_range_is_the_lowest_that_covers_the_number_unless_one_is_named() -> None:
    by_itself = row(("P.3", "P.2", 31.2))
    named = [{"from": "P.3", "to": "P.2", "ohms": 31.2, "range_upto_ohms": 2000}]
    coarser = ask_one(sheet(readings=named, checks=None))["readings"][0]
    f = 254.5 / 256.5
    gain, leads, warm = 0.008 * 31.2 / math.sqrt(3), 0.05, 31.0 * 2 / 256.5
    for got, digit in ((by_itself, 0.3), (coarser, 3.0)):
        assert got["uncertainty"] == pytest.approx(f * math.hypot(gain, digit / math.sqrt(3), leads, warm), rel=1e-12)


def test_checks_fall_back_to_the_patterns_and_then_to_what_was_read() -> None:
    planned = pattern(checks=[["P.1", "P.3"], ["P.3", "P.2"]])
    one = ("P.1", "P.3", 247)
    assert ask_one(read(one, pattern=planned))["verdict"] == "unfinished"
    assert ask_one(read(one, pattern=planned, checks=[["P.3", "P.1"]]))["verdict"] == "good"
    assert ask_one(read(one))["verdict"] == "good"
    assert ask_one(read(one, checks=[]))["verdict"] == "unfinished"
    assert ask_one(read())["verdict"] == "unfinished"


def test_a_repeated_pair_has_a_row_each_with_the_means_values() -> None:
    f = 254.5 / 256.5
    close = ask_one(read(("P.1", "P.3", 246), ("P.3", "P.2", 31.2), ("P.3", "P.1", 248)))["readings"]
    assert [(r["from"], r["to"]) for r in close] == [("P.1", "P.3"), ("P.3", "P.2"), ("P.3", "P.1")]
    assert close[0]["ohms_corrected"] == close[2]["ohms_corrected"] == pytest.approx(f * 246.8)
    shared = math.hypot(0.008 * 247 / math.sqrt(3), 0.05, 246.8 * 2 / 256.5)
    # the digit part goes down by sqrt 2: s = sqrt 2 is the smaller
    assert close[0]["uncertainty"] == pytest.approx(f * math.hypot(shared, 3 / math.sqrt(3) / math.sqrt(2)), rel=1e-12)
    assert close[2]["uncertainty"] == close[0]["uncertainty"]
    wide = ask_one(read(("P.1", "P.3", 240), ("P.1", "P.3", 247), ("P.1", "P.3", 254)))["readings"][0]
    # s = 7 over sqrt 3 is larger than the digits' 1
    assert wide["uncertainty"] == pytest.approx(f * math.hypot(shared, 7 / math.sqrt(3)), rel=1e-12)


def test_a_number_and_an_overload_of_one_pair_are_not_averaged() -> None:
    number, overload = ask_one(read(("P.1", "P.3", 247), ("P.1", "P.3", None)))["readings"]
    assert (number["verdict"], overload["verdict"]) == ("inside", "outside")
    assert overload["ohms_corrected"] is None


def test_contacts_not_proved_leave_every_open_undecided() -> None:
    pairs = (("P.1", "P.3", 247), ("P.1", "core", None), ("P.3", "P.2", None))
    answer = ask_one(read(*pairs, contacts_proved=False))
    assert [r["verdict"] for r in answer["readings"]] == ["inside", "undecided", "undecided"]
    assert [r["probability_inside"] for r in answer["readings"][1:]] == [None, None]
    assert answer["verdict"] == "not proved"
    assert ask_one(read(*pairs, contacts_proved=True)) == ask_one(read(*pairs))


def test_an_overload_where_it_should_join() -> None:
    assert row(("P.1", "P.3", None)) | {"from": "", "to": ""} == {
        "from": "", "to": "", "ohms_corrected": None, "uncertainty": None, "expanded": None, "expected_ohms": 245.0,
        "low": 220.5, "high": 269.5, "verdict": "outside", "probability_inside": 0.0,
    }  # fmt: skip
    # the band ends above the top of this range: the part may be sound
    short = [{"from": "P.1", "to": "P.3", "open": True, "range_upto_ohms": 200}]
    answer = ask_one(sheet(readings=short, checks=None))
    assert answer["readings"][0]["verdict"] == "undecided"
    assert answer["verdict"] == "not proved"


def test_an_outside_reading_counts_as_repeated() -> None:
    assert ask_one(read(("P.1", "P.3", 300)))["verdict"] == "fail"


def test_a_diode_answers_null_with_a_note_and_keeps_its_polarity() -> None:
    d = {"name": "d", "from": "P.2", "to": "core", "element": "diode"}
    diode = pattern(windings=[*EXAMPLE["pattern"]["windings"], d])
    answer = ask_one(read(("P.2", "core", 500), ("core", "P.2", None), ("P.1", "P.3", 247), pattern=diode))
    for got in answer["readings"][:2]:
        assert (got["verdict"], got["probability_inside"], got["expected_ohms"]) == (None, None, None)
        assert "not to be judged by ohms" in got["note"]
        assert got["ohms_corrected"] is None
    assert "note" not in answer["readings"][2]
    assert answer["verdict"] == "good"


def test_low_and_high_give_their_middle_as_nominal() -> None:
    one = pattern(windings=[{"name": "a", "from": "P.1", "to": "P.3", "low_ohms": 200, "high_ohms": 260}])
    got = row(("P.1", "P.3", 230), pattern=one)
    assert (got["low"], got["expected_ohms"], got["high"]) == (200, 230, 260)


def test_defaults_of_a_plugs_drawing() -> None:
    p = pattern_from_json(EXAMPLE["pattern"])
    (plug,) = p.connectors
    assert str(plug.key) == "bottom"
    assert {str(c.terminal) for c in plug.cavities} == {"blade"}
    assert plug.places == ((0, 0), (1, 0), (2, 0), (3, 0), (4, 0))
    bare = pattern(windings=[{"name": "a", "from": "P.1", "to": "P.3", "ohms": 1, "tolerance_percent": 10}])
    assert str(pattern_from_json(bare).windings[0].kind) == "other"
    assert str(p.conductor) == "copper"


def test_a_pattern_by_name() -> None:
    known: dict[str, Pattern] = {"two coils": pattern_from_json(EXAMPLE["pattern"])}
    out = io.StringIO()
    lines = [json.dumps(sheet(pattern=name)).encode() for name in ("two coils", "three coils")]
    well = judge_lines(io.BytesIO(b"\n".join(lines)), out, known.get)
    found, lost = [json.loads(line) for line in out.getvalue().splitlines()]
    assert found == ask_one(EXAMPLE)
    assert "'three coils'" in lost["error"]
    assert not well


def test_aluminium_is_corrected_by_its_own_constant() -> None:
    got = row(("P.1", "P.3", 247), pattern=pattern(conductor="aluminium"))
    assert got["ohms_corrected"] == pytest.approx(246.8 * 245 / 247, rel=1e-12)


def test_nothing_in_an_answer_depends_on_the_sheets_before_it() -> None:
    alone = [ask_one(sheet(id=str(i), celsius=20.0 + i)) for i in range(3)]
    assert ask(*(sheet(id=str(i), celsius=20.0 + i) for i in range(3))) == alone
