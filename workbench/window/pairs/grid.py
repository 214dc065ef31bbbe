"""One plug's triangle as a table: a model over frozen cells, and how a cell is drawn."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from workbench.sitting.pairs import Cell, Triangle
from workbench.stator.pattern import Pair
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.theme import verdict_ink, verdict_tint

Index = QModelIndex | QPersistentModelIndex
WIDE, HIGH = 52, 40
SMALL_FROM = 6  # columns from which cells give up their word


class TriangleModel(QAbstractTableModel):
    def __init__(self, triangle: Triangle) -> None:
        super().__init__()
        self.triangle = triangle

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.triangle.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.triangle.columns)

    def cell(self, index: Index) -> Cell | None:
        row = self.triangle.rows[index.row()] if 0 <= index.row() < len(self.triangle.rows) else ()
        return row[index.column()] if 0 <= index.column() < len(row) else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        cell = self.cell(index)
        if cell is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{cell.text} {cell.word}".strip()
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return cell.spoken
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return flags if self.cell(index) is not None else Qt.ItemFlag.NoItemFlags

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        names = self.triangle.columns if orientation is Qt.Orientation.Horizontal else self.triangle.headers
        if role == Qt.ItemDataRole.DisplayRole and 0 <= section < len(names):
            return names[section]
        return None

    def show_triangle(self, triangle: Triangle) -> None:
        """Only cells that changed are told of."""
        old, self.triangle = self.triangle, triangle
        for r, (before, now) in enumerate(zip(old.rows, triangle.rows, strict=True)):
            for c, (a, b) in enumerate(zip(before, now, strict=True)):
                if a != b:
                    self.dataChanged.emit(self.index(r, c), self.index(r, c))


class CellDelegate(QStyledItemDelegate):
    def __init__(self, look: Look, parent: QTableView, small: bool) -> None:
        super().__init__(parent)
        s = look.sizes
        self._look, self._small = look, small
        self._value = font(s.px(12 if small else 14), QFont.Weight.DemiBold)
        self._quiet = font(s.px(10 if small else 11))
        self._word = font(s.px(10), QFont.Weight.DemiBold)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, TriangleModel)
        cell = model.cell(index)
        if cell is None:
            return
        t = self._look.theme
        box = QRectF(option.rect).adjusted(1.5, 1.5, -1.5, -1.5)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        solid = cell.read and not cell.hollow
        painter.setBrush(QColor(verdict_tint(t, cell.word)) if solid else Qt.BrushStyle.NoBrush)
        painter.setPen(self._edge(cell))
        painter.drawRoundedRect(box, 4, 4)
        ink = QColor(verdict_ink(t, cell.word)) if cell.read else QColor(t.ink if cell.planned else t.quiet)
        painter.setPen(ink)
        if not cell.read:
            self._text(painter, box, self._quiet, cell.text)
        elif self._small:
            self._text(painter, box, self._value, cell.text)
        else:
            half = QRectF(box.left(), box.top() + 1, box.width(), box.height() * 0.56)
            self._text(painter, half, self._value, cell.text)
            below = QRectF(box.left(), half.bottom() - 2, box.width(), box.bottom() - half.bottom())
            times = f" ×{cell.times}" if cell.times > 1 else ""
            self._text(painter, below, self._word, f"{cell.word}{times}")
        self._mark(painter, box, cell)
        painter.restore()

    def _edge(self, cell: Cell) -> QPen:
        t = self._look.theme
        if cell.current:
            return QPen(QColor(t.accent), 2.5)
        if cell.offered:
            return QPen(QColor(t.accent), 2, Qt.PenStyle.DotLine)
        if cell.hollow:
            return QPen(QColor(verdict_ink(t, cell.word)), 1.5, Qt.PenStyle.DashLine)
        return QPen(
            QColor(t.field_edge if cell.planned and not cell.read else t.panel_edge), 1.5 if cell.planned else 1
        )

    def _text(self, painter: QPainter, box: QRectF, face: QFont, text: str) -> None:
        """Shrinks before it would be cut."""
        shown, wide = QFont(face), box.width() - 4
        while shown.pixelSize() > 8 and QFontMetrics(shown).horizontalAdvance(text) > wide:
            shown.setPixelSize(shown.pixelSize() - 1)
        painter.setFont(shown)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _mark(self, painter: QPainter, box: QRectF, cell: Cell) -> None:
        """A corner sign tells what is out, what is only continuous, and what this meter can't judge at all."""
        t = self._look.theme
        x, y = box.right() - 4, box.top() + 4
        if cell.word == "out":
            painter.setPen(QPen(QColor(t.ink_of.out), 1.6))
            painter.drawLine(int(x - 2), int(y - 2), int(x + 2), int(y + 2))
            painter.drawLine(int(x - 2), int(y + 2), int(x + 2), int(y - 2))
        elif cell.limited or cell.word == "continuous":
            painter.setPen(QPen(QColor(t.ink_of.continuous), 1.6))
            painter.drawLine(int(x - 4), int(y), int(x + 1), int(y))


class TriangleTable(QTableView):
    """Click, Enter or Space on a cell chooses its pair."""

    pairChosen = Signal(object)

    def __init__(self, look: Look, triangle: Triangle, room: int) -> None:
        super().__init__()
        s = look.sizes
        columns = len(triangle.columns)
        self.cells = TriangleModel(triangle)
        self.cells.setParent(self)
        self.setModel(self.cells)
        small = columns > SMALL_FROM
        self.setItemDelegate(CellDelegate(look, self, small))
        wide = min(s.px(WIDE), max((room - s.px(30)) // columns, s.px(22)))
        high = s.px(28 if small else HIGH)
        header, names = self.horizontalHeader(), self.verticalHeader()
        for h, size in ((header, wide), (names, high)):
            h.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            h.setMinimumSectionSize(8)
            h.setDefaultSectionSize(size)
            h.setHighlightSections(False)
            h.setSectionsClickable(False)
        names.setFixedWidth(s.px(30))
        header.setFixedHeight(s.px(20))
        self.setCornerButtonEnabled(False)
        self.setShowGrid(False)
        self.setProperty("role", "triangle")
        self.viewport().setProperty("role", "clear")
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._size = QSize(s.px(30) + columns * wide + 2, s.px(20) + len(triangle.rows) * high + 2)
        self.setFixedSize(self._size)
        self.setAccessibleName(f"Pairs of plug {triangle.plug}")
        self.clicked.connect(self._choose)

    def sizeHint(self) -> QSize:
        return self._size

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._choose(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def place_of(self, pair: Pair) -> QModelIndex:
        for r, row in enumerate(self.cells.triangle.rows):
            for c, cell in enumerate(row):
                if cell.pair.unordered == pair.unordered:
                    return self.cells.index(r, c)
        return QModelIndex()

    def _choose(self, index: Index) -> None:
        cell = self.cells.cell(index) if index.isValid() else None
        if cell is not None:
            self.pairChosen.emit(cell.pair)
