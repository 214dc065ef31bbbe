"""The checks that the bench will ask for: chosen by the program, or edited."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench import words
from workbench.sitting.patterndesk import PatternDesk
from workbench.stator.pattern import Pair
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import allow, button, label, row_of

BY_PROGRAM = "Chosen by the program: as few as show every winding, lead and ground that any pair can show."
BY_HAND = "Chosen by hand."


class ChecksPane(QWidget):
    """`picked()`: the nodes in hand."""

    def __init__(self, look: Look, desk: PatternDesk, picked: Callable[[], tuple[str, ...]]) -> None:
        super().__init__()
        self._desk, self._picked = desk, picked
        self.by = label("", "quiet", wrap=True)
        self.rows = RowList(look, "Planned checks")
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._allow())
        self.add = button("Add the pair in hand", self.add_pair, key="Ctrl+Shift+P")
        self.remove = button("Remove", self.remove_pair, key="Ctrl+Shift+R")
        self.up = button("Up", lambda: self._move(-1), key="Ctrl+Shift+Up")
        self.down = button("Down", lambda: self._move(1), key="Ctrl+Shift+Down")
        self.anew = button("Let the program choose", self._choose_anew, key="Ctrl+Shift+O")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.sizes.px(6))
        column.addWidget(self.by)
        column.addWidget(self.rows, 1)
        column.addLayout(row_of(self.add, self.remove))
        column.addLayout(row_of(self.up, self.down))
        column.addWidget(self.anew)

    @property
    def checks(self) -> tuple[Pair, ...]:
        """As they stand: the draft's own, or those the program chose."""
        own, proof = self._desk.draft.checks, self._desk.proof
        return own if own is not None else proof.checks if proof is not None else ()

    def show_desk(self) -> None:
        proof = self._desk.proof
        pattern = proof.pattern if proof is not None else None
        self.by.setText(BY_PROGRAM if self._desk.draft.checks is None else BY_HAND)
        reads = dict(proof.pairs) if proof is not None else {}
        rows = []
        for c in self.checks:
            title = words.pair_words(c, pattern) if pattern is not None else str(c)
            expected = reads.get(c) or reads.get(Pair(c.negative, c.positive))
            value = words.band_words(expected) if expected is not None else ""
            rows.append(Row(c, title, "", value, "", f"{title}: {value}"))
        self.rows.rows.show_rows(rows)
        self._allow()

    def add_pair(self) -> None:
        nodes = self._picked()
        if len(nodes) != 2:
            self._desk.tell("Choose two nodes on the faces first: pins, or a pin and ground.")
            return
        pair = Pair(*nodes)
        if pair.unordered in {c.unordered for c in self.checks}:
            self._desk.tell("That pair is planned already.")
            return
        checks = (*self.checks, pair)
        self._desk.edit(lambda d: d.checked(checks))

    def remove_pair(self) -> None:
        key = self.rows.key()
        checks = tuple(c for c in self.checks if c != key)
        if len(checks) < len(self.checks):
            self._desk.edit(lambda d: d.checked(checks))

    def _move(self, by: int) -> None:
        checks, key = list(self.checks), self.rows.key()
        at = next((i for i, c in enumerate(checks) if c == key), None)
        if at is None or not 0 <= at + by < len(checks):
            return
        checks[at], checks[at + by] = checks[at + by], checks[at]
        self._desk.edit(lambda d: d.checked(tuple(checks)))
        self.rows.select_key(key)

    def _choose_anew(self) -> None:
        self._desk.edit(lambda d: d.checked(None))

    def _allow(self) -> None:
        has = self.rows.key() is not None
        for b in (self.remove, self.up, self.down):
            allow(b, has, "Choose a check in the list first")
        allow(self.add, len(self._picked()) == 2, "Click two pins on the faces first")
        allow(self.anew, self._desk.draft.checks is not None, "They are chosen by the program already")
