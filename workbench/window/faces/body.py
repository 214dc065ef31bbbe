"""The outline of a drawn plug as paths in px."""

import math

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from workbench.sitting.faceplan import CORNER, Box, FacePlan
from workbench.stator.pattern import KeyShape, Side


def scaled(box: Box, origin: QPointF, scale: float) -> QRectF:
    return QRectF(origin.x() + box.x * scale, origin.y() + box.y * scale, box.width * scale, box.height * scale)


def body_path(plan: FacePlan, origin: QPointF, scale: float) -> QPainterPath:
    """The outline, its key with it: a tab stands out of it, a flat cuts it."""
    path = QPainterPath()
    rect = scaled(plan.body, origin, scale)
    if plan.round and plan.key and plan.key_box and plan.connector.key_shape is KeyShape.FLAT:
        return _chorded(rect, scaled(plan.key_box, origin, scale), plan.key)
    if plan.round:
        path.addEllipse(rect)
    else:
        path.addRoundedRect(rect, CORNER * scale, CORNER * scale)
    if plan.key is None or plan.key_box is None:
        return path
    key, shape = scaled(plan.key_box, origin, scale), plan.connector.key_shape
    if shape is KeyShape.TAB:
        # reaches into the body, so that the union leaves no seam on a round one
        return path.united(_box(_grown(key, plan.key, inward=scale)))
    if shape is KeyShape.FLAT:
        # covers the two corners of that side, which makes them sharp
        length = rect.width() if plan.key in (Side.BOTTOM, Side.TOP) else rect.height()
        flat = _wide(key, plan.key, (length - min(key.width(), key.height())) / 2)
        return path.united(_box(_grown(flat, plan.key, inward=CORNER * scale).intersected(rect)))
    return path


def _chorded(rect: QRectF, key: QRectF, side: Side) -> QPainterPath:
    """A circle cut off at the key's outer edge."""
    middle, radius = rect.center(), rect.width() / 2
    away, turned = {
        Side.RIGHT: (key.right() - middle.x(), 0),
        Side.TOP: (middle.y() - key.top(), 90),
        Side.LEFT: (middle.x() - key.left(), 180),
        Side.BOTTOM: (key.bottom() - middle.y(), 270),
    }[side]
    half = math.degrees(math.acos(away / radius))
    path = QPainterPath()
    path.arcMoveTo(rect, turned + half)
    path.arcTo(rect, turned + half, 360 - 2 * half)
    path.closeSubpath()
    return path


def rib_path(plan: FacePlan, origin: QPointF, scale: float) -> QPainterPath:
    """The ridge inside the outline; empty where the key is none."""
    if plan.key is None or plan.key_box is None or plan.connector.key_shape is not KeyShape.RIB:
        return QPainterPath()
    outline = body_path(plan, origin, scale)
    return outline.intersected(_box(scaled(plan.key_box, origin, scale)))


def _box(rect: QRectF) -> QPainterPath:
    path = QPainterPath()
    path.addRect(rect)
    return path


def _grown(rect: QRectF, side: Side, inward: float) -> QRectF:
    """Longer towards the middle of the face by so many px."""
    match side:
        case Side.BOTTOM:
            return rect.adjusted(0, -inward, 0, 0)
        case Side.TOP:
            return rect.adjusted(0, 0, 0, inward)
        case Side.RIGHT:
            return rect.adjusted(-inward, 0, 0, 0)
        case Side.LEFT:
            return rect.adjusted(0, 0, inward, 0)


def _wide(rect: QRectF, side: Side, by: float) -> QRectF:
    """Longer along its side by so many px at both ends."""
    return rect.adjusted(-by, 0, by, 0) if side in (Side.BOTTOM, Side.TOP) else rect.adjusted(0, -by, 0, by)
