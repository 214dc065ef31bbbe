"""The plugs of a part as small drawn faces, one of which is shown large."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.sitting.faceplan import FacePlan, face_plan
from workbench.stator.pattern import CORE, Connector
from workbench.window.faces.body import body_path, rib_path
from workbench.window.faces.nodebutton import GroundButton, NodeButton
from workbench.window.faces.paints import paints
from workbench.window.theme import LIGHT, Sizes, Theme

WIDTH, FACE_HEIGHT = 92, 58


class PlugThumb(NodeButton):
    """One plug in small; its `node` is the plug's name."""

    def __init__(self, connector: Connector, parent: QWidget, move: Callable[[str, str], None]) -> None:
        super().__init__(connector.name, parent, move)
        self._plan: FacePlan = face_plan(connector)
        count = len(connector.cavities)
        self.setText(f"Plug {connector.name}")
        self.setAccessibleName(f"Plug {connector.name}, {count} pin{'s' if count > 1 else ''}")

    def sizeHint(self) -> QSize:
        if self._paints is None:
            return QSize(WIDTH, FACE_HEIGHT + 28)
        m = QFontMetricsF(self._paints.button)
        return QSize(max(WIDTH, round(m.horizontalAdvance("Plug B") + 20)), round(FACE_HEIGHT + m.height() + 12))

    def paintEvent(self, event: QPaintEvent) -> None:
        p, plan = self._paints, self._plan
        if p is None:
            return
        painter = self._painter()
        chosen = self.isChecked()
        painter.setPen(p.hover if chosen or self._hovered() else p.thin)
        painter.setBrush(p.tint if chosen or self._hovered() else p.panel)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 6, 6)
        if self.hasFocus():
            painter.setPen(p.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(4.5, 4.5, -4.5, -4.5), 4, 4)
        scale = min((self.width() - 24) / plan.width, (FACE_HEIGHT - 12) / plan.height, 8.0)
        at = QPointF((self.width() - plan.width * scale) / 2, 10 + (FACE_HEIGHT - 12 - plan.height * scale) / 2)
        painter.setPen(p.thin)
        painter.setBrush(p.plastic)
        painter.drawPath(body_path(plan, at, scale))
        painter.setBrush(p.iron)
        painter.drawPath(rib_path(plan, at, scale))
        painter.setBrush(p.cavity)
        for s in plan.spots:
            painter.drawEllipse(QPointF(at.x() + s.x * scale, at.y() + s.y * scale), scale, scale)
        painter.setPen(p.accent_colour if chosen else p.ink)
        painter.setFont(p.button)
        room = QRectF(6, FACE_HEIGHT, self.width() - 12, self.height() - FACE_HEIGHT - 4)
        text = QFontMetricsF(p.button).elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)


class PlugStrip(QWidget):
    """`plugChosen(name)` when a plug is pressed. Hides itself for a part with one plug, or none."""

    plugChosen = Signal(str)
    groundPressed = Signal()

    def __init__(
        self, parent: QWidget | None = None, theme: Theme = LIGHT, text_scale: float = 1.0, *, ground: bool = False
    ) -> None:
        """`ground`: with the iron below the plugs, where no face with its own ground stands beside the strip."""
        super().__init__(parent)
        self._thumbs: dict[str, PlugThumb] = {}
        self.setAccessibleName("Plugs of this part")
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(8)
        self.ground = GroundButton(self, self._move) if ground else None
        if self.ground is not None:
            self.ground.clicked.connect(self.groundPressed.emit)
            self._layout.addWidget(self.ground)
        self._layout.addStretch(1)
        self.set_theme(theme, text_scale)
        self.setVisible(False)

    @property
    def thumbs(self) -> tuple[PlugThumb, ...]:
        return tuple(self._thumbs.values())

    def set_theme(self, theme: Theme, text_scale: float = 1.0) -> None:
        self._paints = paints(theme, Sizes(text_scale), 20)
        for b in (*self.thumbs, *([self.ground] if self.ground else [])):
            b.set_paints(self._paints)
            b.setFixedSize(b.sizeHint().expandedTo(QSize(WIDTH, 0)))

    def set_plugs(self, connectors: tuple[Connector, ...], chosen: str) -> None:
        """Shows these plugs with one of them chosen; `chosen` may be none of them."""
        for old in self.thumbs:
            self._layout.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._thumbs = {}
        for i, c in enumerate(connectors):
            thumb = PlugThumb(c, self, self._move)
            thumb.set_paints(self._paints)
            thumb.setFixedSize(thumb.sizeHint())
            thumb.clicked.connect(lambda _=False, name=c.name: self.plugChosen.emit(name))
            self._layout.insertWidget(i, thumb)
            self._thumbs[c.name] = thumb
        self.set_chosen(chosen)
        self.setVisible(len(connectors) > 1)

    def set_chosen(self, name: str) -> None:
        for thumb in self.thumbs:
            thumb.set_picked(thumb.node == name)
            thumb.setAccessibleDescription("shown" if thumb.node == name else "")

    def set_picked_ground(self, picked: bool) -> None:
        if self.ground is not None:
            self.ground.say(picked, [])

    def _move(self, name: str, way: str) -> None:
        order = [*self._thumbs, *([CORE] if self.ground else [])]
        at = order.index(name) + {"up": -1, "down": 1}.get(way, 0)
        if 0 <= at < len(order):
            to = self.ground if order[at] == CORE and self.ground else self._thumbs[order[at]]
            to.setFocus(Qt.FocusReason.OtherFocusReason)
