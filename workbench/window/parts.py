"""Small widgets that every page is made of, each with its name for those who can't see it."""

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QBoxLayout,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.sitting.say import Said, Tone
from workbench.window.theme import redress
from workbench.window.voice import announce

PAST = "An earlier sheet is only to be looked at"


def label(text: str = "", role: str = "", *, wrap: bool = False) -> QLabel:
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        made.setProperty("role", role)
    made.setWordWrap(wrap)
    return made


class ElidedLabel(QLabel):
    """A line that gives way: what doesn't fit ends in an ellipsis, and is whole in its tip and for a reader."""

    def __init__(self, role: str = "") -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        if role:
            self.setProperty("role", role)

    def setText(self, text: str) -> None:
        super().setText(text)
        self.setToolTip(text)
        self.setAccessibleName(text)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance("mmmm"), super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(self.contentsRect(), Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)


class FitLabel(QLabel):
    """One line, on the right, at its full size; where that doesn't fit, as large as it does."""

    def __init__(self, role: str) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", role)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance("0000"), super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        wide, room = self.fontMetrics().horizontalAdvance(self.text()), self.contentsRect().width()
        if wide > room > 0:
            shrunk = self.font()
            shrunk.setPixelSize(max(8, self.font().pixelSize() * room // wide))
            painter.setFont(shrunk)
        side = self.alignment() & Qt.AlignmentFlag.AlignHorizontal_Mask
        painter.drawText(self.contentsRect(), side | Qt.AlignmentFlag.AlignVCenter, self.text())


class PushButton(QPushButton):
    """Enter presses the one that has the focus, as Space does, though a form's Enter is not the first button's."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self.click()
        else:
            super().keyPressEvent(event)


def button(text: str, act: Callable[[], object], *, key: str = "", strong: bool = False, tip: str = "") -> QPushButton:
    """A push button; `key` is its shortcut, said in the tip."""
    made = PushButton(text)
    made.setAccessibleName(text)
    made.setAutoDefault(False)
    if strong:
        made.setProperty("role", "strong")
    if key:
        made.setShortcut(QKeySequence(key))
    shown = QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText) if key else ""
    made.setToolTip(" ".join(x for x in (tip, f"({shown})" if shown else "") if x))
    made.clicked.connect(lambda: act())
    return made


def allow(made: QWidget, may: bool, why_not: str, *, after: QWidget | None = None) -> None:
    """Whether it can be used; while it can't, its tip says what is wanted first.

    `after`: has the focus when this goes off under the hand; else Qt gives it to whatever comes next, and a hand that
    goes on pressing does what it never meant.
    """
    if after is not None and not may and made.hasFocus():
        after.setFocus()
    if made.property("tip") is None:
        made.setProperty("tip", made.toolTip())
    made.setEnabled(may)
    made.setToolTip(made.property("tip") if may else why_not)


def row_of(*widgets: QWidget) -> QHBoxLayout:
    """Side by side, alike in width."""
    made = QHBoxLayout()
    made.setSpacing(8)
    for w in widgets:
        made.addWidget(w, 1)
    return made


def rename(made: QPushButton, text: str) -> None:
    """Another text for a button; its key stays, which Qt would take away with the text."""
    if made.text() != text:
        key = made.shortcut()
        made.setText(text)
        made.setShortcut(key)
        made.setAccessibleName(text)


def shortcut(parent: QWidget, key: str, act: Callable[[], object]) -> QShortcut:
    made = QShortcut(QKeySequence(key), parent)
    made.activated.connect(lambda: act())
    return made


def set_verdict(widget: QLabel, word: str) -> None:
    """Colours a label by a verdict's word; the word itself is the caller's to write."""
    if widget.property("verdict") != word:
        widget.setProperty("verdict", word)
        redress(widget)


def form_row(form: QFormLayout, caption: str, field: QWidget, *, tip: str = "") -> None:
    """One row of a form: label with its buddy, accessible name and description."""
    made = QLabel(caption)
    made.setBuddy(field)
    made.setProperty("role", "caption")
    field.setAccessibleName(caption.replace("&", ""))
    if tip:
        field.setAccessibleDescription(tip)
        field.setToolTip(tip)
        if isinstance(field, QLineEdit):
            field.setPlaceholderText(tip)
    form.addRow(made, field)


def tab_within(parent: QWidget, *made: QWidget) -> None:
    """Puts them first of all that Tab comes to within their parent: made late, they would come last on the page."""
    policy = parent.focusPolicy()
    parent.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # Qt moves widgets only behind what takes the focus
    for before, after in pairwise((parent, *made)):
        QWidget.setTabOrder(before, after)
    parent.setFocusPolicy(policy)


class Room(QScrollArea):
    """Shows all that it holds where there is room for it; else that can be scrolled, up and down only."""

    def __init__(self, held: QWidget) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(held)
        self._held = held

    def sizeHint(self) -> QSize:
        return self._held.sizeHint() + QSize(self.verticalScrollBar().sizeHint().width() + 4, 4)

    def minimumSizeHint(self) -> QSize:
        wide = self._held.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width() + 4
        return QSize(wide, min(self._held.minimumSizeHint().height(), 6 * self.fontMetrics().lineSpacing()))


def fit_window(dialog: QWidget, over: QWidget) -> None:
    """No larger than the window it stands over, so that its buttons are never off the screen."""
    dialog.resize(dialog.sizeHint().expandedTo(dialog.minimumSize()).boundedTo(over.window().size() - QSize(16, 16)))


class Panel(QFrame):
    """A titled panel: title and an aside in its first row, then whatever is added to `body`."""

    def __init__(self, title: str, aside: str = "") -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName(title)
        self.title = label(title, "title")
        self.aside = label(aside, "quiet")
        self.aside.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.head = QHBoxLayout()
        self.head.addWidget(self.title)
        self.head.addStretch(1)
        self.head.addWidget(self.aside)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(14, 10, 14, 12)
        self.body.setSpacing(8)
        self.body.addLayout(self.head)


class SaidLine(QFrame):
    """A sentence with its ways on, beside the thing it speaks of. Keeps room for `lines` lines when it is silent."""

    def __init__(self, lines: int = 2) -> None:
        super().__init__()
        self.said: Said | None = None
        self._lines = lines
        self._sentence = label("", wrap=True)
        self._sentence.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Ignored)
        self._buttons: list[QPushButton] = []
        self._column = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self._column.addWidget(self._sentence, 1)
        self._row = QHBoxLayout()
        self._row.setSpacing(8)
        self._column.addLayout(self._row)
        self._fit()

    def set_stacked(self, stacked: bool) -> None:
        """The ways on below the sentence, where the line is too short for both."""
        ways = QBoxLayout.Direction
        self._column.setDirection(ways.TopToBottom if stacked else ways.LeftToRight)
        self._row.setAlignment(Qt.AlignmentFlag.AlignLeft if stacked else Qt.AlignmentFlag.AlignRight)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """As high as its sentence is at this width; a wrapped label in a layout would ask for far more."""
        buttons = [b.sizeHint() for b in self._buttons]
        stacked = self._column.direction() is QBoxLayout.Direction.TopToBottom
        beside = 0 if stacked else sum(b.width() + self._row.spacing() for b in buttons)
        spacing = self._sentence.fontMetrics().lineSpacing()
        text = self._sentence.heightForWidth(max(self.width() - beside, 60))
        tallest = max((b.height() for b in buttons), default=0)
        needed = text + tallest + self._column.spacing() if stacked and buttons else max(text, tallest)
        high = max(self._lines * spacing + 8, needed)
        if high != self.minimumHeight():
            self.setFixedHeight(high)

    def say(self, said: Said | None) -> None:
        if said == self.said and (said is None or not said.choices):
            return
        self.said = said
        for old in self._buttons:
            self._row.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._buttons = []
        self._sentence.setText(said.sentence if said else "")
        set_verdict(self._sentence, "out" if said and said.tone is Tone.REFUSES else "")
        for choice in said.choices if said else ():
            made = button(choice.label, choice.act)
            self._buttons.append(made)
            self._row.addWidget(made)
            made.show()
        tab_within(self, *self._buttons)
        self._fit()
        if said is not None:
            ways_on = [c.label for c in said.choices]
            announce(self, " ".join([said.sentence, *(f"{w}?" for w in ways_on)]), at_once=said.tone is Tone.REFUSES)

    @property
    def sentence(self) -> str:
        return self._sentence.text()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        return tuple(self._buttons)
