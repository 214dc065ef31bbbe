"""Which unit lies on the bench: brings it there, its past beside it, and lets nothing take its place unkept."""

from collections.abc import Callable
from concurrent.futures import wait
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.records import BenchFile, PastSheet, PatternRevision, Unit
from workbench.sitting.bench import Bench
from workbench.sitting.counter import Counter, Place
from workbench.sitting.otherpattern import in_the_way
from workbench.sitting.say import Tone
from workbench.stator.pattern import Pair
from workbench.window.bench.page import BenchPage
from workbench.window.card.kind import Kind
from workbench.window.hall import Hall
from workbench.window.oddsdesk import OddsDesk

if TYPE_CHECKING:
    from uuid import UUID

    from workbench.sitting.history import Remembered

# what a practice part shows for a pair, of the unit with this tag
Practice = tuple[str, Callable[[Bench, Pair], str]]


class BenchDesk:
    """`page`: the unit on the bench; None before the first, and after the program's look was changed."""

    def __init__(
        self,
        hall: Hall,
        counter: Counter,
        odds: OddsDesk,
        to_counter: Callable[[], None],
        make_card: Callable[[Bench, Kind], None],
        taken: Callable[[], None] = lambda: None,
        practice: Practice | None = None,
        rewind: Callable[[Bench], None] = lambda bench: None,
    ) -> None:
        self.page: BenchPage | None = None
        self._hall, self._counter, self._odds = hall, counter, odds
        self._to_counter, self._make_card, self._taken, self._practice = to_counter, make_card, taken, practice
        self._rewind = rewind
        counter.on_bench = self.take
        counter.on_remark = self._remark
        counter.on_tag = self._tag

    def take(self, file: BenchFile, *, past: bool = False) -> None:
        """`past`: an earlier sheet, only to look at."""
        if self._held_back(file):
            return
        hall = self._hall
        priors = self._odds.priors(file.revision.pattern)
        bench = Bench(file, hall.shop, past=past, reckon=hall.reckon, priors=priors)
        if self._practice and self._practice[0] == file.unit.tag:
            answer = self._practice[1]
            bench.shows = lambda pair: answer(bench, pair)
        page = BenchPage(
            hall.look,
            bench,
            lambda: self._counter.meters,
            to_counter=self._to_counter,
            make_card=lambda: self._make_card(bench, Kind.CUSTOMER),
            new_sheet=lambda complaint: self.new_sheet(bench, complaint),
            open_sheet=lambda sheet_id: self.open_sheet(bench, sheet_id),
            rewind=lambda: self._rewind(bench),
            patterns=lambda: self._counter.patterns,
            move=lambda to: self.move(bench, to),
            tones=hall.tones,
            pedal=hall.liking.pedal,
            moves=hall.liking.moves,
        )
        old, self.page = self.page, page
        hall.see(page, f"{file.unit.tag} on the bench")
        if old is not None:
            self._put_away(old)
        self._taken()
        page.take_focus()
        self._odds.follow(bench)
        hall.shop.history(file.unit.id, lambda past: self._remember(page, past), hall.say)

    def back(self, tag: str, *, anew: bool) -> None:
        """From another desk to the unit that lies here; brought `anew` where what is known of it changed."""
        page = self.page
        if page is None or anew or page.bench.unit.tag != tag:
            self._counter.find(tag)
            return
        self._hall.see(page, f"{tag} on the bench")
        page.take_focus()

    def clear(self) -> QWidget | None:
        """Takes the page off, for a new look; one with readings that are not kept stays."""
        page = self.page
        if page is None or page.bench.lines.lost:
            return None
        self._put_away(page)
        self.page = None
        return page

    def open_sheet(self, bench: Bench, sheet_id: "UUID") -> None:
        if sheet_id != bench.head.id:
            shop = self._hall.shop
            shop.open_sheet(sheet_id, lambda file: self.take(file, past=True) if file else None, self._hall.say)

    def new_sheet(self, bench: Bench, complaint: str) -> None:
        """Within the same job; a part that came back gets a new one."""
        if bench.lines.lost:
            self._hall.say(
                Exception("Some readings of this sheet are not kept. Try them again first: nothing was begun.")
            )
            return
        if bench.past:
            self._counter.find(bench.unit.tag)
            return
        if not bench.came_back:
            self._counter.new_sheet(_file(bench), self._hall.say)
        else:
            self._counter.again(_file(bench), complaint, self._hall.say)

    def move(self, bench: Bench, to: PatternRevision) -> None:
        """The part is of another pattern, or goes on by a newer revision of its own: a new sheet within the same job.

        Readings that are still on their way to the disk are waited for.
        """
        self._counter.move(_file(bench), to, self._hall.say, hindered=lambda: in_the_way(bench))

    def may_leave(self) -> bool:
        """Once all that is on its way has come through, or its failure has been seen."""
        if self.page is None:
            return True
        bench = self.page.bench
        before = bench.said
        wait([self._hall.shop.meters()])  # whatever comes of this: all that was asked before it is done then
        self._hall.bring()
        lost = bench.lines.lost
        if lost:
            return self._close_all_the_same(lost)
        return bench.said is before or bench.said is None or bench.said.tone is not Tone.REFUSES

    # ---- inside

    def _close_all_the_same(self, lost: int) -> bool:
        standard = QMessageBox.StandardButton
        asked = QMessageBox.question(
            self.page,
            "Plugface",
            f"{lost} reading(s) could not be kept and would be lost. Close all the same?",
            standard.Close | standard.Cancel,
            standard.Cancel,
        )
        return asked is standard.Close

    def _put_away(self, page: BenchPage) -> None:
        page.leave()
        self._hall.drop(page)

    def _remember(self, page: BenchPage, past: tuple[PastSheet, ...]) -> None:
        """Judged, and the plot's library imported, away from the window's thread."""

        def work() -> "tuple[Remembered, ...]":
            from workbench.sitting.history import remember

            if any(p.head.id != page.bench.head.id and p.readings for p in past):
                import workbench.window.history.plot  # noqa: F401 - heavy
            return remember(past)

        self._hall.reckon(work, lambda r: page.remember(r) if self.page is page else None)

    def _held_back(self, file: BenchFile) -> bool:
        """Readings that could not be kept stand on the bench alone: nothing may take its place before they are."""
        page = self.page
        if page is None or not page.bench.lines.lost:
            return False
        if page.bench.unit.id != file.unit.id:
            tag = page.bench.unit.tag
            self._counter.refuse(
                f"{tag} has readings that are not kept. Find {tag} and try them again first.", Place.FIND
            )
            return True
        self._hall.see(page, f"{page.bench.unit.tag} on the bench")
        page.take_focus()
        return True

    def _remark(self, unit: Unit, sentence: str) -> None:
        if (bench := self._of(unit)) is not None:
            bench.tell(sentence)

    def _tag(self, unit: Unit) -> None:
        if (bench := self._of(unit)) is not None:
            self._make_card(bench, Kind.INTAKE)

    def _of(self, unit: Unit) -> Bench | None:
        """None where another unit holds the bench, since its readings are not kept."""
        return self.page.bench if self.page is not None and self.page.bench.unit.id == unit.id else None


def _file(bench: Bench) -> BenchFile:
    """What lies on the bench, without its readings."""
    return BenchFile(bench.unit, bench.job, bench.revision, bench.head, (), bench.decided, bench.repairs)
