"""The top of a pattern that is being drawn: its name, what its ohms stand at, undo, redo and save."""

from collections.abc import Callable

from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLineEdit

from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import celsius_edit
from workbench.stator.copper import Conductor
from workbench.window.look import Look
from workbench.window.parts import allow, button, label, rename


class PatternBar(QFrame):
    def __init__(self, look: Look, desk: PatternDesk, back: Callable[[], None], save: Callable[[], None]) -> None:
        super().__init__()
        self._desk = desk
        self.setProperty("role", "bar")
        self.back = button("Patterns", back, key="Ctrl+F", tip="To the library; what was drawn is kept")
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the pattern")
        self.name.setPlaceholderText("what the shop calls it")
        self.name.setMinimumWidth(look.sizes.px(160))
        self.name.editingFinished.connect(self._rename)
        self.celsius = QLineEdit()
        self.celsius.setAccessibleName("Degrees Celsius at which its ohms stand")
        self.celsius.setMaximumWidth(look.sizes.px(70))
        self.celsius.editingFinished.connect(self._set_celsius)
        self.metal = QComboBox()
        self.metal.addItems([str(c) for c in Conductor])
        self.metal.setAccessibleName("Metal of the windings")
        self.metal.activated.connect(lambda at: desk.edit(lambda d: d.of_metal(list(Conductor)[at])))
        self.undo = button("Undo", desk.undo, key="Ctrl+Z")
        self.redo = button("Redo", desk.redo, key="Ctrl+Y")
        self.save = button("Save", save, key="Ctrl+S")
        top = QHBoxLayout(self)
        top.setContentsMargins(16, 10, 16, 10)
        for w in (self.back, self.name, self.celsius, label("°C"), self.metal, self.undo, self.redo, self.save):
            top.addWidget(w, 1 if w is self.name else 0)

    def show_desk(self, *, narrow: bool) -> None:
        """`narrow`: without the number of the revision on the button, which its tip has then."""
        desk, draft = self._desk, self._desk.draft
        if not self.name.isModified() or not self.name.hasFocus():
            self.name.setText(draft.name)
            self.name.home(False)
        if not self.celsius.isModified():
            self.celsius.setText(f"{draft.reference_celsius:g}")
        self.metal.setCurrentIndex(list(Conductor).index(draft.conductor))
        allow(self.undo, bool(desk.history.before), "Nothing was changed yet")
        allow(self.redo, bool(desk.history.undone), "Nothing is undone")
        rename(self.save, "Save" if narrow else desk.save_short)
        self.save.setProperty("tip", f"{desk.save_words} (Ctrl+S)")
        # what else keeps it from being saved, it says when it is pressed
        allow(
            self.save, not (desk.saving or desk.looking), "It is being kept" if desk.saving else "Only to be looked at"
        )

    def commit(self) -> bool:
        """What was typed and not taken over yet; False where it can't be, and it stays as it was typed."""
        if self.name.isModified():
            self._rename()
        self._set_celsius()
        return not self.celsius.isModified()

    def _rename(self) -> None:
        to = self.name.text()
        self.name.setModified(False)
        if to != self._desk.draft.name:
            self._desk.edit(lambda d: d.named(to))

    def _set_celsius(self) -> None:
        text = self.celsius.text()
        if text != f"{self._desk.draft.reference_celsius:g}":
            self.celsius.setModified(True)
            self.celsius.setModified(not self._desk.edit(celsius_edit(text)))
            self._desk.on_change()
