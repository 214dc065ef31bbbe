"""What is to be read: every pair as triangles, or the plan as a list; one is in sight at a time."""

from PySide6.QtWidgets import QButtonGroup, QPushButton, QStackedWidget, QWidget

from workbench.window.look import Look
from workbench.window.parts import Panel

PAIRS, CHECKS = "All pairs", "Checks"


class PlanPanel(Panel):
    def __init__(self, look: Look, pairs: QWidget, checks: QWidget) -> None:
        super().__init__("")
        self.setAccessibleName("What is to be read")
        self.title.hide()
        self.stack = QStackedWidget()
        self.stack.addWidget(pairs)
        self.stack.addWidget(checks)
        self._group = QButtonGroup(self)
        self.pairs, self.checks = (self._switch(i, text) for i, text in enumerate((PAIRS, CHECKS)))
        self.pairs.setChecked(True)
        self._group.idClicked.connect(self.stack.setCurrentIndex)
        self.body.addWidget(self.stack, 1)

    def _switch(self, at: int, text: str) -> QPushButton:
        made = QPushButton(text)
        made.setCheckable(True)
        made.setAutoDefault(False)
        made.setAccessibleName(text)
        self._group.addButton(made, at)
        self.head.insertWidget(at, made)
        return made
