"""How one pair's cell is drawn: its number, its verdict by word, sign and tint, and what frames it."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from workbench.sitting.pairs import Cell
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.pairs.marks import draw_folded_corner, draw_mark
from workbench.window.theme import verdict_ink, verdict_tint

Index = QModelIndex | QPersistentModelIndex
CELL_ROLE = int(Qt.ItemDataRole.UserRole) + 1
LEAST = 8  # px of text at scale 1, before it is cut
ROUND = 4


class CellDelegate(QStyledItemDelegate):
    """`small`: the number alone; its word is left to the tip, the reader and the sign."""

    def __init__(self, look: Look, parent: QTableView) -> None:
        super().__init__(parent)
        self.small = False
        self._look = look
        s = look.sizes
        semi = QFont.Weight.DemiBold
        self._large, self._little = font(s.px(14), semi), font(s.px(12), semi)
        self._band, self._word, self._reach = font(s.px(11)), font(s.px(11), semi), font(s.px(10))
        self._fitted: dict[tuple[str, int, int], tuple[QFont, str]] = {}

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell = index.data(CELL_ROLE)
        if not isinstance(cell, Cell):
            return
        box = QRectF(option.rect).adjusted(1.5, 1.5, -1.5, -1.5)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tone = "doubtful" if cell.contradicted else cell.word
        self._ground(painter, box, cell, tone)
        self._text(painter, box, cell, tone)
        self._sign(painter, box, cell, tone)
        self._frames(painter, box, cell, bool(option.state & QStyle.StateFlag.State_HasFocus))
        painter.restore()

    def _ground(self, painter: QPainter, box: QRectF, cell: Cell, tone: str) -> None:
        """Solid once it is safe, dashed until then; a planned pair stands out from one that nobody asked for."""
        t = self._look.theme
        painter.setBrush(QColor(verdict_tint(t, tone)) if cell.read and not cell.hollow else QColor(t.panel))
        if cell.hollow:
            pen = QPen(QColor(verdict_ink(t, tone)), 1.5, Qt.PenStyle.DashLine)
        elif cell.read:
            pen = QPen(QColor(verdict_ink(t, tone) if cell.planned else t.panel_edge), 1)
        else:
            pen = QPen(QColor(t.field_edge), 1.5) if cell.planned else QPen(QColor(t.panel_edge), 1)
        painter.setPen(pen)
        inner = 3.0 if cell.current and cell.hollow else 0.0
        painter.drawRoundedRect(box.adjusted(inner, inner, -inner, -inner), ROUND, ROUND)

    def _text(self, painter: QPainter, box: QRectF, cell: Cell, tone: str) -> None:
        t = self._look.theme
        ink = QColor(verdict_ink(t, tone) if cell.read else t.ink if cell.planned else t.quiet)
        face = (self._little if self.small else self._large) if cell.read else self._band
        wide = int(box.width()) - 5
        lines = [
            (*self._fit(face, part, wide), ink) for part in ([cell.text] if cell.read else self._parts(cell, wide))
        ]
        if cell.below and not self.small:
            below = self._fit(self._word if cell.read else self._reach, cell.below, wide)
            lines.append((*below, ink if cell.read else QColor(t.quiet)))
        heights = [f.pixelSize() * 1.14 for f, _, _ in lines]
        top = box.center().y() - sum(heights) / 2
        for (fitted, shown, colour), high in zip(lines, heights, strict=True):
            painter.setFont(fitted)
            painter.setPen(colour)
            painter.drawText(QRectF(box.left(), top - 4, box.width(), high + 8), Qt.AlignmentFlag.AlignCenter, shown)
            top += high

    def _parts(self, cell: Cell, wide: int) -> list[str]:
        """A band that is too wide breaks after its dash, words before the last."""
        text = cell.text
        if QFontMetricsF(self._band).horizontalAdvance(text) <= wide:
            return [text]
        low, dash, high = text.partition("–")
        return [low + dash, high] if dash else [x for x in text.rpartition(" ") if x.strip()]

    def _fit(self, face: QFont, text: str, wide: int) -> tuple[QFont, str]:
        """Shrinks, and is cut only where that won't do."""
        key = (text, face.pixelSize(), wide)
        if key not in self._fitted:
            shown, least = QFont(face), self._look.sizes.px(LEAST)
            while shown.pixelSize() > least and QFontMetricsF(shown).horizontalAdvance(text) > wide:
                shown.setPixelSize(shown.pixelSize() - 1)
            cut = QFontMetricsF(shown).elidedText(text, Qt.TextElideMode.ElideRight, wide + 3)
            self._fitted[key] = shown, cut
        return self._fitted[key]

    def _sign(self, painter: QPainter, box: QRectF, cell: Cell, tone: str) -> None:
        t, s = self._look.theme, self._look.sizes
        if cell.reach:
            draw_folded_corner(painter, box, s.px(8), QColor(t.ink_of.continuous))
            return
        if cell.speaks:
            self._speaks(painter, box, cell.speaks)
        name, radius = "at odds" if cell.contradicted else cell.word, s.px(5) / 2
        off = radius + (3.5 if cell.current else 2)  # clear of the heavy frame
        place = QPointF(box.right() - off, box.top() + off)
        draw_mark(painter, name, place, radius, QColor(verdict_ink(t, tone)))

    def _speaks(self, painter: QPainter, box: QRectF, speaks: int) -> None:
        """A plus for what speaks for the explanation that is pointed at, a minus for what speaks against it."""
        s = self._look.sizes
        x, y, long = box.left() + s.px(6), box.top() + s.px(6), s.px(3)
        painter.setPen(QPen(QColor(self._look.theme.accent), 2.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawLine(QPointF(x - long, y), QPointF(x + long, y))
        if speaks > 0:
            painter.drawLine(QPointF(x, y - long), QPointF(x, y + long))

    def _frames(self, painter: QPainter, box: QRectF, cell: Cell, cursor: bool) -> None:
        t = self._look.theme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if cell.current:
            painter.setPen(QPen(QColor(t.accent), 3))
            painter.drawRoundedRect(box, ROUND, ROUND)
        elif cell.offered:
            painter.setPen(QPen(QColor(t.accent), 2.4, Qt.PenStyle.DotLine, Qt.PenCapStyle.RoundCap))
            painter.drawRoundedRect(box, ROUND, ROUND)
        if cursor:
            inner = 3.5 if cell.current or cell.offered else 1  # so that neither frame hides the other
            painter.setPen(QPen(QColor(t.ink), 3))
            painter.drawRoundedRect(box.adjusted(inner, inner, -inner, -inner), ROUND, ROUND)
