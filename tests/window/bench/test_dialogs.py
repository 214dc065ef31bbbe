"""The bench's small questions, each answered as a hand or a keyboard would."""

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeVar
from uuid import uuid4

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QDialogButtonBox, QMainWindow
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import AT, FOUR_WIRES, HANDHELD, bench_file
from workbench.records import Decided, NamedMeter, Outcome, SheetHead, TemperatureSource
from workbench.sitting.found import NOT_SAID, FoundChoice, FoundChoices
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import REASONS, BackDialog, DecideDialog, StrikeDialog
from workbench.window.look import Look
from workbench.window.theme import LIGHT, Sizes

OK, CANCEL = QDialogButtonBox.StandardButton.Ok, QDialogButtonBox.StandardButton.Cancel
LOOK = Look(LIGHT, Sizes())
D = TypeVar("D", bound=QDialog)


@pytest.fixture
def window(dressed: QApplication, qtbot: QtBot) -> Iterator[QMainWindow]:
    made = QMainWindow()
    qtbot.addWidget(made)
    made.resize(1366, 728)
    yield made
    for dialog in made.findChildren(QDialog):
        dialog.close()


def shown(dialog: D) -> D:
    dialog.show()
    return dialog


def decided(outcome: Outcome, note: str = "") -> Decided:
    return Decided(uuid4(), uuid4(), uuid4(), outcome, note, "good", AT)


# ---- striking out


def test_a_reason_is_needed(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(StrikeDialog(window, LOOK, "155.2 for 1 – 3"))
    ok = dialog.buttons.button(OK)
    for text, allowed in (("", False), ("  ", False), ("dirty pin", True), ("", False)):
        dialog.reason.setText(text)
        assert ok.isEnabled() is allowed
        assert ok.toolTip() == ("" if allowed else "Say why first, or press one of the reasons")
    qtbot.keyClick(dialog.reason, Qt.Key.Key_Return)
    assert dialog.result() != QDialog.DialogCode.Accepted
    qtbot.keyClicks(dialog.reason, "dirty pin")
    qtbot.keyClick(dialog.reason, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted


@pytest.mark.parametrize("n", range(len(REASONS)))
def test_a_usual_reason_is_one_press(window: QMainWindow, qtbot: QtBot, n: int) -> None:
    dialog = shown(StrikeDialog(window, LOOK, "155.2 for 1 – 3"))
    qtbot.mouseClick(dialog.usual[n], Qt.MouseButton.LeftButton)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.reason.text() == REASONS[n]


# ---- deciding


def test_nothing_is_decided_by_default(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "GOOD", None))
    assert dialog.outcome is None
    assert not dialog.buttons.button(OK).isEnabled()
    for outcome in Outcome:
        qtbot.mouseClick(dialog.choices[outcome], Qt.MouseButton.LeftButton)
        assert dialog.outcome is outcome
        assert [o for o, b in dialog.choices.items() if b.isChecked()] == [outcome]
    assert dialog.buttons.button(OK).isEnabled()


@pytest.mark.parametrize("verdict", ["GOOD", "FAIL", "NOT PROVED", "UNFINISHED"])
def test_passing_what_is_not_good_is_warned_of_and_still_possible(
    window: QMainWindow, qtbot: QtBot, verdict: str
) -> None:
    dialog = shown(DecideDialog(window, LOOK, verdict, None))
    qtbot.mouseClick(dialog.choices[Outcome.PASS], Qt.MouseButton.LeftButton)
    assert (verdict in dialog.warning.text()) is (verdict != "GOOD")
    assert dialog.buttons.button(OK).isEnabled()
    qtbot.mouseClick(dialog.choices[Outcome.SCRAP], Qt.MouseButton.LeftButton)
    assert dialog.warning.text() == ""


def test_what_was_decided_before_stands_there_to_be_changed(window: QMainWindow) -> None:
    dialog = shown(DecideDialog(window, LOOK, "FAIL", decided(Outcome.REWIND, "phase 2")))
    assert (dialog.outcome, dialog.note.toPlainText()) == (Outcome.REWIND, "phase 2")
    assert dialog.buttons.button(OK).isEnabled()


FOUND = FoundChoices((FoundChoice("Shorted turns in the fine", "shorted-turns", "fine"), FoundChoice("Sound", "sound")))


def test_what_is_proposed_as_found_goes_with_the_outcome(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "FAIL", None, FOUND))
    assert dialog.found == NOT_SAID
    for outcome, fault in ((Outcome.PASS, "sound"), (Outcome.REWIND, "shorted-turns"), (Outcome.PASS, "sound")):
        qtbot.mouseClick(dialog.choices[outcome], Qt.MouseButton.LeftButton)
        assert dialog.found.fault == fault


