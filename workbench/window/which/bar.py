"""The head of the page: whence one came, how warm the part is, on which meter; which part, where several are begun."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from workbench.records import KeptDraft, SheetHead
from workbench.sitting.whichviews import bar_words
from workbench.window.look import Look
from workbench.window.parts import ElidedLabel, button, label

TITLE = "Which one is this?"


class WhichBar(QFrame):
    """`chosen(KeptDraft)`: another of the parts that were begun is wanted."""

    chosen = Signal(object)

    def __init__(self, look: Look, to_counter: Callable[[], None], edit: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "bar")
        self.back = button("Counter", to_counter, key="Ctrl+F", tip="What was read stays here")
        self.edit = button("Part and meter", edit, key="Ctrl+E", tip="Temperature, meter, leads, iron")
        self.part, self.meter = ElidedLabel("quiet"), ElidedLabel()
        self.begun = QComboBox()
        self.begun.setAccessibleName("Parts that were begun")
        self.begun.setToolTip("Parts without papers that were begun")
        self.begun.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.begun.setMinimumWidth(look.sizes.px(150))
        self.begun.activated.connect(lambda i: self.chosen.emit(self._drafts[i]))
        self._drafts: tuple[KeptDraft, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(16, 6, 16, 6)
        self._grid.setHorizontalSpacing(look.sizes.px(16))
        self._title = label(TITLE, "title")
        told = QWidget()
        column = QVBoxLayout(told)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.part)
        column.addWidget(self.meter)
        self._told = told
        self.two_rows: bool | None = None
        self.set_two_rows(False)

    def set_two_rows(self, two: bool) -> None:
        if two is self.two_rows:
            return
        self.two_rows = two
        for at, widget in enumerate((self.back, self._title, self.begun)):
            self._grid.addWidget(widget, 0, at)
        self._grid.addWidget(self._told, *((1, 0, 1, 2) if two else (0, 3)))
        self._grid.addWidget(self.edit, 1 if two else 0, 2 if two else 4, Qt.AlignmentFlag.AlignRight)
        for column, stretch in enumerate((0, 0, 1, 0, 0) if two else (0, 0, 3, 4, 0)):
            self._grid.setColumnStretch(column, stretch)

    def show_head(self, head: SheetHead) -> None:
        part, meter = bar_words(head)
        for widget, text in ((self.part, part), (self.meter, meter)):
            if widget.text() != text:
                widget.setText(text)

    def show_begun(self, drafts: Sequence[KeptDraft], here: KeptDraft | None) -> None:
        """Only where there is a choice."""
        self._drafts = tuple(drafts)
        self.begun.clear()
        for d in self._drafts:
            self.begun.addItem(f"{d.title}, begun {d.made_at.astimezone():%d %b %H:%M}")
        self.begun.setCurrentIndex(next((i for i, d in enumerate(self._drafts) if here and d.id == here.id), -1))
        self.begun.setPlaceholderText("Another part")
        policy = self.begun.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # the rest stays where it is
        self.begun.setSizePolicy(policy)
        self.begun.setVisible(len(self._drafts) > (1 if here is not None else 0))
