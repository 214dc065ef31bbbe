"""The two ends of a winding or link, each chosen among the nodes that are there."""

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSizePolicy, QWidget

from workbench import words
from workbench.stator.pattern import CORE
from workbench.window.parts import label
from workbench.window.theme import redress


class EndsField(QWidget):
    def __init__(self) -> None:
        super().__init__()
        self.start, self.finish = QComboBox(), QComboBox()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for box, said in ((self.start, "From"), (self.finish, "To")):
            box.setAccessibleName(said)
            box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        row.addWidget(self.start, 1)
        row.addWidget(label("to"))
        row.addWidget(self.finish, 1)
        self.setFocusProxy(self.start)
        self._nodes: tuple[str, ...] = ()

    def show_nodes(self, nodes: tuple[str, ...]) -> None:
        """Those that an end may lie on; what is chosen stays chosen where it is still there."""
        if nodes == self._nodes:
            return
        kept, self._nodes = self.ends, nodes
        for box in (self.start, self.finish):
            box.clear()
            for n in nodes:
                box.addItem(node_text(n), n)
        self.choose(*kept)

    def choose(self, start: str, finish: str) -> None:
        """Empty: none."""
        for box, node in ((self.start, start), (self.finish, finish)):
            box.setCurrentIndex(box.findData(node))

    @property
    def ends(self) -> tuple[str, str]:
        """Nodes; empty where none is chosen."""
        start, finish = self.start.currentData(), self.finish.currentData()
        return start or "", finish or ""

    def mark(self, refused: bool) -> None:
        state = "refused" if refused else ""
        for box in (self.start, self.finish):
            if box.property("state") != state:
                box.setProperty("state", state)
                redress(box)


def node_text(node: str) -> str:
    return words.GROUND if node == CORE else node.replace(".", " ", 1)
