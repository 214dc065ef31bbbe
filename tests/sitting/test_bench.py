"""A whole sheet by keys, without a window."""

from dataclasses import replace

import pytest

from tests.sitting.fakes import FOUR_WIRES, HANDHELD, TAPPED, TWO_COILS, WYE, FakeKeeper, bench_file, bench_of, sound
from workbench.records import KeptReading, NamedMeter, new_id, now
from workbench.sitting.bench import UNDONE, Bench
from workbench.sitting.lines import Keeping
from workbench.sitting.say import Said, Tone
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import CORE, Cavity, Connector, Pair, Pattern, Winding
from workbench.stator.sheet import MOST_READINGS, Reading
from workbench.stator.verdict import Verdict

ONE_COIL = Pattern(
    "one coil",
    (Connector("P", (Cavity("1"), Cavity("2"))),),
    (Winding("coil", "P.1", "P.2", ohms=1000, tolerance_percent=10),),
    checks=(Pair("P.1", "P.2"),),
)
LOW, HIGH, BOTH, LOOP = Pair("P.1", "P.3"), Pair("P.3", "P.2"), Pair("P.1", "P.2"), Pair("P.4", "P.5")
GROUND = Pair("P.1", CORE)


def asks(bench: Bench) -> Said:
    assert bench.said is not None
    assert bench.said.tone is Tone.ASKS
    return bench.said


def refusal(bench: Bench) -> str:
    assert bench.said is not None
    assert bench.said.tone is Tone.REFUSES
    return bench.said.sentence


def choose(bench: Bench, label: str) -> None:
    next(c for c in asks(bench).choices if c.label == label).act()


@pytest.mark.parametrize("pattern", [TWO_COILS, WYE, TAPPED])
@pytest.mark.parametrize("meter", [HANDHELD, FOUR_WIRES], ids=lambda m: m.name)
def test_a_sound_part_is_read_to_good_by_values_and_enter_alone(pattern: str, meter: NamedMeter) -> None:
    bench, keeper = bench_of(pattern, meter=meter)
    plan = bench.pattern.checks or ()
    for i, check in enumerate(plan):
        assert bench.judged.verdict is SheetVerdict.UNFINISHED
        assert bench.offered == check == bench.pair  # in the plan's order, and picked already
        bench.enter(sound(bench, check))
        assert bench.last == check
        assert bench.text == ""
        assert len(keeper.of("reading")) == i + 1
    assert bench.offered is None
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert [k.place for k in keeper.of("reading")] == list(range(1, len(plan) + 1))
    bench.go_on()
    assert bench.said == Said(Tone.TELLS, "Every planned check is read.")


def test_pair_and_value_may_be_typed_in_one_line_or_in_two() -> None:
    bench, keeper = bench_of()
    bench.enter("3 2 17.2")
    bench.enter("L1 L2")
    assert bench.pair == Pair("L.1", "L.2")
    assert bench.plug == "L"
    bench.enter(".6")
    assert [(k.reading.pair, k.reading.ohms, k.typed) for k in keeper.of("reading")] == [
        (HIGH, 17.2, "17.2"), (Pair("L.1", "L.2"), 0.6, ".6"),
    ]  # fmt: skip


def test_an_empty_enter_goes_on_to_the_offered_check_from_elsewhere() -> None:
    bench, _ = bench_of()
    bench.pick(Pair("P.2", "P.5"))  # not planned
    bench.enter("  ")
    assert bench.pair == LOW
    assert bench.said is None


def test_going_on_passes_over_a_check_that_cannot_be_read_now_and_comes_round() -> None:
    bench, _ = bench_of()
    plan = bench.pattern.checks or ()
    assert bench.pair == plan[0]
    seen = []
    for _ in range(len(plan)):
        bench.go_on()
        seen.append(bench.pair)
    assert seen == [*plan[1:], plan[0]]
    assert len(bench.lines) == 0


def test_what_cannot_be_used_stays_in_the_field_with_a_sentence() -> None:
    bench, keeper = bench_of()
    told: list[str] = []
    bench.on_change = lambda: told.append(bench.text)
    for text in ("nonsense", "1 9", "1 3 x", "1,234"):
        bench.enter(text)
        assert bench.text == text
        assert refusal(bench).endswith(".")
    assert told == ["nonsense", "1 9", "1 3 x", "1,234"]
    assert bench.pair == LOW  # nothing half done
    assert keeper.asked == []


def test_a_number_that_no_range_of_the_meter_covers_is_refused_and_stays() -> None:
    bench, keeper = bench_of()
    for text, says in (("30M", "above every range"), ("-5", "below 0")):
        bench.enter(text)
        assert says in refusal(bench)
        assert "Not kept" in refusal(bench)
        assert bench.text == text
    assert keeper.asked == []


