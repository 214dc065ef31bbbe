"""A unit on the bench: from two pins to a verdict, without a window."""

from collections.abc import Callable
from dataclasses import replace
from uuid import UUID

from workbench import words
from workbench.records import BenchFile, Decided, Outcome, SheetHead
from workbench.sitting.faceplan import View
from workbench.sitting.keeper import Keeper
from workbench.sitting.lines import Lines
from workbench.sitting.opensheet import OpenSheet
from workbench.sitting.pick import Pick
from workbench.sitting.questions import LONE_ONE, slip_question
from workbench.sitting.say import SILENCE, Choice, Said, Tone
from workbench.stator.entry import Entry, EntryError, LoneOne, Overload, Shown, read_entry
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.judge import JudgedSheet, Row
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Reading, Sheet
from workbench.stator.slips import Slip, find_slip

UNDONE = "undone"


class Bench:
    """One unit's latest sheet, being read. Tells `on_change` after whatever changes it."""

    def __init__(self, file: BenchFile, keeper: Keeper) -> None:
        self._open = OpenSheet(file, keeper, self._news)
        self.unit = file.unit
        self.job = file.job
        self.revision = file.revision
        self.text = ""
        self.said: Said | None = None
        self.on_change: Callable[[], None] = lambda: None
        self.shows: Callable[[Pair], str] | None = None  # what a practice part's meter shows
        self._pick = Pick(self.pattern.connectors[0].name if self.pattern.connectors else None)
        self._last: Pair | None = None
        self._asked: tuple[str, Pair] | None = None
        self._pick_offered()

    # ---- what stands

    @property
    def pattern(self) -> Pattern:
        return self.revision.pattern

    @property
    def expectations(self) -> Expectations:
        return self._open.expectations

    @property
    def lines(self) -> Lines:
        return self._open.lines

    @property
    def head(self) -> SheetHead:
        return self._open.head

    @property
    def decided(self) -> Decided | None:
        return self._open.decided

    @property
    def judged(self) -> JudgedSheet:
        return self._open.judged

    @property
    def offered(self) -> Pair | None:
        """The next check: an outside reading that awaits its repeat first, then the plan in its order."""
        return self._open.offered

    @property
    def plug(self) -> str | None:
        """The plug in sight."""
        return self._pick.plug

    @property
    def picked(self) -> tuple[str, ...]:
        """None, one or two nodes."""
        return self._pick.nodes

    @property
    def pair(self) -> Pair | None:
        return self._pick.pair

    @property
    def view(self) -> View:
        """How the plugs are held."""
        return self._pick.view

    @property
    def last(self) -> Pair | None:
        """The pair last read, whose result stays in sight until the next."""
        return self._last

    def sheet(self) -> Sheet:
        """The sheet as it is judged: what is struck, or could not be kept, left out."""
        return self._open.sheet()

    def rows_by_reading(self) -> dict[UUID, Row]:
        """The judged row of each reading that counts, by the reading's id."""
        return self._open.rows_by_reading()

    def last_row(self, pair: Pair) -> Row | None:
        """The newest judged row of this pair."""
        return self._open.last_row(pair)

    def practice_shows(self) -> str | None:
        """What the practice part's meter shows for the picked pair; None on a real bench."""
        return self.shows(self.pair) if self.shows and self.pair else None

    # ---- acts

    def see_plug(self, name: str) -> None:
        self._pick = self._pick.seeing(name)
        self._tell()

    def turn(self) -> None:
        """The plugs a quarter turn, to match the hand."""
        self._pick = self._pick.turned()
        self._tell()

    def flip(self) -> None:
        """To the wire side and back."""
        self._pick = self._pick.flipped()
        self._tell()

    def press(self, node: str) -> None:
        """A pin was touched on the face: the first, the second, or a new first of the next pair."""
        self._pick = self._pick.pressed(node)
        self.said = None
        self._asked = None
        self._tell()

    def pick(self, pair: Pair) -> None:
        self._set_pair(pair)
        self.said = None
        self._tell()

    def go_on(self) -> None:
        """To the next offered check."""
        self.text = ""
        self.said = None
        self._pick_offered()
        if self.offered is None:
            self.said = Said(Tone.TELLS, "Every planned check is read.")
        self._tell()

    def enter(self, text: str) -> None:
        """Takes a line of typing. What can't be used stays in the field, with a sentence beside it."""
        self.text = text
        if not text.strip():
            self.go_on()
            return
        try:
            entry = read_entry(text, self.pattern, self.plug)
        except EntryError as e:
            self._refuse(e.sentence)
            return
        self._take(entry)

    def open_line(self) -> None:
        """The meter shows an overload."""
        self._take(Entry(None, Overload("OL")))

    def strike(self, reading_id: UUID, reason: str) -> None:
        """Strikes a reading out. A reason is needed; the reading stays visible and counts no more."""
        self._do(lambda: self._open.strike(reading_id, reason))

    def undo(self) -> None:
        """Strikes the newest reading out with the reason "undone", and picks its pair again."""
        line = next(reversed(self.lines.counted), None)
        if line is None:
            self.said = Said(Tone.TELLS, "There is no reading to undo.")
            self._tell()
            return
        self.pick(line.kept.reading.pair)
        self.strike(line.kept.id, UNDONE)

    def keep_again(self, reading_id: UUID) -> None:
        """Tries a reading that could not be kept once more."""
        self._do(lambda: self._open.keep_again(reading_id))

    def decide(self, outcome: Outcome, note: str) -> None:
        self._open.decide(outcome, note)
        self._tell()

    def change_conditions(self, head: SheetHead) -> None:
        """Leads, temperature, iron and meter of this sheet. Every reading is judged anew by them."""
        self._asked = None
        self._do(lambda: self._open.change_conditions(head))
        self._pick_offered()
        self._tell()

    # ---- inside

    def _take(self, entry: Entry) -> None:
        if entry.pair is not None:
            self._set_pair(entry.pair)
        if entry.value is None:
            self.text = ""
            self.said = None
            self._tell()
            return
        pair = self.pair
        if pair is None:
            wanted = "the other pin" if self.picked else "two pins"
            self._refuse(f"Pick {wanted} first, or type both, as in “1 3”. The number stays in the field.")
            return
        match entry.value:
            case LoneOne(text) if self._asked == (text, pair):
                self._take_number(pair, Shown(1.0, 1.0, text))
            case LoneOne():
                self._ask_lone_one(pair)
            case Overload(text):
                self._keep(Reading(pair, None), text)
            case Shown() as shown:
                self._take_number(pair, shown)

    def _take_number(self, pair: Pair, shown: Shown) -> None:
        sheet = self.sheet()
        try:
            replace(sheet, readings=(Reading(pair, shown.ohms),))
        except FieldError as e:
            self._refuse(f"Not kept: {e.sentence}. Look at the meter's range, or type OL for an overload.")
            return
        if self._asked != (shown.text, pair):
            slip = find_slip(sheet, self.expectations, pair, shown)
            if slip is not None:
                self._ask_slip(pair, shown, slip)
                return
        self._keep(Reading(pair, shown.ohms), shown.text)

    def _ask_lone_one(self, pair: Pair) -> None:
        self.said = Said(
            Tone.ASKS,
            LONE_ONE,
            (
                Choice("Overload", lambda: self._keep(Reading(pair, None), "1")),
                Choice("One ohm", lambda: self._take_number(pair, Shown(1.0, 1.0, "1"))),
            ),
        )
        self._tell()

    def _ask_slip(self, pair: Pair, shown: Shown, slip: Slip) -> None:
        self._asked = (shown.text, pair)
        sentence, label = slip_question(self.pattern, pair, shown, slip)
        meant = Choice(label, lambda: self._keep_meant(slip))
        as_typed = Choice(f"Keep {shown.text}", lambda: self._keep(Reading(pair, shown.ohms), shown.text))
        self.said = Said(Tone.ASKS, sentence, (meant, as_typed))
        self._tell()

    def _keep_meant(self, slip: Slip) -> None:
        self._set_pair(slip.pair)
        self._keep(Reading(slip.pair, slip.ohms), slip.text)

    def _keep(self, reading: Reading, typed: str) -> None:
        self.said = None
        trouble = self._open.keep(reading, typed)
        if trouble:
            self._refuse(trouble)
            return
        self.text = ""
        self._asked = None
        self._last = reading.pair
        self._say_result(reading.pair)
        self._pick_offered()
        self._tell()

    def _say_result(self, pair: Pair) -> None:
        """What would settle a reading that isn't inside, while the part is still under the probes."""
        row = self.last_row(pair)
        if row is None or self.said is not None:
            return
        more = words.remedy_words(row, zeroed=self.head.meter_zeroed)
        if more and row.verdict is not None:
            self.said = Said(Tone.TELLS, f"{words.reason_words(row, self.pattern)} {more}")

    def _set_pair(self, pair: Pair) -> None:
        self._pick = self._pick.taken(pair)
        if self._asked and self._asked[1] != pair:
            self._asked = None

    def _pick_offered(self) -> None:
        if self.offered is not None:
            self._set_pair(self.offered)

    def _do(self, act: Callable[[], str]) -> None:
        """What was said before is over; the act may bring news of its own at once."""
        self.said = None
        trouble = act()
        if trouble:
            self._refuse(trouble)
        else:
            self._tell()

    def _news(self, said: Said | None) -> None:
        if said is not None:
            self.said = said if said is not SILENCE else None
        self._tell()

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self._tell()

    def _tell(self) -> None:
        self.on_change()
