"""A row that was let go of can be chosen again."""

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look


def test_the_same_row_is_selected_again_after_none_was(dressed: QApplication, qtbot: QtBot) -> None:
    rows = RowList(Look(), "Rows")
    qtbot.addWidget(rows)
    rows.rows.show_rows([Row(k, k, "", "", "", k) for k in ("a", "b")])
    rows.select_key("b")
    rows.select_key(None)
    assert rows.key() is None
    rows.select_key("b")
    assert rows.key() == "b"
