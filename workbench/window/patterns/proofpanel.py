"""What the proof says of a draft, and what every pair of it should read."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench import words
from workbench.sitting.patterndesk import PatternDesk, RemarkView
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, label


class ProofPanel(QWidget):
    """`about(names)`: what the remark in hand is about, to be lit."""

    about = Signal(tuple)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.remarks = RowList(look, "Remarks")
        self.pairs = RowList(look, "What every pair should read")
        self.whole = label("", wrap=True)
        proof, reads = Panel("The proof"), Panel("Every pair")
        proof.body.addWidget(self.remarks, 1)
        proof.body.addWidget(self.whole)
        reads.body.addWidget(self.pairs, 1)
        self._proof, self._reads = proof, reads
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(12)
        column.addWidget(proof, 1)
        column.addWidget(reads, 1)
        self._views: tuple[RemarkView, ...] = ()
        self.remarks.selectionModel().currentChanged.connect(lambda *_: self._chosen())

    def show_desk(self, desk: PatternDesk) -> None:
        proof = desk.proof
        self._views = desk.remarks()
        self.remarks.rows.show_rows(
            [Row(i, v.who, v.what, v.word, "", f"{v.word}: {v.sentence}") for i, v in
             enumerate(self._views)]
        )  # fmt: skip
        if proof is None:
            self._proof.aside.setText("being proved …")
        elif not self._views:
            self._proof.aside.setText("nothing to remark")
        else:
            self._proof.aside.setText(f"{len(self._views)} remark{'s' if len(self._views) > 1 else ''}")
        pattern = proof.pattern if proof is not None else None
        rows = []
        if proof is not None and pattern is not None:
            planned = {c.unordered for c in proof.checks}
            for pair, expected in proof.pairs:
                title, reads = words.pair_words(pair, pattern), words.band_words(expected)
                plan = "planned" if pair.unordered in planned else ""
                rows.append(Row(pair, title, plan, reads, "", f"{title}: {reads}" + (f", {plan}" if plan else "")))
        self.pairs.rows.show_rows(rows)
        self._chosen()

    def _chosen(self) -> None:
        key = self.remarks.key()
        view = self._views[key] if isinstance(key, int) and key < len(self._views) else None
        self.whole.setText(view.sentence if view is not None else "")
        self.about.emit(view.about if view is not None else ())
