"""Which part is on the bench, how warm, on which meter, and what its sheet says so far."""

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from workbench.sitting.views import Heading
from workbench.window.bench.tagshape import TagShape
from workbench.window.look import Look
from workbench.window.parts import ElidedLabel, button, label


class TopBar(QFrame):
    """One row where there is room for it, else two."""

    def __init__(self, look: Look, to_counter: Callable[[], None], edit: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "bar")
        self.tag, self.pattern = ElidedLabel("title"), ElidedLabel("quiet")
        self.unit, self.job = ElidedLabel(), ElidedLabel("quiet")
        self.part, self.part_caption = ElidedLabel(), label("Part", "quiet")
        self.meter, self.leads = ElidedLabel(), ElidedLabel("quiet")
        self.progress = ElidedLabel("quiet")
        self.verdict = TagShape(look)
        self.to_counter = button("Counter", to_counter, key="Ctrl+F", tip="Find or book another part")
        self.edit = button("Part and meter", edit, key="Ctrl+E", tip="Temperature, meter, leads, iron")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(16, 6, 16, 6)
        self._grid.setHorizontalSpacing(look.sizes.px(16))
        self._blocks = [
            _block(self.to_counter),
            _block(self.tag, self.pattern),
            _block(self.unit, self.job),
            _block(self.part_caption, self.part),
            _block(self.leads, self.meter),
            _block(self.edit),
            _block(self.verdict, self.progress),
        ]
        self.two_rows: bool | None = None
        self.set_two_rows(False)

    def set_two_rows(self, two: bool) -> None:
        if two is self.two_rows:
            return
        self.two_rows = two
        counter, tag, unit, part, meter, edit, verdict = self._blocks
        rows: list[list[QWidget | None]] = (
            [[counter, tag, unit, verdict], [None, part, meter, edit]] if two else [[*self._blocks]]
        )
        for column in range(len(self._blocks)):
            self._grid.setColumnStretch(column, 0)
        for r, row in enumerate(rows):
            for c, block in enumerate(row):
                if block is not None:
                    self._grid.addWidget(block, r, c)
        stretches = {tag: 3, unit: 4} if two else {tag: 15, unit: 15, part: 7, meter: 13}
        for named, stretch in stretches.items():
            self._grid.setColumnStretch(rows[0].index(named), stretch)

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
        self.verdict.show_word(h.verdict)


def _block(*lines: QWidget) -> QWidget:
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for line in lines:
        column.addWidget(line)
    return made
