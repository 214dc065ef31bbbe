"""The pattern desk: a draft under the hands, proved at each edit, kept at each step."""

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Protocol

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.history import History
from workbench.drafting.prove import Proof, Weight, prove
from workbench.draftwords import remark_short, remark_words
from workbench.exchange.drafts import draft_from_json, draft_to_json
from workbench.records import KeptDraft, PatternRevision, new_id, now
from workbench.sitting.keeper import Failed
from workbench.sitting.say import Said, Tone
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern

KIND = "pattern"
# a larger draft is proved away from the window's thread
QUICK_WINDINGS, QUICK_PINS = 12, 40

Edit = Callable[[Draft], Draft]
Reckon = Callable[[Callable[[], Proof], Callable[[Proof], None]], None]


class Records(Protocol):
    """What the desk asks of the shop."""

    def save_pattern(self, pattern: Pattern, then: Any = None, failed: Failed | None = None) -> Any: ...

    def keep_draft(self, draft: KeptDraft, then: Any = None, failed: Failed | None = None) -> Any: ...

    def drop_draft(self, draft: KeptDraft, then: Any = None, failed: Failed | None = None) -> Any: ...


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
    ) -> None:
        """`base`: the revision it begins from; `kept`: a draft that was left unfinished, to go on with.

        `reckon` proves large drafts elsewhere; without it every one is proved at once.
        """
        self._records, self._meters, self._reckon = records, meters, reckon
        self.base = base
        self._kept = kept
        start = draft_of(kept) if kept is not None else Draft.of(base.pattern) if base is not None else Draft()
        self.history = History(start)
        self.said: Said | None = None
        self.proof: Proof | None = None
        self.saving = False
        self._sending = False
        self._unsent = False
        self.on_change: Callable[[], None] = lambda: None
        self.on_saved: Callable[[PatternRevision], None] = lambda revision: None
        self._prove()

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
        return self.proof is not None and self.proof.stands and self.changed and not self.saving

    @property
    def save_words(self) -> str:
        """What saving will do."""
        if self.base is None or self.base.pattern.name != self.draft.name:
            return "Saves it as a new pattern, or as a further revision of one of that name"
        return f"Saves it as revision {self.base.number + 1}; sheets judged before keep revision {self.base.number}"

    def remarks(self) -> tuple[RemarkView, ...]:
        """What weighs most first; empty while a large draft is still being proved."""
        if self.proof is None:
            return ()
        order = list(Weight)
        said = sorted(self.proof.said, key=lambda s: order.index(s.weight))
        pattern = self.proof.pattern
        return tuple(
            RemarkView(s.weight, *remark_short(s, pattern), remark_words(s, pattern), s.about) for s in said
        )  # fmt: skip

    # ---- acts

    def edit(self, change: Edit) -> bool:
        """Whether it was made; where it can't be, `said` says why and nothing is changed."""
        try:
            new = change(self.draft)
        except EditError as e:
            self._refuse(e.sentence)
            return False
        except FieldError as e:
            self._refuse(f"{e.sentence[0].upper()}{e.sentence[1:]}.")
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
        """As a further revision. What keeps it from being a pattern is said."""
        if self.saving:
            return
        try:
            pattern = self._whole().pattern()
        except FieldError as e:
            self._refuse(f"Not saved: {e.sentence}.")
            return
        self.saving = True

        def then(revision: PatternRevision) -> None:
            self.saving = False
            self.base = revision
            self.history = History(Draft.of(revision.pattern))
            self.said = Said(Tone.TELLS, f"{revision.pattern.name}: revision {revision.number} stands.")
            self._drop()
            self._prove()
            self.on_saved(revision)
            self.on_change()

        def failed(e: Exception) -> None:
            self.saving = False
            self._refuse(f"Not saved. {e}")

        self._records.save_pattern(pattern, then, failed)
        self.on_change()

    def give_up(self) -> None:
        """What was drawn since the base is thrown away."""
        self.history = History(Draft.of(self.base.pattern) if self.base is not None else Draft())
        self._drop()
        self._prove()
        self.on_change()

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

    def _keep(self) -> None:
        """One at a time, each from the version that is kept; the last state always comes through."""
        if self._sending:
            self._unsent = True
            return
        self._sending = True
        self._unsent = False
        body = json.dumps(draft_to_json(self.draft), ensure_ascii=False)
        title = self.draft.name or "unnamed"
        if self._kept is None:
            moment = now()
            sent = KeptDraft(new_id(), KIND, title, body, moment, moment)
        else:
            sent = replace(self._kept, title=title, body=body, changed_at=now())

        def then(kept: KeptDraft) -> None:
            self._sending = False
            self._kept = kept
            if self._unsent:
                self._keep()

        def failed(e: Exception) -> None:
            self._sending = False
            self._refuse(f"What was drawn is not kept yet. {e}")

        self._records.keep_draft(sent, then, failed)

    def _drop(self) -> None:
        kept, self._kept = self._kept, None
        self._unsent = False
        if kept is not None:
            self._records.drop_draft(kept, None, lambda e: self._refuse(str(e)))

    def _refuse(self, sentence: str) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self.on_change()


def draft_of(kept: KeptDraft) -> Draft:
    """Raises FieldError for a body that this program never wrote."""
    try:
        return draft_from_json(json.loads(kept.body))
    except ValueError as e:
        raise FieldError("draft", "what was kept of it can't be read") from e
