"""Brings what the store's thread has to say to the window's thread."""

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal


class Courier(QObject):
    """`deliver` may be called on any thread; the callable runs on the thread that made the courier."""

    _handed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stopped = False
        self._handed.connect(self._run, Qt.ConnectionType.QueuedConnection)

    def deliver(self, call: Callable[[], object]) -> None:
        self._handed.emit(call)

    def bring(self) -> None:
        """What was handed over so far, now, without waiting for the event loop."""
        QCoreApplication.sendPostedEvents(self, QEvent.Type.MetaCall.value)

    def stop(self) -> None:
        """What is handed over from now on, or still waits, is dropped."""
        self._stopped = True

    def _run(self, call: Callable[[], object]) -> None:
        if not self._stopped:
            call()
