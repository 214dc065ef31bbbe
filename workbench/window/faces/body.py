"""The outline of a drawn plug as paths in px."""

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from workbench.sitting.faceplan import CORNER, Box, FacePlan


def scaled(box: Box, origin: QPointF, scale: float) -> QRectF:
    return QRectF(origin.x() + box.x * scale, origin.y() + box.y * scale, box.width * scale, box.height * scale)


def body_path(plan: FacePlan, origin: QPointF, scale: float) -> QPainterPath:
    """Body and key tab as one outline."""
    path = QPainterPath()
    rect = scaled(plan.body, origin, scale)
    if plan.round:
        path.addEllipse(rect)
    else:
        path.addRoundedRect(rect, CORNER * scale, CORNER * scale)
    if plan.tab is None:
        return path
    tab = QPainterPath()
    # reaches into the body, so that the union leaves no seam on a round one
    tab.addRect(_into(scaled(plan.tab, origin, scale), rect, scale))
    return path.united(tab)


def _into(tab: QRectF, body: QRectF, scale: float) -> QRectF:
    if tab.top() >= body.bottom() - 0.5:
        return tab.adjusted(0, -scale, 0, 0)
    if tab.bottom() <= body.top() + 0.5:
        return tab.adjusted(0, 0, 0, scale)
    if tab.right() <= body.left() + 0.5:
        return tab.adjusted(0, 0, scale, 0)
    return tab.adjusted(-scale, 0, 0, 0)
