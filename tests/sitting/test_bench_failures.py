"""When the disk says no: nothing that was typed is lost, nothing is called safe that isn't, and a way on is told."""

from dataclasses import replace

import pytest

from tests.sitting.fakes import DISK_FULL, FakeKeeper, bench_of
from workbench.records import NamedMeter, Outcome, SheetHead, new_id
from workbench.sitting.bench import Bench
from workbench.sitting.lines import Keeping
from workbench.sitting.say import Tone
from workbench.stator.judge import SheetVerdict
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions

LOW, HIGH = Pair("P.1", "P.3"), Pair("P.3", "P.2")
SMALL = NamedMeter(new_id(), "small", Meter((Range(200, 0.1, 0.8, 3),), open_above_ohms=200))
LARGE = NamedMeter(new_id(), "large", Meter((Range(2000, 0.1, 0.8, 3),), open_above_ohms=2000))


@pytest.fixture
def slow() -> tuple[Bench, FakeKeeper]:
    """A bench whose disk takes its time."""
    return bench_of(at_once=False)


def refusal(bench: Bench) -> str:
    assert bench.said is not None
    assert bench.said.tone is Tone.REFUSES
    return bench.said.sentence


def on(bench: Bench, meter: NamedMeter) -> SheetHead:
    return replace(bench.head, meter_id=meter.id, meter_name=meter.name, meter=meter.meter)


