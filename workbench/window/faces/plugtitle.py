"""A plug's name over its face, where several stand side by side."""

import math
from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPaintEvent
from PySide6.QtWidgets import QWidget

from workbench.window.faces.nodebutton import NodeButton
from workbench.window.faces.paints import Paints
from workbench.window.fonts import font
from workbench.window.theme import Sizes


class PlugTitle(NodeButton):
    """Checked while its plug is the one in sight: its name is then underlined. `node` is the plug's name."""

    def __init__(self, plug: str, parent: QWidget, move: Callable[[str, str], None]) -> None:
        super().__init__(plug, parent, move)
        self._title, self._quiet, self._held = QFont(), QFont(), ""
        self.setText(f"Plug {plug}")
        self.setAccessibleName(f"Plug {plug}")

    def dress(self, paints: Paints, sizes: Sizes) -> None:
        self._title, self._quiet = font(sizes.title, QFont.Weight.DemiBold), font(sizes.quiet)
        self.set_paints(paints)

    def tell(self, in_sight: bool, held: str) -> None:
        """`held`: how this plug alone is held, where others are held otherwise."""
        self._held = held
        self.set_picked(in_sight)
        self.setAccessibleDescription(", ".join(x for x in ("in sight" if in_sight else "", held) if x))
        self.setToolTip(held if in_sight else "Pins typed without a plug's name are then this one's")
        self.update()

    @staticmethod
    def height_at(sizes: Sizes) -> int:
        """What it takes over its plug, with a little air below."""
        return round(QFontMetricsF(font(sizes.title, QFont.Weight.DemiBold)).height() + 14)

    def sizeHint(self) -> QSize:
        title, quiet = QFontMetricsF(self._title), QFontMetricsF(self._quiet)
        beside = quiet.horizontalAdvance(self._held) + 8 if self._held else 0
        return QSize(math.ceil(title.horizontalAdvance(self.text()) + beside) + 14, round(title.height() + 10))

    def paintEvent(self, event: QPaintEvent) -> None:
        p = self._paints
        if p is None:
            return
        painter = self._painter()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(p.tint if self._hovered() else p.panel)
        painter.drawRoundedRect(QRectF(self.rect()), 4, 4)
        m, inner = QFontMetricsF(self._title), QRectF(self.rect()).adjusted(6, 2, -6, -6)
        text = m.elidedText(self.text(), Qt.TextElideMode.ElideRight, inner.width())
        wide = m.horizontalAdvance(text)
        painter.setFont(self._title)
        painter.setPen(p.accent_colour if self.isChecked() else p.ink)
        painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
        if self.isChecked():
            painter.fillRect(QRectF(inner.left(), inner.bottom() + 1, wide, 3), p.accent_colour)
        rest = inner.adjusted(wide + 8, 0, 0, 0)
        if self._held and rest.width() > 20:
            painter.setFont(self._quiet)
            painter.setPen(p.quiet)
            said = QFontMetricsF(self._quiet).elidedText(self._held, Qt.TextElideMode.ElideRight, rest.width())
            painter.drawText(rest, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, said)
        if self.hasFocus():
            painter.setPen(p.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 4, 4)
