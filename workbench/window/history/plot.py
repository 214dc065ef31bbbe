"""The plot of a history: points with their U over the band, one step a sheet, oldest first.

Sheets stand at even steps: a part comes twice in a week and then not for years, and each visit must be seen.
"""

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QFontMetricsF, QKeyEvent, QMouseEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.sitting.history import HistoryPoint, HistoryView
from workbench.window.fonts import font
from workbench.window.history.scale import Span, span_of
from workbench.window.history.shapes import symbol
from workbench.window.look import Look
from workbench.window.theme import verdict_ink
from workbench.words import plain_number

_NOTHING = np.empty(0)
NAME = "History of this check"
CROWD = 24  # sheets from which the points are drawn smaller
REACH = 22  # px from a point within which the mouse means it


class Ohms(pg.AxisItem):  # type: ignore[misc]
    """Plain numbers with a true minus sign; "open" where opens stand."""

    open_at: float | None = None
    numbers = True  # False: nothing but opens is drawn, and a scale would measure nothing

    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        return ["open" if v == self.open_at else plain_number(v, spacing) for v in values]

    def tickValues(self, least: float, most: float, size: float) -> list[tuple[float, list[float]]]:
        """The large steps alone; and none in the room kept for opens but their own."""
        spacing, values = super().tickValues(least, most, size)[0] if self.numbers else (1.0, [])
        if self.open_at is None:
            return [(spacing, values)]
        edge = self.open_at - 0.6 * spacing
        return [(spacing, [v for v in values if v < edge]), (spacing, [self.open_at])]


