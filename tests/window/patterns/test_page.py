"""A pattern under the hands: what is typed is never left behind, and saving says what it does."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.drafting.drawn import wired
from tests.sitting.fakes import TWO_COILS, starter
from tests.sitting.test_patterndesk import BASE, Records
from workbench.drafting import coils, windings
from workbench.sitting.patterndesk import PatternDesk
from workbench.stator.layout import Facing
from workbench.stator.pattern import Element
from workbench.window.look import Look
from workbench.window.patterns.page import PatternPage
from workbench.window.theme import LIGHT, Sizes

K, M, LEFT = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton
STARTER = replace(BASE, pattern=starter(TWO_COILS))


class Shown:
    def __init__(self, qtbot: QtBot, *, scale: float = 1.0, **more: object) -> None:
        self.records = Records()
        self.desk = PatternDesk(self.records, **more)  # type: ignore[arg-type]
        self.backs = 0
        self.page = made_page(Look(LIGHT, Sizes(scale)), self.desk, self._back)
        qtbot.addWidget(self.page)
        self.page.resize(1366, 728)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    def _back(self) -> None:
        self.backs += 1

    def press(self, button: object) -> None:
        QTest.mouseClick(button, LEFT)  # type: ignore[call-overload]

    def click_row(self, at: int) -> None:
        rows = self.page.windings.rows
        QTest.mouseClick(rows.viewport(), LEFT, pos=rows.visualRect(rows.rows.index(at)).center())


def made_page(look: Look, desk: PatternDesk, back: object) -> PatternPage:
    return PatternPage(look, desk, back, lambda tag: None)  # type: ignore[arg-type]


@pytest.fixture
def shown(dressed: QApplication, qtbot: QtBot) -> Shown:
    return Shown(qtbot, base=STARTER)


def ohms(shown: Shown, name: str) -> float | None:
    return next(w.ohms for w in shown.desk.draft.windings if w.name == name)


def test_a_name_that_is_still_being_typed_is_saved_with_it(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot)
    shown.desk.edit(lambda _: replace(wired(), name=""))
    shown.page.name.setFocus()
    QTest.keyClicks(shown.page.name, "as typed")
    QTest.keyClick(shown.page.name, K.Key_S, M.ControlModifier)
    qtbot.waitUntil(lambda: bool(shown.records.of("save")))
    assert [p.name for p in shown.records.of("save")] == ["as typed"]
    assert shown.page.said.sentence == "as typed: revision 4 stands."


def test_what_keeps_it_from_being_saved_is_said(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot)
    shown.press(shown.page.save)
    assert shown.page.said.sentence.startswith("Not saved. A pattern needs a name")
    shown.page.celsius.setFocus()
    shown.page.celsius.clear()
    QTest.keyClicks(shown.page.celsius, "boiling")
    shown.press(shown.page.save)
    assert shown.page.said.sentence.startswith("Type the degrees Celsius")
    assert shown.page.celsius.text() == "boiling"
    assert shown.records.of("save") == []


def test_a_name_that_can_not_be_used_stays_as_it_was_typed_and_nothing_is_saved(shown: Shown) -> None:
    shown.desk.edit(lambda d: d.at_celsius(25))
    pane = shown.page.plugs
    pane.pin.setFocus()
    pane.pin.selectAll()
    QTest.keyClicks(pane.pin, "2")
    shown.press(shown.page.save)
    assert "is there already" in shown.page.said.sentence
    assert pane.pin.text() == "2"
    assert shown.records.of("save") == []
    shown.page.canvas.chosen.emit("3")  # another one: what was typed of the last is not its own
    assert pane.pin.text() == "3"
    shown.press(shown.page.save)
    assert len(shown.records.of("save")) == 1


def test_what_is_renamed_stays_in_hand(shown: Shown) -> None:
    pane = shown.page.plugs
    for field, text in ((pane.name, " Long one "), (pane.pin, "a1"), (pane.colour, "grey")):
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, K.Key_Return)
    plug = shown.desk.draft.plugs[0]
    assert (plug.name, plug.cavities[0].pin, plug.cavities[0].colour) == ("Long one", "a1", "grey")
    assert (pane.name.text(), pane.pin.text(), pane.choice.currentText()) == ("Long one", "a1", "Long one")


def test_a_row_that_is_clicked_is_the_one_whose_form_is_shown(shown: Shown) -> None:
    shown.press(shown.page.switches[1])
    for at in (1, 2, 0):
        shown.click_row(at)
        assert shown.page.windings.name.text() == shown.desk.draft.windings[at].name


def test_ohms_that_were_typed_and_not_put_yet_are_put_by_whatever_comes_next(shown: Shown) -> None:
    page, pane = shown.page, shown.page.windings
    first, second, third = (w.name for w in shown.desk.draft.windings)
    shown.press(page.switches[1])
    shown.click_row(0)
    pane.ohms.setText("156")
    shown.click_row(1)
    assert ohms(shown, first) == 156
    assert pane.name.text() == second
    pane.ohms.setText("18")
    shown.press(page.switches[3])
    assert ohms(shown, second) == 18
    shown.press(page.switches[1])
    shown.click_row(2)
    pane.name.setText("lamp coil")
    shown.press(page.save)
    assert shown.records.of("save")[0].windings[2].name == "lamp coil"
    pane.name.setText("lamps")
    shown.click_row(0)  # the rows are others now, and still it is this one
    assert (pane.rows.key(), pane.name.text()) == (first, first)
    assert shown.desk.draft.windings[2].name == "lamps"
    assert third not in {w.name for w in shown.desk.draft.windings}


def test_what_can_not_be_put_stays_in_hand(shown: Shown) -> None:
    page, pane = shown.page, shown.page.windings
    shown.press(page.switches[1])
    shown.click_row(0)
    before = shown.desk.draft
    pane.ohms.setText("a lot")
    shown.click_row(1)
    assert pane.rows.key() == before.windings[0].name
    assert pane.ohms.text() == "a lot"
    assert pane.trouble.isVisible()
    shown.press(page.switches[0])
    assert page.switches[1].isChecked()
    shown.press(page.save)
    assert shown.desk.draft == before
    assert shown.records.of("save") == []


def test_a_band_asks_only_for_what_it_needs(shown: Shown) -> None:
    pane = shown.page.windings
    shown.press(shown.page.switches[1])
    shown.click_row(0)
    fields = {"ohms": pane.ohms, "percent": pane.percent, "low": pane.low, "high": pane.high}

    def asked() -> set[str]:
        return {name for name, field in fields.items() if field.isVisible()}

    assert asked() == {"ohms", "percent"}
    pane.band.setCurrentIndex(1)
    assert asked() == {"ohms", "low", "high"}
    pane.band.setCurrentIndex(2)
    assert asked() == {"high"}
    pane.element.setCurrentIndex(1)
    assert asked() == set()
    pane.element.setCurrentIndex(0)
    pane.band.setCurrentIndex(0)
    shown.click_row(3)  # the link
    assert asked() == {"high"}


def test_a_high_limit_alone_is_typed_and_shown_as_that(shown: Shown) -> None:
    pane = shown.page.windings
    shown.press(shown.page.switches[1])
    shown.click_row(0)
    pane.band.setCurrentIndex(2)
    pane.high.setText("5")
    shown.press(pane.apply)
    w = shown.desk.draft.windings[0]
    assert (w.low, w.high, w.is_under) == (0, 5, True)
    assert pane.rows.rows.rows[0].value == "under 5 Ω"
    shown.click_row(1)
    shown.click_row(0)
    assert (pane.band.currentIndex(), pane.high.text()) == (2, "5")
    assert any(v.who == w.name and v.what == "no low limit is known" for v in shown.desk.remarks())


def test_a_diode_is_joined_between_the_two_in_hand_and_drawn(shown: Shown) -> None:
    page = shown.page
    shown.press(page.switches[1])
    assert not page.windings.diode.isEnabled()
    for node in ("P.1", "core"):
        shown.press(page.face.face.button(node))
    shown.press(page.windings.diode)
    assert page.hand.nodes == ()  # the next one may begin where this one ends
    made = shown.desk.draft.windings[-1]
    assert (made.name, made.element, {made.start, made.finish}) == ("diode 1", Element.DIODE, {"P.1", "core"})
    state = page.face.face.state
    assert state is not None
    assert "diode 1" in {m.text for m in state.marks}


def test_an_inner_point_is_named_joined_and_stays_only_while_it_is(shown: Shown, qtbot: QtBot) -> None:
    page = shown.page
    shown.press(page.switches[1])
    shown.press(page.windings.point)
    assert page.hand.nodes == ("point 1",)
    shown.press(page.face.face.button("P.4"))
    shown.press(page.windings.winding)
    assert shown.desk.draft.inner_points == ("point 1",)
    qtbot.waitUntil(page.face.point("point 1").isVisible)
    shown.press(page.undo)
    assert shown.desk.draft.inner_points == ()


def test_a_press_on_a_tooth_puts_a_coil_there_and_on_a_coil_takes_it_up(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot)
    shown.desk.edit(lambda _: coils.set_core(replace(wired(), layout=None), 6, Facing.OUTWARD))
    page = shown.page
    shown.press(page.switches[2])
    page.coils.winding.setCurrentText("low")
    for tooth in (2, 5):
        QTest.mouseClick(page.sketch, LEFT, pos=page.sketch.tooth_middle(tooth).toPoint())
    layout = shown.desk.draft.layout
    assert layout is not None
    assert [(c.winding, c.tooth) for c in layout.coils] == [("low", 2), ("low", 5)]
    page.coils.winding.setCurrentText("high")
    plan = page.sketch.plan
    assert plan is not None
    QTest.mouseClick(page.sketch, LEFT, pos=page.sketch.centre_of(plan.coils[0]).toPoint())
    assert page.coils.winding.currentText() == "low"
    assert page.coils.chosen == layout.coils[0]
    assert shown.desk.draft.layout == layout


def test_a_name_that_is_there_is_asked_about_and_saved_when_that_is_meant(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot)
    shown.records.there = (BASE,)
    shown.desk.edit(lambda _: wired())
    shown.press(shown.page.save)
    assert shown.records.of("save") == []
    further, not_now = shown.page.said.buttons
    assert (further.text(), not_now.text()) == ("Save revision 4", "Not now")
    shown.press(further)
    assert len(shown.records.of("save")) == 1


def test_a_revision_that_is_looked_at_is_not_changed_by_anything(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot, base=STARTER, looking=True)
    page = shown.page
    assert not page.save.isEnabled()
    page.canvas.setFocus()
    for key in (K.Key_Delete, K.Key_Up, K.Key_Return):
        QTest.keyClick(page.canvas, key)
    page.metal.setCurrentIndex(1)
    page.metal.activated.emit(1)
    assert shown.desk.draft.pattern() == STARTER.pattern
    assert page.metal.currentIndex() == 0
    assert "opened to be looked at" in page.said.sentence
    (on,) = page.said.buttons
    for at, field in enumerate((page.name, page.celsius, page.canvas)):
        field.setFocus()
        page.see(at)
    assert page.said.buttons == (on,)  # it keeps its place in the order of Tab, and the focus
    shown.press(on)
    assert page.save.isEnabled()


def test_the_button_says_which_revision_it_makes(shown: Shown) -> None:
    assert shown.page.save.text() == "Save revision 4"
    assert shown.page.save.shortcut().toString() == "Ctrl+S"
    shown.page.name.setFocus()
    shown.page.name.setText("another")
    shown.page.name.editingFinished.emit()
    assert shown.page.save.text() == "Save"
    assert "new pattern" in shown.page.save.toolTip()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_pane_shows_its_last_button_without_a_scroll_bar_of_its_own(
    dressed: QApplication, qtbot: QtBot, scale: float
) -> None:
    shown = Shown(qtbot, base=STARTER, scale=scale)
    last = (shown.page.plugs.drop_pin, shown.page.windings.apply, shown.page.coils.take, shown.page.checks.anew)
    for at, button in enumerate(last):
        shown.page.see(at)
        bar = shown.page.stack.currentWidget().verticalScrollBar()  # type: ignore[attr-defined]
        qtbot.waitUntil(lambda bar=bar: bar.maximum() == 0)  # type: ignore[misc]
        assert button.visibleRegion().boundingRect().height() > 0 or scale > 1


def test_going_back_takes_over_what_was_typed(shown: Shown) -> None:
    shown.press(shown.page.switches[1])
    shown.click_row(0)
    shown.page.windings.ohms.setText("157")
    shown.press(shown.page.back)
    assert shown.backs == 1
    assert shown.desk.draft.windings[0].ohms == 157


def test_where_a_band_came_from_is_shown(shown: Shown) -> None:
    name = shown.desk.draft.windings[0].name
    shown.press(shown.page.switches[1])
    shown.click_row(0)
    assert shown.page.windings.source.isHidden()
    shown.desk.edit(lambda d: windings.set_percent(d, name, 155, 10, band_from="eleven units"))
    shown.click_row(0)
    assert shown.page.windings.source.isVisible()
    assert shown.page.windings.source.text() == "eleven units"


def test_large_text_leaves_one_scroll_bar_whatever_is_said(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot, base=STARTER, scale=2.0)
    shown.page.see(1)
    shown.page.windings.show_edge(shown.desk.draft.windings[0].name)
    shown.page.windings.ohms.setText("a lot")
    shown.press(shown.page.windings.apply)
    assert shown.page.windings.trouble.text()
    bar = shown.page.stack.currentWidget().verticalScrollBar()  # type: ignore[attr-defined]
    qtbot.waitUntil(lambda: bar.maximum() == 0)


def test_coils_of_one_tooth_change_places(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot, base=BASE)
    pane = shown.page.coils
    shown.press(shown.page.switches[2])
    assert [r.title for r in pane.rows.rows.rows] == ["high", "low", "low"]
    pane.rows.select_key(((1, None), 0))
    assert not pane.inward.isEnabled()
    shown.press(pane.outward)
    assert [r.title for r in pane.rows.rows.rows] == ["low", "high", "low"]
    assert pane.chosen is not None
    assert (pane.chosen.winding, pane.chosen.place) == ("high", 1)  # still the one in hand
    assert not pane.outward.isEnabled()
    shown.press(pane.inward)
    assert shown.desk.draft == wired()


def test_what_a_remark_is_about_is_ringed_on_the_plug(shown: Shown) -> None:
    page = shown.page
    before = page.canvas.grab().toImage()
    page.proof.about.emit(("P.4",))
    assert page.canvas.grab().toImage() != before
    page.proof.about.emit(("low-speed coil",))
    assert page.canvas.grab().toImage() == before


def test_what_comes_once_the_page_is_gone_finds_nobody_and_harms_nobody(dressed: QApplication, qtbot: QtBot) -> None:
    shown = Shown(qtbot, base=STARTER)
    shown.records.at_once = False
    shown.desk.edit(lambda d: d.at_celsius(25))
    heard: list[str] = []
    shown.desk.on_change = lambda: heard.append("shown")
    shown.page.leave()
    failed = shown.records.asked[-1][3]
    assert failed is not None
    failed(OSError("The disk is full."))
    assert heard == []
    assert shown.desk.keeping.lost
    shown.desk.try_again()
    assert shown.desk.said is not None
    assert "tried again" in shown.desk.said.sentence
    shown.records.answer("keep")
    assert not shown.desk.keeping.lost


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_what_is_refused_is_said_in_sight(dressed: QApplication, qtbot: QtBot, scale: float) -> None:
    shown = Shown(qtbot, base=STARTER, scale=scale)
    pane = shown.page.plugs
    pane.name.setFocus()
    pane.name.selectAll()
    QTest.keyClicks(pane.name, "L")
    QTest.keyClick(pane.name, K.Key_Return)
    assert "is there already" in shown.page.said.sentence
    qtbot.waitUntil(lambda: shown.page.said.visibleRegion().boundingRect().height() >= shown.page.said.height() > 0)
