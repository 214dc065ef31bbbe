"""Both hands hold probes: a pedal, tones, and one selection that face and pairs share."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from demo_shop.story import BENCH_TAG
from tests.journeys.conftest import Hand, Open
from workbench.stator.pattern import Pair
from workbench.window.settings import Liking

K = Qt.Key


@pytest.fixture
def liked(open_window: Open, _demo_store: Path, tmp_path: Path) -> Hand:
    own = tmp_path / "liked.sqlite"
    shutil.copyfile(_demo_store, own)
    hand = open_window(own, start_tag=BENCH_TAG, liking=Liking(tones=True, pedal="F9"))
    hand.until(lambda: hand.window.bench_page is not None)
    return hand


def test_a_pedal_keeps_what_stands_in_the_field_wherever_the_focus_is(liked: Hand) -> None:
    first = liked.bench.offered
    liked.qtbot.keyClicks(liked.page.entry.field, "155.2")
    liked.front()
    liked.page.readings.setFocus()
    liked.qtbot.keyClick(liked.page.readings, K.Key_F9)
    liked.until(lambda: len(liked.bench.lines) == 1)
    assert liked.bench.last == first
    assert liked.page.entry.field.hasFocus()


def test_each_verdict_and_each_refusal_has_its_tone(liked: Hand) -> None:
    liked.type("155.2")
    assert liked.window.tones.played == "in"
    liked.type("nonsense")
    assert liked.window.tones.played == "refused"
    liked.page.entry.field.clear()
    liked.type("12.6")  # of a winding that should read 17
    assert liked.window.tones.played == "out"
    liked.press(liked.page.log.undo)
    liked.safe()
    assert liked.window.tones.played == "out"  # nothing was read, so nothing sounds


def test_switched_off_nothing_sounds(demo: Hand) -> None:
    demo.type("155.2")
    assert demo.window.tones.played == ""


def test_a_cell_of_the_pairs_picks_its_pins_on_the_face_and_the_face_its_cell(demo: Hand) -> None:
    table = demo.page.pairs.tables[0]
    pair = Pair("P.4", "P.5")
    place = table.visualRect(table.place_of(pair))
    demo.qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place.center())
    assert set(demo.bench.picked) == set(pair)
    assert {n for n in ("P.1", "P.4", "P.5") if demo.page.face.face.button(n).isChecked()} == set(pair)
    demo.click("P.1", "P.2")
    assert table.selectedIndexes() == [table.place_of(Pair("P.1", "P.2"))]


def test_what_the_readings_say_stands_beside_them_once_they_are_weighed(demo: Hand) -> None:
    demo.until(lambda: demo.bench.explained is not None)
    for _ in range(2):
        demo.type("115.8")  # where 155 belongs
    demo.until(lambda: demo.page.says.list.rows.rows)
    titles = [r.title for r in demo.page.says.list.rows.rows]
    assert titles[0] == "Shorted turns in the low-speed coil"
    ahead = demo.bench.explained
    assert ahead is not None
    assert demo.bench.pair == ahead.next[0].pair
    assert "would tell most" in demo.page.says.foot.text()