def test_a_reading_that_could_not_be_kept_stays_in_sight_and_counts_no_more(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    keeper.waiting[0].fail()
    assert refusal(bench) == f"155.4 for P 1 – 3 is not kept. {DISK_FULL}"
    (line,) = bench.lines
    assert line.keeping is Keeping.LOST
    assert line.kept.typed == "155.4"
    assert not bench.lines.saving
    assert bench.judged.rows == ()
    assert bench.offered == LOW


def test_trying_again_sends_the_very_same_reading(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    keeper.waiting[0].fail()
    assert bench.said is not None
    (again,) = bench.said.choices
    again.act()
    assert keeper.of("reading")[0] == keeper.of("reading")[1]  # its id makes that harmless
    assert bench.lines.every[0].keeping is Keeping.HOLLOW
    assert bench.said is None
    bench.keep_again(keeper.of("reading")[0].id)  # on its way already
    assert len(keeper.asked) == 2
    keeper.waiting[0].ack()
    assert bench.lines.every[0].keeping is Keeping.SAFE
    assert bench.offered == HIGH


def test_one_of_two_readings_fails_and_the_other_stands(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    bench.enter("17.2")
    first, second = keeper.waiting
    second.ack()
    first.fail()
    assert [x.keeping for x in bench.lines] == [Keeping.LOST, Keeping.SAFE]
    assert [r.reading.pair for r in bench.judged.rows] == [HIGH]
    bench.enter("1 3 155.6")
    assert [x.kept.place for x in bench.lines] == [1, 2, 3]


def test_a_lost_reading_cannot_be_struck_since_nothing_is_kept(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    keeper.waiting[0].fail()
    bench.strike(keeper.of("reading")[0].id, "never mind")
    assert "nothing to strike out" in refusal(bench)
    assert keeper.of("strike") == []


def test_a_strike_that_fails_is_taken_back(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    keeper.waiting[0].ack()
    bench.strike(bench.lines.every[0].kept.id, "wrong pin")
    assert bench.judged.rows == ()
    keeper.waiting[0].fail()
    assert refusal(bench) == f"The reading is not struck out. {DISK_FULL}"
    assert bench.lines.every[0].kept.strike is None
    assert len(bench.judged.rows) == 1
    bench.strike(bench.lines.every[0].kept.id, "wrong pin")
    keeper.waiting[0].ack()
    assert bench.lines.every[0].kept.strike is not None


def test_a_reading_undone_before_it_is_safe_and_then_lost_says_so_with_the_way_on(
    slow: tuple[Bench, FakeKeeper],
) -> None:
    bench, keeper = slow
    bench.enter("155.4")
    bench.undo()
    reading, strike = keeper.waiting
    reading.fail()
    strike.fail(ValueError("there is no such reading"))
    assert "is not kept" in refusal(bench)
    assert bench.lines.every[0].keeping is Keeping.LOST
    assert bench.lines.every[0].kept.strike is None
    bench.keep_again(reading.record.id)
    keeper.waiting[0].ack()
    assert bench.lines.every[0].counts


def test_an_undo_that_fails_at_once_is_not_hidden_by_picking_the_pair() -> None:
    bench, keeper = bench_of()
    bench.enter("155.4")
    keeper.at_once = False
    keeper.strike = lambda strike, then=None, failed=None: failed(DISK_FULL)  # type: ignore[method-assign,misc,assignment]
    bench.undo()
    assert "not struck out" in refusal(bench)
    assert bench.pair == LOW


def test_a_decision_stands_at_once_and_is_taken_back_where_it_fails(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.decide(Outcome.REWIND, " third tooth ")
    first = bench.decided
    assert first is not None
    assert (first.outcome, first.note, first.verdict) == (Outcome.REWIND, "third tooth", SheetVerdict.UNFINISHED)
    keeper.waiting[0].ack()
    bench.decide(Outcome.SCRAP, "")
    keeper.waiting[0].fail()
    assert refusal(bench) == f"The decision is not kept. {DISK_FULL}"
    assert bench.decided == first


def test_a_later_decision_outlives_the_failure_of_an_earlier_one(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.decide(Outcome.REWIND, "")
    bench.decide(Outcome.SCRAP, "")
    first, second = keeper.waiting
    first.fail()
    second.ack()
    assert bench.decided == second.record
    bench.decide(Outcome.PASS, "")
    bench.decide(Outcome.REPAIR, "")
    for asked in keeper.waiting:
        asked.fail()
    assert bench.decided == second.record  # the last one that is kept, not the one that failed before


def test_new_conditions_judge_every_reading_anew(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("195.0")
    assert bench.judged.awaiting == (LOW,)
    warm = replace(bench.head, conditions=Conditions(80.0, 1.0, 0.2, 0.05))
    bench.change_conditions(warm)
    assert bench.judged.awaiting == ()  # 195 x 254.5/314.5 = 157.6
    assert bench.pair == bench.offered == HIGH
    keeper.waiting[-1].ack()
    assert bench.head == replace(warm, version=2)
    assert bench.said is None or bench.said.tone is Tone.TELLS


def test_conditions_that_the_readings_do_not_fit_are_refused_by_name_and_change_nothing() -> None:
    bench, keeper = bench_of()
    bench.enter("1 3 250")
    before, judged = bench.head, bench.judged
    bench.change_conditions(on(bench, SMALL))
    assert "250 for P 1 – 3 doesn't fit that meter: 250 lies above" in refusal(bench)
    assert refusal(bench).endswith("Nothing was changed.")
    assert "readings[" not in refusal(bench)
    assert (bench.head, bench.judged) == (before, judged)
    assert keeper.of("conditions") == []


def test_conditions_that_could_not_be_kept_are_taken_back(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    bench.enter("195.0")
    before = bench.head
    bench.change_conditions(replace(before, conditions=Conditions(80.0, 1.0, 0.2, 0.05)))
    keeper.waiting[-1].fail()
    assert refusal(bench) == f"The change is not kept. {DISK_FULL}"
    assert bench.head == before
    assert bench.judged.awaiting == (LOW,)


def test_two_changes_in_a_row_each_start_from_the_version_that_is_kept(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    opened = bench.head
    bench.change_conditions(replace(opened, iron_ohms=0.4))
    bench.change_conditions(replace(opened, iron_ohms=0.5))  # its dialog stood open before the first was safe
    assert bench.head.iron_ohms == 0.5
    assert len(keeper.waiting) == 1
    keeper.waiting[0].ack()
    assert bench.head.iron_ohms == 0.5
    keeper.waiting[0].ack()
    assert [(h.iron_ohms, h.version) for h in keeper.of("conditions")] == [(0.4, 1), (0.5, 2)]
    assert (bench.head.iron_ohms, bench.head.version) == (0.5, 3)


def test_a_change_that_fails_takes_the_one_after_it_along(slow: tuple[Bench, FakeKeeper]) -> None:
    bench, keeper = slow
    opened = bench.head
    bench.change_conditions(replace(opened, iron_ohms=0.4))
    bench.change_conditions(replace(opened, iron_ohms=0.5))
    keeper.waiting[0].fail()
    assert keeper.waiting == []
    assert bench.head == opened
    assert "not kept" in refusal(bench)
    bench.change_conditions(replace(bench.head, iron_ohms=0.5))
    keeper.waiting[0].ack()
    assert (bench.head.iron_ohms, bench.head.version) == (0.5, 2)


def test_readings_taken_under_a_change_that_then_fails_are_not_lost() -> None:
    """They would not fit the old meter: the new one stays in sight, and it is said that it is not kept."""
    bench, keeper = bench_of(meter=SMALL, at_once=False)
    bench.change_conditions(on(bench, LARGE))
    bench.enter("1 3 250")
    change = keeper.waiting[0]
    change.fail()
    assert "is not kept" in refusal(bench)
    assert "enter it again" in refusal(bench)
    assert [x.kept.typed for x in bench.lines] == ["250"]
    assert bench.head.meter == LARGE.meter
    bench.change_conditions(bench.head)
    for asked in keeper.waiting:
        asked.ack()
    assert bench.head.version == 2


def test_a_strike_on_its_way_keeps_the_meter_that_its_reading_needs() -> None:
    """The strike may fail, and then the reading counts again."""
    bench, keeper = bench_of(at_once=False)
    bench.enter("1 3 250")
    keeper.waiting[0].ack()
    bench.undo()
    bench.change_conditions(on(bench, SMALL))
    assert "doesn't fit" in refusal(bench)
    keeper.waiting[0].ack()
    bench.change_conditions(on(bench, SMALL))
    assert bench.head.meter == SMALL.meter


def test_a_lost_reading_that_no_longer_fits_is_not_tried_again() -> None:
    bench, keeper = bench_of(at_once=False)
    bench.enter("1 3 250")
    keeper.waiting[0].fail()
    bench.change_conditions(on(bench, SMALL))
    bench.keep_again(keeper.of("reading")[0].id)
    assert "doesn't fit that meter" in refusal(bench)
    assert bench.lines.every[0].keeping is Keeping.LOST
