"""The page As wound by real clicks and keys: ticked, counted, read, tested tooth by tooth, refused in place, done."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from tests.rewind.wounds import COILS, MEAN, TURNS, WIRE, in_order, want
from tests.sitting.fakes import WYE
from tests.sitting.rewinds import rewinding
from tests.sitting.wounddesk import LAID, TAKEN, head
from tests.window.rewind.byname import key_of, place_of, row_of
from workbench.rewind.record import Body, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.wound import Compared
from workbench.rewind.woundrecord import Insulation, Spot, Way, WoundStep, WoundWork
from workbench.sitting.rewindwoundviews import RUN
from workbench.window.look import Look
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.woundpage import WoundPage
from workbench.window.theme import DARK, LIGHT, Sizes

K, M = Qt.Key, Qt.KeyboardModifier
FIRST, SECOND = Spot(COILS[0].tooth), Spot(COILS[1].tooth)


class Desk:
    def __init__(self, qtbot: QtBot, work: WoundWork | None, look: Look) -> None:
        self.qtbot = qtbot
        self.rewinding, self.keeper = rewinding(WYE, head=head())
        wire = WireWork(AsWas(WIRE.wire, TURNS, MEAN, 4), chosen=TAKEN)
        self.rewinding.change(Body(LAID, wire, wound=work))
        self.desk = RewindPage(look, self.rewinding, to_bench=lambda: None, shelf=lambda: None)
        self.window = QMainWindow()
        self.window.setCentralWidget(self.desk)
        self.window.resize(1366, 728)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(self.window.isActiveWindow)
        self.desk.show_page(place_of("As wound"))

    @property
    def page(self) -> WoundPage:
        page = self.desk.page
        assert isinstance(page, WoundPage)
        return page

    @property
    def work(self) -> WoundWork:
        return self.page.desk.work

    def key(self, key: K, modifier: M = M.NoModifier) -> None:
        at = QApplication.focusWidget()
        assert at is not None
        self.qtbot.keyClick(at, key, modifier)

    def write(self, text: str) -> None:
        at = QApplication.focusWidget()
        assert at is not None
        self.key(K.Key_A, M.ControlModifier)
        self.qtbot.keyClicks(at, text)

    def click(self, widget: QWidget, at: QPoint | None = None) -> None:
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton, pos=at or widget.rect().center())


Make = Callable[..., Desk]


@pytest.fixture
def desk(dressed: QApplication, qtbot: QtBot) -> Iterator[Make]:
    made: list[Desk] = []

    def make(work: WoundWork | None = None, look: Look = Look(LIGHT, Sizes())) -> Desk:  # noqa: B008 - frozen
        made.append(Desk(qtbot, work, look))
        return made[-1]

    yield make
    for d in made:
        d.window.close()
        d.window.deleteLater()


# ---- coils


def test_coil_after_coil_by_keys_alone(desk: Make) -> None:
    d = desk()
    d.qtbot.waitUntil(d.page.coils.turns.hasFocus)
    d.write("40")
    d.key(K.Key_Tab)
    d.write(f"{want().ohms:.4f}")
    d.key(K.Key_Return)
    assert d.page.desk.spot == SECOND
    assert (d.work.coils[0].spot, d.work.coils[0].turns) == (FIRST, 40)
    row = d.page.coils.list.rows.rows[0]
    assert row.word == "in"
    assert d.page.coils.aside.text() == "1 of 12 counted"
    assert d.page.coils.turns.text() == ""
    assert d.page.coils.turns.placeholderText() == "40 meant"
    assert d.page.coils.gauge.text() == "AWG 18"


def test_the_next_coil_is_typed_where_the_last_one_was(desk: Make) -> None:
    d = desk()
    for turns in ("40", "41", "39"):
        d.page.coils.turns.setFocus()
        d.write(turns)
        d.key(K.Key_N, M.ControlModifier)
        d.qtbot.waitUntil(lambda t=turns: [c.turns for c in d.work.coils][-1:] == [int(t)])
    assert [c.turns for c in d.work.coils] == [40, 41, 39]
    assert d.page.coils.turns.hasFocus()


def test_a_short_coil_is_told_at_once_and_stands_out(desk: Make) -> None:
    d = desk()
    for share in (1.0, 1.0, 1.0, 0.8):
        d.page.coils.turns.setText("40")
        d.page.coils.ohms.setText(f"{share * want().ohms:.4f}")
        d.click(d.page.coils.note)
    listed = d.page.coils.list
    d.click(listed.viewport(), listed.visualRect(listed.rows.index(3)).center())
    assert "As if 8 turns too few" in d.page.coils.told.text()
    assert d.page.coils.told.property("verdict") == "out"
    assert d.page.coils.apart.isVisible()
    assert f"Tooth {COILS[3].tooth} stands out" in d.page.coils.apart.text()


def test_what_is_refused_is_marked_and_stays_typed(desk: Make) -> None:
    d = desk()
    d.page.coils.turns.setText("forty")
    d.click(d.page.coils.note)
    assert "is no number" in d.desk.said.sentence
    assert d.page.coils.turns.property("state") == "refused"
    assert d.page.coils.turns.hasFocus()
    assert d.page.coils.turns.text() == "forty"
    d.write("40")
    d.key(K.Key_Return)
    assert d.page.coils.turns.property("state") == ""
    assert d.desk.said.sentence == ""


# ---- steps


def test_steps_by_keys_and_what_the_step_wants(desk: Make) -> None:
    d = desk(replace(in_order(), done=in_order().done[:6], insulation=None))
    steps = d.page.steps
    assert steps.step.text() == "Insulation, before the dip"
    assert "Only with the part off the machine" in steps.mind.text()
    assert steps.mind.property("verdict") == "continuous"
    assert steps.inputs.volts.isVisible()
    assert not steps.inputs.lot.isVisible()
    d.key(K.Key_Return, M.ControlModifier)
    d.qtbot.waitUntil(steps.inputs.volts.hasFocus)
    assert steps.inputs.volts.property("state") == "refused"
    d.write("500")
    for text in (">200", "20", "dry"):
        d.key(K.Key_Tab)
        d.write(text)
    d.key(K.Key_Return, M.ControlModifier)
    d.qtbot.waitUntil(lambda: d.work.insulation == Insulation(500, 200, 20, above=True))
    assert d.work.done[-1].note == "dry"
    assert steps.step.text() == "Varnish"
    assert "maker's sheet and local rules" in steps.mind.text()
    assert steps.inputs.lot.isVisible()
    assert steps.inputs.note.text() == ""
    assert row_of(d.desk, "As wound").detail == "7 of 11 steps"
    steps.list.setFocus()
    d.key(K.Key_Z, M.ControlModifier)
    d.qtbot.waitUntil(lambda: len(d.work.done) == 6)


def test_the_bakes_caution_stands_at_the_oven(desk: Make) -> None:
    d = desk(replace(in_order(), done=in_order().done[:8], bake=None))
    steps = d.page.steps
    assert "by the varnish maker's sheet and local rules" in steps.mind.text().lower()
    steps.inputs.bake_celsius.setText("900")
    steps.inputs.bake_hours.setText("4")
    d.click(steps.tick)
    assert "must lie from 40 to 250" in d.desk.said.sentence
    assert steps.inputs.bake_celsius.hasFocus()


def test_a_step_is_looked_at_by_click_and_by_key(desk: Make) -> None:
    d = desk(in_order())
    listed = d.page.steps.list
    listed.scrollToTop()
    d.click(listed.viewport(), listed.visualRect(listed.rows.index(1)).center())
    assert (d.page.steps.step.text(), d.page.steps.inputs.note.text()) == ("Wind", "as ever")
    assert d.page.steps.tick.text() == "Keep"
    listed.setFocus()
    d.key(K.Key_End)
    assert d.page.desk.step == RUN
    assert d.page.steps.inputs.seen.text() == "14.1 V at 3000 rpm"
    assert d.page.steps.inputs.ran.currentText() == "ran well"
    assert not d.page.steps.inputs.note.isVisible()


def test_the_run_is_noted(desk: Make) -> None:
    d = desk(replace(in_order(), run=None))
    steps = d.page.steps
    assert "not run on the machine" in steps.lacks.text()
    steps.inputs.ran.setFocus()
    d.key(K.Key_Down)
    d.key(K.Key_Tab)
    d.write("lights at idle")
    d.click(steps.tick)
    assert d.work.run is not None
    assert (d.work.run.well, d.work.run.seen) == (True, "lights at idle")
    assert not steps.lacks.isVisible()


# ---- senses


def test_tooth_by_tooth_on_the_core_by_keys(desk: Make) -> None:
    d = desk()
    d.page.core.setFocus()
    for c in COILS:
        d.key(K.Key_C if c.sense > 0 else K.Key_N)
    assert set(d.page.core.marks.values()) == {Compared.AGREES}
    assert d.page.told.text() == "All agree with what was laid."
    d.key(K.Key_Left)
    d.key(K.Key_Delete)
    gone = Spot(COILS[-2].tooth)
    assert d.work.way(gone) is None
    assert d.page.desk.spot == gone
    assert d.page.core.hasFocus()
    assert f"Tooth {gone.tooth}" in d.page.core.accessibleDescription()


def test_tooth_by_tooth_by_mouse_and_a_reversed_one_is_loud(desk: Make) -> None:
    d = desk()
    d.click(d.page.core, d.page.core.middle(3).toPoint())
    spot = Spot(COILS[3].tooth)
    assert d.page.desk.spot == spot
    assert d.page.coils.coil.text().startswith(f"Tooth {spot.tooth},")
    d.click(d.page.ways[Way.NORTH if COILS[3].sense > 0 else Way.SOUTH])
    assert d.page.core.marks[3] is Compared.DIFFERS
    assert f"REVERSED: tooth {spot.tooth}." in d.page.told.text()
    assert d.page.told.property("verdict") == "out"
    row = d.page.coils.list.rows.rows[3]
    assert (row.value, row.word) == ("REVERSED", "out")
    d.click(d.page.core, d.page.core.middle(3).toPoint())
    d.click(d.page.untested)
    assert d.page.core.marks[3] is Compared.UNTESTED
    assert not d.page.untested.isEnabled()


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_agreeing_and_reversed_are_drawn_otherwise(desk: Make, theme: object) -> None:
    """By shape, not by colour alone: seen in grey too."""
    d = desk(look=Look(theme, Sizes()))  # type: ignore[arg-type]
    spot = d.page.core.middle(0).toPoint()
    pictures = []
    for way in (None, Way.CLOCKWISE, Way.ANTICLOCKWISE):
        d.page.desk.choose(FIRST)
        d.page.desk.see_sense(way)
        d.page.desk.choose(SECOND)
        grey = d.page.core.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
        part = grey.copy(spot.x() - 12, spot.y() - 12, 24, 24)
        pictures.append([part.pixelColor(x, y).red() > 128 for x in range(24) for y in range(24)])
    for one, other in ((0, 1), (0, 2), (1, 2)):
        assert sum(a != b for a, b in zip(pictures[one], pictures[other], strict=True)) > 60


# ---- the dip, the end


def test_the_dip_waits_for_a_reversed_coil(desk: Make) -> None:
    work = replace(in_order(), done=in_order().done[:7])
    wrong = replace(work.sense[0], way=Way.ANTICLOCKWISE)
    d = desk(replace(work, sense=(wrong, *work.sense[1:])))
    d.click(d.page.steps.tick)
    assert "REVERSED: tooth 1" in d.desk.said.sentence
    not_yet, all_the_same = d.desk.said.buttons
    assert all_the_same.text() == "Dip it all the same"
    d.click(not_yet)
    assert d.page.desk.step is WoundStep.VARNISH


def test_the_rewind_is_done_by_its_key_and_stays_as_it_is(desk: Make) -> None:
    d = desk(in_order())
    d.key(K.Key_D, M.ControlModifier)
    d.qtbot.waitUntil(lambda: d.rewinding.done)
    assert [len(draws) for draws in d.keeper.draws] == [1]
    assert not d.page.steps.finish.isEnabled()
    d.page.coils.turns.setText("41")
    d.click(d.page.coils.note)
    assert "finished" in d.desk.said.sentence


def test_what_lacks_something_asks_before_it_is_done(desk: Make) -> None:
    d = desk(replace(in_order(), run=None))
    d.click(d.page.steps.finish)
    assert "not run on the machine" in d.desk.said.sentence
    assert not d.rewinding.done
    d.click(d.desk.said.buttons[1])
    assert d.rewinding.done


def test_another_winding_shows_its_own(desk: Make) -> None:
    d = desk(in_order())
    d.desk.winding.setFocus()
    d.key(K.Key_Down)
    assert d.rewinding.winding == "phase 1"
    assert d.page.steps.aside.text() == "0 of 11 done"
    assert len(d.page.coils.list.rows.rows) == 4
    assert d.page.coils.turns.text() == ""
    d.page.coils.list.setFocus()
    d.key(key_of("Steps"), M.ControlModifier)
    assert d.desk.stack.currentIndex() != d.desk.stack.indexOf(d.desk.pages[place_of("As wound")])


def test_in_large_text_the_field_at_fault_comes_in_sight(desk: Make) -> None:
    d = desk(replace(in_order(), done=in_order().done[:8], bake=None), look=Look(LIGHT, Sizes(2.0)))
    d.page.room.verticalScrollBar().setValue(0)
    field, area = d.page.steps.inputs.bake_celsius, d.page.room.viewport()
    assert not area.rect().contains(field.mapTo(area, field.rect().center()))
    d.page.steps.list.setFocus()
    d.key(K.Key_Return, M.ControlModifier)
    d.qtbot.waitUntil(field.hasFocus)
    assert area.rect().contains(field.mapTo(area, field.rect().center()))


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_all_of_it_can_be_brought_in_sight(desk: Make, scale: float) -> None:
    d = desk(look=Look(LIGHT, Sizes(scale)))
    for w in (d.page.steps.finish, d.page.coils.turns, d.page.untested, d.page.core):
        d.page.room.ensureWidgetVisible(w)
        area = d.page.room.viewport()
        assert area.rect().contains(w.mapTo(area, w.rect().center()))
