"""What the winding was wound of, and what on the shelf could take its place: ranked, and one of them taken."""

from uuid import UUID

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.rewindwords import BUILD_WORDS
from workbench.sitting.rewindforms import WireForm
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwire import WireDesk
from workbench.window.look import Look
from workbench.window.parts import Panel, allow, button, label, row_of
from workbench.window.rewind.deskpage import DeskPage, FieldGrid, FieldsRoom, choose, put, set_role
from workbench.window.rewind.wiretable import WireTable

FORM = 330
RECKONING = "Reckoning …"


class WirePage(DeskPage):
    def __init__(self, look: Look, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(rewinding, parent)
        self.desk = WireDesk(rewinding)
        self._look = look
        self._shown_form: tuple[UUID, WireForm] | None = None
        form, shelf, grid = Panel("As it was"), Panel("Off the shelf"), FieldGrid(look, 3)
        self._fields_room = FieldsRoom(grid)
        self._side = self.put_together(look, form, self._fields_room, (shelf, 1))
        self._fill_form(form, grid)
        self._fill_shelf(shelf)

    def _fill_form(self, panel: Panel, g: FieldGrid) -> None:
        panel.body.addWidget(self._fields_room, 1)
        self.gauge = g.line("Gauge", "as in AWG 18, or 1.0 mm")
        self.build = g.choice("Build", {w: b for b, w in BUILD_WORDS.items()}, "how much enamel")
        self.turns = g.line("Turns a coil")
        self.strands = g.line("Strands", "in hand: how many wires side by side made a turn")
        self.coils = g.line("Coils", "of the whole winding; of one phase where all three are wound")
        self.paths = g.line("Groups", "side by side; 1 where all are in series")
        self.mean_turn = g.line("Turn, mm", "mean turn: its length in the middle of the coil")
        self.window_ = g.line("Window, mm²", "room of one side of a coil; nothing if not known")
        g.heading("Where its current counts, if known")
        self.idle = g.line("Idle, rpm")
        self.working = g.line("Working, rpm")
        self.poles = g.line("Poles", "of the flywheel")
        self.henries = g.line("L, mH", "inductance, measured on one that is sound")
        self.volts = g.line("V a 1000 rpm", "volts, rms, with nothing connected")
        self.load = g.line("Load, Ω", "0 or nothing: short circuit")
        self.celsius = g.line("Copper, °C", "how warm it runs")
        self.tried = g.line("Turns to try", "as in 110 120; nothing: those that it had")
        names = (
            "gauge", "turns", "strands", "coils", "paths", "mean_turn", "idle", "working", "poles", "henries", "volts",
            "load", "celsius", "tried",
        )  # fmt: skip
        self._lines = {n: getattr(self, n) for n in names} | {"window": self.window_}
        self.fields = {**self._lines, "build": self.build}
        for line in self._lines.values():
            line.textEdited.connect(lambda _: self._typed())
        self.build.activated.connect(lambda _: self._typed())
        self.rank = button("Rank the shelf", self._ask, key="Ctrl+R", tip="Notes this, and ranks what is on the shelf")
        panel.body.addWidget(self.rank)
        panel.setMinimumWidth(self._look.sizes.px(FORM))

    def _fill_shelf(self, panel: Panel) -> None:
        self.note = label("", wrap=True)
        self.table = WireTable(self._look)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._show_chosen())
        self.table.doubleClicked.connect(lambda _: self._take())
        self.chosen = label("", "title", wrap=True)
        self.told = label("", wrap=True)
        self.cautions = label("", wrap=True)
        self.cautions.setProperty("verdict", "continuous")
        self.take = button("Take this wire", self._take, key="Ctrl+T", strong=True, tip="Notes it for this rewind")
        self.taken = label("", wrap=True)
        panel.body.addWidget(self.note)
        panel.body.addWidget(self.table, 1)
        for line in (self.chosen, self.told, self.cautions):
            panel.body.addWidget(line)
        panel.body.addLayout(row_of(self.take))
        panel.body.addWidget(self.taken)
        panel.body.addStretch(0)
        panel.setMinimumWidth(self._look.sizes.px(320))

    # ---- shown

    def show_rewinding(self) -> None:
        self._show_form()
        ranked = self.desk.ranked
        rows = ranked.rows if ranked is not None else ()
        if rows != self.table.ranking.rows:
            self.table.show_rows(rows)
        note = ranked.note if ranked is not None else RECKONING if self.desk.work is not None else self.desk.first
        self.note.setText(note)
        self.note.setVisible(bool(note))
        self.taken.setText(self.desk.taken)
        self.taken.setVisible(bool(self.desk.taken))
        self._show_chosen()
        set_role(self.rank, "" if rows else "strong")
        self.mark_refused()

    def take_focus(self) -> None:
        (self.table if self.table.ranking.rows else self.gauge).setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.fit(self.width())

    def _show_form(self) -> None:
        """What is being typed stays until something else is asked or another winding is in hand."""
        key, form = self.rewinding.record.id, self.desk.form
        if self._shown_form != (key, form):
            if self._shown_form is not None:
                self.rewinding.unnoted.discard(self._shown_form[0])
            self._shown_form = (key, form)
            for name, field in self._lines.items():
                put(field, getattr(form, name))
            choose(self.build, form.build)

    def _show_chosen(self) -> None:
        row = self.table.chosen()
        self.chosen.setText(f"{row.cells[0]}, {row.cells[1]} turns" if row else "")
        self.told.setText(f"{row.told} {row.takes}" if row else "")
        self.cautions.setText("\n".join(row.cautions) if row else "")
        for line in (self.chosen, self.told, self.cautions):
            line.setVisible(bool(line.text()))
        for later in (self.take, self.table):
            later.setVisible(bool(self.table.ranking.rows))
        may_take = row is not None and not row.taken
        allow(self.take, may_take, "Choose a wire above that is not taken yet", after=self.table)

    # ---- done

    def _typed(self) -> None:
        """What stands here is no longer what is written down."""
        self.rewinding.unnoted.add(self.rewinding.record.id)

    def _ask(self) -> None:
        typed = {name: field.text() for name, field in self._lines.items()}
        self.desk.ask(WireForm(build=self.build.currentData(), **typed))

    def _take(self) -> None:
        row = self.table.chosen()
        if row is not None:
            self.desk.take(row.place)
