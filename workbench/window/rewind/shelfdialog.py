"""The shelf of wire: spools with what is left of them; one is added, edited, weighed anew."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import Spool
from workbench.rewind.wire import Build
from workbench.rewindwords import BUILD_WORDS
from workbench.sitting.conditions import FormError
from workbench.sitting.say import Said, Tone
from workbench.sitting.shelfform import SpoolView, low_words, spool_of, spool_views
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import Room, SaidLine, allow, button, fit_window, label, set_verdict
from workbench.window.rewind.deskpage import FieldGrid, choose
from workbench.window.theme import redress

Keep = Callable[[Spool, Callable[[Spool], None], Callable[[Exception], None]], object]
EMPTY = "No spool stands on the shelf yet: type the first one."
KEEPING = "One moment: the last change is on its way"


class ShelfDialog(QDialog):
    """`spools`: as they are kept by now. `keep(spool, then, failed)` writes one."""

    def __init__(self, parent: QWidget, look: Look, spools: Sequence[Spool], keep: Keep) -> None:
        super().__init__(parent)
        self.setWindowTitle("The shelf")
        self.spools = tuple(spools)
        self._keep = keep
        self._look = look
        self._editing: Spool | None = None
        self._gone = False
        self.list = RowList(look, "Spools")
        self.list.selectionModel().currentChanged.connect(lambda *_: self._chosen())
        self.list.clicked.connect(lambda _: self._chosen())
        grid = FieldGrid(look)
        self.name = grid.wide_line("Name", "what the spool is called by, or where it stands")
        self.gauge = grid.line("Gauge", "as in AWG 18, or 0.8 mm")
        self.build = grid.choice("Build", {w: b for b, w in BUILD_WORDS.items()}, "how much enamel")
        self.grams = grid.line("Grams left", "on the scale, without the reel")
        self.note = grid.line("Note", "where it is from, how old")
        self.fields: dict[str, QLineEdit | QWidget] = {
            "name": self.name, "gauge": self.gauge, "build": self.build, "grams": self.grams,
        }  # fmt: skip
        self.low = label("", wrap=True)
        self.said = SaidLine(2)
        self.another = button("Another spool", self._another, key="Ctrl+N", tip="Empties the form for a new one")
        self.close_button = button("Close", self.reject)
        self.keep_button = button("Keep the spool", self.keep_spool, key="Ctrl+S", strong=True)
        buttons = QHBoxLayout()
        buttons.addWidget(self.another)
        buttons.addStretch(1)
        buttons.addWidget(self.close_button)
        buttons.addWidget(self.keep_button)
        self.room = Room(grid)
        column = QVBoxLayout(self)
        column.addWidget(label("The shelf", "title"))
        column.addWidget(self.list, 1)
        column.addWidget(self.low)
        column.addWidget(self.room)
        column.addWidget(self.said)
        column.addLayout(buttons)
        least = QSize(look.sizes.px(520), look.sizes.px(600))
        self.setMinimumSize(least.boundedTo(parent.window().size() - QSize(16, 16)))
        fit_window(self, parent)
        self._show()
        if self.spools:
            self.list.setCurrentIndex(self.list.rows.index(0))
        else:
            self.said.say(Said(Tone.TELLS, EMPTY))
            self.name.setFocus()

    def _show(self) -> None:
        self.list.rows.show_rows([_row(v) for v in spool_views(self.spools)])
        self.low.setText(low_words(self.spools))
        self.low.setVisible(bool(self.low.text()))
        set_verdict(self.low, "continuous" if self.low.text() else "")

    def _chosen(self) -> None:
        key = self.list.key()
        spool = next((s for s in self.spools if s.id == key), None)
        if spool is not None and spool is not self._editing:
            self._fill(spool)
            self.said.say(None)

    def _another(self) -> None:
        self.list.clearSelection()
        self._fill(None)
        self.said.say(Said(Tone.TELLS, "A new spool: type what is on it."))
        self.name.setFocus()

    def _fill(self, spool: Spool | None) -> None:
        self._editing = spool
        self.name.setText(spool.name if spool else "")
        self.gauge.setText(spool.gauge if spool else "")
        choose(self.build, Build(spool.build) if spool and spool.build in set(Build) else Build.HEAVY)
        self.grams.setText(f"{spool.grams:g}" if spool else "")
        self.note.setText(spool.note if spool else "")
        self._mark("")

    def keep_spool(self) -> None:
        try:
            spool = spool_of(
                self.name.text(), self.gauge.text(), self.build.currentData(), self.grams.text(), self.note.text(),
                self._editing,
            )  # fmt: skip
        except FormError as e:
            self._mark(e.field)
            self.said.say(Said(Tone.REFUSES, e.sentence))
            return
        self._mark("")
        allow(self.keep_button, False, KEEPING)  # until it is known which version the next change starts from
        self._keep(spool, self._kept, self._not_kept)

    def done(self, result: int) -> None:
        self._gone = True
        super().done(result)

    def _kept(self, spool: Spool) -> None:
        if self._gone:
            return
        allow(self.keep_button, True, KEEPING)
        others = [s for s in self.spools if s.id != spool.id]
        self.spools = tuple(sorted((*others, spool), key=lambda s: (s.name.lower(), s.name)))
        self._editing = spool
        self._show()
        self.list.select_key(spool.id)
        self.said.say(Said(Tone.TELLS, f"{spool.name} is kept, {spool.grams:,.0f} g."))
        self.grams.setFocus()

    def _not_kept(self, e: Exception) -> None:
        if self._gone:
            return
        allow(self.keep_button, True, KEEPING)
        self.said.say(Said(Tone.REFUSES, str(e)))

    def _mark(self, at_fault: str) -> None:
        for name, field in self.fields.items():
            refused = name == at_fault
            if (field.property("state") == "refused") is not refused:
                field.setProperty("state", "refused" if refused else "")
                redress(field)
            if refused:
                field.setFocus()
                self.room.ensureWidgetVisible(field)


def _row(v: SpoolView) -> Row:
    detail = ", ".join(x for x in (v.wire, v.metres, v.spool.note) if x)
    return Row(v.spool.id, v.spool.name, detail, v.grams, "low" if v.low else "", v.spoken)
