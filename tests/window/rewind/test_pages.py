"""The rewind desk's pages by real clicks and keys: laid out, ticked, refused at the field, ranked, taken."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from uuid import uuid4

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import TWO_COILS, WYE
from tests.sitting.rewinds import SPOOLS, RewindKeeperFake, rewinding
from tests.window.rewind.byname import key_of, place_of, row_of
from workbench.records import Spool
from workbench.rewind.layoutcheck import turned
from workbench.window.look import Look
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.shelfdialog import ShelfDialog
from workbench.window.rewind.stepspage import StepsPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.theme import LIGHT, Sizes

K, M = Qt.Key, Qt.KeyboardModifier
LOOK = Look(LIGHT, Sizes())


class Desk:
    """The desk in a window of its own; `keeper` is what it asks."""

    def __init__(self, qtbot: QtBot, pattern: str, winding: str, spools: Sequence[Spool]) -> None:
        self.qtbot = qtbot
        self.rewinding, self.keeper = rewinding(pattern, winding=winding, spools=spools)
        self.left: list[str] = []
        self.page = RewindPage(
            LOOK, self.rewinding, to_bench=lambda: self.left.append("bench"), shelf=lambda: self.left.append("shelf")
        )
        self.window = QMainWindow()
        self.window.setCentralWidget(self.page)
        self.window.resize(1366, 728)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(self.window.isActiveWindow)

    @property
    def wire(self) -> WirePage:
        return next(p for p in self.page.pages if isinstance(p, WirePage))

    @property
    def steps(self) -> StepsPage:
        return next(p for p in self.page.pages if isinstance(p, StepsPage))

    def key(self, key: K, modifier: M = M.NoModifier) -> None:
        at = QApplication.focusWidget()
        assert at is not None
        self.qtbot.keyClick(at, key, modifier)

    def click(self, widget: object) -> None:
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)

    def fill(self, **texts: str) -> None:
        self.page.show_page(place_of("Wire"))
        for name, text in texts.items():
            field = self.wire._lines[name]
            field.clear()
            self.qtbot.keyClicks(field, text)

    def lay_out(self) -> None:
        self.page.show_page(place_of("Steps"))
        self.steps.poles.setText("8")
        self.click(self.steps.lay_out)


Make = Callable[..., Desk]


@pytest.fixture
def desk(dressed: QApplication, qtbot: QtBot) -> Iterator[Make]:
    made: list[Desk] = []

    def make(pattern: str = WYE, winding: str = "", spools: Sequence[Spool] = SPOOLS) -> Desk:
        made.append(Desk(qtbot, pattern, winding, spools))
        return made[-1]

    yield make
    for d in made:
        d.window.close()
        d.window.deleteLater()


# ---- the desk


def test_pages_by_keys_and_how_far_each_is(desk: Make) -> None:
    d = desk()
    assert [row_of(d.page, n).spoken for n in ("Wire", "Steps")] == ["Wire: not asked", "Steps: not laid out"]
    d.page.take_focus()
    d.qtbot.waitUntil(lambda: d.page.page.isAncestorOf(QApplication.focusWidget()))
    d.key(key_of("Wire"), M.ControlModifier)
    d.qtbot.waitUntil(d.wire.gauge.hasFocus)
    d.key(key_of("Steps"), M.ControlModifier)
    assert d.page.stack.currentWidget() is d.steps
    assert d.steps.teeth.hasFocus()
    d.lay_out()
    assert row_of(d.page, "Steps").detail == "0 of 12 wound"
    d.page.list.setFocus()
    d.key(K.Key_Up)
    assert d.page.stack.currentWidget() is d.wire
    for key, where in ((K.Key_B, "bench"), (K.Key_S, "shelf")):
        d.key(key, M.ControlModifier)
        d.qtbot.waitUntil(lambda w=where: d.left[-1:] == [w])


def test_another_winding_is_another_rewind(desk: Make) -> None:
    d = desk()
    d.lay_out()
    assert d.page.standing.text() == "all three phases: begun"
    d.page.winding.setFocus()
    d.key(K.Key_Down)
    assert d.rewinding.winding == "phase 1"
    assert d.page.standing.text() == "phase 1: nothing written yet"
    assert d.steps.free.text() == "2, 3, 5, 6, 8, 9, 11, 12"
    assert d.steps.phases.currentText() == "one"
    d.key(K.Key_Up)
    assert d.steps.poles.text() == "8"


# ---- steps


def test_steps_are_ticked_with_space_and_the_tooth_in_hand_is_lit(desk: Make) -> None:
    d = desk()
    d.lay_out()
    steps = d.steps
    d.page.show_page(place_of("Steps"))
    assert steps.wound.hasFocus()
    assert (steps.tooth.text(), steps.sense.text()) == ("Tooth 1", "clockwise")
    d.key(K.Key_Space)
    d.key(K.Key_Space)
    assert steps.tooth.text() == "Tooth 7"
    assert steps.start.text() == "The wire comes over from tooth 4."
    assert steps.core.accessibleDescription() == "tooth 7 lit; wound: 1, 4"
    assert [r.value for r in steps.steps.rows.rows[:3]] == ["wound", "wound", ""]
    assert steps.steps.key() == 3
    d.key(K.Key_Z, M.ControlModifier)
    d.qtbot.waitUntil(lambda: steps.tooth.text() == "Tooth 4")
    assert d.keeper.of("rewind")[-1].version == 3


def test_one_more_press_than_there_are_steps_takes_none_back(desk: Make) -> None:
    d = desk(TWO_COILS, "low-speed coil")
    d.lay_out()
    d.page.show_page(place_of("Steps"))
    for _ in range(3):
        d.key(K.Key_Space)
    assert row_of(d.page, "Steps").detail == "2 of 2 wound"
    assert d.steps.steps.hasFocus()


def test_groups_side_by_side_are_two_or_more_and_nothing_noted_is_hidden(desk: Make) -> None:
    d = desk(TWO_COILS, "low-speed coil")
    d.lay_out()
    d.page.show_page(place_of("Steps"))
    d.steps.connection.setCurrentIndex(d.steps.connection.findData("parallel"))
    d.click(d.steps.lay_out)
    assert "2 groups or more" in d.page.said.sentence
    assert d.steps.paths.property("state") == "refused"
    assert d.rewinding.unreadable == ""
    assert row_of(d.page, "Steps").detail == "0 of 2 wound"


def test_a_step_further_down_is_chosen_by_click_and_by_key(desk: Make) -> None:
    d = desk()
    d.lay_out()
    listed = d.steps.steps
    d.qtbot.mouseClick(
        listed.viewport(), Qt.MouseButton.LeftButton, pos=listed.visualRect(listed.rows.index(4)).center()
    )
    assert d.steps.tooth.text() == "Tooth 2"
    listed.setFocus()
    d.key(K.Key_Down)
    assert d.steps.tooth.text() == "Tooth 5"
    d.click(d.steps.wound)
    assert d.steps.tooth.text() == "Tooth 1"
    assert listed.rows.rows[5].value == "wound"


def test_what_can_not_be_laid_out_is_said_and_its_field_marked(desk: Make) -> None:
    d = desk()
    d.page.show_page(place_of("Steps"))
    d.steps.poles.setText("7")
    d.click(d.steps.lay_out)
    assert "count north and south alike" in d.page.said.sentence
    assert d.steps.poles.property("state") == "refused"
    assert d.steps.poles.hasFocus()
    d.steps.poles.setText("8")
    d.click(d.steps.lay_out)
    assert d.page.said.sentence == ""
    assert d.steps.poles.property("state") == ""


def test_a_reversed_coil_is_named_on_the_page(desk: Make) -> None:
    d = desk()
    d.lay_out()
    laid = d.rewinding.body.laid
    assert laid is not None
    assert d.steps.reckoned.property("verdict") in (None, "")
    d.rewinding.change(replace(d.rewinding.body, laid=replace(laid, coils=turned(laid.coils, laid.coils[4:5]))))
    assert "Wound the other way: tooth 2. Turn it about." in d.steps.reckoned.text()
    assert d.steps.reckoned.property("verdict") == "out"


def test_phases_bring_their_usual_connection(desk: Make) -> None:
    d = desk(TWO_COILS)
    d.page.show_page(place_of("Steps"))
    d.steps.phases.setFocus()
    d.key(K.Key_Down)
    assert d.steps.connection.currentText() == "wye"
    d.key(K.Key_Up)
    assert d.steps.connection.currentText() == "in series"


# ---- wire


def test_wire_is_ranked_and_taken_by_keys(desk: Make) -> None:
    d = desk(winding="phase 1")
    d.fill(gauge="18", turns="40", mean_turn="72", window="90")
    d.key(K.Key_R, M.ControlModifier)
    d.qtbot.waitUntil(lambda: d.wire.table.ranking.rowCount() > 3)
    assert "inductance" in d.wire.note.text()
    assert d.wire.gauge.text() == "AWG 18"
    d.wire.table.setFocus()
    d.key(K.Key_Down)
    name = d.wire.table.ranking.rows[1].cells[0]
    assert d.wire.chosen.text().startswith(name)
    d.key(K.Key_T, M.ControlModifier)
    d.qtbot.waitUntil(lambda: row_of(d.page, "Wire").detail == name)
    assert "Taken:" in d.wire.taken.text()
    assert not d.wire.take.isEnabled()


def test_a_wire_taken_by_click_leaves_the_hand_in_the_table(desk: Make) -> None:
    d = desk(winding="phase 1")
    d.fill(gauge="18", turns="40", mean_turn="72", window="90")
    d.key(K.Key_R, M.ControlModifier)
    d.qtbot.waitUntil(lambda: d.wire.table.ranking.rowCount() > 3)
    d.wire.take.setFocus()
    d.key(K.Key_Space)
    assert "Taken:" in d.wire.taken.text()
    assert d.wire.table.hasFocus()
    d.key(K.Key_Space)
    assert d.left == []


def test_strands_in_hand_come_with_their_caution(desk: Make) -> None:
    d = desk(winding="phase 1", spools=SPOOLS[1:2])
    d.fill(gauge="17", turns="40", mean_turn="72")
    d.click(d.wire.rank)
    assert d.wire.chosen.text().startswith("2 × AWG 20")
    assert "shorted secondary" in d.wire.cautions.text()


def test_what_is_typed_stays_while_it_is_refused(desk: Make) -> None:
    d = desk(winding="phase 1")
    d.fill(gauge="AWG 99", turns="40", mean_turn="72")
    d.click(d.wire.rank)
    assert "not in the table" in d.page.said.sentence
    assert (d.wire.gauge.text(), d.wire.turns.text()) == ("AWG 99", "40")
    assert d.wire.gauge.property("state") == "refused"
    assert d.keeper.asked == []


# ---- the shelf


class Shelf:
    def __init__(self, qtbot: QtBot, window: QMainWindow, spools: Sequence[Spool]) -> None:
        self.keeper = RewindKeeperFake(at_once=False)
        self.dialog = ShelfDialog(window, LOOK, spools, self.keeper.save_spool)
        self.dialog.show()
        qtbot.waitExposed(self.dialog)


@pytest.fixture
def shelf(dressed: QApplication, qtbot: QtBot) -> Iterator[Callable[[Sequence[Spool]], Shelf]]:
    window = QMainWindow()
    window.resize(1366, 728)
    window.show()
    yield lambda spools: Shelf(qtbot, window, spools)
    window.close()
    window.deleteLater()


def test_a_spool_is_weighed_anew(shelf: Callable[[Sequence[Spool]], Shelf], qtbot: QtBot) -> None:
    s = shelf(sorted(SPOOLS, key=lambda x: x.name))  # as the store lists them
    d = s.dialog
    assert d.low.text() == "Below 100 g: short end 17."
    d.list.select_key(SPOOLS[2].id)
    assert (d.name.text(), d.gauge.text(), d.grams.text()) == ("short end 17", "AWG 17", "40")
    d.grams.setText("31.5")
    qtbot.mouseClick(d.keep_button, Qt.MouseButton.LeftButton)
    assert not d.keep_button.isEnabled()
    s.keeper.waiting[0].ack()
    assert s.keeper.of("spool")[0].grams == 31.5
    assert "is kept, 32 g" in d.said.sentence
    d.grams.setText("300")
    qtbot.mouseClick(d.keep_button, Qt.MouseButton.LeftButton)
    assert s.keeper.of("spool")[1].version == 2
    s.keeper.waiting[0].fail(ValueError("Another hand changed it. Nothing was written."))
    assert "Nothing was written" in d.said.sentence
    assert d.keep_button.isEnabled()
    d.reject()


def test_a_new_spool_is_put_among_the_others(shelf: Callable[[Sequence[Spool]], Shelf], qtbot: QtBot) -> None:
    s = shelf(SPOOLS)
    d = s.dialog
    qtbot.mouseClick(d.another, Qt.MouseButton.LeftButton)
    d.name.setText("gone")
    d.gauge.setText("99")
    qtbot.mouseClick(d.keep_button, Qt.MouseButton.LeftButton)
    assert "AWG 99 is not in the table" in d.said.sentence
    assert d.gauge.property("state") == "refused"
    assert s.keeper.asked == []
    d.gauge.setText("22")
    d.grams.setText("80")
    qtbot.mouseClick(d.keep_button, Qt.MouseButton.LeftButton)
    s.keeper.waiting[0].ack()
    assert [x.name for x in d.spools] == ["drawer 0.9", "gone", "short end 17", "top shelf 18", "top shelf 20"]
    assert d.low.text() == "Below 100 g: gone, short end 17."
    d.reject()


def test_news_that_come_after_it_was_closed_are_nobodys(
    shelf: Callable[[Sequence[Spool]], Shelf], qtbot: QtBot
) -> None:
    s = shelf(SPOOLS)
    qtbot.mouseClick(s.dialog.keep_button, Qt.MouseButton.LeftButton)
    s.dialog.reject()
    before = s.dialog.said.sentence
    s.keeper.waiting[0].ack()
    assert s.dialog.said.sentence == before


def test_a_full_shelf_is_listed_and_only_what_is_seen_is_measured(desk: Make) -> None:
    many = tuple(replace(SPOOLS[0], id=uuid4(), name=f"spool {n}", gauge=f"AWG {n}") for n in range(14, 25))
    d = desk(winding="phase 1", spools=many)
    d.fill(gauge="18", turns="40", mean_turn="72", tried="36 37 38 39 40 41 42 43")
    d.click(d.wire.rank)
    shown = d.wire.table.ranking
    assert shown.rowCount() > 100
    assert shown.index(0, 0).data() == shown.rows[0].cells[0]
    assert shown.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole) == shown.rows[0].spoken
