"""The sheet's verdict as a tag on its string: each word has a shape of its own."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.pairs.marks import draw_mark

GOOD, FAIL = "GOOD", "FAIL"
SIGNS = {GOOD: "in", FAIL: "out"}


class TagShape(QWidget):
    """GOOD filled, with a tick; FAIL filled and notched, with a cross; the rest in outline; the word is always said."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._word = ""
        self._font = font(look.sizes.px(22), QFont.Weight.DemiBold)
        self.setAccessibleName("Verdict of the sheet")

    def show_word(self, word: str) -> None:
        if word != self._word:
            self._word = word
            self.setAccessibleDescription(word)
            self.updateGeometry()
            self.update()

    @property
    def word(self) -> str:
        return self._word

    def sizeHint(self) -> QSize:
        wide = QFontMetrics(self._font).horizontalAdvance("UNFINISHED")
        return QSize(wide + self._look.sizes.px(72), self._look.sizes.px(42))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        t = self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        nose = box.height() / 2
        left, right, top, bottom, middle = box.left(), box.right(), box.top(), box.bottom(), box.center().y()
        points = [QPointF(left + nose, top), QPointF(right, top), QPointF(right, bottom), QPointF(left + nose, bottom)]
        if self._word == FAIL:  # torn: the far edge is notched
            points[2:2] = [QPointF(right - nose * 0.55, middle)]
        if self._word == GOOD:  # whole: the far edge is round
            points[1:3] = [
                QPointF(right - 4, top),
                QPointF(right, top + 4),
                QPointF(right, bottom - 4),
                QPointF(right - 4, bottom),
            ]
        shape = QPolygonF([QPointF(left, middle), *points])
        filled = self._word in (GOOD, FAIL)
        ink = QColor({GOOD: t.ink_of.in_, FAIL: t.ink_of.out}.get(self._word, t.bar_ink))
        ground = QColor({GOOD: t.tint_of.in_, FAIL: t.tint_of.out}.get(self._word, t.bar))
        pen = QPen(ground if filled else ink, 2)
        if self._word == "UNFINISHED":
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(ground)
        painter.drawPolygon(shape)
        painter.setPen(QPen(ink, 2))
        painter.setBrush(QColor(t.bar))
        painter.drawEllipse(QPointF(left + nose * 0.95, middle), nose * 0.18, nose * 0.18)
        room = box.adjusted(nose, 0, -nose * 0.4, 0)
        if self._word in SIGNS:
            wide = QFontMetrics(self._font).horizontalAdvance(self._word)
            sign = QPointF(room.center().x() - wide / 2 - nose * 0.3, middle)
            draw_mark(painter, SIGNS[self._word], sign, nose * 0.4, ink)
            room.adjust(nose * 0.6, 0, nose * 0.6, 0)
        painter.setFont(self._font)
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, self._word)
