"""The window: waits for the store, then shows the counter or the bench."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QTimer
from PySide6.QtGui import QCloseEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QFileDialog, QMainWindow, QMessageBox, QStackedWidget, QVBoxLayout, QWidget

from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.sitting.counter import Counter
from workbench.window.backdesk import BackDesk
from workbench.window.bench.desk import BenchDesk, Practice
from workbench.window.card.desk import CardDesk
from workbench.window.card.kind import Kind
from workbench.window.counter.page import CounterPage
from workbench.window.courier import Courier
from workbench.window.crash import CrashPath
from workbench.window.look import Look
from workbench.window.oddsdesk import OddsDesk
from workbench.window.parts import button, label
from workbench.window.patterns.desk import PatternsDesk
from workbench.window.rewind.desk import RewindDesk
from workbench.window.settings import Liking
from workbench.window.tones import Tones
from workbench.window.which.desk import WhichDesk

if TYPE_CHECKING:
    from workbench.window.bench.page import BenchPage
    from workbench.window.card.dialog import CardDialog

T = TypeVar("T")
FOR_GOOD = "Another place is for this time. To open it every time, start the program as: plugface --store PATH"


class MainWindow(QMainWindow):
    """`start_tag`: a unit to put on the bench at once. `ready` is called when the first page can be used.

    `relook` dresses the program anew when its user's liking changes; without it that can't be changed. `shop_name`:
    what it is called whatever is liked; else as its user calls it.
    """

    def __init__(
        self,
        look: Look,
        url: str | None,
        *,
        shop_name: str = "",
        start_tag: str = "",
        practice: Practice | None = None,
        liking: Liking | None = None,
        relook: Callable[[Liking], Look] | None = None,
        ready: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__()
        self.look, self._named, self._start_tag, self._practice = look, shop_name, start_tag, practice
        self._ready = ready
        self.liking = liking or Liking()
        self.setWindowTitle(self._shop_name)
        self._relook = relook
        self.tones = Tones(self.liking.tones)
        self._courier = Courier(self)
        self.crash_path = CrashPath(self._courier.deliver)
        self.crash_path.window = self
        self.shop = Shop(url, self._courier.deliver, on_crash=self.crash_path.fault)
        self._back = BackDesk(self._courier.deliver)
        self.cards = CardDesk(self, self.shop, self._back, self.say)
        self.odds = OddsDesk(self.shop, learns=self.liking.learns)
        self.rewinds = RewindDesk(self)
        self.stack = QStackedWidget()
        self.setCentralWidget(self.stack)
        self.wait = _message("Opening the shop's store …")
        self.stack.addWidget(self.wait)
        self.counter: CounterPage | None = None
        self.benches: BenchDesk | None = None
        self.patterns: PatternsDesk | None = None
        self.which: WhichDesk | None = None
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

    def open_store(self, place: str | None = None) -> None:
        """`place`: another than the one before."""
        if self._closed:
            return
        self.stack.setCurrentWidget(self.wait)
        self.shop.open(lambda _: self._stock(), self._trouble, place=place)

    def _stock(self) -> None:
        from workbench.exchange.starters import starter_meters, starter_revisions

        self.shop.stock(starter_revisions(), starter_meters(), lambda _: self._begin(), self._trouble)

    def _begin(self) -> None:
        counter = Counter(self.shop)
        self.counter = self._counter_page(counter)
        self.benches = BenchDesk(
            self, counter, self.odds, self.to_counter, self.show_card, self._taken, self._practice, self.rewinds.open
        )
        self.rewinds.to_bench = self.benches.back
        self.patterns = PatternsDesk(self, self.to_counter, lambda: counter.meters)
        self.which = WhichDesk(self, counter, self.to_counter, self.patterns.begin_with)
        counter.refresh()
        self.odds.refresh()
        if self._start_tag:
            counter.find(self._start_tag)
        else:
            self.to_counter()

    def _counter_page(self, counter: Counter) -> CounterPage:
        page = CounterPage(
            self.look, counter, self._shop_name, self.like, self.edit_meters, self.edit_odds, self.to_patterns,
            self.to_which,
        )  # fmt: skip
        page.liking.setVisible(self._relook is not None)
        self.stack.addWidget(page)
        return page

    def to_patterns(self) -> None:
        assert self.patterns is not None
        self.patterns.open()

    def to_which(self) -> None:
        assert self.which is not None
        self.which.open()

    def edit_meters(self) -> None:
        """The shop's meters; what was kept is offered at once."""
        from workbench.window.metersdialog import MetersDialog

        assert self.counter is not None
        dialog = MetersDialog(self, self.look, self.counter.counter.meters, self.shop.save_meter)
        dialog.finished.connect(self.counter.counter.refresh)
        self.ask(dialog)

    def edit_odds(self) -> None:
        """What the shop finds, and whether the odds follow it."""
        self.ask(self.odds.dialog(self, self.look))

    def like(self) -> None:
        """Looks, sound and pedal of this bench."""
        from workbench.window.likingdialog import LikingDialog

        liking = replace(self.liking, learns=self.odds.learns)
        dialog = LikingDialog(self, self.look, liking, names=not self._named)
        dialog.accepted.connect(lambda: self._liked(dialog.liking))
        self.ask(dialog)

    def ask(self, dialog: QDialog) -> None:
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
        self.look = self._relook(liking)
        assert self.benches is not None
        old, self.counter = self.counter, self._counter_page(self.counter.counter)
        self.to_counter()
        self.drop(old)
        self.benches.clear()
        for desk in (self.patterns, self.which):
            if desk is not None:
                desk.clear()

    def _trouble(self, e: Exception) -> None:
        """The store can't be opened: say so, offer to try again, or another one."""
        again = button("Try again", self.open_store, strong=True)
        other = button("Another place", self._elsewhere, tip="The records as they lie somewhere else, or new ones")
        page = _message(str(e), again, other, button("Close", self.close), foot=FOR_GOOD)
        old, self._trouble_page = self._trouble_page, page
        self.stack.addWidget(page)
        self.stack.setCurrentWidget(page)
        again.setFocus()
        if old is not None:
            self.stack.removeWidget(old)
            old.deleteLater()
        self._ready()

    def _elsewhere(self) -> None:
        """A store that is there already is opened as it is, so nobody is asked about writing over it."""
        asked = QFileDialog.getSaveFileName(
            self, "A place for the shop's store", "plugface.sqlite", "Stores (*.sqlite);;All files (*)",
            options=QFileDialog.Option.DontConfirmOverwrite,
        )  # fmt: skip
        if asked[0]:
            self.open_store(asked[0])

    # ---- pages

    @property
    def _shop_name(self) -> str:
        return self._named or self.liking.shop or "Plugface"

    def to_counter(self) -> None:
        assert self.counter is not None
        self.counter.counter.refresh()
        self.odds.refresh()
        self.see(self.counter, self._shop_name)
        self.counter.take_focus()

    def _taken(self) -> None:
        """What was booked in lies on the bench: the form is for the next one."""
        assert self.counter is not None
        self.counter.clear_form()

    @property
    def bench_page(self) -> "BenchPage | None":
        return self.benches.page if self.benches is not None else None

    # ---- what the desks are lent

    def see(self, page: QWidget, title: str) -> None:
        if self.stack.indexOf(page) < 0:
            self.stack.addWidget(page)
        self.stack.setCurrentWidget(page)
        self.setWindowTitle(title)
        self._ready()

    def drop(self, page: QWidget) -> None:
        self.stack.removeWidget(page)
        page.deleteLater()

    def reckon(self, work: Callable[[], T], then: Callable[[T], object]) -> None:
        self._back.do(work, then, self.crash_path.fault)

    def bring(self) -> None:
        """All news that has come for this thread, now."""
        self._courier.bring()

    @property
    def card_dialog(self) -> "CardDialog | None":
        return self.cards.dialog

    def show_card(self, bench: Bench, kind: Kind = Kind.CUSTOMER) -> None:
        self.cards.show(bench, self.look, kind)

    def say(self, e: Exception) -> None:
        QMessageBox.warning(self, self._shop_name, str(e))

    # ---- closing

    def closeEvent(self, event: QCloseEvent) -> None:
        if not all(desk is None or desk.may_leave() for desk in (self.patterns, self.which)):
            event.ignore()
            return
        if self.benches is not None and not (self.rewinds.may_leave() and self.benches.may_leave()):
            event.ignore()
            return
        self._closed = True
        self.shop.close()
        self._back.close()
        self._courier.stop()  # what was still on its way here would find nobody
        self.tones.close()
        super().closeEvent(event)


def _message(text: str, *buttons: QWidget, foot: str = "") -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(80, 60, 80, 60)
    column.addStretch(1)
    column.addWidget(label(text, "title", wrap=True))
    for b in buttons:
        b.setMaximumWidth(220)
        column.addWidget(b)
    if foot:
        column.addWidget(label(foot, "quiet", wrap=True))
    column.addStretch(2)
    return page
