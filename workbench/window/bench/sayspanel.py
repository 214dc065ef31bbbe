"""What the readings say: explanations, likeliest first, each with its share; and what would tell more."""

from PySide6.QtCore import QModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from workbench.sitting.says import ROWS, ExplanationView, SaysView
from workbench.window.bench.rows import Index, Row, RowModel
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.parts import Panel, label

BAR = 4
EDGE = 8  # from the frame of the chosen one to its words


class SaysPanel(Panel):
    """`pointed(ExplanationView or None)`: the explanation under the mouse or the keys, to light what speaks for it."""

    pointed = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__("What the readings say")
        self.body.setSpacing(4)
        self.list = SaysList(look)
        self.list.pointed.connect(self.pointed)
        self.foot = label("", "quiet", wrap=True)
        self.foot.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.body.addWidget(self.list, 1)
        self.body.addWidget(self.foot)
        self._view: SaysView | None = None
        self._look = look

    @property
    def is_blank(self) -> bool:
        return self._view is None or not self._view.rows

    def show_says(self, view: SaysView) -> None:
        if view == self._view:
            return
        self._view = view
        self.list.show_rows(view.rows)
        self.foot.setText(view.foot)
        self.aside.setText("with its past" if view.past else "unlike its past" if view.unlike else "")
        self.aside.setToolTip(view.past)
        self.setAccessibleDescription(view.spoken)
        self._fit()

    def _fit(self) -> None:
        """Two lines always, so that the rows stay where they are."""
        self.foot.ensurePolished()
        high = 2 * self.foot.fontMetrics().lineSpacing() + 2
        if self.foot.minimumHeight() != high:
            self.foot.setFixedHeight(high)


class SaysList(QListView):
    """`pointed(ExplanationView or None)`: what is under the mouse or the keys."""

    pointed = Signal(object)

    def __init__(self, look: Look, name: str = "Explanations", rows: int = ROWS, *, chooses: bool = False) -> None:
        """`rows`: at most so many are ever shown. `chooses`: one of them is, and stays lit."""
        super().__init__()
        self.rows = RowModel()
        self.rows.setParent(self)
        self.setModel(self.rows)
        self._delegate = ShareDelegate(look, self, chooses=chooses)
        self.setItemDelegate(self._delegate)
        self.setAccessibleName(name)
        self.setUniformItemSizes(True)
        self.setMouseTracking(True)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setProperty("role", "bare")
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(3 * self._delegate.height + 2)
        self.setMaximumHeight(rows * self._delegate.height + 2)
        self.entered.connect(self._point)
        self.selectionModel().currentChanged.connect(lambda now, _: self._point(now))

    def show_rows(self, views: tuple[ExplanationView, ...]) -> None:
        self.rows.show_rows([Row(v, v.title, v.detail, v.percent, "", v.spoken) for v in views])

    def sizeHint(self) -> QSize:
        return QSize(200, self.minimumHeight())

    def leaveEvent(self, event: object) -> None:
        self.pointed.emit(None)

    def focusOutEvent(self, event: object) -> None:
        super().focusOutEvent(event)  # type: ignore[arg-type]  # Qt's own event
        self.pointed.emit(None)

    def _point(self, at: QModelIndex) -> None:
        self.pointed.emit(self.rows.rows[at.row()].key if at.isValid() else None)


class ShareDelegate(QStyledItemDelegate):
    """Title and share in the first line, size in the second, the share as a bar below."""

    def __init__(self, look: Look, parent: QListView, *, chooses: bool = False) -> None:
        super().__init__(parent)
        self._look = look
        self._chooses = chooses
        s = look.sizes
        self._title, self._detail = font(s.px(15), QFont.Weight.Medium), font(s.px(12))
        self._share = font(s.px(15), QFont.Weight.DemiBold)
        self._upper, self._lower = QFontMetrics(self._title).height(), QFontMetrics(self._detail).height()
        self.height = self._upper + self._lower + s.px(BAR) + s.px(5)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, self.height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, RowModel)
        row = model.rows[index.row()]
        assert isinstance(row.key, ExplanationView)
        t, s = self._look.theme, self._look.sizes
        edge = s.px(EDGE) if self._chooses else 2
        box = QRectF(option.rect).adjusted(edge, 1, -edge, -1)
        painter.save()
        chosen = self._chooses and bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen or option.state & (QStyle.StateFlag.State_HasFocus | QStyle.StateFlag.State_MouseOver):
            painter.setPen(QPen(QColor(t.accent), 2 if chosen else 1))
            painter.setBrush(QColor(t.accent_tint))
            painter.drawRoundedRect(QRectF(option.rect).adjusted(1, 1, -1, -1), 3, 3)
        wide = QFontMetrics(self._share).horizontalAdvance("> 99 %") + s.px(6)
        self._line(painter, box.adjusted(0, 0, -wide, 0), 0, self._title, t.ink, row.title)
        self._line(painter, box, self._upper, self._detail, t.quiet, row.detail)
        painter.setFont(self._share)
        painter.setPen(QColor(t.ink))
        at = QRectF(box.right() - wide, box.top(), wide, self._upper)
        painter.drawText(at, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, row.value)
        bar = QRectF(box.left(), box.top() + self._upper + self._lower, box.width(), s.px(BAR))
        painter.fillRect(bar, QColor(t.panel_edge))
        bar.setWidth(max(bar.width() * row.key.share, 1.0))
        painter.fillRect(bar, QColor(t.ink))
        painter.restore()

    def _line(self, painter: QPainter, box: QRectF, down: int, face: QFont, ink: str, text: str) -> None:
        painter.setFont(face)
        painter.setPen(QColor(ink))
        metrics = QFontMetrics(face)
        fitted = metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(int(box.width()), 0))
        place = QRectF(box.left(), box.top() + down, box.width(), metrics.height())
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, fitted)
