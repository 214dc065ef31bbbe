"""A pane of the pattern page: it scrolls by itself beside the drawing, and not at all where it stands above it."""

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


class PaneRoom(QScrollArea):
    def __init__(self, pane: QWidget) -> None:
        super().__init__()
        self._pane, self._whole = pane, False
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(pane)
        self.viewport().setAutoFillBackground(False)
        pane.setAutoFillBackground(False)

    def set_whole(self, whole: bool) -> None:
        """Whether all of the pane is to be seen: what it stands in scrolls then."""
        if whole != self._whole:
            self._whole = whole
            self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        least = super().minimumSizeHint()
        if not self._whole:
            return least
        # what a scroll area asks of a pane whose lines wrap: its height at this width, not its least one
        wrapped = self._pane.heightForWidth(self.viewport().width())
        edges = self.height() - self.viewport().height()
        return least.expandedTo(QSize(0, max(self._pane.minimumSizeHint().height(), wrapped) + edges))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._whole and event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """What the pane asks for is asked of what holds this."""
        if self._whole and event.type() is QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)
