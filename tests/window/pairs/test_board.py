"""The triangles by real clicks and keys, and as a screen reader finds them."""

from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QAccessible, QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import TWO_COILS, FakeKeeper, bench_of
from workbench.sitting.bench import Bench
from workbench.sitting.pairs import Pairs
from workbench.stator.pattern import CORE, Cavity, Connector, Pair, Pattern, Winding
from workbench.window.look import Look
from workbench.window.pairs.board import PairsBoard
from workbench.window.pairs.grid import TriangleTable
from workbench.window.pairs.marks import STROKES, draw_mark
from workbench.window.theme import LIGHT, Sizes

COIL, ACROSS = Pair("P.1", "P.3"), Pair("P.1", "L.1")
SIZE = (276, 460)


def many_pins(n: int, plugs: str = "A") -> Pattern:
    connectors = tuple(Connector(name, tuple(Cavity(str(i + 1)) for i in range(n))) for name in plugs)
    coils = tuple(Winding(f"coil {x}", f"{x}.1", f"{x}.2", ohms=10.0, tolerance_percent=10) for x in plugs)
    return Pattern("many pins", connectors, coils, checks=tuple(Pair(w.start, w.finish) for w in coils))


class Shown:
    """A board with a field beside it, as on the page, and the bench it shows."""

    def __init__(self, qtbot: QtBot, pattern: Pattern | str = TWO_COILS, *, scale: float = 1.0, at_once: bool = True):
        self.bench: Bench
        self.keeper: FakeKeeper
        self.bench, self.keeper = bench_of(pattern, at_once=at_once)
        self.pairs = Pairs(self.bench)
        self.page = QWidget()
        self.board = PairsBoard(Look(sizes=Sizes(scale)))
        self.field = QLineEdit()
        column = QVBoxLayout(self.page)
        column.addWidget(self.field)
        column.addWidget(self.board, 1)
        qtbot.addWidget(self.page)
        self.page.resize(round(SIZE[0] * scale) + 18, round(SIZE[1] * scale) + 60)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)
        self.field.setFocus()
        self.bench.on_change = self.refresh
        self.chosen: list[Pair] = []
        self.board.pairChosen.connect(self.chosen.append)
        self.refresh()

    def refresh(self) -> None:
        self.board.show_pairs(self.pairs.view())
        QApplication.processEvents()

    @property
    def table(self) -> TriangleTable:
        return self.board.tables[0]

    def cursor(self) -> set[str]:
        cell = self.table.cells.cell(self.table.currentIndex())
        return set(cell.pair) if cell else set()

    def selected(self) -> list[set[str]]:
        cells = [t.cells.cell(i) for t in self.board.tables for i in t.selectedIndexes()]
        return [set(c.pair) for c in cells if c is not None]

    def picture(self, pair: Pair) -> QImage:
        table = next(t for t in self.board.tables if t.place_of(pair).isValid())
        return table.viewport().grab(table.visualRect(table.place_of(pair))).toImage()


def in_sight(board: PairsBoard, table: TriangleTable, pair: Pair) -> bool:
    at = table.visualRect(table.place_of(pair))
    port = board.scroller.viewport()
    seen = QRect(table.viewport().mapTo(port, at.topLeft()), at.size())
    return port.rect().contains(seen) and table.viewport().rect().contains(at)


@pytest.fixture
def shown(qtbot: QtBot, dressed: QApplication) -> Shown:
    return Shown(qtbot)


def test_a_click_and_the_keys_choose_a_pair(shown: Shown, qtbot: QtBot) -> None:
    table, chosen = shown.table, shown.chosen
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


def test_the_keys_alone_move_the_cursor_and_choose_nothing(shown: Shown, qtbot: QtBot) -> None:
    shown.table.setFocus()
    assert shown.cursor() == set(COIL)
    qtbot.keyClick(shown.table, Qt.Key.Key_Right)
    assert shown.cursor() == {"P.2", "P.3"}
    qtbot.keyClick(shown.table, Qt.Key.Key_Right)  # nothing there: two pins make one cell
    assert set(shown.cursor()) <= {*shown.bench.pattern.pins, CORE}
    assert shown.cursor()
    assert shown.chosen == []


