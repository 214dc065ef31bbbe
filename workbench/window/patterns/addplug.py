"""A further plug: from which side it is looked into, then its shape."""

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from workbench.drafting.draft import Draft
from workbench.sitting.plugform import SHAPES, PlugForm, Shape
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import Room, allow, fit_window, form_row, label
from workbench.window.patterns.canvas import PlugCanvas

SIDES = ("", "the mating side: into the plug", "the wire side: at the wires")
LEAD = "Which side are you looking into? A drawing made from the wires is turned round when it is stored."


class AddPlugDialog(QDialog):
    """`form`: what was chosen; complete once it can be accepted. It is shown beside as it would be drawn."""

    def __init__(self, parent: QWidget, look: Look, draft: Draft) -> None:
        """`draft`: the one that it is to be added to."""
        super().__init__(parent)
        self._draft = draft
        self.setWindowTitle("A plug")
        self.setMinimumWidth(min(look.sizes.px(760), parent.window().width() - 32))
        self.side = QComboBox()
        self.side.addItems(SIDES)
        self.name = QLineEdit(PlugForm.first(draft).name)
        self.shape = QComboBox()
        self.shape.addItems([words for _, words in SHAPES])
        self.counts = QLineEdit("2+3")
        self.staggered = QCheckBox("Rows stagge&red")
        self.middle = QCheckBox("And one in the &middle")
        self.sockets = QCheckBox("&Sockets; else blades")
        for box in (self.staggered, self.middle, self.sockets):
            box.setAccessibleName(box.text().replace("&", ""))
        self.trouble = label("", wrap=True)
        self.trouble.setProperty("verdict", "out")
        self.buttons = ok_cancel(self, "Draw it")
        held = QWidget()
        asked = QVBoxLayout(held)
        asked.setContentsMargins(0, 0, 0, 0)
        form = QFormLayout()
        form_row(form, "&Looking into", self.side)
        form_row(form, "&Name", self.name)
        form_row(form, "S&hape", self.shape)
        form_row(form, "&Cavities", self.counts, tip="2+3: two above three; 4: four of them")
        column = QVBoxLayout(self)
        column.addWidget(label("A plug", "title"))
        column.addWidget(label(LEAD, "quiet", wrap=True))
        asked.addLayout(form)
        for box in (self.staggered, self.middle, self.sockets):
            asked.addWidget(box)
        self.picture = PlugCanvas(look, takes=False)
        self.picture.setAccessibleName("The plug as it would be drawn")
        asked.addStretch(1)
        both = QHBoxLayout()
        both.addWidget(Room(held), 1)
        both.addWidget(self.picture, 1)
        column.addLayout(both, 1)
        column.addWidget(self.trouble)
        column.addWidget(self.buttons)
        for changed in (
            self.side.currentIndexChanged, self.shape.currentIndexChanged, self.counts.textChanged,
            self.name.textChanged, self.staggered.toggled, self.middle.toggled, self.sockets.toggled,
        ):  # fmt: skip
            changed.connect(lambda *_: self._allow())
        self._allow()
        self.side.setFocus()
        fit_window(self, parent)

    @property
    def form(self) -> PlugForm:
        shape, _ = SHAPES[self.shape.currentIndex()]
        return PlugForm(
            self.name.text(), shape, self.counts.text(), self.staggered.isChecked(), self.middle.isChecked(),
            self.sockets.isChecked(), wire_side=self.side.currentIndex() == 2,
        )  # fmt: skip

    def _allow(self) -> None:
        shape, _ = SHAPES[self.shape.currentIndex()]
        self.staggered.setEnabled(shape is Shape.ROWS)
        self.middle.setEnabled(shape is Shape.RING)
        self.counts.setEnabled(shape is not Shape.FREE)
        trouble = self.form.refused(self._draft)
        self.trouble.setText(trouble)
        if not trouble:
            form = self.form
            self.picture.show_plug(form.drawn(self._draft).plugs[-1], "", wire_side=form.wire_side)
        said = not trouble and self.side.currentIndex() > 0
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        allow(ok, said, trouble or "Say first which side is looked into")
