"""Every pattern that ships, from a fresh window to a verdict and a card: by keys alone, the number pad's mostly."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.soundpart import (
    IRON,
    OVERLOAD,
    STARTERS,
    on_screen,
    planned,
    shown,
    verdict_of_a_sound_part,
)
from workbench.stator.pattern import Pair, Pattern
from workbench.window.bench.dialogs import StrikeDialog

K, M = Qt.Key, Qt.KeyboardModifier
ENTRY = "What the meter shows, or two pins"


class Keys:
    """Ten fingers and no mouse: keys go to the window in front, which hands them to whatever has the focus."""

    def __init__(self, hand: Hand) -> None:
        self.hand = hand
        hand.front()

    def press(self, key: Qt.Key | str, modifier: Qt.KeyboardModifier = M.NoModifier) -> None:
        window = QApplication.focusWindow()
        assert window is not None
        QTest.keyClick(window, key, modifier)

    def ctrl(self, key: Qt.Key) -> None:
        self.press(key, M.ControlModifier)

    def alt(self, key: Qt.Key) -> None:
        self.press(key, M.AltModifier)

    def write(self, text: str, modifier: Qt.KeyboardModifier = M.NoModifier) -> None:
        for letter in text:
            self.press(letter, modifier)

    def on_the_pad(self, text: str) -> None:
        self.write(text, M.KeypadModifier)
        self.press(K.Key_Enter, M.KeypadModifier)

    @property
    def at(self) -> QWidget:
        found = QApplication.focusWidget()
        assert found is not None
        return found

    @property
    def here(self) -> str:
        return self.at.accessibleName()

    def tab_to(self, name: str) -> None:
        for _ in range(80):
            if self.here == name:
                return
            self.press(K.Key_Tab)
        raise AssertionError(f"Tab never comes to {name}")


def book(keys: Keys, pattern: Pattern) -> str:
    hand = keys.hand
    hand.until(lambda: hand.counter.tag.text())
    tag = hand.counter.tag.text()
    keys.alt(K.Key_O)
    assert keys.here == "Off what, whose"
    keys.write("a sound one")
    keys.tab_to("Pattern")
    for _ in range(hand.counter.pattern.count()):
        if hand.counter.pattern.currentText() == pattern.name:
            break
        keys.press(K.Key_Down)
    keys.ctrl(K.Key_B)
    hand.until(lambda: hand.window.bench_page is not None)
    hand.front()
    hand.until(lambda: keys.here == ENTRY)
    assert hand.bench.pattern == pattern
    return tag


def prove_iron(keys: Keys) -> None:
    """Leads, then iron: typed where readings are."""
    keys.ctrl(K.Key_R)
    keys.hand.until(lambda: keys.hand.bench.step is not None)  # a button goes down for a moment before it acts
    keys.on_the_pad("0.2")
    keys.on_the_pad(IRON)
    assert keys.hand.bench.step is None
    assert keys.hand.bench.head.iron_ohms == float(IRON)


def read(keys: Keys, pair: Pair) -> None:
    """The pair in hand must be this one already."""
    bench = keys.hand.bench
    assert bench.pair == pair
    before, number = len(bench.lines), shown(bench, pair)
    if number == OVERLOAD:
        keys.press(K.Key_Asterisk, M.KeypadModifier)
    else:
        keys.on_the_pad(number)
    assert len(bench.lines) == before + 1, keys.hand.said()
    assert bench.lines.every[-1].kept.reading.pair == pair


def next_check(keys: Keys) -> None:
    keys.press(K.Key_Slash, M.KeypadModifier)


def strike_newest(keys: Keys) -> None:
    hand = keys.hand
    keys.ctrl(K.Key_4)
    hand.until(hand.page.readings.isVisible)
    keys.tab_to("Readings taken")
    keys.press(K.Key_Home)
    keys.press(K.Key_Space)
    keys.ctrl(K.Key_D)
    hand.until(lambda: isinstance(hand.page.dialog, StrikeDialog) and hand.page.dialog.isActiveWindow())
    keys.write("wrong lead")
    keys.press(K.Key_Return)
    hand.until(lambda: hand.page.dialog is None)
    hand.front()
    hand.until(lambda: keys.here == ENTRY)


def test_the_newest_reading_is_chosen_once_tab_comes_to_the_list(demo: Hand) -> None:
    demo.type("155.2")
    demo.safe()
    keys = Keys(demo)
    keys.ctrl(K.Key_4)
    demo.until(demo.page.readings.isVisible)
    keys.tab_to("Readings taken")
    keys.press(K.Key_Home)
    assert demo.page.strike.isEnabled()


@pytest.mark.parametrize("pattern", STARTERS)
def test_by_keys_from_a_fresh_window_to_a_verdict_a_card_and_back(
    open_window: Open, stocked: Path, tmp_path: Path, pattern: Pattern
) -> None:
    store = tmp_path / "shop.sqlite"
    shutil.copyfile(stocked, store)
    hand = open_window(store)
    keys = Keys(hand)
    tag = book(keys, pattern)
    prove_iron(keys)

    # the first check is passed over each time, so that it comes last: `/` goes on and comes round
    first, *others = planned(pattern)
    for pair in others:
        next_check(keys)
        read(keys, pair)
    read(keys, first)
    hand.safe()
    word = verdict_of_a_sound_part(pattern)
    assert hand.page.top.verdict.word == word
    next_check(keys)
    assert hand.said() == "Every planned check is read."

    strike_newest(keys)
    assert hand.page.top.verdict.word == "UNFINISHED"
    next_check(keys)
    read(keys, first)
    keys.ctrl(K.Key_Z)
    hand.until(lambda: hand.page.top.verdict.word == "UNFINISHED")
    read(keys, first)  # undone, its pair is in hand again
    hand.safe()
    assert hand.page.top.verdict.word == word
    struck = [r.detail for r in hand.page.readings.rows.rows if r.struck]
    assert struck == ["struck out: undone", "struck out: wrong lead"]

    keys.ctrl(K.Key_P)
    hand.until(lambda: hand.window.card_dialog is not None and hand.window.card_dialog.isActiveWindow())
    keys.press(K.Key_Escape)
    hand.until(lambda: hand.window.card_dialog is None)
    before = on_screen(hand)
    hand.close()

    back = open_window(store)
    keys = Keys(back)
    back.until(back.counter.search.hasFocus)
    keys.write(tag.lower())
    keys.press(K.Key_Return)
    back.until(lambda: back.window.bench_page is not None)
    assert on_screen(back) == before
