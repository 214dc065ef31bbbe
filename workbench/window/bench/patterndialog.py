"""Another pattern for the part on the bench, chosen by the faces of its plugs; or a newer revision of its own."""

from collections.abc import Sequence

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QVBoxLayout, QWidget

from workbench.records import PatternRevision
from workbench.sitting.otherpattern import NONE_ELSE, PatternChoice
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.bench.rows import Row, RowList
from workbench.window.counter.preview import PatternPreview
from workbench.window.look import Look
from workbench.window.parts import allow, fit_window, label

LEAD = (
    "Choose by the faces of its plugs, never by the wires. A new sheet is begun on it within this job, under the same "
    "meter, leads and temperature. What was read stays on its own sheet: pins of another pattern are other pins."
)


class PatternDialog(QDialog):
    """`revision`: the chosen one, once accepted. `now`: what the part is read by, in words."""

    def __init__(self, parent: QWidget, look: Look, tag: str, now: str, choices: Sequence[PatternChoice]) -> None:
        super().__init__(parent)
        self.setWindowTitle("Another pattern")
        self.setMinimumWidth(min(look.sizes.px(820), parent.window().width() - 32))
        self._choices = tuple(choices)
        self.rows = RowList(look, "The shop's patterns")
        room = parent.window().height() - look.sizes.px(300)
        self.rows.setMinimumHeight(max(look.sizes.px(160), min(look.sizes.px(300), room)))
        self.rows.rows.show_rows([Row(i, c.title, c.detail, c.mark, "", c.spoken) for i, c in enumerate(self._choices)])
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._show())
        self.rows.activated.connect(lambda _: self.accept())
        self.preview = PatternPreview(look)
        self.about = label("", "quiet", wrap=True)
        self.buttons = ok_cancel(self, "Begin a sheet on it")
        column = QVBoxLayout(self)
        column.addWidget(label(f"{tag}: another pattern", "title", wrap=True))
        column.addWidget(label(now, wrap=True))
        column.addWidget(label(LEAD if self._choices else NONE_ELSE, "quiet", wrap=True))
        both = QHBoxLayout()
        both.setSpacing(look.sizes.px(16))
        both.addWidget(self.rows, 1)
        beside = QVBoxLayout()
        beside.addWidget(self.preview, 1)
        beside.addWidget(self.about)
        both.addLayout(beside, 1)
        column.addLayout(both, 1)
        column.addWidget(self.buttons)
        if self._choices:
            self.rows.setCurrentIndex(self.rows.rows.index(0))
        self._show()
        self.rows.setFocus()
        fit_window(self, parent)

    @property
    def revision(self) -> PatternRevision | None:
        choice = self._choice
        return choice.revision if choice is not None else None

    @property
    def _choice(self) -> PatternChoice | None:
        key = self.rows.key()
        return self._choices[key] if isinstance(key, int) else None

    def _show(self) -> None:
        choice = self._choice
        self.preview.show_pattern(self.revision)
        self.about.setText(choice.detail if choice is not None else "")
        allow(self.buttons.button(QDialogButtonBox.StandardButton.Ok), choice is not None, "Choose a pattern first")
