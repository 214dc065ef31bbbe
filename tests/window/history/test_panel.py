"""The history panel: a shape for each verdict, mouse and keys that choose a sheet, nothing to compare said plainly."""

import gc
import subprocess
import sys
from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetricsF, QImage, QMouseEvent, QPainter
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from tests.sitting.fakes import bench_file
from tests.sitting.pasts import sheet_id
from workbench.sitting.history import FIRST_TIME, HistoryPoint, HistoryView
from workbench.window import theme
from workbench.window.history.panel import HistoryPanel
from workbench.window.history.plot import HistoryPlot
from workbench.window.history.scale import span_of
from workbench.window.look import Look
from workbench.window.theme import DARK, LIGHT, Sizes, Theme, verdict_ink

FILE = bench_file()
EMPTY = HistoryView("P 1 – 3 at 20 °C", (), 139.5, 170.5, FIRST_TIME)
WORDS = ("in", "close", "doubtful", "continuous", "out")


def point(number: int, ohms: float | None, word: str = "in", *, now: bool = False) -> HistoryPoint:
    value = "open" if ohms is None else f"{ohms:.1f} ± 1.9 Ω"
    u = None if ohms is None else 1.9
    return HistoryPoint(sheet_id(number), number, f"{number} Jan 2025", ohms, u, value, word, now)


def view(*points: HistoryPoint, sentence: str = "As before.", drifted: bool = False) -> HistoryView:
    return HistoryView("P 1 – 3 at 20 °C", points, 139.5, 170.5, sentence, drifted)


VIEWS = """
from uuid import uuid4
from workbench.sitting.history import HistoryPoint, HistoryView
EMPTY = HistoryView("t", (), 1.0, 2.0, "nothing")
FULL = HistoryView("t", (HistoryPoint(uuid4(), 1, "1 Jan 2025", 1.5, 0.1, "1.5", "in", False),), 1.0, 2.0, "as before")
"""
THREE = view(point(1, 155.0), point(2, None, "out"), point(3, 149.1, now=True))


NO_KEYS = Qt.KeyboardModifier.NoModifier


class Page(QWidget):
    """The panel beside a field that has the focus first, as on the bench."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.field, self.panel = QLineEdit(), HistoryPanel(look)
        column = QVBoxLayout(self)
        column.addWidget(self.field)
        column.addWidget(self.panel, 1)
        self.chosen: list[object] = []
        self.panel.sheetChosen.connect(self.chosen.append)


def shown(
    qtbot: QtBot, seen: HistoryView = THREE, look: Look | None = None, size: tuple[int, int] = (370, 280)
) -> Page:
    page = Page(look or Look())
    qtbot.addWidget(page)
    page.resize(*size)
    page.panel.show_history(seen)
    with qtbot.waitExposed(page):
        page.show()
    page.field.setFocus()
    return page


def plot_of(page: Page) -> HistoryPlot:
    assert page.panel.plot is not None
    return page.panel.plot


def move_to(plot: HistoryPlot, index: int) -> QPoint:
    """The mouse over a point; where it is then."""
    at = plot.place_of(index).toPoint()
    seen = plot.viewport()
    none = Qt.MouseButton.NoButton
    QApplication.sendEvent(
        seen,
        QMouseEvent(
            QEvent.Type.MouseMove,
            QPointF(at),
            QPointF(seen.mapToGlobal(at)),
            none,
            none,
            Qt.KeyboardModifier.NoModifier,
        ),
    )
    return at


def test_a_first_visit_says_so_and_draws_no_plot(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot, EMPTY)
    assert page.panel.plot is None
    assert page.panel.empty.isVisible()
    assert page.panel.empty.text() == FIRST_TIME
    assert page.panel.accessibleDescription() == FIRST_TIME
    page.panel.show_history(THREE)
    assert not page.panel.empty.isVisible()
    assert plot_of(page).isVisible()
    page.panel.show_history(EMPTY)
    assert page.panel.empty.isVisible()
    assert not plot_of(page).isVisible()


def test_the_plots_library_comes_with_the_first_history_to_draw() -> None:
    code = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtWidgets import QApplication
{views}
app = QApplication([])
from workbench.window.history.panel import HistoryPanel
from workbench.window.look import Look
panel = HistoryPanel(Look())
panel.show_history(EMPTY)
early = "pyqtgraph" in sys.modules
panel.show_history(FULL)
print(early, "pyqtgraph" in sys.modules)
"""
    code = code.replace("{views}", VIEWS)
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert run.stdout.split() == ["False", "True"]


