"""A winding as it was found: seen before the knife, counted and measured under it, and what that comes to together."""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.rewindwords import SENSE_SEEN
from workbench.sitting.foundform import FoundForm
from workbench.sitting.rewindfound import FoundView, FoundWork, GaugeView, QuantityView
from workbench.sitting.rewinding import Rewinding
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, Room, allow, button, label, set_verdict
from workbench.window.rewind.deskpage import DeskPage, FieldsRoom, choose, put, set_role
from workbench.window.rewind.foundfields import FoundFields

FORM, SAID = 372, 300
NOTHING_YET = (
    "Note what is seen before it is cut, and what is counted, measured and weighed under the knife. "
    "Anything may be left out: what nobody counted is worked out of the rest."
)
WORKING = "Working it out …"


class FoundPage(DeskPage):
    def __init__(self, look: Look, rewinding: Rewinding, parent: QWidget | None = None) -> None:
        super().__init__(rewinding, parent)
        self.work = FoundWork(rewinding)
        self._look = look
        self._shown_form: tuple[object, FoundForm] | None = None
        self.form = FoundFields(look)
        self._form_panel, self._out_panel, self._said_panel = self._make_form(), self._make_out(), self._make_said()
        panels = ((self._out_panel, 4), (self._said_panel, 5))
        self._side = self.put_together(look, self._form_panel, self._fields_room, *panels)
        self.form.fill()
        self.fields = self.form.fields

    # ---- made

    def _make_form(self) -> Panel:
        panel = Panel("As found")
        self.note = button("Note it", self._note, key="Ctrl+N", tip="Writes it down, and works out the rest")
        self._fields_room = FieldsRoom(self.form)
        panel.body.addWidget(self._fields_room, 1)
        panel.body.addWidget(self.note)
        panel.setMinimumWidth(self._look.sizes.px(FORM))
        return panel

    def _make_out(self) -> Panel:
        panel = Panel("What it comes to")
        self.first = label("", wrap=True)
        self.quantities = RowList(self._look, "What it comes to")
        self.gauge_title = label("The wire may be", "quiet")
        self.gauges = RowList(self._look, "The wire may be")
        panel.body.addWidget(self.first)
        panel.body.addWidget(self.quantities, 1)
        panel.body.addWidget(self.gauge_title)
        panel.body.addWidget(self.gauges, 1)
        panel.body.addStretch(0)
        panel.setMinimumWidth(self._look.sizes.px(SAID))
        return panel

    def _make_said(self) -> Panel:
        panel = Panel("What it says")
        self.verdict, self.told, self.lines = (label("", role, wrap=True) for role in ("", "", "quiet"))
        self.senses_seen = label(f"Senses are {SENSE_SEEN}.", "quiet", wrap=True)
        self.to_wire = button(
            "Take this to Wire", self._take, key="Ctrl+T", tip="Puts gauge, build, strands, turns and mean turn there"
        )
        held = QWidget()
        held.setProperty("role", "clear")
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        for line in (self.verdict, self.told, self.lines, self.senses_seen):
            column.addWidget(line)
        column.addStretch(1)
        panel.body.addWidget(Room(held), 1)
        panel.body.addWidget(self.to_wire)
        panel.setMinimumWidth(self._look.sizes.px(240))
        return panel

    # ---- shown

    def show_rewinding(self) -> None:
        self._show_form()
        view, begun = self.work.view, self.work.found is not None
        shown = view or FoundView()
        self.quantities.rows.show_rows([_quantity(q) for q in shown.quantities])
        self.gauges.rows.show_rows([_gauge(g) for g in shown.gauges])
        self._fit_lists()
        self.quantities.setVisible(bool(shown.quantities))
        for of_gauges in (self.gauge_title, self.gauges):
            of_gauges.setVisible(bool(shown.gauges))
        first = NOTHING_YET if not begun else WORKING if view is None else ""
        self.first.setText(first)
        self.first.setVisible(bool(first))
        for line, texts in (
            (self.verdict, shown.lines[:1]), (self.told, shown.lines[1:]), (self.lines, self.work.seen)
        ):  # fmt: skip
            line.setText("\n".join(texts))
            line.setVisible(bool(texts))
        set_verdict(self.verdict, "out" if shown.wrong else "")
        allow(self.to_wire, bool(shown.quantities), "Note what was found first")
        set_role(self.note, "" if begun else "strong")
        set_role(self.to_wire, "strong" if shown.quantities and self.rewinding.body.wire is None else "")
        self.mark_refused()

    def take_focus(self) -> None:
        self.form.first.setFocus()
        if self.work.found is None:
            self.room.ensureWidgetVisible(self.form.first)  # with large text the form stands below

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.fit(self.width())
        self._fit_lists()

    def _fit_lists(self) -> None:
        """No higher than their rows; all of them are seen where the panels stand one under the other."""
        for listed in (self.quantities, self.gauges):
            count, row, edge = listed.rows.rowCount(), listed.sizeHintForRow(0), 2 * listed.frameWidth() + 4
            if count:
                listed.setMaximumHeight(count * row + edge)
                listed.setMinimumHeight((count if self._side.stacked else min(count, 2)) * row + edge)

    def _show_form(self) -> None:
        """What is being typed stays until something else is noted or another winding is in hand."""
        key, form = self.rewinding.record.id, self.work.form
        if self._shown_form != (key, form):
            self._shown_form = (key, form)
            for name, field in self.form.lines.items():
                put(field, getattr(form, name))
            choose(self.form.enamelled, form.enamelled)

    # ---- done

    def _note(self) -> None:
        self.work.note(self.form.typed)

    def _take(self) -> None:
        self.work.take_to_wire(self.form.typed)


def _quantity(q: QuantityView) -> Row:
    return Row(q.quantity, q.name, q.how, q.value, "", q.spoken)


def _gauge(g: GaugeView) -> Row:
    return Row(g.name, g.name, g.builds, g.share, "", g.spoken)
