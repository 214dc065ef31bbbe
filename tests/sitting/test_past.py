"""What the readings say of a part that was in the shop before: by its own windings, since the last rewind."""

from dataclasses import replace
from datetime import UTC

from tests.sitting.fakes import FakeKeeper, bench_file
from tests.sitting.pasts import COIL, past_sheet
from tests.sitting.test_says import at_once, read_all
from workbench.findings.faults import Fault
from workbench.records import Outcome, PastSheet
from workbench.sitting.bench import Bench
from workbench.sitting.history import days_of, good_before, remember
from workbench.sitting.says import says
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair

WHOLE = Pair("P.1", "P.2")
FILE = bench_file()
LAST_WINTER = past_sheet(FILE, 1, 300)
LOWER = {COIL: "148.4", WHOLE: "165.6"}  # about 4 % off a coil whose band is 10 %


def back_again(*past: PastSheet, odd: dict[Pair, str] | None = None) -> Bench:
    bench = Bench(FILE, FakeKeeper(at_once=True), reckon=at_once)
    good = good_before(remember(past), bench.head, bench.revision.pattern_id)
    bench.remember(tuple(r.judged.sheet for r in good), days_of(good, UTC))
    read_all(bench, odd)
    return bench


def test_a_small_loss_since_last_winter_is_told_and_holds_the_verdict_back() -> None:
    new = back_again(odd=LOWER)
    assert new.judged.verdict is SheetVerdict.GOOD
    assert says(new).past == ""
    bench = back_again(LAST_WINTER, odd=LOWER)
    assert bench.explained is not None
    first = bench.explained.findings[0]
    assert (first.fault, first.where) == (Fault.SHORTED_TURNS, "low-speed coil")
    assert bench.judged.verdict is SheetVerdict.NOT_PROVED
    view = says(bench)
    assert view.past == "Weighed with its own good sheet of 8 May 2025"
    assert view.past in view.spoken
    assert not view.unlike


def test_the_same_as_last_winter_is_good() -> None:
    bench = back_again(LAST_WINTER, past_sheet(FILE, 2, 100))
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert says(bench).past == "Weighed with its own 2 good sheets, the last of 24 Nov 2025"


def test_a_part_that_no_longer_reads_as_itself_is_asked_about() -> None:
    other = {COIL: "147.4", Pair("P.3", "P.2"): "16.5", WHOLE: "163.6"}
    high = past_sheet(FILE, 1, 300, {COIL: 166.0, Pair("P.3", "P.2"): 18.3, WHOLE: 184.1})
    again = past_sheet(FILE, 2, 100, {k.reading.pair: k.reading.ohms for k in high.readings})
    view = says(back_again(high, again, odd=other))
    assert view.unlike
    assert view.past == ""
    assert view.foot == (
        "It doesn't read as on its own 2 good sheets, the last of 24 Nov 2025: was it rewound or changed since?"
    )


def test_what_was_read_before_a_rewind_says_nothing_of_the_new_winding() -> None:
    failed = past_sheet(FILE, 2, 200, {COIL: None})
    sent = replace(failed, outcome=Outcome.REWIND)
    after = past_sheet(FILE, 3, 100)
    past = remember([LAST_WINTER, sent, after])
    ids = [r.past.head.id for r in good_before(past, FILE.sheet, FILE.revision.pattern_id)]
    assert ids == [after.head.id]
    assert good_before(past[:2], FILE.sheet, FILE.revision.pattern_id) == []
    mended = remember([LAST_WINTER, replace(failed, outcome=Outcome.REPAIR), after])
    assert len(good_before(mended, FILE.sheet, FILE.revision.pattern_id)) == 2


def test_a_sheet_before_is_never_weighed_with_one_after_it() -> None:
    past = remember([LAST_WINTER, past_sheet(FILE, 2, 100)])
    assert good_before(past, LAST_WINTER.head, FILE.revision.pattern_id) == []


def test_only_sheets_that_a_sound_part_explains_count() -> None:
    """A coil that fell by 5 % from one good sheet to the next was not sound at the second."""
    fallen = past_sheet(FILE, 2, 100, {COIL: 147.4, WHOLE: 164.6})
    bench = back_again(LAST_WINTER, fallen, odd={COIL: "141.0", WHOLE: "158.2"})
    assert says(bench).past == "Weighed with its own good sheet of 8 May 2025"
    assert bench.explained is not None
    first = bench.explained.findings[0]
    assert (first.fault, first.where) == (Fault.SHORTED_TURNS, "low-speed coil")
