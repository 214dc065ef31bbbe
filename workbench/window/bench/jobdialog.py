"""What the shop writes of the part and of this visit: complaint, seen, agreed to, found, done."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from workbench.sitting.jobwords import JobWords
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import Room, allow, button, fit_window, form_row, label, row_of

FIELDS = (
    ("complaint", "&Complaint", "as the customer said it"),
    ("seen", "&Seen", "what is to be seen of it: splices, burnt varnish, a bent tooth"),
    ("approved", "&Agreed to", "by whom and how: by phone, signed"),
    ("found", "&Found", "what was found, for the card"),
    ("done", "&Done", "what was done to it, for the card"),
)


class JobDialog(QDialog):
    """`words`: as the form stands. The tag is on the part and stays.

    `repairs`: what was mended so far, a line each. `read_on`: what it is read by; `stuck`: why that can't be changed.
    `repairing`: closed to write down one more repair; `moving`: closed to choose another pattern.
    """

    def __init__(
        self, parent: QWidget, look: Look, title: str, words: JobWords, repairs: Sequence[str] = (),
        read_on: str = "", stuck: str = "",
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self.setWindowTitle("The job")
        self.setMinimumWidth(look.sizes.px(520))
        self.label = QLineEdit(words.label)
        self.fields: dict[str, QPlainTextEdit] = {}
        held = QWidget()
        form = QFormLayout(held)
        form.setContentsMargins(0, 0, 0, 0)
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
        self.repairing = self.moving = False
        self._stuck = stuck
        self.mended = label("\n".join(repairs) or "Nothing is written down as mended.", "quiet", wrap=True)
        self.repair = button("Write down a repair", self._repair, key="Ctrl+M", tip="Keeps this form first")
        self.read_on = label(read_on, "quiet", wrap=True)
        self.other = button("Other pattern", self._move, key="Ctrl+T", tip="Keeps this form first")
        self.buttons = ok_cancel(self, "Keep")
        column = QVBoxLayout(self)
        column.addWidget(label(title, "title", wrap=True))
        column.addWidget(Room(held), 1)
        column.addWidget(self.mended)
        column.addWidget(self.read_on)
        column.addLayout(row_of(self.repair, self.other))
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

    def _move(self) -> None:
        if not (self.words.trouble or self._stuck):
            self.moving = True
            self.accept()

    def _allow(self) -> None:
        trouble = self.words.trouble
        for b in (self.repair, self.buttons.button(QDialogButtonBox.StandardButton.Ok)):
            allow(b, not trouble, trouble)
        allow(self.other, not (trouble or self._stuck), self._stuck or trouble)
