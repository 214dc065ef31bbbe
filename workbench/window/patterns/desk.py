"""The pattern desk in the hall: the library, the pattern under the hands, its dialogs."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from PySide6.QtWidgets import QWidget

from workbench.records import BenchFile, GoodSheet, KeptDraft, NamedMeter, PatternRevision
from workbench.sitting.draftkeep import KIND, left_in
from workbench.sitting.earnedbands import EarnedView, accepted
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.say import Said, Tone
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.pattern import Connector
from workbench.window.hall import Hall
from workbench.window.leaving import kept_or_seen
from workbench.window.patterns.bandsdialog import BandsDialog
from workbench.window.patterns.comparedialog import CompareDialog
from workbench.window.patterns.library import LibraryPage
from workbench.window.patterns.page import PatternPage


class PatternsDesk:
    """`library` and `page` while they are in the hall. `meters()`: the shop's."""

    def __init__(
        self, hall: Hall, to_counter: Callable[[], None], meters: Callable[[], tuple[NamedMeter, ...]]
    ) -> None:
        self.library: LibraryPage | None = None
        self.page: PatternPage | None = None
        self._seen: PatternRevision | None = None
        self._hall, self._to_counter, self._meters = hall, to_counter, meters

    def open(self) -> None:
        """The library, as the store has it now."""
        if self.library is None:
            made = LibraryPage(self._hall.look, self._to_counter, self.begin)
            made.opens.connect(self.draw_on)
            made.goesOn.connect(self.go_on)
            made.drops.connect(self._drop)
            made.chose.connect(self._know)
            made.past.looks.connect(self.look_at)
            made.past.compares.connect(self._compare)
            made.earns.connect(self._earn)
            self.library = made
        self._hall.see(self.library, "Patterns")
        self.library.take_focus()
        self.refresh()

    def refresh(self) -> None:
        shop = self._hall.shop

        def drafts(revisions: tuple[PatternRevision, ...]) -> None:
            shop.drafts(KIND, lambda kept: self._show(revisions, kept), self._hall.say)

        shop.patterns(drafts, self._hall.say)

    def clear(self) -> None:
        """Takes the pages out, for a new look."""
        pages: list[QWidget | None] = [self.page, self.library]
        if self.page is not None:
            self.page.commit()
            self.page.leave()
        self.page = self.library = None
        for page in pages:
            if page is not None:
                self._hall.drop(page)

    def begin(self) -> None:
        self._draw(PatternDesk(self._hall.shop, self._own(), reckon=self._hall.reckon))

    def begin_with(self, plugs: tuple[Connector, ...]) -> None:
        """A new one of a part whose plugs are known."""
        self.begin()
        if self.page is not None and not self.page.desk.changed:
            self.page.desk.edit(lambda draft: replace(draft, plugs=plugs))

    def draw_on(self, revision: PatternRevision) -> None:
        self._draw(PatternDesk(self._hall.shop, self._own(), base=revision, reckon=self._hall.reckon))

    def look_at(self, revision: PatternRevision) -> None:
        """Nothing of it is changed."""
        self._draw(PatternDesk(self._hall.shop, self._own(), base=revision, reckon=self._hall.reckon, looking=True))

    def go_on(self, kept: KeptDraft) -> None:
        """With the revision that it began from, so that saving can tell whether another one stands meanwhile."""
        try:
            left = left_in(kept)
        except FieldError as e:
            self._said(f"That draft can't be gone on with: {e.sentence}. It was left as it is.")
            return

        def known(revisions: tuple[PatternRevision, ...]) -> None:
            base = next((r for r in revisions if r.id == left.revision_id), None)
            self._draw(PatternDesk(self._hall.shop, self._own(), base=base, kept=kept, reckon=self._hall.reckon))

        if left.pattern_id is None:
            known(())
        else:
            self._hall.shop.revisions_of(left.pattern_id, known, self._hall.say)

    def may_leave(self) -> bool:
        """Once what is drawn is kept, or it has been seen that it can't be."""
        if self.page is None:
            return True
        self.page.commit()
        sentence = "What was drawn last could not be kept and would be lost."
        return kept_or_seen(self._hall, self.page.desk.keeping, self.page, sentence)

    # ---- inside

    def _drop(self, kept: KeptDraft) -> None:
        self._hall.shop.drop_draft(kept, lambda _: self.refresh(), self._hall.say)

    def _know(self, revision: PatternRevision) -> None:
        """All revisions of the pattern chosen in the library."""
        library = self.library
        if library is not None:
            self._hall.shop.revisions_of(revision.pattern_id, library.past.show_revisions, self._hall.say)

    def _own(self) -> tuple[Meter, ...]:
        return tuple(m.meter for m in self._meters())

    def _draw(self, desk: PatternDesk) -> None:
        """In the place of the one that was drawn before, but for one whose last state is not kept."""
        old = self.page
        if old is not None and old.desk.keeping.lost:
            self._hall.see(old, old.desk.draft.name or "A new pattern")
            old.desk.try_again()
            return
        self.page = PatternPage(self._hall.look, desk, self.open, lambda tag: self._take_ohms(desk, tag))
        self._hall.see(self.page, desk.draft.name or "A new pattern")
        if old is not None:
            old.leave()
            self._hall.drop(old)
        self.page.take_focus()

    def _take_ohms(self, desk: PatternDesk, tag: str) -> None:
        def known(file: BenchFile | None) -> None:
            if file is None:
                desk.refuse(f"No unit with a sheet has the tag “{tag}”. Nothing was changed: look at the tag again.")
            else:
                desk.take_ohms(file)

        self._hall.shop.find_unit(tag, known, self._hall.say)

    def _show(self, revisions: tuple[PatternRevision, ...], drafts: tuple[KeptDraft, ...]) -> None:
        if self.library is None:
            return
        self.library.show_patterns(revisions, drafts)
        drawn = self.page.desk.base if self.page is not None else None
        if drawn is not None and drawn is not self._seen:  # the one that hands come from
            self.library.choose(drawn.pattern_id)
        self._seen = drawn

    def _compare(self, revision: PatternRevision) -> None:
        def known(revisions: tuple[PatternRevision, ...]) -> None:
            if self.library is not None:
                self._hall.ask(CompareDialog(self.library, self._hall.look, revisions))

        self._hall.shop.revisions_of(revision.pattern_id, known, self._hall.say)

    def _earn(self, revision: PatternRevision) -> None:
        def known(good: tuple[GoodSheet, ...]) -> None:
            if self.library is None:
                return
            dialog: BandsDialog

            def taken(view: EarnedView) -> None:
                pattern = accepted(current[0], view, date.today())

                def kept(saved: PatternRevision) -> None:
                    current[0] = saved.pattern
                    dialog.show_pattern(saved.pattern)
                    self._said(f"{saved.pattern.name}: revision {saved.number} stands.", Tone.TELLS)
                    self.refresh()

                self._hall.shop.save_pattern(pattern, kept, self._hall.say)

            current = [revision.pattern]
            dialog = BandsDialog(self.library, self._hall.look, revision.pattern, good, taken)
            self._hall.ask(dialog)

        self._hall.shop.known_good(revision.pattern_id, known, self._hall.say)

    def _said(self, sentence: str, tone: Tone = Tone.REFUSES) -> None:
        if self.library is not None:
            self.library.said.say(Said(tone, sentence))
