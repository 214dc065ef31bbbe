"""Which way round a tooth is wound, as one looks at its tip: an arrow round it."""

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from workbench.window.look import Look

SIZE = 76
BEGINS, ROUND = 60, 290  # degrees: where the arrow begins, and how far it goes round


class SenseSign(QWidget):
    """Shows nothing until `show_sense`."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._sense = 0
        self.setFixedSize(self.sizeHint())

    def sizeHint(self) -> QSize:
        side = self._look.sizes.px(SIZE)
        return QSize(side, side)

    def show_sense(self, sense: int) -> None:
        """1 clockwise, -1 the other way, 0 nothing; its word stands beside it."""
        if sense != self._sense:
            self._sense = sense
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._sense:
            return
        t, side = self._look.theme, float(self.width())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle = QPointF(side / 2, side / 2)
        tooth = QRectF(0, 0, 0.34 * side, 0.34 * side)
        tooth.moveCenter(middle)
        painter.setPen(QPen(QColor(t.plastic_edge), 1.5))
        painter.setBrush(QColor(t.iron))
        painter.drawRoundedRect(tooth, 3, 3)
        radius, thick = 0.38 * side, 0.075 * side
        ring = QRectF(middle.x() - radius, middle.y() - radius, 2 * radius, 2 * radius)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(t.accent), thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        # Qt's angles go anticlockwise
        painter.drawArc(ring, BEGINS * 16 if self._sense < 0 else (180 - BEGINS) * 16, -self._sense * ROUND * 16)
        self._head(painter, middle, radius, 0.13 * side)

    def _head(self, painter: QPainter, middle: QPointF, radius: float, size: float) -> None:
        end = BEGINS + ROUND if self._sense < 0 else 180 - BEGINS - ROUND
        a = math.radians(end)
        at = QPointF(middle.x() + radius * math.cos(a), middle.y() - radius * math.sin(a))
        ahead = -self._sense
        along = QPointF(-math.sin(a) * ahead * size, -math.cos(a) * ahead * size)
        out = QPointF(math.cos(a) * size, -math.sin(a) * size)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.theme.accent))
        painter.drawPolygon(QPolygonF([at + along * 1.3, at + out, at - out]))
