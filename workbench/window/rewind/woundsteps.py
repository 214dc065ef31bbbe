"""What is done of a rewind, step by step: the list, what the step in hand wants noted, what is still lacking."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.rewind.woundrecord import WoundStep
from workbench.sitting.rewindwound import WoundDesk
from workbench.sitting.rewindwoundform import StepForm
from workbench.sitting.rewindwoundviews import RUN, StepLine
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, allow, button, label, rename, row_of, set_verdict
from workbench.window.rewind.deskpage import FieldGrid, FieldsRoom, choose, put, set_role

WIDE = 320
# steps at which somebody can come to harm
_HARM = (WoundStep.STRIP_ENDS, WoundStep.INSULATION, WoundStep.VARNISH, WoundStep.BAKE, RUN)
_RAN = {"not run": "", "ran well": "well", "ran badly": "badly"}


class StepFields(QWidget):
    """The fields of one step at a time."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setProperty("role", "clear")
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look.sizes.px(6))
        insulation, varnish, bake, run, note = (self._grid(n) for n in (3, 1, 2, 1, 1))
        self.volts = insulation.line("Test, V dc", "at most 500")
        self.megohms = insulation.line("Shown, MΩ", "after a minute; the end of its scale as in >200")
        self.warm = insulation.line("Part, °C", "how warm it is")
        self.lot = varnish.line("Varnish lot", "as it stands on the can")
        self.bake_celsius = bake.line("Oven, °C", "what it was set to")
        self.bake_hours = bake.line("Hours", "as in 4, 1.5 or 1:40")
        self.ran = run.choice("On the machine", dict(_RAN))
        self.seen = run.line("What was seen", "volts, lights, spark, at what speed")
        self.note = note.line("Note", "a word where it matters")
        self._of = {
            WoundStep.INSULATION: insulation, WoundStep.VARNISH: varnish, WoundStep.BAKE: bake, RUN: run,
        }  # fmt: skip
        self._note = note
        self.fields = {
            "volts": self.volts, "megohms": self.megohms, "insulation_celsius": self.warm, "lot": self.lot,
            "bake_celsius": self.bake_celsius, "bake_hours": self.bake_hours, "seen": self.seen, "note": self.note,
        }  # fmt: skip
        self._lines = {
            "volts": self.volts, "megohms": self.megohms, "celsius": self.warm, "lot": self.lot,
            "bake_celsius": self.bake_celsius, "bake_hours": self.bake_hours, "seen": self.seen, "note": self.note,
        }  # fmt: skip

    def _grid(self, columns: int) -> FieldGrid:
        made = FieldGrid(self._look, columns)
        self._column.addWidget(made)
        return made

    @property
    def form(self) -> StepForm:
        return StepForm(ran=self.ran.currentData(), **{name: line.text() for name, line in self._lines.items()})

    def show_form(self, form: StepForm) -> None:
        for name, line in self._lines.items():
            put(line, getattr(form, name))
        choose(self.ran, form.ran)

    def show_step(self, key: object) -> None:
        for step, grid in self._of.items():
            grid.setVisible(step == key)
        self._note.setVisible(key != RUN)


class _Whole(FieldsRoom):
    """Its few fields never scroll."""

    def set_whole(self, whole: bool) -> None:
        super().set_whole(True)


class WoundSteps(Panel):
    def __init__(self, look: Look, desk: WoundDesk) -> None:
        super().__init__("Steps")
        self._desk = desk
        self._shown_form: tuple[object, object, StepForm] | None = None
        self.list = RowList(look, "Steps")
        self.list.clicked.connect(lambda _: self._chosen())
        self.list.activated.connect(lambda _: self._chosen())
        self.list.selectionModel().currentChanged.connect(lambda *_: self._chosen(by_keys=True))
        self.step, self.mind = label("", "title", wrap=True), label("", wrap=True)
        self.inputs = StepFields(look)
        self.room = _Whole(self.inputs)
        self.tick = button("Done", self._tick, key="Ctrl+Return", strong=True, tip="Ticks this step, with its hour")
        self.back = button("Take back", desk.take_back, key="Ctrl+Z", tip="Takes the last tick away again")
        self.lacks = label("", wrap=True)
        self.lacks.setProperty("verdict", "continuous")
        self.finish = button(
            "Rewind done", desk.finish, key="Ctrl+D", tip="Closes this rewind; its wire comes off the shelf"
        )
        self.body.addWidget(self.list, 1)
        for line in (self.step, self.mind, self.room):
            self.body.addWidget(line)
        self.body.addLayout(row_of(self.tick, self.back))
        self.body.addWidget(self.lacks)
        self.body.addWidget(self.finish)
        self.setMinimumWidth(look.sizes.px(WIDE))

    def show_desk(self, record: object, *, done: bool) -> None:
        """`done`: the rewind is finished."""
        desk = self._desk
        lines, shown = desk.steps, desk.shown_step
        ticked = sum(x.done for x in lines if x.key != RUN)
        self.aside.setText(f"{ticked} of {len(lines) - 1} done")
        self.list.rows.show_rows([_row(x) for x in lines])
        self.list.select_key(shown.key)
        self.step.setText(shown.title)
        self.mind.setText(shown.mind)
        set_verdict(self.mind, "continuous" if shown.key in _HARM else "")
        self.inputs.show_step(shown.key)
        self.room.updateGeometry()  # other fields take other room
        form = desk.step_form
        # what is being typed stays until another step is in hand or its figures change
        if self._shown_form != (record, shown.key, form):
            self._shown_form = (record, shown.key, form)
            self.inputs.show_form(form)
        rename(self.tick, "Keep" if shown.done or shown.key == RUN else "Done")
        allow(self.back, ticked > 0 or shown.done, "No step is done yet", after=self.tick)
        self.lacks.setText(desk.lacks)
        self.lacks.setVisible(bool(desk.lacks) and not done)
        set_role(self.tick, "" if shown.done else "strong")
        set_role(self.finish, "strong" if ticked == len(lines) - 1 and shown.done and not done else "")
        allow(self.finish, not done, "This rewind is finished", after=self.list)

    def _tick(self) -> None:
        self._desk.tick(self.inputs.form)

    def _chosen(self, *, by_keys: bool = False) -> None:
        """By keys only while the list has the focus: it moves its own selection along with the work."""
        key = self.list.key()
        if key is not None and (self.list.hasFocus() or not by_keys):
            self._desk.look_at(key)  # type: ignore[arg-type]  # the rows' keys are steps


def _row(x: StepLine) -> Row:
    value = "done" if x.done and x.key != RUN else ""
    return Row(x.key, x.title, " · ".join(t for t in (x.when, x.detail) if t), value, "", x.spoken)
