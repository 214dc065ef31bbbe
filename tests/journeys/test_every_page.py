"""Every page and dialog: named for those who can't see it, reachable by keys, nothing cut."""

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QDialog,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QWidget,
)

from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import screens, tabbed
from workbench.window.metersdialog import MetersDialog
from workbench.window.parts import ElidedLabel


def visible(screen: QWidget, kind: type[QWidget]) -> list[QWidget]:
    inside = [w for w in screen.findChildren(kind) if w.isVisible()]
    return [w for w in inside if not isinstance(screen, QDialog) or w.window() is screen]


def test_whatever_takes_keys_has_a_name(demo: Hand) -> None:
    for where, screen in screens(demo):
        for w in visible(screen, QWidget):
            if w.focusPolicy() & Qt.FocusPolicy.TabFocus and not isinstance(w, QScrollArea):
                inner = w.objectName().startswith("qt_") or isinstance(w.parent(), QLineEdit) or w.focusProxy()
                assert inner or w.accessibleName(), (where, w)


def test_every_button_is_reached_by_tab_or_has_a_key(demo: Hand) -> None:
    for where, screen in screens(demo):
        for w in visible(screen, QAbstractButton):
            assert isinstance(w, QAbstractButton)
            if w.isEnabled() and not w.objectName().startswith("qt_"):
                assert w.focusPolicy() & Qt.FocusPolicy.TabFocus or not w.shortcut().isEmpty(), (where, w.text())


def test_tab_comes_by_everything_that_can_be_pressed_or_typed_in(demo: Hand) -> None:
    for where, screen in screens(demo):
        if where.startswith("meters"):
            continue  # its table's fields take the focus, one after the other: below
        screen.window().activateWindow()
        demo.until(lambda s=screen: s.window().isActiveWindow() and QApplication.focusWidget() is not None)
        seen = tabbed(demo)
        for w in visible(screen, QWidget):
            takes = w.isEnabled() and w.focusPolicy() & Qt.FocusPolicy.TabFocus
            inner = w.objectName().startswith("qt_") or w.focusProxy() is not None or isinstance(w, QScrollArea)
            if takes and not inner:
                assert w in seen, (where, w, w.accessibleName())


def test_tab_goes_on_from_the_table_of_a_meters_ranges(demo: Hand) -> None:
    demo.window.to_counter()
    demo.window.edit_meters()
    meters = demo.window.dialog
    assert isinstance(meters, MetersDialog)
    meters.activateWindow()
    demo.until(lambda: meters.isActiveWindow() and QApplication.focusWidget() is not None)
    cells = meters.table.rowCount() * meters.table.columnCount()
    for _ in range(cells + 10):
        demo.qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        if meters.keep_button.hasFocus():
            break
    reached = meters.keep_button.hasFocus()
    meters.reject()
    assert reached


class Windows(QObject):
    """Notes what comes on the screen as a window of its own."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.seen.append(type(watched).__name__)
        return False


def test_a_part_on_the_bench_brings_no_window_beside_the_programs_own(demo: Hand, qapp: QApplication) -> None:
    assert len(demo.bench.pattern.connectors) > 1
    demo.window.to_counter()
    windows, before = Windows(), demo.page
    qapp.installEventFilter(windows)
    demo.counter.counter.find(demo.bench.unit.tag)
    demo.until(lambda: demo.page is not before)
    qapp.removeEventFilter(windows)
    assert windows.seen == []


def cut(screen: QWidget) -> list[str]:
    out = []
    for w in visible(screen, QLabel):
        assert isinstance(w, QLabel)
        if isinstance(w, ElidedLabel) or not w.text():
            continue
        m, room, text = w.fontMetrics(), w.contentsRect(), w.text().replace("&", "") if w.buddy() else w.text()
        if w.wordWrap():
            need = m.boundingRect(QRect(0, 0, room.width(), 10_000), Qt.TextFlag.TextWordWrap, text).height()
            if need > room.height() + 2:
                out.append(f"{text!r} needs {need} px of height, has {room.height()}")
        elif m.horizontalAdvance(text) > room.width() + 1 or m.height() > room.height() + 2:
            out.append(f"{text!r} needs {m.horizontalAdvance(text)} px, has {room.width()}")
    for w in visible(screen, QPushButton):
        assert isinstance(w, QPushButton)
        text = w.text().replace("&", "")
        if w.fontMetrics().horizontalAdvance(text) > w.width() - 4:
            out.append(f"button {text!r} is {w.width()} px wide")
    return out


def beyond(screen: QWidget) -> list[str]:
    """Widgets that stick out of a page with no scroll area to reach them."""
    out = []
    for w in visible(screen, QPushButton):
        area = w.parentWidget()
        while area is not None and not isinstance(area, QScrollArea) and area is not screen:
            area = area.parentWidget()
        if not isinstance(area, QScrollArea):
            at = w.mapTo(screen, QPoint(0, 0))
            if not screen.rect().adjusted(-1, -1, 1, 1).contains(QRect(at, w.size())):
                out.append(w.text())  # type: ignore[attr-defined]
    return out


def settled(hand: Hand, where: str, screen: QWidget) -> None:
    """Once its layout has come to rest, nothing of a screen is cut or out of reach."""

    def whole() -> None:
        assert (where, cut(screen), beyond(screen)) == (where, [], [])

    hand.qtbot.waitUntil(whole, timeout=3000)


@pytest.mark.parametrize(("dark", "text_scale"), [(False, 1.0), (True, 1.0), (False, 2.0)])
def test_nothing_is_cut_at_a_counter_side_screen(
    demo: Hand, open_window: Open, tmp_path: object, dark: bool, text_scale: float
) -> None:
    store = demo.window.shop._at._place
    demo.close()
    hand = open_window(store, dark=dark, text_scale=text_scale, start_tag="SL-0147", practice=demo.window._practice)
    hand.until(lambda: hand.window.bench_page is not None)
    hand.window.resize(1366, 728)
    for where, screen in screens(hand):
        settled(hand, where, screen)
        if screen is hand.page:
            assert hand.page.scroller.horizontalScrollBar().maximum() == 0, where
            assert hand.window.width() == 1366


def test_long_names_give_way(open_window: Open, demo: Hand) -> None:
    counter = demo.counter
    demo.window.to_counter()
    demo.until(lambda: counter.tag.text() == "SL-0148")
    counter.tag.setText("LONG-" + "9" * 55)
    counter.label.setText("A very long name of a machine, its owner, and the owner's boat " * 4)
    counter.complaint.setPlainText("It has no spark when warm, then again it has, then it stops. " * 5)
    counter.pattern.setCurrentIndex(1)
    demo.press(counter.book)
    demo.until(lambda: demo.bench.unit.tag.startswith("LONG-"))
    assert demo.window.width() == 1366
    demo.until(lambda: demo.page.scroller.horizontalScrollBar().maximum() == 0)
    settled(demo, "bench", demo.page)
    demo.window.show_card(demo.bench)
    demo.until(lambda: demo.window.card_dialog)
