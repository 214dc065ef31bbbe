"""One plug on its grid: cavities put, moved and named by mouse or keys, looking into either side."""

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from workbench.drafting.plugs import Place
from workbench.sitting.pluggrid import RADIUS, PlugGrid
from workbench.stator.pattern import Cavity, Connector, KeyShape, Outline, Side, Terminal
from workbench.window.fonts import font
from workbench.window.look import Look
from workbench.window.voice import announce

STEP, HALF = 104, 0.5
STILL = 6  # px that a hand may tremble without moving a cavity
_MIRROR = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


class PlugCanvas(QWidget):
    """Places are told as the mating side sees them, whichever side is looked into.

    `putAt(place)`: a cavity is wanted there; `movedTo(pin, place)`; `dropped(pin)`; `renaming(pin)`; `chosen(pin)`.
    Arrows move the cursor, half a step at a time with Alt, and with Shift take the cavity along; Page Down and Page Up
    go from cavity to cavity. `takes` False: only a picture.
    """

    putAt = Signal(object)
    movedTo = Signal(str, object)
    dropped = Signal(str)
    renaming = Signal(str)
    chosen = Signal(str)

    def __init__(self, look: Look, *, takes: bool = True) -> None:
        super().__init__()
        self._look = look
        self._plug: Connector | None = None
        self._pin = ""
        self._lit = frozenset[str]()
        self._wire_side = False
        self._cursor: Place = (0.0, 0.0)  # as it is looked at
        self._dragged = ""
        self._from, self._moves = QPointF(), False
        self._held: PlugGrid | None = None  # while a cavity is dragged the grid stays under the hand
        self._takes = takes
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if takes else Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("The plug's face")
        self._describe()

    # ---- told

    def show_plug(self, plug: Connector | None, pin: str, *, wire_side: bool) -> None:
        other = plug is None or self._plug is None or plug.name != self._plug.name
        stored = self.cursor_place
        self._plug, self._pin, self._wire_side = plug, pin, wire_side
        grid = self._grid
        if other:
            self._cursor = grid.places[0] if grid.places else (0.0, 0.0)
        else:
            self._cursor = grid.seen(stored)
        self._describe()
        self.update()

    def light(self, nodes: frozenset[str]) -> None:
        """What a remark is about: a ring around each of these pins that is this plug's."""
        if nodes != self._lit:
            self._lit = nodes
            self.update()

    # ---- asked

    @property
    def cursor_place(self) -> Place:
        """As the mating side sees it."""
        return self._grid.seen(self._cursor)

    def at(self, place: Place) -> QPointF:
        """Where a place, as the mating side sees it, lies in px."""
        return self._px(self._grid.seen(place))

    def sizeHint(self) -> QSize:
        return QSize(560, 380)

    def minimumSizeHint(self) -> QSize:
        return QSize(300, 240)

    # ---- by hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if not self._takes or event.button() is not Qt.MouseButton.LeftButton:
            return
        at, grid = event.position(), self._grid
        pin = grid.pin_under(at.x(), at.y())
        if pin:
            self._cursor = grid.place_of(pin)
            self._dragged, self._from, self._moves, self._held = pin, at, False, grid
            self.chosen.emit(pin)
        else:
            self._cursor = grid.place(at.x(), at.y())
            self.putAt.emit(grid.seen(self._cursor))
        self._describe()
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged and event.buttons() & Qt.MouseButton.LeftButton:
            at = event.position()
            self._moves = self._moves or (at - self._from).manhattanLength() > STILL
            if self._moves:
                self._cursor = self._grid.place(at.x(), at.y())
                self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pin, moves, grid = self._dragged, self._moves, self._grid
        if not pin:
            return
        self._dragged, self._held = "", None
        if moves and self._cursor != grid.place_of(pin):
            self.movedTo.emit(pin, grid.seen(self._cursor))
            self._stand_on(pin)  # where it is now, or still
        self._describe()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, shift = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        step = HALF if event.modifiers() & Qt.KeyboardModifier.AltModifier else 1.0
        moves = {
            Qt.Key.Key_Left: (-step, 0.0), Qt.Key.Key_Right: (step, 0.0),
            Qt.Key.Key_Up: (0.0, step), Qt.Key.Key_Down: (0.0, -step),
        }  # fmt: skip
        here = self._grid.pin_at(self._cursor)
        if key in moves:
            self._step(moves[Qt.Key(key)], here if shift else "")
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            self._stand_on(self._grid.beside(here or self._pin, 1 if key == Qt.Key.Key_PageDown else -1))
            self._tell()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Insert, Qt.Key.Key_Space):
            if here:
                self.chosen.emit(here)
            else:
                self.putAt.emit(self._grid.seen(self._cursor))
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and here:
            self.dropped.emit(here)
        elif key == Qt.Key.Key_F2 and here:
            self.renaming.emit(here)
        else:
            super().keyPressEvent(event)

    def _step(self, by: Place, carried: str) -> None:
        grid = self._grid
        if carried:
            self.movedTo.emit(carried, grid.seen(grid.carried(self._cursor, by)))
            self._stand_on(carried)
        else:
            self._cursor = grid.walked(self._cursor, by)
        self._tell()

    def _stand_on(self, pin: str) -> None:
        if pin in self._grid.pins:
            self._cursor = self._grid.place_of(pin)

    def _tell(self) -> None:
        """The cavity under the cursor is the one in hand."""
        here = self._grid.pin_at(self._cursor)
        if here and here != self._pin:
            self.chosen.emit(here)
        self._describe()
        announce(self, self._spoken())
        self.update()

    # ---- where things lie

    @property
    def _grid(self) -> PlugGrid:
        if self._held is not None:
            return self._held
        size = (float(self.width()), float(self.height()))
        return PlugGrid.around(self._plug, self._wire_side, self._cursor, size, self._look.sizes.px(STEP))

    def _px(self, place: Place) -> QPointF:
        return QPointF(*self._grid.px(place))

    def _cavities(self) -> tuple[Cavity, ...]:
        return self._plug.cavities if self._plug is not None else ()

    def _spoken(self) -> str:
        here = self._grid.pin_at(self._cursor)
        x, y = self._cursor
        return f"cavity {here}" if here else f"no cavity at {x:g}, {y:g}"

    def _describe(self) -> None:
        side = "from the wire side" if self._wire_side else "looking into the mating side"
        self.setAccessibleDescription(f"{side}; {self._spoken()}; Enter puts one, Delete drops it, F2 names it")

    # ---- drawn

    def paintEvent(self, event: QPaintEvent) -> None:
        p = QPainter(self)
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        grid = self._grid
        if self._takes:
            self._dots(p, grid)
        if self._plug is not None and self._plug.cavities:
            self._body(p, self._plug, grid)
        for cavity, place in zip(self._cavities(), grid.places, strict=True):
            self._cavity(p, cavity, self._cursor if self._dragged == cavity.pin else place, grid)
        if self.hasFocus():
            p.setPen(QPen(QColor(self._look.theme.accent), 4))
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.drawRect(QRectF(self.rect()).adjusted(2, 2, -2, -2))
            if not self._dragged:
                self._draw_cursor(p, grid)

    def _dots(self, p: QPainter, grid: PlugGrid) -> None:
        left, bottom, right, top = grid.extent
        p.setPen(Qt.PenStyle.NoPen)
        p.setBrush(QColor(self._look.theme.quiet))
        for i in range(int(right - left) + 1):
            for j in range(int(top - bottom) + 1):
                p.drawEllipse(QPointF(*grid.px((math.ceil(left) + i, math.ceil(bottom) + j))), 1.6, 1.6)

    def _body(self, p: QPainter, plug: Connector, grid: PlugGrid) -> None:
        t, s = self._look.theme, grid.step
        points = [QPointF(*grid.px(x)) for x in grid.places]
        reach = 0.75 * s
        box = QRectF(
            QPointF(min(q.x() for q in points) - reach, min(q.y() for q in points) - reach),
            QPointF(max(q.x() for q in points) + reach, max(q.y() for q in points) + reach),
        )
        p.setPen(QPen(QColor(t.plastic_edge), 2))
        p.setBrush(QColor(t.plastic))
        if plug.outline is Outline.ROUND:
            middle = box.center()
            wide = max(((q.x() - middle.x()) ** 2 + (q.y() - middle.y()) ** 2) ** 0.5 for q in points) + reach
            box = QRectF(middle.x() - wide, middle.y() - wide, 2 * wide, 2 * wide)
            p.drawEllipse(box)
        else:
            p.drawRoundedRect(box, 0.3 * s, 0.3 * s)
        if plug.key is not None:
            side = _MIRROR.get(plug.key, plug.key) if self._wire_side else plug.key
            self._key(p, box, side, plug.key_shape, s)

    def _key(self, p: QPainter, box: QRectF, side: Side, shape: KeyShape, s: float) -> None:
        t = self._look.theme
        across, deep = 0.45 * min(box.width(), box.height()), 0.24 * s
        inward = shape is not KeyShape.TAB
        level = side in (Side.BOTTOM, Side.TOP)
        size = QSize(round(across if level else deep), round(deep if level else across))
        middle = {
            Side.BOTTOM: QPointF(box.center().x(), box.bottom() + (-deep if inward else deep) / 2),
            Side.TOP: QPointF(box.center().x(), box.top() + (deep if inward else -deep) / 2),
            Side.LEFT: QPointF(box.left() + (deep if inward else -deep) / 2, box.center().y()),
            Side.RIGHT: QPointF(box.right() + (-deep if inward else deep) / 2, box.center().y()),
        }[side]
        at = QRectF(middle.x() - size.width() / 2, middle.y() - size.height() / 2, size.width(), size.height())
        p.setPen(QPen(QColor(t.plastic_edge), 2))
        p.setBrush(QColor(t.plastic))
        p.drawRect(at)
        word = font(max(8, min(round(0.6 * deep), self._look.sizes.px(12))), QFont.Weight.DemiBold)
        p.setFont(word)
        p.setPen(QColor(t.quiet))
        p.save()
        p.translate(at.center())
        if not level:
            p.rotate(-90)
        p.drawText(QRectF(-60, -20, 120, 40), Qt.AlignmentFlag.AlignCenter, "KEY")
        p.restore()

    def _cavity(self, p: QPainter, cavity: Cavity, place: Place, grid: PlugGrid) -> None:
        t, at = self._look.theme, QPointF(*grid.px(place))
        r = RADIUS * grid.step
        is_chosen = cavity.pin == self._pin
        p.setPen(QPen(QColor(t.accent if is_chosen else t.ink), 3 if is_chosen else 1.6))
        p.setBrush(QColor(t.accent_tint if is_chosen else t.cavity))
        p.drawEllipse(at, r, r)
        if self._plug is not None and f"{self._plug.name}.{cavity.pin}" in self._lit:
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.setPen(QPen(QColor(t.accent), 2.4, Qt.PenStyle.DotLine, Qt.PenCapStyle.RoundCap))
            p.drawEllipse(at, r + 6, r + 6)
        p.setPen(QPen(QColor(t.quiet), 2))
        p.setBrush(Qt.BrushStyle.NoBrush)
        if cavity.terminal is Terminal.SOCKET:
            p.drawEllipse(at, 0.72 * r, 0.72 * r)
        else:
            p.drawRect(QRectF(at.x() - 0.42 * r, at.y() - 0.7 * r, 0.84 * r, 1.4 * r))
        p.setPen(QColor(t.ink))
        p.setFont(font(max(9, min(round(0.8 * r), self._look.sizes.px(15))), QFont.Weight.DemiBold))
        p.drawText(QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r), Qt.AlignmentFlag.AlignCenter, cavity.pin)

    def _draw_cursor(self, p: QPainter, grid: PlugGrid) -> None:
        r = RADIUS * grid.step + 5
        at = QPointF(*grid.px(self._cursor))
        p.setPen(QPen(QColor(self._look.theme.accent), 3))
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawRoundedRect(QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r), 5, 5)
