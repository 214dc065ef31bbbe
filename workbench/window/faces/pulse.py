"""A calm pulse for what is offered: it swells once a second, and never computes more than one number."""

import math
from collections.abc import Callable

from PySide6.QtCore import QElapsedTimer, QObject, QTimer

PERIOD_MS, STEP_MS, FAINTEST = 1000, 80, 0.35


class Pulse(QObject):
    """Calls `beat` some twelve times a second while it runs; at rest its strength is 1."""

    def __init__(self, parent: QObject, beat: Callable[[], None]) -> None:
        super().__init__(parent)
        self._since = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setInterval(STEP_MS)
        self._timer.timeout.connect(beat)

    @property
    def running(self) -> bool:
        return self._timer.isActive()

    @property
    def strength(self) -> float:
        """From FAINTEST to 1."""
        if not self.running:
            return 1.0
        return swell(self._since.elapsed())

    def run(self, wanted: bool) -> bool:
        """Starts or stops; True where that changed."""
        if wanted == self.running:
            return False
        if wanted:
            self._since.start()
            self._timer.start()
        else:
            self._timer.stop()
        return True


def swell(ms: float) -> float:
    """The strength after so many ms: 1 at first, FAINTEST half a period later."""
    return FAINTEST + (1 - FAINTEST) * (1 + math.cos(2 * math.pi * ms / PERIOD_MS)) / 2
