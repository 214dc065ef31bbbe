"""A screen reader hears what has the focus; what happens elsewhere has to be announced to it."""

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget


def announce(speaker: QWidget, sentence: str, *, at_once: bool = False) -> None:
    """On a widget's behalf; `at_once`: over whatever is being read aloud. Nothing where no reader listens."""
    if not sentence or not QAccessible.isActive() or not speaker.isVisible():
        return
    event = QAccessibleAnnouncementEvent(speaker, sentence)
    ways = QAccessible.AnnouncementPoliteness
    event.setPoliteness(ways.Assertive if at_once else ways.Polite)
    QAccessible.updateAccessibility(event)
