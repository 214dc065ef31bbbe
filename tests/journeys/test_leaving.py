"""Whatever is on its way when the window closes, or another part takes the bench, comes through or is told of."""

import sqlite3
import threading
from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QMessageBox

from db import connect
from db.queries import sheets
from tests.journeys.conftest import Hand, Open
from workbench.records import Outcome
from workbench.sitting.say import Tone


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Finds a locked store locked at once."""
    monkeypatch.setattr(connect, "BUSY_SECONDS", 0.0)
    monkeypatch.setitem(connect.PRAGMAS, "busy_timeout", 0)


@pytest.fixture
def locked(impatient: None, demo: Hand, tmp_path: Path) -> Iterator[sqlite3.Connection]:
    """Another program holds the store, until it is rolled back."""
    other = sqlite3.connect(tmp_path / "demo.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    yield other
    other.close()


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """The disk hangs from the next reading on until this is set."""
    opened, real = threading.Event(), sheets.keep_reading

    def slow(*a: object) -> object:
        assert opened.wait(10)
        return real(*a)  # type: ignore[arg-type]

    monkeypatch.setattr(sheets, "keep_reading", slow)
    yield opened
    opened.set()


def answers(monkeypatch: pytest.MonkeyPatch, *given: QMessageBox.StandardButton) -> list[str]:
    heard: list[str] = []
    left = list(given)

    def question(*a: object) -> QMessageBox.StandardButton:
        heard.append(str(a[2]))
        return left.pop(0)

    monkeypatch.setattr(QMessageBox, "question", question)
    return heard


Button = QMessageBox.StandardButton


def test_a_real_lock_loses_no_reading(locked: sqlite3.Connection, demo: Hand) -> None:
    demo.type("155.2")
    demo.until(lambda: demo.bench.lines.lost == 1)
    assert "155.2" in demo.said()
    assert "locked by another program" in demo.said()
    assert demo.page.top.verdict.word == "UNFINISHED"
    assert demo.page.checks_panel.aside.text() == "0 of 9 read"  # shown, but it counts for nothing
    demo.type("17.2")
    demo.until(lambda: demo.bench.lines.lost == 2)
    locked.rollback()
    demo.press(demo.page.entry.said.buttons[0])  # beside what was said of the second
    demo.until(lambda: demo.bench.lines.lost == 1)
    page = demo.page
    page.readings.select_key(demo.bench.lines.every[0].kept.id)  # and the first by its row
    assert (page.strike.text(), page.strike.isEnabled()) == ("Try again", True)
    demo.press(page.strike)
    demo.until(lambda: demo.bench.lines.lost == 0)
    assert page.strike.text() == "Strike out"
    demo.safe()
    kept = locked.execute("SELECT typed FROM readings ORDER BY taken_at DESC LIMIT 2")
    assert [t for (t,) in kept] == ["17.2", "155.2"]


def test_a_reading_that_fails_while_the_window_closes_is_asked_about(
    locked: sqlite3.Connection, demo: Hand, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard = answers(monkeypatch, Button.Cancel)
    demo.type("155.2")
    assert demo.bench.lines.saving
    assert not demo.window.close()
    assert "1 reading(s) could not be kept" in heard[0]
    assert demo.window.isVisible()
    locked.rollback()
    demo.press(demo.page.entry.said.buttons[0])
    demo.safe()
    assert demo.window.close()


def test_a_decision_that_fails_while_the_window_closes_keeps_it_open_once(
    locked: sqlite3.Connection, demo: Hand
) -> None:
    demo.bench.decide(Outcome.SCRAP, "")
    assert not demo.window.close()
    assert demo.said().startswith("The decision is not kept.")
    assert demo.bench.decided is None
    assert demo.window.close()


def test_an_older_refusal_does_not_hold_the_window(demo: Hand) -> None:
    demo.type("nonsense")
    assert demo.window.close()


def test_a_card_asked_for_as_the_window_closes_comes_to_nothing(demo: Hand) -> None:
    demo.press(demo.page.card)
    assert demo.window.close()
    for _ in range(5):
        QCoreApplication.processEvents()
    assert demo.window.card_dialog is None


def test_closed_before_the_store_is_open(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite", ready=False)
    hand.window.open_store()
    assert hand.window.close()
    for _ in range(5):
        QCoreApplication.processEvents()
    assert hand.window.counter is None


def test_a_double_press_makes_one_card(demo: Hand) -> None:
    demo.press(demo.page.card)
    demo.press(demo.page.card)
    demo.until(lambda: demo.window.card_dialog)
    first = demo.window.card_dialog
    heard: list[object] = []
    demo.window.shop.meters(heard.append)
    demo.window._back.do(lambda: None, heard.append, heard.append)
    demo.until(lambda: len(heard) == 2)
    assert demo.window.card_dialog is first
    assert first is not None
    first.reject()
    demo.until(lambda: demo.window.card_dialog is None)
    demo.press(demo.page.card)  # and another when it is asked for anew
    demo.until(lambda: demo.window.card_dialog)


def test_news_of_a_part_that_left_the_bench_draws_on_nothing(
    demo: Hand, gate: threading.Event, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its last change of conditions is sent on only when the one before it came through."""
    old, gone, calls, real = demo.bench, threading.Event(), count(1), sheets.change_conditions

    def second_waits(*a: Any) -> object:
        assert next(calls) == 1 or gone.wait(10)
        return real(*a)

    monkeypatch.setattr(sheets, "change_conditions", second_waits)
    demo.page.destroyed.connect(gone.set)
    demo.type("155.2")
    old.change_conditions(replace(old.head, iron_ohms=0.1))
    old.change_conditions(replace(old.head, iron_ohms=0.2))
    demo.counter.counter.find("SL-0139")
    gate.set()
    demo.until(lambda: demo.bench is not old)
    demo.until(lambda: old.head.version == 3)
    assert old.head.iron_ohms == 0.2
    assert demo.page.top.tag.text() == "SL-0139"


