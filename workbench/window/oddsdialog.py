"""What this shop finds: the odds before the first reading, and whether they follow it."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from workbench.findings.odds import Counts
from workbench.sitting.oddsview import COLUMNS, odds_view, whose
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import fit_window, form_row, label

LEAD = "How likely each is before anything is read: as stated, and with what was found here."


class OddsDialog(QDialog):
    """`learns` says whether the odds are to follow, once accepted."""

    def __init__(self, parent: QWidget, look: Look, counts: Counts, *, learns: bool) -> None:
        super().__init__(parent)
        self.setWindowTitle("What this shop finds")
        self._counts = counts
        self._whose = whose(counts)
        self.choice = QComboBox()
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.addItems([w.title for w in self._whose])
        self.table = _table(look)
        self.sentence = label("", "quiet", wrap=True)
        self.learns = QCheckBox("&Let the odds follow what this shop finds")
        self.learns.setAccessibleName("Let the odds follow what this shop finds")
        self.learns.setChecked(learns)
        form = QFormLayout()
        form_row(form, "&Decided jobs of", self.choice)
        column = QVBoxLayout(self)
        column.addWidget(label("What this shop finds", "title"))
        column.addWidget(label(LEAD, "quiet", wrap=True))
        column.addLayout(form)
        column.addWidget(self.table, 1)
        column.addWidget(self.sentence)
        column.addWidget(self.learns)
        column.addWidget(ok_cancel(self, "Keep"))
        self.choice.currentIndexChanged.connect(lambda _: self._show())
        self.learns.toggled.connect(lambda _: self._show())
        self._show()
        least = QSize(look.sizes.px(620), look.sizes.px(620))
        self.setMinimumSize(least.boundedTo(parent.window().size() - QSize(16, 16)))
        fit_window(self, parent)

    def _show(self) -> None:
        family = self._whose[self.choice.currentIndex()].family
        view = odds_view(self._counts, family, learns=self.learns.isChecked())
        self.table.setRowCount(len(view.rows))
        for r, row in enumerate(view.rows):
            for c, text in enumerate(row.cells):
                item = QTableWidgetItem(text)
                side = Qt.AlignmentFlag.AlignLeft if c == 0 else Qt.AlignmentFlag.AlignRight
                item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(r, c, item)
        self.table.setCurrentCell(0, 0)
        self.sentence.setText(view.sentence)
        self.table.setAccessibleDescription(view.sentence)


def _table(look: Look) -> QTableWidget:
    made = QTableWidget(0, len(COLUMNS))
    made.setHorizontalHeaderLabels(COLUMNS)
    header = made.horizontalHeader()
    header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    header.setHighlightSections(False)
    header.setMinimumSectionSize(look.sizes.px(80))
    made.verticalHeader().setVisible(False)
    made.verticalHeader().setDefaultSectionSize(look.sizes.px(30))
    made.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    made.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
    made.setTabKeyNavigation(False)
    made.setAccessibleName("Odds before the first reading")
    made.setMinimumHeight(look.sizes.px(30) * 4)
    return made
