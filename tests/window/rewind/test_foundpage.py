"""The page As found by real clicks and keys: typed, noted, worked out, refused at its field, taken to Wire."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import WYE
from tests.sitting.rewinds import rewinding
from tests.window.rewind.byname import key_of, place_of, row_of
from workbench.window.look import Look
from workbench.window.parts import Panel
from workbench.window.rewind.foundpage import NOTHING_YET, WORKING, FoundPage
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.theme import LIGHT, Sizes

K, M = Qt.Key, Qt.KeyboardModifier
LOOK = Look(LIGHT, Sizes())
# 200 turns of AWG 20, 90 mm a turn: 18 m, 0.59812 ohm, 83.03 g (IEC 60028's constants)
FIGURES = {
    "coils": "1", "strands": "1", "bare": "0.811 0.813 0.814", "overall": "0.878", "mean_turn": "90",
    "ohms": "0.59812", "grams": "83.03",
}  # fmt: skip


class Desk:
    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot
        self.rewinding, self.keeper = rewinding(WYE, winding="phase 1")
        self.page = RewindPage(LOOK, self.rewinding, to_bench=lambda: None, shelf=lambda: None)
        self.window = QMainWindow()
        self.window.setCentralWidget(self.page)
        self.window.resize(1366, 728)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(self.window.isActiveWindow)
        self.page.show_page(place_of("As found"))

    @property
    def found(self) -> FoundPage:
        return next(p for p in self.page.pages if isinstance(p, FoundPage))

    @property
    def wire(self) -> WirePage:
        return next(p for p in self.page.pages if isinstance(p, WirePage))

    def key(self, key: K, modifier: M = M.NoModifier) -> None:
        at = QApplication.focusWidget()
        assert at is not None
        self.qtbot.keyClick(at, key, modifier)

    def click(self, widget: QWidget) -> None:
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)

    def type(self, **texts: str) -> None:
        for name, text in texts.items():
            field = self.found.form.lines[name]
            field.clear()
            self.qtbot.keyClicks(field, text)

    def values(self) -> dict[str, str]:
        return {r.title: f"{r.value}; {r.detail}" for r in self.found.quantities.rows.rows}


@pytest.fixture
def desk(dressed: QApplication, qtbot: QtBot) -> Iterator[Desk]:
    made = Desk(qtbot)
    yield made
    made.window.close()
    made.window.deleteLater()


def test_noted_by_keys_and_worked_out(desk: Desk) -> None:
    page = desk.found
    assert page.form.first.hasFocus()
    assert page.first.text() == NOTHING_YET
    assert not page.to_wire.isEnabled()
    assert row_of(desk.page, "As found").spoken == "As found: nothing noted"
    for text in ("tin 7", "paper"):
        desk.qtbot.keyClicks(QApplication.focusWidget(), text)
        desk.key(K.Key_Tab)
    assert page.form.lines["liner"].text() == "paper"
    desk.type(**FIGURES)
    desk.key(K.Key_N, M.ControlModifier)
    desk.qtbot.waitUntil(page.quantities.isVisible)
    assert desk.values()["Turns a coil"].startswith("200.")
    assert desk.values()["Turns a coil"].endswith("; worked out")
    assert desk.values()["Strands in hand"] == "1; counted"
    assert [r.title for r in page.gauges.rows.rows] == ["AWG 20", "0.800 mm"]
    assert page.verdict.text() == "The figures agree with each other."
    assert row_of(desk.page, "As found").detail == "8 of 13 noted"
    assert "the start lead" in page.lines.text()
    assert not page.first.isVisible()
    assert len(desk.keeper.of("rewind")) == 1


def test_weighed_enamelled_by_keys(desk: Desk) -> None:
    desk.type(**FIGURES)
    desk.found.form.enamelled.setFocus()
    desk.key(K.Key_Down)
    desk.click(desk.found.note)
    found = desk.rewinding.body.found
    assert found is not None
    assert found.record.enamelled
    assert desk.values()["Bare copper"].startswith("8")


def test_a_miscount_is_said_and_what_it_should_have_been(desk: Desk) -> None:
    desk.type(**FIGURES, turns="150", width="11", height="25", build="5.7")
    desk.click(desk.found.note)
    assert "without the turns counted" in desk.found.verdict.text()
    assert desk.found.verdict.property("verdict") == "out"
    assert desk.found.told.text().startswith("By the others they should have been 200.")
    desk.type(turns="200")
    desk.click(desk.found.note)
    assert desk.found.verdict.property("verdict") == ""
    assert not desk.found.told.isVisible()


def test_what_can_not_be_is_refused_at_its_field_and_stays_typed(desk: Desk) -> None:
    desk.type(turns="34 x", photos="tin 7")
    desk.click(desk.found.note)
    turns = desk.found.form.lines["turns"]
    assert "is no number" in desk.page.said.sentence
    assert turns.property("state") == "refused"
    assert turns.hasFocus()
    assert (turns.text(), desk.found.form.lines["photos"].text()) == ("34 x", "tin 7")
    assert desk.keeper.asked == []
    desk.type(turns="34 34")
    desk.key(K.Key_N, M.ControlModifier)
    desk.qtbot.waitUntil(lambda: turns.property("state") == "")
    assert desk.page.said.sentence == ""


def test_it_says_while_it_is_worked_out(desk: Desk) -> None:
    waiting = []
    desk.rewinding.reckon = lambda do, then: waiting.append((do, then))  # type: ignore[assignment]  # a slow back desk
    desk.type(**FIGURES)
    desk.click(desk.found.note)
    assert desk.found.first.text() == WORKING
    assert not desk.found.quantities.isVisible()
    do, then = waiting.pop()
    then(do())
    assert desk.found.quantities.isVisible()
    assert not desk.found.first.isVisible()


def test_taken_to_wire_by_keys(desk: Desk) -> None:
    desk.type(**FIGURES)
    desk.key(K.Key_N, M.ControlModifier)
    desk.qtbot.waitUntil(lambda: desk.found.to_wire.property("role") == "strong")
    desk.key(K.Key_T, M.ControlModifier)
    desk.qtbot.waitUntil(lambda: desk.page.said.sentence.startswith("On the page Wire now: AWG 20"))
    desk.key(key_of("Wire"), M.ControlModifier)
    assert (desk.wire.gauge.text(), desk.wire.turns.text(), desk.wire.mean_turn.text()) == ("AWG 20", "200", "90")


def test_what_is_typed_on_wire_is_never_lost_unasked(desk: Desk) -> None:
    desk.page.show_page(place_of("Wire"))
    desk.qtbot.keyClicks(desk.wire.gauge, "17")
    desk.page.show_page(place_of("As found"))
    desk.type(**FIGURES)
    desk.click(desk.found.note)
    desk.click(desk.found.to_wire)
    assert "something typed that is not noted yet" in desk.page.said.sentence
    desk.click(desk.page.said.buttons[1])
    desk.page.show_page(place_of("Wire"))
    assert desk.wire.gauge.text() == "17"
    desk.page.show_page(place_of("As found"))
    desk.click(desk.found.to_wire)
    desk.click(desk.page.said.buttons[0])
    desk.page.show_page(place_of("Wire"))
    assert desk.wire.gauge.text() == "AWG 20"
    desk.page.show_page(place_of("As found"))
    desk.click(desk.found.to_wire)
    assert "has it so already" in desk.page.said.sentence


def test_what_was_typed_on_wire_and_given_up_is_not_asked_about(desk: Desk) -> None:
    desk.type(**FIGURES)
    desk.click(desk.found.note)
    desk.page.show_page(place_of("Wire"))
    desk.qtbot.keyClicks(desk.wire.gauge, "17")
    desk.page.winding.setFocus()
    desk.key(K.Key_Down)
    desk.key(K.Key_Up)
    assert desk.wire.gauge.text() == ""
    desk.page.show_page(place_of("As found"))
    desk.click(desk.found.to_wire)
    assert desk.page.said.sentence.startswith("On the page Wire now")


def test_what_is_too_long_is_seen_from_its_beginning(desk: Desk) -> None:
    desk.type(liner="white paper of 0.3 mm, two turns, and tape over it at both ends", turns="200")
    desk.found.form.lines["turns"].setFocus()
    desk.click(desk.found.note)
    desk.page.winding.setFocus()
    desk.key(K.Key_Down)
    assert desk.found.form.lines["liner"].text() == ""
    desk.key(K.Key_Up)
    assert desk.found.form.lines["liner"].cursorPosition() == 0


@pytest.mark.parametrize("wide", [1366, 1920])
def test_the_panels_end_on_one_line(desk: Desk, wide: int) -> None:
    desk.window.resize(wide, 728)
    panels = [p for p in desk.page.findChildren(Panel) if p.isVisible()]
    assert len(panels) == 4

    def ends() -> set[tuple[int, int]]:
        tops = [p.mapTo(desk.window, QPoint(0, 0)).y() for p in panels]
        return {(top, top + p.height()) for top, p in zip(tops, panels, strict=True)}

    desk.qtbot.waitUntil(lambda: len(ends()) == 1)


def test_with_large_text_all_rows_stand_and_the_first_field_is_in_sight(dressed: QApplication, qtbot: QtBot) -> None:
    desk = Desk(qtbot)
    desk.window.resize(700, 728)
    page = desk.found
    qtbot.waitUntil(lambda: page._side.stacked)
    bar = page.room.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    bar.setValue(bar.maximum())
    assert page.form.first.visibleRegion().isEmpty()
    page.take_focus()
    qtbot.waitUntil(lambda: not page.form.first.visibleRegion().isEmpty())
    desk.type(**FIGURES)
    desk.click(page.note)
    row = page.quantities.sizeHintForRow(0)
    qtbot.waitUntil(lambda: page.quantities.height() >= len(page.quantities.rows.rows) * row)
    desk.window.close()
    desk.window.deleteLater()
