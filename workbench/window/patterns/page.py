"""A pattern under the hands: its plugs, what joins them, coils and checks, and the proof beside it."""

from collections.abc import Callable

from PySide6.QtCore import QSize
from PySide6.QtGui import QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QButtonGroup,
    QDialog,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.drafting import plugs
from workbench.drafting.draft import Draft
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import Hand, sketch_pattern
from workbench.stator.pattern import Connector, Pair
from workbench.window.coils.sketch import CoilSketch
from workbench.window.look import Look
from workbench.window.parts import Panel, Room, SaidLine, button, label, rename
from workbench.window.patterns.addplug import AddPlugDialog
from workbench.window.patterns.canvas import PlugCanvas
from workbench.window.patterns.checkspane import ChecksPane
from workbench.window.patterns.coilspane import CoilsPane
from workbench.window.patterns.paneroom import PaneRoom
from workbench.window.patterns.patternbar import PatternBar
from workbench.window.patterns.plugspane import PlugsPane
from workbench.window.patterns.proofpanel import ProofPanel
from workbench.window.patterns.unitdialog import UnitDialog
from workbench.window.patterns.windingspane import WindingsPane
from workbench.window.patterns.wiringface import WiringFace

PAGES = ("Plugs", "Windings", "Coils", "Checks")
WIRE_SIDE, MATING_SIDE = "Wire side", "Mating side"


