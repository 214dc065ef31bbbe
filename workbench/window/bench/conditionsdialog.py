"""How warm the part is, on which meter, with which leads."""

from collections.abc import Sequence

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from workbench.records import NamedMeter, SheetHead, TemperatureSource
from workbench.sitting.conditions import Form, FormError, form_of, head_from, other_unit, usual_uncertainty
from workbench.sitting.views import SOURCE_WORDS
from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import Room, fit_window, form_row, label
from workbench.window.theme import redress


class ConditionsDialog(QDialog):
    """`head` is the new head once accepted; a field that can't be used keeps its text, with a sentence below."""

    def __init__(self, parent: QWidget, look: Look, head: SheetHead, meters: Sequence[NamedMeter]) -> None:
        super().__init__(parent)
        self.setWindowTitle("Part and meter")
        self.setMinimumWidth(look.sizes.px(520))
        self.head = head
        was = form_of(head)
        self._meters = list(meters)
        own = next((i for i, m in enumerate(meters) if (m.id, m.meter) == (head.meter_id, head.meter)), len(meters))
        self._meters[own : own + 1] = [was.meter]  # the sheet's own, whatever became of that meter since
        self.celsius, self.uncertainty = QLineEdit(was.celsius), QLineEdit(was.uncertainty)
        self.unit = QComboBox()
        self.unit.addItems(["°C", "°F"])
        self.source = QComboBox()
        for s in TemperatureSource:
            self.source.addItem(SOURCE_WORDS[s], s)
        self.source.setCurrentIndex(list(TemperatureSource).index(head.source))
        self.meter = QComboBox()
        names = [m.name for m in self._meters]
        for i, m in enumerate(self._meters):
            self.meter.addItem(f"{m.name}, as on this sheet" if i == own and names.count(m.name) > 1 else m.name)
        self.meter.setCurrentIndex(own)
        self.zeroed = QCheckBox("The meter itself was &zeroed on its leads")
        self.zeroed.setAccessibleName("The meter itself was zeroed on its leads")
        self.leads, self.iron = QLineEdit(was.leads), QLineEdit(was.iron)
        self.trouble = label("", wrap=True)
        self.trouble.setProperty("verdict", "out")
        held = QWidget()
        form = QFormLayout(held)
        form.setContentsMargins(0, 0, 0, 0)
        form_row(form, "How &warm is the part", self.celsius, tip="21.5")
        form_row(form, "&Degrees", self.unit)
        form_row(form, "How is that &known", self.source)
        form_row(form, "Known to within (&u)", self.uncertainty, tip="3")
        form_row(form, "&Meter", self.meter)
        form.addRow("", self.zeroed)
        form_row(form, "&Leads shorted show", self.leads, tip="0.2")
        form_row(form, "Two bare spots of the &iron show", self.iron, tip="0.3 proves contact with ground")
        column = QVBoxLayout(self)
        column.addWidget(label("Part and meter", "title"))
        self.room = Room(held)
        column.addWidget(self.room, 1)
        column.addWidget(label("Straight from outdoors? Wait until it is as warm as the room.", "quiet", wrap=True))
        column.addWidget(self.trouble)
        self.buttons = ok_cancel(self, "Keep")
        column.addWidget(self.buttons)
        self.zeroed.toggled.connect(self._zeroing)
        self.zeroed.setChecked(was.zeroed)
        self.source.currentIndexChanged.connect(lambda _: self._usual())
        self.unit.currentIndexChanged.connect(self._convert)
        self.celsius.setFocus()
        self.celsius.selectAll()
        fit_window(self, parent)

    @property
    def fahrenheit(self) -> bool:
        return self.unit.currentIndex() == 1

    @property
    def _source(self) -> TemperatureSource:
        return TemperatureSource(self.source.currentData())  # Qt gives back plain text

    def _zeroing(self, on: bool) -> None:
        self.leads.setEnabled(not on)

    def _usual(self) -> None:
        self.uncertainty.setText(usual_uncertainty(self._source, fahrenheit=self.fahrenheit))

    def _convert(self) -> None:
        to_f = self.fahrenheit
        self.celsius.setText(other_unit(self.celsius.text(), to_fahrenheit=to_f))
        self.uncertainty.setText(other_unit(self.uncertainty.text(), to_fahrenheit=to_f, difference=True))

    def accept(self) -> None:
        fields = {"celsius": self.celsius, "uncertainty": self.uncertainty, "leads": self.leads, "iron": self.iron}
        form = Form(
            self.celsius.text(),
            self.uncertainty.text(),
            self._source,
            self._meters[self.meter.currentIndex()],
            self.zeroed.isChecked(),
            self.leads.text(),
            self.iron.text(),
            self.fahrenheit,
        )
        try:
            self.head = head_from(form, self.head)
        except FormError as e:
            self.trouble.setText(e.sentence)
            for name, field in fields.items():
                field.setProperty("state", "refused" if name == e.field else "")
                redress(field)
            fields[e.field].setFocus()
            self.room.ensureWidgetVisible(fields[e.field])
            return
        super().accept()
