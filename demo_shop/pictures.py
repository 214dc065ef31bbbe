"""Every screen of a store as PNG: light and dark, device ratio 1 and 2, and with text at 200 %."""

import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QDeadlineTimer, QEvent, QEventLoop, QPoint, QSize
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from demo_shop.build import PracticePart, bench_part
from demo_shop.named import NAMED
from demo_shop.roll import pattern_of, stories
from demo_shop.shelf import REWOUND_TAG
from demo_shop.story import BENCH_TAG, SHOP_NAME
from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.rewind.woundrecord import Way as Pole
from workbench.sitting.plugform import PlugForm
from workbench.stator.pattern import Pair
from workbench.window.app import look_of, make_app
from workbench.window.card.kind import Kind
from workbench.window.mainwindow import MainWindow
from workbench.window.rewind.foundpage import FoundPage
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.pages import PAGES
from workbench.window.rewind.planpage import PlanPage
from workbench.window.rewind.stepspage import StepsPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.rewind.woundpage import WoundPage

SIZE = QSize(1366, 728)  # a 1366 x 768 screen less its task bar
SECONDS = 20
WITHOUT_PAPERS = "charging groups jumpered in series"
LAYOUTS = 6  # panels in panels


@dataclass(frozen=True, slots=True)
class Way:
    name: str
    dark: bool = False
    ratio: int = 1
    text_scale: float = 1.0


WAYS = (
    Way("light"),
    Way("dark", dark=True),
    Way("light-ratio2", ratio=2),
    Way("light-text200", text_scale=2.0),
)


# what a demo without a window shows: the screens as they are
PLAIN = WAYS[:2]


def draw_all(store: Path, to: Path, ways: Sequence[Way] = WAYS) -> list[Path]:
    """Draws every screen in each of these ways and returns the files.

    Each way has its own copy of the demo's store to write in.
    """
    app = make_app()
    out: list[Path] = []
    for way in ways:
        own = store.with_name(f"{way.name}.sqlite")
        shutil.copyfile(store, own)
        look = look_of(app, dark=way.dark, text_scale=way.text_scale)
        practice = PracticePart(bench_part())
        window = MainWindow(look, str(own), shop_name=SHOP_NAME, practice=(BENCH_TAG, practice.shows))
        window.resize(SIZE)
        window.show()
        _wait_for_counter(app, window)
        for name, widget in _screens(app, window):
            path = to / f"{name}-{way.name}.png"
            save(widget, path, way.ratio)
            out.append(path)
        window.close()
        window.deleteLater()
        wait_for(app, lambda: True)
    return out


def _wait_for_counter(app: QApplication, window: MainWindow) -> None:
    wait_for(app, lambda: window.counter is not None and bool(window.counter.counter.units))


