"""The offered pair's pulse: calm, only where it is seen and wished, and only its own line repainted."""

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import STAGGERED_5
from workbench.sitting.faceplan import face_plan
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.pulse import FAINTEST, swell
from workbench.window.faces.state import FaceState, Mark, Standing

PLAN = face_plan(STAGGERED_5)
OFFERED = FaceState(PLAN, (Mark("B.4", "B.5", standing=Standing.OFFERED),))


class Watched(FaceView):
    painted: list[QRect]

    def paintEvent(self, event: QPaintEvent) -> None:
        self.painted.append(event.region().boundingRect())
        super().paintEvent(event)


def shown(qtbot: QtBot, *, moves: bool) -> Watched:
    face = Watched(moves=moves)
    face.painted = []
    qtbot.addWidget(face)
    face.resize(640, 440)
    face.set_state(OFFERED)
    with qtbot.waitExposed(face):
        face.show()
    face.activateWindow()
    qtbot.waitUntil(face.isActiveWindow)
    return face


def test_it_beats_in_the_lines_own_region_only(dressed: QApplication, qtbot: QtBot) -> None:
    face = shown(qtbot, moves=True)
    qtbot.waitUntil(lambda: face.pulse.running)
    face.painted.clear()
    qtbot.waitUntil(lambda: len(face.painted) >= 3)
    one, other = (face.button(n).geometry().center() for n in ("B.4", "B.5"))
    line = QRect(one, other).adjusted(-8, -8, 8, 8)
    assert all(line.contains(r) for r in face.painted[1:3])


def test_without_being_wished_nothing_moves(dressed: QApplication, qtbot: QtBot) -> None:
    face = shown(qtbot, moves=False)
    assert not face.pulse.running
    assert face.pulse.strength == 1.0


def test_it_rests_when_nothing_is_offered_the_window_sleeps_or_it_is_hidden(
    dressed: QApplication, qtbot: QtBot
) -> None:
    face = shown(qtbot, moves=True)
    qtbot.waitUntil(lambda: face.pulse.running)
    face.set_state(FaceState(PLAN))
    assert not face.pulse.running
    face.set_state(OFFERED)
    assert face.pulse.running
    other = QWidget()
    qtbot.addWidget(other)
    other.show()
    other.activateWindow()
    qtbot.waitUntil(lambda: not face.pulse.running)
    assert face.pulse.strength == 1.0
    face.activateWindow()
    qtbot.waitUntil(lambda: face.pulse.running)


def test_within_a_page_it_follows_the_window_and_rests_while_hidden(dressed: QApplication, qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    page.resize(640, 440)
    face = FaceView(page, moves=True)
    face.resize(640, 440)
    face.set_state(OFFERED)
    with qtbot.waitExposed(page):
        page.show()
    page.activateWindow()
    qtbot.waitUntil(lambda: face.pulse.running)
    face.hide()
    assert not face.pulse.running
    face.show()
    assert face.pulse.running
    other = QWidget()
    qtbot.addWidget(other)
    other.show()
    other.activateWindow()
    qtbot.waitUntil(lambda: not face.pulse.running)


@pytest.mark.parametrize(("ms", "strength"), [(0, 1.0), (500, FAINTEST), (1000, 1.0), (1500, FAINTEST)])
def test_it_swells_once_a_second(ms: int, strength: float) -> None:
    assert swell(ms) == pytest.approx(strength)
