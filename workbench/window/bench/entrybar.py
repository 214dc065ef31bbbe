"""The pair in hand, the number typed, and the last result, big enough to read from a metre away."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout

from workbench.sitting.say import Said, Tone
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, label, set_verdict
from workbench.window.theme import redress

BENCH_KEYS = (Qt.Key.Key_E, Qt.Key.Key_D)


class EntryField(QLineEdit):
    """`/` goes on to the next check and `*` means open, so that a number pad is enough."""

    goOn = Signal()
    openLine = Signal()
    focused = Signal()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.focused.emit()

    def event(self, event: QEvent) -> bool:
        """Leaves the bench its keys: some systems give Ctrl+E and Ctrl+D to fields, and all of them Ctrl+Z."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.modifiers() == Qt.KeyboardModifier.ControlModifier
            and (event.key() in BENCH_KEYS or (event.key() == Qt.Key.Key_Z and not self.text()))
        ):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text() == "/":
            self.goOn.emit()
        elif event.text() == "*" and not self.text().strip():
            self.openLine.emit()
        else:
            super().keyPressEvent(event)


class EntryBar(QFrame):
    def __init__(
        self,
        look: Look,
        enter: Callable[[str], None],
        open_line: Callable[[], None],
        go_on: Callable[[], None],
        typing: Callable[[str], None],
    ) -> None:
        """`typing(text)` hears of every key, so that what stands half typed is the sitting's too."""
        super().__init__()
        s = look.sizes
        self.setProperty("role", "band")
        self.pair = label("", "value")
        self.hint = label("", "quiet")
        self.field = EntryField()
        self.field.setProperty("role", "value")
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.field.setMaxLength(64)
        self.field.setFixedWidth(s.px(170))
        self.field.setAccessibleName("What the meter shows, or two pins")
        self.field.setAccessibleDescription("184.3, 1.2k, OL for an overload; 1 3 picks two pins; Enter keeps it")
        self.field.returnPressed.connect(lambda: enter(self.field.text()))
        self.field.textEdited.connect(typing)
        self.field.goOn.connect(go_on)
        self.field.openLine.connect(open_line)
        self.open = button("Open", open_line, tip="The meter shows an overload: * on the number pad")
        self.read = label("", "quiet")
        self.result, self.word = label("", "big"), label("", "value")
        for w in (self.result, self.word):
            w.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.said = SaidLine()
        self._answered: Said | None = None  # what was said of the text already: news from the disk must not touch it
        upper, lower = QHBoxLayout(), QHBoxLayout()
        upper.setSpacing(s.px(10))
        upper.addWidget(self.pair)
        upper.addWidget(self.hint)
        upper.addStretch(1)
        upper.addWidget(self.read)
        upper.addWidget(self.word)
        lower.setSpacing(s.px(10))
        lower.addWidget(self.field)
        lower.addWidget(label("Ω", "value"))
        lower.addWidget(self.open)
        lower.addStretch(1)
        lower.addWidget(self.result)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 6, 16, 6)
        column.setSpacing(2)
        column.addLayout(upper)
        column.addLayout(lower)
        column.addWidget(self.said)

    def show_result(self, pair: str, result: str, word: str) -> None:
        """The last reading stays in sight until the next."""
        self.read.setText(pair)
        self.result.setText(result)
        self.word.setText(word)
        for w in (self.result, self.word):
            set_verdict(w, word)

    def show_entry(self, pair: str, text: str, said: Said | None, hint: str) -> None:
        self.pair.setText(pair)
        if self.field.text() != text:
            self.field.setText(text)
        self.hint.setText(hint)
        self.said.say(said)
        if said is not self._answered and said is not None and said.tone is not Tone.TELLS and text:
            self.field.selectAll()  # typing anew replaces what can't be kept; an arrow key goes on with it
        self._answered = said
        state = "refused" if said and said.tone is Tone.REFUSES and text else ""
        if self.field.property("state") != state:
            self.field.setProperty("state", state)
            redress(self.field)
