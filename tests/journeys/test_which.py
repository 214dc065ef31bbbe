"""A part without papers: which one is it? By mouse and by keys alone, to its sheet with all that was read."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QMessageBox

from tests.journeys.conftest import Hand, Open
from tests.journeys.test_by_keys import Keys
from tests.sitting.fakes import TWO_COILS
from workbench.matching.faces import Faces
from workbench.sitting.lines import Keeping
from workbench.sitting.plugform import SHAPES, Shape
from workbench.sitting.whichviews import face_choices, readings
from workbench.stator.expect import Expectations
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.whichwords import NONE_OF_THEM
from workbench.window.bench.dialogs import StrikeDialog
from workbench.window.patterns.addplug import AddPlugDialog
from workbench.window.which.facedialog import FaceDialog
from workbench.window.which.page import WhichPage

K, M = Qt.Key, Qt.KeyboardModifier
OK = QDialogButtonBox.StandardButton.Ok


def which(hand: Hand) -> WhichPage:
    desk = hand.window.which
    assert desk is not None
    hand.until(lambda: desk.page is not None and hand.window.stack.currentWidget() is desk.page)
    assert desk.page is not None
    return desk.page


def settled(hand: Hand, page: WhichPage) -> None:
    """What was done is weighed and kept."""
    hand.until(lambda: not page.sitting.weighing and not page.sitting.keeping.busy)


def faces(page: WhichPage) -> FaceDialog:
    assert isinstance(page.dialog, FaceDialog)
    return page.dialog


def plug_on(hand: Hand, page: WhichPage, at: int) -> None:
    """A shape that the shop's patterns have, by mouse."""
    hand.press(page.put_on if page.sitting.part.plugs else page.first)
    dialog = faces(page)
    dialog.rows.scrollTo(dialog.rows.rows.index(at))
    where = dialog.rows.visualRect(dialog.rows.rows.index(at)).center()
    QTest.mouseClick(dialog.rows.viewport(), Qt.MouseButton.LeftButton, pos=where)
    hand.press(dialog.buttons.button(OK))
    settled(hand, page)


def pattern_of(page: WhichPage, name: str) -> Pattern:
    return next(r.pattern for r in page.sitting.library if r.pattern.name == name)


def faces_of(page: WhichPage, name: str) -> list[int]:
    """Which of the faces on offer each plug of a pattern has."""
    out = []
    for plug in pattern_of(page, name).connectors:
        for at, choice in enumerate(face_choices(page.sitting.library)):
            one = Faces()
            one.add(choice.plug)
            if one.find(plug) is not None:
                out.append(at)
    return out


def meter_shows(page: WhichPage, name: str, pair: Pair) -> str:
    """A sound part of that pattern, its plugs put on in the pattern's order, on leads of 0.2 ohm."""
    pattern = pattern_of(page, name)
    onto = {CORE: CORE}
    for mine, theirs in zip(page.sitting.part.plugs, pattern.connectors, strict=True):
        onto |= dict(zip(mine.nodes, theirs.nodes, strict=True))
    ohms = Expectations(pattern).of(Pair(*(onto[n] for n in pair))).ohms
    return "OL" if ohms is None else f"{ohms + 0.2:.1f}"


def read_offered(hand: Hand, page: WhichPage, name: str) -> None:
    pair = page.sitting.offered
    assert pair is not None
    assert page.sitting.pair == pair
    hand.qtbot.keyClicks(page.entry.field, meter_shows(page, name, pair))
    hand.qtbot.keyClick(page.entry.field, K.Key_Return)
    settled(hand, page)