def _screens(app: QApplication, window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    """Walks the program; each screen is handed out while it stands."""
    assert window.counter is not None
    yield "counter", window
    for name, ask in (("meters", window.edit_meters), ("odds", window.edit_odds), ("this-bench", window.like)):
        ask()
        assert window.dialog is not None
        yield name, window.dialog
        window.dialog.reject()
    window.counter.counter.find(BENCH_TAG)
    wait_for(app, lambda: window.bench_page is not None)
    page = window.bench_page
    assert page is not None
    bench = page.bench
    yield "bench-start", window
    bench.enter("nonsense")
    yield "bench-refused", window
    bench.go_on()
    bench.pick((bench.pattern.checks or ())[0])
    for _ in range(2):
        bench.enter(bench.practice_shows() or "OL")
    wait_for(app, lambda: not bench.lines.saving and bench.explained is not None)
    yield "bench-out", window
    bench.enter(bench.practice_shows() or "OL")
    bench.enter("1")
    yield "bench-asks", window
    for _ in range(30):
        if bench.offered is None:
            break
        bench.pick(bench.offered)
        shown, before = bench.practice_shows() or "OL", len(bench.lines)
        bench.enter(shown)
        if len(bench.lines) == before:
            bench.enter(shown)
    wait_for(app, lambda: not bench.lines.saving and bench.explained is not None)
    yield "bench-read", window
    bench.pick(bench.judged.failed[0])
    yield "bench-failed", window
    page.checks_panel.coils.click()
    yield "bench-coils", window
    page.checks_panel.pairs.click()
    bench.flip()
    yield "bench-wire-side", window
    bench.flip()
    page.readings.select_key(bench.lines.every[-1].kept.id)
    for name, opened in (
        ("conditions", page.edit_conditions),
        ("strike", page.log.strike_out),
        ("note", page.log.note.click),
        ("job", page.job.click),
        ("other-pattern", page.choose_pattern),
        ("repair", page.repair),
        ("decide", page.decide),
    ):
        opened()
        assert page.dialog is not None
        yield name, page.dialog
        page.dialog.reject()
    for name, kind in (("card", Kind.CUSTOMER), ("card-shop", Kind.SHOP), ("intake-tag", Kind.INTAKE)):
        window.show_card(bench, kind)
        wait_for(app, lambda: window.card_dialog is not None)
        assert window.card_dialog is not None
        yield name, window.card_dialog
        window.card_dialog.reject()
    drifting = next(s for s in stories() if s.kind == "drifting")
    window.counter.counter.find(drifting.tag)
    wait_for(app, lambda: _remembered(window, drifting.tag))
    page = window.bench_page
    assert page is not None
    coil = pattern_of(drifting).winding(drifting.tale.watch or "")
    page.bench.pick(Pair(coil.start, coil.finish))
    yield "bench-history", window
    yield from _rewind(app, window)
    window.to_counter()
    window.counter.book.click()
    yield "counter-refused", window
    yield from _patterns(app, window)
    yield from _which(app, window)


def _which(app: QApplication, window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    """The failing part again, as if it had come without papers."""
    window.to_counter()
    window.to_which()
    desk = window.which
    assert desk is not None
    wait_for(app, lambda: desk.page is not None)
    page = desk.page
    assert page is not None
    yield "which-blank", window
    page.ask_plug()
    assert page.dialog is not None
    yield "which-plug", page.dialog
    page.dialog.reject()
    pattern = next(r.pattern for r in page.sitting.library if r.pattern.name == WITHOUT_PAPERS)
    for plug in pattern.connectors:
        page.sitting.put_on(plug)
    wait_for(app, lambda: not page.sitting.weighing)
    for typed, name in (("1 2 0.7", "which-read"), ("1 4 1.3", "which-settled")):
        page.sitting.enter(typed)
        wait_for(app, lambda: not page.sitting.weighing and not page.sitting.keeping.busy)
        yield name, window
    page.book.click()
    yield "counter-carried", window


def _patterns(app: QApplication, window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    window.to_patterns()
    desk = window.patterns
    assert desk is not None
    wait_for(app, lambda: desk.library is not None and bool(desk.library.rows.rows.rows))
    library = desk.library
    assert library is not None
    yield "patterns", window
    name = NAMED[-1].pattern
    desk.draw_on(next(r for r in library.revisions if r.pattern.name == name))
    page = desk.page
    assert page is not None
    page.see(0)
    yield "pattern-plugs", window
    page.see(1)
    page.windings.show_edge(page.desk.draft.windings[0].name)
    yield "pattern-windings", window
    page.see(2)
    yield "pattern-coils", window
    page.desk.edit(lambda d: d.checked(d.checks[:2] if d.checks else None))
    page.see(3)
    yield "pattern-checks", window
    page.desk.give_up()
    page.add_plug()
    assert page.dialog is not None
    yield "pattern-plug", page.dialog
    page.dialog.reject()
    desk.begin()
    page = desk.page
    assert page is not None
    page.hand.wire_side = True
    for edit in (PlugForm("P", counts="2+3", wire_side=True).drawn, _half_wired):
        page.desk.edit(edit)
    page.hand.pin = "4"
    page.refresh()
    yield "pattern-wire-side", window
    page.see(1)
    page.windings.show_edge("high")
    page.windings.ohms.setText("a lot")
    page.windings.apply.click()
    yield "pattern-half", window
    page.windings.ohms.clear()
    page.back.click()
    wait_for(app, lambda: library.rows.rows.rows[0].value == "goes on")
    library.rows.select_key(library.rows.rows.rows[0].key)
    library.drop.click()
    yield "patterns-draft", window


def _half_wired(draft: Draft) -> Draft:
    drawn, name = windings.connect(draft.named("counter made"), "P.1", "P.2")
    drawn = windings.set_percent(windings.rename_edge(drawn, name, "low"), "low", 155.0, 10)
    drawn, name = windings.connect(drawn, "P.2", "P.3")
    return windings.rename_edge(drawn, name, "high")


def _rewind(app: QApplication, window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    """A rewind that was begun: its wire, its steps, what it asks, the shelf; and one not begun."""
    desk = _at_the_desk(app, window, REWOUND_TAG)
    for at, page in enumerate(desk.pages):
        desk.show_page(at)
        wait_for(app, partial(_reckoned, page))
        yield f"rewind-{_file_name(PAGES[at].name)}-begun", window
        if isinstance(page, PlanPage):
            yield from _misfit(app, window, page)
    next(p for p in desk.pages if isinstance(p, StepsPage)).lay_out.click()
    yield "rewind-steps-asks", window
    found = next(p for p in desk.pages if isinstance(p, FoundPage))
    desk.show_page(desk.pages.index(found))
    found.form.lines["turns"].setText("24 24")
    found.note.click()
    wait_for(app, partial(_reckoned, found))
    found.to_wire.click()
    yield "rewind-found-liar", window
    yield from _wound(desk, window)
    desk.shelf.click()
    assert window.dialog is not None
    yield "shelf", window.dialog
    window.dialog.reject()
    desk.to_bench.click()
    desk = _at_the_desk(app, window, BENCH_TAG)
    for at, kind in enumerate(PAGES):
        desk.show_page(at)
        yield f"rewind-{_file_name(kind.name)}-blank", window
    desk.to_bench.click()


def _misfit(app: QApplication, window: MainWindow, page: PlanPage) -> Iterator[tuple[str, QWidget]]:
    """Far more turns: what goes in of them, and the number by which they miss."""
    noted = page.turns.text()
    page.turns.setText("60")
    page.plan.click()
    wait_for(app, lambda: page.desk.view is not None and not page.desk.view.fits and page.sketch.settled)
    yield "rewind-misfit", window
    page.turns.setText(noted)
    page.plan.click()


def _wound(desk: RewindPage, window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    """One coil short of turns, one reversed, and the dip that waits for both."""
    at = next(i for i, page in enumerate(desk.pages) if isinstance(page, WoundPage))
    desk.show_page(at)
    page = desk.pages[at]
    assert isinstance(page, WoundPage)
    page.desk.choose(page.desk.asked[4].spot)
    page.coils.ohms.setText("0.0477")
    page.coils.note.click()
    page.desk.choose(page.desk.asked[3].spot)
    page.ways[Pole.NORTH].click()
    page.desk.choose(page.desk.asked[4].spot)
    yield "rewind-wound", window
    for _ in range(5):
        page.steps.tick.click()
    page.steps.inputs.volts.setText("1000")
    page.steps.tick.click()
    yield "rewind-wound-refused", window


def _at_the_desk(app: QApplication, window: MainWindow, tag: str) -> RewindPage:
    def rewinding() -> bool:
        return window.rewinds.page is not None and window.rewinds.page.rewinding.unit.tag == tag

    assert window.counter is not None
    window.counter.counter.find(tag)
    wait_for(app, lambda: window.bench_page is not None and window.bench_page.bench.unit.tag == tag)
    assert window.bench_page is not None
    window.bench_page.rewind.click()
    wait_for(app, rewinding)
    assert window.rewinds.page is not None
    return window.rewinds.page


def _file_name(page: str) -> str:
    return page.lower().removeprefix("as ")


def _reckoned(page: QWidget) -> bool:
    """Whether all that is worked out away from the window has come."""
    if isinstance(page, WirePage):
        return page.desk.ranked is not None
    if isinstance(page, PlanPage):
        return page.desk.view is not None and page.sketch.settled
    if isinstance(page, FoundPage):
        return page.work.view is not None
    return not isinstance(page, StepsPage) or page.work.reckoned is not None


def _remembered(window: MainWindow, tag: str) -> bool:
    page = window.bench_page
    known = page is not None and page.bench.unit.tag == tag and page.history_known
    return known and page is not None and page.bench.explained is not None and page.bench.explained.by_past is not None


def wait_for(app: QApplication, done: Callable[[], bool]) -> None:
    """Runs the event loop until a condition holds. Raises TimeoutError."""
    end = QDeadlineTimer(SECONDS * 1000)
    app.processEvents()
    while not done():
        if end.hasExpired():
            raise TimeoutError("a screen did not come up")
        app.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents, 50)
    app.processEvents()


def save(widget: QWidget, path: Path, ratio: int) -> None:
    # what the last act changed is laid out before it is drawn, and what that changed in its turn
    for _ in range(LAYOUTS):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
    image = QImage(widget.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    painter = QPainter(image)
    widget.render(painter, QPoint())
    painter.end()
    if not image.save(str(path)):
        raise OSError(0, f"{path} could not be written")
