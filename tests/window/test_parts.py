"""The small widgets that every page is made of."""

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication, QFormLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from workbench.sitting.say import Choice, Said, Tone
from workbench.window.courier import Courier
from workbench.window.parts import (
    ElidedLabel,
    Room,
    SaidLine,
    allow,
    button,
    fit_window,
    form_row,
    label,
    rename,
    set_verdict,
)

LONG = "What happened, what is safe, and what to do next, said calmly and at some length. " * 4


@pytest.fixture
def said(dressed: QApplication, qtbot: QtBot) -> Iterator[SaidLine]:
    page = QWidget()
    qtbot.addWidget(page)
    line = SaidLine()
    column = QVBoxLayout(page)
    column.addWidget(line)
    column.addStretch(1)
    page.resize(400, 400)
    page.show()
    yield line
    page.hide()


def test_a_sentence_with_its_ways_on(said: SaidLine, qtbot: QtBot) -> None:
    pressed: list[str] = []
    ways = tuple(Choice(w, lambda w=w: pressed.append(w)) for w in ("Overload", "One ohm"))
    said.say(Said(Tone.ASKS, "Which?", ways))
    assert said.sentence == "Which?"
    for b in said.buttons:
        qtbot.mouseClick(b, Qt.MouseButton.LeftButton)
    assert pressed == ["Overload", "One ohm"]
    said.say(None)
    assert said.sentence == ""
    assert said.buttons == ()
    assert not [b for b in said.findChildren(QPushButton) if b.isVisible()]


def test_the_ways_on_of_an_equal_sentence_are_the_new_ones(said: SaidLine, qtbot: QtBot) -> None:
    pressed: list[int] = []
    for n in (1, 2):
        said.say(Said(Tone.REFUSES, "Not kept.", (Choice("Try again", lambda n=n: pressed.append(n)),)))
    qtbot.mouseClick(said.buttons[0], Qt.MouseButton.LeftButton)
    assert pressed == [2]


def test_it_is_as_high_as_what_it_says_and_its_place_does_not_jump(said: SaidLine, qtbot: QtBot) -> None:
    quiet = said.height()
    said.say(Said(Tone.TELLS, "One line."))
    qtbot.waitUntil(lambda: said.height() == quiet)
    said.say(Said(Tone.REFUSES, LONG))
    (sentence,) = said.findChildren(QLabel)
    qtbot.waitUntil(lambda: sentence.height() >= sentence.heightForWidth(sentence.width()) > quiet)
    said.say(None)
    qtbot.waitUntil(lambda: said.height() == quiet)


def test_a_refusal_has_the_look_of_one(said: SaidLine) -> None:
    (sentence,) = said.findChildren(QLabel)
    for tone, look in ((Tone.REFUSES, "out"), (Tone.TELLS, ""), (Tone.ASKS, "")):
        said.say(Said(tone, f"{tone} this"))
        assert sentence.property("verdict") == look


@pytest.mark.parametrize("text", ["<b>not bold</b>", "a & b"])
def test_what_was_typed_is_never_taken_for_markup(said: SaidLine, text: str) -> None:
    said.say(Said(Tone.TELLS, text))
    (sentence,) = said.findChildren(QLabel)
    assert sentence.textFormat() is Qt.TextFormat.PlainText
    assert label(text).textFormat() is Qt.TextFormat.PlainText
    assert ElidedLabel().textFormat() is Qt.TextFormat.PlainText


def test_a_line_that_gives_way_is_whole_in_its_tip_and_for_a_reader(dressed: QApplication, qtbot: QtBot) -> None:
    line = ElidedLabel("title")
    qtbot.addWidget(line)
    line.setText(LONG)
    assert line.minimumSizeHint().width() < 120 < line.sizeHint().width()
    line.resize(120, 30)
    line.show()
    cut = line.grab().toImage()
    line.setText(LONG[:3])
    assert line.grab().toImage() != cut
    line.setText(LONG)
    assert (line.toolTip(), line.accessibleName()) == (LONG, LONG)


def test_a_button_says_its_key_and_keeps_it_under_another_name(dressed: QApplication, qtbot: QtBot) -> None:
    pressed: list[int] = []
    made = button("Wire side", lambda: pressed.append(1), key="Ctrl+W", tip="Mirrored")
    qtbot.addWidget(made)
    assert made.toolTip() == "Mirrored (Ctrl+W)"
    assert made.accessibleName() == "Wire side"
    rename(made, "Mating side")
    assert made.shortcut() == QKeySequence("Ctrl+W")
    assert (made.text(), made.accessibleName()) == ("Mating side", "Mating side")
    made.click()
    assert pressed == [1]


def test_a_form_row_names_its_field(dressed: QApplication, qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    form, field = QFormLayout(page), QLineEdit()
    form_row(form, "&Leads shorted show", field, tip="0.2")
    assert field.accessibleName() == "Leads shorted show"
    assert (field.accessibleDescription(), field.placeholderText()) == ("0.2", "0.2")
    (caption,) = page.findChildren(QLabel)
    assert caption.buddy() is field


def test_a_verdict_colours_a_label_and_leaves_it(dressed: QApplication, qtbot: QtBot) -> None:
    word = label("in", "value")
    qtbot.addWidget(word)
    word.show()
    plain = word.palette().color(word.foregroundRole())
    set_verdict(word, "out")
    out = word.palette().color(word.foregroundRole())
    set_verdict(word, "")
    assert word.palette().color(word.foregroundRole()) == plain != out


def test_room_shows_all_it_holds_or_scrolls(dressed: QApplication, qtbot: QtBot) -> None:
    over, held = QWidget(), QLabel("\n".join(["line"] * 30))
    room = Room(held)
    qtbot.addWidget(over)
    qtbot.addWidget(room)
    over.resize(500, 2000)
    fit_window(room, over)
    room.show()
    qtbot.waitUntil(lambda: room.verticalScrollBar().maximum() == 0)
    over.resize(500, 200)
    fit_window(room, over)
    assert room.height() < 200
    qtbot.waitUntil(lambda: room.verticalScrollBar().maximum() > 0)
    assert room.horizontalScrollBar().maximum() == 0


def test_the_courier_delivers_on_its_own_thread_at_once_when_asked_and_nothing_once_stopped(qapp: QApplication) -> None:
    courier, heard = Courier(), []

    def hand_over(n: int) -> None:
        other = threading.Thread(target=lambda: courier.deliver(lambda: heard.append((n, threading.current_thread()))))
        other.start()
        other.join()

    hand_over(1)
    assert heard == []
    courier.bring()
    assert heard == [(1, threading.main_thread())]
    hand_over(2)
    courier.stop()
    hand_over(3)
    qapp.processEvents()
    assert len(heard) == 1


def test_a_button_that_is_off_says_why(dressed: QApplication, qtbot: QtBot) -> None:
    made = button("Strike out", lambda: None, key="Ctrl+D", tip="With a reason")
    qtbot.addWidget(made)
    usual = made.toolTip()
    for _ in range(2):
        allow(made, False, "Choose one first")
        assert (made.isEnabled(), made.toolTip()) == (False, "Choose one first")
    allow(made, True, "Choose one first")
    assert (made.isEnabled(), made.toolTip()) == (True, usual)


def test_enter_presses_the_button_that_has_the_focus(dressed: QApplication, qtbot: QtBot) -> None:
    pressed: list[str] = []
    made = button("Try again", lambda: pressed.append("again"))
    qtbot.addWidget(made)
    made.show()
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
        qtbot.keyClick(made, key)
    assert pressed == ["again"] * 3
    made.hide()