def test_by_mouse_a_part_without_papers_is_read_known_and_booked_in(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    hand = open_window(store)
    hand.press(hand.counter.which)
    page = which(hand)
    for face in faces_of(page, TWO_COILS):
        plug_on(hand, page, face)
    assert page.rank.chosen is not None
    # one read on the wrong pair, struck out with its reason
    for node in ("A.4", "A.5"):
        hand.press(page.face.face.button(node))
    hand.qtbot.keyClicks(page.entry.field, "155.2")
    hand.qtbot.keyClick(page.entry.field, K.Key_Return)
    settled(hand, page)
    page.log.rows.select_key(page.sitting.part.seen[0].id)
    hand.press(page.log.strike)
    dialog = page.dialog
    assert isinstance(dialog, StrikeDialog)
    hand.press(dialog.usual[2])
    if dialog.isVisible():
        hand.press(dialog.buttons.button(OK))
    settled(hand, page)
    assert page.sitting.part.counted == ()
    assert page.sitting.offered is not None
    for node in page.sitting.offered:
        hand.press(page.face.face.button(node))
    read_offered(hand, page, TWO_COILS)

    # the window is closed in the middle: the part is there again
    hand.close()
    hand = open_window(store)
    hand.press(hand.counter.which)
    page = which(hand)
    settled(hand, page)
    assert [len(p.cavities) for p in page.sitting.part.plugs] == [5, 2]
    assert [r.struck != "" for r in readings(page.sitting)] == [False, True]
    assert {r.keeping for r in readings(page.sitting)} == {Keeping.SAFE}
    while not page.sitting.settled:
        read_offered(hand, page, TWO_COILS)
    assert page.rank.chosen is not None
    assert page.rank.chosen.title == TWO_COILS
    assert page.rank.foot.text() == f"Settled: {TWO_COILS}."
    taken = [s.typed for s in page.sitting.part.counted]

    hand.press(page.book)
    counter = hand.counter
    hand.until(lambda: hand.window.stack.currentWidget() is counter)
    assert counter.pattern.currentText() == TWO_COILS
    assert f"{len(taken)} reading" in counter.carried.text() or counter.carried.text().startswith("One")
    hand.qtbot.keyClicks(counter.label, "a sled from the pier")
    hand.press(counter.book)
    hand.until(lambda: hand.window.bench_page is not None)
    assert [line.kept.typed for line in hand.bench.lines] == taken
    assert {line.keeping for line in hand.bench.lines} == {Keeping.SAFE}
    assert hand.bench.pattern.name == TWO_COILS
    assert "on this sheet" in hand.said()
    hand.close()

    # it is a unit now, and no part without papers any more
    hand = open_window(store)
    hand.until(lambda: bool(hand.counter.counter.units))
    hand.counter.counter.find(hand.counter.counter.units[0].unit.tag)
    hand.until(lambda: hand.window.bench_page is not None)
    assert [line.kept.typed for line in hand.bench.lines] == taken
    hand.window.to_counter()
    hand.press(hand.counter.which)
    assert not which(hand).sitting.begun


def test_by_keys_alone_a_part_without_papers_comes_to_the_bench(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    keys = Keys(hand)
    keys.ctrl(K.Key_W)
    page = which(hand)
    hand.until(lambda: keys.here == "Put its first plug on")
    for n, face in enumerate(faces_of(page, TWO_COILS)):
        keys.press(K.Key_Space) if n == 0 else keys.ctrl(K.Key_L)
        hand.until(lambda: page.dialog is not None and page.dialog.isActiveWindow())
        for _ in range(face):
            keys.press(K.Key_Down)
        keys.press(K.Key_Return)
        hand.until(lambda: page.dialog is None)
        hand.front()
        settled(hand, page)
    hand.until(lambda: keys.here == "What the meter shows, or two pins")
    keys.on_the_pad("99 1")  # no such pin
    assert "99" in page.entry.said.sentence
    for _ in range(12):
        keys.press(K.Key_A, M.ControlModifier)
        if page.sitting.settled:
            break
        assert page.sitting.offered is not None
        keys.write(meter_shows(page, TWO_COILS, page.sitting.offered))
        keys.press(K.Key_Return)
        settled(hand, page)
    assert page.sitting.settled
    keys.ctrl(K.Key_B)
    hand.until(lambda: hand.window.stack.currentWidget() is hand.counter)
    hand.until(lambda: keys.here == "Off what, whose")
    keys.write("a sled by mail")
    keys.ctrl(K.Key_B)
    hand.until(lambda: hand.window.bench_page is not None)
    assert len(hand.bench.lines) == len(page.sitting.part.counted) > 0
    assert hand.bench.pattern.name == TWO_COILS


def test_one_that_is_none_of_them_is_drawn_and_then_found(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    hand.press(hand.counter.which)
    page = which(hand)
    hand.press(page.first)
    hand.press(faces(page).other)
    hand.until(lambda: isinstance(page.dialog, AddPlugDialog) and page.dialog.isVisible())
    dialog = page.dialog
    assert isinstance(dialog, AddPlugDialog)
    dialog.side.setCurrentIndex(1)
    dialog.shape.setCurrentIndex([s for s, _ in SHAPES].index(Shape.RING))
    dialog.counts.setText("7")
    hand.press(dialog.buttons.button(OK))
    settled(hand, page)
    hand.qtbot.keyClicks(page.entry.field, "1 2 88")
    hand.qtbot.keyClick(page.entry.field, K.Key_Return)
    settled(hand, page)
    assert page.rank.chosen is not None
    assert page.rank.chosen.title == NONE_OF_THEM
    assert not page.book.isEnabled()

    hand.press(page.draw)
    patterns = hand.window.patterns
    assert patterns is not None
    drawing = patterns.page
    assert drawing is not None
    assert [len(p.cavities) for p in drawing.desk.draft.plugs] == [7]
    drawing.name.setText("a ring of seven")
    drawing.name.editingFinished.emit()
    hand.press(drawing.switches[1])
    for node in ("A.1", "A.2"):
        hand.press(drawing.face.face.button(node))
    hand.press(drawing.windings.winding)
    drawing.windings.ohms.setText("88")
    hand.press(drawing.windings.apply)
    hand.until(lambda: drawing.save.isEnabled())
    hand.press(drawing.save)
    hand.until(lambda: drawing.desk.base is not None or drawing.desk.said is not None)
    assert drawing.desk.base is not None, drawing.desk.said

    hand.window.to_counter()
    hand.press(hand.counter.which)
    again = which(hand)
    assert again is page  # its reading with it
    hand.until(lambda: again.rank.chosen is not None and again.rank.chosen.title == "a ring of seven")
    assert [s.typed for s in again.sitting.part.counted] == ["88"]


def test_several_parts_are_begun_and_one_is_put_away(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    hand.press(hand.counter.which)
    first = which(hand)
    plug_on(hand, first, faces_of(first, TWO_COILS)[0])
    hand.press(first.begin)
    hand.until(lambda: which(hand) is not first)
    second = which(hand)
    assert second.sitting.part.plugs == ()
    assert second.bar.begun.isVisible()
    plug_on(hand, second, faces_of(second, "three-phase wye")[0])
    second.bar.chosen.emit(second.bar._drafts[0])
    hand.until(lambda: which(hand) is not second)
    third = which(hand)
    assert len(third.sitting.part.plugs[0].cavities) == 5
    assert third.bar.begun.count() == 2

    hand.press(third.away)
    assert third.sitting.said is not None
    keep, *_ = (b for b in third.entry.said.buttons if b.text() == "Keep it")
    hand.press(keep)
    assert third.sitting.said is None
    hand.press(third.away)
    throw, *_ = (b for b in third.entry.said.buttons if b.text() == "Throw it away")
    hand.press(throw)
    hand.until(lambda: which(hand) is not third)
    assert which(hand).bar.begun.count() == 1


def test_what_can_not_be_kept_holds_the_window(
    open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    hand.press(hand.counter.which)
    page = which(hand)
    full = OSError("The disk is full.")
    monkeypatch.setattr(hand.window.shop, "keep_draft", lambda draft, then, failed: failed(full))
    page.sitting.put_on(pattern_of(page, TWO_COILS).connectors[0])
    assert "not kept yet" in page.entry.said.sentence
    asked: list[str] = []

    def question(parent: object, title: str, text: str, *more: object) -> QMessageBox.StandardButton:
        asked.append(text)
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr(QMessageBox, "question", question)
    hand.close()
    assert hand.window.isVisible()
    assert "would be lost" in asked[0]


def test_what_was_not_kept_is_tried_again_before_another_part_is_begun(
    open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = tmp_path / "shop.sqlite"
    hand = open_window(store)
    hand.press(hand.counter.which)
    page = which(hand)
    with monkeypatch.context() as full:
        full.setattr(hand.window.shop, "keep_draft", lambda draft, then, failed: failed(OSError("The disk is full.")))
        page.sitting.put_on(pattern_of(page, TWO_COILS).connectors[0])
        assert page.sitting.keeping.lost
    hand.press(page.begin)
    hand.until(lambda: not page.sitting.keeping.lost)
    assert which(hand) is page
    assert "tried again" in page.entry.said.sentence
    hand.close()
    again = open_window(store)
    again.press(again.counter.which)
    hand.until(lambda: again.window.which is not None and again.window.which.page is not None)
    assert [p.name for p in which(again).sitting.part.plugs] == ["A"]
