"""The ranking of wire as a table: a model over frozen rows, of which only what is in sight is drawn."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from workbench.sitting.rewindwire import COLUMNS, TIPS, WireRow
from workbench.window.look import Look

Index = QModelIndex | QPersistentModelIndex
_Role = Qt.ItemDataRole
MEASURED = 40  # rows by which columns get their width


class WireModel(QAbstractTableModel):
    def __init__(self, parent: QTableView) -> None:
        super().__init__(parent)
        self.rows: tuple[WireRow, ...] = ()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = _Role.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        if role == _Role.DisplayRole:
            return row.cells[index.column()]
        if role == _Role.ToolTipRole or (role == _Role.AccessibleTextRole and index.column() == 0):
            return row.spoken
        if role == _Role.FontRole and row.taken:
            face = QFont()
            face.setWeight(QFont.Weight.DemiBold)
            return face
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole) -> Any:
        if orientation is Qt.Orientation.Horizontal and role in (_Role.DisplayRole, _Role.ToolTipRole):
            return COLUMNS[section] if role == _Role.DisplayRole else TIPS[section]
        return None

    def show_rows(self, rows: tuple[WireRow, ...]) -> None:
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()


class WireTable(QTableView):
    def __init__(self, look: Look) -> None:
        super().__init__()
        self.ranking = WireModel(self)
        self.setModel(self.ranking)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(look.sizes.target)
        header = self.horizontalHeader()
        header.setStretchLastSection(True)
        header.setResizeContentsPrecision(MEASURED)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setAccessibleName("Wire on the shelf, nearest first")
        self.setMinimumHeight(look.sizes.target * 3)

    def sizeHint(self) -> QSize:
        return QSize(400, 160)

    def show_rows(self, rows: tuple[WireRow, ...]) -> None:
        """The row that was chosen stays chosen; at first it is the one that was taken, else the nearest."""
        kept = self.currentIndex().row()
        self.ranking.show_rows(rows)
        if not rows:
            return
        self.resizeColumnsToContents()
        taken = next((r for r, row in enumerate(rows) if row.taken), 0)
        self.selectRow(kept if 0 <= kept < len(rows) else taken)

    def chosen(self) -> WireRow | None:
        at = self.currentIndex().row()
        return self.ranking.rows[at] if 0 <= at < len(self.ranking.rows) else None
