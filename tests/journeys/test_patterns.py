"""A plug of five cavities drawn from nothing, by mouse and by keys alone; a unit read on it, and its card."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.soundpart import planned
from tests.journeys.test_by_keys import Keys, book, next_check, prove_iron, read
from tests.sitting.fakes import TWO_COILS
from workbench.sitting.earnedbands import is_earned
from workbench.sitting.plugform import SHAPES, Shape
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import CORE, Pattern, Side, Terminal
from workbench.window.card.dialog import CardDialog
from workbench.window.patterns.addplug import AddPlugDialog
from workbench.window.patterns.bandsdialog import BandsDialog
from workbench.window.patterns.comparedialog import CompareDialog
from workbench.window.patterns.desk import PatternsDesk
from workbench.window.patterns.page import PatternPage
from workbench.window.patterns.unitdialog import UnitDialog

K, M, LEFT = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton
OK = QDialogButtonBox.StandardButton.Ok
NAME = "counter made, five pins"
PLACES = {"1": (0.0, 0.0), "2": (1.0, 0.0), "3": (2.0, 0.0), "4": (0.0, 1.0), "5": (1.0, 1.0)}
READS = (("P.1", "P.2", "155.2"), ("P.3", "P.4", "0.6"))


def desk(hand: Hand) -> PatternsDesk:
    assert hand.window.patterns is not None
    return hand.window.patterns


def drawing(hand: Hand) -> PatternPage:
    page = desk(hand).page
    assert page is not None
    return page


def library(hand: Hand) -> PatternsDesk:
    hand.press(hand.counter.patterns)
    made = desk(hand)
    hand.until(lambda: made.library is not None and made.library.rows.rows.rows)
    return made


def add_plug(hand: Hand, page: PatternPage, side: int, shape: Shape, counts: str = "") -> None:
    hand.press(page.plugs.add)
    dialog = page.dialog
    assert isinstance(dialog, AddPlugDialog)
    draw_it = dialog.buttons.button(OK)
    assert not draw_it.isEnabled()  # which side is looked into has to be said
    dialog.side.setCurrentIndex(side)
    dialog.shape.setCurrentIndex([s for s, _ in SHAPES].index(shape))
    dialog.counts.setText(counts or dialog.counts.text())
    hand.press(draw_it)


def read_by_mouse(hand: Hand) -> None:
    """The plan is the program's: both windings, and each to ground."""
    bench = hand.bench
    assert bench.pattern.name == NAME
    shown = {frozenset((a, b)): typed for a, b, typed in READS}
    hand.press(hand.page.zero)
    for typed in ("0.2", "0.3"):
        hand.type(typed)
    for pair in planned(bench.pattern):
        hand.read(pair.positive, pair.negative, shown.get(frozenset(pair), "OL"))
    hand.safe()


def read_by_keys(keys: Keys) -> None:
    prove_iron(keys)
    first, *others = planned(keys.hand.bench.pattern)
    for pair in others:  # the first is passed over each time, so that it comes last
        next_check(keys)
        read(keys, pair)
    read(keys, first)
    keys.hand.safe()


def card_says(hand: Hand, path: Path) -> None:
    """Of the card that stands open, saved by its own button's key or click."""
    assert hand.bench.judged.verdict is SheetVerdict.GOOD, hand.bench.judged
    text = " ".join(p.extract_text() for p in PdfReader(path).pages)
    assert "GOOD" in text
    assert NAME in text


def card_ready(hand: Hand) -> CardDialog:
    hand.until(lambda: hand.window.card_dialog is not None and hand.window.card_dialog.save_button.isEnabled())
    card = hand.window.card_dialog
    assert card is not None
    hand.until(card.isActiveWindow)
    return card


def drawn_right(pattern: Pattern) -> None:
    (plug,) = pattern.connectors
    assert {c.pin: place for c, place in zip(plug.cavities, plug.places, strict=True)} == PLACES
    assert [(w.name, {w.start, w.finish}) for w in pattern.windings] == [
        ("main", {"P.1", "P.2"}), ("light", {"P.3", "P.4"}),
    ]  # fmt: skip
    assert (pattern.windings[0].ohms, pattern.windings[0].tolerance_percent) == (155.0, 10.0)
    assert pattern.windings[1].ohms == 0.4


