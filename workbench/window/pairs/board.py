"""All pairs of the part on the bench, plug by plug."""

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from workbench.sitting.pairs import Cell, PairsView
from workbench.stator.pattern import Pair
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.pairs.grid import TriangleTable
from workbench.window.parts import label

ROOM = 250  # px for a triangle beside its panel's margins and a scroll bar


class PairsBoard(QWidget):
    """Shows a PairsView; `pairChosen(Pair)`. The pair in hand is selected without taking the focus."""

    pairChosen = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setAccessibleName("All pairs")
        self._look = look
        self.tables: list[TriangleTable] = []
        self._inner = QWidget()
        self._inner.setProperty("role", "clear")
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self.across = RowList(look, "Pairs from plug to plug")
        self.across.clicked.connect(lambda _: self._chosen_across())
        self.across.activated.connect(lambda _: self._chosen_across())
        self._across_title = label("Plug to plug", "quiet")
        self.limits = label("", wrap=True)
        self.limits.setProperty("verdict", "continuous")
        self._column.addWidget(self._across_title)
        self._column.addWidget(self.across)
        self._column.addWidget(self.limits)
        self._column.addStretch(1)
        self.scroller = QScrollArea()
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scroller.setWidget(self._inner)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.scroller)

    def show_pairs(self, view: PairsView) -> None:
        if [t.cells.triangle.columns for t in self.tables] != [t.columns for t in view.triangles]:
            self._make_tables(view)
        for table, triangle in zip(self.tables, view.triangles, strict=True):
            table.cells.show_triangle(triangle)
        self._show_across(view.across)
        self.limits.setText(view.limits)
        self.limits.setVisible(bool(view.limits))
        self._select(next((c.pair for c in view.cells if c.current), None))

    def _make_tables(self, view: PairsView) -> None:
        for i, triangle in enumerate(view.triangles):
            table = TriangleTable(self._look, triangle, self._look.sizes.px(ROOM))
            table.pairChosen.connect(self.pairChosen)
            self.tables.append(table)
            self._column.insertWidget(2 * i, label(f"Plug {triangle.plug}", "quiet"))
            self._column.insertWidget(2 * i + 1, table)

    def _show_across(self, cells: tuple[Cell, ...]) -> None:
        self.across.rows.show_rows([_row(c) for c in cells])
        for w in (self.across, self._across_title):
            w.setVisible(bool(cells))
        height = self.across.sizeHintForRow(0) if cells else 0
        self.across.setFixedHeight(height * len(cells) + 6)

    def _select(self, pair: Pair | None) -> None:
        for table in self.tables:
            place = table.place_of(pair) if pair is not None else QModelIndex()
            if place.isValid():
                if table.currentIndex() != place:
                    table.setCurrentIndex(place)
                self.scroller.ensureWidgetVisible(table, 0, 0)
            else:
                table.clearSelection()
        self.across.select_key(pair)

    def _chosen_across(self) -> None:
        key = self.across.key()
        if isinstance(key, Pair):
            self.pairChosen.emit(key)


def _row(c: Cell) -> Row:
    detail = "read it again" if c.again else ("planned" if c.planned else "")
    return Row(c.pair, c.title, detail, c.text if c.read else "", c.word, c.spoken, hollow=c.hollow)