def test_what_a_hand_chose_as_found_stays_whatever_the_outcome(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "FAIL", None, FOUND))
    qtbot.mouseClick(dialog.choices[Outcome.REPAIR], Qt.MouseButton.LeftButton)
    dialog.found_box.setFocus()
    qtbot.keyClicks(dialog.found_box, "Poor")
    chosen = dialog.found
    assert (chosen.fault, chosen.where) == ("resistive-lead", "")
    for outcome in Outcome:
        qtbot.mouseClick(dialog.choices[outcome], Qt.MouseButton.LeftButton)
        assert dialog.found == chosen


def test_where_nothing_is_weighed_it_is_not_said_until_it_is_chosen(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "UNFINISHED", None))
    for outcome in Outcome:
        qtbot.mouseClick(dialog.choices[outcome], Qt.MouseButton.LeftButton)
        assert dialog.found == NOT_SAID
    dialog.found_box.setFocus()
    qtbot.keyClick(dialog.found_box, Qt.Key.Key_Home)
    assert dialog.found.fault == "sound"


def test_tab_leaves_the_note(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "FAIL", decided(Outcome.REWIND)))
    dialog.note.setFocus()
    qtbot.keyClicks(dialog.note, "a")
    qtbot.keyClick(dialog.note, Qt.Key.Key_Tab)
    assert dialog.note.toPlainText() == "a"
    assert dialog.focusWidget() is dialog.buttons.button(OK)