def test_a_number_without_a_pair_waits_for_two_pins() -> None:
    bench, keeper = bench_of()
    bench.press("P.1")
    bench.enter("155")
    assert "the other pin" in refusal(bench)
    bench.press("P.1")  # let go of
    assert bench.picked == ()
    bench.enter("155")
    assert "two pins" in refusal(bench)
    assert bench.text == "155"
    bench.open_line()
    assert "two pins" in refusal(bench)
    assert keeper.asked == []


def test_pins_are_pressed_first_second_and_a_new_first() -> None:
    bench, _ = bench_of()
    bench.press("P.4")
    assert bench.picked == ("P.4",)
    assert bench.pair is None
    bench.press("P.5")
    assert bench.pair == LOOP
    bench.press(CORE)
    assert bench.picked == (CORE,)


def test_the_plug_in_sight_follows_a_pair_only_when_neither_pin_is_on_it() -> None:
    bench, _ = bench_of()
    bench.see_plug("L")
    assert bench.plug == "L"
    bench.pick(Pair("P.1", "L.1"))
    assert bench.plug == "L"
    bench.pick(Pair(CORE, "L.2"))
    assert bench.plug == "L"
    bench.pick(LOW)
    assert bench.plug == "P"
    bench.enter("1 2")
    assert bench.pair == BOTH  # of the plug in sight
    bench.see_plug("L")
    bench.enter("1 2")
    assert bench.pair == Pair("L.1", "L.2")


def test_turning_four_times_and_flipping_twice_come_back() -> None:
    bench, _ = bench_of()
    first = bench.view
    for act, times in ((bench.turn, 4), (bench.flip, 2)):
        seen = []
        for _ in range(times):
            act()
            seen.append(bench.view)
        assert bench.view == first
        assert len(set(seen)) == times


def test_every_act_tells() -> None:
    bench, _ = bench_of()
    told: list[int] = []
    bench.on_change = lambda: told.append(1)
    acts = (bench.turn, bench.flip, bench.go_on, bench.open_line, bench.undo,
            lambda: bench.press("P.1"), lambda: bench.pick(LOW), lambda: bench.see_plug("L"))  # fmt: skip
    for act in acts:
        before = len(told)
        act()
        assert len(told) > before


def test_an_outside_reading_is_offered_again_and_the_second_fails_the_part() -> None:
    bench, _ = bench_of()
    bench.enter("114.2")
    assert bench.judged.verdict is SheetVerdict.UNFINISHED
    assert bench.judged.awaiting == (LOW,)
    assert bench.offered == LOW
    assert bench.said is not None
    assert "Lift the probes" in bench.said.sentence
    bench.enter("114.4")
    assert bench.judged.verdict is SheetVerdict.FAIL
    assert bench.judged.failed == (LOW,)
    assert bench.offered == HIGH
    assert bench.said is None or "Lift" not in bench.said.sentence


def test_a_second_reading_that_fits_takes_the_mean_and_lets_the_part_go_on() -> None:
    """108 was a bad touch; struck, the good one stands alone."""
    bench, keeper = bench_of()
    bench.enter("114.2")
    bench.strike(keeper.of("reading")[0].id, "probe slipped")
    bench.enter("155.4")
    assert bench.judged.awaiting == ()
    row = bench.last_row(LOW)
    assert row is not None
    assert row.verdict is Verdict.INSIDE


@pytest.mark.parametrize("open_first", [True, False])
def test_an_open_counts_once_its_contact_is_proved_in_whatever_order(open_first: bool) -> None:
    bench, _ = bench_of()
    for text in ("1 core OL", "1 3 155.2")[:: 1 if open_first else -1]:
        bench.enter(text)
        if text == "1 core OL" and open_first:
            row = bench.last_row(GROUND)
            assert row is not None
            assert row.verdict is Verdict.UNDECIDED
            assert bench.said is not None
            assert "not proved" in bench.said.sentence
    row = bench.last_row(GROUND)
    assert row is not None
    assert row.verdict is Verdict.INSIDE
    # and the proof goes with the reading that gave it
    proof = next(x for x in bench.lines if x.kept.reading.pair == LOW)
    bench.strike(proof.kept.id, "wrong pin")
    row = bench.last_row(GROUND)
    assert row is not None
    assert row.verdict is Verdict.UNDECIDED


def test_a_one_alone_asks_and_either_answer_is_kept() -> None:
    bench, keeper = bench_of()
    bench.enter("1 core 1")
    assert [c.label for c in asks(bench).choices] == ["Overload", "One ohm"]
    assert bench.text == "1 core 1"
    assert keeper.asked == []
    choose(bench, "Overload")
    assert keeper.of("reading")[0].reading.ohms is None
    assert keeper.of("reading")[0].typed == "1"
    bench.enter("4 5 1")
    choose(bench, "One ohm")
    assert keeper.of("reading")[1].reading.ohms == 1.0
    assert keeper.of("reading")[1].typed == "1"
    assert bench.text == ""


