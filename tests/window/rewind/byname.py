"""The rewind desk's pages by their names: where they stand, which key brings them, how far they are."""

from PySide6.QtCore import Qt

from workbench.window.bench.rows import Row
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.pages import PAGES


def place_of(name: str) -> int:
    return [kind.name for kind in PAGES].index(name)


def key_of(name: str) -> Qt.Key:
    """With Ctrl."""
    return Qt.Key(Qt.Key.Key_1.value + place_of(name))


def row_of(desk: RewindPage, name: str) -> Row:
    return desk.list.rows.rows[place_of(name)]
