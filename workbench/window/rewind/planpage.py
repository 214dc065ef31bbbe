"""The new coil planned: what is typed of it, how it lies in its window, and what comes of it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from workbench.rewind.coil import Manner
from workbench.rewind.wire import Build
from workbench.rewindwords import BUILD_WORDS, FACING_WORDS, MANNER_WORDS, PLAN_PRACTICE
from workbench.sitting.planform import PlanForm
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindplan import Fact, PlanDesk
from workbench.stator.layout import Facing
from workbench.window.look import Look
from workbench.window.parts import Panel, Room, button, label, row_of, set_verdict
from workbench.window.rewind.deskpage import DeskPage, FieldGrid, FieldsRoom, choose, put, set_role
from workbench.window.rewind.windowsketch import WindowSketch

FORM = 330
FIRST = "Type the core, its lining and the wire, and plan the coil: how it lies in its window is drawn here to scale."
RECKONING = "Reckoning …"


class PlanPage(DeskPage):
    def __init__(self, look: Look, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(rewinding, parent)
        self.desk = PlanDesk(rewinding)
        self._look = look
        self._shown_form: tuple[object, PlanForm] | None = None
        self._shown_facts: tuple[Fact, ...] = ()
        self._lines_of_facts: list[tuple[QLabel, QLabel]] = []
        form, facts = Panel("New coil"), Panel("What comes of it")
        window = self._window_panel = Panel("In its window")
        grid = FieldGrid(look, 3)
        self._fields_room = FieldsRoom(grid)
        self._side = self.put_together(look, form, self._fields_room, (window, 5), (facts, 4))
        self._fill_form(form, grid)
        self._fill_window(window)
        self._fill_facts(facts)

    # ---- made

    def _fill_form(self, panel: Panel, g: FieldGrid) -> None:
        panel.body.addWidget(self._fields_room, 1)
        self._lines: dict[str, QLineEdit] = {}

        def lines(*some: tuple[str, str, str]) -> None:
            for name, caption, tip in some:
                self._lines[name] = g.line(caption, tip)

        g.heading("Wire")
        lines(("gauge", "Gauge", "as in AWG 18, or 1.0 mm; bare, as measured, where it is on no table"))
        self.build = g.choice("Build", {w: b for b, w in BUILD_WORDS.items()}, "how much enamel")
        lines(
            ("over", "Enamelled, mm", "over the enamel, as measured; nothing: by its build"),
            ("turns", "Turns a coil", ""),
            ("strands", "Strands", "in hand: how many wires side by side make a turn"),
            ("sheet", "Sheet, mm", "between layers; nothing: none"),
        )
        self.manner = g.choice("Wound", {w: m for m, w in MANNER_WORDS.items()}, wide=True)
        g.heading("Core: root and tip from the ring's middle")
        self.facing = g.choice("Teeth point", {w: f for f, w in FACING_WORDS.items()}, wide=True)
        lines(
            ("teeth", "Teeth", "of the whole core"),
            ("gap", "Gap, mm", "between the legs of a straight core"),
            ("tooth", "Tooth, mm", "its width"),
            ("stack", "Stack, mm", "its height"),
            ("root", "Root, mm", "how far the tooth's root is from the middle of the ring; 0 on a straight core"),
            ("tip", "Tip, mm", "how far the wire may go: shoe or end, from the middle of the ring"),
        )
        self.neighbour = g.choice(
            "Neighbour", {"is wound too": True, "is bare": False}, "whether the next tooth has a coil", wide=True
        )
        g.heading("Lining, mm; nothing where there is none")
        lines(
            ("flank", "On the sides", "of the tooth"),
            ("ends", "On the ends", "of the stack"),
            ("root_lining", "At the root", "or the bobbin's flange there"),
            ("tip_lining", "At the tip", "or the bobbin's flange there"),
            ("clear", "Kept clear", "of the neighbour"),
            ("flange", "Flanges", "how far they stand out from the tooth; nothing: they don't limit the coil"),
        )
        g.heading("Room, mm; nothing where it wasn't measured")
        lines(
            ("flywheel", "To flywheel", "radius of what turns; on a straight core from the tooth's root"),
            ("above", "Over stack", "free height over each end of the stack"),
            ("least", "Must stay", "clear at least"),
        )
        g.heading("Winding")
        lines(
            ("coils", "Coils", "of the whole winding; of one phase where all three are wound"),
            ("paths", "Groups", "side by side; 1 where all are in series"),
            ("celsius", "Copper, °C", "how warm it runs"),
        )
        g.heading(f"Practice: {PLAN_PRACTICE}")
        lines(
            ("scramble", "Fill, %", "over enamel, that hands get as it falls"),
            ("warns", "Warned, %", "fill over enamel from which a layered coil is warned of"),
            ("bulge", "Bulge, %", "how much more the build is at the ends of the stack"),
            ("stretch", "Stretch, %", "how much longer the wire gets under tension"),
            ("tails", "Leads, mm", "both leads' wire of a coil together"),
            ("spare", "Spare, %", "bought on top"),
            ("core_u", "Core ±, mm", "standard uncertainty of the tooth's width and the stack's height"),
        )
        self.fields = {
            **self._lines, "build": self.build, "manner": self.manner, "facing": self.facing,
            "neighbour": self.neighbour,
        }  # fmt: skip
        self.turns = self._lines["turns"]
        self.facing.currentIndexChanged.connect(lambda _: self._facing_chosen())
        self.plan = button("Plan it", self._plan, key="Ctrl+P", tip="Whether it goes in, and what comes of it")
        self.note = button("Note this plan", self._note, key="Ctrl+Return", tip="Keeps it for this rewind")
        panel.body.addLayout(row_of(self.plan, self.note))
        panel.setMinimumWidth(self._look.sizes.px(FORM))

    def _fill_window(self, panel: Panel) -> None:
        self.headline = label("", "title", wrap=True)
        self.said = label("", wrap=True)
        self.sketch = WindowSketch(self._look, self.rewinding.reckon)
        panel.body.addWidget(self.headline)
        panel.body.addWidget(self.said)
        panel.body.addWidget(self.sketch, 1)
        panel.setMinimumWidth(self._look.sizes.px(260))

    def _fill_facts(self, panel: Panel) -> None:
        held = QWidget()
        held.setProperty("role", "clear")
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._look.sizes.px(8))
        self.noted = label("", wrap=True)
        self.facts = QWidget()
        self.facts.setProperty("role", "clear")
        self._rows = QGridLayout(self.facts)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setColumnStretch(1, 1)
        self._rows.setHorizontalSpacing(self._look.sizes.px(12))
        self.cautions = label("", wrap=True)
        set_verdict(self.cautions, "continuous")
        for part in (self.facts, self.cautions, self.noted):
            column.addWidget(part)
        column.addStretch(1)
        panel.body.addWidget(Room(held), 1)
        panel.setMinimumWidth(self._look.sizes.px(250))

    # ---- shown

    def show_rewinding(self) -> None:
        self._show_form()
        view = self.desk.view
        self.headline.setText(view.headline if view else RECKONING if self.desk.reckoning else "")
        set_verdict(self.headline, "out" if view and not view.fits else "")
        self.said.setText(view.said if view else "" if self.desk.reckoning else FIRST)
        self.headline.setVisible(bool(self.headline.text()))
        self.said.setVisible(bool(self.said.text()))
        self.sketch.setVisible(view is not None)
        self._window_panel.body.setStretchFactor(self.said, 0 if view else 1)
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.sketch.show_drawing(view.drawing if view else None, view.spoken if view else "")
        self._show_facts(view.facts if view else ())
        self.cautions.setText("\n".join(view.cautions) if view else "")
        self.cautions.setVisible(bool(self.cautions.text()))
        self.noted.setText(self.desk.noted)
        self.noted.setVisible(bool(self.desk.noted))
        set_role(self.plan, "" if view else "strong")
        set_role(self.note, "strong" if view and view.fits and not self.desk.noted else "")
        self.mark_refused()

    def take_focus(self) -> None:
        self._lines["gauge" if not self._lines["gauge"].text() else "turns"].setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.fit(self.width())

    def _show_form(self) -> None:
        """What is being typed stays until something else is planned or another winding is in hand."""
        key, form = self.rewinding.record.id, self.desk.form
        if self._shown_form == (key, form):
            return
        self._shown_form = (key, form)
        for name, field in self._lines.items():
            put(field, getattr(form, name))
        for box, data in (
            (self.build, form.build), (self.manner, form.manner), (self.facing, form.facing),
            (self.neighbour, form.neighbour),
        ):  # fmt: skip
            choose(box, data)
        self._facing_chosen()

    def _show_facts(self, facts: tuple[Fact, ...]) -> None:
        """Lines are kept and filled anew: to make them each time would hold the window for half a frame."""
        if facts == self._shown_facts:
            return
        self._shown_facts = facts
        while len(self._lines_of_facts) < len(facts):
            name, value, row = label("", "quiet", wrap=True), label("", wrap=True), len(self._lines_of_facts)
            self._rows.addWidget(name, row, 0, Qt.AlignmentFlag.AlignTop)
            self._rows.addWidget(value, row, 1)
            self._lines_of_facts.append((name, value))
        for i, (name, value) in enumerate(self._lines_of_facts):
            if i < len(facts):
                name.setText(facts[i].name)
                value.setText(facts[i].value)
                value.setAccessibleName(f"{facts[i].name}: {facts[i].value}")
            for part in (name, value):
                part.setVisible(i < len(facts))

    def _facing_chosen(self) -> None:
        straight = self._facing is Facing.STRAIGHT
        self._lines["gap"].setEnabled(straight)
        self._lines["teeth"].setEnabled(not straight)

    @property
    def _facing(self) -> Facing:
        return Facing(self.facing.currentData())  # Qt hands back a plain text

    # ---- done

    def _plan(self) -> None:
        self.desk.plan(self._typed())

    def _note(self) -> None:
        self.desk.note(self._typed())

    def _typed(self) -> PlanForm:
        typed = {name: field.text() for name, field in self._lines.items()}
        return PlanForm(
            build=Build(self.build.currentData()), manner=Manner(self.manner.currentData()), facing=self._facing,
            neighbour=self.neighbour.currentData(), **typed,
        )  # fmt: skip
