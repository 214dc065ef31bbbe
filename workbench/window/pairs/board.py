"""All pairs of the part on the bench, plug by plug."""

import re

from PySide6.QtCore import QModelIndex, QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from workbench.sitting.pairs import Cell, PairsView
from workbench.stator.pattern import Pair
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.pairs.grid import TriangleTable
from workbench.window.parts import label, tab_within

NAME, UNBROKEN = re.compile(r" (\S+) – "), "\u00a0\\1\u00a0–\u2060\u00a0"  # a pair's name stays on one line


class PairsBoard(QWidget):
    """Shows a PairsView; `pairChosen(Pair)`. The pair in hand is selected without taking the focus.

    `cursorAt(y, height)`: where in this widget the keys have gone, px, for what scrolls it as a whole.
    """

    pairChosen = Signal(object)
    cursorAt = Signal(int, int)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setAccessibleName("All pairs")
        self._look = look
        self._hand: Pair | None = None
        self.tables: list[TriangleTable] = []
        self._inner = QWidget()
        self._inner.setProperty("role", "clear")
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self.others = RowList(look, "Pairs beside the triangles")
        self.others.clicked.connect(lambda _: self._chosen_other())
        self.others.activated.connect(lambda _: self._chosen_other())
        self.others_title = label("", "quiet")
        self._column.addWidget(self.others_title)
        self._column.addWidget(self.others)
        self._column.addStretch(1)
        self.scroller = QScrollArea()
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scroller.setWidget(self._inner)
        # below the scroller, not in it: what the meter can't tell must be seen before the first touch
        self.limits = label("", wrap=True)
        self.limits.setProperty("verdict", "continuous")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.scroller, 1)
        column.addWidget(self.limits)

    def show_pairs(self, view: PairsView) -> None:
        if [(t.cells.triangle.plug, t.cells.triangle.columns) for t in self.tables] != [
            (t.plug, t.columns) for t in view.triangles
        ]:
            self._make_tables(view)
        for table, triangle in zip(self.tables, view.triangles, strict=True):
            table.show_triangle(triangle)
        self._show_others(view)
        limits = NAME.sub(UNBROKEN, view.limits)
        if self.limits.text() != limits:
            self.limits.setText(limits)
            self.limits.setAccessibleName(view.limits)
        self.limits.setVisible(bool(view.limits))
        hand = next((c.pair for c in view.cells if c.current), None)
        if hand != self._hand:
            self._hand = hand
            QTimer.singleShot(0, self, self._see_hand)  # once what has just been shown has its place

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.sizes.px(200), self._look.sizes.px(160))

    def _room(self) -> int:
        """Px for a triangle: a scroll bar's are kept free, lest its coming and going change the cells."""
        return self.width() - self.scroller.verticalScrollBar().sizeHint().width() - 4

    def _fit(self) -> None:
        """Cells that have room for their words are alike on every plug; a plug of many pins has its own."""
        room = self._room()
        widths = [table.wide_in(room) for table in self.tables]
        alike = min((w for t, w in zip(self.tables, widths, strict=True) if w >= t.words_from), default=0)
        for table, wide in zip(self.tables, widths, strict=True):
            table.fit(room, min(wide, alike) if wide >= table.words_from else wide)

    def _make_tables(self, view: PairsView) -> None:
        for old in self.tables:
            self._column.removeWidget(old)
            old.deleteLater()
        self.tables = []
        for i, triangle in enumerate(view.triangles):
            table = TriangleTable(self._look, triangle)
            table.pairChosen.connect(self.pairChosen)
            table.cursorMoved.connect(lambda place, t=table: self._follow(t, place))
            self.tables.append(table)
            self._column.insertWidget(i, table)
        tab_within(self, *self.tables)
        self._fit()

    def _show_others(self, view: PairsView) -> None:
        cells = view.others
        self.others.rows.show_rows([_row(c) for c in cells])
        hand = next((c.pair for c in cells if c.current), None)
        self.others.select_key(hand)
        if self.others.key() != hand:  # it was current all along, only not selected any more
            self.others.setCurrentIndex(self.others.currentIndex())
        self.others_title.setText(view.others_title)
        for w in (self.others, self.others_title):
            w.setVisible(bool(cells))
        self.others.setFixedHeight((self.others.sizeHintForRow(0) if cells else 0) * len(cells) + 6)

    def _see_hand(self) -> None:
        for table in self.tables:
            place = table.cells.current_place()
            if place.isValid():
                table.scrollTo(place)
                self._see(table, place)
                return
        if self._hand is not None:
            at = self.others.visualRect(self.others.currentIndex())
            self._bring(self.others, at.center(), at.height())

    def _follow(self, table: TriangleTable, place: QModelIndex) -> None:
        self._see(table, place)
        if not table.hasFocus():
            return
        at = table.visualRect(place)
        self.cursorAt.emit(table.viewport().mapTo(self, at.center()).y(), at.height())

    def _see(self, table: TriangleTable, place: QModelIndex) -> None:
        at = table.visualRect(place)
        self._bring(table.viewport(), at.center(), at.height())

    def _bring(self, of: QWidget, at: QPoint, high: int) -> None:
        self.scroller.ensureVisible(0, of.mapTo(self._inner, at).y(), 0, high // 2 + 4)

    def _chosen_other(self) -> None:
        key = self.others.key()
        if isinstance(key, Pair):
            self.pairChosen.emit(key)


def _row(c: Cell) -> Row:
    wanted = "planned" if c.planned else "not planned"
    detail = "at odds" if c.contradicted else "read it again" if c.again else c.reach or wanted
    return Row(c.pair, c.title, detail, c.text if c.read else "", c.word, c.spoken, hollow=c.hollow)
