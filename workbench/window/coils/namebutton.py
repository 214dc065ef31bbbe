"""A winding's name beside the sketch, as a button."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QEnterEvent, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from workbench.sitting.coilplan import Wound
from workbench.stator.layout import Wire
from workbench.window.coils.paints import CoilPaints

STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1}
RING = 3  # px around the plate for the ring of the focus


class NameButton(QAbstractButton):
    """Swatch and name; filled when its winding is lit. Where it found no room (`plain`), only its focus is drawn."""

    def __init__(
        self, wound: Wound, parent: QWidget, step: Callable[[str, int], None], hover: Callable[[str], None]
    ) -> None:
        super().__init__(parent)
        self.wound = wound
        self.plain = False
        self._step, self._hover = step, hover
        self._paints: CoilPaints | None = None
        self._lit = self._over = False
        self.setText(wound.name)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.say(False)

    @property
    def lit(self) -> bool:
        return self._lit

    def say(self, lit: bool) -> None:
        self._lit = lit
        spoken = self.wound.spoken(lit)
        if spoken != self.accessibleName():
            self.setAccessibleName(spoken)
            self.setToolTip(spoken)
        self.update()

    def set_paints(self, paints: CoilPaints) -> None:
        self._paints = paints
        self.update()

    def sizeHint(self) -> QSize:
        """With its widest text, so that nothing moves when it is lit."""
        if self._paints is None:
            return QSize(0, 0)
        m = QFontMetricsF(self._paints.lit_name)
        return QSize(
            round(m.horizontalAdvance(self.text()) + self._swatch(m) + 12 + 2 * RING), round(m.height() + 4 + 2 * RING)
        )

    def _swatch(self, m: QFontMetricsF) -> float:
        return m.ascent() * 0.8 + 5

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in STEPS:
            self._step(self.wound.name, STEPS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self._over = True
        self._hover(self.wound.name)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._over = False
        self._hover("")

    def paintEvent(self, event: QPaintEvent) -> None:
        p = self._paints
        if p is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(RING, RING, -RING, -RING)
        if not self.plain:
            self._paint_plate(painter, p, box)
        if self.hasFocus():
            painter.setPen(p.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 5, 5)

    def _paint_plate(self, painter: QPainter, p: CoilPaints, box: QRectF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(p.lit_plate if self._lit else p.hover_plate if self._over else p.plate)
        painter.drawRoundedRect(box, 3, 3)
        face = p.lit_name if self._lit else p.name
        m = QFontMetricsF(face)
        side = m.ascent() * 0.8
        swatch = QRectF(box.left() + 5, box.center().y() - side / 2, side, side)
        painter.setPen(QPen(p.copper, 1.2))
        painter.setBrush(p.grounds[self.wound.tone])
        painter.drawRoundedRect(swatch, 2, 2)
        lines = 2 if self.wound.wire is Wire.HEAVY else 5
        painter.setPen(QPen(p.copper, 0.36 * side / lines))
        for i in range(lines):
            y = swatch.top() + side * (i + 0.5) / lines
            painter.drawLine(QPointF(swatch.left() + 1, y), QPointF(swatch.right() - 1, y))
        painter.setFont(face)
        painter.setPen(p.lit_ink if self._lit else p.ink)
        left = swatch.right() + 5
        room = QRectF(left, box.top(), box.right() - left, box.height())
        text = m.elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
