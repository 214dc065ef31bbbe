"""Every pattern that ships, from the counter to a verdict: whatever can be picked is picked by the mouse.

A number has to be typed, and its Enter is the only way to keep it; an overload has its button.
"""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QDialogButtonBox, QPushButton, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.soundpart import (
    IRON,
    OVERLOAD,
    STARTERS,
    on_screen,
    planned,
    shown,
    verdict_of_a_sound_part,
)
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import StrikeDialog

LEFT = Qt.MouseButton.LeftButton


def touch(hand: Hand, widget: QWidget, at: QPoint | None = None) -> None:
    """A click at the screen, which must find that very widget there: seen, enabled, nothing over it."""
    window = widget.window()
    place = widget.mapTo(window, at or widget.rect().center())
    assert window.childAt(place) is widget, (widget.accessibleName(), window.childAt(place))
    assert widget.isEnabled(), widget.accessibleName()
    hand.qtbot.mouseClick(window.windowHandle(), LEFT, pos=place)


def touch_button(hand: Hand, text: str) -> None:
    """By the words on it, as one finds it."""
    (found,) = (b for b in hand.page.findChildren(QPushButton) if b.isVisible() and b.text() == text)
    touch(hand, found)


def touch_row(hand: Hand, rows: QAbstractItemView, row: int) -> None:
    """Rolls the wheel until the row is in sight, and clicks it."""
    view, index = rows.viewport(), rows.model().index(row, 0)
    for _ in range(100):
        at = rows.visualRect(index).center()
        if view.rect().contains(at):
            touch(hand, view, at)
            return
        _roll(view, -120 if at.y() > 0 else 120)
    raise AssertionError(f"row {row} never comes in sight")


def _roll(view: QWidget, by: int) -> None:
    middle = view.rect().center()
    nothing = Qt.KeyboardModifier.NoModifier
    wheel = QWheelEvent(
        QPointF(middle), QPointF(view.mapToGlobal(middle)), QPoint(), QPoint(0, by), Qt.MouseButton.NoButton,
        nothing, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, wheel)


def choose(hand: Hand, box: QComboBox, text: str) -> None:
    touch(hand, box)
    names = box.view()
    hand.until(names.isVisible)
    touch_row(hand, names, box.findText(text))
    hand.until(lambda: not names.isVisible() and box.currentText() == text)


def pick(hand: Hand, pair: Pair) -> None:
    """Two places on the drawn faces; where one plug is in sight at a time, first the other one at its side."""
    face = hand.page.face
    for node in pair:
        plug = node.partition(".")[0]
        if node != CORE and not face.side_by_side and hand.bench.plug != plug:
            touch(hand, next(t for t in face.strip.thumbs if t.node == plug))
        touch(hand, face.face.button(node))
    assert hand.bench.pair == pair


def read(hand: Hand, pair: Pair) -> None:
    before = len(hand.bench.lines)
    pick(hand, pair)
    number = shown(hand.bench, pair)
    if number == OVERLOAD:
        touch_button(hand, "Open")
    else:
        touch(hand, hand.page.entry.field)
        hand.type(number)
    assert len(hand.bench.lines) == before + 1, hand.said()
    assert hand.bench.lines.every[-1].kept.reading.pair == pair


def book(hand: Hand, pattern: Pattern) -> str:
    counter = hand.counter
    hand.until(lambda: counter.tag.text())
    tag = counter.tag.text()
    touch(hand, counter.label)
    hand.qtbot.keyClicks(counter.label, "a sound one")
    choose(hand, counter.pattern, pattern.name)
    touch(hand, counter.book)
    hand.until(lambda: hand.window.bench_page is not None)
    assert hand.bench.pattern == pattern
    return tag


def prove_iron(hand: Hand) -> None:
    touch_button(hand, "Part and meter")
    hand.until(lambda: isinstance(hand.page.dialog, ConditionsDialog))
    dialog = hand.page.dialog
    assert isinstance(dialog, ConditionsDialog)
    touch(hand, dialog.iron)
    hand.qtbot.keyClicks(dialog.iron, IRON)
    touch(hand, dialog.buttons.button(QDialogButtonBox.StandardButton.Ok))
    hand.until(lambda: hand.bench.head.iron_ohms == float(IRON))


def strike_newest(hand: Hand) -> None:
    page, lines = hand.page, hand.bench.lines
    touch_button(hand, "Readings")
    touch_row(hand, page.readings, 0)
    touch_button(hand, "Strike out")
    hand.until(lambda: isinstance(page.dialog, StrikeDialog))
    dialog = page.dialog
    assert isinstance(dialog, StrikeDialog)
    touch(hand, dialog.usual[0])
    hand.until(lambda: page.dialog is None)
    assert [x.kept.strike.reason for x in hand.bench.lines.every[-1:] if x.kept.strike] == ["missed the pin"]
    assert len(hand.bench.lines) == len(lines)


@pytest.mark.parametrize("pattern", STARTERS)
def test_by_mouse_from_the_counter_to_a_verdict_and_back(
    open_window: Open, stocked: Path, tmp_path: Path, pattern: Pattern
) -> None:
    store = tmp_path / "shop.sqlite"
    shutil.copyfile(stocked, store)
    hand = open_window(store)
    tag = book(hand, pattern)
    prove_iron(hand)
    plan = planned(pattern)
    for pair in plan:
        read(hand, pair)
    hand.safe()
    word = verdict_of_a_sound_part(pattern)
    assert hand.page.top.verdict.word == word

    strike_newest(hand)
    assert hand.page.top.verdict.word == "UNFINISHED"
    read(hand, plan[-1])
    touch_button(hand, "Undo")
    assert hand.page.top.verdict.word == "UNFINISHED"
    read(hand, plan[-1])
    hand.safe()
    assert hand.page.top.verdict.word == word
    struck = [r.detail for r in hand.page.readings.rows.rows if r.struck]
    assert struck == ["struck out: undone", "struck out: missed the pin"]
    before = on_screen(hand)
    hand.close()

    back = open_window(store)
    back.until(lambda: back.counter.units.rows.rows)
    touch_row(back, back.counter.units, [r.key for r in back.counter.units.rows.rows].index(tag))
    back.until(lambda: back.window.bench_page is not None)
    assert on_screen(back) == before
