"""A face's lines, made ready to be painted: paths, pens, end marks and the boxes of their values."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPen,
    QRegion,
)

from workbench.sitting.faceplan import Box
from workbench.stator.pattern import CORE
from workbench.window.faces.paints import DASHES, Paints
from workbench.window.faces.placing import Ground, Wanted, place_labels
from workbench.window.faces.routes import Point, Points, Route, route
from workbench.window.faces.state import Mark, Standing, Tone

WIDTH, HEAVY, HOLLOW, THIN = 3.5, 5.5, 8.0, 3.0
END = 4.5
PIECES = 10
SOLID = Qt.PenStyle.SolidLine
NO_BRUSH, NO_PEN = QBrush(Qt.BrushStyle.NoBrush), QPen(Qt.PenStyle.NoPen)


@dataclass(frozen=True)
class Stroke:
    path: QPainterPath
    pen: QPen
    brush: QBrush


@dataclass(frozen=True)
class Label:
    text: str
    box: QRectF
    colour: QColor
    plate: QBrush


@dataclass(frozen=True)
class Lines:
    """`offered` is the dotted line of the pair to read next."""

    strokes: tuple[Stroke, ...] = ()
    labels: tuple[Label, ...] = ()
    font: QFont | None = None
    offered: tuple[Stroke, ...] = ()
    stage: "Stage | None" = None
    drawn: Mapping[Mark, "Drawn"] = field(default_factory=dict)

    def paint(self, painter: QPainter, strength: float = 1.0) -> None:
        """`strength` from 0 to 1 is how plainly the offered line shows."""
        painter.setOpacity(strength)
        _draw(painter, self.offered)
        painter.setOpacity(1.0)
        _draw(painter, self.strokes)
        if self.font is None:
            return
        painter.setFont(self.font)
        for label in self.labels:
            # a line that passes under a value must not strike it out
            painter.fillRect(label.box, label.plate)
            painter.setPen(label.colour)
            painter.drawText(label.box, Qt.AlignmentFlag.AlignCenter, label.text)


@dataclass(frozen=True)
class Drawn:
    """What was made of one mark. `text` is its value's, whether or not it found room for its `box`."""

    route: Route
    text: str
    box: Box | None
    strokes: tuple[Stroke, ...]


def _draw(painter: QPainter, strokes: Sequence[Stroke]) -> None:
    for s in strokes:
        painter.setPen(s.pen)
        painter.setBrush(s.brush)
        painter.drawPath(s.path)


@dataclass(frozen=True)
class Stage:
    """Where the lines are drawn: nodes in radii (the core among them), and how radii become px.

    `bodies` are the outlines' boxes (radii) by the nodes in them: a mark to a node that is not there leaves its own.
    `bounds` and `taken` are px; `edges` points along all that is outlined.
    """

    nodes: Mapping[str, Point]
    scale: float
    origin: Point
    bodies: Mapping[str, Box]
    bounds: Box
    taken: tuple[Box, ...]
    outline: QPainterPath
    edges: Points

    @property
    def cavities(self) -> tuple[Point, ...]:
        return tuple(c for n, c in self.nodes.items() if n != CORE)

    def px(self, p: Point) -> Point:
        return (self.origin[0] + p[0] * self.scale, self.origin[1] + p[1] * self.scale)


