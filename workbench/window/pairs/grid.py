"""One plug's triangle as a table: a model over frozen cells, clicked or walked by keys."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView

from workbench.sitting.pairs import Cell, Triangle
from workbench.stator.pattern import Pair
from workbench.window.look import Look
from workbench.window.pairs.cells import CELL_ROLE, CellDelegate
from workbench.window.parts import label

Index = QModelIndex | QPersistentModelIndex
WIDE, HIGH = 52, 40
NARROW, LOW = 31, 31  # a cell without its word
WORDS_FROM = 36  # px wide, below which a cell gives up its word
HEADER, NAMES = 20, 28


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
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{cell.text} {cell.word}".strip()
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return cell.spoken
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return flags if self.cell(index) is not None else Qt.ItemFlag.NoItemFlags

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        across = orientation is Qt.Orientation.Horizontal
        names = self.triangle.columns if across else self.triangle.headers
        if not 0 <= section < len(names):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return names[section]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            is_ground = not across and section == len(names) - 1  # a pin may be named gnd too
            return "ground" if is_ground else f"pin {names[section]}"
        return None

    def place_of(self, pair: Pair) -> QModelIndex:
        """The pair's own cell, else its reverse's."""
        found = QModelIndex()
        for r, row in enumerate(self.triangle.rows):
            for c, cell in enumerate(row):
                if cell.pair == pair:
                    return self.index(r, c)
                if cell.pair.unordered == pair.unordered:
                    found = self.index(r, c)
        return found

    def current_place(self) -> QModelIndex:
        """Where the pair in hand is; nowhere if it isn't one of this plug's."""
        for r, row in enumerate(self.triangle.rows):
            for c, cell in enumerate(row):
                if cell.current:
                    return self.index(r, c)
        return QModelIndex()

    def show_triangle(self, triangle: Triangle) -> None:
        """Only cells that changed are told of."""
        old, self.triangle = self.triangle, triangle
        for r, (before, now) in enumerate(zip(old.rows, triangle.rows, strict=True)):
            for c, (a, b) in enumerate(zip(before, now, strict=True)):
                if a is not b and a != b:
                    self.dataChanged.emit(self.index(r, c), self.index(r, c))


class TriangleTable(QTableView):
    """Click, Enter or Space on a cell chooses its pair. The cursor is the reader's own, and goes back to the pair
    in hand when the focus leaves.
    """

    pairChosen = Signal(object)
    cursorMoved = Signal(object)

    def __init__(self, look: Look, triangle: Triangle) -> None:
        super().__init__()
        s = look.sizes
        self._sizes = s
        self.cells = TriangleModel(triangle)
        self.cells.setParent(self)
        self.setModel(self.cells)
        self._paints = CellDelegate(look, self)
        self.setItemDelegate(self._paints)
        for h in (self.horizontalHeader(), self.verticalHeader()):
            h.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            h.setMinimumSectionSize(8)
            h.setHighlightSections(False)
            h.setSectionsClickable(False)
        self._header, self._names = s.px(HEADER), s.px(NAMES)
        self.verticalHeader().setFixedWidth(self._names)
        self.verticalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setCornerButtonEnabled(False)
        self.setShowGrid(False)
        self.setProperty("role", "triangle")
        self.viewport().setProperty("role", "clear")
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"Pairs of plug {triangle.plug}")
        self.title = label(f"Plug {triangle.plug}", "quiet")
        self.title.setParent(self)
        self.title.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom)
        # a bar's groove takes the table's ground, and a clear one would be black
        self.setStyleSheet(f'QTableView[role="triangle"] {{ background: {look.theme.panel}; }}')
        self.fit(s.px(WIDE) * len(triangle.columns) + self._names, s.px(WIDE))
        self.clicked.connect(self._choose)
        self.selectionModel().currentChanged.connect(lambda now, _: self.cursorMoved.emit(now))

    def wide_in(self, room: int) -> int:
        """How wide its cells would be in so many px."""
        s = self._sizes
        return min(s.px(WIDE), max((room - self._names) // len(self.cells.triangle.columns), s.px(NARROW)))

    @property
    def words_from(self) -> int:
        return self._sizes.px(WORDS_FROM)

    def fit(self, room: int, most: int) -> None:
        """Takes `room` px, cells of `most` px, at most: smaller cells first, then what is beyond can be scrolled to."""
        s = self._sizes
        wide = min(self.wide_in(room), most)
        self._paints.small = wide < self.words_from
        high = s.px(LOW if self._paints.small else HIGH)
        self.horizontalHeader().setDefaultSectionSize(wide)
        self.verticalHeader().setDefaultSectionSize(high)
        whole = self._names + len(self.cells.triangle.columns) * wide
        beyond = whole > room
        policy = Qt.ScrollBarPolicy.ScrollBarAlwaysOn if beyond else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.setHorizontalScrollBarPolicy(policy)
        bar = self.horizontalScrollBar().sizeHint().height() if beyond else 0
        # the plug's name stands in the corner where it fits there beside the first pin's, else in a line of its own
        self.title.adjustSize()
        beside = not beyond and self.title.width() <= self._names + wide // 2 - s.px(8)
        header = self._header if beside else self._header + self.title.height()
        self.horizontalHeader().setFixedHeight(header)
        self.title.move(0, self._header - self.title.height() if beside else 0)
        size = QSize(max(min(whole, room), self.title.width()), header + len(self.cells.triangle.rows) * high + bar)
        self.setFixedSize(size)

    def show_triangle(self, triangle: Triangle) -> None:
        before = self._hand()
        self.cells.show_triangle(triangle)
        # news of another cell must not pull the cursor away from where somebody is walking
        if self._hand() != before or not self.hasFocus():
            self.to_hand()

    def to_hand(self) -> None:
        """The cursor to the pair in hand, without the focus; off where it is another plug's."""
        place = self.cells.current_place()
        if not place.isValid():
            self.clearSelection()
        elif place != self.currentIndex() or not self.selectionModel().isSelected(place):
            self.setCurrentIndex(place)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._choose(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.to_hand()

    def place_of(self, pair: Pair) -> QModelIndex:
        return self.cells.place_of(pair)

    def _hand(self) -> QPersistentModelIndex:
        return QPersistentModelIndex(self.cells.current_place())

    def _choose(self, index: Index) -> None:
        cell = self.cells.cell(index) if index.isValid() else None
        if cell is not None:
            self.pairChosen.emit(cell.pair)
