"""Something was mended: what, where, how. Written down for good."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from workbench.records import RepairKind
from workbench.sitting.mended import REPAIR_WORDS
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import allow, fit_window, form_row, label

LEAD = "A repair is never edited. What was read before it says nothing of the part any more: it is to be read anew."


class RepairDialog(QDialog):
    def __init__(self, parent: QWidget, look: Look, tag: str) -> None:
        super().__init__(parent)
        self.setWindowTitle("A repair")
        self.setMinimumWidth(look.sizes.px(460))
        self.choice = QComboBox()
        self.choice.addItems([REPAIR_WORDS[k] for k in RepairKind])
        self.where = QLineEdit()
        self.note = QPlainTextEdit()
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(look.sizes.px(72))
        self.buttons = ok_cancel(self, "Write it down")
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form_row(form, "&What", self.choice)
        form_row(form, "Wh&ere", self.where, tip="pin, plug, tooth")
        form_row(form, "&How", self.note, tip="soldered, crimped and pulled, sleeved")
        column = QVBoxLayout(self)
        column.addWidget(label(f"{tag}: a repair", "title", wrap=True))
        column.addWidget(label(LEAD, "quiet", wrap=True))
        column.addLayout(form)
        column.addWidget(self.buttons)
        self.where.textChanged.connect(self._allow)
        self.note.textChanged.connect(self._allow)
        self._allow()
        fit_window(self, parent)

    @property
    def kind(self) -> RepairKind:
        return list(RepairKind)[self.choice.currentIndex()]

    def _allow(self) -> None:
        said = bool(self.where.text().strip() or self.note.toPlainText().strip())
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        allow(ok, said, "Say where it was mended, or what was done, first")
