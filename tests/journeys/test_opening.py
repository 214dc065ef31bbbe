"""A store that can't be opened: a page that says why, with nothing touched, and a second try once it is mended."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QPushButton

from tests.db.snapshot import snapshot
from tests.journeys.conftest import Hand, Open
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.window.app import look_liked
from workbench.window.likingdialog import LikingDialog
from workbench.window.settings import Liking


def said(hand: Hand) -> str:
    hand.until(lambda: hand.window.stack.currentWidget().findChildren(QPushButton))
    return " ".join(x.text() for x in hand.window.stack.currentWidget().findChildren(QLabel))


def press(hand: Hand, words: str) -> None:
    page = hand.window.stack.currentWidget()
    (button,) = (b for b in page.findChildren(QPushButton) if b.text() == words)
    hand.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def buttons(hand: Hand) -> list[str]:
    return [b.text() for b in hand.window.stack.currentWidget().findChildren(QPushButton)]


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


def test_another_place_opens_where_the_first_can_not(
    open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, other = tmp_path / "shop.sqlite", tmp_path / "stick" / "other.sqlite"
    store.write_bytes(b"")
    hand = open_window(store, ready=False)
    assert "plugface --store" in said(hand)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: ("", ""))
    press(hand, "Another place")  # thought better of it
    assert "Another place" in buttons(hand)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(other), ""))
    press(hand, "Another place")
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)
    assert hand.window.stack.currentWidget() is hand.counter
    assert other.exists()
    assert store.read_bytes() == b""
    hand.close()
    again = open_window(other)  # a whole store, to go on with
    assert again.window.counter is not None


def test_another_place_that_is_no_better_is_what_is_tried_again(
    open_window: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, other = tmp_path / "shop.sqlite", tmp_path / "other.sqlite"
    store.write_bytes(b"")
    other.write_bytes(b"a shopping list" * 300)
    hand = open_window(store, ready=False)
    first = said(hand)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(other), ""))
    press(hand, "Another place")
    hand.until(lambda: hand.window.stack.currentWidget() is not hand.window.wait)
    assert said(hand) != first
    assert str(other) in said(hand)
    other.unlink()
    press(hand, "Try again")
    hand.until(lambda: hand.window.counter is not None and hand.window.counter.counter.patterns)
    assert other.exists()


def test_the_shops_name_is_set_at_this_bench_and_stands_above_the_counter(
    open_window: Open, qapp: QApplication, tmp_path: Path
) -> None:
    kept: list[Liking] = []

    def relook(liking: Liking) -> object:
        kept.append(liking)
        return look_liked(qapp, liking)

    hand = open_window(tmp_path / "shop.sqlite", relook=relook)
    assert (hand.counter.name.text(), hand.window.windowTitle()) == ("Plugface", "Plugface")
    hand.press(hand.counter.liking)
    dialog = hand.window.dialog
    assert isinstance(dialog, LikingDialog)
    hand.qtbot.keyClicks(dialog.shop, "Otter Quay Cycles")
    dialog.accept()
    assert kept[0].shop == "Otter Quay Cycles"
    assert (hand.counter.name.text(), hand.window.windowTitle()) == ("Otter Quay Cycles",) * 2
    named = open_window(tmp_path / "demo.sqlite", relook=relook, shop_name="The demo", liking=kept[0])
    assert named.counter.name.text() == "The demo"  # what has its own name keeps it