class PatternPage(QWidget):
    def __init__(
        self, look: Look, desk: PatternDesk, back: Callable[[], None], find_unit: Callable[[str], None]
    ) -> None:
        """`find_unit(tag)`: its latest sheet is wanted for its ohms."""
        super().__init__()
        self._find_unit = find_unit
        self.desk, self.hand = desk, Hand()
        self.dialog: QDialog | None = None
        self._look, self._back = look, back
        self.bar = PatternBar(look, desk, self._go_back, self._save)
        self.back, self.name, self.celsius, self.metal = self.bar.back, self.bar.name, self.bar.celsius, self.bar.metal
        self.undo, self.redo, self.save = self.bar.undo, self.bar.redo, self.bar.save
        self.canvas = PlugCanvas(look)
        self.side = button(WIRE_SIDE, self._flip, key="Ctrl+W", tip="Mirrored, as seen from the wires")
        self.side_words = label("", "quiet", wrap=True)
        self.face = WiringFace(look, self._press, self._see_plug)
        self.sketch = CoilSketch(look, takes_teeth=True)
        self.plugs = PlugsPane(look, desk, self.add_plug)
        self.windings = WindingsPane(look, desk, self.hand, self._point, self.from_unit)
        self.coils = CoilsPane(look, desk)
        self.checks = ChecksPane(look, desk, lambda: self.hand.nodes)
        self.proof = ProofPanel(look)
        self.proof.about.connect(self._light)
        self.proof.picked.connect(self._take_pair)
        self.said = SaidLine(1)
        self._lay_out()
        self.canvas.putAt.connect(self._put)
        self.canvas.movedTo.connect(lambda pin, place: self._on_plug(lambda d, n: plugs.move_cavity(d, n, pin, place)))
        self.canvas.dropped.connect(lambda pin: self._on_plug(lambda d, n: plugs.drop_cavity(d, n, pin)))
        self.canvas.chosen.connect(self._choose_pin)
        self.canvas.renaming.connect(self._rename_pin)
        self.windings.joined.connect(self._let_go)
        self.plugs.plugChosen.connect(self._see_plug)
        self.plugs.pinChosen.connect(self._choose_pin)
        self.sketch.toothPressed.connect(self.coils.put_on)
        self.sketch.windingPressed.connect(self.coils.take_up)
        desk.on_change = self.refresh
        self.refresh()

    def _lay_out(self) -> None:
        left = Panel("")
        left.title.hide()
        left.aside.hide()
        left.setAccessibleName("What is drawn")
        self.stack, self.centre = QStackedWidget(), QStackedWidget()
        self._rooms = [PaneRoom(pane) for pane in (self.plugs, self.windings, self.coils, self.checks)]
        for room in self._rooms:
            self.stack.addWidget(room)
        self._group = QButtonGroup(self)
        self.switches = [self._switch(i, name) for i, name in enumerate(PAGES)]
        left.head.setSpacing(6)
        for i, b in enumerate(self.switches):
            left.head.insertWidget(i, b)
        left.body.addWidget(self.stack, 1)
        left.setMinimumWidth(self._look.sizes.px(350))
        drawn = QWidget()
        column = QVBoxLayout(drawn)
        column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(self.side_words, 1)
        head.addWidget(self.side)
        column.addLayout(head)
        column.addWidget(self.canvas, 1)
        wired = QWidget()
        below = QVBoxLayout(wired)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(self.face, 1)
        below.addWidget(self.windings.joining)
        for made in (drawn, wired, self.sketch):
            self.centre.addWidget(made)
        middle = Panel("")
        middle.title.hide()
        middle.aside.hide()
        middle.setAccessibleName("The drawing")
        middle.body.addWidget(self.centre, 1)
        self._middle = middle
        middle.body.addWidget(self.said)
        self.proof.setMinimumWidth(self._look.sizes.px(300))
        middle.setMinimumSize(self._look.sizes.px(330), self._look.sizes.px(300))
        left.setMinimumHeight(self._look.sizes.px(340))
        self.proof.setMinimumHeight(self._look.sizes.px(340))
        inner = QWidget()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, inner)
        self._columns.setContentsMargins(12, 12, 12, 12)
        self._columns.setSpacing(12)
        for panel, share in ((left, 0), (middle, 1), (self.proof, 0)):
            self._columns.addWidget(panel, share)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(self.bar)
        page.addWidget(Room(inner), 1)
        self._foot = QVBoxLayout()
        self._foot.setContentsMargins(16, 0, 16, 0)
        page.addLayout(self._foot)

    def _switch(self, at: int, name: str) -> QPushButton:
        made = QPushButton(name)
        made.setCheckable(True)
        made.setProperty("role", "switch")
        made.setAutoDefault(False)
        made.setAccessibleName(name)
        made.setShortcut(QKeySequence(f"Ctrl+{at + 1}"))
        made.setToolTip(f"({made.shortcut().toString(QKeySequence.SequenceFormat.NativeText)})")
        made.setChecked(at == 0)
        self._group.addButton(made, at)
        made.clicked.connect(lambda: self.see(at))
        return made

    # ---- shown

    def see(self, at: int) -> None:
        """One of PAGES; what was typed on the last is put first, or stays there with what is wrong with it."""
        if at != 1 and not self.windings.commit():
            at = 1
        self.switches[at].setChecked(True)
        self.stack.setCurrentIndex(at)
        self.centre.setCurrentIndex((0, 1, 2, 1)[at])
        self.windings.joining.setVisible(at == 1)
        self._fit_rooms()
        self.refresh()

    def refresh(self) -> None:
        desk, draft = self.desk, self.desk.draft
        self.hand.follow(draft)
        self.bar.show_desk(narrow=self._narrow)
        plug = self._plug()
        self.canvas.show_plug(plug, self.hand.pin, wire_side=self.hand.wire_side)
        rename(self.side, MATING_SIDE if self.hand.wire_side else WIRE_SIDE)
        self.side_words.setText(self._side_words(plug))
        self.plugs.show_plug(plug, self.hand.pin)
        at = self.stack.currentIndex()
        if at in (1, 3):
            self.face.show_draft(draft, self.hand)
        (lambda: None, self.windings.show_desk, self.coils.show_desk, self.checks.show_desk)[at]()
        if at == 2:
            self.sketch.set_pattern(sketch_pattern(draft))
        self.proof.show_desk(desk, self.hand.nodes)
        if desk.said is not self.said.said:  # else its ways on would lose the focus at each step
            self.said.say(desk.said)

    def _side_words(self, plug: Connector | None) -> str:
        if plug is None:
            return "No plug is drawn yet: add one, and say which side of it you look into."
        side = "from the wire side (mirrored)" if self.hand.wire_side else "looking into the mating side"
        return f"Plug {plug.name}, {side}. Click a free point to put a cavity, drag one to move it."

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        ways = QBoxLayout.Direction
        self._columns.setDirection(ways.TopToBottom if self._narrow else ways.LeftToRight)
        self.bar.show_desk(narrow=self._narrow)
        self._fit_rooms()
        # below the drawing; where that may be scrolled away, below everything
        (self._foot if self._narrow else self._middle.body).addWidget(self.said)
        if self.stack.currentIndex() in (1, 3):
            self.face.show_draft(self.desk.draft, self.hand)

    @property
    def _narrow(self) -> bool:
        return self.width() < self._look.sizes.px(1040)

    def _fit_rooms(self) -> None:
        """Only the pane in sight says how high it must be."""
        for i, room in enumerate(self._rooms):
            room.set_whole(self._narrow and i == self.stack.currentIndex())

    def minimumSizeHint(self) -> QSize:
        return QSize(640, 400)

    def take_focus(self) -> None:
        self.name.setFocus()

    # ---- done

    def commit(self) -> bool:
        """What was typed and not taken over yet, is; False where it can't be, which is said beside it."""
        return self.bar.commit() and self.plugs.commit() and self.windings.commit()

    def leave(self) -> None:
        """Nothing that comes later is shown here: a proof on its way, a draft that was kept."""
        self.desk.on_change = lambda: None

    def _go_back(self) -> None:
        self.commit()
        self._back()

    def _save(self) -> None:
        if self.commit():
            self.desk.save()

    def from_unit(self) -> None:
        """Asks for the unit that the ohms are to come from."""
        if not self.commit():
            return
        dialog = UnitDialog(self, self._look)
        dialog.accepted.connect(lambda: self._find_unit(dialog.tag.text().strip()))
        self._ask(dialog)

    def _ask(self, dialog: QDialog) -> None:
        def done() -> None:
            self.dialog = None
            dialog.deleteLater()

        self.dialog = dialog
        dialog.finished.connect(done)
        dialog.open()

    def add_plug(self) -> None:
        dialog = AddPlugDialog(self, self._look, self.desk.draft)

        def accepted() -> None:
            form = dialog.form
            self.hand.wire_side = form.wire_side
            if self.desk.edit(form.drawn):
                self._see_plug(self.desk.draft.plugs[-1].name)
                self.see(0)
                self.canvas.setFocus()

        dialog.accepted.connect(accepted)
        self._ask(dialog)

    def _plug(self) -> Connector | None:
        return next((p for p in self.desk.draft.plugs if p.name == self.hand.plug), None)

    def _see_plug(self, name: str) -> None:
        self.hand.plug = name
        self.hand.pin = ""
        self.refresh()

    def _choose_pin(self, pin: str) -> None:
        self.hand.pin = pin
        self.refresh()

    def _rename_pin(self, pin: str) -> None:
        self._choose_pin(pin)
        self.plugs.pin.setFocus()
        self.plugs.pin.selectAll()

    def _put(self, place: plugs.Place) -> None:
        if self._plug() is None:
            self.add_plug()
            return
        if self._on_plug(lambda d, n: plugs.add_cavity(d, n, place)):
            plug = self._plug()
            assert plug is not None
            self._choose_pin(plug.cavities[-1].pin)

    def _on_plug(self, change: Callable[[Draft, str], Draft]) -> bool:
        name = self.hand.plug
        return self._plug() is not None and self.desk.edit(lambda d: change(d, name))

    def _flip(self) -> None:
        self.hand.wire_side = not self.hand.wire_side
        self.refresh()

    def _press(self, node: str) -> None:
        self.hand.press(node)
        self.refresh()

    def _let_go(self) -> None:
        """What was joined is in hand no more: the next winding may begin where this one ends."""
        self.hand.nodes = ()
        self.refresh()

    def _take_pair(self, pair: Pair) -> None:
        self.hand.nodes = tuple(pair)
        self.refresh()

    def _point(self, name: str) -> None:
        self.hand.points = (*self.hand.points, name)
        self._press(name)

    def _light(self, about: tuple[str, ...]) -> None:
        self.face.light(frozenset(about))
        self.sketch.set_lit(frozenset(about))
        self.canvas.light(frozenset(about))
