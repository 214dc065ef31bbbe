"""The plugs of a draft: which one is drawn, its key and outline, and the cavity that is chosen."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from workbench.drafting import plugs
from workbench.drafting.draft import Draft, cavity_of
from workbench.sitting.patterndesk import PatternDesk
from workbench.stator.pattern import Connector, KeyShape, Outline, Side, Terminal
from workbench.window.look import Look
from workbench.window.parts import button, form_row, label, row_of

KEYS = (
    (None, "no key"), (Side.BOTTOM, "at the bottom"), (Side.RIGHT, "at the right"), (Side.TOP, "at the top"),
    (Side.LEFT, "at the left"),
)  # fmt: skip
SHAPES = ((KeyShape.TAB, "a tongue"), (KeyShape.RIB, "a rib inside"), (KeyShape.FLAT, "cut flat"))
OUTLINES = ((None, "as its cavities suggest"), (Outline.BOX, "a box"), (Outline.ROUND, "round"))
TERMINALS = ((Terminal.BLADE, "blade"), (Terminal.SOCKET, "socket"))

NO_EVIDENCE = "Never used to match: spliced wires lie."


class PlugsPane(QWidget):
    """`plugChosen(name)`, `pinChosen(pin)`: another one is wanted in hand."""

    plugChosen = Signal(str)
    pinChosen = Signal(str)

    def __init__(self, look: Look, desk: PatternDesk, add: Callable[[], None]) -> None:
        super().__init__()
        self._desk = desk
        self._plug: Connector | None = None
        self._pin = ""
        self._here = ("", "")
        self.choice = QComboBox()
        self.choice.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.choice.activated.connect(lambda i: self.plugChosen.emit(self.choice.itemText(i)))
        self.add = button("Add a plug", add, key="Ctrl+Shift+A")
        self.drop = button("Drop the plug", self._drop_plug, key="Ctrl+Shift+D")
        self.name = QLineEdit()
        self.name.editingFinished.connect(self._rename_plug)
        self.key = _choices([words for _, words in KEYS], self._set_key)
        self.key_shape = _choices([words for _, words in SHAPES], self._set_key)
        self.outline = _choices([words for _, words in OUTLINES], self._set_outline)
        self.mirror = button("It was drawn from the other side", self._mirror, key="Ctrl+Shift+M")
        self.pin = QLineEdit()
        self.pin.editingFinished.connect(self._rename_pin)
        self.terminal = _choices([words for _, words in TERMINALS], self._set_terminal)
        self.alike = button("All alike", self._all_alike, tip="Every cavity of this plug has this terminal")
        self.colour = QLineEdit()
        self.colour.editingFinished.connect(self._set_colour)
        self.drop_pin = button("Drop the cavity", self.drop_cavity, tip="Delete, on the face")
        form = _form()
        form_row(form, "&Plug", self.choice)
        form_row(form, "&Its name", self.name)
        form_row(form, "&Key", self.key)
        form_row(form, "Key is", self.key_shape)
        form_row(form, "&Outline", self.outline)
        cavity = _form()
        form_row(cavity, "&Cavity", self.pin)
        form_row(cavity, "&Terminal", self.terminal)
        form_row(cavity, "&Wire, as found", self.colour, tip="grey over white")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.sizes.px(6))
        column.addLayout(row_of(self.add, self.drop))
        column.addLayout(form)
        column.addWidget(self.mirror)
        column.addWidget(label("The chosen cavity", "title"))
        column.addLayout(cavity)
        column.addWidget(label(NO_EVIDENCE, "quiet", wrap=True))
        column.addLayout(row_of(self.alike, self.drop_pin))
        column.addStretch(1)

    def show_plug(self, plug: Connector | None, pin: str) -> None:
        self._plug, self._pin = plug, pin if plug is not None and any(c.pin == pin for c in plug.cavities) else ""
        here = (plug.name if plug is not None else "", self._pin)
        if here != self._here:  # another one: what was typed of the last is not its own
            self._here = here
            for field in (self.name, self.pin, self.colour):
                field.setModified(False)
        names = [p.name for p in self._desk.draft.plugs]
        if [self.choice.itemText(i) for i in range(self.choice.count())] != names:
            self.choice.clear()
            self.choice.addItems(names)
        self.choice.setCurrentIndex(names.index(plug.name) if plug is not None else -1)
        for w in (self.name, self.key, self.key_shape, self.outline, self.mirror, self.drop, self.choice):
            w.setEnabled(plug is not None)
        if plug is not None:
            _tell(self.name, plug.name)
            self.key.setCurrentIndex([s for s, _ in KEYS].index(plug.key))
            self.key_shape.setCurrentIndex([s for s, _ in SHAPES].index(plug.key_shape))
            self.key_shape.setEnabled(plug.key is not None)
            self.outline.setCurrentIndex([o for o, _ in OUTLINES].index(plug.outline))
        for w in (self.pin, self.terminal, self.colour, self.drop_pin, self.alike):
            w.setEnabled(bool(self._pin))
        if plug is not None and self._pin:
            c = cavity_of(plug, self._pin)
            _tell(self.pin, c.pin)
            _tell(self.colour, c.colour)
            self.terminal.setCurrentIndex([t for t, _ in TERMINALS].index(c.terminal))
        else:
            _tell(self.pin, "")
            _tell(self.colour, "")

    def commit(self) -> bool:
        """What was typed and not taken over yet; False where it can't be, and it stays as it was typed."""
        self._rename_plug()
        self._rename_pin()
        self._set_colour()
        return not (self.name.isModified() or self.pin.isModified())

    def drop_cavity(self) -> None:
        if self._plug is not None and self._pin:
            name, pin = self._plug.name, self._pin
            self._desk.edit(lambda d: plugs.drop_cavity(d, name, pin))

    # ---- done

    def _edit(self, change: Callable[..., Draft], *args: object) -> None:
        if self._plug is not None:
            self._desk.edit(partial(_on, change, self._plug.name, args))

    def _drop_plug(self) -> None:
        self._edit(plugs.drop_plug)

    def _rename_plug(self) -> None:
        plug, to = self._plug, self.name.text()
        if plug is None or to == plug.name:
            return
        self.name.setModified(True)  # till it is known that it can be used
        done = self._desk.edit(lambda d: plugs.rename_plug(d, plug.name, to))
        self.name.setModified(not done)
        if done:
            self.plugChosen.emit(" ".join(to.split()))

    def _set_key(self) -> None:
        self._edit(plugs.set_key, KEYS[self.key.currentIndex()][0], SHAPES[self.key_shape.currentIndex()][0])

    def _set_outline(self) -> None:
        self._edit(plugs.set_outline, OUTLINES[self.outline.currentIndex()][0])

    def _mirror(self) -> None:
        self._edit(plugs.mirror)

    def _rename_pin(self) -> None:
        plug, pin, to = self._plug, self._pin, self.pin.text()
        if plug is None or not pin or to == pin:
            return
        self.pin.setModified(True)
        done = self._desk.edit(lambda d: plugs.rename_pin(d, plug.name, pin, to))
        self.pin.setModified(not done)
        if done:
            self.pinChosen.emit(" ".join(to.split()))  # what is renamed stays in hand

    def _set_terminal(self) -> None:
        self._edit(plugs.set_terminal, TERMINALS[self.terminal.currentIndex()][0], self._pin)

    def _all_alike(self) -> None:
        self._edit(plugs.set_terminal, TERMINALS[self.terminal.currentIndex()][0])

    def _set_colour(self) -> None:
        if self._plug is not None and self._pin and self.colour.text() != cavity_of(self._plug, self._pin).colour:
            self.colour.setModified(False)
            self._edit(plugs.set_colour, self._pin, self.colour.text())

    @property
    def chosen_pin(self) -> str:
        return self._pin


def _on(change: Callable[..., Draft], name: str, args: tuple[object, ...], draft: Draft) -> Draft:
    return change(draft, name, *args)


def _choices(words: list[str], act: Callable[[], None]) -> QComboBox:
    made = QComboBox()
    made.addItems(words)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    made.activated.connect(lambda _: act())
    return made


def _form() -> QFormLayout:
    made = QFormLayout()
    made.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
    return made


def _tell(field: QLineEdit, text: str) -> None:
    """Leaves what is being typed alone."""
    if not field.isModified():
        field.setText(text)
