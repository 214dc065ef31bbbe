"""What a part may be said to have been found to have: what is offered, what is proposed, what is kept."""

from dataclasses import replace

import pytest

from tests.sitting.fakes import AT, FakeKeeper, bench_file, bench_of
from tests.sitting.test_says import at_once, read, read_all
from workbench.findings.faults import STATED, BenchFault, Fault
from workbench.records import Decided, Outcome, RepairKind, new_id
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.found import NOT_SAID, FoundChoice, found_choices, found_words
from workbench.sitting.says import says
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair

OPEN_FINE = {Pair("P.1", "P.3"): "OL", Pair("P.1", "P.2"): "OL"}


def weighing(decided: Decided | None = None) -> Bench:
    return Bench(replace(bench_file(), decided=decided), FakeKeeper(at_once=True), reckon=at_once)


def failing() -> Bench:
    bench = weighing()
    read_all(bench, OPEN_FINE)
    return bench


def before(found: str, where: str) -> Decided:
    return Decided(new_id(), new_id(), new_id(), Outcome.REPAIR, "", "fail", AT, found, where)


def test_the_explanations_come_first_likeliest_first_then_every_kind_then_not_said() -> None:
    bench = failing()
    got = found_choices(bench)
    assert [c.title for c in got.likely] == [r.title for r in says(bench).rows]
    assert {c.fault for c in got.every} == {*Fault, *BenchFault, ""}
    assert got.every[-1] == NOT_SAID
    assert all(c.where == "" for c in got.others)
    codes = [(c.fault, c.where) for c in got.every]
    assert len(set(codes)) == len(codes)


@pytest.mark.parametrize("outcome", Outcome)
def test_before_anything_is_weighed_nothing_is_proposed(outcome: Outcome) -> None:
    assert found_choices(weighing()).proposed(outcome) is NOT_SAID  # nothing read
    unweighed, _ = bench_of()
    read(unweighed, Pair("P.1", "P.3"), "OL")
    assert found_choices(unweighed).proposed(outcome) is NOT_SAID


def test_a_pass_is_put_down_as_sound_whatever_leads_and_all_else_as_the_leading_fault() -> None:
    bench = failing()
    got = found_choices(bench)
    assert bench.explained is not None
    leading = bench.explained.findings[0]
    assert leading.fault is not Fault.SOUND
    assert got.proposed(Outcome.PASS) == FoundChoice("Sound", Fault.SOUND)
    for outcome in (Outcome.REPAIR, Outcome.REWIND, Outcome.SCRAP):
        assert (got.proposed(outcome).fault, got.proposed(outcome).where) == (leading.fault, leading.where)
    assert got.proposed(None) is NOT_SAID


def test_a_part_that_was_mended_and_passes_is_not_put_down_as_sound() -> None:
    bench = weighing()
    read_all(bench)
    bench.repair(RepairKind.SPLICE, "P 3", "")
    assert found_choices(bench).proposed(Outcome.PASS) is NOT_SAID


def test_on_a_sound_sheet_the_leading_fault_is_proposed_for_a_repair() -> None:
    bench = weighing()
    read_all(bench)
    got = found_choices(bench)
    assert got.likely[0].fault == Fault.SOUND
    assert got.proposed(Outcome.REPAIR).fault != Fault.SOUND
    assert got.proposed(Outcome.REPAIR) == next((c for c in got.likely if c.fault != Fault.SOUND), NOT_SAID)


@pytest.mark.parametrize(
    ("found", "where", "title"),
    [
        ("resistive-lead", "P.2", "Poor joint at P 2"),
        ("shorted-turns", "", "Shorted turns"),
        ("wet-plug", "P.1|P.2", "Wet plug: P 1 and P 2"),
        ("worn-magnets", "", "worn-magnets"),  # said by a program that knows more
    ],
)
def test_what_was_said_before_stands_until_it_is_changed(found: str, where: str, title: str) -> None:
    got = found_choices(weighing(before(found, where)))
    assert got.before == FoundChoice(title, found, where)
    assert got.before in got.every
    assert {got.proposed(o) for o in Outcome} == {got.before}


def test_the_card_and_the_bench_tell_what_it_was_found_to_be() -> None:
    bench = weighing(before("shorted-turns", "low-speed coil"))
    assert found_words(bench) == "Shorted turns in the low-speed coil"
    assert card_facts(bench, AT).found_to_be == found_words(bench)
    assert found_words(weighing(before("", ""))) == ""
    assert found_words(weighing()) == ""


def test_not_said_before_is_no_word_that_stands() -> None:
    assert found_choices(weighing(before("", ""))).before is None


def test_codes_are_kept_with_the_decision_and_a_safe_one_is_told() -> None:
    keeper = FakeKeeper()
    bench = Bench(bench_file(), keeper, reckon=at_once)
    told: list[bool] = []
    bench.on_decided = lambda: told.append(True)
    bench.decide(Outcome.SCRAP, " cracked ", "shorted-turns", "fine")
    (decided,) = keeper.of("decided")
    assert (decided.found, decided.found_where, decided.note) == ("shorted-turns", "fine", "cracked")
    assert told == []
    keeper.waiting[0].ack()
    assert told == [True]
    bench.decide(Outcome.SCRAP, "")
    keeper.waiting[0].fail()
    assert told == [True]
    assert bench.decided == decided


# ---- other odds


def test_the_odds_it_is_given_are_what_it_says_before_the_first_reading() -> None:
    odds = STATED | {Fault.SOUND: 0.3, Fault.SHORTED_TURNS: 0.35}
    bench = Bench(bench_file(), FakeKeeper(), reckon=at_once, priors=odds)

    def sound() -> float:
        assert bench.explained is not None
        return next(f.probability for f in bench.explained.findings if f.fault is Fault.SOUND)

    assert sound() == pytest.approx(0.3)
    bench.stand_on(STATED)
    assert sound() == pytest.approx(0.55)


def test_other_odds_can_take_a_verdict_away_and_give_it_back() -> None:
    bench = weighing()
    read_all(bench)
    assert bench.judged.verdict is SheetVerdict.GOOD
    leaky = dict.fromkeys(STATED, 0.0) | {Fault.SOUND: 1e-9, Fault.SHORTED_TURNS: 1.0}
    bench.stand_on(leaky)
    assert bench.judged.verdict is SheetVerdict.NOT_PROVED
    bench.stand_on(STATED)
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert not bench.judged.outweighed


def test_what_was_said_stays_in_sight_until_it_is_weighed_anew() -> None:
    from tests.sitting.test_says import Later

    later = Later()
    bench = Bench(bench_file(), FakeKeeper(at_once=True), reckon=later)
    read(bench, Pair("P.1", "P.3"), "OL")
    later.weigh()
    first = says(bench).rows
    assert first
    bench.stand_on(STATED | {Fault.OPEN_WINDING: 0.5})
    assert says(bench).rows == first
    later.weigh()
    assert says(bench).rows != first
    bench.stand_on(STATED | {Fault.OPEN_WINDING: 0.5})
    assert later.waiting == []  # the same odds are not weighed again


def test_what_is_weighed_by_odds_of_before_comes_too_late() -> None:
    from tests.sitting.test_says import Later

    later = Later()
    bench = Bench(bench_file(), FakeKeeper(at_once=True), reckon=later)
    (old,) = later.waiting
    later.waiting = []
    bench.stand_on(STATED | {Fault.SOUND: 0.1})
    work, then = old
    found = work()
    assert found is None
    then(found)
    assert bench.explained is None
