"""The bench: face, entry, checks, band and readings of one unit, side by side."""

from collections.abc import Callable, Sequence
from uuid import UUID

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from workbench import words
from workbench.records import NamedMeter, PatternRevision
from workbench.sitting import views
from workbench.sitting.aloud import aloud, heard
from workbench.sitting.bench import Bench
from workbench.sitting.found import found_words
from workbench.sitting.history import Remembered, days_of, good_before, history, short_by_past
from workbench.sitting.pairs import Pairs
from workbench.sitting.say import Tone
from workbench.sitting.says import says
from workbench.sitting.steps import NAMES as STEP_NAMES
from workbench.stator.crossing import check_for, windings_of
from workbench.stator.pattern import Pair
from workbench.window.bench.asking import BenchAsking
from workbench.window.bench.bandpanel import BandPanel
from workbench.window.bench.entrybar import EntryBar
from workbench.window.bench.facepanel import FacePanel
from workbench.window.bench.planpanel import PlanPanel
from workbench.window.bench.readingspage import ReadingsPage
from workbench.window.bench.rows import Row, RowList
from workbench.window.bench.sayspanel import SaysPanel
from workbench.window.bench.spread import Spread
from workbench.window.bench.topbar import TopBar
from workbench.window.coils.sketch import CoilSketch
from workbench.window.history.panel import HistoryPanel
from workbench.window.look import Look
from workbench.window.pairs.board import PairsBoard
from workbench.window.parts import PAST, ElidedLabel, allow, button, label, rename, row_of, shortcut
from workbench.window.tones import Tones
from workbench.window.voice import announce


