"""The core with what was seen of each coil's sense: a tick, a cross or nothing on every tooth; by mouse and by keys."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget

from workbench.rewind.wound import Compared
from workbench.rewind.woundrecord import Way
from workbench.sitting.coilplan import CoilPlan, plain_plan
from workbench.stator.layout import Layout
from workbench.window.coils.drawing import Drawing, draw
from workbench.window.coils.labels import Arrangement
from workbench.window.coils.paints import coil_paints
from workbench.window.look import Look

LEAST, USUAL = QSize(190, 190), QSize(330, 330)
MARGIN = 8
MARK = 9  # px: a mark's radius where there is room
KEYS = {
    Qt.Key.Key_C: Way.CLOCKWISE, Qt.Key.Key_A: Way.ANTICLOCKWISE, Qt.Key.Key_N: Way.NORTH, Qt.Key.Key_S: Way.SOUTH,
}  # fmt: skip
TOLD = (
    "Arrows go from tooth to tooth; C, A, N and S note clockwise, anticlockwise, north and south; Delete takes it away"
)


class SenseSketch(QWidget):
    """`chosen(place)`: a coil by its place in what is shown; `moved(by)`: so many further; `seen(way)`: None clears."""

    chosen = Signal(int)
    moved = Signal(int)
    seen = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._paints = coil_paints(look.theme, look.sizes)
        self._layout: Layout | None = None
        self._tones: dict[str, int] = {}
        self._plan: CoilPlan | None = None
        self._arranged = Arrangement(1.0, (0.0, 0.0), ())
        self._drawing: Drawing | None = None
        self._bare: QPixmap | None = None  # the core with no coil lit: long to draw where there are many teeth
        self.marks: dict[int, Compared] = {}
        self.lit: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Senses, tooth by tooth")

    def show_senses(
        self, layout: Layout | None, tones: Mapping[int, int], marks: Mapping[int, Compared], lit: int, told: str
    ) -> None:
        """Coils are named by their places; `tones` tell phases apart; `told`: the coil in hand, for who can't see."""
        named = {str(i): tone for i, tone in tones.items()}
        if (layout, named) != (self._layout, self._tones):
            self._layout, self._tones = layout, named
            self._plan = plain_plan(layout, named) if layout is not None and layout.coils else None
            self._lay_out()
        self.marks, self.lit = dict(marks), lit
        self.setAccessibleDescription(f"{told}. {TOLD}")
        self.update()

    def middle(self, place: int) -> QPointF:
        """Of a coil, px. Raises StopIteration for one that isn't drawn."""
        assert self._plan is not None
        coil = next(c for c in self._plan.coils if c.winding == str(place))
        return QPointF(*self._arranged.px(coil.centre))

    def minimumSizeHint(self) -> QSize:
        return LEAST

    def sizeHint(self) -> QSize:
        return QSize(self._look.sizes.px(USUAL.width()), self._look.sizes.px(USUAL.height()))

    # ---- by hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and (place := self._place_at(event.position())) is not None:
            self.chosen.emit(place)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        plain = event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier)
        act: Callable[[], None] | None = None
        if plain == Qt.KeyboardModifier.NoModifier:
            if key in (Qt.Key.Key_Right, Qt.Key.Key_Down):
                act = lambda: self.moved.emit(1)  # noqa: E731 - one of four short acts
            elif key in (Qt.Key.Key_Left, Qt.Key.Key_Up):
                act = lambda: self.moved.emit(-1)  # noqa: E731
            elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
                act = lambda: self.seen.emit(None)  # noqa: E731
            elif key in KEYS:
                act = lambda: self.seen.emit(KEYS[key])  # noqa: E731
        if act is None:
            super().keyPressEvent(event)
        else:
            act()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def _place_at(self, at: QPointF) -> int | None:
        plan, a = self._plan, self._arranged
        if plan is None or self._drawing is None:
            return None
        x, y = (at.x() - a.origin[0]) / a.scale, (at.y() - a.origin[1]) / a.scale
        coil = plan.coil_at(x, y) or plan.coil_at(x, y, MARK / a.scale)
        if coil is not None:
            return int(coil.winding)
        tooth = plan.tooth_at(x, y)
        on = [i for i, c in enumerate(self._layout.coils) if c.tooth == tooth] if self._layout is not None else []
        return int(self._layout.coils[on[0]].winding) if on and self._layout is not None else None

    # ---- drawn

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._drawing is not None and self._plan is not None:
            painter.drawPixmap(0, 0, self._core(self._drawing, painter.device().devicePixelRatioF()))
            lit = tuple(c for c in self._drawing.coils if c.winding == str(self.lit))
            replace(self._drawing, iron=QPainterPath(), coils=lit, numbers=()).paint(
                painter, self._paints, frozenset((str(self.lit),)), ""
            )
            for coil in self._plan.coils:
                how = self.marks.get(int(coil.winding), Compared.UNTESTED)
                across = min(coil.along, coil.across) * self._arranged.scale
                radius = min(float(self._look.sizes.px(MARK)), 0.62 * across)
                self._mark(painter, QPointF(*self._arranged.px(coil.centre)), radius, how)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._look.theme.accent), 4))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(2, 2, -2, -2), 4, 4)

    def _core(self, drawing: Drawing, ratio: float) -> QPixmap:
        if self._bare is None or self._bare.devicePixelRatio() != ratio:
            self._bare = QPixmap((QSizeF(self.size()) * ratio).toSize())
            self._bare.setDevicePixelRatio(ratio)
            self._bare.fill(Qt.GlobalColor.transparent)
            painter = QPainter(self._bare)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            drawing.paint(painter, self._paints, frozenset(), "")
            painter.end()
        return self._bare

    def _mark(self, painter: QPainter, at: QPointF, r: float, how: Compared) -> None:
        """A tick on a light disc, a cross on a dark one and larger, an empty ring where nobody could know."""
        if how is Compared.UNTESTED:
            return
        t = self._look.theme
        round_ = (Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
        wrong = how is Compared.DIFFERS
        ink = QColor(t.ink_of.out if wrong else t.ink_of.in_ if how is Compared.AGREES else t.ink_of.continuous)
        painter.setPen(QPen(QColor(t.panel) if wrong else ink, 1.5, *round_))
        painter.setBrush(ink if wrong else QColor(t.panel))
        r = 1.25 * r if wrong else r
        painter.drawEllipse(at, r, r)
        painter.setPen(QPen(QColor(t.panel) if wrong else ink, max(1.6, 0.26 * r), *round_))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        k = 0.45 * r
        if wrong:
            painter.drawLine(at + QPointF(-k, -k), at + QPointF(k, k))
            painter.drawLine(at + QPointF(-k, k), at + QPointF(k, -k))
        elif how is Compared.AGREES:
            tick = [QPointF(-1.1 * k, 0), QPointF(-0.2 * k, 0.9 * k), QPointF(1.1 * k, -0.9 * k)]
            painter.drawPolyline(QPolygonF([at + p for p in tick]))
        else:
            painter.drawLine(at + QPointF(-k, 0), at + QPointF(k, 0))

    def _lay_out(self) -> None:
        plan, self._drawing, self._bare = self._plan, None, None
        wide, high = self.width() - 2 * MARGIN, self.height() - 2 * MARGIN
        if plan is None or wide <= 0 or high <= 0:
            return
        box = plan.box
        scale = min(wide / box.width, high / box.height)
        origin = (
            self.width() / 2 - (box.x + box.width / 2) * scale,
            self.height() / 2 - (box.y + box.height / 2) * scale,
        )
        self._arranged = Arrangement(scale, origin, (None,) * len(plan.windings))
        self._drawing = draw(plan, self._arranged, self._paints.number)
        self.update()
