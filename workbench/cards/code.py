"""The square code, in whole printer dots."""

from reportlab.graphics.barcode import qr

from workbench.cards.marks import QUIET, Squares

DOT = 72 / 203  # points; the usual head of a tag printer has 203 dots an inch


class SquareCode:
    """The code of a text, at most `room` wide (pt); worked out once, set wherever it is asked for."""

    def __init__(self, text: str, room: float) -> None:
        code = qr.QrCodeWidget(text, barLevel="M").qr
        code.make()
        self._modules = n = code.getModuleCount()
        self._size = max(2, int(room / DOT / n)) * DOT
        self._runs: list[tuple[int, int, int]] = []  # row, column, count
        for row in range(n):
            column = 0
            while column < n:
                start = column
                while column < n and code.isDark(row, column):
                    column += 1
                if column > start:
                    self._runs.append((row, start, column - start))
                column += 1

    def at(self, right: float, top: float) -> tuple[Squares, float]:
        """With its upper right corner at (right, top); and what it takes of the room there, with its quiet zone
        to the left and below.
        """
        n, size = self._modules, self._size
        runs = tuple((right - (n - column) * size, top - (row + 1) * size, count) for row, column, count in self._runs)
        return Squares(runs, size), (n + QUIET) * size
