"""The triangles by real clicks and keys, and as a screen reader finds them."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import TWO_COILS, bench_of
from workbench.sitting.pairs import Pairs
from workbench.stator.pattern import CORE, Pair
from workbench.window.look import Look
from workbench.window.pairs.board import PairsBoard
from workbench.window.theme import Sizes


@pytest.fixture
def board(qtbot: QtBot, dressed: QApplication) -> PairsBoard:
    made = PairsBoard(Look())
    qtbot.addWidget(made)
    made.resize(276, 460)
    made.show()
    return made


def test_a_click_and_the_keys_choose_a_pair(board: PairsBoard, qtbot: QtBot) -> None:
    bench, _ = bench_of(TWO_COILS)
    board.show_pairs(Pairs(bench).view())
    table = board.tables[0]
    chosen: list[Pair] = []
    board.pairChosen.connect(chosen.append)
    place = table.visualRect(table.place_of(Pair("P.3", "P.2"))).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert [set(p) for p in chosen] == [{"P.2", "P.3"}]
    qtbot.keyClick(table, Qt.Key.Key_Left)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert set(chosen[-1]) == {"P.1", "P.3"}
    qtbot.keyClick(table, Qt.Key.Key_Up)
    qtbot.keyClick(table, Qt.Key.Key_Space)
    assert set(chosen[-1]) == {"P.1", "P.2"}
    for _ in range(4):
        qtbot.keyClick(table, Qt.Key.Key_Down)
    qtbot.keyClick(table, Qt.Key.Key_Enter)
    assert set(chosen[-1]) == {"P.1", CORE}


def test_an_empty_place_chooses_nothing(board: PairsBoard, qtbot: QtBot) -> None:
    bench, _ = bench_of(TWO_COILS)
    board.show_pairs(Pairs(bench).view())
    table = board.tables[0]
    chosen: list[Pair] = []
    board.pairChosen.connect(chosen.append)
    qtbot.mouseClick(
        table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualRect(table.cells.index(0, 3)).center()
    )
    assert chosen == []


def test_the_pair_in_hand_is_selected_without_the_focus(board: PairsBoard, qtbot: QtBot) -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    board.show_pairs(pairs.view())
    for pair in (Pair("P.5", "P.4"), Pair("L.1", "L.2"), Pair("P.1", "L.1")):
        bench.pick(pair)
        board.show_pairs(pairs.view())
        selected = [t.cells.cell(i) for t in board.tables for i in t.selectedIndexes()]
        found = {c.pair.unordered for c in selected if c is not None}
        assert found == ({pair.unordered} if pair != Pair("P.1", "L.1") else set())
        assert not any(t.hasFocus() for t in board.tables)
    assert board.across.key() == Pair("P.1", "L.1")


def test_each_cell_is_spoken_and_only_changed_ones_are_told(board: PairsBoard, qtbot: QtBot) -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    board.show_pairs(pairs.view())
    table = board.tables[0]
    told: list[tuple[int, int]] = []
    table.cells.dataChanged.connect(lambda a, *_: told.append((a.row(), a.column())))
    bench.enter("155.3")
    board.show_pairs(pairs.view())
    spoken = table.cells.data(table.place_of(Pair("P.1", "P.3")), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken.startswith("P 1 – 3: ")
    assert " in" in spoken
    assert (1, 0) in told
    assert len(told) <= 3  # the one read, and the one offered next


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_triangle_fits_its_panel(qtbot: QtBot, dressed: QApplication, scale: float) -> None:
    board = PairsBoard(Look(sizes=Sizes(scale)))
    qtbot.addWidget(board)
    bench, _ = bench_of(TWO_COILS)
    board.show_pairs(Pairs(bench).view())
    board.resize(round(276 * scale), 400)
    board.show()
    room = board.scroller.viewport().width()
    assert all(t.width() <= room for t in board.tables)
    assert board.limits.text()
