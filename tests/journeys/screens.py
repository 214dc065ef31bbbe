"""Every page, tab, question and dialog of the program while it stands open, one after the other."""

from collections.abc import Callable, Iterator

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from demo_shop.reader import read_on
from demo_shop.shelf import REWOUND_TAG
from demo_shop.story import BENCH_TAG
from tests.journeys.conftest import Hand
from tests.sitting.fakes import TWO_COILS
from workbench.records import Outcome
from workbench.rewind.woundrecord import Way
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import BackDialog, DecideDialog
from workbench.window.metersdialog import MetersDialog
from workbench.window.patterns.page import PAGES
from workbench.window.rewind.foundpage import FoundPage
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.pages import PAGES as REWIND_PAGES
from workbench.window.rewind.planpage import PlanPage
from workbench.window.rewind.shelfdialog import ShelfDialog
from workbench.window.rewind.stepspage import StepsPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.rewind.woundpage import WoundPage

RETURNED = "SL-0139"  # has been in the shop before, on the same pattern
Screens = Iterator[tuple[str, QWidget]]


def screens(hand: Hand) -> Screens:
    yield from _reading(hand)
    yield from _dialogs(hand)
    yield from _card(hand)
    yield from _returned(hand)
    yield from _rewind(hand)
    yield from _counter(hand)
    yield from _patterns(hand)
    yield from _which(hand)


def _reading(hand: Hand) -> Screens:
    page, bench = hand.page, hand.bench
    panel = page.checks_panel
    for tab in (panel.checks, panel.coils, panel.pairs):
        hand.press(tab)
        yield f"bench, {tab.text()}", page
    bench.enter("15.43")  # where 155 belongs
    assert bench.said is not None
    assert bench.said.choices
    yield "bench, a slip asked about", page
    bench.enter("nonsense")
    yield "bench, refused", page
    hand.press(page.zero)
    yield "bench, leads", page
    bench.go_on()
    read_on(bench, 40)
    hand.safe()
    bench.write_note("a cracked tooth " * 12)
    page.readings.select_key(bench.lines.every[0].kept.id)
    yield "bench, read", page


def _open(ask: Callable[[], object], hand: Hand) -> QDialog:
    ask()
    assert hand.page.dialog is not None
    return hand.page.dialog


def _dialogs(hand: Hand) -> Screens:
    page = hand.page
    conditions = _open(page.edit_conditions, hand)
    yield "conditions", conditions
    assert isinstance(conditions, ConditionsDialog)
    conditions.iron.setText("99")
    conditions.accept()
    yield "conditions, refused", conditions
    conditions.reject()
    for name, ask in (
        ("strike", page.log.strike_out),
        ("note", page.log.note.click),
        ("job", page.job.click),
        ("another pattern", page.choose_pattern),
        ("repair", page.repair),
        ("decide", page.decide),
    ):
        dialog = _open(ask, hand)
        yield name, dialog
        dialog.reject()
    decide = _open(page.decide, hand)
    assert isinstance(decide, DecideDialog)
    decide.choices[Outcome.PASS].click()
    yield "decide, pass on a failed sheet", decide
    decide.accept()
    back = _open(page.begin_again, hand)
    assert isinstance(back, BackDialog)
    yield "back again", back
    back.reject()
    yield "bench, decided", page


def _card(hand: Hand) -> Screens:
    hand.window.show_card(hand.bench)
    hand.until(lambda: hand.window.card_dialog)
    card = hand.window.card_dialog
    assert card is not None
    yield "card", card
    card.reject()
    hand.until(lambda: hand.window.card_dialog is None)


