"""The proof beside the drawing: remarks with their weight, every pair, what is lit."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import starter
from tests.sitting.test_patterndesk import BASE, Records
from workbench.drafting import plugs, windings
from workbench.drafting.prove import Proof, Weight
from workbench.sitting.patterndesk import PatternDesk
from workbench.stator.pattern import Pair
from workbench.window.look import Look
from workbench.window.patterns.proofpanel import LATER, SOUND, ProofPanel
from workbench.window.patterns.remarklist import draw_weight
from workbench.window.theme import LIGHT, Sizes

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(dressed: QApplication, qtbot: QtBot) -> ProofPanel:
    made = ProofPanel(Look(LIGHT, Sizes()))
    qtbot.addWidget(made)
    made.resize(300, 640)
    made.show()
    return made


def test_a_remark_that_is_clicked_says_its_sentence_and_lights_its_names(panel: ProofPanel, qtbot: QtBot) -> None:
    desk = PatternDesk(Records(), base=BASE)
    desk.edit(lambda d: d.checked((Pair("P.1", "P.2"),)))
    panel.show_desk(desk, ())
    assert panel.remarks.chosen is None
    at = panel.remarks.visualRect(panel.remarks.rows.index(0)).center()
    with qtbot.waitSignal(panel.about, check_params_cb=bool):
        QTest.mouseClick(panel.remarks.viewport(), LEFT, pos=at)
    first = desk.remarks()[0]
    assert panel.whole.text() == first.sentence
    assert first.weight is Weight.WARNING
    assert panel.remarks.rows.rows[0].spoken == f"look: {first.sentence}"


def test_what_lacks_nothing_says_so_and_what_is_none_yet_shows_no_pairs(panel: ProofPanel) -> None:
    sound = PatternDesk(Records(), base=replace(BASE, pattern=starter("lighting floating")))
    assert sound.remarks() == ()
    panel.show_desk(sound, ())
    assert panel.whole.text() == SOUND
    assert panel.remarks.isHidden()
    assert panel.board.isVisible()
    empty = PatternDesk(Records())
    panel.show_desk(empty, ())
    assert panel.remarks.rows.rows[0].value == "missing"
    assert panel.board.isHidden()
    assert panel.later.isVisible()
    assert panel.later.text() == LATER


def test_what_was_proved_last_stands_while_the_next_is_being_proved(panel: ProofPanel) -> None:
    waiting: list[tuple[Callable[[], Proof], Callable[[Proof], None]]] = []
    desk = PatternDesk(Records(), reckon=lambda work, then: waiting.append((work, then)))
    desk.on_change = lambda: panel.show_desk(desk, ())
    desk.edit(lambda d: plugs.add_plug(d.named("large"), plugs.rows((25, 25)), name="P"))
    desk.edit(lambda d: windings.link(d, "P.1", "P.2")[0])
    work, then = waiting[-1]
    then(work())
    assert panel.board.isVisible()
    remarks = panel.remarks.rows.rows
    assert remarks
    desk.edit(lambda d: windings.link(d, "P.3", "P.4")[0])
    assert panel._proof.aside.text() == "being proved …"
    assert panel.board.isVisible()
    assert panel.remarks.rows.rows == remarks
    work, then = waiting[-1]
    then(work())
    assert "remark" in panel._proof.aside.text()
    assert panel.remarks.rows.rows != remarks


def test_a_pair_is_taken_from_the_triangle_and_lit_there(panel: ProofPanel, qtbot: QtBot) -> None:
    desk = PatternDesk(Records(), base=BASE)
    panel.show_desk(desk, ())
    (table,) = panel.board.tables
    with qtbot.waitSignal(panel.picked) as told:
        place = table.cells.place_of(Pair("P.1", "P.3"))
        QTest.mouseClick(table.viewport(), LEFT, pos=table.visualRect(place).center())
    assert told.args == [Pair("P.1", "P.3")]
    panel.show_desk(desk, ("P.1", "P.3"))
    assert table.cells.current_place() == place


def test_weights_differ_in_shape_not_only_in_colour(dressed: QApplication) -> None:
    drawn = []
    for weight in Weight:
        image = QImage(40, 40, QImage.Format.Format_RGB32)
        image.fill(QColor(LIGHT.panel))
        painter = QPainter(image)
        draw_weight(painter, weight, QPointF(20, 20), 12, LIGHT)
        painter.end()
        blank = QColor(LIGHT.panel).rgb()
        drawn.append({(x, y) for x in range(40) for y in range(40) if image.pixel(QPoint(x, y)) != blank})
    for i, one in enumerate(drawn):
        for other in drawn[:i]:
            assert len(one ^ other) > 0.6 * len(one | other)
