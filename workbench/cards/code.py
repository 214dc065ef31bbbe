"""The square code, in whole printer dots."""

from reportlab.graphics.barcode import qr

from workbench.cards.marks import Squares

DOT = 72 / 203  # points; the usual head of a tag printer has 203 dots an inch
QUIET = 4  # modules left white all round (ISO/IEC 18004)


def square_code(text: str, right: float, top: float, room: float) -> tuple[Squares, float]:
    """The code with its upper right corner at (right, top), at most `room` wide (pt); and what it takes of it,
    with its quiet zone to the left and below."""
    code = qr.QrCodeWidget(text, barLevel="M").qr
    code.make()
    n = code.getModuleCount()
    dots = max(2, int(room / DOT / n))
    size = dots * DOT
    runs = []
    for row in range(n):
        column = 0
        while column < n:
            start = column
            while column < n and code.isDark(row, column):
                column += 1
            if column > start:
                runs.append((right - (n - start) * size, top - (row + 1) * size, column - start))
            column += 1
    return Squares(tuple(runs), size), (n + QUIET) * size