def test_verdicts_are_told_by_shape_before_colour(dressed: QApplication, qtbot: QtBot) -> None:
    points = [point(i, 150.0 + i, w) for i, w in enumerate(WORDS)]
    page = shown(qtbot, view(*points, point(9, None, "out"), point(10, None, "in"), point(11, None, "doubtful")))
    dots = plot_of(page).dots.data
    assert list(dots["symbol"]) == ["o", "t", "d", "_", "x", "t1", "t1", "t1"]
    inks = [dot.color().name() for dot in dots["brush"]]
    assert inks == [verdict_ink(LIGHT, w) for w in (*WORDS, "out", "in", "doubtful")]


def test_opens_stand_above_all_numbers_and_inside_the_plot(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    plot = plot_of(page)
    places = [plot.place_of(i) for i in range(3)]
    assert places[1].y() < min(places[0].y(), places[2].y()) - 10
    assert all(plot.rect().adjusted(10, 10, -10, -10).contains(p.toPoint()) for p in places)
    assert places[0].x() < places[1].x() < places[2].x()


def test_pointing_tells_date_job_value_and_verdict(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    move_to(plot_of(page), 0)
    assert page.panel.note.text() == "1 Jan 2025, job 1: 155.0 ± 1.9 Ω in"
    move_to(plot_of(page), 2)
    assert page.panel.note.text() == "this sheet, 3 Jan 2025: 149.1 ± 1.9 Ω in"
    QApplication.sendEvent(plot_of(page), QEvent(QEvent.Type.Leave))
    assert page.panel.note.text() == "As before."


def test_a_click_chooses_the_sheet(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    plot = plot_of(page)
    for index in (1, 0):
        at = move_to(plot, index)
        qtbot.mouseClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert page.chosen == [sheet_id(2), sheet_id(1)]
    between = (plot.place_of(0) + plot.place_of(1)).toPoint() / 2
    qtbot.mouseClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=between)
    qtbot.mouseClick(plot.viewport(), Qt.MouseButton.RightButton, pos=plot.place_of(0).toPoint())
    assert len(page.chosen) == 2


def test_arrows_walk_and_enter_chooses(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    plot = plot_of(page)
    qtbot.keyClick(page.field, Qt.Key.Key_Tab)
    qtbot.waitUntil(plot.hasFocus)
    assert plot.at == THREE.points[2]
    for key in (
        Qt.Key.Key_Left,
        Qt.Key.Key_Return,
        Qt.Key.Key_Home,
        Qt.Key.Key_Enter,
        Qt.Key.Key_Left,
        Qt.Key.Key_Return,
    ):
        qtbot.keyClick(plot, key)
    assert page.chosen == [sheet_id(2), sheet_id(1), sheet_id(1)]
    qtbot.keyClick(plot, Qt.Key.Key_End)
    qtbot.keyClick(plot, Qt.Key.Key_Right)
    assert plot.at == THREE.points[2]
    assert plot.accessibleName() == "History of this check, this sheet, 3 Jan 2025: 149.1 ± 1.9 Ω in"
    qtbot.keyClick(plot, Qt.Key.Key_Backtab)
    qtbot.waitUntil(page.field.hasFocus)
    assert plot.at is None
    assert plot.accessibleName() == "History of this check"


def test_all_points_are_there_in_words(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    said = "1 Jan 2025, job 1: 155.0 ± 1.9 Ω in; 2 Jan 2025, job 2: open out; this sheet: 149.1 ± 1.9 Ω in"
    assert plot_of(page).accessibleDescription() == f"P 1 – 3 at 20 °C. As before. {said}"
    assert page.panel.accessibleDescription() == plot_of(page).accessibleDescription()


def test_drift_is_told_louder_than_no_drift(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot, view(point(1, 155.0), point(2, 149.0, now=True), sentence="3.9 % below.", drifted=True))
    assert page.panel.note.property("verdict") == "doubtful"
    page.panel.show_history(THREE)
    assert page.panel.note.property("verdict") == ""


def test_new_data_is_set_and_nothing_built_again(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    plot, items = plot_of(page), list(plot_of(page).getPlotItem().items)
    for n in range(200):
        page.panel.show_history(
            view(*(point(i, 150.0 + n / 100 + i) for i in range(n % 40 + 1)), point(99, 155.0, now=True))
        )
        plot.grab()
    assert plot_of(page) is plot
    assert plot.getPlotItem().items == items
    assert len(plot.dots.data) == 199 % 40 + 2


def test_the_point_in_hand_stays_in_hand_when_a_sheet_is_added(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    move_to(plot_of(page), 0)
    page.panel.show_history(view(point(0, 150.0), *THREE.points))
    assert plot_of(page).at == THREE.points[0]
    page.panel.show_history(view(*THREE.points[1:]))
    assert plot_of(page).at is None


def test_no_menu_comes_up(dressed: QApplication, qtbot: QtBot) -> None:
    page = shown(qtbot)
    plot = plot_of(page)
    qtbot.mouseClick(plot.viewport(), Qt.MouseButton.RightButton, pos=plot.place_of(0).toPoint())
    assert QApplication.activePopupWidget() is None
    assert plot.getPlotItem().getViewBox().menu is None


def test_dates_overlap_nothing_however_many_there_are(dressed: QApplication, qtbot: QtBot) -> None:
    for count in (1, 2, 9, 50):
        page = shown(qtbot, view(*(point(i, 155.0) for i in range(1, count + 1))), size=(254, 230))
        plot = plot_of(page)
        metrics = QFontMetricsF(plot.getAxis("bottom").style["tickFont"])
        spans = sorted(
            (plot.place_of(int(i)).x() - metrics.horizontalAdvance(t) / 2, metrics.horizontalAdvance(t))
            for i, t in plot.getAxis("bottom")._tickLevels[0]
        )
        assert spans
        assert all(a + wide <= b for (a, wide), (b, _) in pairwise(spans))
        assert spans[-1][0] + spans[-1][1] <= plot.width()


def test_only_the_latest_sheet_is_called_now(dressed: QApplication, qtbot: QtBot) -> None:
    old = (point(1, 155.0), point(2, 154.0, now=True), point(3, 153.0))
    for points, last in ((THREE.points, "now"), (old, "Jan 2025")):
        page = shown(qtbot, view(*points))
        labels = [t for _, t in sorted(plot_of(page).getAxis("bottom")._tickLevels[0])]
        assert labels[-1] == last
        assert labels.count("now") == (last == "now")


def test_a_value_far_off_does_not_squash_the_band(dressed: QApplication, qtbot: QtBot) -> None:
    far = view(point(1, 155.0), point(2, 2e7, "out"), point(3, 156.0, now=True))
    span = span_of(far)
    assert (170.5 - 139.5) / (span.most - span.least) > 0.1
    page = shown(qtbot, far)
    plot = plot_of(page)
    assert plot.rect().contains(plot.place_of(1).toPoint())


@pytest.mark.parametrize(("scale", "t"), [(1.0, LIGHT), (1.0, DARK), (2.0, LIGHT)])
def test_the_least_size_shows_everything(qapp: QApplication, qtbot: QtBot, scale: float, t: Theme) -> None:
    theme.apply(qapp, t, scale)
    panel = HistoryPanel(Look(t, Sizes(scale)))
    qtbot.addWidget(panel)
    seen = view(*THREE.points, sentence="19.7 % below 13 Sep 2026, more than the readings can explain.", drifted=True)
    panel.show_history(seen)
    panel.resize(round(230 * scale), round(170 * scale))
    with qtbot.waitExposed(panel):
        panel.show()
    assert (panel.width(), panel.height()) == (round(230 * scale), round(170 * scale))
    assert panel.note.heightForWidth(panel.note.width()) <= panel.note.height()
    assert panel.plot is not None
    assert panel.plot.height() >= 55 * scale
    image = drawn(panel, 2)
    for word in ("in", "out"):
        assert coloured(image, verdict_ink(t, word)) > 20
    theme.apply(qapp, LIGHT)


def drawn(panel: HistoryPanel, ratio: int) -> QImage:
    image = QImage(panel.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    painter = QPainter(image)
    panel.render(painter, QPoint())
    painter.end()
    return image


def coloured(image: QImage, colour: str) -> int:
    """How many pixels are of just this colour."""
    rgb = np.frombuffer(bytes(image.constBits()), dtype=np.uint8).reshape(image.height(), image.width(), 4)[..., 2::-1]
    wanted = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    return int((rgb == wanted).all(axis=2).sum())


def test_panels_come_and_go_and_leave_nothing(dressed: QApplication, qtbot: QtBot) -> None:
    """Each with the focus on its plot and a point in hand, as when a page is replaced under the hand."""

    def alive() -> int:
        gc.collect()
        return sum(isinstance(o, HistoryPlot) for o in gc.get_objects())

    before = alive()
    for _ in range(5):
        page = Page(Look())
        page.panel.show_history(THREE)
        with qtbot.waitExposed(page):
            page.show()
        plot = plot_of(page)
        plot.setFocus()
        move_to(plot, 0)
        page.deleteLater()
        qtbot.waitUntil(lambda seen=plot: not isValid(seen))
        del page, plot
    assert alive() == before
