"""What every page of the rewind desk is, and its small parts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QBoxLayout, QComboBox, QGridLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from workbench.sitting.rewinding import Rewinding
from workbench.window.look import Look
from workbench.window.parts import Room, label
from workbench.window.theme import redress

STACK_FROM, STACK_BELOW = 1.4, 960
_LAST_ROW = 99


class DeskPage(QWidget):
    """Renders its part of a Rewinding. `fields`: by the names that a refusal gives them.

    It is put together from the outside in: each thing that takes another place is dressed anew with all it holds.
    """

    def __init__(self, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rewinding = rewinding
        self.fields: Mapping[str, QWidget] = {}

    def put_together(self, look: Look, form: QWidget, fields: "FieldsRoom", *others: tuple[QWidget, int]) -> "Side":
        """Panels that are still empty, each in its place; `room` scrolls them all."""
        inner = QWidget(self)
        self.room = Room(inner)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.room)
        return Side(look, inner, form, fields, *others)

    def show_rewinding(self) -> None:
        """Called after every change, of another winding too."""

    def take_focus(self) -> None:
        """Called when the page comes to the front."""

    def mark_refused(self) -> None:
        """Marks the field at fault, and brings the focus there when it is first refused."""
        at_fault = self.rewinding.refused_field
        for name, field in self.fields.items():
            refused = name == at_fault
            if (field.property("state") == "refused") is not refused:
                field.setProperty("state", "refused" if refused else "")
                redress(field)
                if refused and self.isVisible():
                    field.setFocus(Qt.FocusReason.OtherFocusReason)


class FieldsRoom(Room):
    """Scrolls its fields where they stand beside other panels; `whole`: all of them are seen."""

    def __init__(self, fields: QWidget) -> None:
        super().__init__(fields)
        self._whole = False

    def set_whole(self, whole: bool) -> None:
        self._whole = whole
        policy = QSizePolicy.Policy
        self.setSizePolicy(policy.Preferred, policy.Preferred if whole else policy.Ignored)
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        least = super().minimumSizeHint()
        return QSize(least.width(), self.sizeHint().height()) if self._whole else least


class Side(QBoxLayout):
    """Panels side by side, or one under the other where there is no room; `form` is last then."""

    def __init__(
        self, look: Look, inner: QWidget, form: QWidget, fields: FieldsRoom, *others: tuple[QWidget, int]
    ) -> None:
        """`fields`: what of the form scrolls by itself while it stands beside the others."""
        super().__init__(QBoxLayout.Direction.LeftToRight, inner)
        self._look, self._form, self._fields = look, form, fields
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(12)
        self.addWidget(form)
        for panel, stretch in others:
            self.addWidget(panel, stretch)
        self._stacked: bool | None = None
        self.stack(look.sizes.scale > STACK_FROM)  # a first guess, lest one row of large text widens the window

    @property
    def stacked(self) -> bool:
        return self._stacked is True

    def stack(self, stacked: bool) -> None:
        if stacked is self._stacked:
            return
        self._stacked = stacked
        ways = QBoxLayout.Direction
        self.setDirection(ways.TopToBottom if stacked else ways.LeftToRight)
        self.removeWidget(self._form)
        self.insertWidget(self.count() if stacked else 0, self._form)
        self._fields.set_whole(stacked)

    def fit(self, width: int) -> None:
        self.stack(width < self._look.sizes.px(STACK_BELOW))


@dataclass(frozen=True, slots=True)
class PageKind:
    """`done`: how far it is, in a few words."""

    name: str
    done: Callable[[Rewinding], str]
    make: Callable[[Look, Rewinding, QWidget], DeskPage]


class FieldGrid(QWidget):
    """Fields in columns, each under its caption."""

    def __init__(self, look: Look, columns: int = 2) -> None:
        super().__init__()
        self.setProperty("role", "clear")
        self._columns = columns
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.sizes.px(10))
        self._grid.setVerticalSpacing(look.sizes.px(6))
        for column in range(columns):
            self._grid.setColumnStretch(column, 1)
        self._grid.setRowStretch(_LAST_ROW, 1)  # what is too much stays below
        self._look = look
        self._at = 0

    def line(self, caption: str, tip: str = "", *, span: int = 1) -> QLineEdit:
        """`span`: how many columns it takes; they must be left in its row."""
        made = QLineEdit()
        made.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        made.setMinimumWidth(self._look.sizes.px(60))
        self._add(caption, made, tip, span)
        return made

    def choice(self, caption: str, choices: Mapping[str, object], tip: str = "", *, wide: bool = False) -> QComboBox:
        """Texts with their data."""
        made = QComboBox()
        for text, data in choices.items():
            made.addItem(text, data)
        made.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        made.setMinimumWidth(self._look.sizes.px(60))
        self._add(caption, made, tip, self._columns if wide else 1)
        return made

    def wide_line(self, caption: str, tip: str = "") -> QLineEdit:
        made = QLineEdit()
        self._add(caption, made, tip, self._columns)
        return made

    def heading(self, text: str) -> None:
        self._to_next_row()
        self._grid.addWidget(label(text, "quiet", wrap=True), self._at // self._columns, 0, 1, self._columns)
        self._at += self._columns

    def _to_next_row(self) -> None:
        self._at += -self._at % self._columns

    def _add(self, caption: str, field: QWidget, tip: str, span: int) -> None:
        if span == self._columns:
            self._to_next_row()
        said = label(caption, "quiet")
        said.setBuddy(field)
        field.setAccessibleName(caption)
        if tip:
            field.setAccessibleDescription(tip)
            field.setToolTip(tip)
        block = QVBoxLayout()
        block.setSpacing(1)
        block.addWidget(said)
        block.addWidget(field)
        self._grid.addLayout(block, self._at // self._columns, self._at % self._columns, 1, span)
        self._at += span


def choose(box: QComboBox, data: object) -> None:
    at = box.findData(data)
    if at >= 0 and at != box.currentIndex():
        box.setCurrentIndex(at)


def put(field: QLineEdit, text: str) -> None:
    if field.text() != text:
        field.setText(text)
        if not field.hasFocus():
            field.setCursorPosition(0)  # what is too long is seen from its beginning


def set_role(made: QWidget, role: str) -> None:
    """`strong` for what is next to be done."""
    if (made.property("role") or "") != role:
        made.setProperty("role", role)
        redress(made)
