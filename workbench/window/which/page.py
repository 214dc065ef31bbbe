"""A part without papers: its plugs and what is read between them, beside the patterns it may be."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QDialog, QStackedWidget, QVBoxLayout, QWidget

from workbench import words
from workbench.drafting.draft import Draft
from workbench.records import NamedMeter
from workbench.sitting.say import Said, Tone
from workbench.sitting.views import ReadingView
from workbench.sitting.whichsitting import WhichSitting
from workbench.sitting.whichviews import PatternView, face_choices, face_lines, readings, which
from workbench.stator.pattern import Connector
from workbench.whichwords import face_words
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import StrikeDialog
from workbench.window.bench.entrybar import EntryBar
from workbench.window.bench.facepanel import FacePanel
from workbench.window.bench.readingspage import ReadingsPage
from workbench.window.bench.rows import Row, RowList
from workbench.window.bench.spread import Spread
from workbench.window.look import Look
from workbench.window.parts import Panel, allow, button, label, row_of, shortcut
from workbench.window.patterns.addplug import AddPlugDialog
from workbench.window.tones import Tones
from workbench.window.voice import announce
from workbench.window.which.bar import WhichBar
from workbench.window.which.facedialog import FaceDialog
from workbench.window.which.rankpanel import LaidPanel, RankPanel

EMPTY = "No papers, no colours: begin with the plugs. Put each one on as you look into its mating side."


class WhichPage(QWidget):
    """`books(PatternView)`: it is to be booked in as this. `draws`: its pattern is to be drawn. `another`: a further
    part is begun. `puts_away`: this one is not looked for any more."""

    books = Signal(object)
    draws = Signal()
    another = Signal()
    puts_away = Signal()

    def __init__(
        self, look: Look, sitting: WhichSitting, meters: Callable[[], Sequence[NamedMeter]], *,
        to_counter: Callable[[], None], tones: Tones | None = None, pedal: str = "", moves: bool = False,
    ) -> None:  # fmt: skip
        """`moves`: the offered pair may pulse."""
        super().__init__()
        self.sitting = sitting
        self.dialog: QDialog | None = None
        self._look, self._meters, self._tones = look, meters, tones
        self._heard: Said | None = sitting.said
        self._told = ""
        self.bar = WhichBar(look, to_counter, self.edit_conditions)
        self.face = FacePanel(look, sitting, lambda: face_lines(sitting), moves=moves)
        self.entry = EntryBar(look, self._enter, self._open, self._go_on, self._typing)
        self.plugs = RowList(look, "Its plugs")
        self.put_on = button(
            "Put a plug on", self.ask_plug, key="Ctrl+L", tip="The shape of one more plug of this part"
        )
        self.take_off = button("Take it off", self._take_off, key="Ctrl+Shift+K", tip="The chosen plug")
        self.first = button("Put its first plug on", self.ask_plug, strong=True)
        self.log = ReadingsPage(look, sitting.undo)
        self.log.strikes.connect(self._ask_strike)
        self.log.repeats.connect(self._read_again)
        self.rank, self.laid = RankPanel(look), LaidPanel(look)
        self.rank.chose.connect(self._look_at)
        self.book = button(
            "Book it in", self._book, key="Ctrl+B", strong=True, tip="As the chosen pattern, with its readings"
        )
        self.draw = button("Draw it", self.draws.emit, key="Ctrl+Shift+T", tip="It is none of them: draw its pattern")
        self.begin = button("Another part", self.another.emit, key="Ctrl+N", tip="This one stays as it is")
        self.away = button("Put it away", self.puts_away.emit, key="Ctrl+Shift+W", tip="Its readings are thrown away")
        self._lay_out()
        self.entry.field.focused.connect(self._see_entry)
        for key, made in (("Ctrl+Z", self.log.undo), ("F5", self.log.repeat), ("Ctrl+D", self.log.strike)):
            shortcut(self, key, made.click)
        if pedal:
            shortcut(self, pedal, lambda: self._enter(self.entry.field.text()))
        sitting.on_change = self.refresh
        self.refresh()

    def _lay_out(self) -> None:
        left = Panel("This part")
        self.left = left
        left.body.addWidget(self.plugs)
        left.body.addLayout(row_of(self.put_on, self.take_off))
        left.body.addWidget(self.log, 1)
        left.body.addLayout(row_of(self.begin, self.away))
        left.body.addLayout(row_of(self.draw, self.book))
        self.plugs.setFixedHeight(self._look.sizes.px(86))
        side = QWidget()
        right = QVBoxLayout(side)
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(12)
        right.addWidget(self.rank, 1)
        right.addWidget(self.laid, 1)
        blank = QWidget()
        empty = QVBoxLayout(blank)
        empty.setContentsMargins(40, 20, 40, 20)
        empty.addStretch(1)
        empty.addWidget(label(EMPTY, "title", wrap=True))
        empty.addWidget(self.first)
        empty.addStretch(1)
        self.centre = QStackedWidget()
        self.centre.addWidget(blank)
        self.centre.addWidget(self.face)
        self.scroller = Spread(self._look, left, self.centre, self.entry, side)
        self.scroller.setAccessibleName("Which one is this?")
        self.scroller.stacked.connect(self.bar.set_two_rows)
        self.bar.set_two_rows(bool(self.scroller.is_stacked))
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(self.bar)
        page.addWidget(self.scroller, 1)

    # ---- shown

    def refresh(self) -> None:
        s = self.sitting
        part = s.part
        self.bar.show_head(s.head)
        self.centre.setCurrentIndex(1 if part.plugs else 0)
        self.face.show_bench()
        self.plugs.rows.show_rows([_plug_row(p, len(part.touching(p.name))) for p in part.plugs])
        self.plugs.select_key(s.plug)
        allow(self.take_off, bool(part.plugs), "No plug is on it yet")
        self.log.show_readings(readings(s), past=False)
        if not s.weighing or self.rank.is_blank:
            view = which(s)  # else what was said last stands until the readings are weighed anew
            self.rank.show_which(view)
            if view.foot != self._told:
                self._told = view.foot
                announce(self, view.foot)
        for b in (self.begin, self.away, self.draw):
            allow(b, s.begun, "Nothing of this part is begun yet: put its first plug on")
        self._show_entry()
        if self._tones is not None and s.said is not None and s.said is not self._heard and s.said.tone is Tone.REFUSES:
            self._tones.play("refused")
        self._heard = s.said

    def _show_entry(self) -> None:
        s = self.sitting
        part = s.part.pattern
        if part is None:
            pair = "its plugs first"
        elif s.pair is not None:
            pair = words.pair_words(s.pair, part)
        else:
            pair = f"{words.node_words(s.picked[0], part)} – ?" if s.picked else "two pins"
        counted = s.part.counted
        if counted and part is not None:
            newest = counted[-1]
            shown = "open" if newest.reading.ohms is None else f"{newest.typed} Ω"
            self.entry.show_result(words.pair_words(newest.reading.pair, part), shown, "")
        else:
            self.entry.show_result("", "", "")
        self.entry.show_entry(pair, s.text, s.said, "")
        for w in (self.entry.field, self.entry.open):
            allow(w, part is not None, "Put its first plug on: readings are taken between its pins")

    def _look_at(self, view: PatternView | None) -> None:
        self.laid.show_pattern(view)
        allow(self.book, view is not None and view.revision is not None, "Choose the pattern that it is on the right")

    # ---- done

    def ask_plug(self) -> None:
        """The shape of a further plug: of those that the shop's patterns have, or another."""
        dialog = FaceDialog(self, self._look, face_choices(self.sitting.library), self._ask_shape)

        def accepted() -> None:
            if dialog.plug is not None:
                self.sitting.put_on(dialog.plug)

        self._ask(dialog, accepted)

    def _ask_shape(self) -> None:
        draft = Draft(plugs=self.sitting.part.plugs)
        dialog = AddPlugDialog(self, self._look, draft)
        QTimer.singleShot(
            0, self, lambda: self._ask(dialog, lambda: self.sitting.put_on(dialog.form.drawn(draft).plugs[-1]))
        )

    def _take_off(self) -> None:
        plug = self.plugs.key()
        if isinstance(plug, str):
            self.sitting.take_off(plug)

    def edit_conditions(self) -> None:
        dialog = ConditionsDialog(self, self._look, self.sitting.head, self._meters())
        self._ask(dialog, lambda: self.sitting.change_conditions(dialog.head))

    def _ask_strike(self, line: ReadingView) -> None:
        dialog = StrikeDialog(self, self._look, f"{line.typed} for {line.title}")
        self._ask(dialog, lambda: self.sitting.strike(line.id, dialog.reason.text()))

    def _book(self) -> None:
        view = self.rank.chosen
        if view is not None and view.revision is not None:
            self.books.emit(view)

    def _enter(self, text: str) -> None:
        self.sitting.enter(text)
        self.entry.field.setFocus()

    def _typing(self, text: str) -> None:
        self.sitting.text = text
        self._see_entry()

    def _open(self) -> None:
        self.sitting.open_line()
        self.entry.field.setFocus()

    def _go_on(self) -> None:
        self.sitting.go_on()

    def _read_again(self, reading: object) -> None:
        self.sitting.read_again(reading)  # type: ignore[arg-type]  # a UUID or None, through a signal
        self.entry.field.setFocus()

    def _ask(self, dialog: QDialog, accepted: Callable[[], None]) -> None:
        self.dialog = dialog
        dialog.accepted.connect(accepted)

        def done() -> None:
            if self.dialog is dialog:
                self.dialog = None
            dialog.deleteLater()
            self.take_focus()

        dialog.finished.connect(done)
        dialog.open()

    def leave(self) -> None:
        """Another page takes its place: news of this part has nothing left to draw on."""
        self.sitting.on_change = lambda: None

    def _see_entry(self) -> None:
        QTimer.singleShot(0, self, lambda: self.scroller.ensureWidgetVisible(self.entry.field))

    def take_focus(self) -> None:
        first = self.entry.field if self.sitting.part.plugs else self.first
        QTimer.singleShot(0, first, first.setFocus)


def _plug_row(plug: Connector, read: int) -> Row:
    title = f"Plug {plug.name}"
    words_of_it = face_words(plug)
    return Row(
        plug.name, title, words_of_it, f"{read} read" if read else "", "", f"{title}, {words_of_it}, {read} read"
    )