def test_no_new_sheet_over_readings_that_are_not_kept(
    locked: sqlite3.Connection, demo: Hand, monkeypatch: pytest.MonkeyPatch
) -> None:
    warned: list[str] = []
    monkeypatch.setattr(QMessageBox, "warning", lambda *a: warned.append(a[2]))
    demo.type("155.2")
    demo.until(lambda: demo.bench.lines.lost == 1)
    (before,) = locked.execute("SELECT count(*) FROM sheets").fetchone()
    locked.rollback()
    demo.press(demo.page.again)
    assert "not kept" in warned[0]
    demo.press(demo.page.entry.said.buttons[0])
    demo.safe()
    assert locked.execute("SELECT count(*) FROM sheets").fetchone() == (before,)


def test_the_window_draws_and_takes_keys_while_the_disk_hangs(demo: Hand, gate: threading.Event) -> None:
    for typed in ("155.2", "17.2"):
        demo.type(typed)
    assert [x.kept.typed for x in demo.bench.lines] == ["155.2", "17.2"]
    assert all(r.hollow for r in demo.page.readings.rows.rows)
    demo.press(demo.page.face.flip)
    assert "wire side" in demo.page.face.face.words.text()
    before = demo.window.grab().toImage()
    demo.qtbot.keyClicks(demo.page.entry.field, "172")
    assert demo.window.grab().toImage() != before
    assert demo.bench.lines.saving
    gate.set()
    demo.safe()
    assert not any(r.hollow for r in demo.page.readings.rows.rows)
    assert demo.page.entry.field.text() == "172"  # what was being typed is left alone


def test_a_strike_that_fails_puts_the_reading_back(impatient: None, demo: Hand, tmp_path: Path) -> None:
    demo.type("155.2")
    demo.safe()
    other = sqlite3.connect(tmp_path / "demo.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    demo.press(demo.page.log.undo)
    assert demo.bench.lines.counted == ()
    demo.until(lambda: demo.bench.said is not None and demo.bench.said.tone is Tone.REFUSES)
    assert "not struck out" in demo.said()
    assert len(demo.bench.lines.counted) == 1
    other.close()