def draw_lines(marks: Sequence[Mark], stage: Stage, p: Paints, before: Lines | None = None) -> Lines:
    """`before`: what was drawn last. On the same stage its lines are taken over, and its values stay where they are."""
    known = before.drawn if before is not None and before.stage is stage else {}
    by_ends = {(m.one, m.other): d for m, d in known.items()}
    shown: list[tuple[Mark, Route]] = []
    for m in marks:
        same = by_ends.get((m.one, m.other))
        r = same.route if same else _route(m, stage)
        if r is not None:
            shown.append((m, r if same else r.scaled(stage.scale, stage.origin)))
    # the pair in hand takes its place for a value first, and is painted last
    shown.sort(key=lambda line: not line[0].chosen)
    metrics = QFontMetricsF(p.label)
    texts = [_text(m, stage) for m, _ in shown]
    wanted = [
        Wanted(r, metrics.horizontalAdvance(text) + 5 if text else 0, _height(metrics, text), m.chosen)
        for text, (m, r) in zip(texts, shown, strict=True)
    ]
    crosses = [Box(x - 9, y - 9, 18, 18) for m, r in shown if m.tone is Tone.OUT for x, y in (r.at(0.5),)]
    kept = [
        d.box if (d := by_ends.get((m.one, m.other))) and d.text == text else None
        for text, (m, _) in zip(texts, shown, strict=True)
    ]
    boxes = place_labels(wanted, _ground(stage, crosses), kept)
    labels = tuple(
        Label(
            text,
            box := QRectF(b.x, b.y, b.width, b.height),
            p.tone(m.tone),
            p.plastic if stage.outline.contains(box.center()) else p.panel,
        )
        for text, (m, _), b in zip(texts, shown, boxes, strict=True)
        if b is not None
    )
    drawn = {
        m: Drawn(r, text, b, known[m].strokes if m in known else tuple(_strokes(m, r, stage, p)))
        for text, (m, r), b in zip(texts, shown, boxes, strict=True)
    }
    strokes = tuple(s for m in reversed(drawn) if m.standing is not Standing.OFFERED for s in drawn[m].strokes)
    offered = tuple(s for m, d in drawn.items() if m.standing is Standing.OFFERED for s in d.strokes)
    return Lines(strokes, labels, p.label, offered, stage, drawn)


def points_along(outline: QPainterPath) -> Points:
    """(160, 2): points evenly along a path; none of an empty one."""
    along = [outline.pointAtPercent(i / 160) for i in range(160)] if not outline.isEmpty() else []
    return np.array([(q.x(), q.y()) for q in along]).reshape(-1, 2)


def region_of(strokes: Sequence[Stroke]) -> QRegion:
    """All that these strokes touch, in pieces that follow them."""
    region = QRegion()
    for s in strokes:
        reach = s.pen.widthF() / 2 + 2
        for i in range(PIECES):
            a, b = s.path.pointAtPercent(i / PIECES), s.path.pointAtPercent((i + 1) / PIECES)
            piece = QRectF(a, b).normalized().adjusted(-reach, -reach, reach, reach)
            region = region.united(QRegion(piece.toAlignedRect()))
    return region


def _height(metrics: QFontMetricsF, text: str) -> float:
    """Tight about a number; a name has letters that reach below the line."""
    return metrics.ascent() + (metrics.descent() if any(c.isalpha() for c in text) else 2)


def _ground(stage: Stage, crosses: list[Box]) -> Ground:
    cavities = tuple(stage.px(c) for c in stage.cavities)
    return Ground(stage.bounds, cavities, stage.scale + 3, (*stage.taken, *crosses), stage.edges)


def _text(mark: Mark, stage: Stage) -> str:
    away = [n for n in (mark.one, mark.other) if n not in stage.nodes]
    return f"{mark.text} to {away[0].replace('.', ' ')}" if away else mark.text


def _route(mark: Mark, stage: Stage) -> Route | None:
    here = [n for n in (mark.one, mark.other) if n in stage.nodes and n != CORE]
    if not here or mark.one == mark.other:
        return None
    start = stage.nodes[here[0]]
    if len(here) == 2:
        end = stage.nodes[here[1]]
    else:
        end = stage.nodes[CORE] if CORE in (mark.one, mark.other) else _out_of(start, stage.bodies[here[0]])
    # within a plug the way doesn't ask what lies around it
    bodies = {stage.bodies[n] for n in here}
    inside = len(here) == 2 and len(bodies) == 1
    others = tuple(
        c for n, c in stage.nodes.items() if n not in here and n != CORE and (not inside or stage.bodies[n] in bodies)
    )
    return route(start, end, others)


def _out_of(start: Point, box: Box) -> Point:
    """A little beyond the nearest edge, the key's aside."""
    x, y = start
    ways = ((x - box.x, (box.x - 0.6, y)), (box.x + box.width - x, (box.x + box.width + 0.6, y)),
            (y - box.y, (x, box.y - 0.6)))  # fmt: skip
    return min(ways)[1]


