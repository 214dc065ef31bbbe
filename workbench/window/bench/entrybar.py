"""The pair in hand, the number typed, and the last result, big enough to read from a metre away."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout

from workbench.sitting.say import Said, Tone
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, label, set_verdict
from workbench.window.theme import redress


class EntryField(QLineEdit):
    """`/` goes on to the next check and `*` means open, so that a number pad is enough."""

    goOn = Signal()
    openLine = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text() == "/":
            self.goOn.emit()
        elif event.text() == "*" and not self.text().strip():
            self.openLine.emit()
        else:
            super().keyPressEvent(event)


class EntryBar(QFrame):
    def __init__(
        self, look: Look, enter: Callable[[str], None], open_line: Callable[[], None], go_on: Callable[[], None]
    ) -> None:
        super().__init__()
        s = look.sizes
        self.setProperty("role", "band")
        self.pair = label("", "value")
        self.pair.setMinimumWidth(s.px(110))
        self.field = EntryField()
        self.field.setProperty("role", "value")
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.field.setMaxLength(64)
        self.field.setMinimumWidth(s.px(130))
        self.field.setMaximumWidth(s.px(190))
        self.field.setAccessibleName("What the meter shows, or two pins")
        self.field.setAccessibleDescription("184.3, 1.2k, OL for an overload; 1 3 picks two pins; Enter keeps it")
        self.field.returnPressed.connect(lambda: enter(self.field.text()))
        self.field.goOn.connect(go_on)
        self.field.openLine.connect(open_line)
        self.unit = label("Ω", "value")
        self.open = button("Open", open_line, tip="The meter shows an overload: * on the number pad")
        self.result, self.word = label("", "big"), label("", "big")
        self.shown = label("", "quiet")
        self.said = SaidLine()
        row = QHBoxLayout()
        row.setSpacing(s.px(10))
        for w in (self.pair, self.field, self.unit, self.open):
            row.addWidget(w)
        row.addStretch(1)
        row.addWidget(self.result)
        row.addWidget(self.word)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 8, 16, 6)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.said)

    def show_entry(self, pair: str, text: str, result: str, word: str, said: Said | None, hint: str) -> None:
        self.pair.setText(pair)
        if self.field.text() != text:
            self.field.setText(text)
        self.field.setPlaceholderText(hint)
        self.result.setText(result)
        self.word.setText(word)
        for w in (self.result, self.word):
            set_verdict(w, word)
        self.said.say(said)
        state = "refused" if said and said.tone is Tone.REFUSES and text else ""
        if self.field.property("state") != state:
            self.field.setProperty("state", state)
            redress(self.field)
