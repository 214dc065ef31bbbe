"""A disk that fails, a store that can't be opened, a window closed too soon."""

import os
import sqlite3
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QPushButton

from tests.journeys.conftest import Hand, Open
from workbench.sitting.lines import Keeping


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "demo.sqlite"


def test_a_reading_that_cannot_be_kept_says_so_and_can_be_tried_again(
    demo: Hand, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from db.queries import sheets
    from db.trouble import StoreTrouble

    real = sheets.keep_reading

    def full(*_: object) -> None:
        raise StoreTrouble("The disk is full. Make room, then try again.")

    monkeypatch.setattr(sheets, "keep_reading", full)
    demo.type("155.2")
    demo.until(lambda: demo.bench.lines.lost == 1)
    assert "155.2" in demo.said()
    assert "The disk is full" in demo.said()
    assert "NOT KEPT" in demo.page.readings.rows.rows[0].detail
    monkeypatch.setattr(sheets, "keep_reading", real)
    (again,) = demo.page.entry.said.buttons
    demo.press(again)
    demo.safe()
    assert [x.keeping for x in demo.bench.lines] == [Keeping.SAFE]
    assert demo.page.entry.said.sentence == ""


def test_closing_with_a_reading_not_kept_asks_first(demo: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    from db.queries import sheets
    from db.trouble import StoreTrouble

    def full(*_: object) -> None:
        raise StoreTrouble("The disk is full.")

    monkeypatch.setattr(sheets, "keep_reading", full)
    demo.type("155.2")
    demo.until(lambda: demo.bench.lines.lost == 1)
    asked: list[str] = []

    def stay(_: object, __: str, text: str, *more: object) -> QMessageBox.StandardButton:
        asked.append(text)
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr(QMessageBox, "question", stay)
    assert not demo.window.close()
    assert demo.window.isVisible()
    assert "could not be kept" in asked[0]
    # nothing else may take the bench meanwhile
    demo.window.to_counter()
    demo.counter.counter.find("SL-0139")
    demo.until(lambda: demo.counter.counter.said)
    assert "not kept" in demo.counter.not_found.sentence
    demo.counter.counter.find("SL-0147")
    demo.until(lambda: demo.window.stack.currentWidget() is demo.window.bench_page)
    assert demo.bench.lines.lost == 1
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton.Close)


def test_closing_waits_for_what_is_on_its_way(
    demo: Hand, store: Path, open_window: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    from db.queries import sheets

    gate = threading.Event()
    real = sheets.keep_reading

    def slow(*a: object) -> object:
        assert gate.wait(10)
        return real(*a)  # type: ignore[arg-type]

    monkeypatch.setattr(sheets, "keep_reading", slow)
    demo.type("155.2")
    # the disk hangs: the window goes on taking keys and drawing
    demo.qtbot.keyClicks(demo.page.entry.field, "17.")
    assert demo.page.entry.field.text() == "17."
    assert not demo.window.grab().isNull()
    assert demo.bench.lines.saving
    threading.Timer(0.2, gate.set).start()
    assert demo.window.close()
    assert demo.window.shop._at._closing is not None
    back = open_window(store, start_tag="SL-0147")
    back.until(lambda: back.window.bench_page is not None)
    assert [x.kept.typed for x in back.bench.lines] == ["155.2"]


def buttons(hand: Hand) -> dict[str, QPushButton]:
    page = hand.window.stack.currentWidget()
    return {b.text(): b for b in page.findChildren(QPushButton)}


def trouble_page(hand: Hand) -> str:
    hand.until(lambda: "Try again" in buttons(hand))
    page = hand.window.stack.currentWidget()
    from PySide6.QtWidgets import QLabel

    return " ".join(x.text() for x in page.findChildren(QLabel))


def test_a_store_that_is_none_is_said_and_left_alone(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    store.write_bytes(b"this is a shopping list\n" * 300)
    before = store.read_bytes()
    hand = open_window(store, ready=False)
    text = trouble_page(hand)
    assert str(store) in text
    assert store.read_bytes() == before
    assert sorted(os.listdir(tmp_path)) == ["shop.sqlite"]
    store.unlink()
    hand.press(buttons(hand)["Try again"])
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)


def test_a_locked_store_is_said_and_opens_once_it_is_free(open_window: Open, demo: Hand, store: Path) -> None:
    demo.close()
    other = sqlite3.connect(store)
    other.execute("PRAGMA locking_mode = EXCLUSIVE")
    other.execute("BEGIN EXCLUSIVE")
    hand = open_window(store, ready=False)
    assert "another program" in trouble_page(hand).lower() or "locked" in trouble_page(hand).lower()
    other.rollback()
    other.close()
    hand.qtbot.keyClick(buttons(hand)["Try again"], Qt.Key.Key_Space)
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)
