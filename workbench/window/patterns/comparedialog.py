"""Two revisions of a pattern side by side."""

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from workbench.comparewords import difference_words
from workbench.drafting.compare import compare
from workbench.records import PatternRevision
from workbench.window.look import Look
from workbench.window.parts import fit_window, form_row, label


class CompareDialog(QDialog):
    """`revisions`: oldest first; the last two are shown at first."""

    def __init__(self, parent: QWidget, look: Look, revisions: Sequence[PatternRevision]) -> None:
        super().__init__(parent)
        self.setWindowTitle("Two revisions")
        self._revisions = revisions
        self.old, self.new = QComboBox(), QComboBox()
        for box in (self.old, self.new):
            box.addItems([f"revision {r.number}, {r.made_at.astimezone():%Y-%m-%d}" for r in revisions])
            box.currentIndexChanged.connect(lambda _: self._show())
        self.table = QTableWidget(0, 3)
        self.table.setAccessibleName("What they differ in")
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().setVisible(False)
        self.table.verticalHeader().setDefaultSectionSize(look.sizes.px(30))
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.setWordWrap(True)
        self.same = label("", "quiet", wrap=True)
        close = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        close.button(QDialogButtonBox.StandardButton.Close).setAccessibleName("Close")
        close.rejected.connect(self.reject)
        form = QFormLayout()
        form_row(form, "&Before", self.old)
        form_row(form, "&After", self.new)
        column = QVBoxLayout(self)
        column.addWidget(label(revisions[-1].pattern.name, "title", wrap=True))
        column.addLayout(form)
        column.addWidget(self.table, 1)
        column.addWidget(self.same)
        column.addWidget(close)
        self.old.setCurrentIndex(max(len(revisions) - 2, 0))
        self.new.setCurrentIndex(len(revisions) - 1)
        self._show()
        least = QSize(look.sizes.px(760), look.sizes.px(480))
        self.setMinimumSize(least.boundedTo(parent.window().size() - QSize(16, 16)))
        fit_window(self, parent)

    def _show(self) -> None:
        old, new = self._revisions[self.old.currentIndex()], self._revisions[self.new.currentIndex()]
        found = compare(old.pattern, new.pattern)
        self.table.setHorizontalHeaderLabels(["", f"revision {old.number}", f"revision {new.number}"])
        self.table.setRowCount(len(found))
        for r, d in enumerate(found):
            for c, text in enumerate(difference_words(d)):
                self.table.setItem(r, c, QTableWidgetItem(text))
        self.table.resizeRowsToContents()
        if found:
            self.table.setCurrentCell(0, 0)
        number = f"{len(found)} difference{'' if len(found) == 1 else 's'}."
        self.same.setText(number if found else "They say the same.")
