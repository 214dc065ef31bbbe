"""The history of a check: what this part read on every sheet, in a panel beside the bench.

The plot's library is heavy, so it is imported with the first history there is to draw, never with this file.
"""

from typing import TYPE_CHECKING
from uuid import UUID

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QSizePolicy

from workbench.sitting.history import HistoryView
from workbench.window.look import Look
from workbench.window.parts import ElidedLabel, Panel, label, set_verdict, tab_within

if TYPE_CHECKING:
    from workbench.window.history.plot import HistoryPlot

SMALLEST = QSize(230, 158)


class HistoryPanel(Panel):
    """Shows a HistoryView. `sheetChosen`: the id of a sheet that was clicked, or chosen with arrows and Enter."""

    sheetChosen = Signal(UUID)

    def __init__(self, look: Look) -> None:
        super().__init__("History")
        self._look = look
        self._view: HistoryView | None = None
        self.plot: HistoryPlot | None = None
        self.about = ElidedLabel("quiet")  # the pair and its temperature give way before the panel widens
        self.head.removeWidget(self.aside)
        self.aside.setParent(None)
        self.aside = self.about
        self.head.insertWidget(1, self.about, 1)
        self.head.setStretch(2, 0)
        self.body.setSpacing(4)
        self.empty = label("", wrap=True)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.note = label("", "quiet", wrap=True)
        self.note.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.note.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.body.addWidget(self.empty, 1)
        self.body.addWidget(self.note)
        self.setMinimumWidth(look.sizes.px(SMALLEST.width()))
        self._fit()
        self._give_way()

    def show_history(self, view: HistoryView) -> None:
        if view == self._view:
            return
        self._view = view
        self.about.setText(view.title)
        self.setAccessibleDescription(view.spoken)
        self.empty.setText(view.sentence if view.empty else "")
        self.empty.setVisible(view.empty)
        self.note.setVisible(not view.empty)
        if not view.empty:
            self._plot().show_history(view)
        if self.plot is not None:
            self.plot.setVisible(not view.empty)
        self._give_way()
        self._tell("")

    def _give_way(self) -> None:
        """Without a past it needs only its sentence; with one, every check keeps the room of a plot."""
        small = self.plot is None
        self.setMinimumHeight(0 if small else self._look.sizes.px(SMALLEST.height()))
        tall = QSizePolicy.Policy.Maximum if small else QSizePolicy.Policy.Preferred
        self.setSizePolicy(QSizePolicy.Policy.Preferred, tall)

    def _plot(self) -> "HistoryPlot":
        if self.plot is None:
            from workbench.window.history.plot import HistoryPlot

            self.plot = HistoryPlot(self._look, self)
            self.plot.pointed.connect(self._tell)
            self.plot.chosen.connect(self.sheetChosen)
            self.body.insertWidget(self.body.indexOf(self.note), self.plot, 1)
            tab_within(self, self.plot)
        return self.plot

    def _tell(self, pointed: str) -> None:
        """The point that is pointed at; else what became of the check."""
        view = self._view
        self.note.setText(pointed or (view.sentence if view else ""))
        set_verdict(self.note, "doubtful" if view is not None and view.drifted and not pointed else "")

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._fit()

    def _fit(self) -> None:
        """Two lines always, so that the plot stays where it is when another point is pointed at."""
        for w in (self.note, self.empty):
            w.ensurePolished()
            high = 2 * w.fontMetrics().lineSpacing() + 2  # each in its own size
            if w.minimumHeight() != high:
                w.setFixedHeight(high)
