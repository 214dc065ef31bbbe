"""A store that can't be opened: a page that says why, with nothing touched, and a second try once it is mended."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton

from tests.db.snapshot import snapshot
from tests.journeys.conftest import Hand, Open
from workbench.exchange.starters import starter_meters, starter_patterns


def said(hand: Hand) -> str:
    hand.until(lambda: hand.window.stack.currentWidget().findChildren(QPushButton))
    return " ".join(x.text() for x in hand.window.stack.currentWidget().findChildren(QLabel))


def press(hand: Hand, words: str) -> None:
    page = hand.window.stack.currentWidget()
    (button,) = (b for b in page.findChildren(QPushButton) if b.text() == words)
    hand.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def newer(store: Path) -> Callable[[], object]:
    whole = store.read_bytes()
    connection = sqlite3.connect(store)
    connection.execute("UPDATE alembic_version SET version_num = '0417'")
    connection.commit()
    connection.close()
    return lambda: store.write_bytes(whole)


def damaged(store: Path) -> Callable[[], object]:
    whole = store.read_bytes()
    store.write_bytes(whole[: len(whole) // 2])
    return lambda: store.write_bytes(whole)


def no_room_for_the_folder(store: Path) -> Callable[[], object]:
    whole, folder = store.read_bytes(), store.parent
    store.unlink()
    folder.rmdir()
    folder.parent.rmdir()
    folder.parent.write_bytes(b"")

    def mend() -> None:
        folder.parent.unlink()
        folder.mkdir(parents=True)
        store.write_bytes(whole)

    return mend


@pytest.mark.parametrize(
    ("spoil", "why"),
    [
        (newer, "made by a newer Plugface"),
        (damaged, "is damaged"),
        (no_room_for_the_folder, "is missing and can't be made"),
    ],
)
def test_said_untouched_and_tried_again(
    spoil: Callable[[Path], Callable[[], object]], why: str, open_window: Open, tmp_path: Path
) -> None:
    store = tmp_path / "records" / "deep" / "shop.sqlite"
    open_window(store).close()
    mend = spoil(store)
    before = snapshot(tmp_path)
    hand = open_window(store, ready=False)
    sentence = said(hand)
    assert why in sentence
    assert str(store.parent) in sentence
    assert "Nothing was changed." in sentence
    press(hand, "Try again")
    hand.until(lambda: hand.window.stack.currentWidget() is not hand.window.wait)
    assert said(hand) == sentence
    assert snapshot(tmp_path) == before
    mend()
    press(hand, "Try again")
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)
    assert hand.window.stack.currentWidget() is hand.counter


def test_close_closes(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    store.write_bytes(b"")
    hand = open_window(store, ready=False)
    said(hand)
    press(hand, "Close")
    assert not hand.window.isVisible()
    assert store.read_bytes() == b""


def test_a_first_run_makes_the_folder_and_stocks_the_shop(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "new" / "deep" / "shop.sqlite")
    counter = hand.counter
    hand.until(lambda: counter.counter.meters)
    shown = {counter.pattern.itemText(i) for i in range(counter.pattern.count())}
    assert shown == {p.name for p in starter_patterns()}
    assert {m.name for m in counter.counter.meters} == {name for name, _ in starter_meters()}
    assert counter.pattern.currentIndex() == -1  # the pattern is chosen, never assumed
    assert counter.units.rows.rows == ()


def test_what_the_shop_changed_is_not_stocked_over(open_window: Open, tmp_path: Path) -> None:
    first = open_window(tmp_path / "shop.sqlite")
    first.until(lambda: first.counter.counter.meters)
    meters = {m.name: m for m in first.counter.counter.meters}
    from dataclasses import replace

    mine = replace(meters["Counter handheld"], meter=meters["Bench, four wires"].meter)
    first.window.shop.save_meter(mine).result()
    first.close()
    again = open_window(tmp_path / "shop.sqlite")
    again.until(lambda: again.counter.counter.meters)
    assert {m.name: m.meter for m in again.counter.counter.meters}["Counter handheld"] == mine.meter
