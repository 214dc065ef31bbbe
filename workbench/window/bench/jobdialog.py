"""What the shop writes of the part and of this visit: complaint, seen, agreed to, found, done."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from workbench.sitting.jobwords import JobWords
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import button, fit_window, form_row, label, row_of

FIELDS = (
    ("complaint", "&Complaint", "as the customer said it"),
    ("seen", "&Seen", "what is to be seen of it: splices, burnt varnish, a bent tooth"),
    ("approved", "&Agreed to", "by whom and how: by phone, signed"),
    ("found", "&Found", "what was found, for the card"),
    ("done", "&Done", "what was done to it, for the card"),
)


class JobDialog(QDialog):
    """`words`: as the form stands. The tag is on the part and stays.

    `repairs`: what was mended so far, a line each. `repairing`: closed to write down one more.
    """

    def __init__(self, parent: QWidget, look: Look, title: str, words: JobWords, repairs: Sequence[str] = ()) -> None:
        super().__init__(parent)
        self.setWindowTitle("The job")
        self.setMinimumWidth(look.sizes.px(520))
        self.label = QLineEdit(words.label)
        self.fields: dict[str, QPlainTextEdit] = {}
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.setVerticalSpacing(look.sizes.px(8))
        form_row(form, "&Off what, whose", self.label, tip="machine, owner, owner's tag")
        for name, caption, tip in FIELDS:
            field = QPlainTextEdit(getattr(words, name))
            field.setTabChangesFocus(True)
            field.setFixedHeight(look.sizes.px(56))
            self.fields[name] = field
            form_row(form, caption, field, tip=tip)
        self.repairing = False
        self.mended = label("\n".join(repairs) or "Nothing is written down as mended.", "quiet", wrap=True)
        self.repair = button("Write down a repair", self._repair, key="Ctrl+M", tip="Keeps this form first")
        self.buttons = ok_cancel(self, "Keep")
        column = QVBoxLayout(self)
        column.addWidget(label(title, "title", wrap=True))
        column.addLayout(form)
        column.addWidget(self.mended)
        column.addLayout(row_of(self.repair))
        column.addWidget(self.buttons)
        self.label.textChanged.connect(self._allow)
        self._allow()
        fit_window(self, parent)

    @property
    def words(self) -> JobWords:
        return JobWords(self.label.text(), **{name: field.toPlainText() for name, field in self.fields.items()})

    def _repair(self) -> None:
        if not self.words.trouble:
            self.repairing = True
            self.accept()

    def _allow(self) -> None:
        self.repair.setEnabled(not self.words.trouble)
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not self.words.trouble)
