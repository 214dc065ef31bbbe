"""A unit's past at the bench: drawn, opened to look at, and nothing written into it."""

from PySide6.QtCore import Qt

from demo_shop.roll import stories
from tests.journeys.conftest import Hand
from workbench.findings.faults import Fault
from workbench.stator.pattern import Pair

COIL = Pair("P.1", "P.3")


def on_bench(hand: Hand, tag: str) -> None:
    hand.window.to_counter()
    hand.counter.counter.find(tag)
    hand.until(lambda: hand.window.bench_page and hand.bench.unit.tag == tag and hand.page.history_known)


def test_an_earlier_sheet_is_opened_from_the_history_to_look_at_only(demo: Hand) -> None:
    on_bench(demo, "SL-0139")
    latest = demo.bench.head.id
    demo.bench.pick(COIL)
    assert "P 1 – 3" in demo.page.history.about.text()
    plot = demo.page.history
    chosen: list[object] = []
    plot.sheetChosen.connect(chosen.append)
    target = plot.plot
    assert target is not None
    target.setFocus()
    demo.qtbot.keyClick(target, Qt.Key.Key_Left)
    demo.qtbot.keyClick(target, Qt.Key.Key_Left)
    demo.qtbot.keyClick(target, Qt.Key.Key_Return)
    demo.until(lambda: demo.bench.head.id != latest)
    assert chosen
    assert demo.bench.past
    assert not demo.page.entry.field.isEnabled()
    assert not demo.page.log.undo.isEnabled()
    before = len(demo.bench.lines)
    demo.bench.enter("1 3 155")
    demo.bench.undo()
    assert len(demo.bench.lines) == before
    assert not any(x.kept.strike for x in demo.bench.lines)
    assert "only to look at" in demo.said()
    assert demo.page.again.text() == "Latest sheet"
    demo.press(demo.page.again)
    demo.until(lambda: demo.bench.head.id == latest)
    assert not demo.bench.past
    assert demo.page.entry.field.isEnabled()


def test_a_first_visit_has_nothing_to_compare_with(demo: Hand) -> None:
    demo.until(lambda: demo.page.history_known)
    assert "First time" in demo.page.history.empty.text()
    assert demo.page.history.empty.isVisible()


def test_a_units_own_past_tells_how_small_a_short_can_be_seen(demo: Hand) -> None:
    on_bench(demo, "SL-0139")
    demo.benches.new_sheet(demo.bench, "third time")
    demo.until(lambda: demo.bench.job.complaint == "third time" and demo.page.history_known)
    demo.bench.pick(COIL)
    note = demo.page.band.note.text()
    assert "the smallest short this meter shows is" in note
    assert "Against its own good sheet of" in note


def test_a_part_that_was_here_before_is_weighed_with_its_past(demo: Hand) -> None:
    tag = next(s.tag for s in stories() if s.kind == "drifting")
    on_bench(demo, tag)
    demo.until(lambda: demo.page.says.aside.text() == "with its past")
    assert demo.bench.explained is not None
    assert demo.bench.explained.findings[0].fault in (Fault.SHORTED_TURNS, Fault.WINDING_TO_CORE)
