"""Which part is on the bench, how warm, on which meter, and what its sheet says so far."""

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout

from workbench.sitting.views import Heading
from workbench.window.bench.tagshape import TagShape
from workbench.window.look import Look
from workbench.window.parts import button, label


class TopBar(QFrame):
    def __init__(self, look: Look, to_counter: Callable[[], None], edit: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "bar")
        self.tag, self.pattern = label("", "title"), label("", "quiet")
        self.unit, self.job = label(), label("", "quiet")
        self.part, self.part_caption = label(), label("Part", "quiet")
        self.meter, self.leads = label(), label("", "quiet")
        self.progress = label("", "quiet")
        self.verdict = TagShape(look)
        self.to_counter = button("Counter", to_counter, key="Ctrl+F", tip="Find or book another part")
        self.edit = button("Part and meter", edit, key="Ctrl+E", tip="Temperature, meter, leads, iron")
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 8, 16, 8)
        row.setSpacing(look.sizes.px(20))
        row.addWidget(self.to_counter)
        for upper, lower, stretch in (
            (self.tag, self.pattern, 3),
            (self.unit, self.job, 4),
            (self.part_caption, self.part, 2),
            (self.leads, self.meter, 3),
        ):
            row.addLayout(_stack(upper, lower), stretch)
        row.addWidget(self.edit)
        row.addLayout(_stack(self.verdict, self.progress))

    def show_heading(self, h: Heading) -> None:
        for widget, text in (
            (self.tag, h.tag),
            (self.pattern, h.pattern),
            (self.unit, h.label),
            (self.job, h.job),
            (self.part, h.part),
            (self.meter, h.meter),
            (self.leads, h.leads),
            (self.progress, h.progress),
        ):
            if widget.text() != text:
                widget.setText(text)
                widget.setToolTip(text)
        self.verdict.show_word(h.verdict)


def _stack(upper: QLabel | TagShape, lower: QLabel) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(0)
    column.addWidget(upper)
    column.addWidget(lower)
    return column
