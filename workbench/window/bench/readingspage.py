"""What was read on this sheet, newest first, the struck ones among it; and what can be done about one of them."""

from collections.abc import Callable
from uuid import UUID

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.sitting import views
from workbench.sitting.lines import Keeping
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import PAST, allow, button, rename, row_of

STRIKE, KEEP_AGAIN = "Strike out", "Try again"
KEEPING_WORDS = {Keeping.HOLLOW: "being kept", Keeping.SAFE: "", Keeping.LOST: "NOT KEPT"}


class ReadingsPage(QWidget):
    """`strikes(ReadingView)` asks to strike one out, `retries(UUID)` to keep one again, `repeats(UUID or None)` to
    read its pair again."""

    strikes = Signal(object)
    retries = Signal(UUID)
    repeats = Signal(object)

    def __init__(self, look: Look, undo: Callable[[], None], note: Callable[[], None] | None = None) -> None:
        """Without `note` nothing is asked to be remembered."""
        super().__init__()
        self._shown: tuple[views.ReadingView, ...] = ()
        self._past = False
        self.rows = RowList(look, "Readings taken")
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._allow())
        self.strike = button(STRIKE, self.strike_out, tip="Strike the chosen reading out, with a reason (Ctrl+D)")
        self.undo = button("Undo", undo, tip="Strike the newest reading out (Ctrl+Z)")
        self.repeat = button("Read again", self.read_again, tip="The chosen reading, or the newest (F5)")
        self.note = button("Note", note or (lambda: None), tip="What is to be remembered of this sitting (F2)")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.rows, 1)
        column.addLayout(row_of(self.repeat, self.note))
        column.addLayout(row_of(self.strike, self.undo))
        self.note.setVisible(note is not None)

    def show_readings(self, shown: tuple[views.ReadingView, ...], *, past: bool) -> None:
        """`past`: only to look at."""
        self._shown, self._past = shown, past
        self.rows.rows.show_rows([_row(r) for r in shown])
        allow(self.note, not past, PAST)
        self._allow()

    def strike_out(self) -> None:
        """The chosen reading; one that could not be kept is tried again instead."""
        line = self._chosen()
        if line is None:
            return
        if line.keeping is Keeping.LOST:
            self.retries.emit(line.id)
        elif line.can_strike:
            self.strikes.emit(line)

    def read_again(self) -> None:
        line = self._chosen()
        self.repeats.emit(line.id if line is not None else None)

    def _allow(self) -> None:
        line = self._chosen()
        lost = line is not None and line.keeping is Keeping.LOST
        rename(self.strike, KEEP_AGAIN if lost else STRIKE)
        first = "Choose a reading in the list first" if line is None else "This one counts no more already"
        allow(self.strike, line is not None and (lost or line.can_strike), PAST if self._past else first)
        for w in (self.undo, self.repeat):
            may = any(r.can_strike for r in self._shown) and not self._past
            allow(w, may, PAST if self._past else "No reading counts yet")

    def _chosen(self) -> views.ReadingView | None:
        key = self.rows.key()
        return next((r for r in self._shown if r.id == key), None)


def _row(r: views.ReadingView) -> Row:
    if r.struck:
        detail = f"struck out: {r.struck}"
    else:
        detail = ", ".join(x for x in (f"shown {r.typed}", KEEPING_WORDS[r.keeping]) if x)
    spoken = f"{r.title}: {detail}, {r.value} {r.word}".strip(" ,")
    shown = r.value or r.typed
    return Row(
        r.id, r.title, detail, shown, r.word, spoken, struck=bool(r.struck), hollow=r.keeping is not Keeping.SAFE
    )
