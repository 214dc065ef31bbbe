"""How the bench's panels lie: side by side, or face and entry above and the rest below where text is large."""

from PySide6.QtCore import QPoint, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from workbench.window.bench.entrybar import EntryBar
from workbench.window.look import Look

LEFT, SIDE = 304, 348
STACK_FROM = 1.4
MARGIN = 12
QWIDGETSIZE_MAX = 16777215


class Spread(QScrollArea):
    """Scrolls what doesn't fit. `stacked(bool)`: the panels lie otherwise now."""

    stacked = Signal(bool)

    def __init__(self, look: Look, left: QWidget, face: QWidget, entry: EntryBar, side: QWidget) -> None:
        super().__init__()
        self.setAccessibleName("The bench")
        self._look = look
        self._left, self._face, self._entry, self._side = left, face, entry, side
        self._centre = QFrame()
        self._centre.setProperty("role", "panel")
        self._halves = QBoxLayout(QBoxLayout.Direction.TopToBottom, self._centre)
        self._halves.setContentsMargins(1, 1, 1, 1)
        self._halves.setSpacing(0)
        above = QVBoxLayout()
        above.addWidget(face, 1)
        above.addStretch(0)  # what the face may not have
        self._halves.addLayout(above, 1)
        self._halves.addWidget(entry)
        self._inner = QWidget()
        self._grid = QGridLayout(self._inner)
        self._grid.setContentsMargins(MARGIN, MARGIN, MARGIN, MARGIN)
        self._grid.setSpacing(MARGIN)
        self.is_stacked: bool | None = None
        self._arrange(look.sizes.scale > STACK_FROM)  # a first guess, lest one row of large text widens the window
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidget(self._inner)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        s = self._look.sizes
        room = self.width() - s.px(LEFT) - s.px(SIDE) - 4 * MARGIN
        self._arrange(room < max(self._face.minimumSizeHint().width(), self._entry.two_columns) + 4)
        self._keep_in_sight()

    def see(self, widget: QWidget, at: QPoint, high: int) -> None:
        """Scrolls so that a place in one of its widgets, and `high` px around it, is in sight."""
        place = widget.mapTo(self._inner, at)
        self.ensureVisible(place.x(), place.y(), 0, high)

    def _arrange(self, stacked: bool) -> None:
        if stacked is self.is_stacked:
            return
        self.is_stacked = stacked
        s = self._look.sizes
        left, side = s.px(LEFT), s.px(SIDE)
        for panel, wide in ((self._left, left), (self._side, side)):
            panel.setMinimumWidth(0 if stacked else wide)
            panel.setMaximumWidth(QWIDGETSIZE_MAX if stacked else wide)
        ways = QBoxLayout.Direction
        self._halves.setDirection(ways.LeftToRight if stacked else ways.TopToBottom)
        self._entry.set_narrow(stacked)
        self._grid.addWidget(self._centre, 0, 0 if stacked else 1, 1, 2 if stacked else 1)
        self._grid.addWidget(self._left, 1 if stacked else 0, 0)
        self._grid.addWidget(self._side, 1 if stacked else 0, 1 if stacked else 2)
        for column in range(3):
            self._grid.setColumnStretch(column, (1, 1, 0)[column] if stacked else (0, 1, 0)[column])
        self._keep_in_sight()
        self.stacked.emit(stacked)

    def _keep_in_sight(self) -> None:
        """Beside an entry with much to say the face gets no taller than what can be seen at once."""
        room = self.viewport().height() - 2 * MARGIN - 8
        least = self._face.minimumSizeHint().height()
        self._face.setMaximumHeight(max(room, least) if self.is_stacked else QWIDGETSIZE_MAX)