def _strokes(mark: Mark, line: Route, stage: Stage, p: Paints) -> list[Stroke]:
    path = QPainterPath(QPointF(*line.start))
    path.cubicTo(QPointF(*line.first), QPointF(*line.second), QPointF(*line.end))
    if mark.standing is Standing.OFFERED:
        return [Stroke(path, _dashed(QPen(p.quiet, THIN, SOLID, Qt.PenCapStyle.RoundCap), (0.2, 2.4)), NO_BRUSH)]
    colour = p.tone(mark.tone)
    out = [Stroke(path, QPen(p.glow, 16, SOLID, Qt.PenCapStyle.FlatCap), NO_BRUSH)] if mark.chosen else []
    if mark.speaks:
        rail = QPen(p.accent_colour, 2, SOLID, Qt.PenCapStyle.FlatCap)
        out.append(Stroke(_rails(path), rail if mark.speaks > 0 else _dashed(rail, (2.0, 2.2)), NO_BRUSH))
    pending = mark.standing is Standing.PENDING
    if pending:
        out.append(Stroke(_hollow(path, mark.tone), QPen(colour, 1.6), p.plastic))
    else:
        width = HEAVY if mark.tone is Tone.OUT else WIDTH
        out.append(
            Stroke(path, _dashed(QPen(colour, width, SOLID, Qt.PenCapStyle.FlatCap), DASHES.get(mark.tone)), NO_BRUSH)
        )
    if mark.tone is Tone.OUT:
        out += _cross(line.at(0.5), colour, p)
    else:
        dots = QPainterPath()
        for x, y in _ends(line, stage):
            dots.addEllipse(QPointF(x, y), END, END)
        out.append(Stroke(dots, QPen(colour, 1.6), p.plastic) if pending else Stroke(dots, NO_PEN, QBrush(colour)))
    return out


def _dashed(pen: QPen, dashes: tuple[float, ...] | None) -> QPen:
    if dashes:
        pen.setDashPattern(list(dashes))
    return pen


def _rails(path: QPainterPath) -> QPainterPath:
    """A line at either side: whole for what speaks for an explanation, broken for what speaks against it."""
    stroker = QPainterPathStroker()
    stroker.setWidth(14)
    stroker.setCapStyle(Qt.PenCapStyle.FlatCap)
    return stroker.createStroke(path).simplified()


def _hollow(path: QPainterPath, tone: Tone) -> QPainterPath:
    """The line's outline with nothing in it, dash by dash."""
    stroker = QPainterPathStroker()
    stroker.setWidth(HOLLOW)
    stroker.setCapStyle(Qt.PenCapStyle.FlatCap)
    if tone in DASHES:
        stroker.setDashPattern([d * 0.6 for d in DASHES[tone]])
    return stroker.createStroke(path).simplified()


def _cross(at: Point, colour: QColor, p: Paints) -> list[Stroke]:
    x, y = at
    cross = QPainterPath()
    for dx in (-7, 7):
        cross.moveTo(x - dx, y - 7)
        cross.lineTo(x + dx, y + 7)
    cap = Qt.PenCapStyle.RoundCap
    return [
        Stroke(cross, QPen(p.plastic.color(), 7.5, SOLID, cap), NO_BRUSH),
        Stroke(cross, QPen(colour, 3.5, SOLID, cap), NO_BRUSH),
    ]


def _ends(line: Route, stage: Stage) -> list[Point]:
    """Where the line leaves its cavities: at both ends, or at one that goes to ground or another plug."""
    trace = line.points(60)
    both = any(abs(x - line.end[0]) + abs(y - line.end[1]) < 1e-6 for x, y in map(stage.px, stage.cavities))
    out = []
    for points in (trace, trace[::-1]) if both else (trace,):
        beyond = ((points - points[0]) ** 2).sum(axis=1) >= (stage.scale + END * 0.6) ** 2
        if beyond.any():
            x, y = points[int(beyond.argmax())]
            out.append((float(x), float(y)))
    return out
