"""A value with its U against low and high: one pair, drawn to scale."""

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.sitting.views import BandView
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.parts import Panel, label, set_verdict
from workbench.window.theme import verdict_ink, verdict_tint
from workbench.words import plain_number

HIGH = 214


class BandPanel(Panel):
    def __init__(self, look: Look) -> None:
        super().__init__("Band")
        self.scale = BandScale(look)
        self.band = label("", "quiet", wrap=True)
        self.note = label("", wrap=True)
        self.head.insertWidget(1, self.aside)
        self.aside.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.body.addWidget(self.scale)
        self.body.addWidget(self.band)
        self.body.addWidget(self.note)
        self.body.addStretch(0)
        self.setFixedHeight(look.sizes.px(HIGH))  # nothing below it moves for what it has to say

    def show_band(self, v: BandView, more: str = "") -> None:
        self.aside.setText(v.title)
        self.scale.show_band(v)
        self.scale.setVisible(v.low is not None)
        self.band.setText(f"{v.band_text}, {v.origin}" if v.band_text else "")
        self.note.setText(" ".join(x for x in (v.note, more) if x))
        set_verdict(self.note, v.word if v.word in ("out", "doubtful", "continuous") else "")


class BandScale(QWidget):
    """The axis alone. Nothing is drawn outside it: a value far off is pinned to the edge with an arrow."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._view: BandView | None = None
        self._small = font(look.sizes.px(12))
        self._strong = font(look.sizes.px(15), QFont.Weight.DemiBold)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Band")

    def sizeHint(self) -> QSize:
        return QSize(240, self._look.sizes.px(92))

    def minimumSizeHint(self) -> QSize:
        return QSize(200, self._look.sizes.px(64))

    def show_band(self, view: BandView) -> None:
        if view != self._view:
            self._view = view
            said = f"{view.value_text} {view.word}" if view.value_text else "not read"
            self.setAccessibleDescription(f"{view.title}: {said}, band {view.band_text}")
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        v = self._view
        if v is None or v.low is None or v.high is None:
            return
        t, s = self._look.theme, self._look.sizes
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        left, right = 8.0, self.width() - 8.0
        least, most = _span(v)

        def x_of(ohms: float) -> float:
            return left + (ohms - least) / (most - least) * (right - left)

        axis = self.height() - s.px(26.0)
        band = QRectF(x_of(v.low), s.px(28.0), max(x_of(v.high) - x_of(v.low), 2.0), axis - s.px(34.0))
        painter.fillRect(band, QColor(verdict_tint(t, "in")))
        painter.setPen(QPen(QColor(verdict_ink(t, "in")), 1))
        for end in (band.left(), band.right()):  # the tint alone is too pale to end somewhere
            painter.drawLine(QPointF(end, band.top()), QPointF(end, band.bottom()))
        painter.setPen(QPen(QColor(verdict_ink(t, "in")), 2))
        if v.nominal is not None:
            painter.drawLine(QPointF(x_of(v.nominal), band.top() - 3), QPointF(x_of(v.nominal), band.bottom() + 3))
        painter.setPen(QPen(QColor(t.quiet), 1))
        painter.drawLine(QPointF(left, axis), QPointF(right, axis))
        self._ticks(painter, least, most, x_of, axis)
        if v.value is not None and v.expanded is not None:
            self._value(painter, v, x_of, band, (left, right))

    def _ticks(self, painter: QPainter, least: float, most: float, x_of, axis: float) -> None:  # type: ignore[no-untyped-def]
        painter.setFont(self._small)
        metrics = QFontMetricsF(self._small)
        step = _nice((most - least) / 6)
        tick = math.ceil(least / step) * step
        edge = 0.0
        while tick <= most + step * 1e-6:
            x = x_of(tick)
            painter.drawLine(QPointF(x, axis), QPointF(x, axis + 4))
            text = plain_number(tick, step)
            wide = metrics.horizontalAdvance(text)
            at = min(max(x - wide / 2, 2.0), self.width() - wide - 2)
            if at >= edge:
                painter.drawText(QPointF(at, axis + 6 + metrics.ascent()), text)
                edge = at + wide + 8
            tick += step

    def _value(self, painter: QPainter, v: BandView, x_of, band: QRectF, ends: tuple[float, float]) -> None:  # type: ignore[no-untyped-def]
        assert v.value is not None
        assert v.expanded is not None
        left, right = ends
        ink = QColor(verdict_ink(self._look.theme, v.word))
        y = band.center().y()
        x = min(max(x_of(v.value), left), right)
        low, high = max(x_of(v.value - v.expanded), left), min(x_of(v.value + v.expanded), right)
        painter.setPen(QPen(ink, 3))
        painter.drawLine(QPointF(low, y), QPointF(high, y))
        for end in (low, high):
            painter.drawLine(QPointF(end, y - 7), QPointF(end, y + 7))
        painter.setBrush(ink)
        painter.drawEllipse(QPointF(x, y), 4.5, 4.5)
        painter.setFont(self._strong)
        metrics = QFontMetricsF(self._strong)
        text = f"{v.value_text} {v.word}"
        wide = metrics.horizontalAdvance(text)
        painter.drawText(QPointF(min(max(x - wide / 2, 2.0), self.width() - wide - 2), metrics.ascent() + 2), text)


def _span(v: BandView) -> tuple[float, float]:
    """The axis: the band with room around it, widened to a value not too far off."""
    assert v.low is not None
    assert v.high is not None
    width = v.high - v.low or v.high or 1.0
    least, most = v.low - 0.5 * width, v.high + 0.5 * width
    if v.value is not None and v.expanded is not None:
        least = min(least, max(v.value - v.expanded - 0.15 * width, v.low - 8 * width))
        most = max(most, min(v.value + v.expanded + 0.15 * width, v.high + 8 * width))
    return max(least, -0.1 * width) if v.low >= 0 and (v.value is None or v.value >= 0) else least, most


def _nice(step: float) -> float:
    lead = 10.0 ** math.floor(math.log10(step))
    return next(m * lead for m in (1, 2, 5, 10) if m * lead >= step)
