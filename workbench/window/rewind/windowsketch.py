"""A coil in its window, cut across and to scale: tooth, lining, every wire at its place, what turns, a scale bar."""

from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QImage,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from workbench.sitting.plandrawing import PlanDrawing, Polygon
from workbench.sitting.rewinding import Reckoner
from workbench.window.coils.paints import COPPER
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.rewind.wirepicture import Frame, WireInks, ends_marked, wire_picture

LEAST, USUAL = QSize(220, 260), QSize(380, 330)
MARGIN = 6
LAYER = "layer"
MARKS = "     dot: first turn, ring: last"


class WindowSketch(QWidget):
    """`picture`: the wires as last made; None until they are, and where there are none."""

    def __init__(self, look: Look, reckon: Reckoner) -> None:
        super().__init__()
        self._look, self._reckon = look, reckon
        self.drawing: PlanDrawing | None = None
        self.picture: QImage | None = None
        self._frame: Frame | None = None
        self._made: tuple[PlanDrawing, Frame] | None = None
        self._making = False
        self._iron = QPainterPath()
        self._inks = _inks(look)
        self._font = font(look.sizes.px(12))
        self.setAccessibleName("The coil in its window")

    def show_drawing(self, drawing: PlanDrawing | None, spoken: str) -> None:
        if drawing is not self.drawing:
            self.drawing = drawing
            self._lay_out()
        self.setAccessibleDescription(spoken)

    @property
    def settled(self) -> bool:
        """Whether what is seen is what is to be seen."""
        return self._made == self._wanted

    def minimumSizeHint(self) -> QSize:
        return LEAST

    def sizeHint(self) -> QSize:
        return QSize(self._look.sizes.px(USUAL.width()), self._look.sizes.px(USUAL.height()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    # ---- the picture

    @property
    def _wanted(self) -> tuple[PlanDrawing, Frame] | None:
        return (self.drawing, self._frame) if self.drawing is not None and self._frame is not None else None

    def _lay_out(self) -> None:
        d = self.drawing
        self._frame = self._framed(d) if d is not None else None
        self._iron = QPainterPath()
        if d is not None and self._frame is not None:
            for part in d.iron:
                self._iron = self._iron.united(_path(part, self._frame))
        if self._made is not None and self._made[0] is not d:
            self.picture = self._made = None
        self._make()
        self.update()

    def _framed(self, d: PlanDrawing) -> Frame | None:
        below = self._number_height + self._bar_height
        wide, high = self.width() - 2 * MARGIN, self.height() - 2 * MARGIN - below
        if wide <= 0 or high <= 0:
            return None
        mm_wide, mm_high = d.high[0] - d.low[0], d.high[1] - d.low[1]
        scale = min(wide / mm_wide, high / mm_high)
        left = (self.width() - mm_wide * scale) / 2
        top = MARGIN + (high - mm_high * scale) / 2
        x, y = left - d.low[0] * scale, top + d.high[1] * scale
        return Frame(scale, x, y, self.width(), self.height(), self.devicePixelRatioF())

    def _make(self) -> None:
        """One picture at a time: while the window is drawn larger, only the last size is made in the end."""
        wanted = self._wanted
        if wanted is None or wanted == self._made or self._making:
            return
        self._making = True
        self._reckon(partial(wire_picture, *wanted, self._inks), partial(self._have, wanted))

    def _have(self, made: tuple[PlanDrawing, Frame], picture: QImage) -> None:
        if not isValid(self):  # the page was left meanwhile
            return
        self._making = False
        if self.drawing is made[0]:
            self._made, self.picture = made, picture
            self.update()
        self._make()

    # ---- painted

    def paintEvent(self, event: QPaintEvent) -> None:
        d, f = self.drawing, self._frame
        if d is None or f is None:
            return
        t = self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._font)
        seen = QRectF(f.at((d.low[0], d.high[1])), f.at((d.high[0], d.low[1])))
        painter.save()
        painter.setClipRect(seen)
        painter.fillRect(seen, QColor(t.page))
        painter.setPen(QPen(QColor(t.plastic_edge), 1.2))
        painter.setBrush(QColor(t.plastic))
        painter.drawPath(_path(d.lined, f))
        painter.setBrush(QColor(t.iron))
        painter.drawPath(self._iron)
        painter.setBrush(QColor(t.panel))
        painter.setPen(QPen(QColor(t.ink), 1.4))
        painter.drawPath(_path(d.window, f))
        if d.turning:
            painter.setPen(QPen(QColor(t.plastic_edge), 1.2))
            painter.setBrush(QColor(t.iron))
            painter.drawPath(_path(d.turning, f))
        if d.shared is not None:
            painter.setPen(QPen(QColor(t.quiet), 1.2, Qt.PenStyle.DashLine))
            painter.drawLine(f.at(d.shared[0]), f.at(d.shared[1]))
        painter.restore()
        self._paint_wires(painter, f)
        self._paint_nearest(painter, d, f)
        self._paint_names(painter, d, f, seen)
        self._paint_numbers(painter, d, f, seen)
        self._paint_bar(painter, d, f, seen)

    def _paint_wires(self, painter: QPainter, f: Frame) -> None:
        if self.picture is None or self._made is None:
            return
        made = self._made[1]
        if made == f:
            painter.drawImage(0, 0, self.picture)
            return
        # of another size yet: laid where it belongs, till the sharp one comes
        by = f.scale / made.scale
        target = QRectF(f.x - made.x * by, f.y - made.y * by, made.width * by, made.height * by)
        painter.drawImage(target, self.picture)

    def _paint_nearest(self, painter: QPainter, d: PlanDrawing, f: Frame) -> None:
        if d.nearest is None or not d.turning:
            return
        t, a, b = self._look.theme, f.at(d.nearest.coil), f.at(d.nearest.turning)
        painter.setPen(QPen(QColor(t.ink), 1.6))
        painter.drawLine(a, b)
        for end in (a, b):
            painter.drawLine(end - QPointF(4, 0), end + QPointF(4, 0))
        self._plate(painter, f"{d.nearest.mm:.2f} mm".replace("-", "−"), QPointF(a.x() + 8, (a.y() + b.y()) / 2))

    def _plate(self, painter: QPainter, text: str, middle_left: QPointF) -> None:
        t, metrics = self._look.theme, QFontMetricsF(self._font)
        box = QRectF(0, 0, metrics.horizontalAdvance(text) + 8, metrics.height() + 2)
        left = max(2.0, min(middle_left.x(), self.width() - box.width() - 2))
        box.moveTopLeft(QPointF(left, middle_left.y() - box.height() / 2))
        painter.setPen(QPen(QColor(t.panel_edge), 1))
        painter.setBrush(QColor(t.panel))
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(QColor(t.ink))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _paint_names(self, painter: QPainter, d: PlanDrawing, f: Frame, seen: QRectF) -> None:
        """Of the iron, where there is room for them."""
        metrics, flags = QFontMetricsF(self._font), Qt.AlignmentFlag.AlignCenter
        painter.setPen(QColor(self._look.theme.ink))
        tooth = QRectF(f.at((d.low[0], d.tip)), f.at((0.0, 0.0)))
        if metrics.horizontalAdvance(d.tooth_name) + 6 < tooth.width():
            painter.drawText(tooth, flags, d.tooth_name)
        if d.turning:
            band = QRectF(seen.left() + 6, seen.top() + 2, seen.width(), metrics.height())
            if band.bottom() < min(f.at(p).y() for p in d.turning[:3]):
                painter.drawText(band, Qt.AlignmentFlag.AlignLeft, d.turning_name)

    # ---- at the margin

    @property
    def _number_height(self) -> float:
        return QFontMetricsF(self._font).height() + 12

    @property
    def _bar_height(self) -> float:
        return QFontMetricsF(self._font).height() + 14

    def _paint_numbers(self, painter: QPainter, d: PlanDrawing, f: Frame, seen: QRectF) -> None:
        """Under its layer each, as many as there is room for: with a line up to the wire nearest to it."""
        if not d.in_layers:
            return
        metrics = QFontMetricsF(self._font)
        every, apart = 1, metrics.horizontalAdvance(str(len(d.layers))) + 6
        if len(d.layers) > 1:
            first, last = (f.at(x.wires[0]).x() for x in (d.layers[0], d.layers[-1]))
            every = numbered_every(abs(last - first) / (len(d.layers) - 1), apart)
        top = seen.bottom() + 6
        for layer in d.layers:
            # 1, 3, 5 or 1, 5, 10
            if layer.number != 1 and layer.number % every != (1 if every == 2 else 0):
                continue
            lowest = f.at(min(layer.wires, key=lambda w: w[1]))
            painter.setPen(QPen(QColor(self._look.theme.quiet), 1, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(lowest.x(), lowest.y() + d.wire_mm * f.scale / 2), QPointF(lowest.x(), top))
            painter.setPen(QColor(self._look.theme.ink))
            box = QRectF(lowest.x() - apart, top, 2 * apart, metrics.height())
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(layer.number))
        if d.layers:
            painter.setPen(QColor(self._look.theme.quiet))
            room = QRectF(0, top, f.at(d.layers[0].wires[0]).x() - metrics.horizontalAdvance("0") - 4, metrics.height())
            if room.width() > metrics.horizontalAdvance(LAYER):
                painter.drawText(room, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, LAYER)

    def _paint_bar(self, painter: QPainter, d: PlanDrawing, f: Frame, seen: QRectF) -> None:
        metrics = QFontMetricsF(self._font)
        long = d.scale_mm * f.scale
        left, y = max(seen.left(), float(MARGIN)), seen.bottom() + self._number_height + 8
        painter.setPen(QPen(QColor(self._look.theme.ink), 2))
        painter.drawLine(QPointF(left, y), QPointF(left + long, y))
        for x in (left, left + long):
            painter.drawLine(QPointF(x, y - 4), QPointF(x, y + 4))
        text = f"{d.scale_mm:g} mm{MARKS if ends_marked(d, f) else ''}"
        room = QRectF(left + long + 8, y - metrics.height() / 2, self.width(), metrics.height())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)


def numbered_every(apart_px: float, needed_px: float) -> int:
    """Which layers are numbered: every one, every second, fifth, tenth and so on, so that no two touch."""
    for n in (1, 2, 5, 10, 20, 50, 100, 200, 500):
        if n * apart_px >= needed_px:
            return n
    return 1000


def _path(part: Polygon, f: Frame) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(QPolygonF([f.at(p) for p in part]))
    path.closeSubpath()
    return path


def _inks(look: Look) -> WireInks:
    copper, grounds = COPPER[look.theme.name]
    pale, dark = QColor(grounds[0]), QColor(grounds[2])
    return WireInks(pale, dark, QColor(copper), dark, QColor(copper), QColor(look.theme.ink))