def test_by_mouse_from_nothing_to_a_card(open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    made = library(hand)
    assert made.library is not None
    hand.press(made.library.new)
    page = drawing(hand)
    hand.qtbot.keyClicks(page.name, NAME)
    add_plug(hand, page, 1, Shape.FREE)
    canvas = page.canvas
    for pin in "2345":
        QTest.mouseClick(canvas, LEFT, pos=canvas.at(PLACES[pin]).toPoint())
        assert page.hand.pin == pin
    # one put wrong is dragged to its place, one too many is dropped; what was dropped comes back by undo
    x, y = PLACES["5"]
    QTest.mousePress(canvas, LEFT, pos=canvas.at((x, y)).toPoint())
    QTest.mouseMove(canvas, canvas.at((x + 1, y)).toPoint())
    drop(canvas, canvas.at((x + 1, y)).toPoint())
    assert page.desk.draft.plugs[0].places[4] == (x + 1, y)
    hand.press(page.undo)
    assert page.desk.draft.plugs[0].places[4] == (x, y)
    hand.press(page.redo)
    hand.press(page.undo)

    hand.press(page.switches[1])
    for (a, b, _), name, ohms in zip(READS, ("main", "light"), ("155", "0,4"), strict=True):
        for node in (a, b):
            hand.press(page.face.face.button(node))
        hand.press(page.windings.winding)
        page.windings.name.clear()
        hand.qtbot.keyClicks(page.windings.name, name)
        hand.qtbot.keyClicks(page.windings.ohms, ohms)
        hand.press(page.windings.apply)
    assert page.desk.can_save, page.desk.remarks()
    hand.press(page.save)
    hand.until(lambda: page.desk.base is not None)
    assert page.desk.base is not None
    drawn_right(page.desk.base.pattern)
    hand.press(page.back)
    hand.until(lambda: hand.window.stack.currentWidget() is made.library)
    hand.until(lambda: made.library is not None and made.library.chosen == page.desk.base)  # among all the others
    hand.press(made.library.back)
    counter = hand.counter
    hand.until(lambda: counter.pattern.findText(NAME) >= 0)
    hand.qtbot.keyClicks(counter.label, "the first of its kind")
    counter.pattern.setCurrentIndex(counter.pattern.findText(NAME))
    hand.press(counter.book)
    hand.until(lambda: hand.window.bench_page is not None)
    read_by_mouse(hand)
    path = tmp_path / "card.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    hand.press(hand.page.card)
    card = card_ready(hand)
    hand.press(card.save_button)
    card_says(hand, path)
    card.reject()
    hand.until(lambda: hand.window.card_dialog is None)


def drop(widget: QWidget, at: QPoint) -> None:
    QTest.mouseRelease(widget, LEFT, pos=at)


def test_by_keys_alone_from_nothing_to_a_card(
    open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    keys = Keys(hand)
    keys.ctrl(K.Key_T)
    made = desk(hand)
    hand.until(lambda: made.library is not None and made.library.rows.rows.rows)
    keys.ctrl(K.Key_N)
    hand.until(lambda: made.page is not None and keys.here == "Name of the pattern")
    page = drawing(hand)
    keys.write(NAME)
    keys.press(K.Key_A, M.ControlModifier | M.ShiftModifier)
    hand.until(lambda: isinstance(page.dialog, AddPlugDialog) and page.dialog.isActiveWindow())
    assert keys.here == "Looking into"
    keys.press(K.Key_Down)
    keys.tab_to("Shape")
    keys.press(K.Key_End)
    keys.tab_to("Draw it")
    keys.press(K.Key_Space)
    hand.until(lambda: page.dialog is None)
    hand.front()
    hand.until(lambda: keys.here == "The plug's face")
    for moves in ((K.Key_Right,), (K.Key_Right,), (K.Key_Left, K.Key_Left, K.Key_Up), (K.Key_Right,)):
        for key in moves:
            keys.press(key)
        keys.press(K.Key_Return)
    assert page.desk.draft.name == NAME
    # half a step too far to the right, and back
    keys.press(K.Key_Right, M.ShiftModifier | M.AltModifier)
    assert page.desk.draft.plugs[0].places[4] == (1.5, 1.0)
    keys.press(K.Key_Left, M.ShiftModifier | M.AltModifier)

    keys.ctrl(K.Key_2)
    hand.until(lambda: page.stack.currentIndex() == 1)  # a button goes down for a moment before it acts
    for (a, b, _), name, ohms in zip(READS, ("main", "light"), ("155", "0.4"), strict=True):
        for node in (a, b):
            keys.tab_to(page.face.face.button(node).accessibleName())
            keys.press(K.Key_Space)
        keys.press(K.Key_W, M.ControlModifier | M.ShiftModifier)
        hand.until(lambda: keys.here == "Name")
        keys.write(name)
        keys.tab_to("Ohms")
        keys.write(ohms)
        keys.press(K.Key_Return)
        assert page.windings.trouble.text() == ""
    keys.ctrl(K.Key_S)
    hand.until(lambda: page.desk.base is not None)
    assert page.desk.base is not None
    drawn_right(page.desk.base.pattern)
    keys.ctrl(K.Key_F)
    hand.until(lambda: hand.window.stack.currentWidget() is made.library)
    keys.ctrl(K.Key_F)
    hand.until(lambda: hand.counter.pattern.findText(NAME) >= 0)
    book(keys, page.desk.base.pattern)
    read_by_keys(keys)
    path = tmp_path / "card.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    keys.ctrl(K.Key_P)
    card_ready(hand)
    keys.ctrl(K.Key_S)
    hand.until(path.exists)
    card_says(hand, path)
    keys.press(K.Key_Escape)
    hand.until(lambda: hand.window.card_dialog is None)


def test_a_plug_drawn_from_the_wire_side_is_stored_as_the_mating_side_sees_it(
    open_window: Open, tmp_path: Path
) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    made = library(hand)
    assert made.library is not None
    hand.press(made.library.new)
    page = drawing(hand)
    add_plug(hand, page, 2, Shape.ROWS, "1+3")
    assert "from the wire side (mirrored)" in page.side_words.text()
    places = dict(zip((c.pin for c in page.desk.draft.plugs[0].cavities), page.desk.draft.plugs[0].places, strict=True))
    assert places["2"][0] > places["3"][0] > places["4"][0]  # on the screen they run from left to right
    on_screen = {pin: page.canvas.at(place).x() for pin, place in places.items()}
    assert on_screen["2"] < on_screen["3"] < on_screen["4"]
    at = page.canvas.at(places["4"])
    step = on_screen["4"] - on_screen["3"]
    QTest.mouseClick(page.canvas, LEFT, pos=QPoint(round(at.x() + step), round(at.y())))
    plug = page.desk.draft.plugs[0]
    assert plug.places[4][0] == places["4"][0] - 1  # further to the right as it is seen: further to the left
    hand.press(page.side)
    assert "looking into the mating side" in page.side_words.text()
    key = page.plugs.key
    key.setCurrentIndex(2)
    key.activated.emit(2)
    assert page.desk.draft.plugs[0].key is Side.RIGHT
    hand.press(page.plugs.mirror)
    assert page.desk.draft.plugs[0].key is Side.LEFT


def test_what_can_not_be_used_says_so_and_nothing_is_lost(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    hand = open_window(store)
    made = library(hand)
    assert made.library is not None
    hand.press(made.library.new)
    page = drawing(hand)
    add_plug(hand, page, 1, Shape.ROWS, "2")
    hand.press(page.switches[1])
    for node in ("P.1", CORE):
        hand.press(page.face.face.button(node))
    hand.press(page.windings.winding)
    hand.qtbot.keyClicks(page.windings.ohms, "a lot")
    hand.press(page.windings.apply)
    assert page.windings.trouble.text()
    assert page.windings.ohms.text() == "a lot"
    assert page.windings.ohms.property("state") == "refused"
    hand.press(page.save)
    assert page.desk.base is None
    assert page.windings.ohms.text() == "a lot"
    page.celsius.setText("boiling")
    page.celsius.editingFinished.emit()
    assert "Type the degrees Celsius" in page.said.sentence
    hand.press(page.switches[0])
    page.plugs.pin.setText("2")
    page.plugs.pin.editingFinished.emit()
    assert "is there already" in page.said.sentence
    for name in ("one", "two", "three"):  # faster than any disk
        page.desk.edit(lambda d, name=name: d.named(name))  # type: ignore[misc]
    draft = page.desk.draft
    hand.close()  # what is on its way, and what waits behind it, is waited for

    back = open_window(store)
    library(back)
    shelf = desk(back).library
    assert shelf is not None
    back.until(lambda: shelf.rows.rows.rows[0].value == "goes on")
    shelf.rows.select_key(shelf.rows.rows.rows[0].key)
    back.press(shelf.open)
    assert drawing(back).desk.draft == draft


def test_coils_and_checks_are_edited_and_two_revisions_stand_side_by_side(demo: Hand) -> None:
    demo.window.to_counter()
    made = library(demo)
    shelf = made.library
    assert shelf is not None
    demo.qtbot.keyClicks(shelf.search, "ignition coils common")
    (row,) = shelf.rows.rows.rows
    assert row.title == TWO_COILS
    demo.qtbot.keyClick(shelf.search, K.Key_Return)
    page = drawing(demo)
    demo.press(page.switches[2])
    teeth = len(page.coils.rows.rows.rows)
    page.coils.winding.setCurrentText("lighting")
    demo.qtbot.keyClicks(page.coils.tooth, "2")
    demo.press(page.coils.put)
    assert len(page.coils.rows.rows.rows) == teeth + 1
    coil = next(c for c in page.desk.draft.layout.coils if c.tooth == 2 and c.winding == "lighting")  # type: ignore[union-attr]
    page.coils.rows.select_key((coil.spot, coil.place))
    page.coils.sense.setCurrentIndex(2)
    page.coils.sense.activated.emit(2)
    assert page.coils.chosen is not None
    assert page.coils.chosen.sense == -1
    page.coils.tooth.setText("99")
    page.coils.put_coil()
    assert "there is no tooth 99" in page.said.sentence.lower()
    demo.press(page.switches[3])
    checks = page.checks.checks
    page.checks.rows.select_key(checks[1])
    demo.press(page.checks.up)
    assert page.checks.checks[0] == checks[1]
    demo.press(page.checks.remove)
    assert len(page.checks.checks) == len(checks) - 1
    assert any("No planned check" in r.sentence for r in page.desk.remarks())
    demo.press(page.checks.anew)
    assert page.desk.draft.checks is None
    demo.press(page.save)
    demo.until(lambda: page.desk.base is not None and page.desk.base.number == 2)
    demo.press(page.back)
    demo.until(lambda: demo.window.stack.currentWidget() is shelf and shelf.chosen is not None)
    demo.press(shelf.compare)
    demo.until(lambda: isinstance(demo.window.dialog, CompareDialog))
    dialog = demo.window.dialog
    assert isinstance(dialog, CompareDialog)
    told = {dialog.table.item(r, 0).text() for r in range(dialog.table.rowCount())}
    assert any(t.startswith("Coil lighting") for t in told)
    assert any(t.startswith("Check") for t in told)
    dialog.old.setCurrentIndex(1)
    assert dialog.same.text() == "They say the same."
    dialog.reject()


def test_the_owner_takes_a_band_that_the_shops_own_units_earned(demo: Hand) -> None:
    demo.window.to_counter()
    made = library(demo)
    shelf = made.library
    assert shelf is not None
    shop = demo.window.shop
    counted = {
        r.id: len({g.unit_id for g in shop.known_good(r.pattern_id).result()}) for r in shop.patterns().result()
    }  # fmt: skip
    best = max(counted, key=lambda i: counted[i])
    assert counted[best] >= 3
    shelf.rows.select_key(best)
    demo.press(shelf.bands)
    demo.until(lambda: isinstance(demo.window.dialog, BandsDialog))
    dialog = demo.window.dialog
    assert isinstance(dialog, BandsDialog)
    view = next(v for v in dialog._views if v.low is not None)
    dialog.rows.select_key(view.winding)
    demo.press(dialog.use)
    demo.until(lambda: dialog.chosen is not None and "earned from" in dialog.chosen.stands)
    revision = next(r for r in shop.patterns().result() if r.pattern.name == dialog._pattern.name)
    assert is_earned(revision.pattern.winding(view.winding))
    assert revision.number > 1
    dialog.reject()
    assert "stands." in shelf.said.sentence


def test_a_socket_and_a_wire_as_found(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    made = library(hand)
    assert made.library is not None
    hand.press(made.library.new)
    page = drawing(hand)
    add_plug(hand, page, 1, Shape.RING, "5")
    pane = page.plugs
    pane.terminal.setCurrentIndex(1)
    pane.terminal.activated.emit(1)
    assert [c.terminal for c in page.desk.draft.plugs[0].cavities] == [Terminal.SOCKET, *[Terminal.BLADE] * 4]
    hand.press(pane.alike)
    assert {c.terminal for c in page.desk.draft.plugs[0].cavities} == {Terminal.SOCKET}
    pane.colour.setText("grey over white")
    pane.colour.editingFinished.emit()
    assert page.desk.draft.plugs[0].cavities[0].colour == "grey over white"
    page.canvas.setFocus()
    hand.qtbot.keyClick(page.canvas, K.Key_Delete)
    assert [c.pin for c in page.desk.draft.plugs[0].cavities] == ["2", "3", "4", "5"]


def test_the_ohms_come_from_a_unit_on_the_same_pins(demo: Hand) -> None:
    demo.window.to_counter()
    made = library(demo)
    shelf = made.library
    assert shelf is not None
    shelf.rows.select_key(next(r.id for r in shelf.revisions if r.pattern.name == TWO_COILS))
    demo.press(shelf.open)
    page = drawing(demo)
    demo.press(page.switches[1])
    for tag, said in (("NO-1", "No unit with a sheet has the tag"), ("SL-0139", "Taken over from SL-0139")):
        demo.press(page.windings.unit)
        dialog = page.dialog
        assert isinstance(dialog, UnitDialog)
        assert not dialog.buttons.button(OK).isEnabled()
        dialog.tag.setText(tag)
        dialog.accept()
        demo.until(lambda said=said: said in page.said.sentence)
    assert all("SL-0139" in w.band_from for w in page.desk.draft.windings)
