"""A unit's rewinds within one job: which winding is in hand, what is written down of it, kept at each step."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Protocol, TypeVar
from uuid import UUID, uuid5

from workbench.exchange.finished import holding
from workbench.exchange.rewindbody import EMPTY, body_from_text, body_to_text
from workbench.records import Job, KeptRewind, SheetHead, Spool, SpoolDraw, Unit, new_id, now
from workbench.rewind.asleft import as_left
from workbench.rewind.ofpattern import names_of, windings_of
from workbench.rewind.record import Body, Draw
from workbench.rewind.shelf import AsWas
from workbench.sitting.edited import Edited
from workbench.sitting.keeper import Failed, Then
from workbench.sitting.say import Choice, Said, Tone
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern

T = TypeVar("T")


class RewindKeeper(Protocol):
    """Each call returns at once; one of the two callbacks follows when the record is safe, or could not be kept."""

    def save_rewind(self, rewind: KeptRewind, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def finish_rewind(
        self, rewind: KeptRewind, draws: Sequence[SpoolDraw], then: Then | None = None, failed: Failed | None = None
    ) -> Any: ...

    def save_spool(self, spool: Spool, then: Then | None = None, failed: Failed | None = None) -> Any: ...


class Reckoner(Protocol):
    def __call__(self, work: Callable[[], T], then: Callable[[T], object]) -> object: ...


def at_once(work: Callable[[], T], then: Callable[[T], object]) -> None:
    then(work())


class Rewinding:
    """`winding`: the one in hand, of `windings`; one whose rewind was left unfinished is gone on with.

    Nothing is written before something is changed. `on_change` hears of every change, `on_done` when one is finished.
    """

    def __init__(
        self, unit: Unit, job: Job, pattern: Pattern, kept: Sequence[KeptRewind], spools: Sequence[Spool],
        keeper: RewindKeeper, *, reckon: Reckoner = at_once, clock: Callable[[], datetime] = now, winding: str = "",
        head: SheetHead | None = None, before: Sequence[KeptRewind] = (),
    ) -> None:  # fmt: skip
        """`winding`: to begin with where none was left unfinished. `head`: of the sheet on the bench, for its meter.
        `before`: done on the unit's earlier visits.
        """
        self.unit, self.job, self.pattern, self.spools = unit, job, pattern, tuple(spools)
        self.keeper, self.reckon, self.head = keeper, reckon, head
        self.windings = windings_of(pattern)
        self.on_change: Callable[[], None] = lambda: None
        self.on_done: Callable[[], None] = lambda: None
        self.said: Said | None = None
        self.refused_field = ""
        # ids of the records whose page Wire has something typed that is not noted yet
        self.unnoted: set[UUID] = set()
        self.run_since = False  # whether a run was noted of one that was finished
        self._left = tuple((names, as_left(body)) for names, _, body in holding(pattern, before) if body is not None)
        self._clock = clock
        self._edited: dict[str, Edited[KeptRewind]] = {}
        self._read: tuple[str, Body, str] = ("", Body(), "")
        self._finishing: dict[str, tuple[SpoolDraw, ...]] = {}
        self._sent: set[str] = set()
        for record in kept:  # oldest first, so that the latest holds; a finished one gives way
            other = self._edited.get(record.winding)
            if other is None or record.done_at is None or other.shown.done_at is not None:
                self._edited[record.winding] = Edited(record, keeper.save_rewind)
        begun = [w for w in reversed(self._edited) if self._edited[w].shown.done_at is None]
        self.winding = next(iter([*begun, *(w for w in (winding,) if w in self.windings), *self.windings]), "")

    # ---- what stands

    @property
    def record(self) -> KeptRewind:
        return self._in_hand.shown

    @property
    def body(self) -> Body:
        """Of the winding in hand; empty where it can't be read (`unreadable` says why)."""
        return self._parsed()[1]

    @property
    def unreadable(self) -> str:
        return self._parsed()[2]

    @property
    def left(self) -> AsWas | None:
        """The winding in hand as an earlier visit's rewind left it; None where there was none, or it isn't known."""
        mine = set(names_of(self.pattern, self.winding))
        return next((left for names, left in self._left if mine <= names), None)

    @property
    def done(self) -> bool:
        return self.record.done_at is not None

    @property
    def saving(self) -> bool:
        """Whether something is still on its way to the store."""
        return bool(self._finishing) or any(e.unkept for e in self._edited.values())

    def standing(self, winding: str) -> str:
        """How far a winding's rewind is, in a word; nothing where there is none."""
        edited = self._edited.get(winding)
        if edited is None or (edited.shown.version == 0 and not edited.unkept):
            return ""
        return "finished" if edited.shown.done_at is not None else "begun"

    # ---- acts

    def choose(self, winding: str) -> None:
        if winding in self.windings and winding != self.winding:
            self.winding = winding
            self._hush()
            self.on_change()

    def change(self, body: Body, said: Said | None = None) -> bool:
        """Writes the body of the winding in hand; shown at once, put back where it can't be kept.

        One that is finished takes nothing more but how the part has run since.
        """
        if not (self.done and self._only_tells_of_a_run(body)) and self._closed():
            return False
        self.run_since = self.run_since or self.done
        winding, edited, text = self.winding, self._in_hand, body_to_text(body)
        try:
            self._read = (text, body_from_text(text), "")
        except FieldError as e:  # what can't be read again would hide all that was noted before it
            self.refuse(f"That can't be written down: {e}. What was noted before stays.")
            return False
        self.said, self.refused_field = said, ""
        edited.change(replace(edited.shown, body=text), lambda e: self._told(winding, e))
        self.on_change()
        return True

    def again(self) -> None:
        """Another rewind of a winding whose last one is finished."""
        if self.done:
            self._edited[self.winding] = self._new(self.winding)
            self._hush()
            self.on_change()

    def finish(self, draws: Sequence[Draw] | None = None) -> None:
        """The rewind in hand is done: it, and what it took off the shelf, are kept together or not at all.

        `draws`: as weighed; without them those of the wire that was taken. A second time draws nothing more.
        """
        chosen = self.body.wire.chosen if self.body.wire is not None else None
        if self.done or self.winding in self._finishing:
            return
        if self.record.version == 0 and not self._in_hand.unkept:
            self.refuse("Nothing is written down of this rewind yet, so there is nothing to finish.")
            return
        if draws is None and chosen is None:
            self.refuse("No wire is taken yet. Take one on the page Wire: then what it takes off the shelf is known.")
            return
        if draws is None:
            draws = chosen.draws if chosen is not None else ()
        rewind, moment = self.record.id, self._clock()
        # ids of its own, so that what is sent again is known again
        self._finishing[self.winding] = tuple(
            SpoolDraw(uuid5(rewind, str(d.spool)), d.spool, rewind, d.grams, moment) for d in draws if d.grams > 0
        )
        self._hush()
        self._finish_when_kept(self.winding)
        self.on_change()

    def shelve(self, spools: Sequence[Spool]) -> None:
        """The shelf as it is now."""
        self.spools = tuple(spools)
        self.on_change()

    def tell(self, sentence: str) -> None:
        self.said, self.refused_field = Said(Tone.TELLS, sentence), ""
        self.on_change()

    def refuse(self, sentence: str, field: str = "") -> None:
        """`field`: the one at fault, as its form names it."""
        self.said, self.refused_field = Said(Tone.REFUSES, sentence), field
        self.on_change()

    def ask(self, sentence: str, *choices: Choice) -> None:
        self.said, self.refused_field = Said(Tone.ASKS, sentence, choices), ""
        self.on_change()

    def moment(self) -> datetime:
        """Now, UTC."""
        return self._clock()

    # ---- inside

    @property
    def _in_hand(self) -> Edited[KeptRewind]:
        if self.winding not in self._edited:
            self._edited[self.winding] = self._new(self.winding)
        return self._edited[self.winding]

    def _new(self, winding: str) -> Edited[KeptRewind]:
        return Edited(KeptRewind(new_id(), self.job.id, winding, EMPTY, self._clock()), self.keeper.save_rewind)

    def _parsed(self) -> tuple[str, Body, str]:
        text = self.record.body
        if self._read[0] != text:
            try:
                self._read = (text, body_from_text(text), "")
            except FieldError as e:
                self._read = (
                    text,
                    Body(),
                    f"What was written of this rewind can't be read here: {e}. It is left alone.",
                )
        return self._read

    def _only_tells_of_a_run(self, body: Body) -> bool:
        before = self.body
        if self.unreadable or body.wound is None or before.wound is None:
            return False
        return replace(body, wound=replace(body.wound, run=before.wound.run)) == before

    def _closed(self) -> bool:
        if self.unreadable:
            self.refuse(self.unreadable)
        elif self.done:
            self.said = Said(
                Tone.REFUSES,
                "This rewind is finished, and stays as it is. If the winding was wound once more, begin another.",
                (Choice("Begin another", self.again),),
            )
            self.on_change()
        elif self.winding in self._finishing:
            self.refuse("This rewind is being finished; nothing of it changes now.")
        else:
            return False
        return True

    def _told(self, winding: str, e: Exception | None) -> None:
        if e is not None:
            self._finishing.pop(winding, None)
            self.refuse(f"The last change of {winding} is not kept, and is put back. {e}")
            return
        self._finish_when_kept(winding)
        self.on_change()

    def _finish_when_kept(self, winding: str) -> None:
        edited = self._edited[winding]
        if winding not in self._finishing or winding in self._sent or edited.unkept:
            return
        self._sent.add(winding)

        def then(kept: KeptRewind) -> None:
            self._over(winding)
            self._edited[winding] = Edited(kept, self.keeper.save_rewind)
            self.on_done()
            self.on_change()

        def failed(e: Exception) -> None:
            self._over(winding)
            self.refuse(f"{winding[:1].upper()}{winding[1:]} is not finished. {e}")

        done = replace(edited.shown, done_at=self._clock())
        self.keeper.finish_rewind(done, self._finishing[winding], then, failed)

    def _over(self, winding: str) -> None:
        self._finishing.pop(winding, None)
        self._sent.discard(winding)

    def _hush(self) -> None:
        self.said, self.refused_field = None, ""
