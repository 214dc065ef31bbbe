"""What the proof remarks, each with a sign of its weight: told by shape and word, colour last."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyleOptionViewItem

from workbench.drafting.prove import Weight
from workbench.sitting.patterndesk import RemarkView
from workbench.window.bench.rows import Index, Row, RowDelegate, RowList, RowModel
from workbench.window.look import Look
from workbench.window.theme import Theme


class RemarkList(RowList):
    """`views` in their order; a row's key is its place among them."""

    def __init__(self, look: Look) -> None:
        super().__init__(look, "Remarks")
        self.views: tuple[RemarkView, ...] = ()
        self.setItemDelegate(_Delegate(look, self))

    def show_views(self, views: Sequence[RemarkView]) -> None:
        self.views = tuple(views)
        self.rows.show_rows(
            [Row(i, v.who, v.what, v.word, "", f"{v.word}: {v.sentence}") for i, v in enumerate(self.views)]
        )

    @property
    def chosen(self) -> RemarkView | None:
        key = self.key()
        return self.views[key] if isinstance(key, int) and key < len(self.views) else None


class _Delegate(RowDelegate):
    def __init__(self, look: Look, parent: RemarkList) -> None:
        super().__init__(look, parent)
        self._list = parent

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, RowModel)
        room = round(0.6 * self.height)
        box = QRectF(option.rect)
        shifted = QStyleOptionViewItem(option)
        shifted.rect = option.rect.adjusted(room, 0, 0, 0)
        super().paint(painter, shifted, index)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        weight = self._list.views[index.row()].weight
        middle = QPointF(box.left() + room / 2, box.center().y())
        draw_weight(painter, weight, middle, 0.2 * self.height, self._look.theme)
        painter.restore()


def draw_weight(painter: QPainter, weight: Weight, at: QPointF, radius: float, t: Theme) -> None:
    """A filled disc with a bar across, a triangle, a ring: what is missing, to be looked at, good to know."""
    match weight:
        case Weight.ERROR:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(t.ink_of.out))
            painter.drawEllipse(at, radius, radius)
            painter.setBrush(QColor(t.panel))
            painter.drawRect(QRectF(at.x() - 0.6 * radius, at.y() - 0.2 * radius, 1.2 * radius, 0.4 * radius))
        case Weight.WARNING:
            painter.setPen(QPen(QColor(t.ink_of.continuous), 2, j=Qt.PenJoinStyle.RoundJoin))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            corners = ((0.0, -1.0), (1.0, 0.8), (-1.0, 0.8))
            painter.drawPolygon(QPolygonF([at + QPointF(x, y) * radius for x, y in corners]))
        case Weight.NOTE:
            painter.setPen(QPen(QColor(t.quiet), 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, 0.7 * radius, 0.7 * radius)
