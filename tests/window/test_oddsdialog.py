"""What this shop finds, shown to its owner."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow
from pytestqt.qtbot import QtBot

from workbench.findings.faults import Fault
from workbench.findings.odds import Counts
from workbench.window.look import Look
from workbench.window.oddsdialog import OddsDialog
from workbench.window.theme import LIGHT, Sizes

COUNTS = Counts({("charging",): {Fault.OPEN_LEAD: 5}, ("ignition", "lighting"): {Fault.SHORTED_TURNS: 25}})


@pytest.fixture
def dialog(dressed: QApplication, qtbot: QtBot) -> Iterator[OddsDialog]:
    window = QMainWindow()
    qtbot.addWidget(window)
    window.resize(1366, 728)
    made = OddsDialog(window, Look(LIGHT, Sizes()), COUNTS, learns=True)
    made.show()
    yield made
    made.close()


def row(dialog: OddsDialog, title: str) -> tuple[str, str, str]:
    for r in range(dialog.table.rowCount()):
        cells = [dialog.table.item(r, c).text() for c in range(dialog.table.columnCount())]
        if cells[0] == title:
            return cells[1], cells[2], cells[3]
    raise AssertionError(title)


def test_the_whole_shop_stands_first_worked_by_hand(dialog: OddsDialog) -> None:
    assert dialog.choice.currentText() == "the whole shop: 30"
    assert dialog.table.rowCount() == len(Fault)
    assert row(dialog, "Shorted turns") == ("10.0 %", "25", "37.5 %")  # (5 + 25) / 80
    assert row(dialog, "Wire broken at a pin") == ("8.0 %", "5", "11.2 %")  # (4 + 5) / 80
    assert dialog.sentence.text() == "The odds stand on all 30 decided jobs of the shop."


def test_a_family_with_enough_stands_alone_and_one_with_few_on_the_whole_shop(dialog: OddsDialog, qtbot: QtBot) -> None:
    dialog.choice.setFocus()
    qtbot.keyClick(dialog.choice, Qt.Key.Key_Down)
    assert dialog.choice.currentText() == "ignition and lighting: 25"
    assert row(dialog, "Shorted turns") == ("10.0 %", "25", "40.0 %")  # (5 + 25) / 75
    assert "25 decided jobs of this family" in dialog.sentence.text()
    qtbot.keyClick(dialog.choice, Qt.Key.Key_Down)
    assert row(dialog, "Shorted turns") == ("10.0 %", "0", "37.5 %")
    assert "only 5 of this family (charging)" in dialog.sentence.text()
    assert dialog.table.accessibleDescription() == dialog.sentence.text()


def test_switched_off_the_stated_odds_stand_and_the_counts_stay_in_sight(dialog: OddsDialog, qtbot: QtBot) -> None:
    dialog.learns.setFocus()
    qtbot.keyClick(dialog.learns, Qt.Key.Key_Space)
    assert row(dialog, "Shorted turns") == ("10.0 %", "25", "10.0 %")
    assert dialog.sentence.text() == "The stated odds hold, whatever the shop finds."


def test_tab_leaves_the_table(dialog: OddsDialog, qtbot: QtBot) -> None:
    dialog.table.setFocus()
    qtbot.keyClick(dialog.table, Qt.Key.Key_Tab)
    assert dialog.focusWidget() is dialog.learns


def test_nothing_in_the_table_can_be_typed_over(dialog: OddsDialog, qtbot: QtBot) -> None:
    dialog.table.setFocus()
    qtbot.keyClicks(dialog.table, "9")
    qtbot.keyClick(dialog.table, Qt.Key.Key_F2)
    assert dialog.table.findChildren(QLineEdit) == []
