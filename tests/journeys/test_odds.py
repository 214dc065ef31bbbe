"""The bench learns what the shop finds: decided by keys, counted, weighed by for the next part, switched off."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.decided import decide_parts
from tests.journeys.conftest import Hand, Open
from tests.journeys.test_by_keys import Keys, book
from tests.sitting.fakes import WYE, starter
from workbench.findings.faults import STATED, Fault
from workbench.findings.odds import family_of
from workbench.records import Outcome
from workbench.shop import Shop
from workbench.window import settings
from workbench.window.bench.dialogs import DecideDialog
from workbench.window.oddsdialog import OddsDialog

K, ALT = Qt.Key, Qt.KeyboardModifier.AltModifier
PARTS, FOUND = 25, Fault.WINDING_TO_CORE


@pytest.fixture
def learnt(stocked: Path, tmp_path: Path) -> Path:
    store = tmp_path / "shop.sqlite"
    shutil.copyfile(stocked, store)
    decide_parts(store, PARTS, WYE, FOUND)
    return store


def counted(store: Path) -> tuple[int, int]:
    """How many decided jobs of the wyes' family have something found, and how many of them this."""
    shop = Shop(store)
    shop.look().result()
    of_family = shop.found_so_far().result().of(family_of(starter(WYE)))
    shop.close()
    assert of_family[FOUND] >= PARTS
    return sum(of_family.values()), of_family[FOUND]


def learnt_odds(number: int, found: int) -> float:
    """The mean of a Dirichlet, by hand: 50 parts as stated, and those that were found."""
    return (50 * STATED[FOUND] + found) / (50 + number)


def prior(hand: Hand) -> float:
    """What the bench says of it while nothing is read, over every place it may have."""
    found = hand.bench.explained
    assert found is not None
    return sum(f.probability for f in found.findings if f.fault is FOUND)


def test_the_next_part_is_weighed_by_what_was_found_and_switched_off_as_stated(open_window: Open, learnt: Path) -> None:
    number, found = counted(learnt)
    hand = open_window(learnt)
    keys = Keys(hand)
    book(keys, starter(WYE))
    hand.until(lambda: hand.bench.explained is not None and prior(hand) == pytest.approx(learnt_odds(number, found)))

    keys.ctrl(K.Key_F)
    hand.until(lambda: hand.window.stack.currentWidget() is hand.counter)
    keys.ctrl(K.Key_O)
    dialog = odds_dialog(hand)
    whole = hand.window.odds.counts.number(None)
    assert whole >= number
    assert f"{whole} decided jobs of the shop" in dialog.sentence.text()
    keys.alt(K.Key_L)
    hand.until(lambda: not dialog.learns.isChecked())
    keys.tab_to("Keep")
    keys.press(K.Key_Space)
    hand.until(lambda: hand.window.dialog is None)
    hand.until(lambda: prior(hand) == pytest.approx(STATED[FOUND]))  # the part on the bench, at once
    assert not settings.load().learns
    hand.close()

    again = open_window(learnt, liking=settings.load(), start_tag="W-3")
    again.until(lambda: again.window.bench_page is not None and again.bench.explained is not None)
    assert again.window.odds.counts.number(None) == whole
    assert prior(again) == pytest.approx(STATED[FOUND])


def odds_dialog(hand: Hand) -> OddsDialog:
    hand.until(lambda: isinstance(hand.window.dialog, OddsDialog) and hand.window.dialog.isActiveWindow())
    assert isinstance(hand.window.dialog, OddsDialog)
    return hand.window.dialog


def test_a_part_that_comes_up_again_does_not_speak_for_itself(open_window: Open, learnt: Path) -> None:
    number, found = counted(learnt)
    hand = open_window(learnt, start_tag="W-3")
    hand.until(lambda: hand.window.bench_page is not None)
    others = learnt_odds(number - 1, found - 1)
    hand.until(lambda: hand.bench.explained is not None and prior(hand) == pytest.approx(others))


def test_decided_by_keys_with_what_was_found_it_is_kept_and_counted(demo: Hand) -> None:
    demo.type("OL")
    demo.safe()
    demo.until(lambda: demo.bench.explained)
    before = demo.window.odds.counts.of(None)[Fault.SWAPPED_PINS]
    keys = Keys(demo)
    keys.ctrl(K.Key_G)
    demo.until(lambda: isinstance(demo.page.dialog, DecideDialog) and demo.page.dialog.isActiveWindow())
    dialog = demo.page.dialog
    assert isinstance(dialog, DecideDialog)
    keys.alt(K.Key_S)
    demo.until(dialog.choices[Outcome.SCRAP].isChecked)
    assert demo.bench.explained is not None
    leading = next(f for f in demo.bench.explained.findings if f.fault is not Fault.SOUND)
    assert (dialog.found.fault, dialog.found.where) == (leading.fault, leading.where)
    keys.alt(K.Key_F)
    assert keys.here == "Found to be"
    keys.write("two")
    assert dialog.found.title == "Two pins swapped"
    keys.tab_to("Keep the decision")
    keys.press(K.Key_Space)
    demo.until(lambda: demo.window.odds.counts.of(None)[Fault.SWAPPED_PINS] == before + 1)
    file = demo.window.shop.find_unit(demo.bench.unit.tag).result()
    assert file is not None
    assert file.decided == demo.bench.decided
    assert file.decided.found == "swapped-pins"


def test_another_look_at_the_bench_leaves_the_switch_alone(open_window: Open, learnt: Path) -> None:
    """The liking dialog keeps what it doesn't show."""
    asked: list[settings.Liking] = []

    def relook(liking: settings.Liking) -> object:
        asked.append(liking)
        return hand.window.look

    hand = open_window(learnt, relook=relook)
    hand.window.odds.learn(False)
    hand.window.like()
    assert hand.window.dialog is not None
    QTest.keyClick(hand.window.dialog, K.Key_Return)
    hand.until(lambda: asked)
    assert not asked[0].learns
    assert QApplication.activeModalWidget() is None
