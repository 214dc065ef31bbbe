"""The same marks as a face shows, drawn by a bare QPainter and by pyqtgraph: what its speed is held against."""

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QGraphicsPathItem, QWidget

from workbench.window import theme
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.routes import Route
from workbench.window.faces.state import Mark
from workbench.window.fonts import font

STEPS = 24  # points of a curve in the plot, whose lines are straight


class Bare(QWidget):
    """The same marks, known beforehand, with nothing but a painter."""

    def __init__(self, face: FaceView) -> None:
        super().__init__()
        self.resize(face.size())
        t = theme.LIGHT
        self._edge, self._plastic, self._cavity = QPen(QColor(t.plastic_edge), 2), QColor(t.plastic), QColor(t.cavity)
        self._metal, self._ink = QColor(t.metal), QColor(t.ink)
        self._outlines = [d.body for d in face._plugs]
        self._pins = [
            (QPointF(b.geometry().center()), b.width() / 2 - 6, b.node.rpartition(".")[2]) for b in face.buttons[:-1]
        ]
        self._ground = QRectF(face.ground.geometry())
        self._curves: list[tuple[QPainterPath, QPen]] = []
        for m, d in face._lines.drawn.items():
            path = QPainterPath(QPointF(*d.route.start))
            path.cubicTo(QPointF(*d.route.first), QPointF(*d.route.second), QPointF(*d.route.end))
            self._curves.append((path, QPen(QColor(theme.verdict_ink(t, m.tone.value)), 3.5)))
        self._texts = face.values
        self._words = [(face.words.text(), QRectF(face.words.geometry()))]
        self._words += [(w.text(), QRectF(w.geometry())) for w in face.titles]
        self._fonts = (font(16, QFont.Weight.DemiBold), font(20, QFont.Weight.DemiBold), font(13))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(self._edge)
        painter.setBrush(self._plastic)
        for outline in self._outlines:
            painter.drawPath(outline)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for path, pen in self._curves:
            painter.setPen(pen)
            painter.drawPath(path)
        values, pins, quiet = self._fonts
        painter.setPen(self._ink)
        painter.setFont(values)
        for text, box in self._texts:
            painter.fillRect(box, self._plastic)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        painter.setFont(pins)
        for at, radius, name in self._pins:
            painter.setPen(self._edge)
            painter.setBrush(self._cavity)
            painter.drawEllipse(at, radius, radius)
            painter.setBrush(self._metal)
            painter.drawRoundedRect(
                QRectF(at.x() - 0.4 * radius, at.y() - 0.68 * radius, 0.8 * radius, 1.36 * radius), 3, 3
            )
            painter.drawText(QRectF(at.x() - 30, at.y() - 30, 60, 60), Qt.AlignmentFlag.AlignCenter, name)
        painter.setBrush(self._cavity)
        painter.drawRoundedRect(self._ground, 7, 7)
        painter.drawEllipse(self._ground.center(), 17, 17)
        painter.drawText(self._ground, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignHCenter, "ground")
        painter.setFont(quiet)
        for text, box in self._words:
            painter.drawText(box, 0, text)


class Plotted(pg.PlotWidget):
    """As many symbols, lines and texts, as the items of a plot; `take(True)` shows one reading more than before."""

    def __init__(self, face: FaceView, newest: Mark) -> None:
        """`newest`: the mark on this face that `take` shows and hides."""
        super().__init__(background=theme.LIGHT.panel)
        self.resize(face.size())
        for side in ("left", "bottom"):
            self.hideAxis(side)
        view = self.getPlotItem().getViewBox()
        view.setMouseEnabled(False, False)
        view.invertY(True)
        view.setRange(QRectF(face.rect()), padding=0)
        view.disableAutoRange()
        t = theme.LIGHT
        for d in face._plugs:
            outline = QGraphicsPathItem(d.body)
            outline.setPen(pg.mkPen(t.plastic_edge, width=2))
            outline.setBrush(pg.mkBrush(t.plastic))
            self.addItem(outline)
        pins = [QPointF(b.geometry().center()) for b in face.buttons]
        x, y = _xy(pins)
        across = face.buttons[0].width() - 12  # px, as Bare has it
        for size, brush, symbol in ((across, t.cavity, "o"), (0.6 * across, t.metal, "s")):
            self.addItem(
                pg.ScatterPlotItem(x, y, size=size, brush=brush, pen=pg.mkPen(t.plastic_edge), symbol=symbol,
                                   antialias=True)
            )  # fmt: skip
        for button, at in zip(face.buttons, pins, strict=True):
            self._write(button.node.rpartition(".")[2], at, font(20, QFont.Weight.DemiBold))
        for words in (face.words, *face.titles):
            self._write(words.text(), QPointF(words.geometry().center()), font(13))
        self._line, self._points = pg.PlotDataItem(), _curve(face._lines.drawn[newest].route)
        for mark, d in face._lines.drawn.items():
            pen = pg.mkPen(theme.verdict_ink(t, mark.tone.value), width=3.5)
            line = pg.PlotDataItem(*_curve(d.route), pen=pen, antialias=True)
            self.addItem(line)
            if mark == newest:
                self._line = line
        texts = {text: self._write(text, box.center(), font(16, QFont.Weight.DemiBold)) for text, box in face.values}
        self._text = texts[newest.text]
        self._said = newest.text

    def take(self, more: bool) -> None:
        self._line.setData(*(self._points if more else ([], [])))
        self._text.setText(self._said if more else "")

    def _write(self, text: str, at: QPointF, face: QFont) -> pg.TextItem:
        item = pg.TextItem(text, color=theme.LIGHT.ink, anchor=(0.5, 0.5))
        item.setFont(face)
        item.setPos(at)
        self.addItem(item, ignoreBounds=True)
        return item


def _xy(points: list[QPointF]) -> tuple[list[float], list[float]]:
    return [p.x() for p in points], [p.y() for p in points]


def _curve(route: Route) -> tuple[list[float], list[float]]:
    points = route.points(STEPS)
    return points[:, 0].tolist(), points[:, 1].tolist()
