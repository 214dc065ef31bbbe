"""A plug on its grid, by real clicks and keys: what is told, and that the drawing shows it."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from workbench.drafting import plugs
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.plugs import Place
from workbench.stator.pattern import Connector
from workbench.window.look import Look
from workbench.window.patterns.canvas import PlugCanvas
from workbench.window.theme import LIGHT, Sizes

K, M, LEFT = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton


class Drawn:
    """A canvas with the plug that its signals make."""

    def __init__(self, qtbot: QtBot, places: tuple[Place, ...], *, wire_side: bool = False) -> None:
        self.draft = plugs.add_plug(Draft(), places)
        self.wire_side, self.pin, self.renamed = wire_side, "1", list[str]()
        self.canvas = PlugCanvas(Look(LIGHT, Sizes()))
        qtbot.addWidget(self.canvas)
        self.canvas.resize(640, 480)
        self.canvas.putAt.connect(lambda place: self._edit(plugs.add_cavity, place))
        self.canvas.movedTo.connect(lambda pin, place: self._edit(plugs.move_cavity, pin, place))
        self.canvas.dropped.connect(lambda pin: self._edit(plugs.drop_cavity, pin))
        self.canvas.chosen.connect(self._choose)
        self.canvas.renaming.connect(self.renamed.append)
        self._show()
        self.canvas.show()
        self.canvas.setFocus()

    @property
    def plug(self) -> Connector:
        return self.draft.plugs[0]

    @property
    def places(self) -> dict[str, Place]:
        return {c.pin: p for c, p in zip(self.plug.cavities, self.plug.places, strict=True)}

    def keys(self, *keys: Qt.Key, modifier: Qt.KeyboardModifier = M.NoModifier) -> None:
        for key in keys:
            QTest.keyClick(self.canvas, key, modifier)

    def at(self, place: Place) -> QPoint:
        return self.canvas.at(place).toPoint()

    def turn(self) -> None:
        self.wire_side = not self.wire_side
        self._show()

    def _edit(self, change: object, *args: object) -> None:
        try:
            self.draft = change(self.draft, self.plug.name, *args)  # type: ignore[operator]
        except EditError:
            return
        self._show()

    def _choose(self, pin: str) -> None:
        self.pin = pin
        self._show()

    def _show(self) -> None:
        self.canvas.show_plug(self.plug, self.pin, wire_side=self.wire_side)


@pytest.fixture
def drawn(dressed: QApplication, qtbot: QtBot) -> Drawn:
    return Drawn(qtbot, ((0.0, 0.0),))


def test_a_click_puts_one_and_a_drag_moves_it(drawn: Drawn) -> None:
    QTest.mouseClick(drawn.canvas, LEFT, pos=drawn.at((1.0, 0.0)))
    assert drawn.places["2"] == (1.0, 0.0)
    QTest.mousePress(drawn.canvas, LEFT, pos=drawn.at((1.0, 0.0)))
    assert drawn.pin == "2"
    end = drawn.at((1.5, 1.0))
    QTest.mouseMove(drawn.canvas, end)
    QTest.mouseRelease(drawn.canvas, LEFT, pos=end)
    assert drawn.places["2"] == (1.5, 1.0)


def test_a_drag_to_the_edge_goes_no_further_than_the_hand(drawn: Drawn) -> None:
    """A grid that grew under the hand would carry the cavity away."""
    start, end = drawn.at((0.0, 0.0)), drawn.at((2.0, 0.0))
    QTest.mousePress(drawn.canvas, LEFT, pos=start)
    for i in range(1, 21):
        QTest.mouseMove(drawn.canvas, start + (end - start) * (i / 20))
    QTest.mouseRelease(drawn.canvas, LEFT, pos=end)
    assert drawn.places == {"1": (2.0, 0.0)}


def test_a_hand_that_trembles_moves_nothing(dressed: QApplication, qtbot: QtBot) -> None:
    drawn = Drawn(qtbot, plugs.ring(5))
    before = drawn.places
    for pin, place in before.items():
        at = drawn.at(place)
        QTest.mousePress(drawn.canvas, LEFT, pos=at)
        QTest.mouseMove(drawn.canvas, at + QPoint(2, 2))
        QTest.mouseRelease(drawn.canvas, LEFT, pos=at + QPoint(2, 2))
        assert drawn.pin == pin
    assert drawn.places == before


def test_keys_put_name_move_and_drop(drawn: Drawn) -> None:
    drawn.keys(K.Key_Right, K.Key_Insert)
    drawn.keys(K.Key_Up, modifier=M.ShiftModifier)
    assert drawn.places["2"] == (1.0, 1.0)
    drawn.keys(K.Key_Left, modifier=M.ShiftModifier | M.AltModifier)
    assert drawn.places["2"] == (0.5, 1.0)
    drawn.keys(K.Key_F2)
    assert drawn.renamed == ["2"]
    drawn.keys(K.Key_Delete)
    assert list(drawn.places) == ["1"]
    assert "no cavity at 0.5, 1" in drawn.canvas.accessibleDescription()


def test_one_that_is_in_the_way_is_not_moved_onto(drawn: Drawn) -> None:
    drawn.keys(K.Key_Right, K.Key_Return)
    drawn.keys(K.Key_Left, modifier=M.ShiftModifier)
    assert drawn.places == {"1": (0.0, 0.0), "2": (1.0, 0.0)}
    assert "cavity 2" in drawn.canvas.accessibleDescription()  # the cursor stays with it


def test_page_down_goes_round_a_ring(dressed: QApplication, qtbot: QtBot) -> None:
    drawn = Drawn(qtbot, plugs.ring(5))
    seen = []
    for _ in range(5):
        drawn.keys(K.Key_PageDown)
        seen.append(drawn.pin)
    assert seen == ["2", "3", "4", "5", "1"]
    drawn.keys(K.Key_PageUp)
    assert drawn.pin == "5"


def test_from_the_wire_side_it_grows_to_the_right_and_is_stored_to_the_left(
    dressed: QApplication, qtbot: QtBot
) -> None:
    drawn = Drawn(qtbot, ((0.0, 0.0),), wire_side=True)
    for _ in range(3):
        drawn.keys(K.Key_Right, K.Key_Return)
    assert [x for x, _ in drawn.plug.places] == [0.0, -1.0, -2.0, -3.0]
    across = [drawn.at(p).x() for p in drawn.plug.places]
    assert across == sorted(across)
    here = drawn.canvas.accessibleDescription()
    assert "from the wire side; cavity 4" in here
    drawn.turn()
    assert "looking into the mating side; cavity 4" in drawn.canvas.accessibleDescription()
    across = [drawn.at(p).x() for p in drawn.plug.places]
    assert across == sorted(across, reverse=True)


def test_a_picture_takes_nothing(dressed: QApplication, qtbot: QtBot) -> None:
    canvas = PlugCanvas(Look(LIGHT, Sizes()), takes=False)
    qtbot.addWidget(canvas)
    canvas.resize(400, 300)
    canvas.show()
    put: list[object] = []
    canvas.putAt.connect(put.append)
    QTest.mouseClick(canvas, LEFT, pos=QPoint(40, 40))
    assert put == []
    assert canvas.focusPolicy() is Qt.FocusPolicy.NoFocus
