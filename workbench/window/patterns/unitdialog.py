"""Which unit known good the ohms are to come from."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import allow, fit_window, form_row, label

LEAD = (
    "Its latest sheet is corrected to the temperature of this pattern. The band of one unit is ten per cent, until "
    "more of them are known good."
)


class UnitDialog(QDialog):
    def __init__(self, parent: QWidget, look: Look) -> None:
        super().__init__(parent)
        self.setWindowTitle("Ohms from a unit")
        self.setMinimumWidth(look.sizes.px(420))
        self.tag = QLineEdit()
        self.buttons = ok_cancel(self, "Take its ohms")
        form = QFormLayout()
        form_row(form, "&Tag", self.tag, tip="of a unit known good, read on these pins")
        column = QVBoxLayout(self)
        column.addWidget(label("Ohms from a unit known good", "title", wrap=True))
        column.addWidget(label(LEAD, "quiet", wrap=True))
        column.addLayout(form)
        column.addWidget(self.buttons)
        self.tag.textChanged.connect(lambda _: self._allow())
        self._allow()
        fit_window(self, parent)

    def _allow(self) -> None:
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        allow(ok, bool(self.tag.text().strip()), "Type the tag of a known-good part first")
