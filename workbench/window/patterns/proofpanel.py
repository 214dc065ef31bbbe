"""What the proof says of a draft, and what every pair of it should read."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.drafting.prove import Proof
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternpairs import PatternPairs
from workbench.window.look import Look
from workbench.window.pairs.board import PairsBoard
from workbench.window.parts import Panel, label
from workbench.window.patterns.remarklist import RemarkList

SOUND = "What any pair can show of it, a planned check shows."
LATER = "Each pair with what it should read, once it is a pattern."


class ProofPanel(QWidget):
    """`about(names)`: what the remark in hand is about, to be lit; `picked(Pair)`: a pair was chosen."""

    about = Signal(tuple)
    picked = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._pairs = PatternPairs()
        self._shown: tuple[Proof | None, tuple[str, ...]] | None = None
        self.remarks = RemarkList(look)
        self.whole = label("", wrap=True)
        self.board = PairsBoard(look)
        self.board.pairChosen.connect(self.picked)
        self.later = label(LATER, "quiet", wrap=True)
        self._proof, self._reads = Panel("The proof"), Panel("Every pair", "what it should read")
        self._proof.body.addWidget(self.remarks, 1)
        self._proof.body.addWidget(self.whole)
        self._reads.body.addWidget(self.board, 1)
        self._reads.body.addWidget(self.later)
        self._reads.body.addStretch(0)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(12)
        self._column.addWidget(self._proof, 1)
        self._column.addWidget(self._reads, 1)
        self.remarks.selectionModel().selectionChanged.connect(lambda *_: self._chosen())

    def show_desk(self, desk: PatternDesk, nodes: tuple[str, ...]) -> None:
        """`nodes`: those in hand; two of them are a pair that is lit."""
        if desk.proof is None and self._shown is not None:  # what was proved last stands till the next is
            self._proof.aside.setText("being proved …")
            return
        shown = desk.proof, nodes
        if self._shown is not None and shown[0] is self._shown[0] and shown == self._shown:
            return
        self._shown = shown
        self._show_remarks(desk)
        stands = desk.proof is not None and desk.proof.stands
        self.board.show_pairs(self._pairs.view(desk.proof, nodes))
        self.board.setVisible(stands)
        self.later.setVisible(not stands)
        self._chosen()

    def _show_remarks(self, desk: PatternDesk) -> None:
        views = desk.remarks()
        self.remarks.show_views(views)
        self.remarks.setVisible(bool(views))
        self._column.setStretchFactor(self._proof, 1 if views else 0)
        if desk.proof is None:
            self._proof.aside.setText("being proved …")
        elif not views:
            self._proof.aside.setText("nothing to remark")
        else:
            self._proof.aside.setText(f"{len(views)} remark{'s' if len(views) > 1 else ''}")

    def _chosen(self) -> None:
        view = self.remarks.chosen
        proof = self._shown[0] if self._shown is not None else None
        sound = SOUND if proof is not None and not self.remarks.views else ""
        self.whole.setText(view.sentence if view is not None else sound)
        self.whole.setVisible(bool(self.whole.text()))
        self.about.emit(view.about if view is not None else ())