def test_back_again_asks_for_the_complaint(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(BackDialog(window, LOOK, "SL-0139"))
    assert dialog.focusWidget() is dialog.complaint
    qtbot.keyClicks(dialog.complaint, "no lights")
    qtbot.keyClick(dialog.complaint, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.complaint.text() == "no lights"


# ---- part and meter


@pytest.fixture
def head() -> SheetHead:
    return bench_file().sheet


@pytest.fixture
def part(window: QMainWindow, head: SheetHead) -> ConditionsDialog:
    return shown(ConditionsDialog(window, LOOK, head, (HANDHELD, FOUR_WIRES)))


def test_left_as_it_was_nothing_changes(part: ConditionsDialog, head: SheetHead) -> None:
    part.accept()
    assert part.result() == QDialog.DialogCode.Accepted
    assert part.head == head


def test_every_field_arrives(part: ConditionsDialog, head: SheetHead) -> None:
    part.source.setCurrentIndex(list(TemperatureSource).index(TemperatureSource.INFRARED))
    part.celsius.setText("24.5")
    part.uncertainty.setText("2.5")
    part.meter.setCurrentText(FOUR_WIRES.name)
    part.leads.setText("0.31")
    part.iron.setText("0.4")
    part.accept()
    new = part.head
    assert (new.conditions.celsius, new.conditions.celsius_uncertainty) == (24.5, 2.5)
    assert new.source is TemperatureSource.INFRARED
    assert (new.meter_id, new.meter) == (FOUR_WIRES.id, FOUR_WIRES.meter)
    assert (new.conditions.lead_ohms, new.iron_ohms, new.meter_zeroed) == (0.31, 0.4, False)
    assert new.id == head.id


def test_a_zeroed_meter_has_no_leads_to_take_off(part: ConditionsDialog, qtbot: QtBot) -> None:
    part.zeroed.setFocus()
    qtbot.keyClick(part.zeroed, Qt.Key.Key_Space)
    assert not part.leads.isEnabled()
    part.accept()
    assert part.head.meter_zeroed
    assert part.head.conditions.lead_ohms == 0


def test_fahrenheit_is_the_same_warmth(part: ConditionsDialog, head: SheetHead) -> None:
    part.celsius.setText("21.5")
    part.unit.setCurrentIndex(1)
    assert (part.celsius.text(), part.uncertainty.text()) == ("70.7", "1.8")
    part.accept()
    assert part.head.conditions.celsius == pytest.approx(21.5)
    assert part.head.conditions.celsius_uncertainty == pytest.approx(1.0)


def test_how_it_is_known_brings_its_usual_u(part: ConditionsDialog) -> None:
    before = part.uncertainty.text()
    part.source.setCurrentIndex(list(TemperatureSource).index(TemperatureSource.ROOM))
    assert part.uncertainty.text() == "3" != before


@pytest.mark.parametrize(
    ("field", "text", "word"),
    [
        ("celsius", "warm", "number"),
        ("celsius", "400", "can't be"),
        ("uncertainty", "-1", "from 0 up"),
        ("leads", "12", "under 5 ohm"),
        ("leads", "OL", "no contact"),
        ("iron", "9", "no contact yet"),
    ],
)
def test_what_cannot_be_used_is_marked_said_and_changes_nothing(
    part: ConditionsDialog, head: SheetHead, field: str, text: str, word: str
) -> None:
    getattr(part, field).setText(text)
    part.accept()
    assert part.isVisible()
    assert word in part.trouble.text()
    fields = ("celsius", "uncertainty", "leads", "iron")
    refused = [n for n in fields if getattr(part, n).property("state") == "refused"]
    assert refused == [field]
    assert getattr(part, field).text() == text
    assert part.focusWidget() is getattr(part, field)
    assert part.head == head
    getattr(part, field).setText("1")
    part.accept()
    assert not part.isVisible()


@pytest.mark.parametrize(
    "listed",
    [
        (FOUR_WIRES,),  # gone from the list
        (FOUR_WIRES, replace(HANDHELD, name="Old handheld", version=2)),  # renamed since
        (replace(HANDHELD, meter=FOUR_WIRES.meter, version=2), FOUR_WIRES),  # its ranges entered anew
    ],
)
def test_a_sheet_keeps_its_meter_whatever_became_of_it(
    window: QMainWindow, head: SheetHead, listed: tuple[NamedMeter, ...]
) -> None:
    dialog = shown(ConditionsDialog(window, LOOK, head, listed))
    dialog.celsius.setText("19")
    dialog.accept()
    assert (dialog.head.meter_id, dialog.head.meter_name, dialog.head.meter) == (
        head.meter_id, head.meter_name, head.meter,
    )  # fmt: skip
    assert dialog.head.conditions == replace(head.conditions, celsius=19.0)
    names = [dialog.meter.itemText(i) for i in range(dialog.meter.count())]
    assert len(set(names)) == len(names)
    others = [m for m in listed if (m.id, m.meter) != (head.meter_id, head.meter)]
    assert len(names) == len(others) + 1  # what the shop has now can still be chosen


def test_cancelled_nothing_changes(part: ConditionsDialog, head: SheetHead, qtbot: QtBot) -> None:
    part.iron.setText("0.1")
    qtbot.mouseClick(part.buttons.button(CANCEL), Qt.MouseButton.LeftButton)
    assert part.result() == QDialog.DialogCode.Rejected
    assert part.head == head


# ---- known good


def test_only_a_part_that_passes_can_have_run_well(window: QMainWindow, qtbot: QtBot) -> None:
    dialog = shown(DecideDialog(window, LOOK, "GOOD", None))
    assert not dialog.ran_well.isEnabled()
    qtbot.mouseClick(dialog.choices[Outcome.PASS], Qt.MouseButton.LeftButton)
    qtbot.keyClick(dialog.ran_well, Qt.Key.Key_Space)
    assert dialog.ran_well.isChecked()
    qtbot.mouseClick(dialog.choices[Outcome.REWIND], Qt.MouseButton.LeftButton)
    assert not dialog.ran_well.isChecked()
    again = shown(DecideDialog(window, LOOK, "GOOD", replace(decided(Outcome.PASS), ran_well=True)))
    assert again.ran_well.isChecked()
