"""A mended part is read anew: repairs are written down for good and what was read before holds no more."""

from dataclasses import replace
from datetime import timedelta

from tests.sitting.fakes import AT, FakeKeeper, bench_file
from tests.sitting.test_says import read_all
from workbench.cards.sayings import under_verdict
from workbench.records import KeptRewind, Outcome, Repair, RepairKind, new_id
from workbench.sitting.bench import Bench
from workbench.sitting.mended import mended_at, repair_line, retested
from workbench.sitting.views import heading
from workbench.stator.judge import SheetVerdict


def good(*, at_once: bool = True) -> tuple[Bench, FakeKeeper]:
    keeper = FakeKeeper(at_once=True)
    bench = Bench(bench_file(), keeper)
    read_all(bench)
    assert bench.judged.verdict is SheetVerdict.GOOD
    keeper.at_once = at_once
    return bench, keeper


def test_a_repair_takes_a_good_verdict_away_until_it_is_read_anew() -> None:
    bench, keeper = good()
    bench.repair(RepairKind.SPLICE, "P 3", " soldered, sleeved ")
    (kept,) = keeper.of("repair")
    assert (kept.kind, kept.where, kept.note) == (RepairKind.SPLICE, "P 3", "soldered, sleeved")
    assert (bench.judged.verdict, bench.judged.overtaken) == (SheetVerdict.NOT_PROVED, True)
    assert heading(bench).progress == "mended since: begin a new sheet"
    assert under_verdict(bench.judged) == "mended since these readings, and not read again"
    assert bench.repairs == (kept,)


def test_a_sheet_begun_after_it_stands_by_itself() -> None:
    bench, _ = good()
    before = Repair(new_id(), bench.job.id, RepairKind.TERMINAL, "P 1", "", AT - timedelta(minutes=5))
    file = replace(bench_file(), repairs=(before,))
    later = Bench(file, FakeKeeper(at_once=True))
    read_all(later)
    assert later.judged.verdict is SheetVerdict.GOOD
    done = KeptRewind(new_id(), bench.job.id, "coil", "", AT, AT + timedelta(minutes=5))
    begun = replace(done, id=new_id(), done_at=None)
    rewound = Bench(replace(file, rewinds=(done, begun)), FakeKeeper(at_once=True))
    read_all(rewound)
    assert rewound.judged.overtaken


def test_what_failed_before_it_stays_failed() -> None:
    bench, _ = good()
    failed = replace(bench.judged, verdict=SheetVerdict.FAIL)
    assert retested(failed, AT, AT + timedelta(days=1)) is failed
    assert mended_at((), None) is None


def test_what_failed_before_it_says_that_it_is_to_be_read_anew() -> None:
    file = bench_file()
    done = KeptRewind(new_id(), file.job.id, "coil", "", AT, AT + timedelta(minutes=5))
    bench = Bench(replace(file, rewinds=(done,)), FakeKeeper(at_once=True))
    read_all(bench, {bench.sheet().plan[0]: "9.9"})
    assert bench.judged.verdict is SheetVerdict.FAIL
    assert heading(bench).progress == "mended since: begin a new sheet"
    later = Bench(replace(file, rewinds=(replace(done, done_at=AT - timedelta(minutes=5)),)), FakeKeeper(at_once=True))
    read_all(later, {later.sheet().plan[0]: "9.9"})
    assert "mended" not in heading(later).progress


def test_a_repair_that_says_nothing_or_can_not_be_kept() -> None:
    bench, keeper = good(at_once=False)
    bench.repair(RepairKind.OTHER, " ", "")
    assert keeper.of("repair") == []
    assert bench.said is not None
    bench.repair(RepairKind.OTHER, "plug", "")
    assert bench.judged.overtaken
    keeper.waiting[-1].fail(OSError("The disk is full."))
    assert bench.repairs == ()
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert "The repair is not kept. The disk is full." in bench.said.sentence


def test_its_line() -> None:
    made = Repair(new_id(), new_id(), RepairKind.GROUND, "tooth 3", "bare again", AT)
    assert repair_line(made, "noon") == "Ground tooth 3, bare again, noon"


def test_a_part_that_was_mended_since_is_read_anew_within_the_same_visit() -> None:
    bench, _ = good()
    assert not bench.came_back
    bench.decide(Outcome.REPAIR, "")
    assert bench.came_back  # nothing was mended since: it went, and is here again
    bench.repair(RepairKind.SPLICE, "P 3", "")
    assert not bench.came_back
