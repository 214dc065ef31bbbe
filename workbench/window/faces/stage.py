"""What the lines of a face must keep clear of, and what tells of lines that are not drawn."""

import math
from collections.abc import Iterable, Sequence

import numpy as np
from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainterPath

from workbench.sitting.faceplan import Box
from workbench.stator.pattern import CORE
from workbench.window.faces.drawnplug import DrawnPlug
from workbench.window.faces.lines import Stage, points_along
from workbench.window.faces.nodebutton import GroundButton
from workbench.window.faces.placing import overlap

# from the edge of a cavity to both ends of its tick, px
TICK = (2.0, 10.0)


def make_stage(plugs: Sequence[DrawnPlug], ground: GroundButton, room: QRectF, taken: Iterable[Box]) -> Stage:
    """Radii are counted from the first plug's corner; `taken` and `room` are px."""
    first = plugs[0]
    scale, origin = first.scale, (first.origin.x(), first.origin.y())

    def radii(x: float, y: float) -> tuple[float, float]:
        return round((x - origin[0]) / scale, 2), round((y - origin[1]) / scale, 2)

    nodes, bodies, outline = {}, {}, QPainterPath()
    for d in plugs:
        left, top = radii(d.origin.x(), d.origin.y())
        b = d.plan.body
        for s in d.plan.spots:
            nodes[s.node] = (s.x + left, s.y + top)
            bodies[s.node] = Box(b.x + left, b.y + top, b.width, b.height)
        outline.addPath(d.body)
    ring, g = ground.ring_centre(), ground.geometry()
    nodes[CORE] = radii(ring.x(), ring.y())
    boxes = (Box(g.x(), g.y(), g.width(), g.height()), *(k for d in plugs for k in d.key_boxes), *taken)
    bounds = Box(room.left(), room.top(), room.width(), room.height())
    edges = np.vstack([points_along(d.body) for d in plugs])
    return Stage(nodes, scale, origin, bodies, bounds, boxes, outline, edges)


def ticks(nodes: Iterable[str], stage: Stage) -> QPainterPath:
    """A short stroke out of each cavity that has further readings, and out of ground."""
    path = QPainterPath()
    across = math.sqrt(0.5)
    for node in nodes:
        if node == CORE:
            g = stage.taken[0]
            path.moveTo(g.x + g.width - 12, g.y - 1)
            path.lineTo(g.x + g.width - 12, g.y - 1 - (TICK[1] - TICK[0]))
        elif node in stage.nodes:
            x, y = stage.px(stage.nodes[node])
            near, far = ((stage.scale + t) * across for t in TICK)
            path.moveTo(x + near, y - near)
            path.lineTo(x + far, y - far)
    return path


def free_corner(room: QRectF, said: QSize, boxes: Sequence[Box]) -> QRectF | None:
    """A place for a few words in a corner of the room, off everything; the lower ones first."""
    w, h = said.width(), said.height()
    for x in (room.left(), room.right() - w):
        for y in (room.bottom() - h, room.top()):
            if not any(overlap(Box(x, y, w, h), b) for b in boxes):
                return QRectF(x, y, w, h)
    return None
