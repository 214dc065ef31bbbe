"""Tooth after tooth at the bench: the step in hand seen large, its tooth lit on the core, all steps below."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from workbench.rewind.layout import Connection
from workbench.rewindwords import CONNECTION_WORDS, FACING_WORDS, SENSE_SEEN
from workbench.sitting.rewindforms import LayoutForm
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindsteps import StepsWork, StepView
from workbench.stator.layout import Facing
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, allow, button, label, set_verdict
from workbench.window.rewind.coresketch import CoreSketch
from workbench.window.rewind.deskpage import DeskPage, FieldGrid, FieldsRoom, choose, put, set_role
from workbench.window.rewind.sensesign import SenseSign

FORM = 288
_OF_ONE, _OF_THREE = Connection.SERIES, (Connection.WYE, Connection.DELTA)
_LAST = (
    "Before varnish: a small limited dc through each phase, and a compass at every tooth. Ohms can't tell the sense."
)
FIRST = "Lay the winding out first: then it is wound step by step here."


class StepsPage(DeskPage):
    def __init__(self, look: Look, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(rewinding, parent)
        self.work = StepsWork(rewinding)
        self._look = look
        self._shown_form: tuple[object, LayoutForm] | None = None
        form, core, grid = Panel("Layout"), Panel("Core"), FieldGrid(look)
        step = self._step_panel = Panel("Step")
        self._fields_room = FieldsRoom(grid)
        self._side = self.put_together(look, form, self._fields_room, (step, 5), (core, 4))
        self._fill_form(form, grid)
        self._fill_step(step)
        self._fill_core(core)

    # ---- made

    def _fill_form(self, panel: Panel, grid: FieldGrid) -> None:
        panel.body.addWidget(self._fields_room, 1)
        self.teeth = grid.line("Teeth", "of the whole core")
        self.poles = grid.line("Poles", "of the flywheel; nothing where nobody could count them")
        self.facing = grid.choice("Teeth point", {w: f for f, w in FACING_WORDS.items()})
        self.phases = grid.choice("Phases", {"one": 1, "three": 3})
        self.connection = grid.choice("Connection", {w: c for c, w in CONNECTION_WORDS.items()}, wide=True)
        self.each = grid.line("Coils a phase", "nothing for as many as there is room for")
        self.paths = grid.line("Groups", "side by side in each phase; 1 where all are in series")
        self.layers = grid.choice("Coils", {"on every tooth": 2, "on every second tooth": 1}, wide=True)
        self.free = grid.wide_line("Teeth kept free", "for other windings, as in 6, 7, 8")
        self.senses = grid.choice(
            "Senses", {"as the pattern has them": True, "worked out anew": False}, SENSE_SEEN, wide=True
        )
        self.fields = {
            "teeth": self.teeth, "poles": self.poles, "phases": self.phases, "connection": self.connection,
            "coils_per_phase": self.each, "paths": self.paths, "layers": self.layers, "free": self.free,
            "coils": self.senses, "as_found": self.senses,
        }  # fmt: skip
        self.lay_out = button("Lay it out", self._lay_out, key="Ctrl+L", tip="Makes the steps of it")
        self.phases.activated.connect(lambda _: self._phases_chosen())
        panel.body.addWidget(self.lay_out)
        panel.setMinimumWidth(self._look.sizes.px(FORM))

    def _fill_step(self, panel: Panel) -> None:
        s = self._look.sizes
        self.tooth, self.sense = label("", "big"), label("", "value")
        self.tooth.setAccessibleDescription(SENSE_SEEN)
        self.sign = SenseSign(self._look)
        self.start, self.finish = label("", wrap=True), label("", wrap=True)
        self.seen_so = label(SENSE_SEEN[0].upper() + SENSE_SEEN[1:] + ".", "quiet", wrap=True)
        large = QGridLayout()
        large.setHorizontalSpacing(s.px(14))
        large.addWidget(self.sign, 0, 0, 2, 1, Qt.AlignmentFlag.AlignTop)
        large.addWidget(self.tooth, 0, 1)
        large.addWidget(self.sense, 1, 1)
        large.setColumnStretch(1, 1)
        self.wound = button("Wound", self.work.tick, key="Ctrl+Return", strong=True, tip="Ticks this step: Space")
        self.back = button("Take back", self.work.take_back, key="Ctrl+Z", tip="Takes a tick away again")
        for large_one in (self.wound, self.back):
            large_one.setProperty("tall", True)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        acts.addWidget(self.wound, 2)
        acts.addWidget(self.back, 1)
        self.steps = RowList(self._look, "Steps")
        self.steps.clicked.connect(lambda _: self._step_chosen())
        self.steps.activated.connect(lambda _: self._step_chosen())
        self.steps.selectionModel().currentChanged.connect(lambda *_: self._step_chosen(by_keys=True))
        panel.body.addLayout(large)
        for line in (self.seen_so, self.start, self.finish):
            panel.body.addWidget(line)
        panel.body.addLayout(acts)
        panel.body.addWidget(self.steps, 1)
        panel.body.addStretch(0)
        panel.setMinimumWidth(s.px(300))

    def _fill_core(self, panel: Panel) -> None:
        self.core = CoreSketch(self._look)
        self.reckoned = label("", wrap=True)
        self.reckoned.setAlignment(Qt.AlignmentFlag.AlignTop)
        panel.body.addWidget(self.core, 1)
        panel.body.addWidget(self.reckoned)
        panel.setMinimumWidth(self._look.sizes.px(240))

    # ---- shown

    def show_rewinding(self) -> None:
        self._show_form()
        views, shown, laid = self.work.views, self.work.shown, self.work.laid
        self._step_panel.title.setText(
            f"Step {shown.number} of {len(views)}" if shown else "All steps are wound" if views else "Steps"
        )
        done = sum(v.done for v in views)
        self._step_panel.aside.setText(f"{done} of {len(views)} wound" if views else "")
        self.tooth.setText(shown.title if shown else "")
        self.sense.setText(", ".join(x for x in (shown.sense, shown.turns) if x) if shown else "")
        self.sign.show_sense(shown.coil.sense if shown else 0)
        for line, text in (
            (self.start, _capital(shown.start) if shown else FIRST if not views else _LAST),
            (self.finish, f"Then {shown.finish}." if shown else ""),
        ):
            line.setText(text)
        for hidden in (self.tooth, self.sense, self.sign, self.seen_so, self.finish):
            hidden.setVisible(shown is not None)
        for later in (self.wound, self.back, self.steps):
            later.setVisible(bool(views))
        may_wind = shown is not None and not shown.done
        allow(self.wound, may_wind, "Choose a coil below that is not wound yet", after=self.steps)
        allow(self.back, done > 0, "No coil is wound yet", after=self.wound)
        self.steps.rows.show_rows([_row(v) for v in views])
        self.steps.select_key(shown.number if shown else None)
        bare = self.rewinding.pattern.layout
        self.core.show_laid(laid, bare, shown.number if shown else None)
        reckoned = self.work.reckoned
        self.reckoned.setText("\n".join(reckoned.lines) if reckoned else "")
        set_verdict(self.reckoned, "" if reckoned is None or reckoned.good else "out")
        set_role(self.lay_out, "" if views else "strong")
        self.mark_refused()

    def take_focus(self) -> None:
        (self.wound if self.wound.isEnabled() else self.teeth).setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.fit(self.width())

    def _show_form(self) -> None:
        """What is being typed stays until something else is laid out or another winding is in hand."""
        key, form = self.rewinding.record.id, self.work.form
        if self._shown_form == (key, form):
            return
        self._shown_form = (key, form)
        for field, text in (
            (self.teeth, form.teeth), (self.poles, form.poles), (self.each, form.coils_per_phase),
            (self.paths, form.paths), (self.free, form.free),
        ):  # fmt: skip
            put(field, text)
        for box, data in (
            (self.facing, form.facing), (self.phases, form.phases), (self.connection, form.connection),
            (self.layers, form.layers), (self.senses, form.as_found),
        ):  # fmt: skip
            choose(box, data)

    # ---- done

    def _lay_out(self) -> None:
        # Qt hands back plain texts
        form = LayoutForm(
            self.teeth.text(), Facing(self.facing.currentData()), self.poles.text(), self.phases.currentData(),
            Connection(self.connection.currentData()), self.each.text(), self.layers.currentData(), self.paths.text(),
            self.free.text(), self.senses.currentData(),
        )  # fmt: skip
        self.work.lay_out(form)

    def _phases_chosen(self) -> None:
        """The usual connection of so many phases, where the other kind stands there."""
        three = self.phases.currentData() == 3
        if three is not (self.connection.currentData() in _OF_THREE):
            choose(self.connection, _OF_THREE[0] if three else _OF_ONE)

    def _step_chosen(self, *, by_keys: bool = False) -> None:
        """By keys only while the list has the focus: it moves its own selection along with the work."""
        key = self.steps.key()
        if isinstance(key, int) and (self.steps.hasFocus() or not by_keys):
            self.work.look_at(key)


def _row(v: StepView) -> Row:
    detail = f"{v.phase}; {v.start}; {v.finish}"
    return Row(v.number, f"{v.number}   {v.title}, {v.sense}", detail, "wound" if v.done else "", "", v.spoken)


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
