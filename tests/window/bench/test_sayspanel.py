"""The explanations as they are drawn, pointed at and heard."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from workbench.sitting.says import ExplanationView, SaysView
from workbench.stator.pattern import Pair
from workbench.window.bench.sayspanel import SaysPanel
from workbench.window.look import Look
from workbench.window.theme import DARK, LIGHT, Sizes, Theme

ONE = ExplanationView("Shorted turns in the fine coil", "about a quarter of them, 18 to 32 %", 0.8)
OTHER = ExplanationView("Sound", "", 0.2)
VIEW = SaysView((ONE, OTHER), Pair("P.1", "P.2"), "P 1 – 2 would tell most.", settled=False)


@pytest.fixture
def panel(dressed: QApplication, qtbot: QtBot) -> SaysPanel:
    made = SaysPanel(Look(LIGHT, Sizes()))
    qtbot.addWidget(made)
    made.resize(348, 260)
    made.show_says(VIEW)
    made.show()
    return made


def test_each_explanation_is_heard_with_its_share_and_its_size(panel: SaysPanel) -> None:
    rows = panel.list.rows
    heard = [rows.data(rows.index(i), Qt.ItemDataRole.AccessibleTextRole) for i in range(rows.rowCount())]
    assert heard == ["Shorted turns in the fine coil: 80 %, about a quarter of them, 18 to 32 %", "Sound: 20 %"]
    assert panel.foot.text() == "P 1 – 2 would tell most."
    assert "P 1 – 2 would tell most" in panel.accessibleDescription()


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_a_bar_is_as_long_as_its_share(dressed: QApplication, qtbot: QtBot, theme: Theme) -> None:
    panel = SaysPanel(Look(theme, Sizes()))
    qtbot.addWidget(panel)
    panel.resize(348, 260)
    panel.show_says(VIEW)
    panel.show()
    view = panel.list
    image = view.viewport().grab().toImage()
    long = []
    for i in range(2):
        box = view.visualRect(view.rows.index(i))
        y = box.bottom() - 5
        long.append(sum(image.pixelColor(x, y) == QColor(theme.ink) for x in range(box.left(), box.right())))
    assert long[0] == pytest.approx(0.8 * (view.viewport().width() - 4), abs=3)
    assert long[1] == pytest.approx(0.2 * (view.viewport().width() - 4), abs=3)


def test_what_is_pointed_at_is_told_by_mouse_and_by_keys(panel: SaysPanel, qtbot: QtBot) -> None:
    told: list[object] = []
    panel.pointed.connect(told.append)
    place = panel.list.visualRect(panel.list.rows.index(0)).center()
    qtbot.mouseMove(panel.list.viewport(), place + QPoint(5, 3))
    qtbot.waitUntil(lambda: told[-1:] == [ONE])
    panel.list.setFocus()
    qtbot.keyClick(panel.list, Qt.Key.Key_Down)
    qtbot.keyClick(panel.list, Qt.Key.Key_Down)
    assert told[-1] == OTHER
    panel.setFocus()
    panel.list.clearFocus()
    assert told[-1] is None


def test_the_heading_tells_whether_its_past_counts(panel: SaysPanel) -> None:
    assert panel.aside.text() == ""
    told = "Weighed with its own good sheet of 8 May 2025"
    panel.show_says(replace(VIEW, past=told))
    assert (panel.aside.text(), panel.aside.toolTip()) == ("with its past", told)
    assert told in panel.accessibleDescription()
    panel.show_says(replace(VIEW, unlike=True))
    assert panel.aside.text() == "unlike its past"


def test_rows_stay_where_they_are_whatever_the_foot_says(panel: SaysPanel) -> None:
    before = panel.list.geometry()
    panel.show_says(
        SaysView((ONE, OTHER), None, "Ohms can tell no more. What could: " + "a run at speed, " * 3, settled=False)
    )
    panel.layout().activate()  # type: ignore[union-attr]
    assert panel.list.geometry() == before


@pytest.mark.parametrize(
    ("share", "said"), [(0.0004, "< 1 %"), (0.997, "> 99 %"), (0.5, "50 %"), (1.0, "100 %"), (0.0, "0 %")]
)
def test_a_share_is_never_rounded_to_certainty(share: float, said: str) -> None:
    assert ExplanationView("", "", share).percent == said