def _returned(hand: Hand) -> Screens:
    before = hand.page
    hand.counter.counter.find(RETURNED)
    hand.until(lambda: hand.page is not before and hand.page.history_known)
    latest = hand.page
    latest.bench.pick(latest.bench.judged.sheet.plan[0])
    assert latest.history.plot is not None
    yield "bench, a history drawn", latest
    assert latest._remembered is not None
    hand.benches.open_sheet(latest.bench, latest._remembered[0].past.head.id)
    hand.until(lambda: hand.page is not latest and hand.page.history_known)
    assert hand.bench.past
    hand.bench.pick(hand.bench.judged.sheet.plan[0])
    yield "bench, an earlier sheet", hand.page


def at_the_desk(hand: Hand, tag: str) -> RewindPage:
    """The rewind desk of a unit that is brought to the bench first."""
    if hand.bench.unit.tag != tag or hand.bench.past:
        hand.counter.counter.find(tag)
        hand.until(lambda: hand.bench.unit.tag == tag and not hand.bench.past)
    hand.press(hand.page.rewind)
    hand.until(lambda: hand.window.rewinds.page)
    desk = hand.window.rewinds.page
    assert desk is not None
    return desk


def _at_rest(hand: Hand, page: QWidget) -> None:
    """Once what it holds has been laid out: large text takes its room in several goes."""
    seen: list[list[QRect]] = []

    def stands() -> bool:
        seen.append([w.geometry() for w in page.findChildren(QWidget)])
        return len(seen) > 2 and seen[-1] == seen[-2] == seen[-3]

    hand.until(stands)


def _rewind(hand: Hand) -> Screens:
    desk = at_the_desk(hand, REWOUND_TAG)
    for at, kind in enumerate(REWIND_PAGES):
        desk.show_page(at)
        if isinstance(page := desk.pages[at], PlanPage):
            hand.until(lambda p=page: p.desk.view is not None and p.sketch.settled)
            _at_rest(hand, page)
            yield "rewind, a plan that fits", desk
            page.turns.setText("90")
            hand.press(page.plan)
            hand.until(lambda p=page: p.desk.view is not None and not p.desk.view.fits and p.sketch.settled)
        elif isinstance(page, WirePage):
            hand.until(lambda p=page: p.table.ranking.rowCount())
            hand.press(page.take)
            page.gauge.setText("AWG 99")
            hand.press(page.rank)
        elif isinstance(page, StepsPage):
            hand.until(lambda p=page: p.reckoned.text())
            hand.press(page.lay_out)
        elif isinstance(page, FoundPage):
            hand.until(lambda p=page: p.quantities.rows.rowCount())
            page.form.lines["turns"].setText("24 24")  # against all the rest
            hand.press(page.note)
            hand.until(lambda p=page: p.work.view is not None)
            page.form.lines["grams"].setText("plenty")
            hand.press(page.note)
        elif isinstance(page, WoundPage):
            page.desk.choose(page.desk.asked[0].spot)
            hand.press(page.ways[Way.NORTH])  # against what was laid
            _at_rest(hand, page)
            yield "rewind, a reversed coil", desk
            for _ in range(5):
                hand.press(page.steps.tick)
            page.steps.inputs.volts.setText("plenty")
            hand.press(page.steps.tick)
        assert not isinstance(page, (FoundPage, PlanPage, WirePage, StepsPage, WoundPage)) or desk.said.said is not None
        _at_rest(hand, page)
        yield f"rewind, {kind.name}", desk
    hand.press(desk.shelf)
    shelf = hand.window.dialog
    assert isinstance(shelf, ShelfDialog)
    yield "shelf", shelf
    shelf.grams.setText("none")
    hand.press(shelf.keep_button)
    assert shelf.said.said is not None
    yield "shelf, refused", shelf
    shelf.reject()
    hand.press(desk.to_bench)
    desk = at_the_desk(hand, BENCH_TAG)
    for at, kind in enumerate(REWIND_PAGES):
        desk.show_page(at)
        _at_rest(hand, desk.pages[at])
        yield f"rewind, {kind.name}, nothing yet", desk
    hand.press(desk.to_bench)


