"""Every key does what its button says, wherever the focus is; Tab reaches the rest."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QShortcut
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialogButtonBox, QLabel, QPushButton, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import screens
from tests.journeys.test_by_keys import Keys
from workbench.records import Outcome, RepairKind
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import BackDialog, DecideDialog, StrikeDialog
from workbench.window.bench.jobdialog import JobDialog
from workbench.window.bench.repairdialog import RepairDialog

K = Qt.Key


def reading(hand: Hand, typed: str = "155.2") -> None:
    hand.type(typed)
    hand.safe()


@pytest.mark.parametrize(
    ("key", "kind"),
    [(K.Key_E, ConditionsDialog), (K.Key_G, DecideDialog), (K.Key_D, StrikeDialog), (K.Key_J, JobDialog)],
)
def test_the_keys_of_the_dialogs(demo: Hand, key: K, kind: type) -> None:
    reading(demo)
    demo.page.readings.select_key(demo.bench.lines.every[0].kept.id)
    demo.front()
    demo.page.readings.setFocus()
    demo.shortcut(key)  # a button goes down for a moment before it acts
    demo.until(lambda: isinstance(demo.page.dialog, kind))
    assert demo.page.dialog is not None
    demo.qtbot.keyClick(demo.page.dialog, K.Key_Escape)
    assert demo.page.dialog is None
    demo.front()
    assert demo.page.entry.field.hasFocus()


def test_to_the_entry_field_from_anywhere(demo: Hand) -> None:
    demo.page.readings.setFocus()
    demo.shortcut(K.Key_L)
    assert demo.page.entry.field.hasFocus()


def test_turn_and_flip(demo: Hand) -> None:
    face = demo.page.face
    before = face.face.words.text()
    demo.shortcut(K.Key_T)
    demo.until(lambda: face.face.words.text() != before)
    turned = face.face.words.text()
    demo.shortcut(K.Key_W)
    demo.until(lambda: face.flip.text() == "Mating side")
    assert len({before, turned, face.face.words.text()}) == 3
    demo.shortcut(K.Key_W)
    demo.until(lambda: face.flip.text() == "Wire side")
    assert face.face.words.text() == turned


def test_undo_card_and_counter(demo: Hand) -> None:
    reading(demo)
    demo.shortcut(K.Key_Z)
    demo.until(lambda: demo.bench.lines.counted == ())
    demo.safe()
    demo.shortcut(K.Key_P)
    demo.until(lambda: demo.window.card_dialog)
    card = demo.window.card_dialog
    assert card is not None
    demo.qtbot.keyClick(card, K.Key_Escape)
    demo.until(lambda: demo.window.card_dialog is None)
    demo.shortcut(K.Key_F)
    demo.until(lambda: demo.window.stack.currentWidget() is demo.counter)
    demo.until(demo.counter.search.hasFocus)
    demo.counter.label.setText("grey outboard")
    demo.counter.pattern.setCurrentIndex(0)
    demo.shortcut(K.Key_B)
    demo.until(lambda: demo.bench.unit.label == "grey outboard")


def test_undo_in_a_field_with_text_is_the_fields_own(demo: Hand) -> None:
    reading(demo)
    demo.qtbot.keyClicks(demo.page.entry.field, "17.")
    demo.shortcut(K.Key_Z)
    demo.until(lambda: demo.page.entry.field.text() != "17.")
    assert len(demo.bench.lines.counted) == 1


def test_a_new_sheet_within_the_job_and_a_new_job_once_it_was_decided(demo: Hand) -> None:
    reading(demo)
    job, sheet = demo.bench.job, demo.bench.head.id
    demo.shortcut(K.Key_N)
    demo.until(lambda: demo.bench.head.id != sheet)
    assert demo.bench.job == job
    assert len(demo.bench.lines) == 0
    demo.shortcut(K.Key_G)
    demo.until(lambda: isinstance(demo.page.dialog, DecideDialog))
    assert isinstance(demo.page.dialog, DecideDialog)
    demo.page.dialog.activateWindow()
    demo.until(demo.page.dialog.isActiveWindow)
    demo.qtbot.keyClick(demo.page.dialog, K.Key_R, Qt.KeyboardModifier.AltModifier)
    demo.until(demo.page.dialog.choices[Outcome.REPAIR].isChecked)
    ok = demo.page.dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)
    demo.page.dialog.note.setFocus()
    demo.qtbot.keyClick(demo.page.dialog.note, K.Key_Tab)
    assert demo.page.dialog.focusWidget() is ok
    demo.qtbot.keyClick(ok, K.Key_Space)
    demo.until(lambda: demo.page.decided.text() == "Decided: Repair.")
    demo.shortcut(K.Key_N)
    demo.until(lambda: demo.page.dialog)
    assert isinstance(demo.page.dialog, BackDialog)
    demo.qtbot.keyClicks(demo.page.dialog.complaint, "again")
    demo.qtbot.keyClick(demo.page.dialog.complaint, K.Key_Return)
    demo.until(lambda: demo.bench.job != job)
    assert demo.bench.job.complaint == "again"


def keys_of(screen: QWidget) -> list[str]:
    """Every shortcut and mnemonic that is live on a page."""
    out = [s.key().toString() for s in screen.findChildren(QShortcut)]
    buttons = [b for b in screen.findChildren(QAbstractButton) if b.isVisible() and not b.shortcut().isEmpty()]
    out.extend(b.shortcut().toString() for b in buttons)
    for text in (w.text() for w in screen.findChildren(QLabel) if w.buddy() is not None and w.isVisible()):
        _, mark, rest = text.partition("&")
        if mark:
            out.append(f"Alt+{rest[0].upper()}")
    return out


def test_no_key_is_given_twice(demo: Hand) -> None:
    for where, screen in screens(demo):
        keys = keys_of(screen)
        assert sorted(keys) == sorted(set(keys)), where
        if screen is demo.page and not demo.bench.past:
            assert len(keys) >= 13, where  # the bench's own


def test_the_trouble_page_waits_with_try_again_under_the_thumb(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    store.write_bytes(b"")
    hand = open_window(store, ready=False)
    hand.front()

    def focused() -> str:
        at = QApplication.focusWidget()
        return at.text() if isinstance(at, QPushButton) else ""

    hand.until(lambda: focused() == "Try again")
    first = hand.window.stack.currentWidget()
    hand.qtbot.keyClick(QApplication.focusWidget(), K.Key_Space)
    hand.until(lambda: hand.window.stack.currentWidget() not in (first, hand.window.wait))
    hand.until(lambda: focused() == "Try again")
    store.unlink()
    hand.qtbot.keyClick(QApplication.focusWidget(), K.Key_Space)
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)


def test_what_was_done_is_written_by_keys_kept_and_stands_on_the_card(demo: Hand) -> None:
    keys = Keys(demo)
    keys.ctrl(K.Key_J)
    demo.until(lambda: isinstance(demo.page.dialog, JobDialog) and demo.page.dialog.isActiveWindow())
    keys.alt(K.Key_D)
    assert keys.here == "Done"
    keys.write("terminal replaced")
    keys.tab_to("Keep")
    keys.press(K.Key_Space)
    demo.until(lambda: demo.page.dialog is None and demo.bench.job.version > 1)
    assert demo.bench.job.done.endswith("terminal replaced")
    file = demo.window.shop.find_unit(demo.bench.unit.tag).result()
    assert file is not None
    assert file.job == demo.bench.job


def test_a_repair_is_written_down_by_keys_and_the_part_is_to_be_read_anew(demo: Hand) -> None:
    keys = Keys(demo)
    keys.ctrl(K.Key_J)
    demo.until(lambda: isinstance(demo.page.dialog, JobDialog) and demo.page.dialog.isActiveWindow())
    keys.ctrl(K.Key_M)
    demo.until(lambda: isinstance(demo.page.dialog, RepairDialog) and demo.page.dialog.isActiveWindow())
    keys.alt(K.Key_E)
    assert keys.here == "Where"
    keys.write("P 3")
    keys.tab_to("Write it down")
    keys.press(K.Key_Space)
    demo.until(lambda: demo.page.dialog is None and demo.bench.repairs)
    kept = demo.window.shop.repairs_of(demo.bench.job.id).result()
    assert [(r.kind, r.where) for r in kept] == [(RepairKind.TERMINAL, "P 3")]
    demo.front()
    keys.ctrl(K.Key_J)
    demo.until(lambda: isinstance(demo.page.dialog, JobDialog))
    assert isinstance(demo.page.dialog, JobDialog)
    assert demo.page.dialog.mended.text().startswith("Terminal P 3, ")
    demo.page.dialog.reject()
