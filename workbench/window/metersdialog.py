"""The shop's meters, kept by name: their ranges as the specification prints them."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from workbench.records import NamedMeter
from workbench.sitting.conditions import FormError
from workbench.sitting.meterform import COLUMNS, RangeText, named_meter, rows_of
from workbench.sitting.say import Said, Tone
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, fit_window, form_row, label

ROWS = 8
NEW = "a new meter"


class RangeTable(QTableWidget):
    """Tab goes from field to field, and on from the last one (back from the first) to what stands beside the table."""

    def focusNextPrevChild(self, on: bool) -> bool:
        return QAbstractScrollArea.focusNextPrevChild(self, on) if self._at_end(on) else super().focusNextPrevChild(on)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        hints = QAbstractItemDelegate.EndEditHint
        on = hint is hints.EditNextItem
        leaves = hint in (hints.EditNextItem, hints.EditPreviousItem) and self._at_end(on)
        super().closeEditor(editor, hints.NoHint if leaves else hint)
        if leaves:
            QAbstractScrollArea.focusNextPrevChild(self, on)

    def _at_end(self, on: bool) -> bool:
        at = self.currentIndex()
        return (at.row(), at.column()) == ((self.rowCount() - 1, self.columnCount() - 1) if on else (0, 0))


class MetersDialog(QDialog):
    """`keep(meter, then, failed)` writes it. Sheets keep the meter as it was when they were read."""

    def __init__(
        self,
        parent: QWidget,
        look: Look,
        meters: Sequence[NamedMeter],
        keep: Callable[[NamedMeter, Callable[[NamedMeter], None], Callable[[Exception], None]], object],
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Meters")
        self._meters = list(meters)
        self._keep = keep
        self.choice = QComboBox()
        self.name = QLineEdit()
        self.table = RangeTable(ROWS, len(COLUMNS))
        self.table.setHorizontalHeaderLabels(COLUMNS)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.verticalHeader().setDefaultSectionSize(look.sizes.px(34))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.AllEditTriggers)
        self.table.setTabKeyNavigation(True)
        self.table.setAccessibleName("Ranges, lowest first")
        self.table.setMinimumHeight(look.sizes.px(34) * 3)
        self.said = SaidLine()
        form = QFormLayout()
        form_row(form, "&Meter", self.choice)
        form_row(form, "&Name", self.name, tip="what the shop calls it by")
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        self.close_button = button("Close", self.reject)
        self.keep_button = button("Keep the meter", self.keep_meter, key="Ctrl+S", strong=True)
        buttons.addWidget(self.close_button)
        buttons.addWidget(self.keep_button)
        column = QVBoxLayout(self)
        column.addWidget(label("Meters", "title"))
        column.addLayout(form)
        column.addWidget(label("Ohm ranges from the meter's own sheet, as in ±(0.8 % + 3 digits).", "quiet", wrap=True))
        column.addWidget(self.table, 1)
        column.addWidget(self.said)
        column.addLayout(buttons)
        least = QSize(look.sizes.px(560), look.sizes.px(480))
        self.setMinimumSize(least.boundedTo(parent.window().size() - QSize(16, 16)))
        fit_window(self, parent)
        self.choice.currentIndexChanged.connect(lambda _: self._show())
        self._fill(0)

    def _fill(self, chosen: int) -> None:
        self.choice.blockSignals(True)
        self.choice.clear()
        self.choice.addItems([m.name for m in self._meters] + [NEW])
        self.choice.setCurrentIndex(chosen)
        self.choice.blockSignals(False)
        self._show()

    def _chosen(self) -> NamedMeter | None:
        at = self.choice.currentIndex()
        return self._meters[at] if 0 <= at < len(self._meters) else None

    def _show(self) -> None:
        meter = self._chosen()
        self.name.setText(meter.name if meter else "")
        rows = rows_of(meter.meter) if meter else ()
        self.table.setRowCount(max(ROWS, len(rows) + 2))
        for r in range(self.table.rowCount()):
            row = rows[r] if r < len(rows) else RangeText()
            for c, text in enumerate((row.upto, row.resolution, row.percent, row.digits)):
                item = QTableWidgetItem(text)
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(r, c, item)
        self.said.say(None)

    def _typed(self) -> tuple[RangeText, ...]:
        def text(r: int, c: int) -> str:
            item = self.table.item(r, c)
            return item.text() if item else ""

        return tuple(RangeText(*(text(r, c) for c in range(len(COLUMNS)))) for r in range(self.table.rowCount()))

    def keep_meter(self) -> None:
        self.keep_button.setFocus()  # takes what is still being typed in a cell
        try:
            meter = named_meter(self.name.text(), self._typed(), self._chosen())
        except FormError as e:
            self.said.say(Said(Tone.REFUSES, e.sentence))
            return
        self._keep(meter, self._kept, lambda e: self.said.say(Said(Tone.REFUSES, str(e))))

    def _kept(self, meter: NamedMeter) -> None:
        ids = [m.id for m in self._meters]
        at = ids.index(meter.id) if meter.id in ids else len(ids)
        self._meters[at : at + 1] = [meter]
        self._fill(at)
        self.said.say(Said(Tone.TELLS, f"{meter.name} is kept. New sheets can be read on it."))
