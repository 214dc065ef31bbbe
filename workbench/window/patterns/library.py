"""The shop's patterns: found, opened, begun; their revisions and the bands they could earn."""

from collections.abc import Callable, Sequence
from uuid import UUID

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import KeptDraft, PatternRevision
from workbench.sitting.draftkeep import left_in
from workbench.sitting.say import Choice, Said, Tone
from workbench.stator.errors import FieldError
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, Room, SaidLine, allow, button, label, row_of
from workbench.window.patterns.revisionspanel import DRAWN, RevisionsPanel


class LibraryPage(QWidget):
    """What is wanted of the one chosen: `opens(revision)`, `goesOn(draft)`, `drops(draft)`, `earns(revision)`;
    `chose(revision)` when another one is chosen. The rest is told by its panel of the `past`.
    """

    opens = Signal(object)
    goesOn = Signal(object)
    drops = Signal(object)
    earns = Signal(object)
    chose = Signal(object)

    def __init__(self, look: Look, back: Callable[[], None], begin: Callable[[], None]) -> None:
        super().__init__()
        self._look = look
        self.revisions: tuple[PatternRevision, ...] = ()
        self._drafts: tuple[KeptDraft, ...] = ()
        self._told: object = ()  # nothing yet, not even that none is chosen
        self.back = button("Counter", back, key="Ctrl+F", tip="Back to the counter")
        self.search = QLineEdit()
        self.search.setAccessibleName("Words of a pattern's name")
        self.search.setPlaceholderText("Words of its name, or of a winding's")
        self.search.textChanged.connect(lambda _: self._show())
        self.search.returnPressed.connect(self._open)
        self.rows = RowList(look, "Patterns")
        self.rows.activated.connect(lambda _: self._open())
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._chosen())
        self.new = button("New pattern", begin, key="Ctrl+N")
        self.open = button("Open", self._open, key="Ctrl+O", strong=True, tip="To draw on")
        self.drop = button("Drop the draft", self._ask_drop, key="Ctrl+Shift+D", tip="What was drawn is thrown away")
        self.bands = button("Bands", self._earn, key="Ctrl+B", tip="What the shop's own units would make of them")
        self.past = RevisionsPanel(look)
        self.compare = self.past.compare
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
        panel.body.addWidget(self.said)
        panel.body.addLayout(row_of(self.drop, self.bands, self.open))
        panel.setMinimumHeight(look.sizes.px(360))
        self.past.setMinimumHeight(look.sizes.px(420))
        inner = QWidget()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, inner)
        self._columns.setContentsMargins(12, 12, 12, 12)
        self._columns.setSpacing(12)
        self._columns.addWidget(panel, 1)
        self._columns.addWidget(self.past, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(bar)
        page.addWidget(Room(inner), 1)
        self._allow()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        ways = QBoxLayout.Direction
        narrow = self.width() < self._look.sizes.px(1000)
        self._columns.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)

    def minimumSizeHint(self) -> QSize:
        return QSize(640, 400)

    def show_patterns(self, revisions: Sequence[PatternRevision], drafts: Sequence[KeptDraft]) -> None:
        """The latest revision of each, and what was left unfinished."""
        before = self.chosen
        self.revisions, self._drafts = tuple(revisions), tuple(drafts)
        self._told = ()  # there may be further revisions
        self._show()
        if isinstance(before, PatternRevision):
            self.choose(before.pattern_id)

    def choose(self, pattern_id: UUID) -> None:
        """That pattern, in whatever revision stands now, where it is listed."""
        found = next((r.id for r in self.revisions if r.pattern_id == pattern_id), None)
        if found in {row.key for row in self.rows.rows.rows}:
            self.rows.select_key(found)
            self._chosen()

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
            if all(w in d.title.casefold() for w in words)
        ]  # fmt: skip
        found = 0
        for r in self.revisions:
            p = r.pattern
            told = " ".join((p.name, *(w.name for w in p.windings))).casefold()
            if all(w in told for w in words):
                found += 1
                counts = ((p.connectors, "plug"), (p.pins, "pin"), (p.windings, "winding"))
                detail = ", ".join(_many(len(things), what) for things, what in counts)
                rows.append(
                    Row(r.id, p.name, detail, f"revision {r.number}", "", f"{p.name}: {detail}, revision {r.number}")
                )
        self.rows.rows.show_rows(rows)
        if self.chosen is None and rows:
            self.rows.select_key(rows[0].key)
        every = len(self.revisions)
        self.count.setText(f"{every} of them" if found == every else f"{found} of {every}")
        self._chosen()

    def _chosen(self) -> None:
        self._allow()
        chosen = self.chosen
        if chosen is self._told:
            return
        self._told = chosen
        if isinstance(chosen, KeptDraft):
            self._show_draft(chosen)
            return
        self.past.show_pattern(chosen)
        if chosen is not None:
            self.chose.emit(chosen)

    def _show_draft(self, kept: KeptDraft) -> None:
        """One that can't be read is said so once it is opened."""
        try:
            self.past.show_drawn(left_in(kept).draft)
        except FieldError:
            self.past.show_pattern(None)
            self.past.none.setText(DRAWN)

    def _open(self) -> None:
        chosen = self.chosen
        if isinstance(chosen, KeptDraft):
            self.goesOn.emit(chosen)
        elif chosen is not None:
            self.opens.emit(chosen)

    def _ask_drop(self) -> None:
        draft = self.chosen
        if not isinstance(draft, KeptDraft):
            return

        def drop() -> None:
            self.said.say(None)
            self.drops.emit(draft)

        choices = Choice("Drop it", drop), Choice("Keep it", lambda: self.said.say(None))
        self.said.say(Said(Tone.ASKS, f"What was drawn of “{draft.title}” can't be brought back.", choices))

    def _earn(self) -> None:
        if isinstance(self.chosen, PatternRevision):
            self.earns.emit(self.chosen)

    def _allow(self) -> None:
        chosen = self.chosen
        allow(self.open, chosen is not None, "Choose a pattern in the list first")
        allow(self.bands, isinstance(chosen, PatternRevision), "Choose a saved pattern in the list first")
        allow(self.drop, isinstance(chosen, KeptDraft), "Choose a drawing that is not saved yet first")
        self.drop.setVisible(bool(self._drafts))


def _many(n: int, what: str) -> str:
    return f"{n} {what}{'' if n == 1 else 's'}"
