"""All wires of a coil as a picture: many thousands of them, so that it is made away from the window's thread."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen

from workbench.sitting.plandrawing import PlanDrawing

# px across from which a wire has an edge, and from which its first and last turn are marked
EDGED, MARKED = 6.0, 7.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the drawing lies: px to the mm, the place of u = v = 0, the room, and the screen's px to one of these."""

    scale: float
    x: float
    y: float
    width: int
    height: int
    ratio: float = 1.0

    def at(self, p: tuple[float, float]) -> QPointF:
        return QPointF(self.x + p[0] * self.scale, self.y - p[1] * self.scale)


@dataclass(frozen=True, slots=True)
class WireInks:
    """Of every other layer, told apart by how dark they are; `thin`: the same where wire is too thin for an edge."""

    odd: QColor
    even: QColor
    edge: QColor
    thin_odd: QColor
    thin_even: QColor
    mark: QColor


def wire_picture(d: PlanDrawing, f: Frame, inks: WireInks) -> QImage:
    """Touches no widget, and makes no long call, so that it may be made on any thread."""
    image = QImage(round(f.width * f.ratio), round(f.height * f.ratio), QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(f.ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    across = d.wire_mm * f.scale
    edged = across >= EDGED
    line = max(0.8 / f.ratio, min(1.4, 0.07 * across))
    painter.setPen(QPen(inks.edge, line) if edged else Qt.PenStyle.NoPen)
    # the edge lies within the wire, which else would seem to overlap its neighbour
    radius = (across - line) / 2 if edged else across / 2
    for layer in d.layers:
        odd = layer.odd or not d.in_layers
        thick = inks.odd if odd else inks.even
        painter.setBrush(thick if edged else inks.thin_odd if odd else inks.thin_even)
        for wire in layer.wires:
            painter.drawEllipse(f.at(wire), radius, radius)
    if ends_marked(d, f):
        _mark_ends(painter, d, f, inks, across)
    painter.end()
    return image


def ends_marked(d: PlanDrawing, f: Frame) -> bool:
    return bool(d.layers) and d.in_layers and d.wire_mm * f.scale >= MARKED


def _mark_ends(painter: QPainter, d: PlanDrawing, f: Frame, inks: WireInks, across: float) -> None:
    """A dot in the first wire, a ring in the last."""
    painter.setPen(QPen(inks.mark, max(1.2, 0.1 * across)))
    painter.setBrush(inks.mark)
    painter.drawEllipse(f.at(d.layers[0].wires[0]), 0.14 * across, 0.14 * across)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(f.at(d.layers[-1].wires[-1]), 0.22 * across, 0.22 * across)
