"""Which shape a plug has: one that the shop's patterns have, or another."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QVBoxLayout, QWidget

from workbench.sitting.whichviews import FaceChoice
from workbench.stator.pattern import Connector
from workbench.whichwords import several
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import allow, button, fit_window, label
from workbench.window.patterns.canvas import PlugCanvas

LEAD = "Look into its mating side, its key turned down: cavities, blades or sockets. Never go by the wires."
EMPTY = "The shop has no pattern yet, and so no face to choose from: draw it."


class FaceDialog(QDialog):
    """`plug`: the chosen one, once accepted. `another()`: a shape that is not among them is wanted."""

    def __init__(self, parent: QWidget, look: Look, choices: Sequence[FaceChoice], another: Callable[[], None]) -> None:
        super().__init__(parent)
        self.setWindowTitle("A plug of this part")
        self.setMinimumWidth(min(look.sizes.px(760), parent.window().width() - 32))
        self._choices = tuple(choices)
        self.rows = RowList(look, "Faces of the shop's patterns")
        self.rows.setMinimumHeight(look.sizes.px(240))
        self.rows.rows.show_rows([_row(i, c) for i, c in enumerate(self._choices)])
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._show())
        self.rows.activated.connect(lambda _: self.accept())
        self.picture = PlugCanvas(look, takes=False)
        self.picture.setAccessibleName("The chosen face, looking into its mating side")
        self.buttons = ok_cancel(self, "Put it on")
        self.other = button(
            "Another shape", lambda: self._another(another), key="Ctrl+N", tip="Draw it: rows, ring, free"
        )
        self.buttons.addButton(self.other, QDialogButtonBox.ButtonRole.ActionRole)
        column = QVBoxLayout(self)
        column.addWidget(label("A plug of this part", "title"))
        column.addWidget(label(LEAD if self._choices else EMPTY, "quiet", wrap=True))
        both = QHBoxLayout()
        both.addWidget(self.rows, 1)
        both.addWidget(self.picture, 1)
        column.addLayout(both, 1)
        column.addWidget(self.buttons)
        if self._choices:
            self.rows.setCurrentIndex(self.rows.rows.index(0))
        self._show()
        self.rows.setFocus()
        fit_window(self, parent)

    @property
    def plug(self) -> Connector | None:
        key = self.rows.key()
        return self._choices[key].plug if isinstance(key, int) else None

    def _show(self) -> None:
        plug = self.plug
        self.picture.show_plug(plug, "", wire_side=False)
        allow(self.buttons.button(QDialogButtonBox.StandardButton.Ok), plug is not None, "Choose a face first")

    def _another(self, another: Callable[[], None]) -> None:
        self.reject()
        another()


def _row(at: int, c: FaceChoice) -> Row:
    on = f"on {several(c.patterns, 'pattern', 'patterns')}"
    return Row(at, c.title, on, "", "", f"{c.title}, {on}")
