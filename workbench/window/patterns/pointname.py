"""What is in hand, in words, and the name of the inner point among it, to be changed."""

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget

from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import Hand
from workbench.sitting.pointname import rename_point
from workbench.window.look import Look
from workbench.window.parts import allow, label
from workbench.window.patterns.endsfield import node_text

PICK = "Click two pins, ground or an inner point on the faces."


class InHand(QWidget):
    """`first()`: puts what was typed elsewhere; False where that can't be."""

    def __init__(self, look: Look, desk: PatternDesk, hand: Hand, first: Callable[[], bool]) -> None:
        super().__init__()
        self._desk, self._hand, self._first = desk, hand, first
        self._point = ""
        self.hint = label("", "quiet", wrap=True)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the inner point")
        self.name.setToolTip("Name of the inner point in hand")
        self.name.setMinimumWidth(look.sizes.px(110))
        self.name.setMaximumWidth(look.sizes.px(220))
        self.name.editingFinished.connect(self.commit)
        caption = QLabel("Point's na&me")
        caption.setBuddy(self.name)
        caption.setProperty("role", "caption")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.hint, 1)
        row.addWidget(caption)
        row.addWidget(self.name, 1)

    def show_hand(self) -> None:
        """The name is that of the inner point picked last; one that is being typed stays."""
        nodes = self._hand.nodes
        said = " and ".join(node_text(n) for n in nodes)
        self.hint.setText(f"In hand: {said}." if said else PICK)
        inner = self._hand.inner_points(self._desk.draft)
        point = next((n for n in reversed(nodes) if n in inner), "")
        allow(self.name, bool(point), "Click an inner point below the faces first")
        if point != self._point:
            self._point = point
            self.name.setText(point)

    def commit(self) -> bool:
        """What was typed and not taken over yet; False where it can't be, which the desk says."""
        point, typed = self._point, self.name.text()
        if not point or typed == point:
            return True
        if not self._first():
            return False
        if not rename_point(self._desk, self._hand, point, typed):
            return False
        self.name.setText(self._point)  # its spaces tidied
        return True
