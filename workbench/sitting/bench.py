"""A unit on the bench: from two pins to a verdict, without a window."""

from collections.abc import Callable
from dataclasses import replace
from uuid import UUID

from workbench import words
from workbench.records import (
    BenchFile,
    Decided,
    KeptReading,
    Outcome,
    SheetHead,
    Strike,
    new_id,
    now,
)
from workbench.sitting.faceplan import View
from workbench.sitting.keeper import Keeper
from workbench.sitting.lines import Keeping, Line, Lines
from workbench.sitting.pick import Pick
from workbench.sitting.questions import LONE_ONE, slip_question
from workbench.sitting.say import Choice, Said, Tone
from workbench.sitting.standing import Standing
from workbench.stator.entry import Entry, EntryError, LoneOne, Overload, Shown, read_entry
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.judge import JudgedSheet, Row, judge
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import MOST_READINGS, Proof, Reading, Sheet
from workbench.stator.slips import Slip, find_slip

UNDONE = "undone"


class Bench:
    """One unit's latest sheet, being read. Tells `on_change` after whatever changes it."""

    def __init__(self, file: BenchFile, keeper: Keeper) -> None:
        self.unit = file.unit
        self.job = file.job
        self.revision = file.revision
        self._standing = Standing(file.sheet, file.decided, keeper)
        self.expectations = Expectations(self.pattern)
        self.lines = Lines(tuple(Line(k, Keeping.SAFE) for k in file.readings))
        self.text = ""
        self.said: Said | None = None
        self.on_change: Callable[[], None] = lambda: None
        self._keeper = keeper
        self.shows: Callable[[Pair], str] | None = None  # what a practice part's meter shows
        self._pick = Pick(self.pattern.connectors[0].name if self.pattern.connectors else None)
        self._last: Pair | None = None
        self._asked: tuple[str, Pair] | None = None
        self._striking: set[UUID] = set()  # strikes on their way: what they strike may come back
        self._judged = self._judge()
        self._pick_offered()

    # ---- what stands

    @property
    def pattern(self) -> Pattern:
        return self.revision.pattern

    @property
    def head(self) -> SheetHead:
        return self._standing.head

    @property
    def decided(self) -> Decided | None:
        return self._standing.decided

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

    @property
    def judged(self) -> JudgedSheet:
        return self._judged

    @property
    def offered(self) -> Pair | None:
        """The next check: an outside reading that awaits its repeat first, then the plan in its order."""
        judged = self._judged
        return next(iter((*judged.awaiting, *judged.unread)), None)

    def rows_by_reading(self) -> dict[UUID, Row]:
        """The judged row of each reading that counts, by the reading's id."""
        return {line.kept.id: row for line, row in zip(self.lines.counted, self._judged.rows, strict=True)}

    def last_row(self, pair: Pair) -> Row | None:
        """The newest judged row of this pair."""
        return next((r for r in reversed(self._judged.rows) if self.expectations.same(r.reading.pair, pair)), None)

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
        line = self.lines.find(reading_id)
        if line is None or line.kept.strike is not None:
            return
        if not reason.strip():
            self._refuse("Say why the reading is struck out: a missed pin, the wrong range, a slip of the finger.")
            return
        if line.keeping is Keeping.LOST:
            self._refuse("This reading is not kept, so there is nothing to strike out. It counts for nothing.")
            return
        struck = Strike(new_id(), reading_id, reason.strip(), now())
        self.lines = self.lines.struck(reading_id, struck)
        self._striking.add(reading_id)
        self.said = None
        self._rejudge()

        def then(_: object) -> None:
            self._striking.discard(reading_id)

        def failed(e: Exception) -> None:
            self._striking.discard(reading_id)
            self.lines = self.lines.struck(reading_id, None)
            self._rejudge()
            lost = self.lines.find(reading_id)
            if lost is None or lost.keeping is not Keeping.LOST:  # else that it isn't kept was said, with the way on
                self._refuse(f"The reading is not struck out. {e}")

        self._keeper.strike(struck, then=then, failed=failed)
        self._tell()

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
        """Tries a reading that could not be kept once more; its id makes that safe."""
        line = self.lines.find(reading_id)
        if line is not None and line.keeping is Keeping.LOST:
            trouble = self._misfit(self.head, line) or self._full()
            if trouble:
                self._refuse(trouble)
                return
            self.lines = self.lines.keeping(reading_id, Keeping.HOLLOW)
            self.said = None
            self._rejudge()
            self._send(line.kept)
            self._tell()

    def decide(self, outcome: Outcome, note: str) -> None:
        verdict = str(self._judged.verdict)
        decided = Decided(new_id(), self.job.id, self.head.id, outcome, note.strip(), verdict, now())
        self._standing.decide(
            decided, lambda e: self._tell() if e is None else self._refuse(f"The decision is not kept. {e}")
        )
        self._tell()

    def change_conditions(self, head: SheetHead) -> None:
        """Leads, temperature, iron and meter of this sheet. Every reading is judged anew by them."""
        coming = (x for x in self.lines if x.counts or x.kept.id in self._striking)
        trouble = next((t for x in coming if (t := self._misfit(head, x))), "")
        if trouble:
            self._refuse(f"{trouble} Nothing was changed.")
            return

        self.said = None
        self._asked = None

        def told(e: Exception | None) -> None:
            self._rejudge()
            if e is None:
                self._tell()
            else:
                more = " The readings taken since need it: enter it again." if self._standing.unkept else ""
                self._refuse(f"The change is not kept. {e}{more}")

        self._standing.change(head, lambda h: not any(self._misfit(h, x) for x in self.lines.counted), told)
        self._rejudge()
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
        sheet = self._sheet(self.head)
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

    def _misfit(self, head: SheetHead, line: Line) -> str:
        """Why a reading can't be one of a sheet under this head, as a sentence; empty where it can."""
        try:
            Sheet(self.pattern, head.meter, head.conditions, (line.kept.reading,))
        except FieldError as e:
            pair = words.pair_words(line.kept.reading.pair, self.pattern)
            return f"The reading {line.kept.typed} for {pair} doesn't fit that meter: {e.sentence}."
        return ""

    def _full(self) -> str:
        if len(self.lines.counted) < MOST_READINGS:
            return ""
        return f"This sheet has {MOST_READINGS} readings, and more it can't hold: begin a new sheet."

    def _keep(self, reading: Reading, typed: str) -> None:
        if self._full():
            self._refuse(self._full())
            return
        kept = KeptReading(new_id(), self.head.id, self.lines.next_place, reading, typed, now())
        self.lines = self.lines.added(kept)
        self.text = ""
        self.said = None
        self._asked = None
        self._last = reading.pair
        self._rejudge()
        self._say_result(reading.pair)
        self._pick_offered()
        self._send(kept)
        self._tell()

    def _say_result(self, pair: Pair) -> None:
        """What would settle a reading that isn't inside, while the part is still under the probes."""
        row = self.last_row(pair)
        if row is None:
            return
        more = words.remedy_words(row, zeroed=self.head.meter_zeroed)
        if more and row.verdict is not None:
            self.said = Said(Tone.TELLS, f"{words.reason_words(row, self.pattern)} {more}")

    def _send(self, kept: KeptReading) -> None:
        def then(_: object) -> None:
            self.lines = self.lines.keeping(kept.id, Keeping.SAFE)
            self._tell()

        def failed(e: Exception) -> None:
            self.lines = self.lines.keeping(kept.id, Keeping.LOST)
            self._rejudge()
            self.said = Said(
                Tone.REFUSES,
                f"{kept.typed} for {words.pair_words(kept.reading.pair, self.pattern)} is not kept. {e}",
                (Choice("Try again", lambda: self.keep_again(kept.id)),),
            )
            self._tell()

        self._keeper.keep_reading(kept, then=then, failed=failed)

    def _set_pair(self, pair: Pair) -> None:
        self._pick = self._pick.taken(pair)
        if self._asked and self._asked[1] != pair:
            self._asked = None

    def _pick_offered(self) -> None:
        if self.offered is not None:
            self._set_pair(self.offered)

    def _sheet(self, head: SheetHead) -> Sheet:
        return Sheet(
            self.pattern,
            head.meter,
            head.conditions,
            self.lines.readings,
            proof=Proof(iron=head.iron_ohms is not None),
        )

    def sheet(self) -> Sheet:
        """The sheet as it is judged: what is struck, or could not be kept, left out."""
        return self._sheet(self.head)

    def _judge(self) -> JudgedSheet:
        return judge(self._sheet(self.head), self.expectations)

    def _rejudge(self) -> None:
        self._judged = self._judge()

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self._tell()

    def _tell(self) -> None:
        self.on_change()
