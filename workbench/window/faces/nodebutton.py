"""One place a probe can touch, as a button: a pin of the plug, or the iron."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QEnterEvent, QFont, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from workbench.sitting.faceplan import Spot
from workbench.stator.pattern import CORE, Terminal
from workbench.window.faces.paints import Paints

ARROWS = {Qt.Key.Key_Left: "left", Qt.Key.Key_Right: "right", Qt.Key.Key_Up: "up", Qt.Key.Key_Down: "down"}
RING_ROOM = 6  # px around a cavity for the ring of the focus


class NodeButton(QAbstractButton):
    """Checked while picked. A press only reports itself: whether it picks is the page's to say."""

    def __init__(self, node: str, parent: QWidget, move: Callable[[str, str], None]) -> None:
        """`move(node, "left" | "right" | "up" | "down")` is called for an arrow key."""
        super().__init__(parent)
        self.node = node
        self._move = move
        self._paints: Paints | None = None
        self._picked = False
        self.setCheckable(True)
        self.toggled.connect(self._toggled)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def set_paints(self, paints: Paints) -> None:
        self._paints = paints
        self.update()

    def say(self, picked: bool, marks: list[str]) -> None:
        """The state in words: picked or not, and the readings that touch this node."""
        self.set_picked(picked)
        said = "; ".join([*(["picked"] if picked else []), *marks])
        if said != self.accessibleDescription():
            self.setAccessibleDescription(said)

    def set_picked(self, picked: bool) -> None:
        self._picked = picked
        self.setChecked(picked)

    def _toggled(self, checked: bool) -> None:
        """A screen reader's "toggle" checks it without a click: take that as one."""
        if checked != self._picked:
            self.setChecked(self._picked)
            self.click()

    def nextCheckState(self) -> None:
        """A press does not check it; the next state of the face does."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in ARROWS:
            self._move(self.node, ARROWS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def _painter(self) -> QPainter:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        return painter

    def _fade(self, painter: QPainter, ground: QBrush, shape: QRectF, corner: float) -> None:
        """All that is drawn next is pale where the face takes no picks, and lines still don't show through."""
        if not self.isEnabled():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ground)
            painter.drawRoundedRect(shape, corner, corner)
            painter.setOpacity(0.5)

    def _hovered(self) -> bool:
        return self.underMouse() and self.isEnabled()


class PinButton(NodeButton):
    """A cavity with its terminal: a blade is an upright bar, a socket a ring. Its name stands on or in it."""

    def __init__(self, spot: Spot, plug: str, parent: QWidget, move: Callable[[str, str], None]) -> None:
        super().__init__(spot.node, parent, move)
        self.spot = spot
        self._font, self._shown = QFont(), spot.pin
        self.setAccessibleName(f"pin {spot.pin}, {spot.terminal.value}, plug {plug}")

    def paintEvent(self, event: QPaintEvent) -> None:
        p = self._paints
        if p is None:
            return
        painter = self._painter()
        centre, r = QPointF(self.width() / 2, self.height() / 2), p.radius
        picked = self.isChecked()
        self._fade(painter, p.plastic, QRectF(centre.x() - r, centre.y() - r, 2 * r, 2 * r), r)
        painter.setPen(p.accent if picked else p.hover if self._hovered() else p.edge)
        painter.setBrush(p.tint if picked or self._hovered() else p.cavity)
        inset = 2.0 if picked else 1.0
        painter.drawEllipse(centre, r - inset, r - inset)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(p.accent_colour if picked else p.metal)
        if self.spot.terminal is Terminal.BLADE:
            painter.drawRoundedRect(QRectF(centre.x() - 0.4 * r, centre.y() - 0.68 * r, 0.8 * r, 1.36 * r), 3, 3)
            painter.setPen(p.on_metal)
        else:
            painter.drawEllipse(centre, 0.74 * r, 0.74 * r)
            painter.setBrush(p.tint if picked else p.cavity)
            painter.drawEllipse(centre, 0.56 * r, 0.56 * r)
            painter.setPen(p.ink)
        painter.setFont(self._font)
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self._shown)
        if self.hasFocus():
            painter.setPen(p.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(centre, r + 4, r + 4)

    def set_paints(self, paints: Paints) -> None:
        """A name too long for its cavity is set smaller, then cut; it is spoken in full."""
        room = (0.72 if self.spot.terminal is Terminal.BLADE else 0.96) * paints.radius
        self._font = paints.pin
        wide = QFontMetricsF(self._font).horizontalAdvance(self.spot.pin)
        if wide > room:
            self._font = QFont(paints.pin)
            self._font.setPixelSize(max(9, int(paints.pin.pixelSize() * room / wide)))
        self._shown = QFontMetricsF(self._font).elidedText(self.spot.pin, Qt.TextElideMode.ElideRight, room + 2)
        super().set_paints(paints)


class GroundButton(NodeButton):
    """The iron, drawn as a ring of plate with its word below."""

    def __init__(self, parent: QWidget, move: Callable[[str, str], None]) -> None:
        super().__init__(CORE, parent, move)
        self.setAccessibleName("ground, the iron")
        self.setText("ground")

    def sizeHint(self) -> QSize:
        if self._paints is None:
            return QSize(72, 72)
        m = QFontMetricsF(self._paints.button)
        return QSize(max(72, round(m.horizontalAdvance("ground") + 18)), round(m.height() + 58))

    def ring_centre(self) -> QPointF:
        """Where lines to the core end, in the parent's px."""
        return QPointF(self.x() + self.width() / 2, self.y() + 29)

    def paintEvent(self, event: QPaintEvent) -> None:
        p = self._paints
        if p is None:
            return
        painter = self._painter()
        picked = self.isChecked()
        self._fade(painter, p.panel, QRectF(self.rect()).adjusted(2, 2, -2, -2), 7)
        painter.setPen(p.accent if picked else p.hover if self._hovered() else p.edge)
        painter.setBrush(p.tint if picked or self._hovered() else p.panel)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(2, 2, -2, -2), 7, 7)
        if self.hasFocus():
            painter.setPen(p.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(6.5, 6.5, -6.5, -6.5), 4, 4)
        centre = QPointF(self.width() / 2, 29)
        painter.setPen(p.edge)
        painter.setBrush(p.iron)
        painter.drawEllipse(centre, 17, 17)
        painter.setBrush(p.tint if picked else p.panel)
        painter.drawEllipse(centre, 7, 7)
        painter.setPen(p.accent_colour if picked else p.ink)
        painter.setFont(p.button)
        painter.drawText(QRectF(0, 46, self.width(), self.height() - 53), Qt.AlignmentFlag.AlignCenter, self.text())
