"""One pattern as it is drawn, and every revision of it."""

from collections.abc import Sequence

from PySide6.QtCore import Signal

from workbench.drafting.draft import Draft
from workbench.records import PatternRevision
from workbench.sitting.patternviews import Hand
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, button, label, row_of
from workbench.window.patterns.wiringface import WiringFace

DRAWN = "A draft has no revisions before it is saved."
NONE = "No pattern is chosen."


class RevisionsPanel(Panel):
    """`looks(revision)`: it is wanted to be looked at; `compares(revision)`: two of its pattern's, side by side."""

    looks = Signal(object)
    compares = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__("Its revisions")
        self.revisions: tuple[PatternRevision, ...] = ()
        self._pattern: PatternRevision | None = None
        self._hand = Hand()
        self.face = WiringFace(look, lambda _: None, self._see_plug, takes=False)
        self.rows = RowList(look, "Revisions")
        self.rows.activated.connect(lambda _: self._look_at())
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._show_face())
        self.look_at = button("Look at it", self._look_at, key="Ctrl+L", tip="Nothing of it can be changed")
        self.compare = button("Compare", self._compare, key="Ctrl+R", tip="Two revisions side by side")
        self.none = label(NONE, "quiet", wrap=True)
        self.body.addWidget(self.face, 2)
        self.body.addWidget(self.none)
        self.body.addWidget(self.rows, 1)
        self.body.addLayout(row_of(self.look_at, self.compare))
        self.body.addStretch(0)
        self.show_pattern(None)

    def show_drawn(self, draft: Draft) -> None:
        """One that is no pattern yet."""
        self.show_pattern(None)
        self.none.setText(DRAWN)
        self.face.setVisible(True)
        self._hand.follow(draft)
        self.face.show_draft(draft, self._hand)

    def show_pattern(self, latest: PatternRevision | None) -> None:
        """Its earlier revisions are shown once they are known."""
        self._pattern = latest
        self.show_revisions((latest,) if latest is not None else ())

    def show_revisions(self, revisions: Sequence[PatternRevision]) -> None:
        """All of one pattern, oldest first; those of another than the one in hand come too late."""
        if any(self._pattern is None or r.pattern_id != self._pattern.pattern_id for r in revisions):
            return
        self.revisions = tuple(revisions)
        latest = self.revisions[-1] if self.revisions else None
        rows = []
        for r in reversed(self.revisions):
            made, stands = f"made on {r.made_at.astimezone():%Y-%m-%d}", "stands" if r is latest else "earlier"
            title = f"revision {r.number}"
            rows.append(Row(r.id, title, made, stands, "", f"{title}, {made}, {stands}"))
        self.rows.rows.show_rows(rows)
        if self.chosen is None and rows:
            self.rows.select_key(rows[0].key)
        self.aside.setText(self._pattern.pattern.name if self._pattern is not None else "")
        for w in (self.rows, self.look_at, self.compare):
            w.setVisible(latest is not None)
        self.none.setText(NONE)
        self.none.setVisible(latest is None)
        self._show_face()

    @property
    def chosen(self) -> PatternRevision | None:
        key = self.rows.key()
        return next((r for r in self.revisions if r.id == key), None)

    def _show_face(self) -> None:
        shown = self.chosen
        self.face.setVisible(shown is not None)
        if shown is not None:
            draft = Draft.of(shown.pattern)
            self._hand.follow(draft)
            self.face.show_draft(draft, self._hand)

    def _see_plug(self, name: str) -> None:
        self._hand.plug = name
        self._show_face()

    def _look_at(self) -> None:
        if self.chosen is not None:
            self.looks.emit(self.chosen)

    def _compare(self) -> None:
        if self._pattern is not None:
            self.compares.emit(self._pattern)
