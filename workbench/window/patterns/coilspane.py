"""The core and its coils: teeth, which winding on which of them, in what sense."""

from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from workbench.drafting import coils
from workbench.drafting.draft import Draft
from workbench.sitting.patterndesk import PatternDesk
from workbench.stator.layout import MOST_TEETH, Coil, Facing
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import allow, button, form_row, label, row_of

FACINGS = (
    (Facing.OUTWARD, "outward, from a hub"), (Facing.INWARD, "inward, from a ring"),
    (Facing.STRAIGHT, "side by side"),
)  # fmt: skip
SENSES = ((None, "not noted"), (1, "clockwise, tip to root"), (-1, "anticlockwise, tip to root"))


class CoilsPane(QWidget):
    def __init__(self, look: Look, desk: PatternDesk) -> None:
        super().__init__()
        self._desk = desk
        self.teeth = QLineEdit()
        self.teeth.returnPressed.connect(self.set_core)
        self.facing = _choices([w for _, w in FACINGS])
        self.core = button("Set the core", self.set_core, key="Ctrl+Shift+C")
        self.winding = _choices([])
        self.tooth = QLineEdit()
        self.put = button("Put a coil", self.put_coil, key="Ctrl+Shift+P", tip="On top of what is on that tooth")
        self.rows = RowList(look, "Coils")
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._chosen())
        self.sense = _choices([w for _, w in SENSES])
        self.sense.activated.connect(lambda _: self._set_sense())
        self.inward = button("In", lambda: self._move(-1), key="Ctrl+Shift+Down", tip="Nearer to the root")
        self.outward = button("Out", lambda: self._move(1), key="Ctrl+Shift+Up", tip="Further from the root")
        self.take = button("Take it off", self._take, key="Ctrl+Shift+T")
        core, coil, its = QFormLayout(), QFormLayout(), QFormLayout()
        for form in (core, coil, its):
            form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form_row(core, "&Teeth", self.teeth, tip="how many")
        form_row(core, "&Facing", self.facing)
        form_row(coil, "&Winding", self.winding)
        form_row(coil, "On t&ooth", self.tooth, tip="3; @30 beside the ring; or press it")
        form_row(its, "&Sense", self.sense)
        self.tooth.returnPressed.connect(self.put_coil)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.sizes.px(6))
        column.addLayout(core)
        column.addWidget(self.core)
        column.addLayout(coil)
        column.addWidget(self.put)
        column.addWidget(label("Coils, from the root out", "title"))
        column.addWidget(self.rows, 1)
        column.addLayout(its)
        column.addLayout(row_of(self.inward, self.outward, self.take))

    def show_desk(self) -> None:
        draft = self._desk.draft
        names = [w.name for w in draft.windings if w.element is None]
        if [self.winding.itemText(i) for i in range(self.winding.count())] != names:
            kept = self.winding.currentText()
            self.winding.clear()
            self.winding.addItems(names)
            self.winding.setCurrentIndex(names.index(kept) if kept in names else 0 if names else -1)
        layout = draft.layout
        if layout is not None and not self.teeth.hasFocus():
            self.teeth.setText(str(layout.teeth))
            self.facing.setCurrentIndex([f for f, _ in FACINGS].index(layout.facing))
        allow(self.put, layout is not None and bool(names), "A core with its teeth and a winding come first")
        ordered = sorted(layout.coils, key=_order) if layout is not None else []
        self.rows.rows.show_rows([_row(c) for c in ordered])
        self._chosen()

    @property
    def chosen(self) -> Coil | None:
        key = self.rows.key()
        layout = self._desk.draft.layout
        return next((c for c in layout.coils if (c.spot, c.place) == key), None) if layout is not None else None

    def set_core(self) -> None:
        text, facing = self.teeth.text().strip(), FACINGS[self.facing.currentIndex()][0]
        if not text.isdecimal():
            self._desk.tell(f"Type how many teeth the core has: from 1 to {MOST_TEETH}.")
            return
        teeth = int(text)
        self._desk.edit(lambda d: coils.set_core(d, teeth, facing))

    def put_coil(self) -> None:
        name, text = self.winding.currentText(), self.tooth.text().strip()
        beside = text.startswith("@")
        try:
            number = float(text.removeprefix("@").replace(",", "."))
        except ValueError:
            self._desk.tell("Type the number of the tooth, counted clockwise from the top: 3; or @30 beside the ring.")
            return
        if not beside and not number.is_integer():
            self._desk.tell("A tooth has a whole number, counted clockwise from the top.")
            return
        if beside:
            self._desk.edit(lambda d: coils.put_coil(d, name, beside_degrees=number))
        else:
            self._desk.edit(lambda d: coils.put_coil(d, name, int(number)))

    def put_on(self, tooth: int) -> None:
        """A tooth was pressed on the sketch."""
        if not self.winding.currentText():
            self._desk.tell("Draw a winding first: then a press on a tooth puts a coil of it there.")
            return
        self.tooth.setText(str(tooth))
        self.put_coil()

    def take_up(self, winding: str) -> None:
        """A coil or a name was pressed on the sketch."""
        self.winding.setCurrentText(winding)
        layout = self._desk.draft.layout
        first = next((c for c in layout.coils if c.winding == winding), None) if layout is not None else None
        if first is not None and (self.chosen is None or self.chosen.winding != winding):
            self.rows.select_key((first.spot, first.place))

    def _set_sense(self) -> None:
        coil, sense = self.chosen, SENSES[self.sense.currentIndex()][0]
        if coil is not None:
            self._desk.edit(lambda d: coils.set_sense(d, coil, sense))

    def _move(self, by: int) -> None:
        coil, moved = self.chosen, list[Coil]()
        if coil is None:
            return

        def edit(draft: Draft) -> Draft:
            new, there = coils.move_coil(draft, coil, by)
            moved.append(there)
            return new

        if self._desk.edit(edit):
            self.rows.select_key((moved[0].spot, moved[0].place))

    def _take(self) -> None:
        coil = self.chosen
        if coil is not None:
            self._desk.edit(lambda d: coils.take_coil(d, coil))

    def _chosen(self) -> None:
        coil = self.chosen
        layout = self._desk.draft.layout
        stack = layout.stack(coil) if layout is not None and coil is not None else ()
        for w in (self.sense, self.take):
            allow(w, coil is not None, "Choose a coil in the list first")
        for b, end in ((self.inward, 0), (self.outward, -1)):
            allow(b, bool(stack) and stack[end] != coil, "No coil of that tooth lies further that way")
        if coil is not None:
            self.sense.setCurrentIndex([s for s, _ in SENSES].index(coil.sense))


def _order(c: Coil) -> tuple[int, float, int]:
    return (c.tooth or 1000, c.beside_degrees or 0.0, c.place)


def _row(c: Coil) -> Row:
    where = f"tooth {c.tooth}" if c.tooth is not None else f"beside, at {c.beside_degrees:g}°"
    sense = {None: "sense not noted", 1: "clockwise", -1: "anticlockwise"}[c.sense]
    place = f", {c.place + 1}. from the root" if c.place else ""
    return Row((c.spot, c.place), c.winding, f"{where}{place}", sense, "", f"{c.winding}: {where}{place}, {sense}")


def _choices(texts: list[str]) -> QComboBox:
    made = QComboBox()
    made.addItems(texts)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    return made