def test_the_cursor_is_drawn_and_not_mistaken_for_the_pair_in_hand(shown: Shown, qtbot: QtBot) -> None:
    other = Pair("P.2", "P.3")
    hand, bare = shown.picture(COIL), shown.picture(other)
    shown.table.setFocus()
    assert shown.picture(COIL) != hand
    qtbot.keyClick(shown.table, Qt.Key.Key_Right)
    assert shown.picture(COIL) == hand
    assert shown.picture(other) != bare


def test_a_reading_that_becomes_safe_leaves_the_cursor_where_it_is(qtbot: QtBot, dressed: QApplication) -> None:
    shown = Shown(qtbot, at_once=False)
    shown.bench.enter("155.2")
    shown.table.setFocus()
    qtbot.keyClick(shown.table, Qt.Key.Key_Down)
    walked = shown.cursor()
    shown.keeper.asked[0].ack()
    assert shown.cursor() == walked
    shown.bench.pick(Pair("P.4", "P.5"))  # but another pair in hand takes it along
    assert shown.cursor() == {"P.4", "P.5"}


def test_the_cursor_goes_back_to_the_pair_in_hand_with_the_focus(shown: Shown, qtbot: QtBot) -> None:
    shown.table.setFocus()
    qtbot.keyClick(shown.table, Qt.Key.Key_Down)
    assert shown.selected() != [set(COIL)]
    shown.field.setFocus()
    assert shown.selected() == [set(COIL)]


def test_an_empty_place_chooses_nothing(shown: Shown, qtbot: QtBot) -> None:
    empty = shown.table.visualRect(shown.table.cells.index(0, 3)).center()
    qtbot.mouseClick(shown.table.viewport(), Qt.MouseButton.LeftButton, pos=empty)
    assert shown.chosen == []


def test_the_pair_in_hand_is_selected_without_the_focus(shown: Shown) -> None:
    for pair in (Pair("P.5", "P.4"), ACROSS, Pair("L.1", "L.2"), ACROSS):
        shown.bench.pick(pair)
        assert shown.selected() == ([] if pair == ACROSS else [set(pair)])
        assert shown.board.others.key() == (ACROSS if pair == ACROSS else None)
        assert shown.field.hasFocus()


def test_a_pair_from_plug_to_plug_is_chosen_by_a_click(shown: Shown, qtbot: QtBot) -> None:
    rows = shown.board.others
    at = rows.visualRect(rows.rows.index(0)).center()
    shown.board.scroller.ensureWidgetVisible(rows)
    qtbot.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert shown.chosen == [ACROSS]


def test_a_reader_finds_a_table_with_named_rows_columns_and_cells(shown: Shown) -> None:
    shown.bench.enter("155.3")
    found = QAccessible.queryAccessibleInterface(shown.table)
    assert found.role() == QAccessible.Role.Table
    assert found.text(QAccessible.Text.Name) == "Pairs of plug P"
    across = len(shown.table.cells.triangle.columns) + 1  # a row of the table begins with its header

    def name(row: int, column: int) -> str:
        return found.child((row + 1) * across + column + 1).text(QAccessible.Text.Name)

    assert name(1, 0).startswith("P 1 – 3: 155.1 ± ")
    assert " Ω in, should be 139.5 … 170.5 Ω, planned" in name(1, 0)
    assert [name(1, -1), name(-1, 0), name(4, -1)] == ["pin 3", "pin 1", "ground"]
    assert name(4, 4) == "P 5 – ground: not read, should be open"


