"""Coil after coil: turns by the counter, ohms on the meter, of which wire; each with its verdict at once."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLineEdit

from workbench.rewind.woundrecord import Spot
from workbench.rewindwords import BUILD_WORDS, SENSE_SEEN
from workbench.sitting.rewindwound import WoundDesk
from workbench.sitting.rewindwoundform import CoilForm
from workbench.sitting.rewindwoundviews import CoilLine
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Panel, button, label, row_of, set_verdict
from workbench.window.rewind.deskpage import FieldGrid, choose, put
from workbench.window.rewind.sensesign import SenseSign

NO_METER = "No meter is known: choose one on the bench."


class WoundCoils(Panel):
    def __init__(self, look: Look, desk: WoundDesk) -> None:
        super().__init__("Coils")
        s = look.sizes
        self._desk = desk
        self.all_counted = False
        self._shown_form: tuple[object, Spot, CoilForm] | None = None
        self.coil, self.sense = label("", "value", wrap=True), label("", wrap=True)
        self.coil.setAccessibleDescription(SENSE_SEEN)
        self.sign = SenseSign(look)
        head = QGridLayout()
        head.setHorizontalSpacing(s.px(14))
        head.addWidget(self.sign, 0, 0, 2, 1, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.coil, 0, 1)
        head.addWidget(self.sense, 1, 1)
        head.setColumnStretch(1, 1)
        read, wire = FieldGrid(look, 3), FieldGrid(look, 3)
        self.turns = read.line("Turns", "by the counter")
        self.ohms = read.line("Ohms shown", "at the coil's own ends, leads included; OL for an overload")
        self.celsius = read.line("Copper, °C", "how warm it is")
        self.gauge = wire.line("Wire", "as in AWG 18, or 0.8 mm; 2 × AWG 18 for two in hand")
        self.build = wire.choice("Build", {w: b for b, w in BUILD_WORDS.items()}, "how much enamel")
        self.spool = wire.line("Spool", "which one it came off")
        self._lines: dict[str, QLineEdit] = {
            n: getattr(self, n) for n in ("turns", "ohms", "celsius", "gauge", "spool")
        }
        self.fields = {**self._lines, "build": self.build}
        self.note = button("Note it, next coil", self._note, key="Ctrl+N", tip="Enter in a field does the same")
        for line in self._lines.values():
            line.returnPressed.connect(self._note)
        self.told, self.of = label("", wrap=True), label("", "quiet", wrap=True)
        self.apart = label("", wrap=True)
        self.apart.setProperty("verdict", "out")
        self.list = RowList(look, "Coils")
        self.list.clicked.connect(lambda _: self._chosen())
        self.list.activated.connect(lambda _: self._chosen())
        self.list.selectionModel().currentChanged.connect(lambda *_: self._chosen(by_keys=True))
        self.body.addLayout(head)
        for grid in (read, wire):
            self.body.addWidget(grid)
        self.body.addLayout(row_of(self.note))
        for said in (self.told, self.of, self.apart):
            self.body.addWidget(said)
        self.body.addWidget(self.list, 1)
        self.setMinimumWidth(s.px(330))

    def show_desk(self, record: object) -> None:
        desk = self._desk
        lines, shown = desk.coils, desk.shown_coil
        counted = sum(c.counted for c in lines)
        self.aside.setText(f"{counted} of {len(lines)} counted")
        self.all_counted = counted == len(lines)
        self.coil.setText(shown.title)
        self.sense.setText(shown.sense)
        self.sign.show_sense(shown.should or 0)
        self.sign.setVisible(shown.should is not None)
        form = desk.coil_form
        if self._shown_form != (record, shown.spot, form):
            self._shown_form = (record, shown.spot, form)
            for name, line in self._lines.items():
                put(line, getattr(form, name))
                if not line.hasFocus():
                    line.setCursorPosition(0)  # a long name is read from its beginning
            choose(self.build, form.build)
        meant = desk.turns_meant
        self.turns.setPlaceholderText(f"{meant} meant" if meant else "")
        self.told.setText(shown.told)
        set_verdict(self.told, shown.ohms_word)
        meter = f"Read on {desk.meter}." if desk.meter else NO_METER
        self.of.setText(" ".join(x for x in (f"{shown.of}." if shown.of else "", meter) if x))
        self.apart.setText("\n".join(desk.apart))
        for said in (self.told, self.apart):
            said.setVisible(bool(said.text()))
        self.list.rows.show_rows([_row(c) for c in lines])
        self.list.select_key(shown.spot)

    def _note(self) -> None:
        typed = {name: line.text() for name, line in self._lines.items()}
        self._desk.enter(CoilForm(build=self.build.currentData(), **typed))

    def _chosen(self, *, by_keys: bool = False) -> None:
        """By keys only while the list has the focus: it moves its own selection along with the work."""
        key = self.list.key()
        if isinstance(key, Spot) and (self.list.hasFocus() or not by_keys):
            self._desk.choose(key)


def _row(c: CoilLine) -> Row:
    return Row(c.spot, c.title, c.detail, c.value, c.word, c.spoken)
