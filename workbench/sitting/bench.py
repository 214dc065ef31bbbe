"""A unit on the bench: from two pins to a verdict, without a window."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from uuid import UUID

from workbench.findings.faults import STATED, Fault
from workbench.findings.records import Finding
from workbench.records import BenchFile, Outcome, SheetHead
from workbench.sitting.benchfacts import BenchFacts
from workbench.sitting.conditions import FormError
from workbench.sitting.keeper import Keeper
from workbench.sitting.opensheet import DECIDED, WEIGHED, OpenSheet, Reckon
from workbench.sitting.questions import lone_one_question, remedy_for, slip_question
from workbench.sitting.say import SILENCE, Said, Tone
from workbench.sitting.steps import ASKS, Step, after, taken
from workbench.stator.entry import Entry, EntryError, LoneOne, Overload, Shown, read_entry
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading
from workbench.stator.slips import Slip, find_slip

UNDONE = "undone"


class Bench(BenchFacts):
    """One unit's latest sheet, being read. Tells `on_change` after whatever changes it."""

    def __init__(
        self, file: BenchFile, keeper: Keeper, *, past: bool = False, reckon: Reckon | None = None,
        priors: Mapping[Fault, float] = STATED,
    ) -> None:  # fmt: skip
        """`past`: an earlier sheet of the unit, only to look at. `reckon` weighs what the readings say, by `priors`."""
        super().__init__(OpenSheet(file, keeper, self._news, reckon, priors))
        self.past = past
        self.on_change: Callable[[], None] = lambda: None
        self.on_decided: Callable[[], None] = lambda: None  # once a decision is safe
        self._handed: Pair | None = None  # the pair that was picked for the hands, not by them
        self._asked: tuple[str, Pair] | None = None  # a slip was asked about: the same again keeps it
        self._pick_offered()
        self._open.weigh()

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
        self.step = None
        self._pick = self._pick.pressed(node)
        self.said = None
        self._asked = None
        self._tell()

    def pick(self, pair: Pair) -> None:
        self.step = None
        self._set_pair(pair)
        self.said = None
        self._tell()

    def go_on(self) -> None:
        """To the next check that is still to be read; from one of those to the one after it, round and round."""
        self.step = None
        self.text = ""
        self.said = None
        waiting = self.waiting
        here = next((i for i, c in enumerate(waiting) if self.pair and self.expectations.same(c, self.pair)), -1)
        if waiting:
            self._set_pair(waiting[(here + 1) % len(waiting)])
        else:
            self.said = Said(Tone.TELLS, "Every planned check is read.")
        self._tell()

    def enter(self, text: str) -> None:
        """Takes a line of typing. What can't be used stays in the field, with a sentence beside it."""
        self.text = text
        if self.step is not None:
            self._take_step(text)
            return
        if not text.strip():
            self.go_on()
            return
        try:
            entry = read_entry(text, self.pattern, self.plug)
        except EntryError as e:
            self._refuse(e.sentence)
            return
        self._take(entry)

    def begin_steps(self) -> None:
        """Zero the leads, then prove the iron where that isn't done yet: typed in the field like readings."""
        if self._only_to_look():
            return
        self._step_to(Step.LEADS)

    def open_line(self) -> None:
        """The meter shows an overload."""
        if self.step is not None:
            self._take_step("OL")
            return
        self._take(Entry(None, Overload("OL")))

    def strike(self, reading_id: UUID, reason: str) -> None:
        """Strikes a reading out. A reason is needed; the reading stays visible and counts no more."""
        self._do(lambda: self._open.strike(reading_id, reason))

    def undo(self) -> None:
        """Strikes the newest reading out with the reason "undone", and picks its pair again."""
        line = next(reversed(self.lines.counted), None)
        if line is None:
            self.tell("There is no reading to undo.")
            return
        self.pick(line.kept.reading.pair)
        self.strike(line.kept.id, UNDONE)

    def read_again(self, reading_id: UUID | None = None) -> None:
        """Picks the pair of a reading anew, of the newest one where none is named: the mean of both counts."""
        named = self.lines.find(reading_id) if reading_id is not None else None
        line = named or next(reversed(self.lines.counted), None)
        if line is None:
            self.tell("Nothing is read yet that could be read again.")
        elif not self._only_to_look():
            self.pick(line.kept.reading.pair)

    def write_note(self, text: str) -> None:
        """What is to be remembered of this sitting, in the technician's own words."""
        if text.strip() != self.head.note:
            self._do(lambda: self._open.change_conditions(replace(self.head, note=text.strip())))

    def keep_again(self, reading_id: UUID) -> None:
        """Tries a reading that could not be kept once more."""
        self._do(lambda: self._open.keep_again(reading_id))

    def decide(self, outcome: Outcome, note: str, found: str = "", where: str = "") -> None:
        """`found`, `where`: what the part was found to have, by the codes that `found_choices` offers."""
        if self._only_to_look():
            return
        self._open.decide(outcome, note, found, where)
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
        self.said = lone_one_question(
            lambda: self._keep(Reading(pair, None), "1"), lambda: self._take_number(pair, Shown(1.0, 1.0, "1"))
        )
        self._tell()

    def _ask_slip(self, pair: Pair, shown: Shown, slip: Slip) -> None:
        self._asked = (shown.text, pair)
        as_typed = Reading(pair, shown.ohms)
        self.said = slip_question(
            self.pattern, pair, shown, slip, lambda: self._keep_meant(slip), lambda: self._keep(as_typed, shown.text)
        )
        self._tell()

    def _keep_meant(self, slip: Slip) -> None:
        self._set_pair(slip.pair)
        self._keep(Reading(slip.pair, slip.ohms), slip.text)

    def _only_to_look(self) -> bool:
        """An earlier sheet takes nothing more: what was read then was read then."""
        if self.past:
            day = self.head.started_at.astimezone().date().isoformat()
            self._refuse(f"This is the sheet of {day}, only to look at. Go to the latest sheet to read the part.")
        return self.past

    def _keep(self, reading: Reading, typed: str) -> None:
        if self._only_to_look():
            return
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
        if row is not None and self.said is None:
            self.said = remedy_for(row, self.pattern, zeroed=self.head.meter_zeroed)

    def _set_pair(self, pair: Pair) -> None:
        self._pick = self._pick.taken(pair)
        if self._asked and self._asked[1] != pair:
            self._asked = None

    def _pick_offered(self) -> None:
        if self.offered is not None:
            self._set_pair(self.offered)
            self._handed = self.offered

    def _take_step(self, text: str) -> None:
        step = self.step
        assert step is not None
        if text.strip():
            try:
                head = taken(step, text, self.head)
            except FormError as e:
                self._refuse(e.sentence)
                return
            self.change_conditions(head)
        self._step_to(after(step, self.head))

    def _step_to(self, step: Step | None) -> None:
        self.step = step
        self.text = ""
        self._asked = None
        if step is not None:
            self.said = Said(Tone.TELLS, ASKS[step])
        elif self.said is not None and self.said.tone is Tone.TELLS:
            self.said = None
        self._tell()

    def _do(self, act: Callable[[], str]) -> None:
        """What was said before is over; the act may bring news of its own at once."""
        if self._only_to_look():
            return
        self.said = None
        trouble = act()
        if trouble:
            self._refuse(trouble)
        else:
            self._tell()

    def _news(self, said: Said | None) -> None:
        if said is WEIGHED:
            # another pair may tell more now: offered only while the hands have not gone to one of their own
            if self.pair is not None and self.pair == self._handed and not self.text and self.step is None:
                self._pick_offered()
        elif said is DECIDED:
            self.on_decided()
        elif said is not None:
            self.said = said if said is not SILENCE else None
        self._tell()

    def stand_on(self, priors: Mapping[Fault, float]) -> None:
        """What the readings say is weighed anew, by other odds."""
        self._open.stand_on(priors)

    def point(self, finding: Finding | None) -> None:
        """Lights what speaks for and against an explanation."""
        found = self.explained
        before = self.pointed
        self._pointed = None
        if finding is not None and found is not None:
            key = self.expectations.key
            self._pointed = (self.judged, finding, {key(s.pair): s.bits for s in found.speeches(finding)})
        if self.pointed is not before:
            self._tell()

    def tell(self, sentence: str) -> None:
        self.said = Said(Tone.TELLS, sentence)
        self._tell()

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self._tell()

    def _tell(self) -> None:
        self.on_change()