def test_only_changed_cells_are_told(shown: Shown) -> None:
    told: list[tuple[int, int]] = []
    shown.table.cells.dataChanged.connect(lambda a, b: told.append((a.row(), a.column())) if a == b else told.clear())
    shown.bench.enter("155.3")
    assert sorted(set(told)) == [(1, 0), (1, 1)]  # the one read, and the one offered next


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("pattern", [TWO_COILS, many_pins(4, "ABC"), many_pins(7), many_pins(12)], ids=repr)
def test_every_cell_can_be_brought_into_sight(
    qtbot: QtBot, dressed: QApplication, pattern: Pattern | str, scale: float
) -> None:
    shown = Shown(qtbot, pattern, scale=scale)
    board = shown.board
    for table in board.tables:
        assert table.width() <= board.scroller.viewport().width()
        rows = table.cells.triangle.rows
        for cell in (rows[0][0], rows[-1][-1], rows[len(rows) // 2][-1]):
            shown.bench.pick(cell.pair)
            assert in_sight(board, table, cell.pair)
            assert cell.pair.unordered in {tuple(sorted(s)) for s in shown.selected()}


@pytest.mark.parametrize("pins", [5, 6])
def test_up_to_six_pins_need_no_scrolling_aside_and_keep_their_words(
    qtbot: QtBot, dressed: QApplication, pins: int
) -> None:
    shown = Shown(qtbot, many_pins(pins))
    assert shown.table.horizontalScrollBar().maximum() == 0
    assert shown.table.columnWidth(0) >= shown.table.words_from


def test_a_pair_in_hand_once_more_is_brought_back_into_sight(qtbot: QtBot, dressed: QApplication) -> None:
    shown = Shown(qtbot, many_pins(12, "AB"))
    first, second = shown.board.tables
    one, other, across = Pair("A.1", "A.2"), Pair("B.11", "B.12"), Pair("A.1", "B.1")
    assert first.horizontalScrollBar().isVisible()
    shown.bench.pick(one)
    first.horizontalScrollBar().setValue(first.horizontalScrollBar().maximum())
    shown.bench.pick(other)
    assert in_sight(shown.board, second, other)
    assert not in_sight(shown.board, first, one)
    shown.bench.pick(one)
    assert in_sight(shown.board, first, one)
    shown.bench.pick(across)
    rows = shown.board.others
    at = rows.visualRect(rows.currentIndex())
    port = shown.board.scroller.viewport()
    assert port.rect().contains(QRect(rows.viewport().mapTo(port, at.topLeft()), at.size()))


def test_the_limits_are_in_sight_without_scrolling(shown: Shown, qtbot: QtBot) -> None:
    shown.page.resize(shown.page.width(), 330)
    QApplication.processEvents()
    assert shown.board.scroller.verticalScrollBar().maximum() > 0
    limits = shown.board.limits
    assert shown.board.rect().contains(QRect(limits.mapTo(shown.board, QPoint(0, 0)), limits.size()))
    assert limits.height() >= limits.heightForWidth(limits.width())
    assert limits.accessibleName() == shown.pairs.view().limits


def test_a_reading_is_dashed_and_empty_until_it_is_safe(qtbot: QtBot, dressed: QApplication) -> None:
    shown = Shown(qtbot, at_once=False)

    def tints() -> tuple[QColor, int]:
        """The ground inside its frame, and how many inks its left edge has between the corners."""
        picture = shown.picture(COIL)
        edge = {picture.pixel(1, y) for y in range(8, picture.height() - 8)}
        return picture.pixelColor(5, picture.height() - 6), len(edge)

    shown.bench.enter("155.2")
    shown.bench.pick(Pair("P.4", "P.5"))
    ground, inks = tints()
    assert ground == QColor(LIGHT.panel)
    assert inks > 1
    shown.keeper.asked[0].ack()
    ground, inks = tints()
    assert ground == QColor(LIGHT.tint_of.in_)
    assert inks == 1


def test_states_differ_by_more_than_their_colour(qtbot: QtBot, dressed: QApplication) -> None:
    def grey() -> QImage:
        return shown.picture(COIL).convertToFormat(QImage.Format.Format_Grayscale8)

    shown = Shown(qtbot, at_once=False)
    pictures = [grey()]
    shown.bench.enter("155.2")
    shown.bench.pick(Pair("P.4", "P.5"))
    pictures.append(grey())  # hollow
    shown.keeper.asked[0].ack()
    pictures.append(grey())  # safe
    shown.bench.enter("1 3 OL")
    shown.keeper.waiting[0].ack()
    shown.bench.pick(Pair("P.4", "P.5"))
    pictures.append(grey())  # at odds
    assert all(a != b for a, b in combinations(pictures, 2))


def test_no_two_signs_look_alike(qapp: QApplication) -> None:
    def drawn(name: str) -> QImage:
        image = QImage(20, 20, QImage.Format.Format_Grayscale8)
        image.fill(255)
        painter = QPainter(image)
        draw_mark(painter, name, QPointF(10, 10), 5, QColor("black"))
        painter.end()
        return image

    signs = {name: drawn(name) for name in (*STROKES, "")}
    assert set(STROKES) == {"in", "close", "doubtful", "continuous", "out", "at odds"}
    assert all(signs[a] != signs[b] for a, b in combinations(signs, 2))
