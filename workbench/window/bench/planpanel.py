"""What is read and to be read: all pairs as triangles, the plan as a list, the coils, the readings; one at a time."""

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QButtonGroup, QPushButton, QStackedWidget, QWidget

from workbench.window.look import Look
from workbench.window.parts import Panel

PAIRS, CHECKS, COILS, READINGS = "Pairs", "Checks", "Coils", "Readings"


class PlanPanel(Panel):
    def __init__(self, look: Look, pairs: QWidget, checks: QWidget, coils: QWidget, readings: QWidget) -> None:
        super().__init__("")
        self.setAccessibleName("What is to be read")
        self.title.hide()
        self.stack = QStackedWidget()
        self.aside.hide()  # four switches fill the line; the top bar says how far the sheet is
        for page in (pairs, checks, coils, readings):
            self.stack.addWidget(page)
        self._group = QButtonGroup(self)
        self.pairs, self.checks, self.coils, self.readings = (
            self._switch(i, t) for i, t in enumerate((PAIRS, CHECKS, COILS, READINGS))
        )
        self.pairs.setChecked(True)
        self._group.idClicked.connect(self.stack.setCurrentIndex)
        self.head.setSpacing(6)
        self.body.addWidget(self.stack, 1)

    def _switch(self, at: int, text: str) -> QPushButton:
        made = QPushButton(text)
        made.setCheckable(True)
        made.setProperty("role", "switch")
        made.setAutoDefault(False)
        made.setAccessibleName(text)
        made.setShortcut(QKeySequence(f"Ctrl+{at + 1}"))
        made.setToolTip(f"({made.shortcut().toString(QKeySequence.SequenceFormat.NativeText)})")
        self._group.addButton(made, at)
        self.head.insertWidget(at, made)
        return made