class HistoryPlot(pg.PlotWidget):  # type: ignore[misc]
    """`pointed`: the words of the point under mouse or arrow keys, "" for none. `chosen`: a sheet's id."""

    pointed = Signal(str)
    chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget) -> None:
        self._ohms = Ohms("left")
        super().__init__(parent, background=look.theme.panel, axisItems={"left": self._ohms}, enableMenu=False)
        menu = self.getPlotItem().ctrlMenu  # made all the same, and nobody's child: it must go when the plot goes
        menu.setParent(self, menu.windowFlags())
        self._look = look
        self._points: tuple[HistoryPoint, ...] = ()
        self._ys: list[float] = []
        self._span = Span(0.0, 1.0)
        self._at: int | None = None
        t, s = look.theme, look.sizes
        self._small = font(s.px(12))
        plot = self.getPlotItem()
        plot.hideButtons()
        plot.setMouseEnabled(x=False, y=False)
        plot.disableAutoRange()
        plot.layout.setContentsMargins(0, 2, 2, 0)
        for name in ("left", "bottom"):
            axis = plot.getAxis(name)
            axis.setStyle(tickFont=self._small, tickLength=-4, tickTextOffset=3, autoExpandTextSpace=True)
            axis.setPen(QPen(QColor(t.panel_edge), 1))
            axis.setTextPen(QColor(t.quiet))
            axis.enableAutoSIPrefix(False)
        plot.getAxis("bottom").setHeight(round(QFontMetricsF(self._small).height()) + 8)
        edge = QPen(QColor(t.ink_of.in_), 1)
        edge.setCosmetic(True)
        now = QColor(t.accent)
        now.setAlpha(34)  # over the band, which must show through
        self._band = pg.LinearRegionItem((0, 0), "horizontal", QColor(t.tint_of.in_), edge, movable=False)
        self._here = pg.LinearRegionItem((0, 0), "vertical", now, _none(), movable=False)
        self._line = pg.PlotDataItem(pen=_pen(t.field_edge, 1), antialias=True)
        self._whiskers = pg.ErrorBarItem(x=_NOTHING, y=_NOTHING, height=_NOTHING, beam=0.16, pen=_pen(t.ink, 1.5))
        self.dots = pg.ScatterPlotItem(antialias=True, useCache=False)
        self._ring = pg.ScatterPlotItem(symbol="o", size=s.px(22), pen=_pen(t.accent, 2.5), brush=None, antialias=True)
        for depth, item in enumerate((self._band, self._here, self._line, self._whiskers, self.dots, self._ring)):
            item.setZValue(depth)
            plot.addItem(item, ignoreBounds=True)
        self._edge("transparent")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(NAME)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.sizes.px(160), self._look.sizes.px(60))

    def sizeHint(self) -> QSize:
        """No more than it needs: in a page that scrolls, whatever is asked for beyond that lengthens the page."""
        return self.minimumSizeHint()

    # ---- shown

    def show_history(self, view: HistoryView) -> None:
        """Hands the items new data; nothing is built again."""
        kept = self._points[self._at].sheet_id if self._at is not None else None
        self._points = view.points
        self.setAccessibleDescription(view.spoken)
        span = span_of(view)
        self._ohms.open_at = span.top if any(p.ohms is None for p in view.points) else None
        self._ohms.numbers = view.low is not None or any(p.ohms is not None for p in view.points)
        self._ohms.picture = None  # the axis keeps its picture; these it does not know of
        has_band = view.low is not None and view.high is not None
        self._band.setVisible(has_band)
        if has_band:
            self._band.setRegion((view.low, view.high))
        self._here.setVisible(any(p.is_current for p in view.points))
        self._draw_points(span)
        self._span = span
        self._steps()
        self._point(next((i for i, p in enumerate(self._points) if p.sheet_id == kept), None))

    def _draw_points(self, span: Span) -> None:
        theme, px = self._look.theme, self._look.sizes.px
        ys = [span.top if p.ohms is None else span.pinned(p.ohms) for p in self._points]
        read = [(i, y, p.expanded or 0.0) for i, (p, y) in enumerate(zip(self._points, ys, strict=True)) if p.ohms == y]
        x, y, u = np.array(read, dtype=float).reshape(-1, 3).T
        self._whiskers.setData(x=x, y=y, height=2 * u)
        self._line.setData(x, y)
        self.dots.setData(
            [
                {
                    "pos": (float(i), y),
                    "symbol": symbol(p.word, is_open=p.ohms is None),
                    "size": px(14 if p.is_current else 11 if len(ys) <= CROWD else 7),
                    "brush": QColor(verdict_ink(theme, p.word)),
                    "pen": _pen(verdict_ink(theme, p.word), 1),
                }
                for i, (p, y) in enumerate(zip(self._points, ys, strict=True))
            ]
        )
        self._ys = ys

    def _steps(self) -> None:
        """Sheets spread over the width, whole at both ends; as many dates as fit, the newest first."""
        metrics, wide = QFontMetricsF(self._small), max(self.getViewBox().width(), 60.0)
        ends = self._look.sizes.px(26)
        step = max(wide - 2 * ends, 20.0) / max(len(self._points) - 1, 1)
        span, open_at, high = self._span, self._ohms.open_at, max(self.getViewBox().height(), 40.0)
        if open_at is None:
            self.setYRange(span.least, span.most, padding=0)
        else:  # room for the ring around an open
            self.setYRange(span.least, open_at + (open_at - span.least) * self._look.sizes.px(14) / high, padding=0)
        self.setXRange(-ends / step, len(self._points) - 1 + ends / step, padding=0)
        ticks: list[tuple[float, str]] = []
        edge = float("inf")
        for i in range(len(self._points) - 1, -1, -1):
            p = self._points[i]
            text = "now" if p.is_current and i == len(self._points) - 1 else _short(p.when)
            half = metrics.horizontalAdvance(text) / 2 + 5
            if i * step + half <= edge and i * step + ends >= half - 5:
                ticks.append((float(i), text))
                edge = i * step - half
        self.getPlotItem().getAxis("bottom").setTicks([ticks])
        self._whiskers.setData(beam=min(0.5, self._look.sizes.px(8) / step))
        half = min(0.45, self._look.sizes.px(20) / step)
        for i, p in enumerate(self._points):
            if p.is_current:
                self._here.setRegion((i - half, i + half))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if getattr(self, "_points", ()):
            self._steps()

    # ---- pointed at

    @property
    def points(self) -> tuple[HistoryPoint, ...]:
        return self._points

    @property
    def at(self) -> HistoryPoint | None:
        """The point that mouse or keys point at."""
        return None if self._at is None else self._points[self._at]

    def place_of(self, index: int) -> QPointF:
        """Where a point stands in this widget, px."""
        seen = self.getViewBox().mapViewToScene(QPointF(float(index), self._ys[index]))
        return QPointF(self.mapFromScene(seen))

    def _point(self, at: int | None) -> None:
        self._at = at
        self._ring.setData([] if at is None else [{"pos": (float(at), self._ys[at])}])
        said = "" if at is None else _words(self._points[at])
        self.setAccessibleName(f"{NAME}, {said}" if said else NAME)
        self.pointed.emit(said)

    def _near(self, pos: QPointF) -> int | None:
        places = [(self.place_of(i) - pos, i) for i in range(len(self._points))]
        far, at = min(((d.x() ** 2 + d.y() ** 2, i) for d, i in places), default=(float("inf"), 0))
        return at if far <= self._look.sizes.px(REACH) ** 2 else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = self._near(event.position())
        if at != self._at:
            self._point(at)
        self.setCursor(Qt.CursorShape.ArrowCursor if at is None else Qt.CursorShape.PointingHandCursor)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        at = self._near(event.position()) if event.button() is Qt.MouseButton.LeftButton else None
        if at is not None:
            self._point(at)
            self.chosen.emit(self._points[at].sheet_id)

    def wheelEvent(self, event: Any) -> None:
        event.ignore()  # the page scrolls

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        if not self.hasFocus():
            self._point(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = len(self._points) - 1
        at = last + 1 if self._at is None else self._at
        to = {Qt.Key.Key_Left: at - 1, Qt.Key.Key_Right: at + 1, Qt.Key.Key_Home: 0, Qt.Key.Key_End: last}
        key = Qt.Key(event.key())
        if key in to:
            self._point(min(max(to[key], 0), last))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._at is not None:
            self.chosen.emit(self._points[self._at].sheet_id)
        else:
            event.ignore()

    def _edge(self, colour: str) -> None:
        self.setStyleSheet(f"QGraphicsView {{ border: 2px solid {colour}; }}")

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._edge(self._look.theme.accent)
        if self._at is None and self._points:
            self._point(len(self._points) - 1)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._edge("transparent")
        self._point(None)


def _words(p: HistoryPoint) -> str:
    where = f"this sheet, {p.when}" if p.is_current else f"{p.when}, job {p.job_number}"
    return f"{where}: {p.value} {p.word}".rstrip() + (f" ({p.note})" if p.note else "")


def _short(when: str) -> str:
    """`19 Oct 2025` as `Oct 2025`."""
    return when.partition(" ")[2]


def _pen(colour: str, width: float) -> QPen:
    made = QPen(QColor(colour), width)
    made.setCosmetic(True)
    return made


def _none() -> QPen:
    return QPen(Qt.PenStyle.NoPen)
