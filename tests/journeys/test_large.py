"""With text at 200 % on a small screen: what is worked with is always in sight."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import screens
from workbench.window.bench.conditionsdialog import ConditionsDialog


@pytest.fixture
def large(demo: Hand, open_window: Open) -> Hand:
    store = demo.window.shop._at._place
    demo.close()
    hand = open_window(store, text_scale=2.0, start_tag="SL-0147")
    hand.until(lambda: hand.window.bench_page is not None)
    hand.window.resize(1366, 728)
    hand.front()
    return hand


def in_sight(hand: Hand, widget: QWidget) -> bool:
    area = hand.page.scroller.viewport()
    return area.rect().contains(QRect(widget.mapTo(area, QPoint(0, 0)), widget.size()))


def test_what_is_typed_is_seen(large: Hand) -> None:
    field = large.page.entry.field
    large.until(lambda: field.hasFocus() and in_sight(large, field))
    assert large.page.face.side_by_side  # face and entry fit the screen together
    assert all(in_sight(large, large.page.face.face.button(n)) for n in ("P.1", "P.5", "L.2", "core"))
    bar = large.page.scroller.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert not in_sight(large, field)
    large.front()
    large.type("155.2")
    large.until(lambda: in_sight(large, field))
    large.front()
    large.page.pairs.tables[0].setFocus()
    bar.setValue(bar.maximum())
    field.setFocus()
    large.until(lambda: in_sight(large, field))


def dialogs(hand: Hand) -> Iterator[QDialog]:
    page = hand.page
    hand.type("155.2")
    hand.safe()
    page.readings.select_key(hand.bench.lines.every[0].kept.id)
    for ask in (page.edit_conditions, page.log.strike_out, page.decide, page.edit_job, page.choose_pattern):
        ask()
        assert page.dialog is not None
        yield page.dialog
        page.dialog.reject()
    for ask in (hand.window.edit_meters, hand.window.like):
        ask()
        assert hand.window.dialog is not None
        yield hand.window.dialog
        hand.window.dialog.reject()


def test_no_dialog_is_larger_than_the_window(large: Hand) -> None:
    for dialog in dialogs(large):
        assert dialog.height() <= large.window.height(), dialog.windowTitle()
        assert dialog.width() <= large.window.width(), dialog.windowTitle()


def test_a_field_that_was_refused_is_brought_into_sight(large: Hand) -> None:
    large.page.edit_conditions()
    dialog = large.page.dialog
    assert isinstance(dialog, ConditionsDialog)
    assert dialog.height() > 0.9 * large.window.height()  # all the room there is
    dialog.iron.setText("200")
    dialog.celsius.setFocus()
    dialog.accept()
    area = dialog.room.viewport()
    large.until(lambda: area.rect().contains(QRect(dialog.iron.mapTo(area, QPoint(0, 0)), dialog.iron.size())))
    assert "200 ohm" in dialog.trouble.text()
    assert dialog.iron.property("state") == "refused"


def test_no_page_makes_the_window_larger(large: Hand) -> None:
    """Else what stands at its foot is below the screen."""
    grown = []
    for where, _ in screens(large):
        QApplication.processEvents()
        if large.window.size() != QSize(1366, 728):
            grown.append(f"{where}: {large.window.width()} x {large.window.height()}")
            large.window.resize(1366, 728)
    assert not grown
