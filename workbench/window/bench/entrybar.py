"""The pair in hand, the number typed, and the last result, big enough to read from a metre away."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QGridLayout, QHBoxLayout, QLineEdit, QWidget

from workbench.sitting.say import Said, Tone
from workbench.window.look import Look
from workbench.window.parts import FitLabel, SaidLine, button, label, set_verdict
from workbench.window.theme import redress

WIDEST = "0.0000 ± 0.0000 Ω"
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
        self.result, self.word = FitLabel("big"), label("", "value")
        for w in (self.result, self.word):
            w.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.said = SaidLine(3)  # nothing moves for a long sentence
        self._answered: Said | None = None  # what was said of the text already: news from the disk must not touch it
        gap = s.px(10)
        self._asked = _line(gap, self.pair, self.hint)
        self._typed = _line(gap, self.field, label("Ω", "value"), self.open)
        self._answer = _line(gap, self.read, self.word)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(12, 6, 12, 6)
        self._grid.setHorizontalSpacing(gap)
        self._grid.setVerticalSpacing(2)
        self.narrow: bool | None = None
        self.set_narrow(False)

    def set_narrow(self, narrow: bool) -> None:
        """All in one column, to stand beside the face where large text leaves too little height below it."""
        if narrow is self.narrow:
            return
        self.narrow = narrow
        ways, left = QBoxLayout.Direction, Qt.AlignmentFlag.AlignLeft
        for line in (self._asked, self._typed, self._answer, self.result, self.said):
            self._grid.removeWidget(line)
        asked = self._asked.layout()
        assert isinstance(asked, QBoxLayout)
        asked.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
        self.hint.setWordWrap(narrow)
        fills = Qt.AlignmentFlag(0)
        right = Qt.AlignmentFlag.AlignRight
        self.result.setAlignment((left if narrow else right) | Qt.AlignmentFlag.AlignVCenter)
        self.said.set_stacked(narrow)
        if narrow:
            for i, line in enumerate((self._asked, self._typed, self.said, self._answer, self.result)):
                self._grid.addWidget(line, i, 0, fills if line in (self._asked, self.said, self.result) else left)
        else:
            self._grid.addWidget(self._asked, 0, 0, left)
            self._grid.addWidget(self._typed, 1, 0, left)
            self._grid.addWidget(self._answer, 0, 1, right)
            self._grid.addWidget(self.result, 1, 1)
            self._grid.addWidget(self.said, 2, 0, 1, 2)
        self._grid.setColumnStretch(1, 0 if narrow else 1)
        self._grid.setColumnStretch(0, 1 if narrow else 0)
        self._grid.setRowStretch(5, 1 if narrow else 0)

    @property
    def two_columns(self) -> int:
        """The width it wants below the face, in px: whichever way it lies now, and whatever was read last."""
        widest = self.result.fontMetrics().horizontalAdvance(WIDEST)
        margins = self._grid.contentsMargins()
        gap = self._grid.horizontalSpacing()
        return self._typed.minimumSizeHint().width() + gap + widest + margins.left() + margins.right()

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


def _line(gap: int, *widgets: QWidget) -> QWidget:
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(gap)
    for w in widgets:
        row.addWidget(w)
    return made
