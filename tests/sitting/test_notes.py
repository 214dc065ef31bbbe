"""What is remembered of a sitting in words; a reading taken once more; a sheet that is still blank."""

import pytest

from tests.sitting.fakes import FakeKeeper, bench_file, bench_of, sound
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Pair


def read(bench: Bench, pair: Pair) -> None:
    bench.pick(pair)
    bench.enter(sound(bench, pair))


def test_a_note_is_kept_with_the_sheet_as_written() -> None:
    bench, keeper = bench_of(at_once=False)
    bench.write_note("  splice at plug P,\ncustomer's own work \n")
    assert bench.head.note == "splice at plug P,\ncustomer's own work"
    asked = keeper.asked[-1]
    assert (asked.what, asked.record.note) == ("conditions", bench.head.note)
    asked.ack()
    count = len(keeper.asked)
    bench.write_note("splice at plug P,\ncustomer's own work")
    assert len(keeper.asked) == count  # nothing new was said
    bench.write_note("")
    assert keeper.asked[-1].record.note == ""


def test_a_note_that_is_not_kept_is_put_back_and_said() -> None:
    bench, keeper = bench_of(at_once=False)
    bench.write_note("cracked tooth")
    keeper.asked[-1].fail()
    assert bench.head.note == ""
    assert bench.said is not None
    assert "not kept" in bench.said.sentence


def test_an_earlier_sheet_takes_no_note() -> None:
    keeper = FakeKeeper()
    bench = Bench(bench_file(), keeper, past=True)
    bench.write_note("too late")
    assert (bench.head.note, keeper.asked) == ("", [])
    assert bench.said is not None
    assert "only to look at" in bench.said.sentence


def test_reading_again_picks_the_pair_of_the_named_reading_or_of_the_newest() -> None:
    bench, _ = bench_of()
    first, second = bench.sheet().plan[:2]
    read(bench, first)
    read(bench, second)
    bench.read_again()
    assert bench.pair == second
    bench.read_again(bench.lines.every[0].kept.id)
    assert bench.pair == first
    bench.enter(sound(bench, first))
    row = bench.last_row(first)
    assert row is not None
    assert row.repeats == 2


def test_there_is_nothing_to_read_again_on_a_blank_sheet() -> None:
    bench, _ = bench_of()
    pair = bench.pair
    assert bench.is_blank
    bench.read_again()
    assert bench.pair == pair
    assert bench.said is not None
    assert "Nothing is read yet" in bench.said.sentence


@pytest.mark.parametrize("struck", [False, True])
def test_a_sheet_with_a_reading_is_not_blank_even_where_it_was_struck(struck: bool) -> None:
    bench, _ = bench_of()
    read(bench, bench.sheet().plan[0])
    if struck:
        bench.undo()
    assert not bench.is_blank
