"""A coil plan made ready to be painted: paths in px, made when the size changes and never while painting."""

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from workbench.sitting.coilplan import CoilPlan, CoilSpot, Point, Polygon
from workbench.sitting.faceplan import Box
from workbench.stator.layout import Wire
from workbench.window.coils.labels import Arrangement
from workbench.window.coils.paints import CoilPaints

# px from turn to turn, the wire's share of it, and how many are drawn at least and at most
TURNS = {Wire.HEAVY: (5.0, 0.56, 2, 7), Wire.FINE: (2.4, 0.42, 5, 24)}
LEAST_TURN = 5.0  # px: turns narrower than this can't be seen, and many of them take long to draw
LEAN = 0.14  # how far a turn leans for its sense, as a share of the coil's width


@dataclass(frozen=True)
class DrawnCoil:
    winding: str
    tone: int
    body: QPainterPath
    turns: QPainterPath
    wire: float
    across: float


@dataclass(frozen=True)
class Leader:
    winding: str
    path: QPainterPath
    dot: QPointF


@dataclass(frozen=True)
class Drawing:
    iron: QPainterPath
    coils: tuple[DrawnCoil, ...]
    leaders: tuple[Leader, ...]
    numbers: tuple[tuple[str, QRectF], ...]
    number_font: QFont

    def paint(self, painter: QPainter, p: CoilPaints, lit: frozenset[str], hovered: str) -> None:
        painter.setPen(p.iron_edge)
        painter.setBrush(p.iron)
        painter.drawPath(self.iron)
        painter.setFont(self.number_font)
        painter.setPen(p.ink)
        for text, box in self.numbers:
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        # a heavy outline must not be cut by a neighbour's
        for coil in sorted(self.coils, key=lambda c: (c.winding in lit, c.winding == hovered)):
            _paint_coil(painter, coil, p, coil.winding in lit, coil.winding == hovered)
        for leader in sorted(self.leaders, key=lambda x: x.winding in lit):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(p.halo)
            painter.drawPath(leader.path)
            pen = p.lit_leader if leader.winding in lit else p.leader
            painter.setPen(pen)
            painter.drawPath(leader.path)
            painter.setPen(QPen(p.halo.color(), 1.2))
            painter.setBrush(QBrush(pen.color()))
            painter.drawEllipse(leader.dot, 3.2, 3.2)


def _paint_coil(painter: QPainter, coil: DrawnCoil, p: CoilPaints, lit: bool, hovered: bool) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(p.lit_ground if lit else p.grounds[coil.tone])
    painter.drawPath(coil.body)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    colour: QColor = p.lit_copper if lit else p.copper
    painter.setPen(QPen(colour, coil.wire, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawPath(coil.turns)
    edge = QPen(p.lit_edge if lit else p.hover_edge if hovered else p.edge)
    edge.setWidthF(min(edge.widthF(), 0.25 * coil.across))
    painter.setPen(edge)
    painter.drawPath(coil.body)


def draw(plan: CoilPlan, arranged: Arrangement, number: QFont) -> Drawing:
    """`number` is set smaller where the iron is too thin for it."""
    shown = QFont(number)
    shown.setPixelSize(max(9, min(number.pixelSize(), round(0.75 * plan.teeth[0].depth * arranged.scale))))
    iron = QPainterPath()
    iron.setFillRule(Qt.FillRule.OddEvenFill)
    for polygon in plan.iron:
        iron.addPath(_path(polygon, arranged))
    for polygon in plan.stubs:
        iron.addPath(_path(polygon, arranged))
    tones = {w.name: w.tone for w in plan.windings}
    coils = tuple(_coil(c, tones[c.winding], arranged) for c in plan.coils)
    leaders = tuple(
        _leader(w.name, arranged.px(plan.lead(w.name)[0]), arranged.px(plan.lead(w.name)[1]), box, arranged)
        for w, box in zip(plan.windings, arranged.boxes, strict=True)
        if box is not None
    )
    return Drawing(iron, coils, leaders, _numbers(plan, arranged, QFontMetricsF(shown)), shown)


def _path(polygon: Polygon, a: Arrangement) -> QPainterPath:
    path = QPainterPath(QPointF(*a.px(polygon[0])))
    for point in polygon[1:]:
        path.lineTo(QPointF(*a.px(point)))
    path.closeSubpath()
    return path


def _coil(c: CoilSpot, tone: int, a: Arrangement) -> DrawnCoil:
    """Turns lie across the tooth; they lean to one side for +1 and to the other for -1."""
    along, across = c.along * a.scale, c.across * a.scale
    pitch, share, least, most = TURNS[c.wire]
    n = max(least, min(most, round(along / pitch)))
    step = c.along / n
    lean = (c.sense or 0) * min(LEAN * c.across, 0.8 * step)
    half = c.across / 2 - min(1.2 / a.scale, 0.1 * c.across)
    turns = QPainterPath()
    for i in range(n if across >= LEAST_TURN else 0):
        at = -c.along / 2 + (i + 0.5) * step
        turns.moveTo(QPointF(*a.px(c.at(at - lean / 2, -half))))
        turns.lineTo(QPointF(*a.px(c.at(at + lean / 2, half))))
    return DrawnCoil(c.winding, tone, _body(c, along, across, a), turns, max(0.8, share * along / n), across)


def _body(c: CoilSpot, along: float, across: float, a: Arrangement) -> QPainterPath:
    box = QPainterPath()
    corner = min(4.0, 0.2 * along, 0.2 * across)
    box.addRoundedRect(QRectF(-across / 2, -along / 2, across, along), corner, corner)
    x, y = a.px(c.centre)
    sin, cos = math.sin(c.angle), math.cos(c.angle)
    out = QPainterPath()
    for i in range(box.elementCount()):
        e = box.elementAt(i)
        point = QPointF(x + e.x * cos - e.y * sin, y + e.x * sin + e.y * cos)
        if e.isMoveTo():
            out.moveTo(point)
        elif e.isLineTo():
            out.lineTo(point)
        elif e.isCurveTo():
            later = [box.elementAt(i + k) for k in (1, 2)]
            ends = [QPointF(x + f.x * cos - f.y * sin, y + f.x * sin + f.y * cos) for f in later]
            out.cubicTo(point, *ends)
    return out


def _leader(winding: str, start: Point, out: Point, name: Box, a: Arrangement) -> Leader:
    """Out of the core along the coil's own tooth, then straight to its name."""
    path = QPainterPath(QPointF(*start))
    path.lineTo(QPointF(*out))
    path.lineTo(QPointF(*a.touch(name, out)))
    return Leader(winding, path, QPointF(*start))


def _numbers(plan: CoilPlan, a: Arrangement, m: QFontMetricsF) -> tuple[tuple[str, QRectF], ...]:
    """Every tooth's number where the iron is wide enough for them, else the first one's, from which to count."""
    wide, high = m.horizontalAdvance(str(len(plan.teeth))), m.height()
    every = all(t.room * a.scale >= wide + 3 for t in plan.teeth)
    box = QRectF(0, 0, wide + 4, high)
    out = []
    for t in plan.teeth if every else plan.teeth[:1]:
        box.moveCenter(QPointF(*a.px(t.at)))
        out.append((str(t.number), QRectF(box)))
    return tuple(out)
