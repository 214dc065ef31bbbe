"""The strip of a part's plugs."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import BULLET, INLINE_3, STAGGERED_5
from workbench.window.faces.plugstrip import PlugStrip


@pytest.fixture
def strip(dressed: QApplication, qtbot: QtBot) -> PlugStrip:
    made = PlugStrip(ground=True)
    qtbot.addWidget(made)
    made.set_plugs((INLINE_3, STAGGERED_5), "B")
    with qtbot.waitExposed(made):
        made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def test_a_press_chooses_a_plug_by_name(strip: PlugStrip, qtbot: QtBot) -> None:
    heard: list[str] = []
    strip.plugChosen.connect(heard.append)
    qtbot.mouseClick(strip.thumbs[0], Qt.MouseButton.LeftButton)
    qtbot.keyClick(strip.thumbs[1], Qt.Key.Key_Return)
    assert heard == ["A", "B"]
    assert [t.isChecked() for t in strip.thumbs] == [False, True]
    strip.set_chosen("A")
    assert [t.isChecked() for t in strip.thumbs] == [True, False]
    assert [t.accessibleDescription() for t in strip.thumbs] == ["shown", ""]


def test_plugs_and_ground_are_named_for_a_screen_reader(strip: PlugStrip) -> None:
    assert [t.accessibleName() for t in strip.thumbs] == ["Plug A, 3 pins", "Plug B, 5 pins"]
    assert strip.ground is not None
    assert strip.ground.accessibleName() == "ground, the iron"


def test_arrows_walk_down_to_ground(strip: PlugStrip, qtbot: QtBot) -> None:
    assert strip.ground is not None
    strip.thumbs[0].setFocus()
    qtbot.keyClick(strip.thumbs[0], Qt.Key.Key_Down)
    assert strip.thumbs[1].hasFocus()
    qtbot.keyClick(strip.thumbs[1], Qt.Key.Key_Down)
    assert strip.ground.hasFocus()
    with qtbot.waitSignal(strip.groundPressed):
        qtbot.keyClick(strip.ground, Qt.Key.Key_Space)
    qtbot.keyClick(strip.ground, Qt.Key.Key_Up)
    assert strip.thumbs[1].hasFocus()


def test_a_part_with_one_plug_needs_no_strip(strip: PlugStrip) -> None:
    strip.set_plugs((BULLET,), "F")
    assert not strip.isVisible()
    assert [t.accessibleName() for t in strip.thumbs] == ["Plug F, 1 pin"]
    strip.set_plugs((INLINE_3, STAGGERED_5), "A")
    assert strip.isVisible()
