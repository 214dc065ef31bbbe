"""The owner looks at the bands the shop's units would earn, and takes one."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from tests.sitting.test_earnedbands import DAY, PATTERN, SHOWN, good
from workbench.sitting.earnedbands import EarnedView, accepted
from workbench.window.look import Look
from workbench.window.patterns.bandsdialog import BandsDialog
from workbench.window.theme import LIGHT, Sizes


@pytest.fixture
def window(dressed: QApplication, qtbot: QtBot) -> QMainWindow:
    made = QMainWindow()
    qtbot.addWidget(made)
    made.resize(1366, 728)
    made.show()
    return made


def test_a_band_is_taken_and_then_stands(window: QMainWindow, qtbot: QtBot) -> None:
    taken: list[EarnedView] = []
    dialog = BandsDialog(window, Look(LIGHT, Sizes()), PATTERN, good(*SHOWN), taken.append)
    dialog.show()
    dialog.rows.select_key("low-speed coil")
    assert dialog.state.text() == "11 units known good: firm."
    qtbot.mouseClick(dialog.use, Qt.MouseButton.LeftButton)
    assert [v.winding for v in taken] == ["low-speed coil"]
    dialog.show_pattern(accepted(PATTERN, taken[0], DAY))
    assert dialog.chosen is not None
    assert "earned from 11 units" in dialog.chosen.stands
    dialog.close()


def test_without_enough_units_nothing_can_be_taken(window: QMainWindow, qtbot: QtBot) -> None:
    taken: list[EarnedView] = []
    dialog = BandsDialog(window, Look(LIGHT, Sizes()), PATTERN, good(*SHOWN), taken.append)
    dialog.show()
    dialog.rows.select_key("low-speed coil")
    dialog.method.setCurrentIndex(1)
    assert dialog.state.text() == "11 units known good: 82 more for a band."
    assert not dialog.use.isEnabled()
    dialog.take()
    assert taken == []
    dialog.close()
