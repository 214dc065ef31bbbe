"""A part that was booked in on the wrong pattern goes on by another one, and what was read stays where it was read."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox, QMessageBox

from db import connect
from tests.journeys.conftest import Hand
from tests.journeys.test_by_keys import Keys
from tests.sitting.fakes import TWO_COILS, WYE
from workbench.records import Outcome
from workbench.sitting.otherpattern import DECIDED, NOT_KEPT
from workbench.stator.pattern import Pair
from workbench.window.bench.jobdialog import JobDialog
from workbench.window.bench.patterndialog import PatternDialog

K = Qt.Key
OK = QDialogButtonBox.StandardButton.Ok
COIL = Pair("P.1", "P.3")


def job_of(hand: Hand) -> JobDialog:
    hand.press(hand.page.job)
    dialog = hand.page.dialog
    assert isinstance(dialog, JobDialog)
    return dialog


def patterns_of(hand: Hand) -> PatternDialog:
    hand.press(job_of(hand).other)
    return asked(hand)


def asked(hand: Hand) -> PatternDialog:
    hand.until(lambda: isinstance(hand.page.dialog, PatternDialog) and hand.page.dialog.isActiveWindow())
    dialog = hand.page.dialog
    assert isinstance(dialog, PatternDialog)
    return dialog


def row_of(dialog: PatternDialog, name: str) -> int:
    return [r.title for r in dialog.rows.rows.rows].index(name)


def choose(hand: Hand, dialog: PatternDialog, name: str) -> None:
    """A click on its row."""
    at = dialog.rows.rows.index(row_of(dialog, name))
    dialog.rows.scrollTo(at)
    hand.qtbot.mouseClick(
        dialog.rows.viewport(), Qt.MouseButton.LeftButton, pos=dialog.rows.visualRect(at).center()
    )  # fmt: skip


def moved(hand: Hand, name: str) -> None:
    hand.until(lambda: hand.bench.pattern.name == name and hand.page.history_known)


def test_a_part_is_moved_by_keys_and_its_readings_stay_on_their_sheet(demo: Hand) -> None:
    job, unit, old = demo.bench.job, demo.bench.unit, demo.bench.head
    demo.type("1 3 155.2")
    demo.safe()
    keys = Keys(demo)
    keys.ctrl(K.Key_J)
    demo.until(lambda: isinstance(demo.page.dialog, JobDialog) and demo.page.dialog.isActiveWindow())
    keys.write(", no papers")  # what is written in the form is kept with it
    keys.ctrl(K.Key_T)
    dialog = asked(demo)
    assert keys.at is dialog.rows
    for _ in range(row_of(dialog, WYE)):
        keys.press(K.Key_Down)
    assert dialog.revision is not None
    assert len(dialog.preview.faces) == len(dialog.revision.pattern.connectors)
    keys.tab_to("Begin a sheet on it")
    keys.press(K.Key_Space)
    moved(demo, WYE)
    bench = demo.bench
    assert bench.job == job
    assert bench.unit.label == f"{unit.label}, no papers"
    assert (bench.head.conditions, bench.head.meter, bench.head.id == old.id) == (old.conditions, old.meter, False)
    assert not bench.lines.every
    assert demo.said().startswith(f"Read as {WYE} from here on.")
    assert demo.page.history.empty.text().startswith(f"Read before as {TWO_COILS} only: other pins")
    told = demo.page.history.empty
    assert told.heightForWidth(told.width()) <= told.height()  # all of it is seen
    past = demo.window.shop.history(unit.id).result()
    assert [(p.revision.pattern.name, [k.typed for k in p.readings]) for p in past] == [
        (TWO_COILS, ["155.2"]), (WYE, []),
    ]  # fmt: skip


def test_back_on_its_own_pattern_its_own_readings_are_beside_it_again(demo: Hand) -> None:
    demo.type("1 3 155.2")
    demo.safe()
    for name in (WYE, TWO_COILS):
        dialog = patterns_of(demo)
        choose(demo, dialog, name)
        demo.press(dialog.buttons.button(OK))
        moved(demo, name)
        demo.type("1 3 155.2" if name == TWO_COILS else "1 2 0.7")
        demo.safe()
        demo.front()
    demo.bench.pick(COIL)
    assert demo.page.history.plot is not None
    assert [k.typed for p in demo.window.shop.history(demo.bench.unit.id).result() for k in p.readings] == [
        "155.2", "0.7", "155.2",
    ]  # fmt: skip


def test_a_newer_revision_of_its_own_pattern_is_said_offered_first_and_taken(demo: Hand) -> None:
    now = demo.bench.revision
    newer = demo.window.shop.save_pattern(replace(now.pattern, checks=(COIL,))).result()
    demo.counter.counter.refresh()
    demo.until(lambda: newer in demo.counter.counter.patterns)
    job = job_of(demo)
    assert job.read_on.text().endswith(f"Revision {newer.number} is out: take it for the next sheet.")
    demo.press(job.other)
    dialog = asked(demo)
    assert (dialog.rows.rows.rows[0].value, dialog.revision) == ("newer", newer)
    demo.qtbot.keyClick(dialog.rows, K.Key_Return)
    demo.until(lambda: demo.bench.revision.id == newer.id)
    assert demo.bench.unit.pattern_id == now.pattern_id
    assert f"revision {newer.number}" in demo.said()
    assert job_of(demo).read_on.text() == f"Read as {TWO_COILS}, revision {newer.number}."
    assert demo.page.dialog is not None
    demo.page.dialog.reject()


def test_a_part_that_was_decided_on_wants_its_new_job_first(demo: Hand) -> None:
    demo.type("1 3 155.2")
    demo.safe()
    demo.bench.decide(Outcome.REPAIR, "")
    demo.until(lambda: demo.bench.decided is not None)
    job = job_of(demo)
    assert not job.other.isEnabled()
    assert job.read_on.text().endswith(DECIDED)
    assert job.other.toolTip() == DECIDED
    job.reject()
    before = demo.bench.job
    demo.front()
    demo.press(demo.page.again)
    assert demo.page.dialog is not None
    demo.page.dialog.accept()
    demo.until(lambda: demo.bench.job != before)
    assert job_of(demo).other.isEnabled()
    assert demo.page.dialog is not None
    demo.page.dialog.reject()


@pytest.fixture
def locked(demo: Hand, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[sqlite3.Connection]:
    """Another program holds the store, which is found at once, until it is rolled back."""
    monkeypatch.setattr(connect, "BUSY_SECONDS", 0.0)
    monkeypatch.setitem(connect.PRAGMAS, "busy_timeout", 0)
    other = sqlite3.connect(tmp_path / "demo.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    yield other
    other.close()


def test_nothing_is_moved_over_a_reading_that_is_not_kept(
    locked: sqlite3.Connection, demo: Hand, monkeypatch: pytest.MonkeyPatch
) -> None:
    warned: list[str] = []
    monkeypatch.setattr(QMessageBox, "warning", lambda *a: warned.append(a[2]))
    dialog = patterns_of(demo)
    demo.bench.enter("1 3 155.2")  # on its way while the question stands
    choose(demo, dialog, WYE)
    demo.press(dialog.buttons.button(OK))
    demo.until(lambda: warned)
    locked.rollback()
    assert warned == [NOT_KEPT]
    assert demo.bench.pattern.name == TWO_COILS
    demo.front()
    assert not job_of(demo).other.isEnabled()
    assert demo.page.dialog is not None
    demo.page.dialog.reject()
    demo.front()
    demo.press(demo.page.entry.said.buttons[0])
    demo.safe()
    file = demo.window.shop.find_unit(demo.bench.unit.tag).result()
    assert file is not None
    assert (file.sheet.id, [k.typed for k in file.readings]) == (demo.bench.head.id, ["155.2"])