class BenchPage(QWidget):
    """Renders a Bench and sends it keys and clicks; holds no facts of its own."""

    def __init__(
        self,
        look: Look,
        bench: Bench,
        meters: Callable[[], Sequence[NamedMeter]],
        *,
        to_counter: Callable[[], None],
        make_card: Callable[[], None],
        new_sheet: Callable[[str], None],
        open_sheet: Callable[[UUID], None],
        rewind: Callable[[], None] = lambda: None,
        patterns: Callable[[], Sequence[PatternRevision]] = tuple,
        move: Callable[[PatternRevision], None] = lambda to: None,
        tones: Tones | None = None,
        pedal: str = "",
        moves: bool = False,
    ) -> None:
        """`patterns`: the shop's, as they are now; `move`: the part is of one of them. `moves`: the offered pair may
        pulse.
        """
        super().__init__()
        self.bench = bench
        self._look = look
        self._meters = meters
        self._new_sheet = new_sheet
        self._patterns, self._move = patterns, move
        self._tones = tones
        self._heard = (len(bench.lines), bench.said)
        self._told = heard(bench)
        self.top = TopBar(look, to_counter, self.edit_conditions)
        self.face = FacePanel(look, bench, lambda: views.face_lines(bench), moves=moves)
        self.entry = EntryBar(look, self._enter, self._open, bench.go_on, self._typing)
        self._asking = BenchAsking(self, look, bench, self.entry.field.setFocus)
        self.checks = RowList(look, "Checks")
        self.checks.clicked.connect(lambda _: self._check_chosen())
        self.checks.activated.connect(lambda _: self._check_chosen())
        self.coils = CoilSketch(look)
        self.coils.set_pattern(bench.pattern)
        self.coils.windingPressed.connect(self._winding_chosen)
        self._pairs = Pairs(bench)
        self.pairs = PairsBoard(look)
        self.pairs.pairChosen.connect(self._pair_chosen)
        self.pairs.cursorAt.connect(self._see_in_pairs)
        self.band = BandPanel(look)
        self.says = SaysPanel(look)
        self.says.pointed.connect(lambda view: bench.point(view.finding if view is not None else None))
        self.history = HistoryPanel(look)
        self.history.sheetChosen.connect(open_sheet)
        self._remembered: tuple[Remembered, ...] | None = None
        self.log = ReadingsPage(look, bench.undo, self._asking.note)
        self.log.strikes.connect(self._asking.strike)
        self.log.retries.connect(bench.keep_again)
        self.log.repeats.connect(self._read_again)
        self.readings, self.strike = self.log.rows, self.log.strike
        self.zero = button("Zero leads", self._zero, key="Ctrl+R", tip="Leads, then the iron, typed in the field")
        self.again = button("New sheet", self.begin_again, key="Ctrl+N", tip="Another sitting on this part")
        self.rewind = button("Rewind", rewind, key="Ctrl+Shift+W", tip="Wind it anew: wire, steps, shelf")
        self.decide_button = button("Decide", self.decide, key="Ctrl+G", tip="Pass, repair, rewind or scrap")
        self.repair = self._asking.repair
        self.job = button("Job", self.edit_job, key="Ctrl+J", tip="Complaint, seen, agreed to, found, done; pattern")
        self.card = button("Card", make_card, key="Ctrl+P", strong=True, tip="See, save or print the card")
        self.decided = label("", "quiet", wrap=True)
        self.noted = ElidedLabel("quiet")
        self._lay_out()
        self.entry.field.focused.connect(self._see_entry)
        shortcut(self, "Ctrl+L", self.entry.field.setFocus)
        for key, made in (("Ctrl+Z", self.log.undo), ("F5", self.log.repeat), ("F2", self.log.note)):
            shortcut(self, key, made.click)  # also while another page of the plan hides them
        shortcut(self, "Ctrl+D", self._strike_by_key)
        if pedal:
            shortcut(self, pedal, lambda: self._enter(self.entry.field.text()))
        if bench.past:
            rename(self.again, "Latest sheet")
        for w in (
            self.entry.field,
            self.entry.open,
            self.zero,
            self.job,
            self.decide_button,
            self.rewind,
            self.top.edit,
        ):
            allow(w, not bench.past, PAST)
        bench.on_change = self.refresh
        self.refresh()

    def _lay_out(self) -> None:
        left = PlanPanel(self._look, self.pairs, self.checks, self.coils, self.log)
        self.checks_panel = left
        left.body.addWidget(self.noted)
        left.body.addWidget(self.decided)
        for b in (self.zero, self.again, self.rewind):
            b.setProperty("role", "switch")  # three words fill the line
        left.body.addLayout(row_of(self.zero, self.again, self.rewind))
        left.body.addLayout(row_of(self.job, self.decide_button, self.card))
        side = QWidget()
        right = QVBoxLayout(side)
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(12)
        right.addWidget(self.band)
        right.addWidget(self.says, 1)
        right.addWidget(self.history, 1)
        right.addStretch(0)
        self.scroller = Spread(self._look, left, self.face, self.entry, side)
        self.scroller.stacked.connect(self.top.set_two_rows)
        self.top.set_two_rows(bool(self.scroller.is_stacked))
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(self.top)
        page.addWidget(self.scroller, 1)

    # ---- shown

    def refresh(self) -> None:
        bench = self.bench
        self.top.show_heading(views.heading(bench))
        self.face.show_bench()
        checks = views.checks(bench)
        self.checks.rows.show_rows([_check_row(c) for c in checks])
        self.checks.select_key(next((c.pair for c in checks if c.current), None))
        judged = bench.judged
        self.checks_panel.aside.setText(
            f"{len(judged.sheet.plan) - len(judged.unread)} of {len(judged.sheet.plan)} read"
        )
        self.pairs.show_pairs(self._pairs.view())
        self.log.show_readings(views.readings(bench), past=bench.past)
        self.band.show_band(views.band(bench, bench.pair or bench.last), self._by_its_past())
        self.history.show_history(history(bench, bench.pair or bench.last, self._remembered))
        pair = bench.pair or bench.last
        self.coils.set_lit(windings_of(bench.pattern, pair) if pair else frozenset())
        if bench.explained is not None or not bench.explains or self.says.is_blank:
            self.says.show_says(says(bench))  # else what was said last stands until the readings are weighed anew
        announce(self, aloud(bench, self._told))  # before what is to be done about it
        self._told = heard(bench)
        self._show_entry()
        note = " ".join(bench.head.note.split())
        self.noted.setText(f"Note: {note}" if note else "")
        self.noted.setVisible(bool(note))
        d = bench.decided
        put_down = found_words(bench)
        found = f" Found: {put_down}." if put_down else ""
        self.decided.setText(f"Decided: {words.OUTCOME_WORDS[d.outcome]}.{found} {d.note}".strip() if d else "")
        self.decided.setVisible(d is not None)
        self._sound()

    def _sound(self) -> None:
        """The verdict of a reading just taken; or that something was refused."""
        bench, (lines, said) = self.bench, self._heard
        self._heard = (len(bench.lines), bench.said)
        if self._tones is None:
            return
        row = bench.last_row(bench.last) if bench.last else None
        if len(bench.lines) > lines and row is not None:
            self._tones.play(words.verdict_word(row))
        elif bench.said is not None and bench.said is not said and bench.said.tone is Tone.REFUSES:
            self._tones.play("refused")

    def _show_entry(self) -> None:
        bench = self.bench
        row = bench.last_row(bench.last) if bench.last else None
        pair = words.pair_words(bench.pair, bench.pattern) if bench.pair else "two pins"
        if bench.step is not None:
            pair = STEP_NAMES[bench.step]
        elif len(bench.picked) == 1:
            pair = f"{words.node_words(bench.picked[0], bench.pattern)} – ?"
        if row is not None and bench.last is not None:
            read = words.pair_words(bench.last, bench.pattern)
            self.entry.show_result(read, words.value_words(row), words.verdict_word(row))
        else:
            self.entry.show_result("", "", "")
        self.entry.show_entry(pair, bench.text, bench.said, views.hint(bench))

    def _by_its_past(self) -> str:
        """What the unit's own past lets this meter see of a short, before the pair is read."""
        bench = self.bench
        if not self._remembered or bench.pair is None or bench.last_row(bench.pair) is not None:
            return ""
        return short_by_past(bench, bench.pair, self._remembered)

    @property
    def history_known(self) -> bool:
        return self._remembered is not None

    def remember(self, remembered: tuple[Remembered, ...]) -> None:
        """What the store has of this unit's earlier sheets."""
        self._remembered = remembered
        good = good_before(remembered, self.bench.head, self.bench.revision.pattern_id)
        self.bench.remember(tuple(r.judged.sheet for r in good), days_of(good))
        self.refresh()

    # ---- done

    def _enter(self, text: str) -> None:
        self.bench.enter(text)
        self.entry.field.setFocus()

    def _typing(self, text: str) -> None:
        self.bench.text = text
        self._see_entry()

    def _zero(self) -> None:
        self.bench.begin_steps()
        self.entry.field.setFocus()

    def _open(self) -> None:
        self.bench.open_line()
        self.entry.field.setFocus()

    def _check_chosen(self) -> None:
        key = self.checks.key()
        if isinstance(key, Pair):
            self.bench.pick(key)
            self.entry.field.setFocus()

    def _winding_chosen(self, winding: str) -> None:
        pair = check_for(self.bench.pattern, winding)
        if pair is not None:
            self._pair_chosen(pair)

    def _pair_chosen(self, pair: Pair) -> None:
        self.bench.pick(pair)
        self.entry.field.setFocus()

    @property
    def dialog(self) -> QDialog | None:
        return self._asking.dialog

    def edit_conditions(self) -> None:
        self._asking.conditions(self._meters())

    def edit_job(self) -> None:
        self._asking.job(self._patterns(), self._move)

    def choose_pattern(self) -> None:
        self._asking.other_pattern(self._patterns(), self._move)

    def _strike_by_key(self) -> None:
        """The chosen reading; to the readings first, where none is chosen."""
        if self.strike.isEnabled():
            self.strike.click()
        else:
            self.checks_panel.readings.click()
            self.readings.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _read_again(self, reading_id: UUID | None) -> None:
        self.bench.read_again(reading_id)
        self.entry.field.setFocus()

    def decide(self) -> None:
        self._asking.decision()

    def begin_again(self) -> None:
        """Another sitting; a part that came back has a complaint of its own."""
        if self.bench.is_blank and not self.bench.past:
            self.bench.tell("This sheet is still empty: read the part on it.")
        elif self.bench.past or not self.bench.came_back:
            self._new_sheet("")
        else:
            self._asking.complaint(self._new_sheet)

    def leave(self) -> None:
        """Another page takes its place: news of this bench has nothing left to draw on."""
        self.bench.on_change = lambda: None

    def _see_entry(self) -> None:
        """Large text leaves no room for face and entry at once; typing must be seen."""
        QTimer.singleShot(0, self, lambda: self.scroller.ensureWidgetVisible(self.entry.field))

    def _see_in_pairs(self, y: int, high: int) -> None:
        self.scroller.see(self.pairs, QPoint(0, y), high)

    def take_focus(self) -> None:
        QTimer.singleShot(0, self.entry.field, self.entry.field.setFocus)


def _check_row(c: views.CheckView) -> Row:
    detail = c.note or (f"{c.wanted}" + (", read it again" if c.again else ""))
    return Row(c.pair, c.title, detail, c.value, c.word, c.spoken)
