"""A note on the sheet, a reading taken once more, a blank sheet that is not begun twice: all by keys."""

from PySide6.QtCore import Qt

from tests.journeys.conftest import Hand, Open
from workbench.window.bench.dialogs import NoteDialog

K = Qt.Key


def write(hand: Hand, text: str) -> None:
    hand.front()
    hand.qtbot.keyClick(hand.page.entry.field, K.Key_F2)
    hand.until(lambda: isinstance(hand.page.dialog, NoteDialog))
    dialog = hand.page.dialog
    assert isinstance(dialog, NoteDialog)
    hand.qtbot.keyClicks(dialog.note, text)
    hand.qtbot.keyClick(dialog.note, K.Key_Tab)
    hand.qtbot.keyClick(dialog.focusWidget(), K.Key_Space)
    hand.until(lambda: hand.page.dialog is None)


def test_a_note_is_there_when_the_store_is_opened_again(demo: Hand, open_window: Open) -> None:
    assert not demo.page.noted.isVisible()
    write(demo, "tooth 4 cracked")
    assert demo.page.noted.text() == "Note: tooth 4 cracked"
    assert demo.page.noted.isVisible()
    demo.until(lambda: demo.bench.head.version == 2)
    write(demo, ", glued")
    demo.until(lambda: demo.bench.head.version == 3)
    store, tag = demo.window.shop._at._place, demo.bench.unit.tag
    demo.close()
    again = open_window(store, start_tag=tag)
    again.until(lambda: again.window.bench_page is not None)
    assert again.page.noted.text() == "Note: tooth 4 cracked, glued"


def test_a_reading_is_taken_again_by_a_key(demo: Hand) -> None:
    demo.type("155.2")
    pair = demo.bench.last
    demo.safe()
    assert demo.bench.pair != pair
    demo.front()
    demo.qtbot.keyClick(demo.page.entry.field, K.Key_F5)
    demo.until(lambda: demo.bench.pair == pair)
    assert demo.page.entry.field.hasFocus()


def test_a_blank_sheet_is_not_begun_twice(demo: Hand) -> None:
    page = demo.page
    demo.press(page.again)
    assert "still empty" in demo.said()
    assert demo.page is page
    demo.type("155.2")
    demo.safe()
    demo.press(page.again)
    demo.until(lambda: demo.page is not page)
    assert demo.bench.is_blank


def test_the_page_scrolls_along_with_the_keys_in_the_pairs(demo: Hand, open_window: Open) -> None:
    store, tag = demo.window.shop._at._place, demo.bench.unit.tag
    demo.close()
    large = open_window(store, text_scale=2.0, start_tag=tag)
    large.until(lambda: large.window.bench_page is not None)
    large.window.resize(1366, 728)
    large.front()
    bar = large.page.scroller.verticalScrollBar()
    table = large.page.pairs.tables[0]
    table.setFocus()
    assert bar.value() == 0
    large.qtbot.keyClick(table, K.Key_Down)
    assert bar.value() > 0
