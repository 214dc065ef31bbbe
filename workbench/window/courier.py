"""Brings what the store's thread has to say to the window's thread."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal


class Courier(QObject):
    """`deliver` may be called on any thread; the callable runs on the thread that made the courier."""

    _handed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._handed.connect(self._run, Qt.ConnectionType.QueuedConnection)

    def deliver(self, call: Callable[[], object]) -> None:
        self._handed.emit(call)

    def _run(self, call: Callable[[], object]) -> None:
        call()
