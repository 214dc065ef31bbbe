"""The part without papers in the hall: begun, gone on with, booked in, drawn."""

from collections.abc import Callable

from workbench.records import KeptDraft, PatternRevision
from workbench.sitting.carried import Carried
from workbench.sitting.counter import NO_METER, Counter
from workbench.sitting.say import Choice, Said, Tone
from workbench.sitting.whichdraft import fresh_head
from workbench.sitting.whichpart import KIND
from workbench.sitting.whichsitting import WhichSitting
from workbench.sitting.whichviews import PatternView
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Connector
from workbench.window.hall import Hall
from workbench.window.leaving import kept_or_seen
from workbench.window.which.bar import TITLE
from workbench.window.which.page import WhichPage


class WhichDesk:
    """`page` while there is one in the hall. `draw(plugs)`: a pattern with such plugs is to be drawn."""

    def __init__(
        self, hall: Hall, counter: Counter, to_counter: Callable[[], None],
        draw: Callable[[tuple[Connector, ...]], None],
    ) -> None:  # fmt: skip
        self.page: WhichPage | None = None
        self._hall, self._counter, self._to_counter, self._draw = hall, counter, to_counter, draw

    def open(self) -> None:
        """The part that is under the probes, else the one begun last, else a fresh one."""
        if not self._counter.meters:
            self._counter.refuse(NO_METER)
            return

        def known(revisions: tuple[PatternRevision, ...], drafts: tuple[KeptDraft, ...]) -> None:
            if self.page is not None:
                self.page.sitting.know(revisions)
                self._see(drafts)
            else:
                self._take(revisions, drafts, next(iter(drafts), None))

        self._ask(known)

    def clear(self) -> None:
        """Takes the page out, for a new look."""
        if self.page is not None:
            self._put_out(self.page)
            self.page = None

    def may_leave(self) -> bool:
        """Once what was read is kept, or it has been seen that it can't be."""
        if self.page is None:
            return True
        sentence = "What was read last of the part without papers could not be kept and would be lost."
        return kept_or_seen(self._hall, self.page.sitting.keeping, self.page, sentence)

    # ---- inside

    def _ask(self, known: Callable[[tuple[PatternRevision, ...], tuple[KeptDraft, ...]], None]) -> None:
        shop = self._hall.shop

        def drafts(revisions: tuple[PatternRevision, ...]) -> None:
            shop.drafts(KIND, lambda kept: known(revisions, kept), self._hall.say)

        shop.patterns(drafts, self._hall.say)

    def _take(
        self, revisions: tuple[PatternRevision, ...], drafts: tuple[KeptDraft, ...], kept: KeptDraft | None
    ) -> None:
        """In the place of the one before, but for one whose last step is not kept."""
        hall, old = self._hall, self.page
        if old is not None and old.sitting.keeping.lost:
            old.sitting.keep_again()
            self._see(drafts)
            return
        head, trouble = fresh_head(self._counter.usual_meter()), ""
        try:
            sitting = WhichSitting(hall.shop, head, revisions, kept=kept, reckon=hall.reckon)
        except FieldError as e:
            sitting = WhichSitting(hall.shop, head, revisions, reckon=hall.reckon)
            trouble = f"What was begun last can't be gone on with: {e.sentence}. It was left as it is."
        page = WhichPage(
            hall.look, sitting, lambda: self._counter.meters, to_counter=self._to_counter, tones=hall.tones,
            pedal=hall.liking.pedal, moves=hall.liking.moves,
        )  # fmt: skip
        page.books.connect(self._book)
        page.draws.connect(lambda: self._draw(sitting.part.plugs))
        page.another.connect(self._another)
        page.puts_away.connect(self._put_away)
        page.bar.chosen.connect(self._go_on)
        self.page = page
        self._see(drafts)
        if old is not None:
            self._put_out(old)
        if trouble:
            sitting.tell(trouble)

    def _see(self, drafts: tuple[KeptDraft, ...]) -> None:
        page = self.page
        assert page is not None
        page.bar.show_begun(drafts, page.sitting.keeping.kept)
        self._hall.see(page, TITLE)
        page.take_focus()

    def _put_out(self, page: WhichPage) -> None:
        page.leave()
        self._hall.drop(page)

    def _another(self) -> None:
        self._ask(lambda revisions, drafts: self._take(revisions, drafts, None))

    def _go_on(self, kept: KeptDraft) -> None:
        here = self.page.sitting.keeping.kept if self.page is not None else None
        if here is None or here.id != kept.id:
            self._ask(
                lambda revisions, drafts: self._take(
                    revisions, drafts, next((d for d in drafts if d.id == kept.id), None)
                )
            )

    def _put_away(self) -> None:
        page = self.page
        if page is None:
            return

        def away() -> None:
            page.sitting.keeping.drop()
            self._another()

        choices = Choice("Throw it away", away), Choice("Keep it", lambda: page.sitting.tell(""))
        page.sitting.ask(Said(Tone.ASKS, "What was read of this part can't be brought back.", choices))

    def _book(self, view: PatternView) -> None:
        page = self.page
        if page is None or view.revision is None:
            return
        laying = page.sitting.laying_on(view.revision)
        self._counter.carry(Carried(page.sitting.part, view.revision, laying, self._hall.shop, self._arrived))
        self._to_counter()

    def _arrived(self) -> None:
        """Its readings stand on a sheet: what was begun here is a record now."""
        page, self.page = self.page, None
        if page is not None:
            page.sitting.keeping.drop()
            self._put_out(page)
