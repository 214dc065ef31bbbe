"""Two-line rows with a verdict's chip, for the lists of checks and of readings."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFocusEvent, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.theme import verdict_ink, verdict_tint

Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True)
class Row:
    """`title` and `detail` on the left, `value` and the verdict's `word` on the right."""

    key: object
    title: str
    detail: str
    value: str
    word: str
    spoken: str
    struck: bool = False
    hollow: bool = False


class RowModel(QAbstractListModel):
    """Adapts a tuple of rows; what changed is told row by row, so that a selection stays."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[Row, ...] = ()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return row.spoken
        if role == Qt.ItemDataRole.ToolTipRole:
            return row.spoken
        return None

    def show_rows(self, rows: Sequence[Row]) -> None:
        new = tuple(rows)
        if [r.key for r in new] != [r.key for r in self.rows]:
            self.beginResetModel()
            self.rows = new
            self.endResetModel()
            return
        old, self.rows = self.rows, new
        for i, (a, b) in enumerate(zip(old, new, strict=True)):
            if a != b:
                self.dataChanged.emit(self.index(i), self.index(i))


class RowDelegate(QStyledItemDelegate):
    def __init__(self, look: Look, parent: QListView) -> None:
        super().__init__(parent)
        self._look = look
        s = look.sizes
        self._title = font(s.px(15), QFont.Weight.Medium)
        self._detail = font(s.px(12))
        self._value = font(s.px(15), QFont.Weight.DemiBold)
        self._word = font(s.px(12), QFont.Weight.DemiBold)
        self._pad = s.px(8)
        upper, lower = QFontMetrics(self._title), QFontMetrics(self._detail)
        self._upper, self._lower = upper.height(), lower.height()
        self.height = self._upper + self._lower + s.px(8)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, self.height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, RowModel)
        row = model.rows[index.row()]
        t = self._look.theme
        box = QRectF(option.rect)
        state = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        right = self._chip(painter, box, row)
        if state & QStyle.StateFlag.State_Selected:
            painter.setPen(QPen(QColor(t.accent), 2))
            painter.setBrush(QColor(t.accent_tint))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), 4, 4)
            right = self._chip(painter, box, row)
        text = box.adjusted(self._pad, self._look.sizes.px(3), 0, 0)
        text.setRight(right - self._pad)
        self._line(painter, text, self._upper, self._title, t.ink, row.title, struck=row.struck)
        text.setTop(text.top() + self._upper)
        self._line(painter, text, self._lower, self._detail, t.quiet, row.detail)
        painter.setPen(QPen(QColor(t.panel_edge), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        painter.restore()

    def _line(
        self, painter: QPainter, box: QRectF, high: int, face: QFont, ink: str, text: str, *, struck: bool = False
    ) -> None:
        shown = QFont(face)
        shown.setStrikeOut(struck)
        painter.setFont(shown)
        painter.setPen(QColor(ink))
        fitted = QFontMetrics(shown).elidedText(text, Qt.TextElideMode.ElideRight, max(int(box.width()), 0))
        place = QRectF(box.left(), box.top(), box.width(), high)
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, fitted)

    def _chip(self, painter: QPainter, box: QRectF, row: Row) -> float:
        """Draws value and word on their tint; returns where the text on the left must end."""
        if not (row.value or row.word):
            return box.right()
        t = self._look.theme
        value, word = QFontMetrics(self._value), QFontMetrics(self._word)
        wide = max(value.horizontalAdvance(row.value), word.horizontalAdvance(row.word)) + 2 * self._pad
        chip = QRectF(box.right() - wide - 4, box.top() + 3, wide, box.height() - 6)
        ink = QColor(t.quiet if row.struck else verdict_ink(t, row.word))
        painter.setPen(QPen(ink, 1.5, Qt.PenStyle.DashLine) if row.hollow else Qt.PenStyle.NoPen)
        painter.setBrush(Qt.BrushStyle.NoBrush if row.hollow or row.struck else QColor(verdict_tint(t, row.word)))
        painter.drawRoundedRect(chip, 4, 4)
        painter.setPen(ink)
        half = chip.height() * (0.54 if row.word else 1.0)
        face = QFont(self._value)
        face.setStrikeOut(row.struck)
        painter.setFont(face)
        painter.drawText(QRectF(chip.left(), chip.top(), wide, half), Qt.AlignmentFlag.AlignCenter, row.value)
        painter.setFont(self._word)
        rest = QRectF(chip.left(), chip.top() + half - 2, wide, chip.height() - half)
        painter.drawText(rest, Qt.AlignmentFlag.AlignCenter, row.word)
        return chip.left()


class RowList(QListView):
    """A list of rows, each big enough for a gloved finger's mouse."""

    def __init__(self, look: Look, name: str) -> None:
        super().__init__()
        self.rows = RowModel()
        self.setModel(self.rows)
        self.rows.setParent(self)
        self.setItemDelegate(RowDelegate(look, self))
        self.setAccessibleName(name)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(self.itemDelegate().height * 2)  # type: ignore[attr-defined]  # our own delegate

    def sizeHint(self) -> QSize:
        """Qt's own default would make the page higher than a counter-side screen."""
        return QSize(200, 110)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """By keys the row that the cursor stands on is chosen, so that it can be seen and acted on at once."""
        super().focusInEvent(event)
        reasons = Qt.FocusReason
        by_keys = event.reason() in (
            reasons.TabFocusReason,
            reasons.BacktabFocusReason,
            reasons.ShortcutFocusReason,
        )
        if by_keys and not self.selectedIndexes():
            self.setCurrentIndex(self.currentIndex())

    def select_key(self, key: object) -> None:
        """Moves the selection without asking for the focus."""
        for i, row in enumerate(self.rows.rows):
            if row.key == key:
                if self.currentIndex().row() != i or not self.selectedIndexes():
                    self.setCurrentIndex(self.rows.index(i))
                return
        self.clearSelection()

    def key(self) -> object:
        """The selected row's key; None where none is."""
        chosen = self.selectedIndexes()
        return self.rows.rows[chosen[0].row()].key if chosen else None