def _counter(hand: Hand) -> Screens:
    hand.window.to_counter()
    counter = hand.counter
    hand.until(lambda: counter.units.rows.rows)
    yield "counter", counter
    counter.label.clear()
    hand.press(counter.book)
    assert counter.said.said is not None
    yield "counter, refused", counter
    hand.window.edit_meters()
    meters = hand.window.dialog
    assert isinstance(meters, MetersDialog)
    yield "meters", meters
    meters.choice.setCurrentIndex(meters.choice.count() - 1)
    meters.keep_meter()
    assert meters.said.said is not None
    yield "meters, a new one refused", meters
    meters.reject()
    hand.window.edit_odds()
    assert hand.window.dialog is not None
    yield "odds", hand.window.dialog
    hand.window.dialog.reject()
    hand.window.like()
    assert hand.window.dialog is not None
    yield "this bench", hand.window.dialog
    hand.window.dialog.reject()


def _patterns(hand: Hand) -> Screens:
    hand.window.to_patterns()
    desk = hand.window.patterns
    assert desk is not None
    hand.until(lambda: desk.library is not None and desk.library.rows.rows.rows)
    library = desk.library
    assert library is not None
    yield "patterns", library
    library.rows.select_key(next(r.id for r in library.revisions if r.pattern.name == TWO_COILS))
    for ask, name in ((library.compare, "two revisions"), (library.bands, "bands")):
        hand.press(ask)
        hand.until(lambda: hand.window.dialog)
        assert hand.window.dialog is not None
        yield name, hand.window.dialog
        hand.window.dialog.reject()
    hand.press(library.past.look_at)
    assert desk.page is not None
    yield "a pattern looked at", desk.page
    hand.press(desk.page.back)
    hand.until(lambda: hand.window.stack.currentWidget() is library and library.chosen is not None)
    hand.press(library.open)
    page = desk.page
    assert page is not None
    for at, name in enumerate(PAGES):
        page.see(at)
        if at == 1:
            page.windings.rows.select_key(page.desk.draft.windings[0].name)
        yield f"a pattern, {name.lower()}", page
    for ask, name in ((page.add_plug, "a further plug"), (page.from_unit, "ohms from a unit")):
        ask()
        assert page.dialog is not None
        yield name, page.dialog
        page.dialog.reject()


def _which(hand: Hand) -> Screens:
    hand.window.to_which()
    desk = hand.window.which
    assert desk is not None
    hand.until(lambda: desk.page is not None and hand.window.stack.currentWidget() is desk.page)
    page = desk.page
    assert page is not None
    yield "which, nothing yet", page
    page.ask_plug()
    assert page.dialog is not None
    yield "which, a plug", page.dialog
    page.dialog.reject()
    for plug in next(r.pattern for r in page.sitting.library if r.pattern.name == TWO_COILS).connectors:
        page.sitting.put_on(plug)
    page.sitting.enter("A1 A2 174.6")
    hand.until(lambda: not page.sitting.weighing and not page.sitting.keeping.busy)
    page.sitting.enter("A9 A1")
    _at_rest(hand, page)
    yield "which, read and refused", page
    hand.press(page.away)
    yield "which, asked", page
    page.sitting.tell("")
    hand.press(page.book)
    hand.until(lambda: hand.window.stack.currentWidget() is hand.counter)
    yield "counter, readings to come", hand.counter
    hand.counter.counter.carry(None)
    desk.open()
    hand.until(lambda: hand.window.stack.currentWidget() is page)


def tabbed(hand: Hand) -> set[QWidget]:
    """What Tab goes through, round to where it began."""
    seen: set[QWidget] = set()
    for _ in range(300):
        at = QApplication.focusWidget()
        assert at is not None
        if at in seen:
            return seen
        seen.add(at)
        hand.qtbot.keyClick(at, Qt.Key.Key_Tab)
    raise AssertionError("Tab never comes round")
