"""As wound: steps ticked, coils counted and read, senses tested tooth by tooth, the run; then the rewind is done."""

from functools import partial

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from workbench.rewind.woundrecord import Way
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwound import WoundDesk
from workbench.window.look import Look
from workbench.window.parts import Panel, allow, button, label, set_verdict
from workbench.window.rewind.deskpage import DeskPage
from workbench.window.rewind.sensesketch import SenseSketch
from workbench.window.rewind.woundcoils import WoundCoils
from workbench.window.rewind.woundsteps import WoundSteps
from workbench.woundwords import SENSE_MIND

_WAYS = (
    (Way.CLOCKWISE, "Clockwise", "seen from the tooth's tip towards its root (C on the core)"),
    (Way.ANTICLOCKWISE, "Anticlockwise", "seen from the tooth's tip towards its root (A on the core)"),
    (Way.NORTH, "North", "the tip draws the compass's south end (N on the core)"),
    (Way.SOUTH, "South", "the tip draws the compass's north end (S on the core)"),
)


class WoundPage(DeskPage):
    def __init__(self, look: Look, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(rewinding, parent)
        self.desk = WoundDesk(rewinding)
        self._look = look
        self.steps = WoundSteps(look, self.desk)
        self.coils = WoundCoils(look, self.desk)
        self.sense = self._make_sense()
        self.fields = {**self.steps.inputs.fields, **self.coils.fields}
        self._side = self.put_together(look, self.steps, self.steps.room, (self.coils, 4), (self.sense, 4))

    def _make_sense(self) -> Panel:
        panel = Panel("Sense at every tooth")
        self.core = SenseSketch(self._look)
        places = self.desk
        self.core.chosen.connect(lambda place: places.choose(places.asked[place].spot))
        self.core.moved.connect(self.desk.move)
        self.core.seen.connect(self.desk.see_sense)
        self.told = label("", wrap=True)
        self.mind = label(SENSE_MIND, wrap=True)
        self.mind.setProperty("verdict", "continuous")
        self.ways = {way: button(text, partial(self.desk.see_sense, way), tip=tip) for way, text, tip in _WAYS}
        self.untested = button(
            "Not tested", partial(self.desk.see_sense, None), tip="Takes it away (Delete on the core)"
        )
        acts = QGridLayout()
        acts.setSpacing(8)
        for i, made in enumerate((*self.ways.values(), self.untested)):
            row, column, span = (0, 3 * i, 3) if i < 2 else (1, 2 * (i - 2), 2)
            acts.addWidget(made, row, column, 1, span)
        panel.body.addWidget(self.core, 1)
        panel.body.addWidget(self.told)
        panel.body.addLayout(acts)
        panel.body.addWidget(self.mind)
        panel.setMinimumWidth(self._look.sizes.px(260))
        return panel

    # ---- shown

    def show_rewinding(self) -> None:
        r, desk = self.rewinding, self.desk
        self.steps.show_desk(r.record.id, done=r.done)
        self.coils.show_desk(r.record.id)
        asked, lines, shown = desk.asked, desk.coils, desk.shown_coil
        places = range(len(asked))
        self.core.show_senses(
            desk.sketch,
            {i: asked[i].phase - 1 for i in places if asked[i].spot.tooth},
            {i: lines[i].compared for i in places},
            lines.index(shown),
            f"{shown.title}, {shown.sense}",
        )
        well, told = desk.sense_told
        self.told.setText(told)
        set_verdict(self.told, "" if well else "out")
        allow(self.untested, desk.work.way(shown.spot) is not None, "Its sense is not noted", after=self.core)
        self.mark_refused()

    def mark_refused(self) -> None:
        super().mark_refused()
        at_fault = self.fields.get(self.rewinding.refused_field)
        if at_fault is not None:  # in large text it may stand far below
            self.room.ensureWidgetVisible(at_fault)

    def take_focus(self) -> None:
        """Where a rewinder goes on: the counter's field while coils are wound, the step's tick after."""
        (self.coils.turns if not self.coils.all_counted else self.steps.tick).setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.fit(self.width())
