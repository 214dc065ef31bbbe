"""The pattern desk: a draft under the hands, proved at each edit, kept at each step."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.fromunit import FromUnit, corrected_pairs, from_unit
from workbench.drafting.history import History
from workbench.drafting.prove import Proof, Weight, prove
from workbench.draftwords import remark_short, remark_words
from workbench.records import BenchFile, KeptDraft, PatternRevision
from workbench.sitting.draftkeep import DraftKeep, body_of, left_in
from workbench.sitting.draftkeep import Records as DraftRecords
from workbench.sitting.keeper import Failed
from workbench.sitting.patternviews import missing
from workbench.sitting.say import Choice, Said, Tone
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern

# a larger draft is proved away from the window's thread
QUICK_WINDINGS, QUICK_PINS = 12, 40

Edit = Callable[[Draft], Draft]
Reckon = Callable[[Callable[[], Proof], Callable[[Proof], None]], None]


class Records(DraftRecords, Protocol):
    """What the desk asks of the shop."""

    def patterns(self, then: Any = None, failed: Failed | None = None) -> Any: ...

    def save_pattern(self, pattern: Pattern, then: Any = None, failed: Failed | None = None) -> Any: ...


@dataclass(frozen=True, slots=True)
class RemarkView:
    """A remark as it is shown: its weight as a word, whom it is about and what in few words, and its whole sentence.

    `about`: the names, to be lit.
    """

    weight: Weight
    who: str
    what: str
    sentence: str
    about: tuple[str, ...]

    @property
    def word(self) -> str:
        return {Weight.ERROR: "missing", Weight.WARNING: "look", Weight.NOTE: "note"}[self.weight]


class PatternDesk:
    """Tells `on_change` after whatever changes it, and `on_saved` once a revision stands."""

    def __init__(
        self,
        records: Records,
        meters: tuple[Meter, ...] = (),
        *,
        base: PatternRevision | None = None,
        kept: KeptDraft | None = None,
        reckon: Reckon | None = None,
        looking: bool = False,
    ) -> None:
        """`base`: the revision it begins from; `kept`: a draft that was left unfinished, to go on with.

        `reckon` proves large drafts elsewhere; without it every one is proved at once. `looking`: nothing is changed,
        till it is asked for. Raises FieldError for a draft that can't be read.
        """
        self._records, self._meters, self._reckon = records, meters, reckon
        self.base = base
        self.looking = looking
        self.keeping = DraftKeep(records, kept, self.refuse)
        start = left_in(kept).draft if kept is not None else Draft.of(base.pattern) if base is not None else Draft()
        self.history = History(start)
        self.said: Said | None = None
        self.proof: Proof | None = None
        self.saving = False
        self.on_change: Callable[[], None] = lambda: None
        self.on_saved: Callable[[PatternRevision], None] = lambda revision: None
        self._prove()
        if looking:
            self._say_looking()

    # ---- asked

    @property
    def draft(self) -> Draft:
        return self.history.now

    @property
    def changed(self) -> bool:
        """Whether there is anything that the base doesn't say."""
        return self.draft != (Draft.of(self.base.pattern) if self.base is not None else Draft())

    @property
    def can_save(self) -> bool:
        return self.proof is not None and self.proof.stands and self.changed and not (self.saving or self.looking)

    @property
    def save_words(self) -> str:
        """What saving will do."""
        if self.base is None or self.base.pattern.name != self.draft.name:
            return "Saves it as a new pattern, or as a further revision of one of that name"
        return f"Saves it as revision {self.base.number + 1}; sheets judged before keep revision {self.base.number}"

    @property
    def save_short(self) -> str:
        further = self.base is not None and self.base.pattern.name == self.draft.name and not self.looking
        return f"Save revision {self.base.number + 1}" if further and self.base is not None else "Save"

    def remarks(self) -> tuple[RemarkView, ...]:
        """What weighs most first; empty while a large draft is still being proved."""
        if self.proof is None:
            return ()
        lacks = missing(self.draft) if not self.proof.stands else ()
        if lacks:
            return tuple(RemarkView(Weight.ERROR, *lack) for lack in lacks)
        order = list(Weight)
        said = sorted(self.proof.said, key=lambda s: order.index(s.weight))
        pattern = self.proof.pattern
        return tuple(
            RemarkView(s.weight, *remark_short(s, pattern), remark_words(s, pattern), s.about) for s in said
        )  # fmt: skip

    # ---- acts

    def edit(self, change: Edit) -> bool:
        """Whether it was made; where it can't be, `said` says why and nothing is changed."""
        if self.looking:
            self._say_looking()
            self.on_change()
            return False
        try:
            new = change(self.draft)
        except EditError as e:
            self.refuse(e.sentence)
            return False
        except FieldError as e:
            self.refuse(f"{e.sentence[0].upper()}{e.sentence[1:]}.")
            return False
        self.said = None
        self._go(self.history.then(new))
        return True

    def undo(self) -> None:
        self.said = None if self.history.before else Said(Tone.TELLS, "There is nothing to undo.")
        self._go(self.history.undo())

    def redo(self) -> None:
        self.said = None if self.history.undone else Said(Tone.TELLS, "There is nothing to redo.")
        self._go(self.history.redo())

    def save(self) -> None:
        """As a further revision; where that isn't what was opened, only once it was asked about."""
        if self.saving:
            return
        if self.looking:
            self._say_looking()
            self.on_change()
            return
        try:
            pattern = self._whole().pattern()
        except FieldError as e:
            lacks = missing(self.draft)
            self.refuse(f"Not saved. {lacks[0][2]}" if lacks else f"Not saved: {e.sentence}.")
            return
        if self.proof is None:
            self.tell("It is still being proved: save it in a moment.")
            return
        if not self.changed and self.base is not None:
            self.tell(f"Nothing was changed since revision {self.base.number}.")
            return
        self.saving = True

        def known(revisions: tuple[PatternRevision, ...]) -> None:
            there = next((r for r in revisions if r.pattern.name == pattern.name), None)
            if there is None or (self.base is not None and there.id == self.base.id):
                self._save(pattern)
            else:
                self.saving = False
                self._ask(pattern, there)

        self._records.patterns(known, self._not_saved)
        self.on_change()

    def _ask(self, pattern: Pattern, there: PatternRevision) -> None:
        base, further = self.base, f"revision {there.number + 1}"
        if base is not None and base.pattern_id == there.pattern_id:
            sentence = f"Revision {there.number} stands already, and this was begun from revision {base.number}."
        else:
            sentence = f"The shop has a pattern of that name, at revision {there.number}: is this its {further}?"
        choices = (
            Choice(f"Save {further}", lambda: self._save(pattern)),
            Choice("Not now", lambda: self.tell("Not saved; what was drawn is kept. Another name makes it a new one.")),
        )
        self.said = Said(Tone.ASKS, f"{sentence} Old sheets keep theirs.", choices)
        self.on_change()

    def _save(self, pattern: Pattern) -> None:
        self.saving = True
        draft = self.draft

        def then(revision: PatternRevision) -> None:
            self.saving = False
            self.base = revision
            self.said = Said(Tone.TELLS, f"{revision.pattern.name}: revision {revision.number} stands.")
            if self.draft is draft:  # else what was drawn meanwhile goes on
                self.history = History(Draft.of(revision.pattern))
                self.keeping.drop()
                self._prove()
            self.on_saved(revision)
            self.on_change()

        self._records.save_pattern(pattern, then, self._not_saved)
        self.on_change()

    def _not_saved(self, e: Exception) -> None:
        self.saving = False
        self.refuse(f"Not saved. {e}")

    def draw_on(self) -> None:
        """From a revision that was opened to be looked at."""
        self.looking = False
        self.tell("Drawn on from here; saving makes it the latest revision.")

    def take_ohms(self, file: BenchFile) -> None:
        """The ohms of a unit known good, from the latest sheet of it, for the windings as they are drawn."""
        head, made = file.sheet, list[FromUnit]()
        readings = [k.reading for k in file.readings if k.strike is None]

        def change(draft: Draft) -> Draft:
            read = corrected_pairs(draft, readings, head.meter, head.conditions)
            made.append(from_unit(draft, read, band_from=f"one unit known good, {file.unit.tag}"))
            return made[-1].draft

        if self.edit(change):
            self.tell(_taken_words(file.unit.tag, made[-1], self.draft))

    def give_up(self) -> None:
        """What was drawn since the base is thrown away."""
        self.history = History(Draft.of(self.base.pattern) if self.base is not None else Draft())
        self.keeping.drop()
        self._prove()
        self.on_change()

    def try_again(self) -> None:
        """What could not be kept is sent once more."""
        self.refuse("What was drawn here last is not kept yet, and is tried again: nothing else was opened.")
        self._keep()

    def tell(self, sentence: str) -> None:
        self.said = Said(Tone.TELLS, sentence)
        self.on_change()

    # ---- inside

    def _whole(self) -> Draft:
        """With the checks that the program chose written down, so that the bench has a plan."""
        d = self.draft
        return d if d.checks is not None or self.proof is None else d.checked(self.proof.checks)

    def _go(self, history: History) -> None:
        if history is not self.history:
            self.history = history
            self._prove()
            self._keep()
        self.on_change()

    def _keep(self) -> None:
        draft, base = self.draft, self.base
        self.keeping.keep(draft.name or "unnamed", lambda: body_of(draft, base))

    def _prove(self) -> None:
        draft = self.draft
        small = len(draft.windings) <= QUICK_WINDINGS and len(draft.pins) <= QUICK_PINS
        if self._reckon is None or small:
            self.proof = prove(draft, self._meters)
            return
        self.proof = None

        def then(proof: Proof) -> None:
            if self.draft is draft:
                self.proof = proof
                self.on_change()

        self._reckon(lambda: prove(draft, self._meters), then)

    def _say_looking(self) -> None:
        assert self.base is not None
        sentence = f"Revision {self.base.number}, opened to be looked at: nothing of it is changed."
        if self.said is None or self.said.sentence != sentence:
            self.said = Said(Tone.TELLS, sentence, (Choice("Draw on from it", self.draw_on),))

    def refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self.on_change()


def _taken_words(tag: str, made: FromUnit, draft: Draft) -> str:
    told = [w.name for w in draft.windings if w.element is None and w.name not in made.untold]
    said = [f"Taken over from {tag}: {', '.join(told)}." if told else f"{tag} tells no winding by itself."]
    if made.untold:
        said.append(f"Not told by its readings: {', '.join(made.untold)}.")
    if made.misses:
        pairs = ", ".join(f"{p}" for p, _ in made.misses[:3])
        said.append(f"Its readings contradict each other at {pairs}: look at them before it is saved.")
    return " ".join(said)
