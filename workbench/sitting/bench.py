"""A unit on the bench: from two pins to a verdict, without a window."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from uuid import UUID

from workbench.findings.faults import STATED, Fault
from workbench.findings.records import Finding
from workbench.records import BenchFile, Outcome, RepairKind
from workbench.sitting.jobwords import JobWords
from workbench.sitting.keeper import Keeper
from workbench.sitting.opensheet import DECIDED, WEIGHED, OpenSheet, Reckon
from workbench.sitting.say import SILENCE, Said, Tone
from workbench.sitting.taking import Taking
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Sheet

UNDONE = "undone"


class Bench(Taking):
    """One unit's latest sheet, being read. Tells `on_change` after whatever changes it."""

    def __init__(
        self, file: BenchFile, keeper: Keeper, *, past: bool = False, reckon: Reckon | None = None,
        priors: Mapping[Fault, float] = STATED,
    ) -> None:  # fmt: skip
        """`past`: an earlier sheet of the unit, only to look at. `reckon` weighs what the readings say, by `priors`."""
        super().__init__(OpenSheet(file, keeper, self._news, reckon, priors), past=past)
        self.on_decided: Callable[[], None] = lambda: None  # once a decision is safe
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

    def repair(self, kind: RepairKind, where: str, note: str) -> None:
        """Something was mended: written down for good, and the part is to be read anew."""
        self._do(lambda: self._open.repair(kind, where, note))

    def write_job(self, words: JobWords) -> None:
        """What the shop writes of the part and of this visit in words of its own."""
        self._do(lambda: self._open.write_job(words))

    def keep_again(self, reading_id: UUID) -> None:
        """Tries a reading that could not be kept once more."""
        self._do(lambda: self._open.keep_again(reading_id))

    def decide(self, outcome: Outcome, note: str, found: str = "", where: str = "", *, ran_well: bool = False) -> None:
        """`found`, `where`: what the part was found to have, by the codes that `found_choices` offers."""
        if self._only_to_look():
            return
        self._open.decide(outcome, note, found, where, ran_well=ran_well)
        self._tell()

    # ---- inside

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

    def remember(self, good: tuple[Sheet, ...], days: tuple[str, ...]) -> None:
        """The unit's own good sheets before this one, and their days: the readings are weighed by them too."""
        self.past_days = days
        self._open.remember(good)

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
