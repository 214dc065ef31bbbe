"""What a screen reader is told: each piece of news once, in the screen's own words."""

from tests.sitting.fakes import FakeKeeper, bench_file
from workbench.sitting.aloud import aloud, heard
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Pair


def fresh() -> Bench:
    return Bench(bench_file(), FakeKeeper())


def test_a_reading_with_its_verdict_and_the_pair_that_is_next() -> None:
    bench = fresh()
    bench.pick(Pair("P.3", "P.2"))
    before = heard(bench)
    bench.enter("17.1")
    said = aloud(bench, before)
    assert said.startswith("P 3 – 2: ")
    assert "Ω, in. Next: P " in said
    assert aloud(bench, heard(bench)) == ""


def test_a_pair_that_the_bench_did_not_offer_is_in_hand() -> None:
    bench = fresh()
    before = heard(bench)
    bench.pick(Pair("P.1", "P.5"))
    assert aloud(bench, before) == "In hand: P 1 – 5."
    bench.press("P.1")
    assert aloud(bench, heard(bench)) == ""


def test_the_sheets_verdict_is_said_when_it_changes_and_when_it_is_taken_back() -> None:
    bench = fresh()
    for _ in range(2):
        bench.pick(Pair("P.1", "P.3"))
        before = heard(bench)
        bench.enter("115")
    assert ", out. The sheet: FAIL." in aloud(bench, before)
    before = heard(bench)
    bench.undo()
    assert "The sheet: UNFINISHED." in aloud(bench, before)
    assert ", out." not in aloud(bench, before)
