"""From what is typed or touched to a reading that is kept: the field's part of the bench."""

from collections.abc import Callable
from dataclasses import replace

from workbench.records import SheetHead
from workbench.sitting.benchfacts import BenchFacts
from workbench.sitting.conditions import FormError
from workbench.sitting.opensheet import OpenSheet
from workbench.sitting.questions import lone_one_question, remedy_for, slip_question
from workbench.sitting.say import Said, Tone
from workbench.sitting.steps import ASKS, Step, after, taken
from workbench.stator.entry import Entry, EntryError, LoneOne, Overload, Shown, read_entry
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading
from workbench.stator.slips import Slip, find_slip


class Taking(BenchFacts):
    """Takes what is typed: two pins, what the meter shows, or the answer to a step. Tells `on_change` after each."""

    def __init__(self, opened: OpenSheet, *, past: bool) -> None:
        """`past`: an earlier sheet of the unit, only to look at."""
        super().__init__(opened)
        self.past = past
        self.on_change: Callable[[], None] = lambda: None
        self._handed: Pair | None = None  # the pair that was picked for the hands, not by them
        self._asked: tuple[str, Pair] | None = None  # a slip was asked about: the same again keeps it

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

    def _set_pair(self, pair: Pair) -> None:
        self._pick = self._pick.taken(pair)
        if self._asked and self._asked[1] != pair:
            self._asked = None

    def _pick_offered(self) -> None:
        if self.offered is not None:
            self._set_pair(self.offered)
            self._handed = self.offered

    def _only_to_look(self) -> bool:
        """An earlier sheet takes nothing more: what was read then was read then."""
        if self.past:
            day = self.head.started_at.astimezone().date().isoformat()
            self._refuse(f"This is the sheet of {day}, only to look at. Go to the latest sheet to read the part.")
        return self.past

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self._tell()

    def _tell(self) -> None:
        self.on_change()

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
