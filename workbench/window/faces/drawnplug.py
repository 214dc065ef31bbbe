"""One plug's outline and key, ready to be painted."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath

from workbench.sitting.faceplan import Box, FacePlan
from workbench.window.faces.body import body_path, rib_path, scaled
from workbench.window.faces.paints import Paints
from workbench.window.faces.routes import Point


@dataclass(frozen=True)
class DrawnPlug:
    """In px of the face; `origin` is where the plan's (0, 0) lies."""

    plan: FacePlan
    origin: QPointF
    scale: float
    body: QPainterPath
    rib: QPainterPath
    key: QRectF

    @staticmethod
    def at(plan: FacePlan, origin: QPointF, scale: float) -> "DrawnPlug":
        key = scaled(plan.key_box, origin, scale) if plan.key_box else QRectF()
        return DrawnPlug(plan, origin, scale, body_path(plan, origin, scale), rib_path(plan, origin, scale), key)

    def px(self, p: Point) -> Point:
        return self.origin.x() + p[0] * self.scale, self.origin.y() + p[1] * self.scale

    @property
    def key_boxes(self) -> tuple[Box, ...]:
        k = self.key
        return () if k.isEmpty() else (Box(k.x(), k.y(), k.width(), k.height()),)

    def paint(self, painter: QPainter, p: Paints) -> None:
        painter.setPen(p.edge)
        painter.setBrush(p.plastic)
        painter.drawPath(self.body)
        if not self.rib.isEmpty():
            painter.setBrush(p.iron)
            painter.drawPath(self.rib)

    def write_key(self, painter: QPainter, p: Paints) -> None:
        """Over the lines, and not struck out by those that pass."""
        if self.key.isEmpty():
            return
        painter.save()
        painter.setPen(p.quiet if self.rib.isEmpty() else p.ink)
        painter.setFont(p.caption)
        painter.translate(self.key.center())
        if self.key.height() > self.key.width():
            painter.rotate(-90)
        m = QFontMetricsF(p.caption)
        word = QRectF(0, 0, m.horizontalAdvance("KEY") + 4, m.ascent())
        word.moveCenter(QPointF(0, 0))
        painter.fillRect(word, p.plastic if self.rib.isEmpty() else p.iron)
        painter.drawText(QRectF(-60, -30, 120, 60), Qt.AlignmentFlag.AlignCenter, "KEY")
        painter.restore()
