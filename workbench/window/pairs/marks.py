"""A small sign for each verdict, told apart by shape alone."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

# strokes in a square from -1 to 1, y down
STROKES: dict[str, tuple[tuple[tuple[float, float], ...], ...]] = {
    "in": (((-1, 0.1), (-0.3, 0.8), (1, -0.8)),),
    "out": (((-0.9, -0.9), (0.9, 0.9)), ((-0.9, 0.9), (0.9, -0.9))),
    "continuous": (((-1, 0), (1, 0)),),
    "close": (((-1, 0.4), (-0.5, -0.3), (0.3, 0.3), (0.9, -0.4)),),
    "doubtful": (((0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)),),
    "at odds": (((-1, -0.45), (1, -0.45)), ((-1, 0.45), (1, 0.45)), ((-0.6, 1), (0.6, -1))),
}


def draw_mark(painter: QPainter, name: str, centre: QPointF, radius: float, ink: QColor) -> None:
    """Draws nothing for a name that has no sign."""
    pen = QPen(ink, max(1.4, radius * 0.42), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    for stroke in STROKES.get(name, ()):
        painter.drawPolyline([centre + QPointF(x, y) * radius for x, y in stroke])


def draw_folded_corner(painter: QPainter, box: QRectF, size: float, ink: QColor) -> None:
    """The sign of what this meter can't judge: there before anyone touches the pair, so never a verdict's."""
    right, top = box.right() - 1, box.top() + 1
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    painter.drawPolygon(QPolygonF([QPointF(right - size, top), QPointF(right, top), QPointF(right, top + size)]))
