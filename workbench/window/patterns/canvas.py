"""One plug on its grid: cavities put, moved and named by mouse or keys, looking into either side."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from workbench.drafting.plugs import Place
from workbench.stator.pattern import Cavity, Connector, KeyShape, Outline, Side, Terminal
from workbench.window.fonts import font
from workbench.window.look import Look

# steps of the grid around the plug that can be put upon, and how far a plug may be drawn
AROUND, MOST_STEPS = 2, 24
STEP, LEAST_STEP = 92, 34
RADIUS = 0.36  # of a step
HALF = 0.5
_MIRROR = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


class PlugCanvas(QWidget):
    """Places are told as the mating side sees them, whichever side is looked into.

    `putAt(place)`: a cavity is wanted there; `movedTo(pin, place)`; `dropped(pin)`; `renaming(pin)`; `chosen(pin)`.
    The cursor is moved by arrows, half a step at a time with Alt.
    """

    putAt = Signal(object)
    movedTo = Signal(str, object)
    dropped = Signal(str)
    renaming = Signal(str)
    chosen = Signal(str)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._plug: Connector | None = None
        self._pin = ""
        self._wire_side = False
        self._cursor: Place = (0.0, 0.0)
        self._dragged: tuple[str, Place] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName("The plug's face")
        self._describe()

    # ---- told

    def show_plug(self, plug: Connector | None, pin: str, *, wire_side: bool) -> None:
        other = plug is None or self._plug is None or plug.name != self._plug.name
        self._plug, self._pin, self._wire_side = plug, pin, wire_side
        if other:
            self._cursor = self._places()[0] if plug is not None and plug.cavities else (0.0, 0.0)
        self._describe()
        self.update()

    # ---- asked

    @property
    def cursor_place(self) -> Place:
        """As the mating side sees it."""
        return self._stored(self._cursor)

    def at(self, place: Place) -> QPointF:
        """Where a place, as the mating side sees it, lies in px."""
        return self._px(self._seen(place))

    def sizeHint(self) -> QSize:
        return QSize(560, 380)

    def minimumSizeHint(self) -> QSize:
        return QSize(300, 240)

    # ---- by hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        place = self._place(event.position())
        pin = self._under(event.position())
        self._cursor = place
        if pin:
            self._dragged = (pin, place)
            self.chosen.emit(pin)
        else:
            self.putAt.emit(self._stored(place))
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged is not None and event.buttons() & Qt.MouseButton.LeftButton:
            self._cursor = self._place(event.position())
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        dragged, self._dragged = self._dragged, None
        if dragged is not None and self._cursor != dragged[1]:
            self.movedTo.emit(dragged[0], self._stored(self._cursor))
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, shift = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        step = HALF if event.modifiers() & Qt.KeyboardModifier.AltModifier else 1.0
        moves = {
            Qt.Key.Key_Left: (-step, 0.0), Qt.Key.Key_Right: (step, 0.0),
            Qt.Key.Key_Up: (0.0, step), Qt.Key.Key_Down: (0.0, -step),
        }  # fmt: skip
        here = self._pin_at(self._cursor)
        if key in moves:
            self._step(moves[Qt.Key(key)], here if shift else "")
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Insert, Qt.Key.Key_Space):
            if here:
                self.chosen.emit(here)
            else:
                self.putAt.emit(self._stored(self._cursor))
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and here:
            self.dropped.emit(here)
        elif key == Qt.Key.Key_F2 and here:
            self.renaming.emit(here)
        else:
            super().keyPressEvent(event)

    def _step(self, by: Place, carried: str) -> None:
        x = min(max(self._cursor[0] + by[0], -float(MOST_STEPS)), float(MOST_STEPS))
        y = min(max(self._cursor[1] + by[1], -float(MOST_STEPS)), float(MOST_STEPS))
        self._cursor = (x, y)
        if carried:
            self.movedTo.emit(carried, self._stored(self._cursor))
        elif here := self._pin_at(self._cursor):
            self.chosen.emit(here)
        self._describe()
        self.update()

    # ---- where things lie

    def _seen(self, place: Place) -> Place:
        """A stored place as this side sees it, and back."""
        return (self._middle() - place[0], place[1]) if self._wire_side else place

    _stored = _seen

    def _middle(self) -> float:
        xs = [x for x, _ in self._plug.places] if self._plug is not None and self._plug.cavities else [0.0]
        return min(xs) + max(xs)

    def _places(self) -> list[Place]:
        return [self._seen(p) for p in self._plug.places] if self._plug is not None else []

    def _extent(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of the grid, in steps."""
        places = [*self._places(), self._cursor]
        xs, ys = [x for x, _ in places], [y for _, y in places]
        return min(xs) - AROUND, min(ys) - AROUND, max(xs) + AROUND, max(ys) + AROUND

    def _step_px(self) -> float:
        left, bottom, right, top = self._extent()
        room = min(self.width() / (right - left), self.height() / (top - bottom))
        return float(min(self._look.sizes.px(STEP), max(room, LEAST_STEP)))

    def _px(self, place: Place) -> QPointF:
        left, bottom, right, top = self._extent()
        s = self._step_px()
        middle_x, middle_y = (left + right) / 2, (bottom + top) / 2
        return QPointF(self.width() / 2 + (place[0] - middle_x) * s, self.height() / 2 - (place[1] - middle_y) * s)

    def _place(self, at: QPointF) -> Place:
        """The nearest half step."""
        left, bottom, right, top = self._extent()
        s = self._step_px()
        x = (at.x() - self.width() / 2) / s + (left + right) / 2
        y = -(at.y() - self.height() / 2) / s + (bottom + top) / 2
        whole = (float(round(x)), float(round(y)))
        near = abs(x - whole[0]) < 0.3 and abs(y - whole[1]) < 0.3
        return whole if near else (round(2 * x) / 2, round(2 * y) / 2)

    def _under(self, at: QPointF) -> str:
        reach = RADIUS * self._step_px() * 1.15
        for cavity, place in zip(self._cavities(), self._places(), strict=True):
            away = self._px(place) - at
            if away.x() ** 2 + away.y() ** 2 <= reach**2:
                return cavity.pin
        return ""

    def _pin_at(self, place: Place) -> str:
        for cavity, (x, y) in zip(self._cavities(), self._places(), strict=True):
            if abs(x - place[0]) < 0.3 and abs(y - place[1]) < 0.3:
                return cavity.pin
        return ""

    def _cavities(self) -> tuple[Cavity, ...]:
        return self._plug.cavities if self._plug is not None else ()

    def _describe(self) -> None:
        side = "from the wire side" if self._wire_side else "looking into the mating side"
        here = self._pin_at(self._cursor)
        x, y = self._cursor
        self.setAccessibleDescription(
            f"{side}; cursor at {x:g}, {y:g}: " + (f"cavity {here}" if here else "no cavity; Enter puts one")
        )

    # ---- drawn

    def paintEvent(self, event: QPaintEvent) -> None:
        p = QPainter(self)
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._grid(p)
        if self._plug is not None and self._plug.cavities:
            self._body(p, self._plug)
        for cavity, place in zip(self._cavities(), self._places(), strict=True):
            moving = self._dragged is not None and self._dragged[0] == cavity.pin
            self._cavity(p, cavity, self._cursor if moving else place)
        if self.hasFocus():
            p.setPen(QPen(QColor(self._look.theme.accent), 4))
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.drawRect(QRectF(self.rect()).adjusted(2, 2, -2, -2))
            if self._dragged is None:
                self._draw_cursor(p)

    def _grid(self, p: QPainter) -> None:
        left, bottom, right, top = self._extent()
        p.setPen(Qt.PenStyle.NoPen)
        p.setBrush(QColor(self._look.theme.quiet))
        for i in range(int(right - left) + 1):
            for j in range(int(top - bottom) + 1):
                p.drawEllipse(self._px((round(left) + i, round(bottom) + j)), 1.6, 1.6)

    def _body(self, p: QPainter, plug: Connector) -> None:
        t, s = self._look.theme, self._step_px()
        points = [self._px(x) for x in self._places()]
        reach = 0.75 * s
        box = QRectF(
            QPointF(min(q.x() for q in points) - reach, min(q.y() for q in points) - reach),
            QPointF(max(q.x() for q in points) + reach, max(q.y() for q in points) + reach),
        )
        p.setPen(QPen(QColor(t.ink), 2))
        p.setBrush(Qt.BrushStyle.NoBrush)
        if plug.outline is Outline.ROUND:
            middle = box.center()
            wide = max(((q.x() - middle.x()) ** 2 + (q.y() - middle.y()) ** 2) ** 0.5 for q in points) + reach
            box = QRectF(middle.x() - wide, middle.y() - wide, 2 * wide, 2 * wide)
            p.drawEllipse(box)
        else:
            p.drawRoundedRect(box, 0.3 * s, 0.3 * s)
        if plug.key is not None:
            side = _MIRROR.get(plug.key, plug.key) if self._wire_side else plug.key
            self._key(p, box, side, plug.key_shape)

    def _key(self, p: QPainter, box: QRectF, side: Side, shape: KeyShape) -> None:
        t, s = self._look.theme, self._step_px()
        across, deep = 0.45 * min(box.width(), box.height()), 0.22 * s
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
        p.setPen(QPen(QColor(t.ink), 2))
        p.setBrush(QColor(t.panel_edge))
        p.drawRect(at)

    def _cavity(self, p: QPainter, cavity: Cavity, place: Place) -> None:
        t, at = self._look.theme, self._px(place)
        r = RADIUS * self._step_px()
        is_chosen = cavity.pin == self._pin
        p.setPen(QPen(QColor(t.accent if is_chosen else t.ink), 3 if is_chosen else 1.6))
        p.setBrush(QColor(t.accent_tint if is_chosen else t.panel))
        p.drawEllipse(at, r, r)
        p.setPen(QPen(QColor(t.quiet), 2))
        p.setBrush(Qt.BrushStyle.NoBrush)
        if cavity.terminal is Terminal.SOCKET:
            p.drawEllipse(at, 0.72 * r, 0.72 * r)
        else:
            p.drawRect(QRectF(at.x() - 0.42 * r, at.y() - 0.7 * r, 0.84 * r, 1.4 * r))
        p.setPen(QColor(t.ink))
        p.setFont(font(max(9, min(round(0.8 * r), self._look.sizes.px(15))), QFont.Weight.DemiBold))
        p.drawText(QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r), Qt.AlignmentFlag.AlignCenter, cavity.pin)

    def _draw_cursor(self, p: QPainter) -> None:
        r = RADIUS * self._step_px() + 5
        at = self._px(self._cursor)
        p.setPen(QPen(QColor(self._look.theme.accent), 3))
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawRoundedRect(QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r), 5, 5)
