"""The window: waits for the store, then shows the counter or the bench."""

from collections.abc import Callable
from concurrent.futures import wait
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar
from uuid import UUID

from PySide6.QtCore import QTimer
from PySide6.QtGui import QCloseEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QMainWindow, QMessageBox, QStackedWidget, QVBoxLayout, QWidget

from workbench.records import BenchFile, PastSheet, Unit
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.sitting.counter import Counter
from workbench.sitting.say import Tone
from workbench.stator.pattern import Pair
from workbench.window.backdesk import BackDesk
from workbench.window.bench.page import BenchPage
from workbench.window.card.desk import CardDesk
from workbench.window.card.kind import Kind
from workbench.window.counter.page import CounterPage
from workbench.window.courier import Courier
from workbench.window.crash import CrashPath
from workbench.window.look import Look
from workbench.window.oddsdesk import OddsDesk
from workbench.window.parts import button, label
from workbench.window.settings import Liking
from workbench.window.tones import Tones

if TYPE_CHECKING:
    from workbench.sitting.history import Remembered
    from workbench.window.card.dialog import CardDialog

T = TypeVar("T")
# what a practice part shows for a pair, of the unit with this tag
Practice = tuple[str, Callable[[Bench, Pair], str]]


class MainWindow(QMainWindow):
    """`start_tag`: a unit to put on the bench at once. `ready` is called when the first page can be used.

    `relook` dresses the program anew when its user's liking changes; without it that can't be changed.
    """

    def __init__(
        self,
        look: Look,
        url: str | None,
        *,
        shop_name: str = "Plugface",
        start_tag: str = "",
        practice: Practice | None = None,
        liking: Liking | None = None,
        relook: Callable[[Liking], Look] | None = None,
        ready: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__()
        self.setWindowTitle(shop_name)
        self._look, self._shop_name, self._start_tag, self._practice = look, shop_name, start_tag, practice
        self._ready = ready
        self.liking = liking or Liking()
        self._relook = relook
        self.tones = Tones(self.liking.tones)
        self._courier = Courier(self)
        self.crash_path = CrashPath(self._courier.deliver)
        self.crash_path.window = self
        self.shop = Shop(url, self._courier.deliver, on_crash=self.crash_path.fault)
        self._back = BackDesk(self._courier.deliver)
        self.cards = CardDesk(self, self.shop, self._back, self._say)
        self.odds = OddsDesk(self.shop, learns=self.liking.learns)
        self.stack = QStackedWidget()
        self.setCentralWidget(self.stack)
        self.wait = _message("Opening the shop's store …")
        self.stack.addWidget(self.wait)
        self.counter: CounterPage | None = None
        self.bench_page: BenchPage | None = None
        self.dialog: QDialog | None = None
        self._trouble_page: QWidget | None = None
        self._opened = self._closed = False
        self.resize(1366, 728)

    # ---- opening

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._opened:
            self._opened = True
            QTimer.singleShot(0, self.open_store)  # after the first paint

    def open_store(self) -> None:
        if self._closed:
            return
        self.stack.setCurrentWidget(self.wait)
        self.shop.open(lambda _: self._stock(), self._trouble)

    def _stock(self) -> None:
        from workbench.exchange.starters import starter_meters, starter_revisions

        self.shop.stock(starter_revisions(), starter_meters(), lambda _: self._begin(), self._trouble)

    def _begin(self) -> None:
        counter = Counter(self.shop)
        counter.on_bench = self.to_bench
        counter.on_remark = self._remark
        counter.on_tag = self._tag
        self.counter = self._counter_page(counter)
        counter.refresh()
        self.odds.refresh()
        if self._start_tag:
            counter.find(self._start_tag)
        else:
            self.to_counter()

    def _counter_page(self, counter: Counter) -> CounterPage:
        page = CounterPage(self._look, counter, self._shop_name, self.like, self.edit_meters, self.edit_odds)
        page.liking.setVisible(self._relook is not None)
        self.stack.addWidget(page)
        return page

    def edit_meters(self) -> None:
        """The shop's meters; what was kept is offered at once."""
        from workbench.window.metersdialog import MetersDialog

        assert self.counter is not None
        dialog = MetersDialog(self, self._look, self.counter.counter.meters, self.shop.save_meter)
        dialog.finished.connect(self.counter.counter.refresh)
        self._ask(dialog)

    def edit_odds(self) -> None:
        """What the shop finds, and whether the odds follow it."""
        self._ask(self.odds.dialog(self, self._look))

    def like(self) -> None:
        """Looks, sound and pedal of this bench."""
        from workbench.window.likingdialog import LikingDialog

        dialog = LikingDialog(self, self._look, replace(self.liking, learns=self.odds.learns))
        dialog.accepted.connect(lambda: self._liked(dialog.liking))
        self._ask(dialog)

    def _ask(self, dialog: QDialog) -> None:
        """One dialog at a time, without stopping the program for it."""
        self.dialog = dialog
        dialog.finished.connect(self._asked)
        dialog.open()

    def _asked(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None

    def _liked(self, liking: Liking) -> None:
        """The pages are made anew, since their sizes and colours are given them when they are made."""
        assert self.counter is not None
        assert self._relook is not None
        self.liking = liking
        self.tones.on = liking.tones
        self._look = self._relook(liking)
        old, self.counter = self.counter, self._counter_page(self.counter.counter)
        self.to_counter()
        gone: list[QWidget] = [old]
        if self.bench_page is not None and not self.bench_page.bench.lines.lost:
            self.bench_page.leave()
            gone.append(self.bench_page)
            self.bench_page = None
        for page in gone:
            self.stack.removeWidget(page)
            page.deleteLater()

    def _trouble(self, e: Exception) -> None:
        """The store can't be opened: say so, offer to try again."""
        again = button("Try again", self.open_store, strong=True)
        page = _message(str(e), again, button("Close", self.close))
        old, self._trouble_page = self._trouble_page, page
        self.stack.addWidget(page)
        self.stack.setCurrentWidget(page)
        again.setFocus()
        if old is not None:
            self.stack.removeWidget(old)
            old.deleteLater()
        self._ready()

    # ---- pages

    def to_counter(self) -> None:
        assert self.counter is not None
        self.counter.counter.refresh()
        self.odds.refresh()
        self.stack.setCurrentWidget(self.counter)
        self.counter.take_focus()
        self.setWindowTitle(self._shop_name)
        self._ready()

    def to_bench(self, file: BenchFile, *, past: bool = False) -> None:
        """`past`: an earlier sheet, only to look at."""
        assert self.counter is not None
        if self._held_back(file):
            return
        bench = Bench(file, self.shop, past=past, reckon=self._reckon, priors=self.odds.priors(file.revision.pattern))
        if self._practice and self._practice[0] == file.unit.tag:
            answer = self._practice[1]
            bench.shows = lambda pair: answer(bench, pair)
        counter = self.counter.counter
        page = BenchPage(
            self._look,
            bench,
            lambda: counter.meters,
            to_counter=self.to_counter,
            make_card=lambda: self.show_card(bench),
            new_sheet=lambda complaint: self.new_sheet(bench, complaint),
            open_sheet=lambda sheet_id: self.open_sheet(bench, sheet_id),
            tones=self.tones,
            pedal=self.liking.pedal,
            moves=self.liking.moves,
        )
        old, self.bench_page = self.bench_page, page
        self.stack.addWidget(page)
        self.stack.setCurrentWidget(page)
        if old is not None:
            old.leave()
            self.stack.removeWidget(old)
            old.deleteLater()
        self.counter.clear_form()
        self.setWindowTitle(f"{file.unit.tag} on the bench")
        page.take_focus()
        self._ready()
        self.odds.follow(bench)
        self.shop.history(file.unit.id, lambda past: self._remember(page, past), self._say)

    def _reckon(self, work: Callable[[], T], then: Callable[[T], object]) -> None:
        self._back.do(work, then, self.crash_path.fault)

    def _remember(self, page: BenchPage, past: tuple[PastSheet, ...]) -> None:
        """Judged, and the plot's library imported, away from the window's thread."""

        def work() -> "tuple[Remembered, ...]":
            from workbench.sitting.history import remember

            if any(p.head.id != page.bench.head.id and p.readings for p in past):
                import workbench.window.history.plot  # noqa: F401 - heavy
            return remember(past)

        self._back.do(work, lambda r: page.remember(r) if self.bench_page is page else None, self.crash_path.fault)

    def open_sheet(self, bench: Bench, sheet_id: UUID) -> None:
        if sheet_id != bench.head.id:
            self.shop.open_sheet(sheet_id, lambda file: self.to_bench(file, past=True) if file else None, self._say)

    def _held_back(self, file: BenchFile) -> bool:
        """Readings that could not be kept stand on the bench alone: nothing may take its place before they are."""
        page = self.bench_page
        if page is None or not page.bench.lines.lost:
            return False
        assert self.counter is not None
        if page.bench.unit.id != file.unit.id:
            tag = page.bench.unit.tag
            self.counter.counter.refuse(f"{tag} has readings that are not kept. Find {tag} and try them again first.")
            return True
        self.stack.setCurrentWidget(page)
        page.take_focus()
        return True

    def new_sheet(self, bench: Bench, complaint: str) -> None:
        """Within the same job; a part that was decided on before came back, and gets a new job."""
        assert self.counter is not None
        if bench.lines.lost:
            self._say(Exception("Some readings of this sheet are not kept. Try them again first: nothing was begun."))
            return
        if bench.past:
            self.counter.counter.find(bench.unit.tag)
            return
        file = BenchFile(bench.unit, bench.job, bench.revision, bench.head, (), bench.decided)
        if bench.decided is None:
            self.counter.counter.new_sheet(file)
            return
        self.counter.counter.again(file, complaint)

    @property
    def card_dialog(self) -> "CardDialog | None":
        return self.cards.dialog

    def _remark(self, unit: Unit, sentence: str) -> None:
        if (bench := self._bench_of(unit)) is not None:
            bench.tell(sentence)

    def _tag(self, unit: Unit) -> None:
        if (bench := self._bench_of(unit)) is not None:
            self.show_card(bench, Kind.INTAKE)

    def _bench_of(self, unit: Unit) -> Bench | None:
        """None where another unit holds the bench, since its readings are not kept."""
        page = self.bench_page
        return page.bench if page is not None and page.bench.unit.id == unit.id else None

    def show_card(self, bench: Bench, kind: Kind = Kind.CUSTOMER) -> None:
        self.cards.show(bench, self._look, kind)

    def _say(self, e: Exception) -> None:
        QMessageBox.warning(self, self._shop_name, str(e))

    # ---- closing

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.bench_page is not None and not self._may_leave(self.bench_page.bench):
            event.ignore()
            return
        self._closed = True
        self.shop.close()
        self._back.close()
        self._courier.stop()  # what was still on its way here would find nobody
        self.tones.close()
        super().closeEvent(event)

    def _may_leave(self, bench: Bench) -> bool:
        """Once all that is on its way has come through, or its failure has been seen."""
        before = bench.said
        wait([self.shop.meters()])  # whatever comes of this: all that was asked before it is done then
        self._courier.bring()
        lost = bench.lines.lost
        if lost:
            standard = QMessageBox.StandardButton
            asked = QMessageBox.question(
                self,
                self._shop_name,
                f"{lost} reading(s) could not be kept and would be lost. Close all the same?",
                standard.Close | standard.Cancel,
                standard.Cancel,
            )
            return asked is standard.Close
        return bench.said is before or bench.said is None or bench.said.tone is not Tone.REFUSES


def _message(text: str, *buttons: QWidget) -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(80, 60, 80, 60)
    column.addStretch(1)
    column.addWidget(label(text, "title", wrap=True))
    for b in buttons:
        b.setMaximumWidth(220)
        column.addWidget(b)
    column.addStretch(2)
    return page
