"""The ends of what is joined, and the names of inner points, are changed by keys and by mouse, and undone."""

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from tests.window.patterns.test_page import STARTER, K, M, Shown


@pytest.fixture
def shown(dressed: QApplication, qtbot: QtBot) -> Shown:
    made = Shown(qtbot, base=STARTER)
    made.press(made.page.switches[1])
    return made


def ends(shown: Shown, at: int = 0) -> tuple[str, str]:
    w = shown.desk.draft.windings[at]
    return w.start, w.finish


def take(box: QComboBox, text: str) -> None:
    """By keys."""
    box.setFocus()
    QTest.keyClick(box, K.Key_Home)
    for _ in range(box.findText(text)):
        QTest.keyClick(box, K.Key_Down)
    assert box.currentText() == text


def test_an_end_goes_to_another_node_the_proof_follows_and_it_is_undone(shown: Shown) -> None:
    page, before = shown.page, ends(shown)
    shown.click_row(0)
    assert page.windings.ends.ends == before
    take(page.windings.ends.finish, "ground")
    shown.press(page.windings.apply)
    assert ends(shown) == (before[0], "core")
    assert page.desk.proof is not None
    assert page.desk.proof.pattern is not None
    assert page.desk.proof.pattern.windings[0].finish == "core"
    shown.press(page.undo)
    assert ends(shown) == before
    assert page.windings.ends.ends == before
    shown.press(page.redo)
    assert page.windings.ends.ends == (before[0], "core")


def test_by_keys_an_end_goes_to_another_pin(shown: Shown, qtbot: QtBot) -> None:
    page, before = shown.page, ends(shown, 1)
    page.windings.rows.setFocus()
    QTest.keyClick(page.windings.rows, K.Key_Down)  # from the first to the second
    assert page.windings.ends.ends == before
    finish = page.windings.ends.finish
    finish.setFocus()
    at = finish.currentIndex() + 2  # past its own other end
    QTest.keyClick(finish, K.Key_Down)
    QTest.keyClick(finish, K.Key_Down)
    assert finish.currentIndex() == at
    QTest.keyClick(finish, K.Key_Return, M.ControlModifier)
    qtbot.waitUntil(lambda: ends(shown, 1) == (before[0], finish.itemData(at)))
    assert ends(shown, 1) != before


def test_an_end_that_was_chosen_and_not_put_yet_is_put_by_whatever_comes_next(shown: Shown) -> None:
    link = shown.desk.draft.links[0]
    before = ends(shown)
    shown.click_row(0)
    take(shown.page.windings.ends.start, "ground")
    shown.click_row(len(shown.desk.draft.windings))  # the link
    assert ends(shown) == ("core", before[1])
    pane = shown.page.windings
    assert pane.ends.ends == (link.start, link.finish)
    spare = next(n for n in shown.desk.draft.pins if n not in (link.start, link.finish))
    pane.ends.start.setCurrentIndex(pane.ends.start.findData(spare))
    shown.press(shown.page.switches[3])
    assert shown.desk.draft.links[0].start == spare


def test_an_end_that_was_chosen_stays_so_while_a_further_point_comes(shown: Shown) -> None:
    pane = shown.page.windings
    shown.click_row(0)
    take(pane.ends.finish, "ground")
    chosen = pane.ends.ends
    shown.press(pane.point)
    assert pane.ends.ends == chosen
    assert pane.ends.finish.findText("point 1") >= 0


def test_both_ends_on_one_place_are_refused_beside_it(shown: Shown) -> None:
    page, before = shown.page, ends(shown)
    shown.click_row(0)
    box = page.windings.ends
    box.start.setCurrentIndex(box.start.findData(before[1]))
    shown.press(page.windings.apply)
    assert ends(shown) == before
    assert page.windings.trouble.text() == "Both ends lie on one place: choose two."
    assert box.finish.property("state") == "refused"
    box.start.setCurrentIndex(box.start.findData(before[0]))
    shown.press(page.windings.apply)
    assert box.finish.property("state") == ""


def test_an_inner_point_is_named_in_hand_and_an_end_is_taken_to_it(shown: Shown) -> None:
    page, hand = shown.page, shown.page.windings.in_hand
    assert not hand.name.isEnabled()
    shown.press(page.windings.point)
    assert hand.name.isEnabled()
    hand.name.setFocus()
    hand.name.selectAll()
    QTest.keyClicks(hand.name, "star")
    QTest.keyClick(hand.name, K.Key_Return)
    assert page.hand.nodes == ("star",)
    shown.click_row(0)
    shown.page.windings.ohms.setText("156")  # typed, not put yet
    for at in (0, 1):
        shown.click_row(at)
        take(page.windings.ends.finish, "star")
        shown.press(page.windings.apply)
    assert shown.desk.draft.inner_points == ("star",)
    assert shown.desk.draft.windings[0].ohms == 156
    # joined now: its name is another for both, and comes back; what was typed of the winding isn't lost by it
    page.windings.wire.setText("0.9 mm")
    hand.name.setFocus()
    hand.name.selectAll()
    QTest.keyClicks(hand.name, "  middle ")
    shown.press(page.windings.rows.viewport())  # whatever comes next
    assert [ends(shown, at)[1] for at in (0, 1)] == ["middle", "middle"]
    assert shown.desk.draft.windings[1].wire == "0.9 mm"
    assert (hand.name.text(), page.hand.nodes) == ("middle", ("middle",))
    assert page.face.point("middle").isChecked()
    shown.press(page.undo)
    assert shown.desk.draft.inner_points == ("star",)


def test_a_name_that_no_point_can_have_stays_as_typed_and_says_why(shown: Shown) -> None:
    page, hand = shown.page, shown.page.windings.in_hand
    shown.press(page.windings.point)
    hand.name.setFocus()
    hand.name.selectAll()
    QTest.keyClicks(hand.name, "P.1")
    QTest.keyClick(hand.name, K.Key_Return)
    assert "a dot belongs to a pin" in page.said.sentence
    assert hand.name.text() == "P.1"
    assert page.hand.nodes == ("point 1",)
    shown.press(page.save)
    assert shown.records.of("save") == []
