"""A part without papers under the probes: plugs of the shape that was seen, readings, and which pattern it may be."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Protocol, TypeVar
from uuid import UUID

from workbench.matching.library import Library
from workbench.matching.weighing import Weighed, weigh
from workbench.records import KeptDraft, PatternRevision, SheetHead, new_id, now
from workbench.sitting.draftkeep import DraftKeep, Records
from workbench.sitting.pick import Pick
from workbench.sitting.questions import lone_one_question
from workbench.sitting.say import Said, Tone
from workbench.sitting.whichdraft import body_of, part_from
from workbench.sitting.whichfacts import WhichFacts
from workbench.sitting.whichpart import KIND, Part, Seen
from workbench.stator.entry import Entry, EntryError, LoneOne, Overload, Shown, read_entry
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Connector, Pair
from workbench.stator.sheet import Reading
from workbench.whichwords import several

NO_PLUG = "Put the plugs on first: choose the shape of each, as you look into it."

T = TypeVar("T")


class Reckoner(Protocol):
    def __call__(self, work: Callable[[], T], then: Callable[[T], object]) -> object: ...


def at_once(work: Callable[[], T], then: Callable[[T], object]) -> None:
    then(work())


@dataclass(frozen=True, slots=True)
class Cannot:
    """Why nothing can be ranked, as a sentence."""

    sentence: str


class WhichSitting(WhichFacts):
    """Tells `on_change` after whatever changes it. Every step is kept as a draft."""

    def __init__(
        self, records: Records, head: SheetHead, library: Sequence[PatternRevision], *, kept: KeptDraft | None = None,
        reckon: Reckoner = at_once, clock: Callable[[], datetime] = now,
    ) -> None:  # fmt: skip
        """`library`: the newest revision of each pattern. `kept`: a part that was begun, to go on with; its head goes
        before. Raises FieldError for one that can't be read."""
        super().__init__(part_from(kept.body) if kept is not None else Part(head), library)
        self._reckon, self._clock = reckon, clock
        self._ready: Library | None = None
        self.keeping = DraftKeep(
            records, kept, self._refuse, kind=KIND, unkept="What was read last is not kept yet.", told=self._kept
        )
        self.on_change: Callable[[], None] = lambda: None
        self._lone: tuple[str, Pair] | None = None  # a lone 1 was asked about: the same again keeps it
        self._weigh()
        self._offer()

    # ---- plugs

    def put_on(self, face: Connector) -> None:
        """One more plug of this shape."""
        self.part = self.part.with_plug(face)
        self._pick = replace(self._pick, plug=self.part.plugs[-1].name, nodes=())
        self.said = None
        self._step()

    def take_off(self, plug: str) -> None:
        """A plug that was not there after all: only one that nothing was read on."""
        read = self.part.touching(plug)
        if read:
            self._refuse(f"Plug {plug} has {len(read)} reading(s). Strike them out first: nothing was changed.")
            return
        self.part = self.part.without(plug)
        left = self.part.plugs
        self._pick = Pick(left[0].name if left else None, view=self._pick.view)
        self.said = None
        self._step()

    # ---- hands

    def see_plug(self, plug: str) -> None:
        self._pick = self._pick.seeing(plug)
        self.on_change()

    def turn(self) -> None:
        self._pick = self._pick.turned()
        self.on_change()

    def flip(self) -> None:
        self._pick = self._pick.flipped()
        self.on_change()

    def press(self, node: str) -> None:
        self._pick = self._pick.pressed(node)
        self.said = None
        self.on_change()

    def pick(self, pair: Pair) -> None:
        self._set_pair(pair)
        self.said = None
        self.on_change()

    def go_on(self) -> None:
        """To the pair that tells most; from one of those to the next, round and round."""
        self.text, self.said = "", None
        if not self.part.plugs:
            self._refuse(NO_PLUG)
            return
        telling = self.telling
        here = next((i for i, p in enumerate(telling) if self.pair is not None and self.same(p, self.pair)), -1)
        if telling:
            self._set_pair(telling[(here + 1) % len(telling)])
        elif not self.weighing:
            self.said = Said(Tone.TELLS, "No further pair would tell more of which one it is.")
        self.on_change()

    def enter(self, text: str) -> None:
        """Takes a line of typing. What can't be used stays in the field, with a sentence beside it."""
        self.text = text
        pattern = self.part.pattern
        if not text.strip():
            self.go_on()
            return
        if pattern is None:
            self._refuse(NO_PLUG)
            return
        try:
            self._take(read_entry(text, pattern, self.plug))
        except EntryError as e:
            self._refuse(e.sentence)

    def open_line(self) -> None:
        """The meter shows an overload."""
        if self.part.pattern is None:
            self._refuse(NO_PLUG)
        else:
            self._take(Entry(None, Overload("OL")))

    def strike(self, reading: UUID, reason: str) -> None:
        seen = tuple(replace(s, struck=reason) if s.id == reading and not s.struck else s for s in self.part.seen)
        if seen != self.part.seen:
            self.part = replace(self.part, seen=seen)
            self.said = None
            self._step()

    def undo(self) -> None:
        """Strikes the newest reading out."""
        counted = self.part.counted
        if counted:
            pair = counted[-1].reading.pair
            self.strike(counted[-1].id, "undone")
            self.pick(pair)

    def read_again(self, reading: UUID | None) -> None:
        """Its pair, or that of the newest, is in hand."""
        seen = next((s for s in self.part.seen if s.id == reading), None) or next(iter(self.part.seen[::-1]), None)
        if seen is not None:
            self.pick(seen.reading.pair)

    def change_conditions(self, head: SheetHead) -> None:
        """Leads, temperature, iron and meter; refused where a reading can't have been shown by that meter."""
        for s in self.part.counted:
            why = self.part.misfit(s.reading, head)
            if why:
                self._refuse(f"{head.meter_name} can't have shown {s.typed}: {why}. Meter and leads are as they were.")
                return
        self.part = replace(self.part, head=head)
        self.said = None
        self._step()

    def know(self, library: Sequence[PatternRevision]) -> None:
        """The shop's patterns as they are now."""
        if tuple(library) != self.library:
            self.library, self._ready = tuple(library), None
            self._weigh()
            self.on_change()

    def keep_again(self) -> None:
        """What could not be kept is sent once more."""
        part = self.part
        self._refuse("What was read here last is not kept yet, and is tried again: nothing else was opened.")
        self.keeping.keep(title_of(part), lambda: body_of(part))

    def tell(self, sentence: str) -> None:
        """Without one, what was said is taken back."""
        self.said = Said(Tone.TELLS, sentence) if sentence else None
        self.on_change()

    def ask(self, said: Said) -> None:
        self.said = said
        self.on_change()

    # ---- inside

    def _take(self, entry: Entry) -> None:
        if entry.pair is not None:
            self._set_pair(entry.pair)
        if entry.value is None:
            self.text, self.said = "", None
            self.on_change()
            return
        pair = self.pair
        if pair is None:
            wanted = "the other pin" if self.picked else "two pins"
            self._refuse(f"Pick {wanted} first, or type both, as in “1 3”. The number stays in the field.")
            return
        match entry.value:
            case LoneOne(text) if self._lone != (text, pair):
                self._lone = text, pair
                self.said = lone_one_question(
                    lambda: self._keep(Reading(pair, None), "1"), lambda: self._keep(Reading(pair, 1.0), "1")
                )
                self.on_change()
            case LoneOne(text):
                self._keep(Reading(pair, 1.0), text)
            case Overload(text):
                self._keep(Reading(pair, None), text)
            case Shown() as shown:
                self._keep(Reading(pair, shown.ohms), shown.text)

    def _keep(self, reading: Reading, typed: str) -> None:
        why = self.part.misfit(reading, self.head)
        if why:
            self._refuse(f"Not taken: {why}. Look at the meter's range, or type OL for an overload.")
            return
        self.part = replace(self.part, seen=(*self.part.seen, Seen(new_id(), reading, typed, self._clock())))
        self.text, self.said, self._lone = "", None, None
        self._last = reading.pair
        self._step()

    def _step(self) -> None:
        """Something of the part has changed: kept, weighed, shown."""
        part = self.part
        if self.begun:
            self.keeping.keep(title_of(part), lambda: body_of(part))
        else:
            self.keeping.drop()
        self._weigh()
        self.on_change()

    def _weigh(self) -> None:
        self._asked += 1
        mine, part, ready = self._asked, self.part, self._ready
        patterns = tuple(r.pattern for r in self.library)
        if not part.plugs:
            self.weighed, self.cannot, self._answered = None, "", mine
            return

        def work() -> tuple[Library, Weighed | Cannot]:
            library = ready if ready is not None else Library.of(patterns)
            try:
                candidates = library.candidates(part.plugs)
                return library, weigh(candidates, part.head.meter, part.head.conditions, part.readings)
            except FieldError as e:
                return library, Cannot(f"No pattern is looked for: {e.sentence}.")

        def then(answer: tuple[Library, Weighed | Cannot]) -> None:
            if patterns == tuple(r.pattern for r in self.library):
                self._ready = answer[0]
            if mine != self._asked:
                return
            self._answered = mine
            found = answer[1]
            self.weighed = found if isinstance(found, Weighed) else None
            self.cannot = found.sentence if isinstance(found, Cannot) else ""
            self._offer()
            self.on_change()

        self._reckon(work, then)

    def _offer(self) -> None:
        """The pair that tells most into the hands, but for one that was just picked by hand and is not read yet."""
        offered = self.offered
        in_hand = self.pair is not None and not self.part.read(self.pair)
        if offered is not None and not in_hand and len(self.picked) != 1:
            self._set_pair(offered)

    def _set_pair(self, pair: Pair) -> None:
        self._pick = self._pick.taken(pair)
        if self._lone and self._lone[1] != pair:
            self._lone = None

    def _kept(self) -> None:
        self._safe = frozenset(s.id for s in self.part.seen)
        self.on_change()

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self.on_change()


def title_of(part: Part) -> str:
    """`5 cavities, 3 readings`."""
    pins = sum(len(p.cavities) for p in part.plugs)
    plugs = f"{len(part.plugs)} plugs, " if len(part.plugs) > 1 else ""
    return f"{plugs}{several(pins, 'cavity', 'cavities')}, {several(len(part.counted), 'reading', 'readings')}"
