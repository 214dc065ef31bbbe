"""From a part on the bench to a wire taken and steps ticked: closed, opened again, gone on with."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from demo_shop.reader import read_on
from demo_shop.shelf import REWOUND_TAG
from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import at_the_desk
from tests.journeys.test_by_keys import Keys
from tests.window.rewind.byname import key_of, place_of, row_of
from workbench.window.rewind.foundpage import FoundPage
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.shelfdialog import ShelfDialog
from workbench.window.rewind.stepspage import StepsPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.rewind.woundpage import WoundPage

K, M = Qt.Key, Qt.KeyboardModifier
WINDING = "low-speed coil"


def store_of(hand: Hand) -> Path:
    return Path(str(hand.window.shop._at._place))


def wire_of(desk: RewindPage) -> WirePage:
    return next(p for p in desk.pages if isinstance(p, WirePage))


def steps_of(desk: RewindPage) -> StepsPage:
    return next(p for p in desk.pages if isinstance(p, StepsPage))


def test_by_keys_from_a_failed_part_to_a_wire_and_steps_and_back_after_closing(demo: Hand, open_window: Open) -> None:
    read_on(demo.bench, 40)
    demo.safe()
    assert demo.bench.judged.failed
    tag, store = demo.bench.unit.tag, store_of(demo)
    keys = Keys(demo)
    keys.press(K.Key_W, M.ControlModifier | M.ShiftModifier)
    demo.until(lambda: demo.window.rewinds.page)
    desk = demo.window.rewinds.page
    assert desk is not None
    assert desk.rewinding.winding == WINDING  # what failed
    demo.until(lambda: desk.page.isAncestorOf(keys.at))
    keys.ctrl(key_of("Wire"))
    demo.until(lambda: keys.here == "Gauge")
    for name, typed in (("Gauge", "34"), ("Turns a coil", "900"), ("Turn, mm", "66")):
        keys.tab_to(name)
        keys.ctrl(K.Key_A)
        keys.write(typed)
    keys.tab_to("Build")
    keys.write("s")
    keys.ctrl(K.Key_R)
    wire = wire_of(desk)
    demo.until(lambda: wire.table.ranking.rowCount())
    keys.ctrl(K.Key_T)
    demo.until(lambda: wire.taken.text())
    keys.ctrl(key_of("Steps"))
    keys.ctrl(K.Key_L)
    steps = steps_of(desk)
    demo.until(lambda: steps.tooth.text() == "Tooth 1")
    keys.ctrl(key_of("Steps"))
    keys.press(K.Key_Space)
    demo.until(lambda: steps.tooth.text() == "Tooth 2")
    assert steps.sense.text() == "anticlockwise, 900 turns"
    # closed at once: what is still on its way is waited for
    demo.close()

    back = open_window(store, start_tag=tag)
    back.until(lambda: back.window.bench_page is not None)
    again = at_the_desk(back, tag)
    assert again.rewinding.winding == WINDING
    assert [row_of(again, n).detail for n in ("Wire", "Steps")] == ["AWG 34, single", "1 of 2 wound"]
    again.show_page(place_of("Steps"))
    assert steps_of(again).tooth.text() == "Tooth 2"
    back.press(again.to_bench)
    back.until(lambda: back.window.stack.currentWidget() is back.page)
    assert back.window.rewinds.page is None


def test_one_that_was_begun_is_gone_on_with_and_finished_once(demo: Hand, open_window: Open) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    steps, wire = steps_of(desk), wire_of(desk)
    desk.show_page(place_of("Wire"))
    demo.until(lambda: wire.table.ranking.rowCount())
    demo.press(wire.take)
    desk.show_page(place_of("Steps"))
    for _ in range(7):
        demo.press(steps.wound)
    assert row_of(desk, "Steps").detail == "12 of 12 wound"
    assert "compass" in steps.start.text()
    work = desk.rewinding.body.wire
    assert work is not None
    assert work.chosen is not None
    (draw,) = work.chosen.draws
    before = next(s.grams for s in desk.rewinding.spools if s.id == draw.spool)
    desk.rewinding.finish()
    demo.until(lambda: desk.rewinding.done)
    desk.rewinding.finish()
    left = next(s.grams for s in demo.window.shop.spools().result() if s.id == draw.spool)
    assert abs(before - draw.grams - left) < 1e-6
    demo.press(steps.back)
    assert "finished" in desk.said.sentence
    old = demo.page
    demo.press(desk.to_bench)
    demo.until(lambda: demo.page is not old)  # brought anew: what was read before says nothing of it any more
    assert demo.bench.unit.tag == REWOUND_TAG


def found_of(desk: RewindPage) -> FoundPage:
    return next(p for p in desk.pages if isinstance(p, FoundPage))


def test_what_was_found_is_noted_worked_out_and_there_again_after_closing(demo: Hand, open_window: Open) -> None:
    store = store_of(demo)
    desk = at_the_desk(demo, REWOUND_TAG)
    page = found_of(desk)
    demo.until(lambda: page.verdict.text() == "The figures agree with each other.")
    page.form.lines["turns"].clear()
    demo.qtbot.keyClicks(page.form.lines["turns"], "24 24")
    demo.press(page.note)
    demo.until(lambda: "without the turns counted" in page.verdict.text())
    demo.press(page.to_wire)
    demo.press(desk.said.buttons[0])
    assert desk.said.sentence.startswith("On the page Wire now: AWG 17")
    demo.close()
    back = open_window(store, start_tag=REWOUND_TAG)
    back.until(lambda: back.window.bench_page is not None)
    again = at_the_desk(back, REWOUND_TAG)
    page = found_of(again)
    back.until(lambda: "without the turns counted" in page.verdict.text())
    assert page.form.lines["turns"].text() == "24 24"
    assert page.form.lines["photos"].text() == "drawer 3, film tin 7"
    again.show_page(place_of("Wire"))
    assert wire_of(again).mean_turn.text() == "85.8"


def test_the_shelf_is_noted_and_ranked_at_once(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    wire = wire_of(desk)
    desk.show_page(place_of("Wire"))
    demo.until(lambda: wire.table.ranking.rowCount())
    before = wire.table.ranking.rowCount()
    demo.press(desk.shelf)
    shelf = demo.window.dialog
    assert isinstance(shelf, ShelfDialog)
    demo.press(shelf.another)
    for field, text in ((shelf.name, "attic 19"), (shelf.gauge, "19"), (shelf.grams, "800")):
        demo.qtbot.keyClicks(field, text)
    demo.press(shelf.keep_button)
    demo.until(lambda: any(s.name == "attic 19" for s in shelf.spools))
    demo.qtbot.keyClick(shelf, K.Key_Escape)
    demo.until(lambda: wire.table.ranking.rowCount() > before)
    ranked = wire.desk.ranked
    assert ranked is not None
    assert any(row.cells[0] == "AWG 19, heavy" for row in ranked.rows)


def test_a_change_that_is_not_kept_holds_the_window_open(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    other = demo.window.shop.rewinds_of(desk.rewinding.job.id).result()[0]
    demo.window.shop.save_rewind(replace(other, body='{"v":1}')).result()  # another bench was quicker
    desk.show_page(place_of("Steps"))
    for _ in range(50):
        demo.window.shop.patterns()  # the store is busy with something else
    steps_of(desk).work.tick()  # and closed before it has answered
    demo.window.close()
    assert demo.window.isVisible()
    assert "put back" in desk.said.sentence
    assert row_of(desk, "Steps").detail == "5 of 12 wound"
    demo.window.close()
    assert not demo.window.isVisible()
    assert QApplication.activeModalWidget() is None


def test_coils_are_read_on_the_meter_of_the_bench(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    wound = next(p for p in desk.pages if isinstance(p, WoundPage))
    desk.show_page(desk.pages.index(wound))
    assert f"Read on {demo.bench.head.meter_name}" in wound.coils.of.text()


def test_a_refusal_that_was_seen_is_not_told_again_on_the_bench(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    wire, steps, r = wire_of(desk), steps_of(desk), desk.rewinding
    for _ in range(50):
        demo.window.shop.patterns()  # the store is busy with something else
    steps.work.tick()  # its news come when nobody is at the desk any more
    wire.gauge.setText("AWG 99")
    wire.rank.click()
    assert "not in the table" in desk.said.sentence
    told: list[Exception] = []
    hall = demo.window.rewinds._hall
    hall.say = told.append  # type: ignore[method-assign]  # what would be a dialog
    desk.to_bench.click()
    assert r.saving
    demo.until(lambda: not r.saving)
    assert told == []


def test_closing_waits_for_the_last_of_many_ticks(demo: Hand, open_window: Open) -> None:
    store = store_of(demo)
    steps = steps_of(at_the_desk(demo, REWOUND_TAG))
    for _ in range(4):
        steps.work.tick()  # one is on its way, the rest wait behind it
    demo.window.close()
    assert not demo.window.isVisible()
    back = open_window(store, start_tag=REWOUND_TAG)
    back.until(lambda: back.window.bench_page is not None)
    assert row_of(at_the_desk(back, REWOUND_TAG), "Steps").detail == "9 of 12 wound"