def test_a_slip_is_asked_about_once_and_enter_again_keeps_what_was_typed() -> None:
    bench, keeper = bench_of()
    bench.enter("1550")
    assert "155.0 would" in asks(bench).sentence
    assert "Enter again keeps 1550" in asks(bench).sentence
    assert bench.text == "1550"
    assert keeper.asked == []
    bench.enter("1550")
    assert keeper.of("reading")[0].reading.ohms == 1550.0
    assert bench.judged.awaiting == (LOW,)


def test_a_slip_of_one_ohm_is_kept_by_enter_again_too() -> None:
    bench, keeper = bench_of(ONE_COIL)
    bench.enter("1")
    choose(bench, "One ohm")
    assert "1k would" in asks(bench).sentence
    bench.enter("1")
    assert [k.reading.ohms for k in keeper.of("reading")] == [1.0]


def test_the_slip_is_taken_for_what_it_was() -> None:
    bench, keeper = bench_of()
    bench.enter("0.155")
    choose(bench, "It was 0.155k")
    bench.enter("17.2")  # 3 - 2, as offered
    bench.enter("155")  # 1 - 2 reads the other coil: no pair left that would fit
    assert [(k.reading.pair, k.reading.ohms, k.typed) for k in keeper.of("reading")] == [
        (LOW, 155.0, "0.155k"), (HIGH, 17.2, "17.2"), (BOTH, 155.0, "155"),
    ]  # fmt: skip


def test_a_swapped_pair_is_asked_about_by_name_and_can_be_set_right() -> None:
    bench, keeper = bench_of()
    bench.enter("17.2")
    assert "which pair do the probes touch?" in asks(bench).sentence
    choose(bench, "It was P 3 – 2")
    assert keeper.of("reading")[0].reading.pair == HIGH
    assert bench.pair == LOW  # still offered
    bench.enter("3 2 172.4")  # would fit 1 - 2
    choose(bench, "Keep 172.4")
    assert keeper.of("reading")[1].reading.pair == HIGH


def test_another_pair_or_another_number_is_asked_about_anew() -> None:
    bench, keeper = bench_of()
    bench.enter("1550")
    bench.press("P.1")
    bench.press("P.3")
    bench.enter("1550")
    asks(bench)
    bench.enter("1551")
    asks(bench)
    assert keeper.asked == []


def test_a_strike_needs_a_reason_and_leaves_the_reading_in_sight() -> None:
    bench, keeper = bench_of()
    bench.enter("114.2")
    line = bench.lines.every[0]
    bench.strike(line.kept.id, "  ")
    assert "Say why" in refusal(bench)
    assert keeper.of("strike") == []
    bench.strike(line.kept.id, " wrong range ")
    assert [s.reason for s in keeper.of("strike")] == ["wrong range"]
    assert bench.lines.every[0].kept.strike == keeper.of("strike")[0]
    assert bench.judged.rows == ()
    bench.strike(line.kept.id, "again")
    assert len(keeper.of("strike")) == 1


def test_undo_strikes_the_newest_that_counts_and_picks_its_pair() -> None:
    bench, keeper = bench_of()
    bench.enter("155.4")
    bench.enter("17.2")
    bench.undo()
    assert bench.pair == HIGH
    bench.undo()
    assert bench.pair == LOW
    assert [s.reason for s in keeper.of("strike")] == [UNDONE, UNDONE]
    assert len(bench.lines) == 2
    bench.undo()
    assert bench.said == Said(Tone.TELLS, "There is no reading to undo.")
    assert len(keeper.of("strike")) == 2
    bench.enter("155.6")
    assert keeper.of("reading")[-1].place == 3  # places are never used twice


def test_a_full_sheet_takes_no_more_and_keeps_the_number() -> None:
    file = bench_file(TWO_COILS)
    full = [
        KeptReading(new_id(), file.sheet.id, place, Reading(LOW, 155.0), "155", now())
        for place in range(1, MOST_READINGS + 1)
    ]
    keeper = FakeKeeper(at_once=True)
    bench = Bench(replace(file, readings=tuple(full)), keeper)
    bench.pick(LOW)
    for act in (lambda: bench.enter("155"), bench.open_line):
        act()
        assert "begin a new sheet" in refusal(bench)
    assert bench.text == "155"
    assert keeper.asked == []


def test_a_practice_part_answers_for_the_picked_pair_only() -> None:
    bench, _ = bench_of()
    assert bench.practice_shows() is None
    bench.shows = lambda pair: f"{pair}"
    assert bench.practice_shows() == "P.1 - P.3"
    bench.press("P.1")
    assert bench.practice_shows() is None


def test_hollow_until_safe() -> None:
    bench, keeper = bench_of(at_once=False)
    bench.enter("155.4")
    assert [x.keeping for x in bench.lines] == [Keeping.HOLLOW]
    assert bench.judged.rows[0].verdict is Verdict.INSIDE  # judged at once
    bench.enter("17.2")  # the next pair is read meanwhile
    assert bench.lines.saving
    for asked in reversed(keeper.waiting):  # in whatever order
        asked.ack()
    assert [x.keeping for x in bench.lines] == [Keeping.SAFE, Keeping.SAFE]
    assert not bench.lines.saving
