"""The shop's patterns: found, opened, begun; their revisions and the bands they could earn."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import KeptDraft, PatternRevision
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, SaidLine, button, label, row_of


class LibraryPage(QWidget):
    """`opens(revision)`, `goesOn(draft)`, `compares(revision)`, `earns(revision)`: what is wanted of the one chosen."""

    opens = Signal(object)
    goesOn = Signal(object)
    compares = Signal(object)
    earns = Signal(object)

    def __init__(self, look: Look, back: Callable[[], None], begin: Callable[[], None]) -> None:
        super().__init__()
        self.revisions: tuple[PatternRevision, ...] = ()
        self._drafts: tuple[KeptDraft, ...] = ()
        self.back = button("Counter", back, key="Ctrl+F", tip="Back to the counter")
        self.search = QLineEdit()
        self.search.setAccessibleName("Words of a pattern's name")
        self.search.setPlaceholderText("Words of its name, or of a winding's")
        self.search.textChanged.connect(lambda _: self._show())
        self.search.returnPressed.connect(self._open)
        self.rows = RowList(look, "Patterns")
        self.rows.activated.connect(lambda _: self._open())
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._allow())
        self.new = button("New pattern", begin, key="Ctrl+N")
        self.open = button("Open", self._open, key="Ctrl+O", strong=True, tip="To look at it, or to draw on")
        self.compare = button("Revisions", self._compare, key="Ctrl+R", tip="Two of them side by side")
        self.bands = button("Bands", self._earn, key="Ctrl+B", tip="What the shop's own units would make of them")
        self.said = SaidLine(1)
        bar = QFrame()
        bar.setProperty("role", "bar")
        top = QHBoxLayout(bar)
        top.setContentsMargins(16, 10, 16, 10)
        top.addWidget(self.back)
        top.addWidget(label("Patterns", "title"))
        top.addStretch(1)
        top.addWidget(self.new)
        panel = Panel("The shop's patterns")
        self.count = panel.aside
        panel.body.addWidget(self.search)
        panel.body.addWidget(self.rows, 1)
        panel.body.addLayout(row_of(self.bands, self.compare, self.open))
        panel.body.addWidget(self.said)
        inner = QVBoxLayout()
        inner.setContentsMargins(12, 12, 12, 12)
        inner.addWidget(panel, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(bar)
        page.addLayout(inner, 1)
        self._allow()

    def show_patterns(self, revisions: Sequence[PatternRevision], drafts: Sequence[KeptDraft]) -> None:
        self.revisions, self._drafts = tuple(revisions), tuple(drafts)
        self._show()

    @property
    def chosen(self) -> PatternRevision | KeptDraft | None:
        key = self.rows.key()
        every: tuple[PatternRevision | KeptDraft, ...] = (*self._drafts, *self.revisions)
        return next((x for x in every if x.id == key), None)

    def take_focus(self) -> None:
        self.search.setFocus()
        self.search.selectAll()

    def _show(self) -> None:
        words = self.search.text().casefold().split()
        rows = [
            Row(d.id, d.title, f"not saved yet, left on {d.changed_at.astimezone():%Y-%m-%d %H:%M}", "goes on", "",
                f"{d.title}: not saved yet, goes on")
            for d in self._drafts
        ]  # fmt: skip
        for r in self.revisions:
            p = r.pattern
            found = " ".join((p.name, *(w.name for w in p.windings))).casefold()
            if all(w in found for w in words):
                counts = ((p.connectors, "plug"), (p.pins, "pin"), (p.windings, "winding"))
                detail = ", ".join(_many(len(things), what) for things, what in counts)
                rows.append(
                    Row(r.id, p.name, detail, f"revision {r.number}", "", f"{p.name}: {detail}, revision {r.number}")
                )
        self.rows.rows.show_rows(rows)
        if self.chosen is None and rows:
            self.rows.select_key(rows[0].key)
        self.count.setText(f"{len(self.revisions)} of them")
        self._allow()

    def _open(self) -> None:
        chosen = self.chosen
        if isinstance(chosen, KeptDraft):
            self.goesOn.emit(chosen)
        elif chosen is not None:
            self.opens.emit(chosen)

    def _compare(self) -> None:
        if isinstance(self.chosen, PatternRevision):
            self.compares.emit(self.chosen)

    def _earn(self) -> None:
        if isinstance(self.chosen, PatternRevision):
            self.earns.emit(self.chosen)

    def _allow(self) -> None:
        chosen = self.chosen
        self.open.setEnabled(chosen is not None)
        for b in (self.compare, self.bands):
            b.setEnabled(isinstance(chosen, PatternRevision))


def _many(n: int, what: str) -> str:
    return f"{n} {what}{'' if n == 1 else 's'}"
