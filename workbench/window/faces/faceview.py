"""One plug as it is held: its cavities as buttons, the readings as lines between them, ground at hand."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QPainter, QPainterPath, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from workbench.sitting.faceplan import Box, FacePlan
from workbench.stator.pattern import CORE
from workbench.window.faces.body import body_path, scaled
from workbench.window.faces.lines import Lines, Stage, draw_lines
from workbench.window.faces.nodebutton import RING_ROOM, GroundButton, NodeButton, PinButton
from workbench.window.faces.paints import Paints, paints
from workbench.window.faces.state import FaceState
from workbench.window.fonts import font
from workbench.window.theme import LIGHT, Sizes, Theme

MARGIN, GAP = 12, 14
LEAST_RADIUS, MOST_RADIUS = 22.0, 46.0


class FaceView(QWidget):
    """Shows a FaceState; `pinPressed(node)` when a pin or ground ("core") is pressed by mouse, key or reader."""

    pinPressed = Signal(str)

    def __init__(self, parent: QWidget | None = None, theme: Theme = LIGHT, text_scale: float = 1.0) -> None:
        super().__init__(parent)
        self._theme, self._sizes = theme, Sizes(text_scale)
        self._state: FaceState | None = None
        self._pins: dict[str, PinButton] = {}
        self._last_pin = ""
        self._lines = Lines()
        self._drawn: object = None
        self._body = QPainterPath()
        self._tab = QRectF()
        self.title, self.words = QLabel(self), QLabel(self)
        self.words.setWordWrap(True)
        self.ground = GroundButton(self, self._move)
        self.ground.clicked.connect(lambda: self.pinPressed.emit(CORE))
        self._paints: Paints = paints(theme, self._sizes, LEAST_RADIUS)
        self._dress()

    def set_theme(self, theme: Theme, text_scale: float = 1.0) -> None:
        self._theme, self._sizes = theme, Sizes(text_scale)
        self._dress()
        self._lay_out()

    def set_state(self, state: FaceState) -> None:
        """Buttons are kept while the plug stays the same, so that the focus does too."""
        before, self._state = self._state, state
        plan = state.plan
        if before is None or before.plan.connector != plan.connector:
            self._make_pins(plan)
        if before is None or before.plan != plan:
            for spot in plan.spots:
                self._pins[spot.node].spot = spot
            self.title.setText(f"Plug {plan.connector.name}")
            self.words.setText(plan.words)
            self.setAccessibleName(f"Face of plug {plan.connector.name}")
            self.setAccessibleDescription(plan.words)
            self.updateGeometry()
        for button in self.buttons:
            button.setEnabled(state.active)
            button.say(button.node in state.picked, self._spoken(button.node))
        self._lay_out()

    @property
    def state(self) -> FaceState | None:
        return self._state

    @property
    def buttons(self) -> tuple[NodeButton, ...]:
        """The pins in the order of the plug, then ground."""
        return (*self._pins.values(), self.ground)

    def button(self, node: str) -> NodeButton:
        """Raises KeyError where this face has no such node."""
        return self.ground if node == CORE else self._pins[node]

    @property
    def values(self) -> tuple[tuple[str, QRectF], ...]:
        """The values that found room, with their boxes in px."""
        return tuple((label.text, label.box) for label in self._lines.labels)

    def minimumSizeHint(self) -> QSize:
        """Leaves every cavity at least 44 px wide."""
        if self._state is None:
            return QSize(200, 200)
        plan, ground = self._state.plan, self.ground.sizeHint()
        least = LEAST_RADIUS * max(1.0, min(1.5, self._sizes.scale))
        wide, high = plan.width * least, plan.height * least
        beside = QSize(round(wide) + ground.width() + GAP, max(round(high), ground.height()))
        return beside + QSize(2 * MARGIN, 2 * MARGIN + self._header_height(beside.width()))

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint().expandedTo(QSize(560, 360))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def paintEvent(self, event: QPaintEvent) -> None:
        p = self._paints
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(p.edge)
        painter.setBrush(p.plastic)
        painter.drawPath(self._body)
        if not self._tab.isEmpty():
            painter.setPen(p.quiet)
            painter.setFont(p.caption)
            self._write_key(painter)
        self._lines.paint(painter)

    def _write_key(self, painter: QPainter) -> None:
        tab = self._tab
        painter.save()
        painter.translate(tab.center())
        if tab.height() > tab.width():
            painter.rotate(-90)
        painter.drawText(QRectF(-60, -30, 120, 60), Qt.AlignmentFlag.AlignCenter, "KEY")
        painter.restore()

    def _make_pins(self, plan: FacePlan) -> None:
        for old in self._pins.values():
            old.hide()
            old.setParent(None)
            old.deleteLater()
        self._pins = {s.node: PinButton(s, plan.connector.name, self, self._move) for s in plan.spots}
        self._last_pin = plan.spots[0].node
        # without this, pins made late would come after all that the page holds below its face
        before: QWidget = self.ground
        for node, pin in self._pins.items():
            pin.clicked.connect(lambda _=False, n=node: self.pinPressed.emit(n))
            pin.show()
            QWidget.setTabOrder(before, pin)
            before = pin
        QWidget.setTabOrder(before, self.ground)

    def _spoken(self, node: str) -> list[str]:
        assert self._state is not None
        out = []
        for m in self._state.marks:
            if node in (m.one, m.other):
                other = m.other if m.one == node else m.one
                out.append(f"{m.spoken} to {'ground' if other == CORE else 'pin ' + other.replace('.', ' ')}")
        return out

    def _move(self, node: str, way: str) -> None:
        if node == CORE:
            if way in ("left", "up"):
                self._pins[self._last_pin].setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._last_pin = node
        to = getattr(self._pins[node].spot, way)
        if to is not None:
            self._pins[to].setFocus(Qt.FocusReason.OtherFocusReason)
        elif way in ("right", "down"):
            # ground lies below or to the right of every face
            self.ground.setFocus(Qt.FocusReason.OtherFocusReason)

    def _dress(self) -> None:
        t, s = self._theme, self._sizes
        self.title.setFont(font(s.title, QFont.Weight.DemiBold))
        self.words.setFont(font(s.quiet))
        self.title.setStyleSheet(f"color: {t.ink}; font-size: {s.title}px; font-weight: 600;")
        self.words.setStyleSheet(f"color: {t.quiet}; font-size: {s.quiet}px;")
        self._paints = paints(t, s, self._paints.radius)
        self.ground.set_paints(self._paints)

    def _header_height(self, width: int) -> int:
        title = self.title.sizeHint()
        beside = max(80, width - title.width() - GAP)
        return max(title.height(), self.words.heightForWidth(beside)) + 8

    def _lay_out(self) -> None:
        if self._state is None:
            return
        header = self._lay_out_header()
        plan, ground = self._state.plan, self.ground.sizeHint()
        room = QRectF(self.rect()).adjusted(MARGIN, MARGIN + header, -MARGIN, -MARGIN)
        most = MOST_RADIUS * max(1.0, min(1.5, self._sizes.scale))
        fits = [
            min((room.width() - w) / plan.width, (room.height() - h) / plan.height, most)
            for w, h in ((ground.width() + GAP, 0), (0, ground.height() + GAP))
        ]
        beside = fits[0] >= fits[1]
        scale = max(4.0, max(fits))
        face = QRectF(0, 0, plan.width * scale, plan.height * scale)
        if beside:
            left = room.left() + (room.width() - face.width() - GAP - ground.width()) / 2
            face.moveTo(left, room.top() + (room.height() - face.height()) / 2)
            at = QPointF(face.right() + GAP, max(face.top(), face.bottom() - ground.height()))
        else:
            face.moveTo(
                room.left() + (room.width() - face.width()) / 2,
                room.top() + (room.height() - face.height() - GAP - ground.height()) / 2,
            )
            at = QPointF(max(face.center().x(), face.right() - ground.width()), face.bottom() + GAP)
        self.ground.setGeometry(round(at.x()), round(at.y()), ground.width(), ground.height())
        self._place(plan, face.topLeft(), scale, Box(room.left(), room.top(), room.width(), room.height()))

    def _lay_out_header(self) -> int:
        title = self.title.sizeHint()
        width = self.width() - 2 * MARGIN
        height = self._header_height(width)
        self.title.setGeometry(MARGIN, MARGIN, title.width(), title.height())
        left = MARGIN + title.width() + GAP
        words = max(0, width - title.width() - GAP)
        self.words.setGeometry(left, MARGIN, words, height - 8)
        return height

    def _place(self, plan: FacePlan, origin: QPointF, scale: float, room: Box) -> None:
        assert self._state is not None
        self._paints = p = paints(self._theme, self._sizes, scale)
        self._body = body_path(plan, origin, scale)
        self._tab = scaled(plan.tab, origin, scale) if plan.tab else QRectF()
        nodes: dict[str, tuple[float, float]] = {}
        reach = round(scale + RING_ROOM)
        for spot in plan.spots:
            nodes[spot.node] = (spot.x, spot.y)
            x, y = round(origin.x() + spot.x * scale), round(origin.y() + spot.y * scale)
            self._pins[spot.node].setGeometry(x - reach, y - reach, 2 * reach, 2 * reach)
            self._pins[spot.node].set_paints(p)
        self.ground.set_paints(p)
        ring, g = self.ground.ring_centre(), self.ground.geometry()
        nodes[CORE] = (round((ring.x() - origin.x()) / scale, 2), round((ring.y() - origin.y()) / scale, 2))
        taken = (Box(g.x(), g.y(), g.width(), g.height()), *self._key_box())
        stage = Stage(nodes, scale, (origin.x(), origin.y()), plan.body, room, taken, self._body)
        # a pick alone leaves the lines as they are
        drawn = (plan, self._state.marks, self.size(), self._theme, self._sizes)
        if drawn != self._drawn:
            self._lines = draw_lines(self._state.marks, stage, p)
            self._drawn = drawn
        self.update()

    def _key_box(self) -> tuple[Box, ...]:
        if self._tab.isEmpty():
            return ()
        t = self._tab
        return (Box(t.x(), t.y(), t.width(), t.height()),)
