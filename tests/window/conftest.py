"""What holds for every test with a window: no display needed, no word from Qt, nothing left behind."""

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from workbench.window import theme

# what the offscreen platform says of itself, and no fault of ours
HARMLESS = r"^This plugin does not support (propagateSizeHints|raise)\(\)"
HERE = Path(__file__).parent


def _top_levels() -> set[QWidget]:
    if not isinstance(QCoreApplication.instance(), QApplication):
        return set()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    return set(QApplication.topLevelWidgets())


@pytest.fixture(autouse=True)
def nothing_left_behind() -> Iterator[None]:
    """Fails a test that leaves a top-level widget."""
    before = _top_levels()
    gc.freeze()  # what stood before is not looked through again: a second a test late in a long run
    yield
    gc.collect()
    left = _top_levels() - before
    names = [f"{type(w).__name__} {w.objectName()!r}" for w in left]
    for w in left:
        w.close()
        w.deleteLater()
    assert not names, f"left behind: {', '.join(names)}"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Fails a test during which Qt warned of anything."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.qt_log_level_fail("WARNING"))
            item.add_marker(pytest.mark.qt_log_ignore(HARMLESS))


@pytest.fixture
def dressed(qapp: QApplication, qtbot: QtBot) -> QApplication:
    """The program in its light theme."""
    theme.apply(qapp, theme.LIGHT)
    return qapp
